package workshop

import (
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/draw"
	"dwellwright/fit"
	"dwellwright/units"
)

// registerMark is the sign of a register's verdict.
func registerMark(v distributor.RegisterVerdict) draw.CellMark {
	switch v {
	case distributor.InRegister:
		return draw.MarkUnproven // only a window in the cap proves it
	case distributor.OnEdge:
		return draw.MarkDoubtful
	}
	return draw.MarkShort
}

// originOf is where the figure of a car file stands in a picture.
func originOf(o car.Origin) draw.Origin {
	switch o {
	case car.Measured:
		return draw.Measured
	case car.Stated:
		return draw.Stated
	}
	return draw.Assumed
}

// PastWords says a rotor phase: "3.0° past the tower", "1.5° short of it".
func PastWords(phase float64) string {
	switch x := math.Round(phase*10) / 10; {
	case x > 0:
		return fmt.Sprintf("%.1f° past its tower", x)
	case x < 0:
		return fmt.Sprintf("%.1f° short of its tower", -x)
	}
	return "at its tower"
}

// FitTop is the distributor seen from above as it stands in a trial: where the
// housing would be, the rotor at the spark, and everything in the way. Front
// of the car is up.
func FitTop(f *fit.Fit, t fit.Trial, width float64, sys units.System) draw.DistributorTopSpec {
	d, c := &t.Rig, f.Car
	s := float64(d.Rotation)
	now := t.Firings[0]
	spec := draw.DistributorTopSpec{
		Title: "The distributor from above as No. 1 fires", W: width, Rotation: int8(d.Rotation),
		HousingRadiusM: housingRadius(d), HousingAt: d.Housing, ClampRadiusM: d.ClampRadiusM,
		ElectrodeRadiusM: d.ElectrodeRadiusM, ElectrodeWidthM: d.ElectrodeWidthM,
		Rotor: draw.TopRotor{
			Angle: d.Housing + now.Rotor, TipRadiusM: d.TipRadiusM, TipWidthM: d.TipWidthM,
			Value: draw.Figure{Text: PastWords(now.Phase), Origin: draw.Predicted, Mark: registerMark(t.Register.Verdict)},
		},
	}
	if t.Vacuum > 0 {
		spec.Rotor.Name = fmt.Sprintf("rotor as the spark jumps, plate drawn %.1f°", t.Vacuum)
	}
	for k := range d.Towers {
		tw := draw.TopTower{Angle: d.Housing + d.FirstTower + s*d.Towers[k], Label: fmt.Sprint(d.Leads[k]), First: d.Leads[k] == d.FiringOrder[0]}
		for i, cyl := range d.FiringOrder {
			if cyl == d.Leads[k] {
				tw.Order = i + 1
			}
		}
		spec.Towers = append(spec.Towers, tw)
	}
	w := d.Window(f.Spare.Volts/1000, fit.KVPerMM)
	if w.OverlapDeg > 0 && w.OverlapDeg < 180 {
		spec.Window = &draw.TopWindow{Tower: now.Tower, HalfDeg: w.OverlapDeg, Value: draw.Figure{Text: fmt.Sprintf("up to %.1f° either way", w.OverlapDeg), Origin: draw.Predicted}}
	}
	if d.VacuumTravel > 0 && t.Vacuum < d.VacuumTravel-0.05 {
		full := d.Fire(f.Timing.Centrifugal/2, d.VacuumTravel)[0]
		spec.Full = &draw.TopAngle{Angle: d.Housing + full.Rotor, Value: draw.Figure{Text: PastWords(full.Phase), Origin: draw.Predicted}}
	}
	fitInside(&spec, f, t, sys)
	for _, a := range d.Features[:min(1, len(d.Features))] {
		spec.Can = &draw.TopArc{Name: a.Name, From: d.Housing + a.From, To: d.Housing + a.To, Value: draw.Figure{}}
	}
	for i, o := range c.Distributor.Obstacles {
		if i < len(d.Obstacles) {
			spec.Obstacles = append(spec.Obstacles, draw.TopArc{ID: o.ID, Name: d.Obstacles[i].Name, From: d.Obstacles[i].From, To: d.Obstacles[i].To})
		}
	}
	if n := t.Move.Leads; n != 0 && len(d.Towers) > 1 {
		spec.Leads = n
		spec.LeadsText = "each lead has been moved on by " + towers(n)
		if n < 0 {
			spec.LeadsText = "each lead has been moved back by " + towers(-n)
		}
	}
	return spec
}

func towers(n int) string {
	if n == 1 {
		return "one tower"
	}
	return fmt.Sprintf("%d towers", n)
}

// housingRadius is where the body's outside is drawn: the file does not give
// it, and it has to stand outside the contacts.
func housingRadius(d *distributor.Distributor) float64 {
	return math.Max(d.ClampRadiusM*1.12, d.ElectrodeRadiusM+7e-3)
}

// fitInside adds trigger, ring or cam, and the plate's pin.
func fitInside(spec *draw.DistributorTopSpec, f *fit.Fit, t fit.Trial, sys units.System) {
	d, c := &t.Rig, f.Car
	s := float64(d.Rotation)
	shift, _ := d.SensorShift(t.Vacuum)
	at := d.Housing + d.Trigger + shift
	trig := &draw.TopTrigger{Angle: at, RadiusM: c.Trigger.RingRadius.X + c.Trigger.Gap.X, WidthM: 5e-3, DepthM: 4e-3}
	ring := &draw.TopRing{RadiusM: c.Trigger.RingRadius.X}
	if c.Switch.Kind.Electronic() {
		trig.Value = draw.Figure{Text: "air gap " + units.FormatValue(units.Length, c.Trigger.Gap.Value, sys), Origin: originOf(c.Trigger.Gap.Origin)}
		if c.Trigger.Principle == car.Reluctance {
			trig.Name, ring.Name, ring.Lobes = "coil of the trigger", "toothed wheel", true
		} else {
			ring.Alternating = c.Trigger.Ring != car.OnePerLobe
		}
	} else {
		trig.Name, trig.Short, trig.RadiusM, ring.Name, ring.Lobes = "rubbing block of the points", "block", 9e-3, "cam", true
		ring.RadiusM = 9e-3
	}
	if trig.RadiusM+trig.DepthM > 0.95*d.TipRadiusM { // what is drawn below the rotor keeps within it
		k := 0.95 * d.TipRadiusM / (trig.RadiusM + trig.DepthM)
		trig.RadiusM, trig.DepthM, ring.RadiusM = k*trig.RadiusM, k*trig.DepthM, k*ring.RadiusM
	}
	// Lobe 0 stands at the trigger as No. 1 fires; the others follow against
	// rotation.
	for _, l := range d.Lobes {
		ring.Angles = append(ring.Angles, at-s*l)
	}
	if ring.Alternating {
		n := len(ring.Angles)
		var both []float64
		for i, a := range ring.Angles {
			next := ring.Angles[(i+1)%n]
			if i == n-1 {
				next -= s * 360
			}
			both = append(both, a, (a+next)/2)
		}
		ring.Angles = both
	}
	spec.Trigger, spec.Ring = trig, ring
	if p := d.Plate; p.PivotRadiusM > 0 {
		spec.Pivot = &draw.TopPivot{RadiusM: p.PivotRadiusM, Angle: d.Housing + p.PivotAngle}
	}
}

// Turned draws into a picture from above by how much the housing has been
// turned: an arrow along the clamp circle from where its zero pointed to where
// it points, and in broken lines where the can stood. It stands in the group
// "turn", whose first item is the arrow's arc.
func Turned(scene *draw.Scene, place draw.Placed, f *fit.Fit, t fit.Trial) {
	by := t.Move.Housing
	if math.Abs(by) < 0.05 {
		return
	}
	d := &f.Rig
	at := func(r, deg float64) draw.Point {
		s, c := math.Sincos(deg * math.Pi / 180)
		return draw.Point{X: place.X + r*s, Y: place.Y - r*c}
	}
	rad := func(deg float64) float64 { return (deg - 90) * math.Pi / 180 }
	r := d.ClampRadiusM * place.Scale
	from, to := d.Housing, d.Housing+by
	arc := draw.Path{Style: draw.Style{Stroke: draw.Accent, Width: 3}}
	arc.Arc(place.X, place.Y, r, rad(from), rad(to))
	head := math.Min(12, math.Abs(by)*math.Pi/180*r) / r * 180 / math.Pi
	back := to - math.Copysign(head, by)
	items := []draw.Item{arc, draw.Polyline{Closed: true, Style: draw.Style{Fill: draw.Accent}, Points: []draw.Point{at(r, to), at(r-6, back), at(r+6, back)}},
		draw.Line{X1: at(r-7, from).X, Y1: at(r-7, from).Y, X2: at(r+7, from).X, Y2: at(r+7, from).Y, Style: draw.Style{Stroke: draw.Accent, Width: 2}}}
	for _, it := range scene.Items {
		if g, ok := it.(draw.Group); ok && g.ID == "can" && len(g.Items) > 0 {
			if p, ok := g.Items[0].(draw.Path); ok {
				items = append(items, turned(p, place, -by))
			}
		}
	}
	group := draw.Group{ID: "turn", Label: "housing turned: " + fit.Brief(distributor.Move{Housing: by}), Items: items}
	for i, it := range scene.Items {
		if g, ok := it.(draw.Group); ok && g.ID == "clamp" {
			scene.Items = append(scene.Items[:i+1:i+1], append([]draw.Item{group}, scene.Items[i+1:]...)...)
			scene.Desc += " " + group.Label + "."
			return
		}
	}
}

// turned is a path turned about a picture's shaft, clockwise, drawn in broken
// lines.
func turned(p draw.Path, place draw.Placed, deg float64) draw.Path {
	s, c := math.Sincos(deg * math.Pi / 180)
	out := draw.Path{Style: draw.Style{Stroke: draw.Accent, Width: 1.6, Dash: draw.Dashed}}
	for _, seg := range p.Segs {
		for i, q := range seg.P {
			x, y := q.X-place.X, q.Y-place.Y
			seg.P[i] = draw.Point{X: place.X + x*c - y*s, Y: place.Y + x*s + y*c}
		}
		out.Segs = append(out.Segs, seg)
	}
	return out
}
