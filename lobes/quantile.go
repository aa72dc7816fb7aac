package lobes

import "math"

const z95 = 1.959963984540054 // 97.5 % point of the normal distribution

// studentCDF is the chance that Student's t with nu degrees of freedom lies
// below t >= 0: 1 - I_x(nu/2, 1/2)/2, x = nu/(nu+t²).
func studentCDF(t, nu float64) float64 {
	return 1 - betaInc(nu/(nu+t*t), nu/2, 0.5)/2
}

// student is the point below which Student's t lies with chance p in (0.5, 1).
func student(p, nu float64) float64 {
	lo, hi := 0.0, 1.0
	for studentCDF(hi, nu) < p && hi < 1e6 {
		hi *= 2
	}
	return bisect(lo, hi, func(t float64) bool { return studentCDF(t, nu) < p })
}

// betaInc is the regularised incomplete beta function, by its continued
// fraction (NIST Digital Library of Mathematical Functions 8.17.22).
func betaInc(x, a, b float64) float64 {
	if x <= 0 {
		return 0
	}
	if x >= 1 {
		return 1
	}
	if x > (a+1)/(a+b+2) {
		return 1 - betaInc(1-x, b, a)
	}
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	front := math.Exp(lab-la-lb+a*math.Log(x)+b*math.Log1p(-x)) / a
	const tiny = 1e-300
	c, d, f := 1.0, 0.0, 1.0
	for i := range 400 {
		m := float64(i / 2)
		var num float64
		switch {
		case i == 0:
			num = 1
		case i%2 == 0:
			num = m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		default:
			num = -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		}
		d = 1 + num*d
		if math.Abs(d) < tiny {
			d = tiny
		}
		d = 1 / d
		c = 1 + num/c
		if math.Abs(c) < tiny {
			c = tiny
		}
		f *= c * d
		if math.Abs(1-c*d) < 1e-15 {
			break
		}
	}
	return front * (f - 1)
}

// chi2 is the point below which chi-squared with nu degrees of freedom lies
// with chance p: where the regularised incomplete gamma function P(nu/2, x/2)
// is p.
func chi2(p, nu float64) float64 {
	hi := nu
	for gammaInc(hi/2, nu/2) < p && hi < 1e9 {
		hi *= 2
	}
	return bisect(0, hi, func(x float64) bool { return gammaInc(x/2, nu/2) < p })
}

// gammaInc is P(a, x), by its series (NIST Digital Library of Mathematical
// Functions 8.7.1), whose terms are all positive.
func gammaInc(x, a float64) float64 {
	if x <= 0 {
		return 0
	}
	if x > a+40+12*math.Sqrt(a) { // far out
		return 1
	}
	la, _ := math.Lgamma(a + 1)
	term := 1.0
	sum := term
	for k := 1.0; term > 1e-16*sum && k < 1e7; k++ {
		term *= x / (a + k)
		sum += term
	}
	return min(1, sum*math.Exp(a*math.Log(x)-x-la))
}

// rice is the chance that the length of a vector of two normals of standard
// deviation 1 lies below r, when its mean has length a:
// the integral from 0 to r of x exp(-(x²+a²)/2) I0(a x).
func rice(r, a float64) float64 {
	lo := max(0, min(a-9, r))
	const steps = 160
	h := (r - lo) / steps
	sum := 0.0
	for i := range steps + 1 {
		x := lo + float64(i)*h
		w := 2.0
		switch {
		case i == 0 || i == steps:
			w = 1
		case i%2 == 1:
			w = 4
		}
		sum += w * x * math.Exp(-(x-a)*(x-a)/2) * besselI0e(a*x)
	}
	return min(1, sum*h/3)
}

// length is the 95 % interval of the length of a vector in the plane whose
// estimate has length r, both in standard deviations of one coordinate: those
// true lengths under which r is neither among the lowest nor among the highest
// 2.5 %. It is never narrowed to less than one standard deviation's reach.
func length(r float64) (lo, hi float64) {
	if r > 40 { // a straight line by then
		return r - z95, r + z95
	}
	if rice(r, 0) > 0.975 {
		lo = bisect(0, r, func(a float64) bool { return rice(r, a) > 0.975 })
	}
	hi = bisect(0, r+6, func(a float64) bool { return rice(r, a) > 0.025 })
	return lo, max(hi, 1)
}

// besselI0e is exp(-x) I0(x) for x >= 0: Abramowitz and Stegun 9.8.1 and
// 9.8.2, within 2e-7.
func besselI0e(x float64) float64 {
	if x <= 3.75 {
		t := x / 3.75
		t *= t
		return math.Exp(-x) * (1 + t*(3.5156229+t*(3.0899424+t*(1.2067492+t*(0.2659732+t*(0.0360768+t*0.0045813))))))
	}
	t := 3.75 / x
	return (0.39894228 + t*(0.01328592+t*(0.00225319+t*(-0.00157565+t*(0.00916281+t*(-0.02057706+t*(0.02635537+t*(-0.01647633+t*0.00392377)))))))) / math.Sqrt(x)
}

// bisect is where below, true at lo, turns false.
func bisect(lo, hi float64, below func(float64) bool) float64 {
	for range 60 {
		mid := (lo + hi) / 2
		if mid == lo || mid == hi {
			break
		}
		if below(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
