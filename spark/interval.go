package spark

import "slices"

// Interval is a predicted figure: the middle and the 95 % interval of the
// drawn cars.
type Interval struct {
	Mid float64 `json:"mid"`
	Lo  float64 `json:"low"`
	Hi  float64 `json:"high"`
}

// PM is half the width of the interval.
func (i Interval) PM() float64 { return (i.Hi - i.Lo) / 2 }

// interval makes one of the middle car's figure and those of drawn cars,
// which it puts in order.
func interval(mid float64, draws []float64) Interval {
	if len(draws) == 0 {
		return Interval{mid, mid, mid}
	}
	slices.Sort(draws)
	at := func(q float64) float64 {
		x := q * float64(len(draws)-1)
		k := int(x)
		if k+1 >= len(draws) {
			return draws[len(draws)-1]
		}
		return draws[k] + (x-float64(k))*(draws[k+1]-draws[k])
	}
	return Interval{at(0.5), at(0.025), at(0.975)}
}
