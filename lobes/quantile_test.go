package lobes

import (
	"math"
	"testing"
)

// Table values: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2
// (Student's t) and 1.3.6.7.4 (chi-squared), to their last figure.
func TestTables(t *testing.T) {
	for _, x := range []struct{ p, nu, want float64 }{
		{0.975, 1, 12.706}, {0.975, 2, 4.303}, {0.975, 5, 2.571}, {0.975, 10, 2.228}, {0.975, 30, 2.042}, {0.975, 100, 1.984},
		{0.995, 5, 4.032}, {0.999, 10, 4.144}, {0.95, 20, 1.725}, {0.9, 3, 1.638},
	} {
		near(t, "student", student(x.p, x.nu), x.want, 6e-4)
	}
	near(t, "student, many", student(0.975, 1e6), z95, 1e-5)
	for _, x := range []struct{ p, nu, want float64 }{
		{0.975, 1, 5.024}, {0.975, 5, 12.833}, {0.975, 10, 20.483}, {0.975, 30, 46.979}, {0.975, 100, 129.561},
		{0.025, 1, 0.001}, {0.025, 5, 0.831}, {0.025, 10, 3.247}, {0.025, 30, 16.791}, {0.025, 100, 74.222},
	} {
		near(t, "chi-squared", chi2(x.p, x.nu), x.want, 6e-4)
	}
}

func TestRice(t *testing.T) {
	// With no mean it is Rayleigh's: 1-exp(-r²/2).
	for _, r := range []float64{0.1, 1, 2, 4} {
		near(t, "Rayleigh", rice(r, 0), 1-math.Exp(-r*r/2), 1e-6)
	}
	// The mean's square and the second moment: E r² = 2 + a².
	for _, a := range []float64{0.5, 2, 6} {
		sum := 0.0
		const h = 0.01
		for r := h / 2; r < a+9; r += h {
			sum += 2 * r * (1 - rice(r, a)) * h // E r² = integral of 2r P(R>r)
		}
		near(t, "second moment", sum, 2+a*a, 1e-3*(2+a*a))
	}
	// Far out it is normal.
	lo, hi := length(39.9)
	near(t, "lo", lo, 39.9-z95, 0.02)
	near(t, "hi", hi, 39.9+z95, 0.02)
	if lo, hi := length(0); lo != 0 || hi < 1 {
		t.Errorf("length 0: %g to %g", lo, hi)
	}
}

// TestRounded: angles rounded to the nearest division err by accuracy/1.96, a
// standard deviation of division/√12 (JCGM 100:2008, 4.3.7).
func TestRounded(t *testing.T) {
	var ss float64
	const n = 100000
	for i := range n {
		x := float64(i) * 0.6180339887 * 7
		e := math.Round(x/2)*2 - x
		ss += e * e / n
	}
	near(t, "rounding", math.Sqrt(ss), Rounded(2)/z95, 1e-3)
}
