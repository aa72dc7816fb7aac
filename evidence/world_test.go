package evidence

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// A world is a catalogue of faults over a linear car, from which whole cases
// are drawn with the truth known.
type world struct {
	linear
	effect [][]float64 // per fault and channel
	model  Model
	rng    *rand.Rand
}

// newWorld has so many single faults, and a pair of each two when pairs is set.
// Fault 0 is the healthy car.
func newWorld(rng *rand.Rand, faults, channels int, spread float64, pairs bool) *world {
	w := &world{linear: newLinear(rng, channels, 3, spread), rng: rng}
	w.effect = [][]float64{make([]float64, channels)}
	for range faults {
		e := make([]float64, channels)
		for c := range e {
			if rng.Float64() < 0.5 {
				e[c] = 8 * rng.NormFloat64()
			}
		}
		w.effect = append(w.effect, e)
	}
	m := Model{Channels: w.channels(), Healthy: "f0", Unknown: Unknown{LogPrior: math.Log(0.05)}}
	for c := range m.Channels {
		m.Channels[c].SlipProb = 0.02
		m.Channels[c].SlipFactors = nil
		m.Channels[c].Low, m.Channels[c].High = -30, 30
	}
	for f := range w.effect {
		h := Hypothesis{ID: fmt.Sprint("f", f), LogPrior: math.Log(0.5 + rng.Float64())}
		if f > 0 {
			h.Remedy = fmt.Sprint("r", f)
			m.Remedies = append(m.Remedies, Remedy{h.Remedy, 5 + 20*rng.Float64()})
		}
		m.Hypotheses = append(m.Hypotheses, h)
	}
	if pairs {
		for a := 1; a <= faults; a++ {
			for b := a + 1; b <= faults; b++ {
				m.Hypotheses = append(m.Hypotheses, Hypothesis{ID: fmt.Sprint("f", a, "+f", b),
					Members: []string{fmt.Sprint("f", a), fmt.Sprint("f", b)}, LogPrior: math.Log(0.05)})
			}
		}
	}
	w.model = m
	return w
}

// faulty is a drawn car's predictions under hypothesis h with severities u.
func (w *world) faulty(car []float64, h *Hypothesis, u []float64) []float64 {
	out := append([]float64(nil), car...)
	ids := h.Members
	if ids == nil {
		ids = []string{h.ID}
	}
	for _, id := range ids {
		var f int
		fmt.Sscanf(id, "f%d", &f)
		for c := range out {
			out[c] += w.effect[f][c] * (0.5 + u[f])
		}
	}
	return out
}

func (w *world) severities() []float64 {
	u := make([]float64, len(w.effect))
	for i := range u {
		u[i] = w.rng.Float64()
	}
	return u
}

// redraw gives every hypothesis n fresh draws, paired.
func (w *world) redraw(n int) {
	for h := range w.model.Hypotheses {
		w.model.Hypotheses[h].Draws = nil
	}
	for range n {
		car, u := w.car(w.rng), w.severities()
		for i := range w.model.Hypotheses {
			h := &w.model.Hypotheses[i]
			h.Draws = append(h.Draws, w.faulty(car, h, u))
		}
	}
}

// truth draws a hypothesis, its car and what is written down for each channel.
func (w *world) truth() (h int, figures, written []float64) {
	sum := 0.0
	for _, h := range w.model.Hypotheses {
		sum += math.Exp(h.LogPrior)
	}
	x := sum * w.rng.Float64()
	for x -= math.Exp(w.model.Hypotheses[0].LogPrior); x > 0 && h < len(w.model.Hypotheses)-1; {
		h++
		x -= math.Exp(w.model.Hypotheses[h].LogPrior)
	}
	figures = w.faulty(w.car(w.rng), &w.model.Hypotheses[h], w.severities())
	for c, f := range figures {
		written = append(written, w.write(c, f+w.rng.NormFloat64()))
	}
	return h, figures, written
}

// write makes a slip now and then, by the law the model states.
func (w *world) write(c int, y float64) float64 {
	ch := &w.model.Channels[c]
	if w.rng.Float64() > ch.SlipProb {
		return y
	}
	if w.rng.Float64() < wrongPlace {
		s := ch.scale()
		return s.y(s.mid + s.w*math.Tan(math.Pi*(w.rng.Float64()-0.5)))
	}
	f := DefaultFactors()
	return y * f[w.rng.IntN(len(f))]
}

// chiTail is the upper tail of χ² by the
// Wilson–Hilferty cube root (1931), good to 0.001 for 9 degrees and more.
func chiTail(chi2 float64, df float64) float64 {
	z := (math.Cbrt(chi2/df) - (1 - 2/(9*df))) / math.Sqrt(2/(9*df))
	return math.Erfc(z/math.Sqrt2) / 2
}

// Simulation-based calibration (Talts, Betancourt, Simpson, Vehtari & Gelman
// 2018): drawn from the model, the rank of the truth among draws from the
// posterior is uniform. The figure ranked is one that has not been read.
func TestSimulationBasedCalibration(t *testing.T) {
	const runs, among = 1500 / fewer, 19
	rng := rand.New(rand.NewPCG(2018, 4))
	var ranks [among + 1]float64
	for run := range runs {
		w := newWorld(rng, 4, 6, 1.5, false)
		w.redraw(96)
		_, figures, written := w.truth()
		c := must(Prepare(w.model)).Open()
		for i := range 1 + run%4 {
			if err := c.Take(Reading{Channel: fmt.Sprint("c", i), Value: written[i]}); err != nil {
				t.Fatal(err)
			}
		}
		const ch = 5
		c.spread()
		mix := c.mixture(ch, c.others(c.bank.unknown)...)
		z, rank := c.bank.channels[ch].scale.z(figures[ch]), 0
		for range among {
			x := mix.sum * rng.Float64()
			i := 0
			for x -= mix.w[0]; x > 0 && i < len(mix.w)-1; {
				i++
				x -= mix.w[i]
			}
			sd := math.Sqrt(math.Max(0, 1/(mix.inv[i]*mix.inv[i])-1))
			if mix.f[i]+sd*rng.NormFloat64() < z {
				rank++
			}
		}
		ranks[rank]++
	}
	chi2 := 0.0
	for _, n := range ranks {
		want := float64(runs) / (among + 1)
		chi2 += (n - want) * (n - want) / want
	}
	p := chiTail(chi2, among)
	t.Logf("ranks %v, χ² %.1f, p %.3f", ranks, chi2, p)
	if p < 0.01 {
		t.Errorf("ranks are not uniform: p = %.4f", p)
	}
}

// Of diagnoses said with 80 to 90 %, 75 to 95 % are right, and likewise below and above.
func TestStatedProbabilities(t *testing.T) {
	rng := rand.New(rand.NewPCG(80, 90))
	bands := []struct{ from, to, least, most float64 }{
		{0.3, 0.5, 0.25, 0.55}, {0.5, 0.65, 0.43, 0.72}, {0.65, 0.8, 0.58, 0.87}, {0.8, 0.9, 0.75, 0.95}, {0.9, 0.97, 0.87, 0.99}, {0.97, 1, 0.95, 1},
	}
	said, right := make([]float64, len(bands)), make([]float64, len(bands))
	var bits, brier float64
	const runs = 1500 / fewer
	for run := range runs {
		w := newWorld(rng, 5, 7, 1.5, true)
		w.redraw(48)
		h, _, written := w.truth()
		c := must(Prepare(w.model)).Open()
		for i := range 1 + run%5 {
			if err := c.Take(Reading{Channel: fmt.Sprint("c", i), Value: written[i]}); err != nil {
				t.Fatal(err)
			}
		}
		top := c.Posterior().Hypotheses[0]
		ok := 0.0
		if top.ID == w.model.Hypotheses[h].ID {
			ok = 1
		}
		bits -= c.lp[h] / math.Ln2 / runs
		brier += (top.P - ok) * (top.P - ok) / runs
		for i, b := range bands {
			if top.P >= b.from && top.P < b.to {
				said[i]++
				right[i] += ok
			}
		}
	}
	for i, b := range bands {
		share := right[i] / said[i]
		t.Logf("said %.0f to %.0f %%: %.0f times, right %.1f %%", 100*b.from, 100*b.to, said[i], 100*share)
		if fewer > 1 {
			continue // too few to judge by
		}
		if said[i] < 30 {
			t.Errorf("only %.0f diagnoses between %.2f and %.2f", said[i], b.from, b.to)
		}
		if share < b.least || share > b.most {
			t.Errorf("said %.2f to %.2f: right in %.3f, want %.2f to %.2f", b.from, b.to, share, b.least, b.most)
		}
	}
	t.Logf("%.3f bits of surprise at the truth, Brier %.4f", bits, brier)
}
