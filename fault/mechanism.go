package fault

import (
	"math"
	"slices"

	"dwellwright/advance"
	"dwellwright/car"
)

// mechanism is that of a car's weights. Where posts and pins stand, which the car
// file does not say, is that of one of common size.
func mechanism(c *car.Car) advance.Mechanism {
	a := &c.Advance
	m := advance.Usual()
	m.Weights.MassKg, m.Weights.PivotRadiusM, m.Weights.ArmM = a.Mass.X, a.PivotRadius.X, a.Arm.X
	m.Weights.RestRad = a.Rest.X * math.Pi / 180
	m.Ratio, m.StopDeg, m.FrictionNm = a.Ratio.X, a.Stop.X, math.Max(a.Friction.X, 0)
	for i, s := range []*car.Spring{&a.Light, &a.Heavy} {
		m.Springs[i].RateNPerM, m.Springs[i].PreloadN = s.Rate.X, s.Preload.X
		m.Springs[i].PinRadiusM = a.SpringRadius.X
		m.Springs[i].SlackM = 0
		if s.Slack.X > 0 {
			m.Springs[i].SlackM = m.SlackFor(i, s.Slack.X)
		}
	}
	return m
}

// weights is what a mechanism gives, distributor degrees, at two engine speeds. 0
// where its figures make none.
func weights(m *advance.Mechanism, one, other float64) (atOne, atOther float64) {
	deg := m.Curve([]float64{math.Max(one, 0) / 2, math.Max(other, 0) / 2})
	if math.IsNaN(deg[0].Mid + deg[1].Mid) {
		return 0, 0
	}
	return deg[0].Mid, deg[1].Mid
}

// pulled is by how many distributor degrees the vacuum can has the plate drawn
// over in a condition. A ported source gives nothing at idle [common practice:
// the port is just above the closed throttle], idle being up to 1.3 times the
// hot idle. A hand pump on the can of a stopped engine is a condition whose
// manifold is what the pump draws.
func pulled(c *car.Car, k *car.Condition) float64 {
	a := &c.Advance
	from, throttle := advance.Ported, 1.0
	switch a.Source {
	case car.NoVacuum:
		return 0
	case car.ManifoldVacuum:
		from = advance.Manifold
	}
	if idling(c, k) {
		throttle = 0
	}
	can := advance.Can{StartPa: a.Start.X, FullPa: math.Max(a.Full.X, a.Start.X+100), TravelDeg: a.Travel.X}
	deg := can.At(advance.Depression(from, advance.Ambient(a.Altitude.X), k.Manifold.X, throttle)).Mid
	if math.IsNaN(deg) {
		return 0
	}
	return deg
}

func idling(c *car.Car, k *car.Condition) bool {
	idle := k.Speed.X
	for i := range c.Conditions {
		if c.Conditions[i].ID == "hot_idle" {
			idle = c.Conditions[i].Speed.X
		}
	}
	return k.Engine == car.Running && k.Speed.X <= 1.3*idle
}

// withAdvance changes something of the advance, the housing staying where it
// is, and lets the plugs fire accordingly. What the weights then give more or
// less where timing is looked at, is seen there.
func withAdvance(c *car.Car, k *car.Condition, change func()) {
	was, drawn := mechanism(c), pulled(c, k)
	change()
	var seen, all, seenNow, allNow float64
	if is := mechanism(c); is.Weights != was.Weights || is.Ratio != was.Ratio || is.StopDeg != was.StopDeg || is.FrictionNm != was.FrictionNm || !slices.Equal(is.Springs, was.Springs) {
		seen, all = weights(&was, c.Timing.SeenAt.X, k.Speed.X)
		seenNow, allNow = weights(&is, c.Timing.SeenAt.X, k.Speed.X)
	}
	all += drawn
	allNow += pulled(c, k)
	for _, x := range []struct {
		moved float64
		by    func(float64)
	}{
		{2 * (seenNow - seen), func(deg float64) { seenEarlier(c, deg) }},
		{2 * (allNow - all), func(deg float64) { sparksEarlier(k, deg) }},
	} {
		if math.Abs(x.moved) > 1e-6 { // less is how closely the balance is found
			x.by(x.moved)
		}
	}
}
