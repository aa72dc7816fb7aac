package evidence

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The order in which readings are taken is not evidence. It matters to the
// result only by what moving kernels under possible slips leaves out.
func TestOrderMattersLittle(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	var worst, mean float64
	const cases = 80
	for range cases {
		w := newWorld(rng, 5, 6, 1.5, true)
		w.redraw(48)
		_, _, written := w.truth()
		bank := must(Prepare(w.model))
		a, b := bank.Open(), bank.Open()
		for i := range 5 {
			a.Take(Reading{Channel: fmt.Sprint("c", i), Value: written[i]})
			b.Take(Reading{Channel: fmt.Sprint("c", 4-i), Value: written[4-i]})
		}
		d := 0.0
		for h := range a.lp {
			d += math.Abs(math.Exp(a.lp[h])-math.Exp(b.lp[h])) / 2
		}
		worst, mean = math.Max(worst, d), mean+d/cases
	}
	t.Logf("probability that changes hands by the order: %.4f on average, %.3f at worst", mean, worst)
	if mean > 0.03 || worst > 0.4 {
		t.Errorf("order moves %.4f on average, %.3f at worst", mean, worst)
	}
}

func sums(t *testing.T, c *Case) {
	t.Helper()
	p := c.Posterior()
	var h, m float64
	for _, x := range p.Hypotheses {
		if !(x.P >= 0 && x.P <= 1+1e-9) || !(x.ESS >= 0 && x.ESS <= float64(x.Draws)*(1+1e-9)) {
			t.Fatalf("%+v", x)
		}
		h += x.P
	}
	for _, x := range p.Mends {
		m += x.P
	}
	if math.Abs(h-1) > 1e-9 || math.Abs(m-1) > 1e-9 {
		t.Fatalf("hypotheses sum to %.12f, remedies to %.12f", h, m)
	}
	if !(p.Bits >= -1e-12 && p.Bits <= math.Log2(float64(len(p.Mends)))+1e-9) {
		t.Fatalf("%g bits about %d remedies", p.Bits, len(p.Mends))
	}
	for _, x := range append(p.Members, p.Remedies...) {
		if !(x.P >= 0 && x.P <= 1+1e-9) {
			t.Fatalf("%+v", x)
		}
	}
	for _, x := range c.Taken() {
		if !(x.Slip >= 0 && x.Slip <= 1+1e-6) {
			t.Fatalf("%+v", x)
		}
	}
}

// holes makes a world where some readings cannot be had on some cars, some
// channels are yes or no and some circuits are open.
func holes(rng *rand.Rand) Model {
	w := newWorld(rng, 4, 6, 1, true)
	w.redraw(24)
	m := w.model
	m.Channels[1].YesNo = true
	m.Channels[2].Setup, m.Channels[2].SetupMinutes = "running", 3
	m.Channels[4].Setup, m.Channels[4].SetupMinutes = "running", 3
	for h := range m.Hypotheses {
		for k, d := range m.Hypotheses[h].Draws {
			d[1] = 1 / (1 + math.Exp(-d[1]))
			switch {
			case h == 2:
				d[2] = math.NaN()
			case h == 3 && k%3 == 0:
				d[1], d[4] = math.NaN(), math.Inf(1)
			case h == 4:
				for c := range d {
					d[c] = math.NaN()
				}
			}
		}
	}
	return m
}

func anyReading(rng *rand.Rand, m *Model) Reading {
	c := &m.Channels[rng.IntN(len(m.Channels))]
	r := Reading{Channel: c.ID}
	switch {
	case rng.IntN(8) == 0:
		r.Kind = CouldNot
	case c.YesNo:
		r.Kind = Yes + Kind(rng.IntN(2))
	default:
		r.Kind = Kind(rng.IntN(3))
		r.Value = 10 * rng.NormFloat64()
		if rng.IntN(10) == 0 {
			r.Value *= math.Pow(10, 8*rng.NormFloat64())
		}
		if rng.IntN(3) == 0 {
			r.HalfWidth = math.Exp(3 * rng.NormFloat64())
		}
	}
	return r
}

// Whatever is read, repaired and taken back: probabilities are probabilities,
// taking back undoes, gains are not negative, and the same again is the same.
func TestAnythingGoes(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	for range 60 / fewer {
		m := holes(rng)
		if rng.IntN(3) == 0 {
			m.StudentDF = 4
		}
		bank := must(Prepare(m))
		c, twin := bank.Open(), bank.Open()
		for step := range 12 {
			switch {
			case step%5 == 4:
				r := Repair{Remedies: []string{m.Remedies[rng.IntN(4)].ID}, Outcome: Outcome(rng.IntN(3))}
				if err := c.Repair(r); err != nil {
					t.Fatal(err)
				}
				twin.Repair(r)
			default:
				r := anyReading(rng, &m)
				if err := c.Take(r); err != nil {
					t.Fatal(err)
				}
				twin.Take(r)
			}
			sums(t, c)
			if !slices.Equal(c.lw, twin.lw) {
				t.Fatal("the same readings came out differently")
			}
		}
		before := slices.Clone(c.lp)
		if err := c.Take(Reading{Channel: "c3", Value: 2}); err != nil {
			t.Fatal(err)
		}
		if err := c.Forget(len(c.taken) - 1); err != nil {
			t.Fatal(err)
		}
		for h := range before {
			if math.Abs(before[h]-c.lp[h]) > 1e-9 {
				t.Fatalf("taken back, hypothesis %d stands at %g, was %g", h, c.lp[h], before[h])
			}
		}
		ch := must(c.Next(Situation{Setup: "running", Skip: []string{"c0"}}))
		again := must(c.Next(Situation{Setup: "running", Skip: []string{"c0"}}))
		if fmt.Sprint(ch) != fmt.Sprint(again) {
			t.Fatal("the same case was answered differently")
		}
		checkChoice(t, c, ch)
		for _, h := range m.Hypotheses {
			w := must(c.Why(h.ID, Situation{}))
			sum := w.StartVsHealthy
			for _, r := range w.Reasons {
				sum += r.VsHealthy
			}
			i := bank.hypAt[h.ID]
			if want := deciban * (c.lp[i] - c.lp[bank.healthy]); math.Abs(sum-want) > 1e-6*(1+math.Abs(want)) {
				t.Fatalf("%s: reasons add up to %g decibans, the odds are %g", h.ID, sum, want)
			}
		}
	}
}

func checkChoice(t *testing.T, c *Case, ch Choice) {
	t.Helper()
	p := c.Posterior()
	if ch.Stop != (ch.Reading == "") || ch.Best > ch.Now || !(ch.Now > 0) {
		t.Fatalf("%+v", ch)
	}
	for _, x := range ch.Ranked {
		// A reading cannot tell more than there is to know, nor make mending slower.
		if !(x.Bits >= 0 && x.Bits <= p.Bits+1e-9 && x.BitsErr >= 0) || x.Total-x.Minutes > ch.Now*1.05+1e-9 {
			t.Fatalf("%+v of %g bits and %g minutes", x, p.Bits, ch.Now)
		}
		if x.Channel == "c0" {
			t.Fatal("proposed what was to be skipped")
		}
	}
	sum := 0.0
	for _, s := range ch.Steps {
		sum += s.P
	}
	if sum > 1+1e-9 {
		t.Fatalf("steps mend %g", sum)
	}
}

// The order in which a model names its hypotheses and channels does not matter.
func TestNamingOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	m := holes(rng)
	n := m
	n.Hypotheses = slices.Clone(m.Hypotheses)
	slices.Reverse(n.Hypotheses)
	n.Channels = slices.Clone(m.Channels)
	slices.Reverse(n.Channels)
	for h := range n.Hypotheses {
		draws := n.Hypotheses[h].Draws
		n.Hypotheses[h].Draws = nil
		for _, d := range draws {
			d = slices.Clone(d)
			slices.Reverse(d)
			n.Hypotheses[h].Draws = append(n.Hypotheses[h].Draws, d)
		}
	}
	a, b := must(Prepare(m)).Open(), must(Prepare(n)).Open()
	for _, r := range []Reading{{Channel: "c0", Value: 3}, {Channel: "c1", Kind: Yes}, {Channel: "c4", Value: -2}} {
		a.Take(r)
		b.Take(r)
	}
	for _, h := range m.Hypotheses {
		x, y := a.lp[a.bank.hypAt[h.ID]], b.lp[b.bank.hypAt[h.ID]]
		if math.Abs(x-y) > 1e-9*(1+math.Abs(x)) {
			t.Errorf("%s: %g and %g", h.ID, x, y)
		}
	}
}
