package suspect_test

import (
	"fmt"
	"runtime"
	"testing"

	"dwellwright/evidence"
	"dwellwright/suspect"
)

// held is the memory in use, MB.
func held() float64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc) / 1e6
}

// BenchmarkPrepare is the demo car's bank with fewer and all faults, fewer and
// more draws, no pairs of faults and many: made, a reading taken, the next one
// chosen; with the memory that it holds once a case is open.
func BenchmarkPrepare(b *testing.B) {
	c := demo(b)
	all, err := suspect.Prepare(c, suspect.Settings{Seed: 1})
	if err != nil {
		b.Fatal(err)
	}
	for _, x := range []struct{ faults, draws, pairs int }{
		{30, 22, 0}, {60, 22, 0}, {len(all.Faults), 11, 0}, {len(all.Faults), 22, 0}, {len(all.Faults), 44, 0},
		{60, 22, 200}, {60, 22, 400}, {60, 22, 2000}, {len(all.Faults), 22, 200},
	} {
		name := fmt.Sprintf("%d faults %d draws %d pairs", x.faults, x.draws, x.pairs)
		before := held()
		var bank *suspect.Bank
		prepare := func() {
			var err error
			if bank, err = suspect.Prepare(c, suspect.Settings{Draws: x.draws, Seed: 1}.OfMost(x.faults)); err == nil && x.pairs > 0 {
				bank, err = bank.WithPairs(x.pairs, nil)
			}
			if err != nil {
				b.Fatal(err)
			}
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				prepare()
			}
		})
		if bank == nil {
			continue // another was asked for
		}
		k := bank.Open()
		take := func() {
			if err := k.Take(suspect.Answer{Measure: "coil_feed_idle", Kind: evidence.Figure, Value: 8.4}); err != nil {
				b.Fatal(err)
			}
		}
		take()
		b.Run(name+": a reading", func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				k = bank.Open()
				b.StartTimer()
				take()
			}
			b.ReportMetric(held()-before, "MB")
		})
		b.Run(name+": the next", func(b *testing.B) {
			for b.Loop() {
				if _, err := k.Next(suspect.Situation{}); err != nil {
					b.Fatal(err)
				}
			}
		})
		runtime.KeepAlive(k)
	}
}
