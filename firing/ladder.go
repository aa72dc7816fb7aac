package firing

import "math"

// vec is the state of the network: magnetising branch of the primary (A),
// secondary (A), switch (V), secondary (V).
type vec [4]float64

const (
	i1 = iota
	i2
	v1
	v2
)

// mat is 4 by 4, row by row.
type mat [16]float64

func mul(d, a, b *mat) {
	for i := 0; i < 16; i += 4 {
		p, q, r, s := a[i], a[i+1], a[i+2], a[i+3]
		d[i] = p*b[0] + q*b[4] + r*b[8] + s*b[12]
		d[i+1] = p*b[1] + q*b[5] + r*b[9] + s*b[13]
		d[i+2] = p*b[2] + q*b[6] + r*b[10] + s*b[14]
		d[i+3] = p*b[3] + q*b[7] + r*b[11] + s*b[15]
	}
}

// apply gives m x + g.
func apply(m *mat, g, x *vec) vec {
	a, b, c, d := x[0], x[1], x[2], x[3]
	return vec{
		m[0]*a + m[1]*b + m[2]*c + m[3]*d + g[0],
		m[4]*a + m[5]*b + m[6]*c + m[7]*d + g[1],
		m[8]*a + m[9]*b + m[10]*c + m[11]*d + g[2],
		m[12]*a + m[13]*b + m[14]*c + m[15]*d + g[3],
	}
}

// levels is how many doublings of the least step a ladder has at most.
const levels = 40

// A ladder moves the state of x' = A x + b exactly through time: rung k by
// 2^k times the least step h. exp(A h) is a Taylor series where the norm of
// A h is small, and each rung is the square of the one below it.
type ladder struct {
	a    mat
	b    vec
	h    float64 // s, the lowest rung
	made int     // rungs made so far
	phi  [levels]mat
	add  [levels]vec
}

// small is the norm of A h at the lowest rung. The series ends at its ninth
// power: what is left is small^9/9! = 2e-10 of the state.
const small = 0.35

// set makes the lowest rung. scale is the square root of what turns the
// square of each state into energy; in those units the norm of A is about its
// fastest rate.
func (l *ladder) set(scale *vec) {
	norm := 0.0
	for i := 0; i < 4; i++ {
		sum := 0.0
		for j := 0; j < 4; j++ {
			sum += math.Abs(l.a[4*i+j]) * scale[i] / scale[j]
		}
		norm = max(norm, sum)
	}
	l.h = small / max(norm, 1e-3)
	var a, a2, t, u mat
	for i := range a {
		a[i] = l.a[i] * l.h
	}
	mul(&a2, &a, &a)
	// 1 + A + A²(1/2 + A/6 + A²(1/24 + A/120 + A²(1/720 + A/5040 + A²/40320)))
	poly(&t, &a, 1./720, 1./5040)
	for i := range t {
		t[i] += a2[i] / 40320
	}
	mul(&u, &a2, &t)
	poly(&t, &a, 1./24, 1./120)
	for i := range t {
		t[i] += u[i]
	}
	mul(&u, &a2, &t)
	poly(&t, &a, 1./2, 1./6)
	for i := range t {
		t[i] += u[i]
	}
	mul(&u, &a2, &t)
	poly(&t, &a, 1, 1)
	for i := range t {
		t[i] += u[i]
	}
	l.phi[0] = t
	l.add[0] = vec{}
	l.add[0] = l.nudged(&vec{}, l.h)
	l.made = 1
}

// poly sets d to p + q a.
func poly(d, a *mat, p, q float64) {
	for i := range d {
		d[i] = q * a[i]
	}
	d[0] += p
	d[5] += p
	d[10] += p
	d[15] += p
}

// long is how long a step of rung k is, s.
func (l *ladder) long(k int) float64 { return l.h * float64(uint64(1)<<k) }

// rung makes sure of rung k and returns k, or the highest there can be.
func (l *ladder) rung(k int) int {
	if k >= levels {
		k = levels - 1
	}
	for ; l.made <= k; l.made++ {
		n := l.made
		mul(&l.phi[n], &l.phi[n-1], &l.phi[n-1])
		l.add[n] = apply(&l.phi[n-1], &l.add[n-1], &l.add[n-1])
	}
	return k
}

// step returns the state one step of rung k later.
func (l *ladder) step(k int, x *vec) vec { return apply(&l.phi[k], &l.add[k], x) }

// rate is x'. Only those entries of A are used that a phase has.
func (l *ladder) rate(x *vec) vec {
	m, g := &l.a, &l.b
	a, b, c, d := x[0], x[1], x[2], x[3]
	return vec{
		m[0]*a + m[1]*b + m[2]*c + m[3]*d + g[0],
		m[4]*a + m[5]*b + m[6]*c + m[7]*d + g[1],
		m[8]*a + m[10]*c + g[2],
		m[13]*b + m[15]*d + g[3],
	}
}

// nudged returns the state t later, by the series; |t| at most about h.
func (l *ladder) nudged(x *vec, t float64) vec {
	last := 8
	switch r := math.Abs(t) / l.h; {
	case r < 1./256:
		last = 3
	case r < 1./16:
		last = 5
	case r < 1./4:
		last = 6
	case r < 1./2:
		last = 7
	}
	m := &l.a
	d := l.rate(x)
	p, q, r, s := d[0], d[1], d[2], d[3]
	y0, y1, y2, y3 := x[0], x[1], x[2], x[3]
	f := t
	for n := 2; ; n++ {
		y0 += f * p
		y1 += f * q
		y2 += f * r
		y3 += f * s
		if n > last {
			return vec{y0, y1, y2, y3}
		}
		p, q, r, s = m[0]*p+m[1]*q+m[2]*r+m[3]*s, m[4]*p+m[5]*q+m[6]*r+m[7]*s, m[8]*p+m[10]*r, m[13]*q+m[15]*s
		f *= t * inverse[n]
	}
}

// inverse is 1/n.
var inverse = [...]float64{2: 1. / 2, 3: 1. / 3, 4: 1. / 4, 5: 1. / 5, 6: 1. / 6, 7: 1. / 7, 8: 1. / 8}

// moved returns the state at the time to, counted from x0, of which the state
// x at the time from is known: by the series where that reaches.
func (l *ladder) moved(x0, x *vec, from, to float64) vec {
	if math.Abs(to-from) <= l.h {
		return l.nudged(x, to-from)
	}
	return l.after(x0, to)
}

// far takes as many steps of the highest rung as there are in t, by squaring
// on, and returns the state and what is left of t.
func (l *ladder) far(x *vec, t float64) (vec, float64) {
	m, g, y := l.phi[levels-1], l.add[levels-1], *x
	h := l.long(levels - 1)
	left := math.Mod(t, h)
	for n := (t - left) / h; n >= 1; n = math.Floor(n / 2) {
		if math.Mod(n, 2) == 1 {
			y = apply(&m, &g, &y)
		}
		g = apply(&m, &g, &g)
		var sq mat
		mul(&sq, &m, &m)
		m = sq
	}
	return y, left
}

// after returns the state t later, exactly: down the ladder, then a nudge.
func (l *ladder) after(x *vec, t float64) vec {
	y := *x
	if t <= 0 {
		return y
	}
	k := 0
	for h := l.h; 2*h <= t && k < levels-1; k++ {
		h *= 2
	}
	l.rung(k)
	h := l.long(k)
	if t >= 2*h {
		y, t = l.far(&y, t)
	}
	for ; k >= 0; k-- {
		if t >= h {
			y = l.step(k, &y)
			t -= h
		}
		h /= 2
	}
	if t > 0 {
		y = l.nudged(&y, t)
	}
	return y
}
