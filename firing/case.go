package firing

import (
	"fmt"
	"math"
)

// Coil is an ignition coil: two windings on one iron.
type Coil struct {
	L1       float64 // H, primary
	L2       float64 // H, secondary; L1 times the square of the turns ratio
	Coupling float64 // k in M = k sqrt(L1 L2); above 0.99999 it is taken as that
	R2       float64 // ohm, secondary winding
	Iron     float64 // ohm across the primary: eddy currents and hysteresis; 0 or +Inf: no loss
	KneeA    float64 // A of magnetising current from which the iron saturates; 0: never
	Beyond   float64 // share of the magnetising inductance that is left beyond the knee
}

// Source is what the primary is fed from.
type Source struct {
	Volts float64 // V with no current drawn; nothing flows where it is no more than the switch's drop
	Ohms  float64 // ohm of everything in series: battery, wiring, ballast, primary winding
}

// Break is the switch that interrupts the primary: points with their
// condenser, or a transistor.
type Break struct {
	Drop      float64 // V across it closed, at no current
	On        float64 // ohm more of it closed
	Farads    float64 // F across it open: condenser, or the transistor's own; less than Stray is taken as Stray
	Series    float64 // ohm in series with that
	Clamp     float64 // V at which it conducts although open; 0: it does not; it takes the whole current then
	ClampOhms float64 // ohm beyond that
	Back      float64 // V at which it conducts backward; 0: it does not
	Parting   float64 // m/s at which contacts part; 0: they are apart at once, and there is no arc
}

// Gap is what hangs on the secondary: leads, a leak, rotor gap and plug.
type Gap struct {
	Farads   float64 // F to earth
	Shunt    float64 // ohm to earth: fouled plug, damp cap; 0 or +Inf: none
	Series   float64 // ohm from coil tower to the gap; less than 100 is taken as 100
	Required float64 // V at which it breaks down; +Inf: never; no less than what lights a hot gap is taken
	Burn     float64 // V across it while it burns
	Extinct  float64 // A below which it goes out
	Linger   float64 // s for which a spark lives on less than Extinct, or a gap stays hot enough to light again at little over Burn
}

// Rhythm is how often and how long the switch is closed.
type Rhythm struct {
	Period float64 // s from spark to spark; +Inf: standing still
	Dwell  float64 // s of it closed
}

// Turning is the rhythm of a four-stroke engine with one coil: N rpm/120
// firings a second, and a lobe of 360/N distributor degrees of which dwellDeg
// are closed. A dwell of a whole lobe or more never opens.
func Turning(cylinders int, rpm, dwellDeg float64) Rhythm {
	if !(rpm > 0) || cylinders < 1 {
		return Rhythm{math.Inf(1), math.Inf(1)}
	}
	period := 120 / (float64(cylinders) * rpm)
	return Rhythm{period, period * dwellDeg * float64(cylinders) / 360}
}

// Case is one coil, fed, switched and loaded in one rhythm.
type Case struct {
	Coil   Coil
	Source Source
	Break  Break
	Gap    Gap
	Rhythm Rhythm
}

// Stray is the least capacitance across an open switch, F: its leads and
// contacts [100 pF, from memory].
const Stray = 100e-12

const maxCoupling = 0.99999

// RangeError is a figure that no firing can be worked out from.
type RangeError struct {
	Field  string
	Value  float64
	Wanted string
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("firing: %s is %g; accepted: %s", e.Field, e.Value, e.Wanted)
}

// Validate refuses figures that are not those of a coil.
func (c *Case) Validate() error {
	const big = 1e12
	for _, f := range [...]struct {
		name      string
		v, lo, hi float64
		inf       bool
		wanted    string
	}{
		{"Coil.L1", c.Coil.L1, 1e-5, 10, false, "1e-5 to 10 H"},
		{"Coil.L2", c.Coil.L2, 1e-3, 1e5, false, "1e-3 to 1e5 H"},
		{"Coil.Coupling", c.Coil.Coupling, 0.1, 1, false, "0.1 to 1"},
		{"Coil.R2", c.Coil.R2, 0, 1e7, false, "0 to 1e7 ohm"},
		{"Coil.Iron", c.Coil.Iron, 0, big, true, "0 (none) or up to +Inf ohm"},
		{"Coil.KneeA", c.Coil.KneeA, 0, 1e4, true, "0 (none) to 1e4 A"},
		{"Coil.Beyond", c.Coil.Beyond, 0, 1, false, "0 to 1"},
		{"Source.Volts", c.Source.Volts, -1e3, 1e3, false, "-1000 to 1000 V"},
		{"Source.Ohms", c.Source.Ohms, 1e-3, 1e6, false, "1e-3 to 1e6 ohm"},
		{"Break.Drop", c.Break.Drop, 0, 100, false, "0 to 100 V"},
		{"Break.On", c.Break.On, 0, 1e6, false, "0 to 1e6 ohm"},
		{"Break.Farads", c.Break.Farads, 0, 1e-3, false, "0 to 1e-3 F"},
		{"Break.Series", c.Break.Series, 0, 1e3, false, "0 to 1000 ohm"},
		{"Break.Clamp", c.Break.Clamp, 0, 1e5, true, "0 (none) to 1e5 V"},
		{"Break.ClampOhms", c.Break.ClampOhms, 0, 1e4, false, "0 to 1e4 ohm"},
		{"Break.Back", c.Break.Back, 0, 1e5, true, "0 (none) to 1e5 V"},
		{"Break.Parting", c.Break.Parting, 0, 100, false, "0 to 100 m/s"},
		{"Gap.Farads", c.Gap.Farads, 1e-13, 1e-6, false, "1e-13 to 1e-6 F"},
		{"Gap.Shunt", c.Gap.Shunt, 0, 1e18, true, "0 (none) or 1 to +Inf ohm"},
		{"Gap.Series", c.Gap.Series, 0, 1e9, false, "0 to 1e9 ohm"},
		{"Gap.Required", c.Gap.Required, 1, 1e9, true, "1 V to +Inf"},
		{"Gap.Burn", c.Gap.Burn, 0, 1e6, false, "0 to 1e6 V"},
		{"Gap.Extinct", c.Gap.Extinct, 0, 10, false, "0 to 10 A"},
		{"Gap.Linger", c.Gap.Linger, 0, 1, false, "0 to 1 s"},
		{"Rhythm.Period", c.Rhythm.Period, 1e-6, 1e6, true, "1e-6 s to +Inf"},
		{"Rhythm.Dwell", c.Rhythm.Dwell, 0, 1e6, true, "0 s to +Inf"},
	} {
		if f.inf && math.IsInf(f.v, 1) {
			continue
		}
		if !(f.v >= f.lo && f.v <= f.hi) {
			return &RangeError{f.name, f.v, f.wanted}
		}
	}
	if s := c.Gap.Shunt; s > 0 && s < 1 {
		return &RangeError{"Gap.Shunt", s, "0 (none) or 1 to +Inf ohm"}
	}
	if c.Break.Clamp > 0 && c.Break.Clamp <= c.Source.Volts {
		return &RangeError{"Break.Clamp", c.Break.Clamp, fmt.Sprintf("0 (none) or more than the source's %g V", c.Source.Volts)}
	}
	return nil
}
