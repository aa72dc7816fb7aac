package twin

import (
	"math"

	"dwellwright/car"
)

// RubM is what has to stay free between ring and sensor, m [a tenth of a
// millimetre, common practice].
const RubM = 0.1e-3

// LargestGap is the air gap (m) up to which a car's trigger fires every lobe
// in a condition, with the shaft as far along its end play as there is; 0
// where it fires none. A hall switch is as hot as the bay; a toothed wheel
// turns as fast as the condition has it.
func LargestGap(c *car.Car, k *car.Condition) float64 {
	if c.Trigger.Principle == car.Reluctance {
		g, err := Reluctor(c).LargestGap(math.Max(c.Trigger.Threshold.X, 1e-3), math.Max(k.Speed.X, 1)/2)
		if err != nil {
			return 0
		}
		return g
	}
	m := Hall(c, k.BayTemp.X)
	m.AxialM = math.Abs(m.AxialM) + math.Max(c.Distributor.EndPlay.X, 0)/2
	g, err := m.LargestGap()
	if err != nil {
		return 0
	}
	return g
}

// LargestGapDrawn is the gap up to which every lobe fires over so many drawn
// cars, in the condition with the engine turning that asks for the narrowest.
func LargestGapDrawn(c *car.Car, draws int) Interval {
	s := NewSampler(c, 1)
	s.Draw(0)
	worst, mid := -1, math.Inf(1)
	for i := range s.Car.Conditions {
		k := &s.Car.Conditions[i]
		if k.Engine != car.Running && k.Engine != car.Cranking {
			continue
		}
		if g := LargestGap(s.Car, k); g < mid {
			worst, mid = i, g
		}
	}
	if worst < 0 {
		return Interval{}
	}
	var got []float64
	for n := 1; n <= draws; n++ {
		s.Draw(n)
		got = append(got, LargestGap(s.Car, &s.Car.Conditions[worst]))
	}
	return Middle95(mid, got)
}

// Idling reports whether the engine runs no faster in a condition than a
// little over its hot idle, where initial timing is looked at.
func Idling(c *car.Car, k *car.Condition) bool {
	if k.Engine != car.Running {
		return false
	}
	idle := k.Speed.X
	for i := range c.Conditions {
		if c.Conditions[i].ID == "hot_idle" {
			idle = c.Conditions[i].Speed.X
		}
	}
	return k.Speed.X <= 1.3*idle
}
