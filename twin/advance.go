package twin

import (
	"math"

	"dwellwright/advance"
	"dwellwright/car"
)

// Mechanism is the centrifugal advance of a car's distributor with every
// figure as c has it. What the file has no field for (where posts and pins
// stand) is that of a mechanism of common size.
func Mechanism(c *car.Car) advance.Mechanism {
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

// Can is a car's vacuum advance.
func Can(c *car.Car) advance.Can {
	a := &c.Advance
	if a.Source == car.NoVacuum {
		return advance.Can{}
	}
	return advance.Can{StartPa: a.Start.X, FullPa: math.Max(a.Full.X, a.Start.X+100), TravelDeg: a.Travel.X}
}

// Source is where the hose of a car's vacuum advance is joined.
func Source(c *car.Car) advance.Source {
	switch c.Advance.Source {
	case car.PortedVacuum:
		return advance.Ported
	case car.ManifoldVacuum:
		return advance.Manifold
	}
	return advance.NoVacuum
}
