package curve_test

import (
	"testing"

	"dwellwright/car"
	"dwellwright/curve"
	"dwellwright/examples"
)

// BenchmarkCurve is the whole curve of the demo car: springs and stop from
// sixteen readings, the band, the builds of its kit.
func BenchmarkCurve(b *testing.B) {
	c, err := car.Parse("demo", examples.Demo)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := curve.Compute(c, curve.Settings{Draws: 1000, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
