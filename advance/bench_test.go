package advance

import (
	"math/rand/v2"
	"testing"
)

func BenchmarkEstimateFourteenPoints(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	opt := EstimateOptions{EstimateInitial: true, InitialCrank: 8, InitialPM: 8}
	points := read(truth(Usual(), opt, r), 1, r)
	for b.Loop() {
		if _, err := Estimate(Usual(), points, opt); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCurve(b *testing.B) {
	m := Usual()
	rpm := make([]float64, 50)
	for i := range rpm {
		rpm[i] = 50 * float64(i)
	}
	for b.Loop() {
		m.Curve(rpm)
	}
}
