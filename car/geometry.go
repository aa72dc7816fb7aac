package car

import (
	"fmt"
	"math"

	"go.yaml.in/yaml/v3"
)

// geometry looks for what cannot be true together of distributor, timing and
// advance. Like contradictions it speaks only of what the file says.
func (r *reader) geometry(root *yaml.Node, c *Car) {
	d := &c.Distributor
	if half := halfPitch(c); d.Phase.Origin != Assumed && math.Abs(d.Phase.X) > half {
		r.at(d.Phase.Pos, "distributor.phase",
			fmt.Sprintf("more than half way to the next tower, which is %.4g degrees, so it is nearer to that one", half),
			"the angle from the nearest tower, and leads that say whose it is")
	}
	if want := usualTeeth[d.Drive]; d.TeethOrigin != Assumed && d.Drive != GearDrive && d.Teeth != want {
		if n := r.lookup(r.lookup(root, "distributor"), "teeth"); n != nil {
			r.problem(n, "distributor.teeth", fmt.Sprintf("%d places, but the drive is a tang that goes in %d", d.Teeth, want),
				"a file without this line, or drive: gear", "", ErrContradiction)
		}
	}
	if lobe := 360 / float64(c.Cylinders); d.SetsApart.Origin != Assumed && d.SetsApart.X >= lobe {
		r.at(d.SetsApart.Pos, "distributor.sets_apart", fmt.Sprintf("with %d cylinders a lobe is only %.0f distributor degrees", c.Cylinders, lobe),
			fmt.Sprintf("less than %.0f deg", lobe))
	}
	r.dwell("distributor.dwell_each", d.DwellEach, c.Cylinders)
	t := &c.Timing
	if t.Before.Origin != Assumed && t.After.Origin != Assumed && t.TriggerLater.Origin != Assumed {
		off := math.Abs(math.Remainder(t.Before.X-2*t.TriggerLater.X-t.After.X, cycle))
		if room := t.Before.PM + t.After.PM + 2*t.TriggerLater.PM; off > room {
			r.at(t.After.Pos, "timing.after", fmt.Sprintf("before less twice trigger_later is %.4g degrees, which is %.3g away and more than their ± allow",
				t.Before.X-2*t.TriggerLater.X, off), "one of the three to be looked at again, or a wider ±")
		}
	}
	a := &c.Advance
	if a.Start.Origin != Assumed && a.Full.Origin != Assumed && a.Full.X <= a.Start.X {
		r.at(a.Full.Pos, "advance.vacuum.full", "no more vacuum than that at which the can begins to pull", "more than start")
	}
	if a.SafeLeast.Origin != Assumed && a.SafeMost.Origin != Assumed && a.SafeMost.X < a.SafeLeast.X {
		r.at(a.SafeMost.Pos, "advance.safe.most", "less than least", "no less than least")
	}
}

// halfPitch is half the widest angle from tower to tower.
func halfPitch(c *Car) float64 {
	d, widest := &c.Distributor, 0.0
	switch {
	case len(d.Towers) > 0:
		for i, x := range d.Towers {
			next := turn
			if i+1 < len(d.Towers) {
				next = d.Towers[i+1]
			}
			widest = max(widest, next-x)
		}
	case len(d.Intervals) > 0:
		for _, x := range d.Intervals {
			widest = max(widest, x/2)
		}
	default:
		widest = turn / float64(c.Cylinders)
	}
	return widest / 2
}
