package distributor

import (
	"cmp"
	"fmt"
	"slices"
)

// touch is the width, in degrees, below which two angles are the same.
const touch = 1e-9

// meeting is a stretch of housing turns at which a feature comes nearer to an
// obstacle than the clearance: from low to low+width, its ends still free.
type meeting struct {
	low, width        float64 // low in [0, 360)
	feature, obstacle string
}

// meetings lists them for turns counted from where the housing stands. A
// feature from f to F meets an obstacle from o to O, with the clearance x, when
// the turn t is between o − F − x − H and O − f + x − H.
func (d *Distributor) meetings() []meeting {
	out := make([]meeting, 0, len(d.Features)*len(d.Obstacles))
	for i, f := range d.Features {
		for j, o := range d.Obstacles {
			out = append(out, meeting{
				low:      wrap(o.From-f.To-d.Clearance-d.Housing, 360),
				width:    (f.To - f.From) + (o.To - o.From) + 2*d.Clearance,
				feature:  named(f.Name, "part", i),
				obstacle: named(o.Name, "obstacle", j),
			})
		}
	}
	return out
}

func named(name, kind string, i int) string {
	if name == "" {
		return fmt.Sprintf("%s %d", kind, i+1)
	}
	return name
}

// at reports whether the turn is inside the meeting.
func (m meeting) at(turn float64) bool {
	in := wrap(turn-m.low, 360)
	return in > touch && in < m.width-touch
}

// FreeTurn returns the turns of the housing, degrees clockwise from where it
// stands, at which no feature comes nearer than the clearance to an obstacle,
// as stretches from low to high, rising. Not lifted, the housing can only be
// turned, so a feature cannot pass an obstacle: only the stretch that holds 0
// is returned, nothing if the housing stands in an obstacle. Lifted out, it may
// be put back anywhere that is free. With nothing in the way: -180 to 180.
func (d *Distributor) FreeTurn(lifted bool) [][2]float64 {
	free := d.free()
	if lifted {
		return free
	}
	for _, f := range free {
		if f[0] <= touch && f[1] >= -touch {
			return [][2]float64{f}
		}
	}
	return nil
}

func (d *Distributor) free() [][2]float64 {
	var blocked [][2]float64 // cut at 0, within [0, 360]
	for _, m := range d.meetings() {
		if !(m.width < 360) {
			return nil
		}
		if high := m.low + m.width; high > 360 {
			blocked = append(blocked, [2]float64{m.low, 360}, [2]float64{0, high - 360})
		} else {
			blocked = append(blocked, [2]float64{m.low, high})
		}
	}
	if len(blocked) == 0 {
		return [][2]float64{{-180, 180}}
	}
	slices.SortFunc(blocked, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	var free [][2]float64
	end := 0.0
	for _, b := range blocked {
		if b[0] > end+touch {
			free = append(free, [2]float64{end, b[0]})
		}
		end = max(end, b[1])
	}
	if end < 360-touch {
		free = append(free, [2]float64{end, 360})
	}
	if n := len(free); n > 1 && free[0][0] == 0 && free[n-1][1] == 360 {
		free[0][0] = free[n-1][0] - 360
		free = free[:n-1]
	}
	for i, f := range free {
		if f[0]+f[1] > 360 {
			free[i] = [2]float64{f[0] - 360, f[1] - 360}
		}
	}
	slices.SortFunc(free, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	return free
}

// blocker names what stands in the way of a turn: at the place itself where
// lifted, else the first thing met on the way there from the stretch around 0.
func (d *Distributor) blocker(turn float64, around [2]float64, lifted bool) string {
	at := turn
	if !lifted {
		at = around[1] + 1e-6
		if turn < 0 {
			at = around[0] - 1e-6
		}
	}
	for _, m := range d.meetings() {
		if m.at(at) {
			return fmt.Sprintf("the %s would meet the %s", m.feature, m.obstacle)
		}
	}
	return "no room to turn that far"
}

func (d *Distributor) badArcs() error {
	for _, l := range []struct {
		name string
		arcs []Arc
	}{{"Features", d.Features}, {"Obstacles", d.Obstacles}} {
		for i, a := range l.arcs {
			if !between(-angleMost, a.From, angleMost) || !between(-angleMost, a.To, angleMost) || !(a.To > a.From && a.To-a.From < 360) {
				return &Error{fmt.Sprintf("%s[%d]", l.name, i), fmt.Sprintf("%s from %g to %g degrees", a.Name, a.From, a.To),
					"an arc clockwise from From to To, wider than 0 and narrower than 360 degrees", ErrArc}
			}
		}
	}
	for _, m := range d.meetings() {
		switch {
		case m.width >= 360:
			return &Error{"Obstacles", fmt.Sprintf("%s, %s and twice the clearance take %.4g degrees", m.feature, m.obstacle, m.width),
				"less than 360 degrees together", ErrNoRoom}
		case m.at(0):
			return &Error{"Housing", fmt.Sprintf("the %s stands in the %s or nearer than %g degrees to it", m.feature, m.obstacle, d.Clearance),
				"a housing that is clear where it stands", ErrFouled}
		}
	}
	if len(d.FreeTurn(false)) == 0 {
		return &Error{"Obstacles", "nothing is left free", "a housing that is clear where it stands", ErrNoRoom}
	}
	return nil
}
