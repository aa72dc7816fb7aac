package circuit

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Our doubling against gonum's Padé exponential, and the integrals against
// fine Simpson sums of it.
func TestKernelAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for trial := 0; trial < 60; trial++ {
		m := 2 + rng.IntN(4)
		n := m - 1
		f := make([]float64, m*m)
		for i := 0; i < n; i++ {
			for j := 0; j < m; j++ {
				f[i*m+j] = rng.NormFloat64()
			}
			f[i*m+i] -= 2 + 40*rng.Float64()
		}
		tau := math.Exp(rng.NormFloat64() - 1)
		k := newKernel(m)
		k.exp(f, n, tau)
		var want mat.Dense
		var ft mat.Dense
		ft.Scale(tau, mat.NewDense(m, m, append([]float64(nil), f...)))
		want.Exp(&ft)
		for i := 0; i < m; i++ {
			for j := 0; j < m; j++ {
				got := k.e[i*m+j]
				if i == j {
					got++
				}
				if math.Abs(got-want.At(i, j)) > 1e-11*(1+math.Abs(want.At(i, j))) {
					t.Fatalf("trial %d: Φ[%d,%d] = %g, gonum %g", trial, i, j, got, want.At(i, j))
				}
			}
		}
		z0 := make([]float64, m)
		for i := range z0 {
			z0[i] = rng.NormFloat64()
		}
		z0[n] = 1
		x, sum := make([]float64, m*m), make([]float64, m*m)
		sumS := make([]float64, m)
		k.moments(f, n, tau, z0, x, make([]float64, m*m))
		const steps = 4000
		q := newKernel(m)
		q.exp(f, n, tau/steps)
		z, zn := append([]float64(nil), z0...), make([]float64, m)
		for st := 0; st <= steps; st++ {
			w := 2.0
			if st%2 == 1 {
				w = 4
			}
			if st == 0 || st == steps {
				w = 1
			}
			w *= tau / steps / 3
			for i := 0; i < m; i++ {
				sumS[i] += w * z[i]
				for j := 0; j < m; j++ {
					sum[i*m+j] += w * z[i] * z[j]
				}
			}
			q.apply(z, zn)
			z, zn = zn, z
		}
		k.exp(f, n, tau)
		for i := 0; i < m; i++ {
			var s float64
			for j := 0; j < m; j++ {
				s += k.s[i*m+j] * z0[j]
				if d := math.Abs(x[i*m+j] - sum[i*m+j]); d > 2e-7*(1+math.Abs(sum[i*m+j])) {
					t.Fatalf("trial %d: X[%d,%d] = %g, Simpson %g", trial, i, j, x[i*m+j], sum[i*m+j])
				}
			}
			if d := math.Abs(s - sumS[i]); d > 2e-7*(1+math.Abs(sumS[i])) {
				t.Fatalf("trial %d: S z0 [%d] = %g, Simpson %g", trial, i, s, sumS[i])
			}
		}
	}
}

// Slow modes beside very fast ones keep their digits.
func TestKernelStiff(t *testing.T) {
	f := []float64{-1e9, 0, 1e9, 0, -100, 200, 0, 0, 0}
	k := newKernel(3)
	k.exp(f, 2, 8e-3)
	z := []float64{0, 0, 1}
	out := make([]float64, 3)
	k.apply(z, out)
	near(t, "fast", out[0], 1, 1e-12)
	near(t, "slow", out[1], -2*math.Expm1(-0.8), 1e-12)
}
