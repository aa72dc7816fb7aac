package cli

import (
	"fmt"
	"io"
	"math"
	"strings"

	"dwellwright/car"
	"dwellwright/fit"
	"dwellwright/lobes"
	"dwellwright/prove"
	"dwellwright/twin"
	"dwellwright/units"
)

// ring is what turns past the sensor.
func (sh *fitSheet) ring() string {
	if sh.Car.Trigger.Principle == car.Reluctance {
		return "teeth"
	}
	return "magnets"
}

// gap lists the figures of the air gap.
func (sh *fitSheet) gap() []figure {
	g, t, c := sh.Gap, &sh.Car.Trigger, sh.Car
	worst := &g.At[g.Worst]
	play := &c.Distributor.SidePlay
	list := []figure{
		{id: "gap", name: "gap now", kind: units.Length, of: sh.given(&t.Gap), origin: originOf(&t.Gap)},
		{id: "gap_wanted", name: "gap wanted", kind: units.Length, of: alone(g.Wanted), origin: originOf(&t.GapWanted)},
		{id: "gap_least", name: "least as the shaft rocks", kind: units.Length, of: g.Least, origin: workedFrom(&t.Gap, play)},
	}
	if sh.Draws > 0 {
		list = append(list,
			figure{id: "rubs", name: "the ring rubs", of: alone(g.Rubs), origin: predicted, text: shareWords(g.Rubs), chance: true},
			figure{id: "fires_all", name: "every lobe fires", of: alone(worst.Fires), origin: predicted, text: shareWords(worst.Fires), note: "at " + worst.Name + ", where it is hardest", chance: true},
			figure{id: "fires_all_wanted", name: "at the wanted gap", of: alone(g.After), origin: predicted, text: shareWords(g.After), note: "there too", chance: true})
	}
	band := figure{name: "clears and fires", text: fmt.Sprintf("from %s to %s", bothLengths(g.Band.Least), bothLengths(g.Band.Most)), origin: predicted}
	if g.Band.Most <= g.Band.Least {
		band.text, band.note = "no gap both clears the ring and surely fires every lobe", "too weak a field where it is hardest, a shaft that rocks, or figures too uncertain: measure them"
	}
	list = append(list, band)
	if s := g.Switching; s != nil {
		list = append(list,
			figure{id: "margin", name: "field over what it needs", kind: units.Ratio, of: alone(s.Margin), origin: predicted, text: fmt.Sprintf("%.2f times", s.Margin), note: "at 1 it just fires; middle car, at its hottest idle"},
			figure{id: "dwell", name: "coil fed for", kind: units.DistributorAngle, of: g.Dwell, origin: predicted, note: "at the distributor, for each spark; a module that times its own dwell goes by that"},
			figure{id: "creep", name: "0.1 mm more of gap", kind: units.CrankAngle, of: alone(g.CreepDeg), origin: predicted, text: fmt.Sprintf("%.1f° crank %s", math.Abs(g.CreepDeg), map[bool]string{true: "later", false: "earlier"}[g.CreepDeg >= 0])})
		if g.LagDeg >= 0.05 {
			list = append(list, figure{id: "lag", name: "its own delay", kind: units.CrankAngle, of: alone(g.LagDeg), origin: predicted, text: fmt.Sprintf("%.1f° crank later", g.LagDeg), note: "at the fastest condition, than at rest"})
		}
	}
	if math.Abs(g.PlateM) >= 5e-6 {
		wider := "wider"
		if g.PlateM < 0 {
			wider = "narrower"
		}
		list = append(list, figure{id: "plate", name: "at full vacuum", kind: units.Length, of: alone(math.Abs(g.PlateM)), origin: predicted, note: wider + ": the plate swings about a pin beside the shaft"})
	}
	return list
}

// sets lists the figures of dual points.
func (sh *fitSheet) sets() []figure {
	x, d := sh.Sets, &sh.Car.Distributor
	list := []figure{
		{id: "each", name: "dwell of each set", kind: units.DistributorAngle, of: sh.given(&d.DwellEach), origin: originOf(&d.DwellEach)},
		{id: "apart", name: "the second opens", kind: units.DistributorAngle, of: sh.given(&d.SetsApart), origin: originOf(&d.SetsApart), note: "after the first; the spark comes then"},
	}
	if x.Refused == nil {
		from := workedFrom(&d.DwellEach, &d.SetsApart)
		list = append(list, figure{id: "together", name: "dwell of both", kind: units.DistributorAngle, of: x.Together, origin: from,
			note: "the switch of the car file has " + units.FormatValue(units.DistributorAngle, sh.Car.Switch.Dwell.Value, units.Metric)})
	}
	return list
}

// writeSets writes what dual points make of their dwell.
func (sh *fitSheet) writeSets(w io.Writer, width int, sys units.System) {
	if sh.Sets == nil {
		return
	}
	heading(w, "DUAL POINTS, degrees at the distributor", width)
	writeList(w, sh.sets(), width, sys)
	if err := sh.Sets.Refused; err != nil {
		writeWrapped(w, "  ", "These two sets do not work together: "+err.Error()+".", width)
	}
}

// shareWords says a share of the drawn cars.
func shareWords(x float64) string {
	switch {
	case x <= 0:
		return "in none of the drawn cars"
	case x >= 1:
		return "in all of the drawn cars"
	case x > 0.99:
		return "in over 99 % of the drawn cars"
	}
	return "in " + percent(x) + " of the drawn cars"
}

// slot says what is to be done to the mounting.
func (sh *fitSheet) slot() []string {
	g := sh.Gap
	if g.SlotRefused != nil {
		return []string{"The mounting cannot give the wanted gap: " + strings.TrimSuffix(g.SlotRefused.Error(), ".") + "."}
	}
	s := &g.Slot
	if math.Abs(s.SensorM) < 5e-6 {
		return []string{"The gap is what is wanted: nothing to move."}
	}
	way := "out, away from the shaft"
	if s.Inwards {
		way = "in, towards the shaft"
	}
	text := fmt.Sprintf("Move the sensor %s %s", bothLengths(math.Abs(s.SensorM)), way)
	if math.Abs(s.Ratio-1) > 0.01 {
		text += fmt.Sprintf(": %s at the slot's screw", bothLengths(math.Abs(s.SlotM)))
	}
	list := []string{text + fmt.Sprintf(" (predicted, from the %s gap).", originOf(&sh.Car.Trigger.Gap))}
	if s.OpenM > 0 {
		end := "farther from the shaft"
		if s.OpenShaftEnd {
			end = "nearer the shaft"
		}
		list = append(list, fmt.Sprintf("The slot does not go so far: open its end %s by %s (from its %s length).", end, bothLengths(s.OpenM), originOf(&sh.Car.Trigger.SlotLength)))
	} else {
		list = append(list, fmt.Sprintf("The slot has room for it; %s of travel stay that way (from its %s length).", bothLengths(s.LeftM), originOf(&sh.Car.Trigger.SlotLength)))
	}
	if math.Abs(s.SensorDeg) >= 0.05 {
		way, effect := fit.Turned(s.SensorDeg, sh.Rig.Rotation)
		list = append(list, fmt.Sprintf("It swings the sensor %.1f° %s (%s): set the timing after the gap.", math.Abs(s.SensorDeg), way, effect))
	}
	return list
}

// writeGap writes the air gap.
func (sh *fitSheet) writeGap(w io.Writer, width int, sys units.System) {
	g := sh.Gap
	if g == nil || len(g.At) == 0 {
		return
	}
	head := "AIR GAP between ring and sensor"
	if g.Principle == car.Reluctance {
		head = "AIR GAP between teeth and pole piece"
	}
	heading(w, head, width)
	writeList(w, sh.gap(), width, sys)
	for _, t := range sh.slot() {
		writeWrapped(w, "  ", together(t), width)
	}
	fmt.Fprintln(w)
	unit, scale := "mm", 1e3
	if sys == units.Inch {
		unit, scale = "mil", 1/25.4e-6
	}
	t := &grid{}
	var largest, fires, volts []string
	for i := range g.At {
		a := &g.At[i]
		t.heads = append(t.heads, a.Name)
		largest = append(largest, spread(a.Largest, scale, 0))
		fires = append(fires, strings.TrimSuffix(percent(a.Fires), " %"))
		volts = append(volts, spread(a.Volts, 1, 0))
	}
	t.add("largest gap that fires, "+unit, largest...)
	if sh.Draws > 0 {
		t.add("chance every lobe fires, %", fires...)
	}
	if g.Principle == car.Reluctance {
		t.add("peak of its coil, V", volts...)
	}
	t.write(w, width)
	writeWrapped(w, "", "Predicted. Feel it with a plastic feeler at every lobe, the shaft pushed both ways: magnets draw steel ones, and a pole piece does too.", width)
}

// seat lists the figures of the seating.
func (sh *fitSheet) seat(sys units.System) []figure {
	s, t, d := sh.Seat, &sh.Car.Trigger, &sh.Car.Distributor
	var list []figure
	if sh.Gap != nil {
		list = append(list, figure{id: "lift", name: "sleeve lifts the rotor", kind: units.Length, of: s.Lift, origin: originOf(&t.RotorLift)})
	}
	list = append(list,
		figure{id: "engagement", name: "shaft in the rotor's bore", kind: units.Length, of: s.Engagement, origin: workedFrom(&t.Engagement, &t.RotorLift), note: fmt.Sprintf("at least %s wanted (%s)", units.Format(units.Length, s.Least, sys), originOf(&t.EngagementLeast))},
		figure{id: "roof", name: "free under the cap", kind: units.Length, of: s.Roof, origin: workedFrom(&t.Headroom, &t.RotorLift, &d.EndPlay), note: fmt.Sprintf("shaft up; at least %s wanted", units.Format(units.Length, s.Heights.ClearanceM, sys))},
		figure{id: "facing", name: "tip faces contact over", kind: units.Length, of: s.Facing, origin: workedFrom(&t.TipBelow, &t.RotorLift, &d.EndPlay), note: fmt.Sprintf("in height, at the worse end of the play; at least %s wanted", units.Format(units.Length, s.Heights.LeastM, sys))})
	if sh.Gap != nil {
		list = append(list, figure{id: "axial", name: sh.ring() + " out of line", kind: units.Length, of: s.Axial, origin: workedFrom(&t.AxialOffset, &d.EndPlay), note: fmt.Sprintf("up or down, at the worse end of the play; at most %s", units.Format(units.Length, s.AxialMost, sys))})
	}
	if sh.Draws > 0 {
		list = append(list, figure{id: "fits", name: "all of it right", of: alone(s.Fits), origin: predicted, text: shareWords(s.Fits), chance: true})
	}
	return list
}

// seatWords say what is to be done.
func (sh *fitSheet) seatWords() []string {
	s := sh.Seat
	var list []string
	if s.Refused != nil {
		list = append(list, "Not by this rotor and cap: "+strings.TrimSuffix(s.Refused.Error(), ".")+".")
	}
	if s.Middle.ReliefM > 0 {
		list = append(list, fmt.Sprintf("Take %s off the underside of sleeve or rotor so that it seats (predicted, middle car). Never press a rotor on by force.", bothLengths(s.Middle.ReliefM)))
	}
	if sh.Gap == nil {
		return list
	}
	switch shim := s.Middle.ShimM; {
	case s.Middle.AxialFits:
		list = append(list, "Sensor and "+sh.ring()+" stand well enough in line: no shim.")
	case shim > 0:
		list = append(list, fmt.Sprintf("Put a shim of %s under the sensor (predicted, middle car).", bothLengths(shim)))
	default:
		list = append(list, fmt.Sprintf("Put a shim of %s under the sleeve, or take as much off the sensor's foot (predicted, middle car).", bothLengths(-shim)))
	}
	return list
}

// writeSeat writes how rotor and sleeve sit.
func (sh *fitSheet) writeSeat(w io.Writer, width int, sys units.System) {
	if sh.Seat == nil {
		return
	}
	heading(w, "SEATING, worst over the shaft's end play", width)
	writeList(w, sh.seat(sys), width, sys)
	for _, t := range sh.seatWords() {
		writeWrapped(w, "  ", together(t), width)
	}
}

// lateness writes a lobe's lateness; one that can't be told from nothing has a
// dot.
func lateness(f lobes.Fig) string {
	t := number(f.Mid, f.PM)
	if !f.Known {
		t += " ·"
	}
	return t
}

// sized writes a size that a bench run found; one that cannot be told from
// nothing by what it is below.
func sized(f lobes.Fig) string {
	if !f.Known {
		return fmt.Sprintf("under %.2f°", f.Hi)
	}
	return ofInterval(units.DistributorAngle, twin.Interval{Mid: f.Mid, Lo: f.Mid - f.PM, Hi: f.Mid + f.PM}, units.Metric)
}

// writeLobes writes what the bench runs say.
func (sh *fitSheet) writeLobes(w io.Writer, width int) {
	for i := range sh.Lobes {
		r := &sh.Lobes[i]
		e := &r.Errors
		if r.Refused != nil {
			heading(w, fmt.Sprintf("LOBE TO LOBE, bench run %d", i+1), width)
			writeWrapped(w, "  ", "Nothing can be made of it: "+r.Refused.Error()+".", width)
			continue
		}
		heading(w, fmt.Sprintf("LOBE TO LOBE, bench run %d (shaft %s, %d turns; measured, each reading ± %.2g° (%s)), degrees late", i+1, sideWord(r.Run.Side), e.Turns, sh.Car.Bench.Accuracy.X, originOf(&sh.Car.Bench.Accuracy)), width)
		g := &grid{}
		var cam, cost []string
		for j := range e.Cam {
			head := fmt.Sprintf("lobe %d", j+1)
			if j < len(sh.Rig.FiringOrder) {
				head += fmt.Sprintf("\nNo. %d", sh.Rig.FiringOrder[j])
			}
			g.heads = append(g.heads, head)
			cam = append(cam, lateness(e.Cam[j]))
			cost = append(cost, lateness(e.Cost.Cam[j]))
		}
		g.add("cam, at the distributor", cam...)
		g.add("cam, at the crank", cost...)
		g.write(w, width)
		fmt.Fprintln(w)
		writeList(w, []figure{
			{name: "shaft's wobble", text: sized(e.Wobble.Amp) + " at the distributor, " + sized(e.Cost.Wobble) + " crank", origin: "measured", note: "peak, once in a turn"},
			{name: "side play", text: sized(e.SidePlay) + " at the distributor, one standard deviation", origin: "measured", note: "it costs " + sized(e.Cost.SidePlay) + " crank from the earliest to the latest of 95 in 100 firings"},
			{name: "random", text: sized(e.Random) + " at the distributor, one standard deviation", origin: "measured", note: "it costs " + sized(e.Cost.Random) + " crank likewise"},
		}, width, units.Metric)
		writeWrapped(w, "", lobeWords(e), width)
	}
	if p := sh.Play; p != nil {
		writeWrapped(w, "", playWords(p), width)
	}
}

// playWords says what side play two runs with the shaft pushed to both sides
// show.
func playWords(p *lobes.Play) string {
	return fmt.Sprintf("Shaft pushed from left to right: the spark moves by %s° at the distributor, %s° crank; the shaft by %s mm from end to end (measured). New bushings have 0.02 to 0.07 mm, over 0.15 mm wants new ones (common practice).",
		number(p.Angle.Mid, p.Angle.PM), number(p.CrankDeg.Mid, p.CrankDeg.PM), number(1e3*p.PlayM.Mid, 1e3*p.PlayM.PM))
}

// sideWord says how the shaft was held.
func sideWord(s car.Side) string {
	switch s {
	case car.LeftSide:
		return "pressed to the left"
	case car.RightSide:
		return "pressed to the right"
	}
	return "free"
}

// lobeWords says what the run comes to.
func lobeWords(e *lobes.Errors) string {
	text := "· not to be told from nothing. "
	sp := &e.Spacing
	at := fmt.Sprintf("the interval from lobe %d to the next is furthest off, %s° at the distributor", sp.From+1, number(sp.Worst.Mid, sp.Worst.PM))
	switch sp.Verdict {
	case lobes.Even:
		text += fmt.Sprintf("Firings are even within ± %.0f° at the distributor (US Army TM 5-4210-230-14&P-1): %s.", lobes.SpacingLimit, at)
	case lobes.Uneven:
		text += fmt.Sprintf("Firings are not even within ± %.0f° at the distributor (US Army TM 5-4210-230-14&P-1): %s.", lobes.SpacingLimit, at)
	default:
		text += fmt.Sprintf("Whether firings are even within ± %.0f° cannot be told: %s.", lobes.SpacingLimit, at)
	}
	if e.Doubtful {
		text += " The readings scatter by less than their stated ± allows: it is given too large, or turns were copied."
	}
	return text
}

// importantFit are the figures that weigh most for timing, rotor, gap and
// seating, those first that move most.
var importantFit = []string{
	"timing.before", "timing.after", "timing.trigger_later", "timing.wanted", "distributor.phase", "distributor.tip_width",
	"distributor.electrode_width", "distributor.tip_radius", "distributor.scatter", "advance.vacuum.travel", "trigger.gap", "trigger.operate",
	"trigger.remanence", "trigger.axial_offset", "trigger.tilt", "distributor.side_play", "distributor.end_play", "trigger.rotor_lift",
	"trigger.engagement", "trigger.tip_below", "trigger.headroom",
}

// assumedFigure is something that the car file does not say: the name to write
// there, and what is taken.
type assumedFigure struct{ path, value string }

// assumed lists what of distributor, timing and trigger the file does not say,
// the weightiest first.
func (sh *fitSheet) assumed(sys units.System) []assumedFigure {
	d := &sh.Car.Distributor
	var list []assumedFigure
	if d.RotationOrigin == car.Assumed {
		list = append(list, assumedFigure{"distributor.rotation", "clockwise"})
	}
	if d.OrderOrigin == car.Assumed {
		list = append(list, assumedFigure{"distributor.firing_order", strings.ReplaceAll(strings.Trim(fmt.Sprint(d.FiringOrder), "[]"), " ", "-")})
	}
	if d.DriveOrigin == car.Assumed && d.TeethOrigin == car.Assumed {
		list = append(list, assumedFigure{"distributor.drive", fmt.Sprintf("gear, teeth: %d", d.Teeth)})
	}
	have := map[string]car.ParamRef{}
	var rest []car.ParamRef
	for _, r := range prove.Assumed(sh.Car) {
		for _, of := range []string{"distributor.", "timing.", "trigger.", "bench."} {
			if strings.HasPrefix(r.Path, of) {
				rest = append(rest, r)
			}
		}
		have[r.Path] = r
	}
	seen := map[string]bool{}
	put := func(r car.ParamRef) {
		if !seen[r.Path] {
			seen[r.Path] = true
			list = append(list, assumedFigure{r.Path, units.FormatValue(r.P.Kind, r.P.Value, sys)})
		}
	}
	for _, p := range importantFit {
		if r, ok := have[p]; ok && sh.bears(p) {
			put(r)
		}
	}
	for _, r := range rest {
		if sh.bears(r.Path) {
			put(r)
		}
	}
	return list
}

// bears reports whether a figure plays a part: none of a trigger with points,
// none of what a light has taken the place of.
func (sh *fitSheet) bears(path string) bool {
	t := &sh.Car.Timing
	electronic := sh.Car.Switch.Kind.Electronic()
	switch path {
	case "timing.after":
		return electronic
	case "timing.trigger_later":
		return electronic && t.After.Origin == car.Assumed
	case "advance.vacuum.travel":
		return sh.Rig.VacuumTravel > 0
	case "trigger.engagement", "trigger.tip_below", "trigger.headroom", "trigger.engagement_least":
		return true
	case "distributor.block_at":
		return !electronic
	case "distributor.trigger_at":
		return electronic
	}
	return electronic || !strings.HasPrefix(path, "trigger.")
}

// writeAssumed writes what rests on assumed figures.
func (sh *fitSheet) writeAssumed(w io.Writer, width int, sys units.System) {
	list := sh.assumed(sys)
	writeNamed(w, fmt.Sprintf("ASSUMED: %d figures of distributor, timing and trigger that the car file does not say, taken at typical values, the weightiest first", len(list)), list, width, 14)
}

// writeNamed lists what is assumed under a heading, at most that many.
func writeNamed(w io.Writer, head string, list []assumedFigure, width, most int) {
	if len(list) == 0 {
		return
	}
	if len(list) > most {
		head += " (dwellwright check lists them all)"
	}
	heading(w, head, width)
	n := 0
	for i := range list[:min(most, len(list))] {
		n = max(n, len(list[i].path))
	}
	for i := range list[:min(most, len(list))] {
		writeWrapped(w, "  "+pad(list[i].path, n)+"  ", list[i].value, width)
	}
}

// told95 is an interval of a bench figure.
func told95(f lobes.Fig) Interval { return told(twin.Interval{Mid: f.Mid, Lo: f.Lo, Hi: f.Hi}) }
