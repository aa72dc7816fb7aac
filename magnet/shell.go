package magnet

import "math"

// node is a point of Gauss-Legendre integration on (-1, 1) and its weight;
// its mirror image weighs the same.
type node struct{ x, w float64 }

// Rules of eight, six and four points (Abramowitz and Stegun 1964, table
// 25.4).
var (
	gauss8 = []node{
		{0.1834346424956498, 0.3626837833783620}, {0.5255324099163290, 0.3137066458778873},
		{0.7966664774136267, 0.2223810344533745}, {0.9602898564975363, 0.1012285362903763},
	}
	gauss6 = []node{{0.2386191860831969, 0.4679139345726910}, {0.6612093864662645, 0.3607615730481386}, {0.9324695142031521, 0.1713244923791704}}
	gauss4 = []node{{0.3399810435848563, 0.6521451548625461}, {0.8611363115940526, 0.3478548451374538}}
)

// gauss2 is where two Gauss-Legendre points lie on (-1, 1); each weighs 1.
const gauss2 = 0.5773502691896257

// nearest is the least distance at which a field is worked out (m): the
// surface itself is an edge of the solution.
const nearest = 2e-5

// shell is the field outside a cylinder of radius a, z from lo to hi, whose
// surface carries magnetic charge cos(m theta) (in tesla: mu0 times the charge
// per square metre), at radius r > a, height z and theta = 0. Its potential is
//
//	phi = 1/(2 pi) sqrt(a/r) * integral Q_(m-1/2)(1 + q) du,  q = ((r-a)^2 + u^2)/(2 a r)
//
// over u = z - z' from z-hi to z-lo: the charge's 1/(4 pi distance) integrated
// once round the cylinder. B = -grad phi. An endless cylinder gives
// br = (a/r)^(m+1)/2, bz = 0.
func shell(rule []node, m, a, r, lo, hi, z float64, wantZ bool) (br, bz float64) {
	d := r - a
	u0, u1 := z-hi, z-lo
	// Beyond far the charge is felt less than a part in 20,000: there m xi
	// exceeds that straight across by 10.
	q := d * d / (2 * a * r)
	xi := math.Log1p(q+math.Sqrt(q*(q+2))) + 10/m
	far := math.Inf(1)
	if xi < 3 {
		far = math.Sqrt(2 * a * r * (math.Cosh(xi) - 1))
	}
	if s := math.Max(u0, -far); s < math.Min(u1, far) {
		br = radial(rule, m, a, r, s, math.Min(u1, far))
	}
	if wantZ {
		f1, _ := toroidal(m, (d*d+u1*u1)/(2*a*r))
		f0, _ := toroidal(m, (d*d+u0*u0)/(2*a*r))
		bz = (f0 - f1) * math.Sqrt(a/r) / (2 * math.Pi)
	}
	return br, bz
}

// radial integrates a shell's radial field from u0 to u1. The substitution
// u = d sinh(s) spreads the peak at u = 0; parts on both sides of it are
// integrated each for itself, one part where they are alike.
func radial(rule []node, m, a, r, u0, u1 float64) float64 {
	d := r - a
	part := func(u float64) float64 { // from 0 to u > 0
		half := math.Asinh(u/d) / 2
		sum := 0.0
		for _, g := range rule {
			sum += g.w * (across(m, a, r, d, half*(1-g.x)) + across(m, a, r, d, half*(1+g.x)))
		}
		return sum * half
	}
	var sum float64
	switch {
	case u0 == -u1:
		sum = 2 * part(u1)
	default:
		sum = math.Copysign(part(math.Abs(u1)), u1) - math.Copysign(part(math.Abs(u0)), u0)
	}
	return sum * math.Sqrt(a/r) / (2 * math.Pi)
}

// across is the integrand of radial, with du = d cosh(s) ds in it.
func across(m, a, r, d, s float64) float64 {
	e := math.Exp(s)
	sinh, cosh := (e-1/e)/2, (e+1/e)/2
	u := d * sinh
	f, df := toroidal(m, (d*d+u*u)/(2*a*r))
	return (f/(2*r) - df*(r*r-a*a-u*u)/(2*r*r*a)) * d * cosh
}
