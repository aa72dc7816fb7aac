package distributor

import (
	"fmt"
	"math"
	"slices"
)

// BreakerSet is one set of points: the angle at which it opens, in the
// direction of rotation, and for how many distributor degrees before that it
// was closed.
type BreakerSet struct {
	Opens, DwellDeg float64
}

// Combine returns where the coil is broken by sets of points wired in parallel,
// one of which makes while the other breaks, and the dwell of them together, in
// distributor degrees; pitch is the angle from lobe to lobe. The coil carries
// current while any set is closed, so it is broken when the last one opens, and
// the dwell is the pitch less what they are open together. opens is in
// [0, pitch).
//
// Errors wrap ErrBreakers (a figure that cannot be), ErrNeverOpen (their closed
// times cover the whole pitch: no spark at all) or ErrOpenTwice (the coil would
// be broken more than once per lobe).
func Combine(pitch float64, sets ...BreakerSet) (opens, dwell float64, err error) {
	if !(pitch > 0 && pitch <= 360) {
		return 0, 0, &Error{"pitch", fmt.Sprintf("%g degrees", pitch), "more than 0, to 360 degrees", ErrBreakers}
	}
	if len(sets) == 0 {
		return 0, 0, &Error{"sets", "none given", "one or more", ErrBreakers}
	}
	// The stretches closed, cut at 0, within [0, pitch].
	var closed [][2]float64
	for i, b := range sets {
		field := fmt.Sprintf("sets[%d]", i)
		if !between(-angleMost, b.Opens, angleMost) {
			return 0, 0, &Error{field + ".Opens", fmt.Sprintf("%g degrees", b.Opens), "an angle in degrees", ErrBreakers}
		}
		if !(b.DwellDeg > 0 && b.DwellDeg < pitch) {
			return 0, 0, &Error{field + ".DwellDeg", fmt.Sprintf("%g degrees", b.DwellDeg), fmt.Sprintf("more than 0 and less than the pitch of %g degrees", pitch), ErrBreakers}
		}
		from := wrap(b.Opens-b.DwellDeg, pitch)
		if to := from + b.DwellDeg; to > pitch {
			closed = append(closed, [2]float64{from, pitch}, [2]float64{0, to - pitch})
		} else {
			closed = append(closed, [2]float64{from, to})
		}
	}
	slices.SortFunc(closed, func(a, b [2]float64) int { return slices.Compare(a[:], b[:]) })
	var open [][2]float64
	end := 0.0
	for _, c := range closed {
		if c[0] > end+touch {
			open = append(open, [2]float64{end, c[0]})
		}
		end = math.Max(end, c[1])
	}
	if end < pitch-touch {
		if len(open) > 0 && open[0][0] == 0 {
			open[0][0] = end - pitch
		} else {
			open = append(open, [2]float64{end, pitch})
		}
	}
	switch len(open) {
	case 1:
		return wrap(open[0][0], pitch), pitch - (open[0][1] - open[0][0]), nil
	case 0:
		return 0, 0, &Error{"sets", "one is closed whenever another is open", "less dwell, or sets that open nearer together", ErrNeverOpen}
	}
	return 0, 0, &Error{"sets", fmt.Sprintf("open together %d times per lobe", len(open)), "sets that open nearer together", ErrOpenTwice}
}
