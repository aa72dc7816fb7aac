package suspect

import (
	"math"
	"math/rand/v2"
	"testing"

	"dwellwright/fault"
)

// Draws made nearer to where the weight is, with their weights, mean what draws
// made anywhere mean: the mean of any function of severities and car comes out.
// The function is a ridge as narrow as a reading makes it, on one car more than on
// the others, whose mean over the unit cube and the cars is known.
func TestNearerDrawsMeanTheSame(t *testing.T) {
	const cars, first, width = 40, 24, 0.03
	f := func(d *drawn) float64 {
		x := d.sizes[0].U[0] - 0.9
		y := math.Exp(-x * x / 2 / width / width)
		if d.car == 7 {
			y *= 5
		}
		return y
	}
	// ∫exp(-x²/2w²) from -0.9 to 0.1, and 44/40 for the one car.
	root := math.Sqrt2 * width
	exact := width * math.Sqrt(math.Pi/2) * (math.Erf(0.9/root) + math.Erf(0.1/root)) * 1.1
	var sum, square, plain, ess float64
	const runs = 400
	for run := range runs {
		rng := rand.New(rand.NewPCG(5, uint64(run)))
		n := &nearer{who: []int{0}, places: [][2]int{{0, 0}, {0, 3}}, cars: cars, rounds: []round{{n: first}}}
		for range first {
			d := drawn{car: rng.IntN(cars)}
			d.sizes[0] = fault.Severity{U: [4]float64{rng.Float64(), rng.Float64(), rng.Float64(), rng.Float64()}}
			n.drawn = append(n.drawn, d)
		}
		weigh := func() (mean, ess float64) {
			lw := n.logWeights()
			w, top, two := make([]float64, len(lw)), 0.0, 0.0
			for k := range lw {
				w[k] = math.Exp(lw[k]) * f(&n.drawn[k]) / float64(len(lw))
				top += w[k]
			}
			for k := range w {
				w[k] /= top
				two += w[k] * w[k]
			}
			n.further(w, nearerDraws, rng)
			return top, 1 / two
		}
		mean, _ := weigh()
		plain += math.Pow(mean/exact-1, 2) / runs
		for range 3 {
			mean, ess = weigh()
		}
		sum += mean / runs
		square += math.Pow(mean/exact-1, 2) / runs
	}
	t.Logf("mean %.5f, exactly %.5f; off by %.3f of it with %d draws anywhere, by %.3f after three times %d nearer, at last %.0f draws' worth",
		sum, exact, math.Sqrt(plain), first, math.Sqrt(square), nearerDraws, ess)
	if d := math.Abs(sum/exact - 1); d > 4*math.Sqrt(square/runs) {
		t.Errorf("mean off by %.4f of it, more than chance", d)
	}
	if square > plain/9 {
		t.Errorf("draws nearer by hardly help: off by %.3f, was %.3f", math.Sqrt(square), math.Sqrt(plain))
	}
}
