package draw

import (
	"fmt"
	"math"
)

const sideMostGaps = 12

// check refuses what cannot stand on a shaft or be drawn.
func (spec *DistributorSideSpec) check() error {
	bad := func(where, format string, a ...any) error { return &SpecError{where, fmt.Sprintf(format, a...)} }
	if !(spec.W >= 320 && spec.W <= 4000) {
		return bad("w", "is %v; want 320 to 4000", spec.W)
	}
	height := func(where string, z float64) error {
		if !(math.Abs(z) <= 1) {
			return bad(where, "is at %v m; want a height of -1 to 1", z)
		}
		return nil
	}
	band := func(where string, b SideBand) error {
		if !(math.Abs(b.From) <= 1 && math.Abs(b.To) <= 1 && b.From < b.To) {
			return bad(where, "reaches from %v to %v m; want heights of -1 to 1 in rising order", b.From, b.To)
		}
		return nil
	}
	r := spec.Rotor
	if !(spec.ShaftRadiusM >= 1e-4 && spec.ShaftRadiusM < r.RadiusM && r.RadiusM < r.TipRadiusM && r.TipRadiusM < spec.Contact.InnerM) {
		return bad("radii", "are %v m of the shaft, %v of the rotor's body, %v of its tip and %v of the contact's face; want 0.0001 or more, each above the one before it", spec.ShaftRadiusM, r.RadiusM, r.TipRadiusM, spec.Contact.InnerM)
	}
	for _, err := range []error{
		band("rotor", r.Band), band("rotor's tip", r.Tip), height("shaft's end", spec.ShaftTop), height("roof", spec.RoofHeight),
		height("rotor's lift", r.LiftM), r.Value.check("rotor"),
	} {
		if err != nil {
			return err
		}
	}
	if !(r.BoreTop > r.Band.From && r.BoreTop < r.Band.To) {
		return bad("rotor's bore", "ends at %v m; want a height within the moulding, %v to %v", r.BoreTop, r.Band.From, r.Band.To)
	}
	for _, p := range spec.all() {
		if err := band(p.id, p.Band); err != nil {
			return err
		}
		if !(p.InnerM >= 0 && p.OuterM > p.InnerM && p.OuterM <= 1) {
			return bad(p.id, "lies between the radii %v and %v m; want 0 or more, rising, up to 1", p.InnerM, p.OuterM)
		}
		if err := p.Value.check(p.id); err != nil {
			return err
		}
	}
	if spec.Ring != nil && spec.Sensor != nil && spec.Sensor.InnerM < spec.Ring.OuterM {
		return bad("sensor", "begins at the radius %v m, within the magnets' %v; want it outside, else they touch", spec.Sensor.InnerM, spec.Ring.OuterM)
	}
	if len(spec.Gaps) > sideMostGaps {
		return bad("gaps", "are %d; want %d at most", len(spec.Gaps), sideMostGaps)
	}
	seen := map[string]int{}
	for i, g := range spec.Gaps {
		where := fmt.Sprintf("gaps[%d] (%s)", i, g.Name)
		for _, v := range []float64{g.At, g.From, g.To} {
			if !(math.Abs(v) <= 1) {
				return bad(where, "is at %v from %v to %v m; want numbers of -1 to 1", g.At, g.From, g.To)
			}
		}
		if j, ok := seen[spec.gapID(i)]; ok {
			return bad(where, "has the ID of gaps[%d]; give each one of its own", j)
		}
		seen[spec.gapID(i)] = i
		if err := g.Value.check(where); err != nil {
			return err
		}
	}
	if w, lo, hi := spec.extent(); !(hi-lo > w/20 && hi-lo < 12*w) {
		return bad("heights", "reach over %v m, the radii to %v; want a twentieth to twelve times as much", hi-lo, w)
	}
	return nil
}
