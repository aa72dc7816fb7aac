package cli

import (
	"fmt"
	"io"
	"math"
	"strings"

	"dwellwright/advance"
	"dwellwright/car"
	"dwellwright/curve"
	"dwellwright/twin"
	"dwellwright/units"
)

// partsHead is the heading of the mechanism.
func (sh *curveSheet) partsHead() string {
	if sh.Estimated == nil {
		return "SPRINGS, STOP AND FRICTION as the car file has them, what it does not say assumed"
	}
	return "SPRINGS, STOP AND FRICTION as the readings speak for them; the true figure lies in the interval in 95 of 100 cases"
}

// parts lists the figures of the mechanism.
func (sh *curveSheet) parts(sys units.System) []figure {
	a, e := &sh.Car.Advance, sh.Estimated
	if e == nil {
		list := []figure{}
		for i, s := range []*car.Spring{&a.Light, &a.Heavy} {
			which := [...]string{"light", "heavy"}[i]
			list = append(list, sh.stated(which+"_rate", which+" spring's rate", &s.Rate, sys))
			if s.Preload.X != 0 || s.Preload.PM != 0 {
				list = append(list, sh.stated(which+"_preload", "  pull as it takes up", &s.Preload, sys))
			}
			if s.Slack.X != 0 || s.Slack.PM != 0 {
				slack := sh.stated(which+"_takes_up", "  takes up after", &s.Slack, sys)
				slack.note = "at the distributor"
				list = append(list, slack)
			}
		}
		list = append(list, sh.stated("stop", "stop, at the distributor", &a.Stop, sys), sh.stated("friction", "friction at the weights", &a.Friction, sys))
		return append(list, sh.marks()...)
	}
	var list []figure
	for i := range e.Springs {
		s, which := &e.Springs[i], fmt.Sprintf("spring %d", i+1)
		id := fmt.Sprintf("spring_%d", i+1)
		if i < 2 {
			which = [...]string{"light spring", "heavy spring"}[i]
			id = [...]string{"light", "heavy"}[i]
		}
		list = append(list, estimated(id+"_rate", which+"'s rate", units.SpringRate, &s.RateNPerM, sys))
		if !s.PreloadN.Given || s.PreloadN.Mid != 0 {
			list = append(list, estimated(id+"_preload", "  pull as it takes up", units.Force, &s.PreloadN, sys))
		}
		if s.TakesUpDeg.Mid > 0 {
			up := estimated(id+"_takes_up", "  takes up after", units.DistributorAngle, &s.TakesUpDeg, sys)
			up.text += " at the distributor"
			list = append(list, up)
		}
	}
	list = append(list,
		estimated("stop", "stop, at the distributor", units.DistributorAngle, &e.StopDeg, sys),
		estimated("friction", "friction at the weights", units.Torque, &e.FrictionNm, sys),
		estimated("initial", "initial", units.CrankAngle, &e.Initial, sys))
	return append(list, sh.marks()...)
}

// marks are where the curve begins and ends.
func (sh *curveSheet) marks() []figure {
	var list []figure
	if sh.Estimated == nil {
		t := &sh.Car.Timing
		list = append(list, figure{id: "initial", name: "initial", kind: units.CrankAngle, of: sh.Initial, origin: workedFrom(&t.Before, &t.After, &t.TriggerLater)})
	}
	at := func(x float64) string {
		if math.IsNaN(x) {
			return "at no speed it comes to"
		}
		return fmt.Sprintf("%.0f rpm", x)
	}
	return append(list,
		figure{id: "begins", name: "advance begins", kind: units.Speed, of: alone(sh.Begins), origin: predicted, text: at(sh.Begins)},
		figure{id: "all_in", name: "all in from", kind: units.Speed, of: alone(sh.AllIn), origin: predicted, text: at(sh.AllIn)},
		figure{id: "most", name: "all in, with initial", kind: units.CrankAngle, of: sh.Stop, origin: predicted})
}

// stated is a figure as the car file has it.
func (sh *curveSheet) stated(id, name string, p *car.Param, sys units.System) figure {
	return figure{id: id, name: name, kind: p.Kind, of: given(p), origin: originOf(p), text: units.FormatValue(p.Kind, p.Value, sys)}
}

// estimated is a figure as the readings have it, with whether they decide it.
func estimated(id, name string, k units.Kind, f *advance.Fig, sys units.System) figure {
	x := figure{id: id, name: name, kind: k, of: twin.Interval{Mid: f.Mid, Lo: f.Lo95, Hi: f.Hi95}, origin: predicted}
	x.text = units.Format(k, rounded3(f.Mid), sys)
	if f.Given {
		x.note, x.origin = "taken as the car file has it", car.Assumed.String()
		return x
	}
	x.text += ", " + units.FormatValue(k, units.Value{X: (f.Lo95 + f.Hi95) / 2, PM: (f.Hi95 - f.Lo95) / 2, Shape: units.Uniform}, sys)
	x.origin, x.note = "", "decided by the readings"
	if !f.Known {
		x.note = "hardly decided by the readings"
	}
	return x
}

// rounded3 rounds to three digits.
func rounded3(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	p := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*p) / p
}

// partsWords says how well the estimate fits.
func (sh *curveSheet) partsWords() []string {
	e := sh.Estimated
	if e == nil {
		return nil
	}
	m := &e.Misfit
	text := fmt.Sprintf("Misfit: chi-square %.1f with %.0f readings to spare", m.ChiSquare, m.DoF)
	if m.P < 0.01 {
		text += fmt.Sprintf(", which the readings' ± do not explain (chance %s)", percent(m.P))
	} else {
		text += fmt.Sprintf(", which the readings' ± explain (chance of worse %s)", percent(m.P))
	}
	if m.Worst < len(sh.Measured) && m.Worst >= 0 {
		text += fmt.Sprintf(". Furthest off: %.0f rpm, measured %.1f° crank, %s", sh.Measured[m.Worst].RPM, sh.Measured[m.Worst].Advance, strings.Replace(offWords(m.WorstBy), "too ", "", 1)+" of the mechanism's")
	}
	return []string{text + ".", "Weights, pivots and pins are taken as the car file, or a mechanism of common size, has them: other sizes with other springs give the same curve. Compare springs with each other, not with a catalogue."}
}

// springPlaces are where springs go, in words.
var springPlaces = [...]string{"light", "heavy"}

// buildWords says what to fit.
func (sh *curveSheet) buildWords(b *advance.Build) string {
	var list []string
	for i, id := range b.SpringIDs {
		place := fmt.Sprintf("spring %d", i+1)
		if i < len(springPlaces) {
			place = springPlaces[i] + " spring"
		}
		if id == "" {
			id = "as fitted"
		}
		list = append(list, place+" "+id)
	}
	part := func(what, id string, any bool) {
		if id == "" && any {
			id = "as fitted"
		}
		if id != "" {
			list = append(list, what+" "+id)
		}
	}
	k := &sh.Car.Advance.Kit
	part("stop", b.StopID, len(k.Stops) > 0)
	part("weights", b.WeightID, len(k.Weights) > 0)
	return strings.Join(list, ", ")
}

// buildStand is where a build stands.
func buildStand(b *advance.Build) curveStand {
	switch {
	case b.Chance >= insideChance:
		return curveInside
	case b.Worst > 1:
		return curveOutside
	}
	return curveDoubtful
}

// writeBuilds writes the best builds from the kit.
func (sh *curveSheet) writeBuilds(w io.Writer, width int) {
	k := &sh.Car.Advance.Kit
	if len(sh.Builds) == 0 {
		switch {
		case len(sh.Wanted) == 0:
		case len(k.Springs)+len(k.Stops)+len(k.Weights) == 0:
			heading(w, "No springs, stops or weights at hand are stated (advance.kit): no build to look for.", width)
		default:
			heading(w, "No build of the kit can be put together.", width)
		}
		return
	}
	shown := len(sh.Builds)
	if !sh.all {
		shown = min(shown, fewBuilds)
	}
	head := "BEST BUILDS FROM THE KIT for the wanted points, by the chance that every one reads inside (predicted)"
	if shown < len(sh.Builds) {
		head += fmt.Sprintf("; %d of %d kept, --all lists them", shown, len(sh.Builds))
	}
	heading(w, head, width)
	for n := range sh.Builds[:shown] {
		b := &sh.Builds[n]
		writeWrapped(w, fmt.Sprintf("%2d. %s ", n+1, curveStands[buildStand(b)].mark), strings.ToUpper(sh.buildWords(b)), width)
		const lead = "      "
		worst := 0
		for i := range b.Points {
			if math.Abs(b.Points[i].Off)/sh.Wanted[i].Tolerance > math.Abs(b.Points[worst].Off)/sh.Wanted[worst].Tolerance {
				worst = i
			}
		}
		writeWrapped(w, lead, together(fmt.Sprintf("Set initial to %s. All inside: chance %s. Worst off: %s at %.0f rpm (± %.1f° wanted).",
			btdc(alone(math.Round(10*b.Initial)/10)), percent(b.Chance), offWords(b.Points[worst].Off), sh.Wanted[worst].RPM, sh.Wanted[worst].Tolerance)), width)
		var offs []string
		for i := range b.Points {
			offs = append(offs, fmt.Sprintf("%s° at %.0f", signed(b.Points[i].Off), sh.Wanted[i].RPM))
		}
		writeWrapped(w, lead, together("Off: "+strings.Join(offs, ", ")+" rpm."), width)
	}
}

// sourceWords says where the hose is joined.
func (sh *curveSheet) sourceWords() string {
	switch sh.Car.Advance.Source {
	case car.PortedVacuum:
		return "ported, just above the closed throttle"
	case car.ManifoldVacuum:
		return "inlet manifold"
	}
	return "none"
}

// can lists the figures of the can.
func (sh *curveSheet) can(sys units.System) []figure {
	a := &sh.Car.Advance
	return []figure{
		{name: "hose joined at", text: sh.sourceWords(), origin: a.SourceOrigin.String()},
		{id: "altitude", name: "height above the sea", kind: units.Length, of: given(&a.Altitude), origin: originOf(&a.Altitude), text: units.FormatValue(units.Length, a.Altitude.Value, sys), note: fmt.Sprintf("air there %s (ISO 2533)", bothPressures(sh.Vacuum.AmbientPa))},
		{id: "starts", name: "can begins to pull at", kind: units.Vacuum, of: given(&a.Start), origin: originOf(&a.Start), text: bothSpread(&a.Start)},
		{id: "full", name: "can all the way at", kind: units.Vacuum, of: given(&a.Full), origin: originOf(&a.Full), text: bothSpread(&a.Full)},
		{id: "travel", name: "can gives then", kind: units.DistributorAngle, of: given(&a.Travel), origin: originOf(&a.Travel), note: "at the distributor, twice that at the crank"},
	}
}

const inHgPa = 3386.389 // Pa for an inch of mercury at 0 °C (NIST SP 811)

func bothPressures(pa float64) string { return fmt.Sprintf("%.1f inHg or %.0f kPa", pa/inHgPa, pa/1e3) }

func bothSpread(p *car.Param) string {
	if p.PM == 0 {
		return bothPressures(p.X)
	}
	return fmt.Sprintf("%.1f ± %.1f inHg or %.0f ± %.0f kPa", p.X/inHgPa, p.PM/inHgPa, p.X/1e3, p.PM/1e3)
}

// writeVacuum writes the vacuum.
func (sh *curveSheet) writeVacuum(w io.Writer, width int, sys units.System) {
	if sh.Vacuum.Source == advance.NoVacuum {
		heading(w, "VACUUM ADVANCE: none.", width)
		return
	}
	heading(w, "VACUUM ADVANCE", width)
	writeList(w, sh.can(sys), width, sys)
	if len(sh.Vacuum.At) == 0 {
		return
	}
	fmt.Fprintln(w)
	g := &grid{}
	var felt, kPa, alone, total []string
	for i := range sh.Vacuum.At {
		x := &sh.Vacuum.At[i]
		g.heads = append(g.heads, x.Name+"\n"+fmt.Sprintf("%.0f rpm", x.RPM))
		felt = append(felt, spread(x.FeltPa, 1/inHgPa, 0))
		kPa = append(kPa, spread(x.FeltPa, 1e-3, 0))
		alone = append(alone, spread(x.Advance, 1, 0))
		total = append(total, spread(x.Total, 1, 0))
	}
	g.add("the can feels, inHg", felt...)
	g.add("the can feels, kPa", kPa...)
	g.add("it gives, ° crank", alone...)
	g.add("all timing, ° crank", total...)
	g.write(w, width)
	text := "Predicted; the can felt below the air outside"
	if sh.Vacuum.Source == advance.Ported {
		text += ", the port uncovered only off idle"
	}
	text += "."
	if g.contains("+") {
		text += " 1.2+2.3−1.1 is 1.2, and in 95 of 100 cars not more than 2.3 above nor 1.1 below it."
	}
	writeWrapped(w, "", text, width)
}

// wantedDocument is a wanted point as JSON.
func wantedDocument(w *curve.Wanted) CurveWanted {
	return CurveWanted{w.RPM, w.Advance, w.Tolerance, told(w.Model), w.Model.Mid - w.Advance, w.Inside, curveStands[pointStand(w)].id}
}
