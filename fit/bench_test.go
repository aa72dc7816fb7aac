package fit_test

import (
	"testing"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/examples"
	"dwellwright/fit"
)

// BenchmarkFit is the whole fit of the demo car with 1,000 drawn cars, and one
// move tried on it.
func BenchmarkFit(b *testing.B) {
	c, err := car.Parse("demo", examples.Demo)
	if err != nil {
		b.Fatal(err)
	}
	f, err := fit.Compute(c, fit.Settings{Draws: 10, Seed: 1})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("1000", func(b *testing.B) {
		for b.Loop() {
			if _, err := fit.Compute(c, fit.Settings{Draws: 1000, Seed: 1}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("try", func(b *testing.B) {
		for b.Loop() {
			f.Try(distributor.Move{Housing: 3, Trigger: -5}, 2)
		}
	})
}
