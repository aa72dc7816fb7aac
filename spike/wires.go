package spike

import (
	"math"

	"dwellwright/car"
)

// heightM is how high above the body's metal a wire lies, m [assumed].
const heightM = 20e-3

// wireHenries is the inductance of a wire over metal, H:
//
//	L = mu0/(2 pi) length acosh(height/radius)
func wireHenries(l *car.Leg) float64 {
	r := math.Sqrt(math.Max(l.Section.X, 1e-9) / math.Pi)
	return 2e-7 * math.Max(l.Length.X, 0) * math.Acosh(math.Max(heightM/r, 1.1))
}

// inductances puts the wiring's inductance in two places: all of that between
// battery and ignition line in one leg, all of that between line and trigger
// in the trigger's supply wire. More places than those would have inductances
// in a row with nothing between them. A line that is cut off (cut) has none
// before it.
func inductances(c *car.Car, k *car.Condition, cut bool) (h [car.LegCount]float64) {
	sum := func(legs ...car.LegID) (s float64) {
		for _, id := range legs {
			s += wireHenries(&c.Wiring[id])
		}
		return s
	}
	live := k.Engine != car.Cranking || c.KeySwitch.LiveInStart
	if live && !cut {
		if relayed(c) {
			h[car.RelayFeed] = sum(car.BatteryCable, car.EarthCable, car.RelayFeed)
		} else {
			h[car.SwitchFeed] = sum(car.BatteryCable, car.EarthCable, car.MainFeed, car.SwitchFeed)
		}
	}
	if c.Switch.Kind.Electronic() {
		legs := []car.LegID{car.FeedWire, car.PivotWire}
		if c.Feed == car.FeedCoil || c.Feed == car.FeedBallastSupply {
			legs = append(legs, car.IgnitionLead)
		}
		if c.Feed == car.FeedCoil {
			legs = append(legs, car.CoilLead)
		}
		h[car.FeedWire] = sum(legs...)
	}
	return h
}

// relayed reports whether the ignition line comes from a relay.
func relayed(c *car.Car) bool { return c.Feed == car.FeedRelay && c.Relay.Fitted }
