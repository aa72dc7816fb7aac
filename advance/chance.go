package advance

import (
	"math"
	"slices"
)

// quantile of sorted x, in a straight line between neighbours. Draw i of n
// counts as the i/(n+1) quantile: the next draw then falls below with just that
// chance.
func quantile(sorted []float64, q float64) float64 {
	n := len(sorted)
	at := min(max(q*float64(n+1)-1, 0), float64(n-1))
	i := min(int(at), n-1)
	if i == n-1 {
		return sorted[i]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// figure is the middle and the intervals of draws, of which there is at least
// one.
func figure(draws []float64) Fig {
	x := slices.Clone(draws)
	slices.Sort(x)
	return Fig{
		Mid:  quantile(x, 0.5),
		Lo90: quantile(x, 0.05), Hi90: quantile(x, 0.95),
		Lo95: quantile(x, 0.025), Hi95: quantile(x, 0.975),
	}
}

func given(x float64) Fig {
	return Fig{Mid: x, Lo90: x, Hi90: x, Lo95: x, Hi95: x, Known: true, Given: true}
}

// beyond is the chance that chi-square of k degrees of freedom is x or more:
// the upper incomplete gamma function Q(k/2, x/2), by its series or its
// continued fraction (Abramowitz and Stegun, Handbook of Mathematical
// Functions, 6.5.29 and 6.5.31).
func beyond(x, k float64) float64 {
	a, x := k/2, x/2
	if !(x > 0) || !(a > 0) {
		return 1
	}
	if math.IsInf(x, 1) {
		return 0
	}
	lg, _ := math.Lgamma(a)
	front := math.Exp(a*math.Log(x) - x - lg)
	if x < a+1 {
		term := 1 / a
		sum := term
		for n := 1.0; n < 5000; n++ {
			term *= x / (a + n)
			sum += term
			if term < sum*1e-15 {
				break
			}
		}
		return min(max(1-front*sum, 0), 1)
	}
	const tiny = 1e-300
	b := x + 1 - a
	c, d := 1/tiny, 1/b
	h := d
	for n := 1.0; n < 5000; n++ {
		an := -n * (n - a)
		b += 2
		d = 1 / nonzero(an*d+b, tiny)
		c = nonzero(b+an/c, tiny)
		h *= d * c
		if math.Abs(d*c-1) < 1e-15 {
			break
		}
	}
	return min(max(front*h, 0), 1)
}

func nonzero(x, tiny float64) float64 {
	if math.Abs(x) < tiny {
		return tiny
	}
	return x
}
