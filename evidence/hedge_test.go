package evidence

import (
	"math"
	"math/rand/v2"
	"testing"
)

// What is hedged is the plain average over evidence that is off by what its draws
// and its kernels leave open, here by two hundred thousand throws; it leads with
// what led, less surely; and with nothing read nothing is hedged.
func TestHedged(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	var well, low [][]float64
	for range 24 {
		v := 12.2 + 0.3*rng.NormFloat64()
		row := make([]float64, 12)
		for i := range row {
			row[i] = v + 0.2*rng.NormFloat64()
		}
		well = append(well, row)
		down := make([]float64, 12)
		for i := range down {
			down[i] = row[i] - 2*rng.Float64()
		}
		low = append(low, down)
	}
	m := Model{Healthy: "well", Remedies: []Remedy{{ID: "mend", Minutes: 10}},
		Hypotheses: []Hypothesis{{ID: "well", Draws: well}, {ID: "low", Remedy: "mend", Draws: low}},
		Unknown:    Unknown{LogPrior: math.Log(0.05)}}
	for _, id := range []string{"a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l"} {
		m.Channels = append(m.Channels, Channel{ID: id, Abs: 0.1, Low: 0, High: 20})
	}
	b, err := Prepare(m)
	if err != nil {
		t.Fatal(err)
	}
	cases, least := 0, 1.0
	for n := range 12 {
		c := b.Open()
		if p, q := c.Posterior(), c.Hedged(); p.Hypotheses[0] != q.Hypotheses[0] {
			t.Fatalf("nothing read: %+v, hedged %+v", p.Hypotheses[0], q.Hypotheses[0])
		}
		for i := range n + 1 {
			if err := c.Take(Reading{Channel: m.Channels[i].ID, Value: 11.6 + 0.2*rng.NormFloat64()}); err != nil {
				t.Fatal(err)
			}
		}
		p, q := c.Posterior(), c.Hedged()
		var lp, sd []float64
		var ids []string
		for _, h := range p.Hypotheses {
			v := math.Min(1, math.Max(0, 1/h.ESS-1/float64(h.Draws))) + math.Min(0.5, 0.05*float64(n+1))
			ids, lp, sd = append(ids, h.ID), append(lp, math.Log(h.P)), append(sd, math.Sqrt(v))
		}
		want := map[string]float64{}
		const throws = 200_000
		w := make([]float64, len(lp))
		for range throws {
			sum := 0.0
			for i := range lp {
				w[i] = math.Exp(lp[i] + sd[i]*rng.NormFloat64())
				sum += w[i]
			}
			for i, id := range ids {
				want[id] += w[i] / sum / throws
			}
		}
		total := 0.0
		for _, h := range q.Hypotheses {
			total += h.P
			// Sixty-four throws of a share are off by an eighth of its spread.
			if math.Abs(h.P-want[h.ID]) > 0.04 {
				t.Errorf("%d readings: %s hedged %.3f, by throws %.3f", n+1, h.ID, h.P, want[h.ID])
			}
		}
		if math.Abs(total-1) > 1e-9 {
			t.Errorf("%d readings: in all %.9f", n+1, total)
		}
		if top := p.Hypotheses[0]; top.P > 0.75 && top.P < 0.999 {
			cases++
			least = math.Min(least, q.Hypotheses[0].P/top.P)
			if q.Hypotheses[0].ID != top.ID || q.Hypotheses[0].P > top.P {
				t.Errorf("%d readings: %+v leads, hedged %+v", n+1, top, q.Hypotheses[0])
			}
		}
	}
	if cases < 3 || least > 0.99 {
		t.Errorf("%d leads of some doubt, the most hedged comes to %.3f of what it was", cases, least)
	}
}
