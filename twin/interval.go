package twin

import (
	"slices"
)

// Interval is a predicted figure: the middle and the 95 % interval of the
// drawn cars.
type Interval struct {
	Mid float64 `json:"mid"`
	Lo  float64 `json:"low"`
	Hi  float64 `json:"high"`
}

// PM is half the width of the interval.
func (i Interval) PM() float64 { return (i.Hi - i.Lo) / 2 }

// Middle95 is the median and the middle 95 % of what drawn cars gave, which it
// puts in order; the middle car's figure where none was drawn.
func Middle95(mid float64, draws []float64) Interval {
	if len(draws) == 0 {
		return Interval{mid, mid, mid}
	}
	slices.Sort(draws)
	return Interval{Quantile(draws, 0.5), Quantile(draws, 0.025), Quantile(draws, 0.975)}
}
