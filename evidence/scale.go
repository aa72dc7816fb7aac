package evidence

import "math"

// half95 is how many standard deviations a 95 % half-width of a Gaussian is.
const half95 = 1.959963984540054

// A scale turns a figure y into z, counted in instrument standard deviations:
// dz/dy = 1/s(y) with s(y) = a + r|y|, so
//
//	z = sign(y) ln(1 + r|y|/a) / r,    z = y/a for r = 0,
//
// and an instrument's error has the same width 1 everywhere. A resistance read
// to 5 % over four decades becomes its logarithm, a voltage read to 20 mV stays
// as it is.
type scale struct {
	a, r     float64 // standard deviation a + r|y|
	low, top float64 // z beyond which nothing is told apart
	mid, w   float64 // middle and half-width of the wide range in z
}

func (c *Channel) scale() scale {
	s := scale{a: c.Abs / half95, r: c.Rel / half95}
	lo, hi := s.free(c.Low), s.free(c.High)
	s.mid, s.w = (lo+hi)/2, max(1, (hi-lo)/2) // a range narrower than the instrument is none
	s.low, s.top = lo-2*s.w, hi+2*s.w
	return s
}

// free is y in instrument widths, at most 1e150 of them: whatever is typed, its
// square and the difference of two such are figures.
func (s *scale) free(y float64) float64 {
	const most = 1e150
	x := math.Abs(y)
	if s.r < 1e-9 {
		x /= s.a
	} else {
		x = math.Log1p(s.r*x/s.a) / s.r
	}
	return math.Copysign(min(x, most), y)
}

// z is y in instrument widths, held inside what is told apart. NaN stays NaN.
func (s *scale) z(y float64) float64 {
	z := s.free(y)
	if z < s.low {
		return s.low
	}
	if z > s.top {
		return s.top
	}
	return z
}

// y is the figure at z.
func (s *scale) y(z float64) float64 {
	x := math.Abs(z)
	if s.r < 1e-9 {
		x *= s.a
	} else {
		x = s.a * math.Expm1(s.r*x) / s.r
	}
	return math.Copysign(x, z)
}

// sd is the instrument's standard deviation at y, in the unit of y.
func (s *scale) sd(y float64) float64 { return s.a + s.r*math.Abs(y) }

// broad is the density in z of a figure about which nothing is known: a Cauchy
// density, half of it in the channel's wide range, its tails too thick to ever
// exclude a figure.
func (s *scale) broad(z float64) float64 {
	x := (z - s.mid) / s.w
	return 1 / (math.Pi * s.w * (1 + x*x))
}

// broadBelow is the share of broad below z.
func (s *scale) broadBelow(z float64) float64 {
	return 0.5 + math.Atan((z-s.mid)/s.w)/math.Pi
}
