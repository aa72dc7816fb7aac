package circuit

import "math"

// kernel is the exact answer of x' = F x + g over a time t. With the constant carried
// along as a last state of 1, z = (x, 1), z' = Fz z, it is z(t) = Φ z0 with
// Φ = exp(Fz t). Long times are made from short ones by doubling:
//
//	E(2h) = 2 E(h) + E(h)²          E = Φ - I, kept so that slow modes keep
//	                                their digits beside fast ones
//	S(2h) = S(h) + S(h) Φ(h)        S = ∫ Φ dt
//	X(2h) = X(h) + Φ(h) X(h) Φ(h)ᵀ  X = ∫ z zᵀ dt
//
// from h so short that a Taylor series (Φ, S) and Gauss-Legendre quadrature
// (X) are good to the last digit: ‖F‖ h <= 1/2 [scaling and squaring: C. Moler,
// C. Van Loan, "Nineteen dubious ways to compute the exponential of a matrix",
// SIAM Review 20, 1978; reference from memory].
type kernel struct {
	m            int
	e, s, t1, t2 []float64 // m*m
	z            []float64 // m
	terms        []float64 // of a Taylor series, m each
}

func newKernel(m int) *kernel {
	k := &kernel{m: m}
	for _, p := range []*[]float64{&k.e, &k.s, &k.t1, &k.t2} {
		*p = make([]float64, m*m)
	}
	k.z, k.terms = make([]float64, m), make([]float64, (taylorTerms+3)*m)
	return k
}

const (
	taylorTerms = 16
	shortStep   = 0.5
)

// rateNorm is the largest absolute row sum of the state block of Fz; the
// column of constants does not count, since it enters the series linearly.
func rateNorm(f []float64, m, states int) float64 {
	var most float64
	for i := 0; i < states; i++ {
		var sum float64
		for j := 0; j < states; j++ {
			sum += abs(f[i*m+j])
		}
		most = math.Max(most, sum)
	}
	return most
}

// halvings is how often t has to be halved for ‖F‖ t to be short.
func halvings(norm, t float64) int {
	if x := norm * t / shortStep; x > 1 {
		return int(math.Ceil(math.Log2(x)))
	}
	return 0
}

// series writes E and S for the short time h.
func (k *kernel) series(f []float64, h float64) {
	m := k.m
	// term = (F h)^j / j!; E sums them from 1, S sums h term/(j+1) from 0.
	term, next := k.t1, k.t2
	clear(term)
	clear(k.e)
	clear(k.s)
	for i := 0; i < m; i++ {
		term[i*m+i] = 1
		k.s[i*m+i] = h
	}
	for j := 1; j <= taylorTerms; j++ {
		mul(next, term, f, m)
		c := h / float64(j)
		var most float64
		for i := range next {
			next[i] *= c
			k.e[i] += next[i]
			k.s[i] += next[i] * h / float64(j+1)
			most = math.Max(most, abs(next[i]))
		}
		term, next = next, term
		if most == 0 {
			break
		}
	}
}

// exp writes E and S for time t.
func (k *kernel) exp(f []float64, states int, t float64) {
	n := halvings(rateNorm(f, k.m, states), t)
	k.series(f, math.Ldexp(t, -n))
	for ; n > 0; n-- {
		k.double()
	}
}

func (k *kernel) double() {
	// S + S Φ = 2 S + S E
	mul(k.t1, k.s, k.e, k.m)
	for i := range k.s {
		k.s[i] += k.s[i] + k.t1[i]
	}
	mul(k.t1, k.e, k.e, k.m)
	for i := range k.e {
		k.e[i] += k.e[i] + k.t1[i]
	}
}

// Gauss-Legendre nodes and weights of order 8 on [0, 1].
var gauss = [8][2]float64{
	{0.019855071751231884, 0.050614268145188129}, {0.10166676129318664, 0.11119051722668724},
	{0.23723379504183550, 0.15685332293894364}, {0.40828267875217511, 0.18134189168918099},
	{0.59171732124782489, 0.18134189168918099}, {0.76276620495816450, 0.15685332293894364},
	{0.89833323870681336, 0.11119051722668724}, {0.98014492824876812, 0.050614268145188129},
}

// moments adds ∫ z zᵀ dt over time t from z0 to x (m*m).
func (k *kernel) moments(f []float64, states int, t float64, z0, x, scratch []float64) {
	m := k.m
	n := halvings(rateNorm(f, m, states), t)
	h := math.Ldexp(t, -n)
	clear(scratch)
	for _, q := range gauss {
		k.action(f, q[0]*h, z0, k.z)
		for i := 0; i < m; i++ {
			for j := 0; j < m; j++ {
				scratch[i*m+j] += q[1] * h * k.z[i] * k.z[j]
			}
		}
	}
	k.series(f, h)
	for ; n > 0; n-- {
		// X + Φ X Φᵀ with Φ = I + E
		mulPlus(k.t1, k.e, scratch, m) // Φ X
		for i := 0; i < m; i++ {
			for j := 0; j < m; j++ {
				sum := k.t1[i*m+j]
				for l := 0; l < m; l++ {
					sum += k.t1[i*m+l] * k.e[j*m+l]
				}
				k.t2[i*m+j] = sum
			}
		}
		for i := range scratch {
			scratch[i] += k.t2[i]
		}
		mul(k.t1, k.e, k.e, m)
		for i := range k.e {
			k.e[i] += k.e[i] + k.t1[i]
		}
	}
	for i := range scratch {
		x[i] += scratch[i]
	}
}

// taylor writes the terms (F t)^k z / k! of exp(F t) z for a short time t and
// returns how many there are.
func (k *kernel) taylor(f []float64, t float64, z []float64) int {
	m := k.m
	copy(k.terms, z)
	for j := 1; j <= taylorTerms+2; j++ {
		c := t / float64(j)
		last, term := k.terms[(j-1)*m:j*m], k.terms[j*m:j*m+m]
		any := false
		for i := range term {
			var s float64
			for l, x := range f[i*m : i*m+m] {
				s += x * last[l]
			}
			term[i] = s * c
			any = any || s != 0
		}
		if !any {
			return j
		}
	}
	return taylorTerms + 3
}

// action writes exp(F t) z for a short time t by its series.
func (k *kernel) action(f []float64, t float64, z, out []float64) {
	m := k.m
	n := k.taylor(f, t, z)
	copy(out, k.terms[(n-1)*m:n*m])
	for j := n - 2; j >= 0; j-- {
		for i, x := range k.terms[j*m : j*m+m] {
			out[i] += x
		}
	}
}

// apply writes z + E z.
func (k *kernel) apply(z, out []float64) {
	m := k.m
	for i := 0; i < m; i++ {
		s := z[i]
		for j := 0; j < m; j++ {
			s += k.e[i*m+j] * z[j]
		}
		out[i] = s
	}
}

func mul(c, a, b []float64, m int) {
	for i := 0; i < m; i++ {
		for j := 0; j < m; j++ {
			var s float64
			for l := 0; l < m; l++ {
				s += a[i*m+l] * b[l*m+j]
			}
			c[i*m+j] = s
		}
	}
}

// mulPlus writes (I + e) b.
func mulPlus(c, e, b []float64, m int) {
	for i := 0; i < m; i++ {
		for j := 0; j < m; j++ {
			s := b[i*m+j]
			for l := 0; l < m; l++ {
				s += e[i*m+l] * b[l*m+j]
			}
			c[i*m+j] = s
		}
	}
}

// phis are the functions φ1(x) = (eˣ-1)/x, φ2(x) = (φ1(x)-1)/x and
// φ3(x) = (φ2(x)-1/2)/x, of which the integrals of eˣ are made, and eˣ - 1.
type phis struct{ x, expm1, p1, p2, p3 float64 }

// ofPhi3 holds 1/3!, 1/4!, ...: φ3(x) = Σ xʲ/(j+3)!.
var ofPhi3 = func() (c [16]float64) {
	f := 2.0
	for j := range c {
		f *= float64(j + 3)
		c[j] = 1 / f
	}
	return c
}()

// seriesPhi3 returns φ3(x) for |x| <= 1/2, or with all terms for |x| <= 1.
func seriesPhi3(x float64, terms int) float64 {
	s := 0.0
	for j := terms - 1; j >= 0; j-- {
		s = s*x + ofPhi3[j]
	}
	return s
}

func newPhis(x float64) phis {
	if abs(x) <= 0.5 {
		p := phis{x: x, p3: seriesPhi3(x, 12)}
		p.p2 = 0.5 + x*p.p3
		p.p1 = 1 + x*p.p2
		p.expm1 = x * p.p1
		return p
	}
	p := phis{x: x, expm1: math.Expm1(x)}
	p.p1 = p.expm1 / x
	p.p2 = (p.p1 - 1) / x
	p.p3 = (p.p2 - 0.5) / x
	return p
}
