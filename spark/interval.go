package spark

import "dwellwright/twin"

// Interval is a predicted figure: the middle and the 95 % interval of the
// drawn cars.
type Interval = twin.Interval

// under is how far a figure stays under a limit.
func under(limit float64, i Interval) Interval {
	return Interval{Mid: limit - i.Mid, Lo: limit - i.Hi, Hi: limit - i.Lo}
}
