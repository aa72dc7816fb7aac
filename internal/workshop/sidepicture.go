package workshop

import (
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/fit"
	"dwellwright/twin"
	"dwellwright/units"
)

// FitStrip is the tower of No. 1 laid out flat with the rotor's tip at the
// spark, vacuum off and full.
func FitStrip(f *fit.Fit, t fit.Trial, width float64) draw.PhaseStripSpec {
	d := &t.Rig
	pitch := 360 / float64(len(d.Towers))
	w := d.Window(f.Spare.Volts/1000, fit.KVPerMM)
	word, _ := fit.VerdictWords(t.Register.Verdict)
	spec := draw.PhaseStripSpec{
		Title: "The tip at its tower as the spark jumps", W: width, PitchDeg: pitch,
		ElectrodeDeg: d.ElectrodeWidthM / d.ElectrodeRadiusM * 180 / math.Pi, TipDeg: d.TipWidthM / d.TipRadiusM * 180 / math.Pi,
		RestDeg: t.Register.AtRest, FullDeg: t.Register.AtFull, PM: f.Phase.AtRest.PM(), Origin: draw.Predicted,
		OverlapDeg: math.Max(w.OverlapDeg, 0), Tower: "its tower", Before: "the one before", Next: "the next",
		Verdict: word, Mark: registerMark(t.Register.Verdict),
	}
	if w.JumpDeg > spec.OverlapDeg {
		spec.JumpDeg = math.Min(w.JumpDeg, 360)
	}
	return spec
}

// What the file does not say of a distributor's inside, m; only drawn.
const (
	shaftRadius = 4e-3
	sensorHigh  = 5e-3
	belowRotor  = 2e-3 // from the magnets up to the rotor
)

// FitSide is the distributor cut through its shaft, with the heights of the
// middle car.
func FitSide(f *fit.Fit, width float64, sys units.System) draw.DistributorSideSpec {
	c, h, g := f.Car, &f.Seat.Heights, &f.Seat.Middle
	tip := f.Rig.TipRadiusM
	mm := func(i twin.Interval, o draw.Origin) draw.Figure {
		return draw.Figure{Text: Amount(units.Length, i, sys), Origin: o}
	}
	body := 0.45 * tip
	spec := draw.DistributorSideSpec{
		Title: "The distributor from the side, cut through its shaft", W: width,
		ShaftRadiusM: shaftRadius, ShaftTop: h.BoreM,
		Rotor: draw.SideRotor{RadiusM: body, Band: draw.SideBand{From: h.LiftM, To: h.RotorTopM + h.LiftM},
			BoreTop: h.LiftM + math.Min(h.BoreM+1e-3, 0.8*h.RotorTopM), Tip: draw.SideBand{From: h.Blade[0] + h.LiftM, To: h.Blade[1] + h.LiftM},
			TipRadiusM: tip, LiftM: h.LiftM,
			Value: draw.Figure{Text: Amount(units.Length, f.Seat.Engagement, sys) + " of shaft in its bore", Origin: draw.Predicted, Mark: atLeastMark(f.Seat.Engagement, f.Seat.Least)}},
		Contact:    draw.SideBody{InnerM: f.Rig.ElectrodeRadiusM, OuterM: f.Rig.ElectrodeRadiusM + 5e-3, Band: draw.SideBand{From: h.Contacts[0], To: h.Contacts[1]}},
		RoofHeight: h.RoofM,
		Brush:      &draw.SideBody{OuterM: 2.2e-3, Band: draw.SideBand{From: h.SpringM + h.LiftM, To: h.RoofM}},
	}
	if spec.Brush.Band.From >= spec.Brush.Band.To {
		spec.Brush = nil
	}
	add := func(id, name string, across bool, at, from, to float64, v draw.Figure) {
		if math.Abs(to-from) > 1e-5 {
			spec.Gaps = append(spec.Gaps, draw.SideGap{ID: id, Name: name, Across: across, At: at, From: from, To: to, Value: v})
		}
	}
	if c.Switch.Kind.Electronic() {
		r := c.Trigger.RingRadius.X
		high := math.Max(c.Trigger.MagnetHeight.X, 1e-3)
		zero := -belowRotor - high/2 - math.Abs(h.SleeveM)
		gap := math.Max(c.Trigger.Gap.X, 1e-5)
		inner := math.Max(r-c.Trigger.MagnetThickness.X, shaftRadius+1e-3)
		ring := "magnets"
		if c.Trigger.Principle == car.Reluctance {
			ring = "toothed wheel"
		}
		spec.Ring = &draw.SideBody{Name: ring, InnerM: math.Min(inner, r-0.5e-3), OuterM: r, Band: draw.SideBand{From: zero + h.SleeveM - high/2, To: zero + h.SleeveM + high/2}}
		spec.Sleeve = &draw.SideBody{InnerM: shaftRadius, OuterM: spec.Ring.InnerM, Band: draw.SideBand{From: spec.Ring.Band.From, To: math.Max(h.LiftM, spec.Ring.Band.To)}}
		spec.Sensor = &draw.SideBody{InnerM: r + gap, OuterM: r + gap + 5e-3, Band: draw.SideBand{From: zero - sensorHigh/2, To: zero + sensorHigh/2}}
		spec.Plate = &draw.SideBody{InnerM: shaftRadius + 3e-3, OuterM: r + gap + 6e-3, Band: draw.SideBand{From: zero - high/2 - 3.5e-3 - math.Abs(h.SleeveM), To: zero - high/2 - 2e-3 - math.Abs(h.SleeveM)}}
		origin := func(p *car.Param) draw.Figure {
			return draw.Figure{Text: units.FormatValue(units.Length, p.Value, sys), Origin: originOf(p.Origin)}
		}
		add("air", "air gap", true, zero, r, r+gap, origin(&c.Trigger.Gap))
		add("axial", "magnets above the sensor", false, r+gap+2.5e-3, zero, zero+h.SleeveM, origin(&c.Trigger.AxialOffset))
		add("lift", "sleeve holds the rotor up by", false, body-2e-3, 0, h.LiftM, origin(&c.Trigger.RotorLift))
	}
	lo, hi := math.Max(h.Contacts[0], h.Blade[0]+h.LiftM), math.Min(h.Contacts[1], h.Blade[1]+h.LiftM)
	add("facing", "tip and contact face each other", false, -(f.Rig.ElectrodeRadiusM + 7e-3), lo, math.Max(hi, lo), mm(f.Seat.Facing, draw.Predicted))
	add("rotor-gap", "rotor gap", true, h.Contacts[0]+1.2e-3, -f.Rig.ElectrodeRadiusM, -tip, draw.Figure{Text: units.FormatValue(units.Length, c.Cap.RotorGap.Value, sys), Origin: originOf(c.Cap.RotorGap.Origin)})
	roof := mm(f.Seat.Roof, draw.Predicted)
	roof.Mark = atLeastMark(f.Seat.Roof, h.ClearanceM)
	add("roof", "free under the cap", false, 0.75*body, h.RotorTopM+h.LiftM, h.RoofM, roof)
	spec.Notes = append(spec.Notes, fmt.Sprintf("The shaft can go up and down by %s in all (end play, %s); what is least counts it. Shaft, moulding and plate are drawn at a common size.",
		units.FormatValue(units.Length, c.Distributor.EndPlay.Value, sys), c.Distributor.EndPlay.Origin))
	_ = g
	return spec
}

// atLeastMark is the sign of a predicted figure that should be no less.
func atLeastMark(i twin.Interval, least float64) draw.CellMark {
	switch {
	case i.Lo >= least:
		return draw.MarkUnproven
	case i.Hi < least:
		return draw.MarkShort
	}
	return draw.MarkDoubtful
}

// Amount writes an interval with its unit and plus-or-minus; one without a
// width, a figure alone.
func Amount(k units.Kind, i twin.Interval, sys units.System) string {
	pm := i.PM()
	if pm < 1e-3*math.Abs(i.Mid) || pm < 1e-9 {
		return units.Format(k, i.Mid, sys)
	}
	return units.FormatValue(k, units.Value{X: i.Mid, PM: pm, Shape: units.Normal}, sys)
}

// GapCurve is the chance that every lobe fires over the air gap, in the worst
// condition.
func GapCurve(f *fit.Fit, width, height float64, sys units.System) draw.CurveSpec {
	g := f.Gap
	per, unit := 1e-3, "mm"
	if sys == units.Inch {
		per, unit = 25.4e-6, "mil"
	}
	line := draw.Series{Name: "every lobe fires, of the drawn cars", Origin: draw.Predicted}
	for _, p := range g.Curve {
		line.X, line.Y = append(line.X, p.GapM/per), append(line.Y, 100*p.Fires)
	}
	origin := originOf(f.Car.Trigger.Gap.Origin)
	at := func(name string, m float64, o draw.Origin) draw.Series {
		return draw.Series{Name: name, X: []float64{m / per, m / per}, Y: []float64{0, 100}, Origin: o}
	}
	worst := g.At[g.Worst]
	top := line.X[len(line.X)-1]
	spec := draw.CurveSpec{
		Title: "Chance that every lobe fires, over the air gap, " + worst.Name, W: width, H: height,
		X: draw.Axis{Label: "air gap", Unit: unit, Lo: 0, Hi: top}, Y: draw.Axis{Label: "chance", Unit: "%", Lo: 0, Hi: 105},
		Series: []draw.Series{line, at("gap now", g.Now.Mid, origin), at("gap wanted", g.Wanted, originOf(f.Car.Trigger.GapWanted.Origin))},
	}
	if g.Band.Most > g.Band.Least && g.Band.Most/per < top {
		spec.Band = draw.Band{Name: "clears the ring and fires", X: []float64{g.Band.Least / per, g.Band.Most / per}, Lo: []float64{0, 0}, Hi: []float64{100, 100}}
	}
	return spec
}

// LobeBars is what a bench run says of each lobe.
func LobeBars(f *fit.Fit, i int) draw.BarsSpec {
	e := &f.Lobes[i].Errors
	spec := draw.BarsSpec{Title: "Each lobe's own error, distributor degrees late", Unit: "°", Width: 360}
	for j, x := range e.Cam {
		mark := draw.MarkHolds
		if math.Abs(x.Mid)-x.PM > LobeTolerance {
			mark = draw.MarkShort
		} else if math.Abs(x.Mid)+x.PM > LobeTolerance {
			mark = draw.MarkDoubtful
		}
		spec.Rows = append(spec.Rows, draw.BarRow{
			Label: fmt.Sprintf("lobe %d, cylinder %d", j+1, f.Rig.FiringOrder[j%len(f.Rig.FiringOrder)]), Value: x.Mid, PlusMinus: x.PM,
			Origin: draw.Measured, Mark: mark, Wanted: draw.Range{On: true, Lo: -LobeTolerance, Hi: LobeTolerance},
		})
	}
	return spec
}

// LobeTolerance is what one lobe may be off, distributor degrees: firings
// within a degree or two of the crank [common practice, no source].
const LobeTolerance = 1
