package firing

import (
	"math"
	"math/rand/v2"
	"testing"

	gonum "gonum.org/v1/gonum/mat"
)

// The ladder's steps against gonum's matrix exponential, on the matrices of
// real phases: open, closed, burning, clamped.
func TestLadderIsTheExponential(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for trial := 0; trial < 200; trial++ {
		var p plant
		p.ready(randomCase(rng))
		var ph phase
		p.make(&ph, pose(rng.IntN(int(poses))), float64(rng.IntN(3)-1), 0)
		x := vec{rng.NormFloat64(), rng.NormFloat64() * 0.02, rng.NormFloat64() * 100, rng.NormFloat64() * 1e4}
		h := ph.h * math.Pow(2, 12*rng.Float64())
		// exp of the matrix with its constant column.
		m := gonum.NewDense(5, 5, nil)
		for i := 0; i < 4; i++ {
			for j := 0; j < 4; j++ {
				m.Set(i, j, ph.a[4*i+j]*h*p.scale[i]/p.scale[j])
			}
			m.Set(i, 4, ph.b[i]*h*p.scale[i])
		}
		var e gonum.Dense
		e.Exp(m)
		got := ph.after(&x, h)
		size := 0.0
		for i := range x {
			size += math.Abs(x[i]*p.scale[i]) + math.Abs(got[i]*p.scale[i])
		}
		for i := 0; i < 4; i++ {
			want := e.At(i, 4)
			for j := 0; j < 4; j++ {
				want += e.At(i, j) * x[j] * p.scale[j]
			}
			if d := math.Abs(got[i]*p.scale[i] - want); d > 1e-8*size {
				t.Fatalf("trial %d, state %d after %g s: off by %g of %g", trial, i, h, d, size)
			}
		}
	}
}

// Rises, spans and turns of a cubic against looking at it closely.
func TestCubic(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const n = 4000
	for trial := 0; trial < 5000; trial++ {
		y0, s0, y1, s1 := rng.NormFloat64(), 4*rng.NormFloat64(), rng.NormFloat64(), 4*rng.NormFloat64()
		if trial%5 == 0 {
			y0 = 0
		}
		a, b, c := cubic(y0, s0, y1, s1)
		at := func(u float64) float64 { return y0 + u*(a+u*(b+u*c)) }
		if math.Abs(at(1)-y1) > 1e-12 || math.Abs(a+2*b+3*c-s1) > 1e-12 {
			t.Fatalf("cubic misses its end")
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		first := math.NaN()
		for i := 0; i <= n; i++ {
			y := at(float64(i) / n)
			lo, hi = min(lo, y), max(hi, y)
			if i > 0 && math.IsNaN(first) && y > 0 && at(float64(i-1)/n) <= 0 {
				first = float64(i) / n
			}
		}
		glo, ghi := span(y0, s0, y1, s1)
		if glo > lo+1e-12 || ghi < hi-1e-12 || glo < lo-1e-4 || ghi > hi+1e-4 {
			t.Fatalf("span %g %g, seen %g %g", glo, ghi, lo, hi)
		}
		u, ok := rises(y0, s0, y1, s1, 1e-12)
		switch {
		case y0 > 0:
			continue // beyond it already
		case ok && (math.IsNaN(first) || math.Abs(u-first) > 2.0/n) && !(u == 0 && y0 == 0):
			t.Fatalf("rises at %g, seen at %g: %g %g %g %g", u, first, y0, s0, y1, s1)
		case !ok && !math.IsNaN(first) && hi > 1e-6:
			t.Fatalf("does not rise, seen at %g: %g %g %g %g", first, y0, s0, y1, s1)
		}
	}
}
