package fit

import (
	"math"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/twin"
)

// drawn are the distributors of the drawn cars; those out of the far tail of
// their spreads that could not be are left out.
type drawn struct {
	rigs                        []distributor.Distributor
	now, later, wanted, scatter []float64
	mid                         *car.Car
}

// draw draws the cars.
func (f *Fit) draw(mid *car.Car) *drawn {
	a := &drawn{mid: mid}
	s := twin.NewSampler(f.Car, f.Seed)
	for k := 1; k <= f.Draws; k++ {
		s.Draw(k)
		rig := twin.Distributor(s.Car)
		if rig.Validate() != nil {
			continue
		}
		a.rigs = append(a.rigs, rig)
		a.now = append(a.now, twin.TimingNow(s.Car))
		a.later = append(a.later, twin.Later(s.Car))
		a.wanted = append(a.wanted, s.Car.Timing.Wanted.X+twin.FromIdle(s.Car))
		a.scatter = append(a.scatter, math.Max(s.Car.Distributor.Scatter.X, 0))
	}
	return a
}

// over is the middle 95 % of a function of the draws.
func (a *drawn) over(mid float64, of func(k int) float64) twin.Interval {
	v := make([]float64, len(a.rigs))
	for k := range v {
		v[k] = of(k)
	}
	return twin.Middle95(mid, v)
}

func (a *drawn) timing(f *Fit) Timing {
	c := a.mid
	// A rotor more than half a pitch off sends every spark to the next tower:
	// the lead of No. 1 then gets another lobe's. The spread is that of the
	// lobe, whichever it is.
	lobe := twin.TimingNow(c)
	now, later, wanted := f.Rig.Timing(twin.CentrifugalSeen(c), 0), twin.Later(c), c.Timing.Wanted.X+twin.FromIdle(c)
	for k := range a.now {
		a.now[k] += now - lobe
	}
	t := Timing{
		Now:         a.over(now, func(k int) float64 { return a.now[k] }),
		Later:       a.over(later, func(k int) float64 { return a.later[k] }),
		Wanted:      a.over(wanted, func(k int) float64 { return a.wanted[k] }),
		Off:         a.over(now-wanted, func(k int) float64 { return a.now[k] - a.wanted[k] }),
		AtIdle:      c.Timing.Wanted.X,
		Tolerance:   c.Timing.Tolerance.X,
		SeenRPM:     c.Timing.SeenAt.X,
		Centrifugal: 2 * twin.CentrifugalSeen(c),
	}
	if f.Car.Switch.Kind.Electronic() {
		t.Seen = c.Timing.After.Origin != car.Assumed || f.Car.Planned == nil && c.Timing.TriggerLater.Origin == car.Assumed && c.Timing.Before.Origin != car.Assumed
	} else {
		t.Seen = c.Timing.Before.Origin != car.Assumed
	}
	return t
}
