package evidence

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// workshopModel is a catalogue of the size of a car's: 64 single faults, 300 pairs,
// 48 drawn cars, 45 channels. A fault bends a third of the readings.
func workshopModel(singles, pairs, draws, channels int) Model {
	rng := rand.New(rand.NewPCG(11, 12))
	m := Model{Healthy: "healthy", Unknown: Unknown{LogPrior: math.Log(2)}}
	for i := range channels {
		c := Channel{ID: fmt.Sprint("c", i), Abs: 0.05, Rel: 0.01, Low: -1, High: 15, Minutes: 1 + float64(i%5), Setup: []string{"", "key_on", "running"}[i%3], SetupMinutes: 2}
		if i%5 == 4 {
			c.YesNo = true
		}
		m.Channels = append(m.Channels, c)
	}
	base, load := make([][]float64, draws), make([][]float64, channels)
	for k := range base {
		base[k] = []float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
	}
	for c := range load {
		load[c] = []float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
	}
	effect := make([][]float64, singles+1)
	sever := make([][]float64, singles+1)
	for f := range effect {
		effect[f], sever[f] = make([]float64, channels), make([]float64, draws)
		for c := range channels {
			if f > 0 && rng.Float64() < 0.33 {
				effect[f][c] = 2 * rng.NormFloat64()
			}
		}
		for k := range draws {
			sever[f][k] = 0.3 + rng.Float64()
		}
	}
	predict := func(fs ...int) [][]float64 {
		out := make([][]float64, draws)
		for k := range out {
			out[k] = make([]float64, channels)
			for c := range channels {
				x := 8.0
				for j := range 4 {
					x += 0.1 * load[c][j] * base[k][j]
				}
				for _, f := range fs {
					x += effect[f][c] * sever[f][k]
				}
				if m.Channels[c].YesNo {
					x = 1 / (1 + math.Exp(-(x-8)*3))
				}
				out[k][c] = x
			}
		}
		return out
	}
	m.Hypotheses = append(m.Hypotheses, Hypothesis{ID: "healthy", LogPrior: math.Log(5), Draws: predict(0)})
	for f := 1; f <= singles; f++ {
		r := fmt.Sprint("r", f*2/3)
		if len(m.Remedies) == 0 || m.Remedies[len(m.Remedies)-1].ID != r {
			m.Remedies = append(m.Remedies, Remedy{r, 5 + float64(f%7)*8})
		}
		m.Hypotheses = append(m.Hypotheses, Hypothesis{ID: fmt.Sprint("f", f), Remedy: r, LogPrior: math.Log(0.5 + 3*rng.Float64()), Draws: predict(f)})
	}
	for p := range pairs {
		a, b := 1+p%singles, 1+(p%singles+1+p/singles)%singles
		m.Hypotheses = append(m.Hypotheses, Hypothesis{ID: fmt.Sprint("f", a, "+f", b), Members: []string{fmt.Sprint("f", a), fmt.Sprint("f", b)},
			LogPrior: math.Log(0.02), Draws: predict(a, b)})
	}
	return m
}

func must[T any](x T, err error) T {
	if err != nil {
		panic(err)
	}
	return x
}

func BenchmarkPrepare(b *testing.B) {
	m := workshopModel(64, 300, 48, 45)
	b.ReportAllocs()
	for b.Loop() {
		must(Prepare(m))
	}
}

func BenchmarkTake(b *testing.B) {
	bank := must(Prepare(workshopModel(64, 300, 48, 45)))
	c := bank.Open()
	c.Take(Reading{Channel: "c0", Value: 8.1})
	b.ReportAllocs()
	for b.Loop() {
		c.events = c.events[:1]
		c.last[1] = -1
		if err := c.Take(Reading{Channel: "c1", Value: 8.2}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFirstTake(b *testing.B) {
	bank := must(Prepare(workshopModel(64, 300, 48, 45)))
	b.ReportAllocs()
	for b.Loop() {
		c := bank.Open()
		if err := c.Take(Reading{Channel: "c1", Value: 8.2}); err != nil {
			b.Fatal(err)
		}
	}
}

func benchRank(b *testing.B, readings int) {
	c := must(Prepare(workshopModel(64, 300, 48, 45))).Open()
	for i := range readings {
		c.Take(Reading{Channel: fmt.Sprint("c", 5*i), Value: 8.1})
	}
	c.spread()
	b.ReportAllocs()
	for b.Loop() {
		r := newRanker(c)
		for ch := range c.last {
			r.rank(ch)
		}
	}
}

func BenchmarkRankAtFirst(b *testing.B)   { benchRank(b, 0) }
func BenchmarkRankAfterFour(b *testing.B) { benchRank(b, 4) }
func BenchmarkNextWithLookAhead(b *testing.B) {
	c := must(Prepare(workshopModel(64, 300, 48, 45))).Open()
	b.ReportAllocs()
	for b.Loop() {
		must(c.Next(Situation{}))
	}
}

func BenchmarkWhy(b *testing.B) {
	c := must(Prepare(workshopModel(64, 300, 48, 45))).Open()
	c.Take(Reading{Channel: "c0", Value: 8.1})
	b.ReportAllocs()
	for b.Loop() {
		must(c.Why("f3", Situation{}))
	}
}
