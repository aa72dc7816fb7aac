package draw

import (
	"fmt"
	"math"
)

const (
	topMostTowers = 12
	topMostArcs   = 12
	topMostAngle  = 3600
)

// check refuses what cannot stand in a distributor or be drawn.
func (spec *DistributorTopSpec) check() error {
	bad := func(where, format string, a ...any) error { return &SpecError{where, fmt.Sprintf(format, a...)} }
	if !(spec.W >= 320 && spec.W <= 4000) {
		return bad("w", "is %v; want 320 to 4000", spec.W)
	}
	if spec.Rotation != 1 && spec.Rotation != -1 {
		return bad("rotation", "is %d; want +1 clockwise or -1 anticlockwise", spec.Rotation)
	}
	e := spec.ElectrodeRadiusM
	if !(e >= 1e-3 && e <= 1) {
		return bad("electrode radius", "is %v m; want 0.001 to 1", e)
	}
	radius := func(where string, r float64) error {
		if !(r > 0 && r <= 3*e) {
			return bad(where, "is %v m; want above 0 and up to three times the electrodes' radius, %v m", r, 3*e)
		}
		return nil
	}
	angle := func(where string, a float64) error {
		if !(math.Abs(a) <= topMostAngle) {
			return bad(where, "is %v; want degrees, -%d to %d", a, topMostAngle, topMostAngle)
		}
		return nil
	}
	var err error
	try := func(e error) {
		if err == nil {
			err = e
		}
	}
	try(radius("housing radius", spec.HousingRadiusM))
	try(angle("housing angle", spec.HousingAt))
	if spec.ClampRadiusM != 0 {
		try(radius("clamp radius", spec.ClampRadiusM))
	}
	try(spec.checkTowers(angle))
	r := spec.Rotor
	try(angle("rotor angle", r.Angle))
	if !(r.TipRadiusM > e/4 && r.TipRadiusM < e) {
		try(bad("rotor tip radius", "is %v m; want above a quarter of the electrodes' %v m and below it, else the rotor strikes the cap", r.TipRadiusM, e))
	}
	if !(r.TipWidthM > 0 && r.TipWidthM < 1.5*r.TipRadiusM) {
		try(bad("rotor tip width", "is %v m; want above 0 and below one and a half times its radius", r.TipWidthM))
	}
	try(r.Value.check("rotor"))
	if f := spec.Full; f != nil {
		try(angle("rotor at full vacuum", f.Angle))
		try(f.Value.check("rotor at full vacuum"))
	}
	if w := spec.Window; w != nil {
		if w.Tower < 0 || w.Tower >= len(spec.Towers) {
			try(bad("window", "is at towers[%d]; there are %d", w.Tower, len(spec.Towers)))
		}
		if !(w.HalfDeg > 0 && w.HalfDeg < 180) {
			try(bad("window", "reaches %v degrees to either side; want above 0 and below 180", w.HalfDeg))
		}
		try(w.Value.check("window"))
	}
	if t := spec.Trigger; t != nil {
		try(angle("trigger angle", t.Angle))
		try(radius("trigger radius", t.RadiusM))
		try(radius("trigger width", t.WidthM))
		try(radius("trigger's outer end", t.RadiusM+t.DepthM))
		if !(t.DepthM > 0) || t.WidthM > 2*t.RadiusM {
			try(bad("trigger", "is %v m wide and %v m deep; want both above 0, and the width no more than twice its radius", t.WidthM, t.DepthM))
		}
		try(t.Value.check("trigger"))
	}
	if g := spec.Ring; g != nil {
		try(radius("ring radius", g.RadiusM))
		if len(g.Angles) < 1 || len(g.Angles) > 32 {
			try(bad("ring", "has %d magnets or lobes; want 1 to 32", len(g.Angles)))
		}
		for i, a := range g.Angles {
			try(angle(fmt.Sprintf("ring angles[%d]", i), a))
			for j, b := range g.Angles[:i] {
				if apart(a, b) < 1 {
					try(bad(fmt.Sprintf("ring angles[%d]", i), "stands on angles[%d]; want a degree or more between them", j))
				}
			}
		}
		try(g.Value.check("ring"))
	}
	if p := spec.Pivot; p != nil {
		try(radius("pivot radius", p.RadiusM))
		try(angle("pivot angle", p.Angle))
		try(p.Value.check("pivot"))
	}
	try(spec.checkOutside(angle))
	return err
}

func (spec *DistributorTopSpec) checkTowers(angle func(string, float64) error) error {
	if n := len(spec.Towers); n < 1 || n > topMostTowers {
		return &SpecError{"towers", fmt.Sprintf("are %d; want 1 to %d", n, topMostTowers)}
	}
	if w := spec.ElectrodeWidthM; !(w > 0 && w < spec.ElectrodeRadiusM) {
		return &SpecError{"electrode width", fmt.Sprintf("is %v m; want above 0 and below the electrodes' radius", w)}
	}
	wide := spec.ElectrodeWidthM / spec.ElectrodeRadiusM * 180 / math.Pi
	for i, t := range spec.Towers {
		where := fmt.Sprintf("towers[%d] (%s)", i, t.Label)
		if err := angle(where, t.Angle); err != nil {
			return err
		}
		if w := TextWidth(t.Label, 12, true); w > 20 {
			return &SpecError{where, "has a label that is too long for the tower; want two or three characters"}
		}
		for j, o := range spec.Towers[:i] {
			if apart(t.Angle, o.Angle) <= wide {
				return &SpecError{where, fmt.Sprintf("stands %.3g° from towers[%d], and an electrode takes %.3g°; want more room between them", apart(t.Angle, o.Angle), j, wide)}
			}
		}
	}
	if n := len(spec.Towers); spec.Leads <= -max(n, 1) || spec.Leads >= max(n, 1) {
		return &SpecError{"leads", fmt.Sprintf("move by %d towers; there are %d", spec.Leads, n)}
	}
	return nil
}

func (spec *DistributorTopSpec) checkOutside(angle func(string, float64) error) error {
	arc := func(where string, a TopArc) error {
		for _, v := range []float64{a.From, a.To} {
			if err := angle(where, v); err != nil {
				return err
			}
		}
		if d := a.To - a.From; !(d > 0 && d < 360) {
			return &SpecError{where, fmt.Sprintf("runs from %v to %v; want clockwise, by more than 0 and less than 360", a.From, a.To)}
		}
		return a.Value.check(where)
	}
	if c := spec.Can; c != nil {
		if err := arc("can", *c); err != nil {
			return err
		}
	}
	if len(spec.Obstacles) > topMostArcs {
		return &SpecError{"obstacles", fmt.Sprintf("are %d; want %d at most", len(spec.Obstacles), topMostArcs)}
	}
	seen := map[string]int{}
	for i, o := range spec.Obstacles {
		where := fmt.Sprintf("obstacles[%d] (%s)", i, o.Name)
		if err := arc(where, o); err != nil {
			return err
		}
		id := spec.obstacleID(i)
		if j, ok := seen[id]; ok {
			return &SpecError{where, fmt.Sprintf("has the ID of obstacles[%d]; give each one of its own", j)}
		}
		seen[id] = i
	}
	if t := spec.Turn; t != nil {
		for _, v := range []float64{t.From, t.To} {
			if err := angle("turn", v); err != nil {
				return err
			}
		}
		if d := math.Abs(t.To - t.From); !(d > 0 && d < 360) {
			return &SpecError{"turn", fmt.Sprintf("goes from %v to %v; want a turn above 0 and below 360 degrees, or no turn", t.From, t.To)}
		}
		if spec.ClampRadiusM == 0 {
			return &SpecError{"turn", "has no clamp circle to be drawn along; give the clamp's radius"}
		}
		return t.Value.check("turn")
	}
	return nil
}

func (spec *DistributorTopSpec) obstacleID(i int) string {
	id := spec.Obstacles[i].ID
	if id == "" {
		id = fmt.Sprint(i)
	}
	return "obstacle-" + cleanID(id)
}
