package twin

import (
	"testing"

	"dwellwright/car"
)

// With no spark and no condenser the coil's current has nowhere to go but the
// loss of its iron: by Ohm's law its terminals come to current times iron. A
// module's clamp cuts that off.
func TestIronAndClampAreTheCarsOwn(t *testing.T) {
	for _, iron := range []float64{800, 2500} {
		c := v8(t, "points_kept")
		c.Coil.Burn.X, c.Coil.Iron.X = 1e9, iron
		amps := readOne(t, c, "hot_idle", Spec{Instrument: ClampPeak, Red: "coil"})
		volts := readOne(t, c, "hot_idle", Spec{Instrument: LargestDrop, Red: "coil_switched", Black: "coil_feed"})
		near(t, "points, V across the coil", volts/(amps*iron), 1, 0.01)
	}
	for _, clamp := range []float64{350, 400} {
		for _, kind := range []car.SwitchKind{car.Darlington, car.MOSFET, car.IGBT} {
			c := v8(t, "feed_before_ballast")
			c.Switch = car.SwitchDefaults(kind, 12, 8)
			fix(c)
			c.Coil.Burn.X, c.Switch.Clamp.X = 1e9, clamp
			volts := readOne(t, c, "hot_idle", Spec{Instrument: LargestDrop, Red: "breaker_terminal", Black: "breaker_plate"})
			near(t, kind.String()+", V across the module", volts, clamp, 2)
		}
	}
}
