package magnet

import "math"

// besselK returns the modified Bessel functions of the second kind K0 and K1
// at x > 0, by the polynomials of Abramowitz and Stegun, Handbook of
// Mathematical Functions (1964), 9.8.1, 9.8.3 and 9.8.5 to 9.8.8: within a
// part in four million.
func besselK(x float64) (k0, k1 float64) {
	if x <= 2 {
		t := x / 3.75
		t *= t
		i0 := 1 + t*(3.5156229+t*(3.0899424+t*(1.2067492+t*(0.2659732+t*(0.0360768+t*0.0045813)))))
		i1 := x * (0.5 + t*(0.87890594+t*(0.51498869+t*(0.15084934+t*(0.02658733+t*(0.00301532+t*0.00032411))))))
		l := math.Log(x / 2)
		y := x * x / 4
		k0 = -l*i0 - 0.57721566 + y*(0.42278420+y*(0.23069756+y*(0.03488590+y*(0.00262698+y*(0.00010750+y*0.00000740)))))
		k1 = l*i1 + (1+y*(0.15443144+y*(-0.67278579+y*(-0.18156897+y*(-0.01919402+y*(-0.00110404-y*0.00004686))))))/x
		return k0, k1
	}
	if x > 700 {
		return 0, 0
	}
	y := 2 / x
	e := math.Exp(-x) / math.Sqrt(x)
	k0 = e * (1.25331414 + y*(-0.07832358+y*(0.02189568+y*(-0.01062446+y*(0.00587872+y*(-0.00251540+y*0.00053208))))))
	k1 = e * (1.25331414 + y*(0.23498619+y*(-0.03655620+y*(0.01504268+y*(-0.00780353+y*(0.00325614-y*0.00068245))))))
	return k0, k1
}

// toroidal returns Q_(m-1/2)(1+q), the Legendre function of the second kind of
// half-integer degree (the toroidal function), and its derivative by its
// argument, for q > 0 and m >= 1. With cosh(xi) = 1+q,
//
//	Q = sqrt(xi/sinh xi) (K0(m xi) - (coth xi - 1/xi) K1(m xi)/(8m) + ...)
//
// the uniform expansion of large degree (F. W. J. Olver, Asymptotics and
// Special Functions, 1974, chapter 12; its first term is 14.15(iii) of the NIST
// Digital Library of Mathematical Functions), worked to the second term here.
// It is within 1 %/m for q up to a half, far closer near the ring.
func toroidal(m, q float64) (f, df float64) {
	sinh := math.Sqrt(q * (q + 2))
	xi := math.Log1p(q + sinh)
	l, dl := xi/3-xi*xi*xi/45, 1.0/3-xi*xi/15
	if xi > 0.05 {
		l = (1+q)/sinh - 1/xi
		dl = 1/(xi*xi) - 1/(sinh*sinh)
	}
	k0, k1 := besselK(m * xi)
	a := math.Sqrt(xi / sinh)
	c := l / (8 * m)
	g := k0 - c*k1
	dg := -m*k1 - dl/(8*m)*k1 + c*(m*k0+k1/xi)
	return a * g, a * (dg - l/2*g) / sinh
}
