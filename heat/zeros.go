package heat

import (
	"math"
	"slices"
)

// term is coef times exp(-rate t).
type term struct{ rate, coef float64 }

// zeros returns, rising, where in (0, end) a sum of exponentials with real
// rates changes its sign: all of them, found by Rolle's theorem and without a
// grid. With the slowest term's exponential divided out,
//
//	f(t) = c0 + c1 exp(-(r1-r0) t) + c2 exp(-(r2-r0) t) + …
//
// the derivative is a sum with one term less; between two of its zeros f is
// monotone and has at most one zero, which bisection finds.
func zeros(sum []term, end float64) []float64 {
	sum = slices.Clone(sum)
	slices.SortFunc(sum, func(a, b term) int {
		switch {
		case a.rate < b.rate:
			return -1
		case a.rate > b.rate:
			return 1
		}
		return 0
	})
	merged := sum[:0]
	for _, t := range sum {
		switch last := len(merged) - 1; {
		case t.coef == 0:
		case last >= 0 && merged[last].rate == t.rate:
			merged[last].coef += t.coef
		default:
			merged = append(merged, t)
		}
	}
	return signChanges(merged, end)
}

func signChanges(sum []term, end float64) []float64 {
	if len(sum) < 2 {
		return nil
	}
	slowest := sum[0].rate
	f := func(t float64) float64 {
		x := 0.0
		for _, s := range sum {
			x += s.coef * math.Exp(-(s.rate-slowest)*t)
		}
		return x
	}
	steeper := make([]term, len(sum)-1)
	for k, s := range sum[1:] {
		steeper[k] = term{s.rate, s.coef * (s.rate - slowest)}
	}
	var found []float64
	from, below := 0.0, f(0) < 0
	for _, to := range append(signChanges(steeper, end), end) {
		if f(to) < 0 != below {
			found = append(found, bisect(from, to, func(t float64) bool { return f(t) < 0 == below }))
			below = !below
		}
		from = to
	}
	return found
}

// bisect returns where stays turns from true to false between from and to.
func bisect(from, to float64, stays func(float64) bool) float64 {
	for range 200 {
		mid := from + (to-from)/2
		if mid <= from || mid >= to {
			break
		}
		if stays(mid) {
			from = mid
		} else {
			to = mid
		}
	}
	return to
}
