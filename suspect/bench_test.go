package suspect_test

import (
	"testing"

	"dwellwright/evidence"
	"dwellwright/suspect"
)

// BenchmarkPrepare is the demo car's bank: every fault alone, and with pairs;
// a reading taken, and the next one chosen.
func BenchmarkPrepare(b *testing.B) {
	c := demo(b)
	for _, x := range []struct {
		name  string
		pairs int
	}{{"singles", -1}, {"200 pairs", 200}} {
		var bank *suspect.Bank
		b.Run(x.name, func(b *testing.B) {
			for b.Loop() {
				var err error
				if bank, err = suspect.Prepare(c, suspect.Settings{Pairs: x.pairs, Seed: 1}); err != nil {
					b.Fatal(err)
				}
			}
		})
		k := bank.Open()
		b.Run(x.name+": a reading", func(b *testing.B) {
			for b.Loop() {
				if err := k.Take(suspect.Answer{Measure: "coil_feed_idle", Kind: evidence.Figure, Value: 8.4}); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(x.name+": the next", func(b *testing.B) {
			for b.Loop() {
				if _, err := k.Next(suspect.Situation{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
