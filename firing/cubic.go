package firing

import "math"

// The cubic on 0..1 with values y0, y1 and slopes s0, s1 at its ends.
func cubic(y0, s0, y1, s1 float64) (a, b, c float64) {
	return s0, 3*(y1-y0) - 2*s0 - s1, s0 + s1 - 2*(y1-y0)
}

// turns returns where in 0..1 the cubic is level, at most two places, in order.
func turns(a, b, c float64) (u [2]float64, n int) {
	keep := func(v float64) {
		if v > 0 && v < 1 {
			u[n] = v
			n++
		}
	}
	// a + 2 b u + 3 c u² = 0
	if math.Abs(3*c) < 1e-12*math.Abs(b) {
		if b != 0 {
			keep(-a / (2 * b))
		}
		return u, n
	}
	disc := b*b - 3*a*c
	if disc <= 0 {
		return u, 0
	}
	q := -(b + math.Copysign(math.Sqrt(disc), b))
	r1, r2 := q/(3*c), math.Inf(1)
	if q != 0 {
		r2 = a / q
	}
	if r2 < r1 {
		r1, r2 = r2, r1
	}
	keep(r1)
	keep(r2)
	return u, n
}

// hull is no less wide than the span of the cubic, and cheaper: that of the
// four points which draw it (Bézier's).
func hull(y0, s0, y1, s1 float64) (lo, hi float64) {
	p, q := y0+s0/3, y1-s1/3
	return min(y0, p, q, y1), max(y0, p, q, y1)
}

// above reports whether the cubic may come above top.
func above(y0, s0, y1, s1, top float64) bool {
	_, hi := hull(y0, s0, y1, s1)
	return hi > top
}

// span is the least and greatest value of the cubic.
func span(y0, s0, y1, s1 float64) (lo, hi float64) {
	lo, hi = min(y0, y1), max(y0, y1)
	if s0*s1 > 0 && s0*(y1-y0) > 0 && math.Abs(s0)+math.Abs(s1) <= 3*math.Abs(y1-y0) {
		return lo, hi // monotone
	}
	a, b, c := cubic(y0, s0, y1, s1)
	u, n := turns(a, b, c)
	for _, v := range u[:n] {
		y := y0 + v*(a+v*(b+v*c))
		lo, hi = min(lo, y), max(hi, y)
	}
	return lo, hi
}

// rises returns the first place in 0..1 where the cubic comes up to 0 from
// below. A value of up to tol at the start counts as being at 0 already: that
// is an event only if it rises from there.
func rises(y0, s0, y1, s1, tol float64) (float64, bool) {
	if _, hi := hull(y0, s0, y1, s1); hi < -tol {
		return 0, false
	}
	a, b, c := cubic(y0, s0, y1, s1)
	u, n := turns(a, b, c)
	at := func(v float64) float64 { return y0 + v*(a+v*(b+v*c)) }
	left := 0.0
	if y0 >= -tol {
		if s0 > 0 && (n == 0 || at(u[0]) > tol) && (y1 > tol || n > 0) {
			return 0, true
		}
		if n == 0 || y0 > tol && s0 >= 0 {
			return 0, y0 > tol && s0 >= 0
		}
		left = u[0] // it dips first
		if at(left) >= 0 {
			return 0, false
		}
	}
	for i := 0; i <= n; i++ {
		right := 1.0
		if i < n {
			right = u[i]
		}
		if right <= left {
			continue
		}
		if at(right) >= 0 {
			return root(y0, a, b, c, left, right), true
		}
		left = right
	}
	return 0, false
}

// root is where y0 + a v + b v² + c v³, rising from below 0 at l to above it
// at r, is 0.
func root(y0, a, b, c, l, r float64) float64 {
	at := func(v float64) float64 { return y0 + v*(a+v*(b+v*c)) }
	fl, fr := at(l), at(r)
	v := l
	if fr > fl {
		v = l - fl*(r-l)/(fr-fl)
	}
	for i := 0; i < 50; i++ {
		y := at(v)
		if y < 0 {
			l = v
		} else {
			r = v
		}
		next := (l + r) / 2
		if s := a + v*(2*b+v*3*c); s > 0 {
			if n := v - y/s; n > l && n < r {
				next = n
			}
		}
		if math.Abs(next-v) < 1e-13 {
			break
		}
		v = next
	}
	return v
}
