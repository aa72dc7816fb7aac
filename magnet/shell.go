package magnet

import "math"

// Gauss-Legendre points and weights on (-1, 1): the positive half of twelve
// points, and of two (Abramowitz and Stegun 1964, table 25.4).
var (
	gauss12x = [6]float64{0.1252334085114689, 0.3678314989981802, 0.5873179542866175, 0.7699026741943047, 0.9041172563704749, 0.9815606342467193}
	gauss12w = [6]float64{0.2491470458134028, 0.2334925365383548, 0.2031674267230659, 0.1600783285433462, 0.1069393259953184, 0.0471753363865118}
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
func shell(m, a, r, lo, hi, z float64, wantZ bool) (br, bz float64) {
	d := r - a
	u0, u1 := z-hi, z-lo
	// Beyond `far` the charge is felt less than a part in a million:
	// there m*xi exceeds that straight across by 14.
	q := d * d / (2 * a * r)
	xi := math.Log1p(q+math.Sqrt(q*(q+2))) + 14/m
	far := math.Inf(1)
	if xi < 3 {
		far = math.Sqrt(2 * a * r * (math.Cosh(xi) - 1))
	}
	if s := math.Max(u0, -far); s < math.Min(u1, far) {
		br = radial(m, a, r, s, math.Min(u1, far))
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
func radial(m, a, r, u0, u1 float64) float64 {
	d := r - a
	part := func(u float64) float64 { // from 0 to u > 0
		half := math.Asinh(u/d) / 2
		sum := 0.0
		for i, x := range gauss12x {
			sum += gauss12w[i] * (across(m, a, r, d, half*(1-x)) + across(m, a, r, d, half*(1+x)))
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
