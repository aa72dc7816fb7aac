package evidence

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// volts is a world of voltages about 12 V read to ±0.05 V, so that a slip of the
// pen lands outside everything or, now and then, on another fault.
func volts(rng *rand.Rand) *world {
	w := newWorld(rng, 6, 8, 2, false)
	for c := range w.model.Channels {
		ch := &w.model.Channels[c]
		ch.Abs, ch.Low, ch.High, ch.SlipProb = 0.05, -1, 15, 0.01
	}
	for f := range w.effect {
		for c := range w.effect[f] {
			w.effect[f][c] *= 0.3
		}
	}
	for c := range w.load {
		for j := range w.load[c] {
			w.load[c][j] *= 0.05
		}
	}
	w.redraw(48)
	for h := range w.model.Hypotheses {
		for _, d := range w.model.Hypotheses[h].Draws {
			for c := range d {
				d[c] += 11.5 - float64(c)
			}
		}
	}
	return w
}

// A figure wrongly written down in one of the ways the model knows: it is found
// out, it makes no wrong verdict sure, and asked again it is as if it never was.
func TestSlipsChangeNoVerdict(t *testing.T) {
	slips := []struct {
		name string
		f    func(y float64) float64
	}{
		{"decimal point lost, 12.6 as 126", func(y float64) float64 { return y * 10 }},
		{"decimal point gained", func(y float64) float64 { return y / 10 }},
		{"millivolts as volts", func(y float64) float64 { return y * 1000 }},
		{"volts as kilovolts", func(y float64) float64 { return y / 1000 }},
		{"probes swapped", func(y float64) float64 { return -y }},
		{"probe elsewhere", func(float64) float64 { return 3.3 }},
	}
	rng := rand.New(rand.NewPCG(126, 12))
	clear, changed, found, falseAlarm := 0, 0, 0, 0.0
	const cases = 200
	for run := range cases {
		w := volts(rng)
		h, _, _ := w.truth()
		car := w.faulty(w.car(rng), &w.model.Hypotheses[h], w.severities())
		bank := must(Prepare(w.model))
		clean, slipped := bank.Open(), bank.Open()
		slip := slips[run%len(slips)]
		at := run / len(slips) % 4
		for i := range 7 {
			y := car[i] + 11.5 - float64(i) + 0.05/half95*rng.NormFloat64()
			r := Reading{Channel: fmt.Sprint("c", i), Value: y}
			if err := clean.Take(r); err != nil {
				t.Fatal(err)
			}
			if i == at {
				r.Value = slip.f(y)
			}
			if err := slipped.Take(r); err != nil {
				t.Fatal(err)
			}
		}
		want, got := clean.Posterior(), slipped.Posterior()
		for i, x := range clean.Taken() {
			if i != at {
				falseAlarm += x.Slip / 6 / cases
			}
			if y := slipped.Taken()[i]; i == at && y.Slip > 0.5 {
				found++
			}
		}
		if want.Hypotheses[0].P > 0.9 {
			clear++
			if got.Hypotheses[0].ID != want.Hypotheses[0].ID {
				changed++
				if got.Hypotheses[0].P > 0.9 {
					t.Errorf("case %d, %s: sure of %v, was %v", run, slip.name, got.Hypotheses[0], want.Hypotheses[0])
				}
				t.Logf("case %d, %s: %v, was %v", run, slip.name, got.Hypotheses[:2], want.Hypotheses[:2])
			}
		}
		// Asked again and written rightly, the verdict is as it would have been.
		r := clean.Taken()[at].Reading
		if err := slipped.Take(r); err != nil {
			t.Fatal(err)
		}
		again := slipped.Posterior()
		if p, q := again.Hypotheses[0], want.Hypotheses[0]; p.ID != q.ID && q.P > 0.6 || math.Abs(p.P-q.P) > 0.05 {
			t.Errorf("case %d, %s: asked again %v, want %v", run, slip.name, p, q)
		}
	}
	t.Logf("%d of %d verdicts clear without the slip, %d of them changed by it; %d slips found; false alarm %.3f", clear, cases, changed, found, falseAlarm)
	if clear < cases/2 || changed > clear/40 || found < cases*9/10 || falseAlarm > 0.03 {
		t.Errorf("%d clear, %d changed, %d found, false alarm %.3f", clear, changed, found, falseAlarm)
	}
}

// No reading by itself can rule a hypothesis out: the odds move by no more than
// what a slip leaves.
func TestSlipNeverVetoes(t *testing.T) {
	m := twoPoints(0.05, 5, 0.5)
	m.Channels[0].SlipProb, m.Channels[0].SlipFactors = 0.01, nil
	for _, y := range []float64{0, 5, 50, 0.5, -5, 5000, -1e9, 1e300, 3} {
		c := must(Prepare(m)).Open()
		if err := c.Take(Reading{Channel: "y", Value: y}); err != nil {
			t.Fatal(err)
		}
		if odds := math.Abs(c.lp[0]-c.lp[1]) / math.Ln10; !(odds < 6) {
			t.Errorf("%g V moved the odds by 10^%.1f", y, odds)
		}
	}
}

// Readings that nothing explains speak for something that the model does not know.
func TestUnknownRises(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	rose, rests := 0, 0
	const cases = 60
	for range cases {
		w := volts(rng)
		bank := must(Prepare(w.model))
		strange, usual := bank.Open(), bank.Open()
		car := w.car(rng)
		h, _, _ := w.truth()
		known := w.faulty(car, &w.model.Hypotheses[h], w.severities())
		for i := range 8 {
			odd := 0.0
			if i%2 == 0 { // four readings away by what no fault does
				odd = []float64{2.3, -1.7, 1.1, -3.1}[i/2]
			}
			strange.Take(Reading{Channel: fmt.Sprint("c", i), Value: car[i] + 11.5 - float64(i) + odd})
			usual.Take(Reading{Channel: fmt.Sprint("c", i), Value: known[i] + 11.5 - float64(i)})
		}
		if strange.Posterior().Unknown > 0.8 {
			rose++
		}
		if usual.Posterior().Unknown < 0.2 {
			rests++
		}
	}
	t.Logf("of %d: unknown rose %d times where it was so, rested %d times where a fault explained it", cases, rose, rests)
	if rose < cases*85/100 || rests < cases*9/10 {
		t.Errorf("rose %d, rested %d of %d", rose, rests, cases)
	}
}

// Nought, read where nought is expected, is no slip of unit or point.
func TestNoughtIsNoSlip(t *testing.T) {
	m := Model{
		Channels:   []Channel{{ID: "hose", Abs: 1700, Low: -5000, High: 70000}},
		Hypotheses: []Hypothesis{{ID: "well", Draws: [][]float64{{0}, {0}, {0}, {0}}}, {ID: "full", Remedy: "move", Draws: [][]float64{{60e3}, {55e3}, {50e3}, {58e3}}}},
		Remedies:   []Remedy{{ID: "move", Minutes: 5}}, Healthy: "well", Unknown: Unknown{LogPrior: -8},
	}
	b, err := Prepare(m)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{0, 27.8, -300, 900} {
		c := b.Open()
		if err := c.Take(Reading{Channel: "hose", Value: x}); err != nil {
			t.Fatal(err)
		}
		if slip := c.Taken()[0].Slip; slip > 0.02 {
			t.Errorf("%g is called a slip with %.2f", x, slip)
		}
	}
	c := b.Open()
	if err := c.Take(Reading{Channel: "hose", Value: 57e6}); err != nil {
		t.Fatal(err)
	}
	if slip := c.Taken()[0].Slip; slip < 0.9 {
		t.Errorf("a thousandfold is called a slip with %.2f only", slip)
	}
}
