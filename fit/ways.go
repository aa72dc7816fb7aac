package fit

import (
	"dwellwright/distributor"
	"dwellwright/twin"
)

// most is how many ways are looked at over the drawn cars; the rest keep the
// figures of the middle car.
const most = 8

// scatterMost is the most scatter, distributor degrees, that ways are asked
// for: no cap with four towers or more keeps a rotor in register over it.
const scatterMost = 45

// ways asks for every way back to the wanted timing.
func (f *Fit) ways(a *drawn) error {
	// The phase is known to within its own plus-or-minus, and once a trigger
	// is loose it costs nothing to move it well inside: a way should hold over
	// twice that, or once, or, where the contacts are too narrow, over the
	// drive's scatter alone.
	var ways []distributor.Way
	var refused []distributor.Refused
	for _, times := range []float64{2, 1, 0} {
		wish := f.wish()
		wish.ScatterDeg = min(wish.ScatterDeg+times*f.Phase.AtRest.PM(), scatterMost)
		var err error
		if ways, refused, err = f.Rig.Ways(wish); err != nil {
			return err
		}
		if len(ways) > 0 && ways[0].Register.Verdict == distributor.InRegister {
			break
		}
	}
	f.Refused = refused
	for n, w := range ways {
		x := Way{Way: w, Phase: Phase{Middle: w.Register, AtRest: one(w.Register.AtRest), AtFull: one(w.Register.AtFull), Window: f.Phase.Window}}
		// What is turned is turned by a measure; what was not known before
		// is not known after, until a light is put to it.
		x.Timing = shift(f.Timing.Now, w.Timing-f.Timing.Now.Mid)
		if n < most {
			x.Phase = a.phase(f, w.Move)
		}
		x.Start = f.start(x.Timing)
		f.Ways = append(f.Ways, x)
	}
	return nil
}

func (f *Fit) wish() distributor.Wish {
	return distributor.Wish{
		Advance: f.Timing.Wanted.Mid, C: f.Timing.Centrifugal / 2,
		SpareKV: f.Spare.Volts / 1000, KVPerMM: KVPerMM, ScatterDeg: f.Car.Distributor.Scatter.X,
		MayLift: true, MayMoveLeads: true, MayMoveTrigger: true,
	}
}

// start is what a first start with such a timing is like: cranking, the
// weights are home, so what a light saw of centrifugal advance is not there.
func (f *Fit) start(seen twin.Interval) distributor.Start {
	return distributor.FirstStart(seen.Mid-f.Timing.Centrifugal, seen.PM(), 720/float64(f.Car.Cylinders))
}

func one(x float64) twin.Interval { return twin.Interval{Mid: x, Lo: x, Hi: x} }

func shift(i twin.Interval, by float64) twin.Interval {
	return twin.Interval{Mid: i.Mid + by, Lo: i.Lo + by, Hi: i.Hi + by}
}

// Trial is what a person tries out by hand: a move, and how far the vacuum
// plate is drawn.
type Trial struct {
	Move     distributor.Move
	Vacuum   float64 // distributor degrees the plate is drawn
	Rig      distributor.Distributor
	Timing   twin.Interval // vacuum hose off
	Firings  []distributor.Firing
	Phase    float64 // of lobe 0, at the vacuum tried
	Register distributor.Register
	Room     [2]float64 // degrees anticlockwise and clockwise before something is touched
	Blocked  string     // what the housing would stand in or pass through; "" when it is free
	Start    distributor.Start
}

// Try works a move out on the middle car.
func (f *Fit) Try(m distributor.Move, vacuum float64) Trial {
	rig := f.Rig.Apply(m)
	vacuum = min(max(vacuum, 0), f.Rig.VacuumTravel)
	c := f.Timing.Centrifugal / 2
	t := Trial{Move: m, Vacuum: vacuum, Rig: rig, Firings: rig.Fire(c, vacuum),
		Register: rig.Register(f.Spare.Volts/1000, KVPerMM, f.Car.Distributor.Scatter.X)}
	t.Phase = t.Firings[0].Phase
	now := rig.Timing(c, 0)
	t.Timing = shift(f.Timing.Now, now-f.Timing.Now.Mid)
	t.Start = f.start(t.Timing)
	t.Blocked = "stands in or would pass through what is in its way"
	for _, free := range f.Rig.FreeTurn(m.Mesh != 0) {
		if m.Housing >= free[0] && m.Housing <= free[1] {
			t.Blocked, t.Room = "", [2]float64{m.Housing - free[0], free[1] - m.Housing}
		}
	}
	return t
}
