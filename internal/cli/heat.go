package cli

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/spark"
	"dwellwright/units"
)

// heatFound is the heat of switch and coil: a drive, the module's mounting,
// and the key left on.
type heatFound struct {
	car      *car.Car // as wired
	drive    *spark.DriveResult
	mounted  []spark.Mounted // nil for points
	keyOn    *spark.KeyOnResult
	keyOnMin float64
}

// followHeat works the heat out of the car k, which as wired is d.
func followHeat(k, d *car.Car, option string, draws int, seed uint64) (*heatFound, error) {
	if draws == 0 {
		draws = -1 // none; 0 would be the usual
	}
	h := &heatFound{car: d}
	set := spark.DriveSettings{Draws: draws, Seed: seed}
	var err error
	if h.drive, err = workshop.Heat(k, option, set); err != nil {
		return nil, err
	}
	if h.mounted, err = workshop.Mountings(k, option, set); err != nil && !errors.Is(err, spark.ErrNoModule) {
		return nil, err
	}
	if h.keyOn, err = workshop.KeyOn(k, option, spark.KeyOnSettings{Draws: draws, Seed: seed}); err != nil {
		return nil, err
	}
	h.keyOnMin = h.keyOn.Minutes[len(h.keyOn.Minutes)-1]
	return h, nil
}

// temperature writes an interval of temperature with its unit.
func temperature(i spark.Interval, sys units.System) string {
	return ofInterval(units.Temperature, i, sys)
}

// warmer writes a difference of temperature with its unit.
func warmer(i spark.Interval, sys units.System) string {
	unit, perK, _ := degrees(sys)
	if i.Hi-i.Lo < 1e-3 {
		return fmt.Sprintf("%.0f %s", perK*i.Mid, unit)
	}
	return fmt.Sprintf("%s %s", strings.ReplaceAll(number(perK*i.Mid, perK*i.PM()), "±", " ± "), unit)
}

// write writes the heat.
func (h *heatFound) write(w io.Writer, width int, sys units.System) {
	fmt.Fprintf(w, "\nHEAT THROUGH A DRIVE, from a car that stood for long\n")
	g := &grid{heads: []string{"from", "to", "in the switch", "in the coil"}}
	for _, l := range h.drive.Legs {
		name := l.Name
		if !l.Parked() {
			name += " (" + strings.ReplaceAll(l.Condition, "_", " ") + ")"
		} else {
			name += " (parked, key off)"
		}
		watts := l.SwitchW
		if h.drive.Life != nil { // the module's own supply warms it too
			watts = spark.Interval{Mid: watts.Mid + l.ElectronicsW.Mid, Lo: watts.Lo + l.ElectronicsW.Lo, Hi: watts.Hi + l.ElectronicsW.Hi}
		}
		g.add(name, fmt.Sprintf("%.0f", l.FromMin), fmt.Sprintf("%.0f min", l.ToMin), spread(watts, 1, 0)+" W", spread(l.CoilW, 1, 0)+" W")
	}
	g.write(w, width)
	fmt.Fprintln(w)
	g = &grid{heads: []string{"hottest", "after", "limit", "to spare"}}
	for i := range h.drive.Warm {
		x := &h.drive.Warm[i]
		limit, spare := "", ""
		if x.LimitC > 0 {
			limit = units.Format(units.Temperature, x.LimitC, sys)
			spare = warmer(x.MarginK, sys) + spareWord(x.MarginK)
		}
		g.add(x.Place.String(), temperature(x.Peak, sys), fmt.Sprintf("%.0f min", x.PeakMin), limit, spare)
	}
	g.write(w, width)
	note := "Predicted"
	if h.drive.Draws > 0 {
		note += fmt.Sprintf("; each ± is the 95 %% interval of %d draws, which also vary what no car file says: how the housing touches the block, the heat things hold, how fast the bonnet's air follows", h.drive.Draws)
	}
	note += ". The winding's limit is that of thermal class 130 (IEC 60085), that this coil is of that class is assumed."
	writeWrapped(w, "", together(note), width)
	if l := h.drive.Life; l != nil {
		writeWrapped(w, "", fmt.Sprintf("LIFE of the module: an hour of this drive uses up as much as %s h at a steady %s (Arrhenius with %.1f eV, assumed); at its hottest it fails %s times as often as at %s (MIL-HDBK-217F). Predicted; it compares two fittings or two drives; it foretells no date.",
			ofInterval(units.Ratio, l.Ratio, sys), units.Format(units.Temperature, spark.LifeRefC, sys), spark.LifeEV, ofInterval(units.Ratio, l.PiT, sys), units.Format(units.Temperature, 25, sys)), width)
	}
	h.writeMounted(w, width, sys)
	h.writeKeyOn(w, width, sys)
}

// spareWord says where a margin stands, "" when there is enough of it.
func spareWord(i spark.Interval) string {
	switch {
	case i.Hi < 0:
		return " ✘ too hot"
	case i.Lo <= 0:
		return " ? doubtful"
	}
	return ""
}

// writeMounted writes what lies between module and breaker plate.
func (h *heatFound) writeMounted(w io.Writer, width int, sys units.System) {
	if len(h.mounted) == 0 {
		writeWrapped(w, "", "Points have no module that warms: nothing to say of mounting and life.", width)
		return
	}
	fmt.Fprintf(w, "\nMOUNTING of the module on its plate, in the same drive\n")
	names := map[car.Mounting]string{car.PasteMounting: "heat paste", car.DryMounting: "dry, bare metal", car.PaintedMounting: "paint or gasket", car.WarpedMounting: "warped"}
	g := &grid{heads: []string{"junction's hottest", "over paste", "base to plate"}}
	for _, m := range h.mounted {
		name := names[m.Mounting]
		if m.Fitted {
			name += " *"
		}
		over := "–"
		if m.OverK.Mid != 0 {
			over = warmer(m.OverK, sys)
		}
		g.add(name, temperature(m.Peak, sys)+spareWord(m.MarginK), over, ofInterval(units.ThermalResistance, m.KPerW, sys))
	}
	g.write(w, width)
	writeWrapped(w, "", fmt.Sprintf("* as this car has it (%s). Predicted; what is over paste is one car's difference, so it is surer than the two temperatures.", h.car.Switch.MountingOrigin), width)
}

// writeKeyOn writes what a key left on does.
func (h *heatFound) writeKeyOn(w io.Writer, width int, sys units.System) {
	k := h.keyOn
	how := "points closed"
	if h.car.Switch.Kind.Electronic() {
		how = "trigger conducting"
	}
	fmt.Fprintf(w, "\nKEY LEFT ON, engine stopped, %s\n", how)
	text := fmt.Sprintf("At first %s flow, %s in the coil", ofInterval(units.Current, k.First.Amps, sys), ofInterval(units.Power, k.First.CoilW, sys))
	if k.First.BallastW.Mid > 0 {
		text += fmt.Sprintf(" and %s in the ballast", ofInterval(units.Power, k.First.BallastW, sys))
	}
	text += fmt.Sprintf("; after %.0f min %s, %s in the coil (predicted).", h.keyOnMin, ofInterval(units.Current, k.Last.Amps, sys), ofInterval(units.Power, k.Last.CoilW, sys))
	writeWrapped(w, "", together(text), width)
	g := &grid{heads: []string{"after 1 min", "10 min", "30 min", "hottest"}}
	for i := range k.Warm {
		x := &k.Warm[i]
		var cells []string
		for _, minutes := range [...]float64{1, 10, 30} {
			cells = append(cells, temperature(x.C[nearest(k.Minutes, minutes)], sys))
		}
		g.add(x.Place.String(), append(cells, temperature(x.Peak, sys))...)
	}
	g.write(w, width)
	writeWrapped(w, "", together(reached("the coil's winding", &k.Coil, h.keyOnMin, k.Draws, sys)), width)
	if k.Module != nil {
		writeWrapped(w, "", together(reached("the module's junction", k.Module, h.keyOnMin, k.Draws, sys)), width)
	}
	writeWrapped(w, "", "Predicted with the battery's voltage held; in truth it sinks as it empties, so hours on end come out somewhat too hot here.", width)
}

// nearest is the sample nearest to a time.
func nearest(minutes []float64, at float64) int {
	best := 0
	for i, m := range minutes {
		if math.Abs(m-at) < math.Abs(minutes[best]-at) {
			best = i
		}
	}
	return best
}

// reached says whether and when a limit is reached.
func reached(what string, r *spark.Reach, minutes float64, draws int, sys units.System) string {
	limit := units.Format(units.Temperature, r.LimitC, sys)
	text := fmt.Sprintf("%s stays below its limit of %s for %.0f min with every figure at its middle", strings.ToUpper(what[:1])+what[1:], limit, minutes)
	if r.Mid.Reached {
		text = fmt.Sprintf("%s reaches its limit of %s after %.0f min with every figure at its middle", strings.ToUpper(what[:1])+what[1:], limit, r.Mid.Minutes)
	}
	if draws == 0 {
		return text + " (predicted)."
	}
	if r.Share == 0 {
		return text + " (predicted); none of the drawn cars reaches it."
	}
	text += fmt.Sprintf(" (predicted); %.0f %% of the drawn cars reach it", 100*r.Share)
	if r.Earliest.Reached {
		text += fmt.Sprintf(", the unluckiest after %.0f min", r.Earliest.Minutes)
	}
	return text + "."
}
