package prove

import (
	"math"

	"dwellwright/car"
	"dwellwright/twin"
	"dwellwright/units"
)

// FitGroup is the group of the rows about the distributor: set once when it is
// fitted, whichever way the car is wired.
const FitGroup = "distributor and timing"

// Where the limits of the distributor come from.
const (
	fromCard      = "the car's card, vacuum hose off"
	fromContacts  = "rotor tip and cap contact still overlap"
	fromRotorGap  = "0.3 to 1.5 mm (common practice)"
	fromClearance = "clear of the ring as the shaft rocks, and every lobe fires with the bay at its hottest"
)

// fitting lists the rows about the distributor.
func fitting(c *car.Car) []row {
	idle := func(k *car.Condition) bool { return twin.Idling(c, k) }
	vacuum := c.Advance.Source != car.NoVacuum
	phase := func(*car.Car, *car.Condition) Limit {
		d := twin.Distributor(c)
		w := d.Window(0, 0).OverlapDeg
		return Limit{Lo: -w, Hi: w, PM: math.Max(c.Distributor.Scatter.X, 0), Source: fromContacts}
	}
	return []row{
		{
			id: "timing", name: "timing, vacuum hose off", kind: units.CrankAngle, critical: true, group: FitGroup, only: true,
			spec:    twin.Spec{Instrument: twin.TimingLight, Red: "damper"},
			accepts: []car.InstrumentKind{car.TimingLight},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				w, tol := c.Timing.Wanted, c.Timing.Tolerance.X
				if idle(k) {
					return Limit{Lo: w.X - tol, Hi: w.X + tol, PM: w.PM, Source: fromCard}, true
				}
				return NoLimit(), false
			},
		},
		{
			id: "timing_open", name: "timing, throttle open", kind: units.CrankAngle, group: FitGroup, only: true, weighs: false,
			spec:    twin.Spec{Instrument: twin.TimingLight, Red: "damper"},
			accepts: []car.InstrumentKind{car.TimingLight},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				a := &c.Advance
				if a.SafeMost.Origin == car.Assumed || !running(k) || idle(k) {
					return NoLimit(), false
				}
				// Never later than the initial, and all in at the fastest.
				l := Limit{Lo: c.Timing.Wanted.X - c.Timing.Tolerance.X, Hi: a.SafeMost.X, Source: a.SafeSource}
				if a.SafeLeast.Origin != car.Assumed && fastest(c, k) {
					l.Lo = a.SafeLeast.X
				}
				if l.Source == "" {
					l.Source = "stated for this engine and fuel"
				}
				return l, true
			},
		},
		{
			id: "rotor_phase", name: "rotor past its tower, no vacuum", kind: units.DistributorAngle, critical: true, group: FitGroup, only: true,
			spec:    twin.Spec{Instrument: twin.WindowedCap, Red: "rotor_tip"},
			accepts: []car.InstrumentKind{car.WindowedCap},
			limit:   func(c *car.Car, k *car.Condition) (Limit, bool) { return phase(c, k), idle(k) },
		},
		{
			id: "rotor_phase_vacuum", name: "rotor past its tower, full vacuum", kind: units.DistributorAngle, critical: true, group: FitGroup, only: true,
			spec:    twin.Spec{Instrument: twin.WindowedCap, Red: "rotor_tip_full_vacuum"},
			accepts: []car.InstrumentKind{car.WindowedCap},
			limit:   func(c *car.Car, k *car.Condition) (Limit, bool) { return phase(c, k), idle(k) && vacuum },
		},
		{
			id: "air_gap", name: "air gap of the trigger", kind: units.Length, critical: true, group: FitGroup, rest: true, only: true,
			spec:    twin.Spec{Instrument: twin.FeelerGauge, Red: "air_gap"},
			accepts: []car.InstrumentKind{car.FeelerGauge},
			limit: func(c *car.Car, _ *car.Condition) (Limit, bool) {
				if !c.Switch.Kind.Electronic() {
					return NoLimit(), false
				}
				play := math.Max(c.Distributor.SidePlay.X, 0) / 2
				most := twin.LargestGapDrawn(c, gapDraws)
				return Limit{Lo: twin.RubM + play, Hi: math.Max(most.Lo-play, twin.RubM+play), Source: fromClearance}, true
			},
		},
		{
			id: "rotor_gap", name: "rotor tip to cap contact", kind: units.Length, group: FitGroup, rest: true, only: true,
			spec:    twin.Spec{Instrument: twin.Caliper, Red: "rotor_gap"},
			accepts: []car.InstrumentKind{car.Caliper},
			limit: func(*car.Car, *car.Condition) (Limit, bool) {
				return Limit{Lo: 0.3e-3, Hi: 1.5e-3, Source: fromRotorGap}, true
			},
		},
	}
}

// gapDraws is how many cars are drawn for the widest gap that fires.
const gapDraws = 100

// fastest reports whether the engine runs faster in no other condition.
func fastest(c *car.Car, k *car.Condition) bool {
	for i := range c.Conditions {
		if o := &c.Conditions[i]; o.Engine == car.Running && o.Speed.X > k.Speed.X {
			return false
		}
	}
	return true
}
