package car

import (
	"math"

	"dwellwright/units"
)

// Timing is what was seen at the damper with the vacuum hose off, and what is
// wanted there.
type Timing struct {
	Given        bool  // the file has a timing section
	Wanted       Param // crank degrees before top dead centre at idle, vacuum off
	Tolerance    Param // crank degrees either way
	Before       Param // crank degrees seen before the change, or as it is now
	After        Param // crank degrees seen after the change, housing and leads as they were
	TriggerLater Param // distributor degrees by which the trigger switches after the points opened
	SeenAt       Param // engine rpm at which it was seen
}

var timingTable = allLate([]entry[Timing]{
	{
		name: "wanted", kind: units.CrankAngle, low: -30, high: 60,
		doc:   "timing that is wanted at idle, vacuum hose off",
		param: func(t *Timing) *Param { return &t.Wanted },
		// [cp] 6 to 12 degrees for unmodified road engines; the car's own
		// manual goes before it.
		typical: always(usualWanted),
	},
	{
		name: "tolerance", kind: units.CrankAngle, low: 0, high: 20,
		doc:     "how far it may be off either way",
		param:   func(t *Timing) *Param { return &t.Tolerance },
		typical: always(exactly(2)), // [cp] a wish
	},
	{
		name: "before", kind: units.CrankAngle, low: -60, high: 80, plain: 1,
		doc:     "timing seen before the trigger was fitted, or as it is now; as wanted, give or take 3 degrees, when not said",
		param:   func(t *Timing) *Param { return &t.Before },
		typical: always(asWanted(usualWanted)),
	},
	{
		name: "after", kind: units.CrankAngle, low: -360, high: 360, plain: 1,
		doc:     "timing seen with the trigger, housing and leads as they were; below 0 after top dead centre; when not said: before less twice trigger_later",
		param:   func(t *Timing) *Param { return &t.After },
		typical: always(later(asWanted(usualWanted), usualLater)),
	},
	{
		name: "trigger_later", kind: units.DistributorAngle, low: -180, high: 180, plain: 1, amount: true,
		doc:     "how much later the trigger switches than the points opened, from the bench; below 0 earlier; when not said: half of what before is more than after, if that is said",
		param:   func(t *Timing) *Param { return &t.TriggerLater },
		typical: always(usualLater),
	},
	{
		name: "seen_at", kind: units.Speed, low: 0, high: 6000, plain: 0.05,
		doc:     "engine speed at which timing was seen; that of the hot idle when not said",
		param:   func(t *Timing) *Param { return &t.SeenAt },
		typical: func(f facts) units.Value { return builtInByID("hot_idle").speed(f) },
	},
})

var (
	usualWanted = about(8, 3)
	usualLater  = about(0, 8) // [mem] a trigger seldom stands where the points did
)

// asWanted is timing that nobody has looked at: [cp] within some 3 degrees of
// what is wanted.
func asWanted(wanted units.Value) units.Value { return about(wanted.X, math.Hypot(wanted.PM, 3)) }

// later is timing (crank degrees) with a trigger that switches so many
// distributor degrees after the points. Half-widths add as squares.
func later(before, trigger units.Value) units.Value {
	return wrapped(before.X-2*trigger.X, math.Hypot(before.PM, 2*trigger.PM), 360)
}

// wrapped is a figure brought between -half and half, with its half-width cut
// so that no draw goes beyond.
func wrapped(x, pm, half float64) units.Value {
	x = math.Remainder(x, 2*half)
	pm = min(pm, (half-math.Abs(x))/1.6) // draws reach 1.53 half-widths out
	if pm <= 0 {
		return exactly(x)
	}
	return about(x, pm)
}

// settlePhase puts a rotor phase that is not said where a maker would: so that
// the tip passes the middle of its contact half way through the vacuum's
// travel [mem], and straight at it where there is no vacuum.
func settlePhase(c *Car) {
	p := &c.Distributor.Phase
	if p.Origin != Assumed {
		return
	}
	p.X = 0
	if c.Advance.Source != NoVacuum {
		p.X = c.Advance.Travel.X / 2
	}
}

// settleTiming makes the timing that is not said follow what is. The spread
// of a figure so made is that of the figures it is made of, so a car drawn at
// random has to make it anew from those drawn.
func settleTiming(c *Car) {
	t := &c.Timing
	if t.Before.Origin == Assumed {
		t.Before.Value = asWanted(t.Wanted.Value)
	}
	switch {
	case t.After.Origin == Assumed:
		t.After.Value = later(t.Before.Value, t.TriggerLater.Value)
	case t.TriggerLater.Origin == Assumed:
		t.TriggerLater.Value = wrapped((t.Before.X-t.After.X)/2, math.Hypot(t.Before.PM, t.After.PM)/2, 180)
	}
	for i := range c.Conditions {
		if k := &c.Conditions[i]; k.ID == "hot_idle" && k.Engine == Running && t.SeenAt.Origin == Assumed && k.Speed.X <= 4000 {
			t.SeenAt.Value = k.Speed.Value
		}
	}
}
