package twin

import (
	"math"
	"testing"

	"dwellwright/car"
)

// Wherever the switched side is shorted, the coil's source behind it is the one it
// was [Thévenin: a load is no part of the source], the coil draws what that drives
// through its own resistance [Ohm's law], and nothing is ever broken.
func TestShortsLeaveTheSource(t *testing.T) {
	for _, kind := range []car.SwitchKind{car.SinglePoints, car.Darlington, car.MOSFET, car.IGBT} {
		for _, earth := range []car.Earth{car.NegativeEarth, car.PositiveEarth} {
			c := withSwitch(12, earth, 8, kind)
			whole := sparkOf(t, c, "hot_restart").Primary
			for at := range car.ShortPlaces {
				ill := c.Clone()
				ill.Switch.ShortBy(at, 1e-3)
				sp := sparkOf(t, ill, "hot_restart")
				if p := sp.Primary; math.Abs(p.Volts-whole.Volts) > 0.02*whole.Volts || p.Ohms > 1.15*whole.Ohms {
					t.Errorf("switch %v, earth %v, short %d: source %.4g V %.4g ohm, whole %.4g V %.4g ohm", kind, earth, at, p.Volts, p.Ohms, whole.Volts, whole.Ohms)
				}
				if sp.Firing.Opens || sp.Firing.AvailableV != 0 || sp.InHand != 0 {
					t.Errorf("switch %v, short %d: opens %t, %.3g V", kind, at, sp.Firing.Opens, sp.Firing.AvailableV)
				}
			}
		}
	}
}

// A primary that is as good as open gives no spark, and no error.
func TestOpenPrimaryIsNoSpark(t *testing.T) {
	c := withSwitch(12, car.NegativeEarth, 8, car.SinglePoints)
	for _, ohms := range []float64{1e6, 1e9, 1e12} {
		ill := c.Clone()
		ill.Coil.Primary.X += ohms
		if sp := sparkOf(t, ill, "hot_restart"); sp.Firing.AvailableV > 50 || math.IsNaN(sp.InHand) {
			t.Errorf("%g ohm: %g V, %g in hand", ohms, sp.Firing.AvailableV, sp.InHand)
		}
	}
}
