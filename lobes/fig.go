package lobes

import "math"

// Fig is a figure with its 95 % interval. A figure that can lie on either side
// of zero has Lo = Mid-PM and Hi = Mid+PM. A size (a standard deviation, an
// amplitude) has an interval that is longer upward, and PM is its longer side.
type Fig struct {
	Mid, PM float64
	Lo, Hi  float64 // 95 % interval
	// Known says that zero lies outside the interval. Of a size that is not
	// Known, Hi is what can be said: it is below what the run can show, and
	// less than Hi.
	Known bool
}

// around is a figure that lies as far up as down.
func around(mid, pm float64) Fig {
	return Fig{mid, pm, mid - pm, mid + pm, math.Abs(mid) > pm}
}

// size is a figure that cannot be below zero.
func size(mid, lo, hi float64) Fig {
	lo, hi = min(max(lo, 0), mid), max(hi, mid)
	return Fig{mid, max(mid-lo, hi-mid), lo, hi, lo > 0}
}

// times is the figure in another unit.
func (f Fig) times(k float64) Fig {
	return Fig{f.Mid * k, f.PM * k, f.Lo * k, f.Hi * k, f.Known}
}

// magnitude is how large a figure is, whatever its sign.
func (f Fig) magnitude() Fig {
	mid := math.Abs(f.Mid)
	return size(mid, mid-f.PM, mid+f.PM)
}
