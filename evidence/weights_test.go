package evidence

import (
	"errors"
	"math"
	"testing"
)

// A draw that stands twice with half the weight each is the same draw, and so is
// one of which the car is named.
func TestADrawTwiceAtHalfWeight(t *testing.T) {
	base := [][]float64{{12, 6}, {12.4, 6.2}, {11.7, 5.85}, {12.1, 6.05}, {11.9, 5.95}, {12.2, 6.1}}
	low := [][]float64{{12, 3}, {12.4, 4}, {11.7, 2}, {12.1, 5}}
	m := Model{
		Channels:   []Channel{{ID: "v", Abs: 0.1, Low: 0, High: 20}, {ID: "w", Abs: 0.1, Low: 0, High: 20}},
		Hypotheses: []Hypothesis{{ID: "well", Draws: base[:4]}, {ID: "low", Remedy: "mend", Draws: low}},
		Healthy:    "well", Common: base,
		Remedies: []Remedy{{ID: "mend", Minutes: 10}},
	}
	twice := m
	twice.Hypotheses = []Hypothesis{m.Hypotheses[0], {ID: "low", Remedy: "mend",
		Draws:      [][]float64{low[3], low[1], low[0], low[2], low[0]},
		Cars:       []int{3, 1, 0, 2, 0},
		LogWeights: []float64{0, 0, -math.Ln2, 0, -math.Ln2}}}
	read := func(m Model) (*Case, Posterior) {
		t.Helper()
		b, err := Prepare(m)
		if err != nil {
			t.Fatal(err)
		}
		c := b.Open()
		if err := c.Take(Reading{Channel: "v", Value: 12.1}); err != nil {
			t.Fatal(err)
		}
		return c, c.Posterior()
	}
	c, p := read(m)
	d, q := read(twice)
	// The kernel is a little narrower about five draws than about four.
	for i := range p.Hypotheses {
		if p.Hypotheses[i].ID != q.Hypotheses[i].ID || math.Abs(p.Hypotheses[i].P-q.Hypotheses[i].P) > 1e-9 {
			t.Errorf("%+v, with a draw twice %+v", p.Hypotheses[i], q.Hypotheses[i])
		}
	}
	w, err := c.Weights("low")
	if err != nil {
		t.Fatal(err)
	}
	v, _ := d.Weights("low")
	for k, at := range []int{3, 1, 0, 2, 0} {
		want := w[at]
		if at == 0 {
			want /= 2
		}
		if math.Abs(v[k]-want) > 1e-9 {
			t.Errorf("draw %d weighs %g, wanted %g", k, v[k], want)
		}
	}
	// What a repair hands on goes to the same cars.
	for _, c := range []*Case{c, d} {
		if err := c.Repair(Repair{Remedies: []string{"mend"}, Outcome: Gone}); err != nil {
			t.Fatal(err)
		}
	}
	w, _ = c.Weights("well")
	v, _ = d.Weights("well")
	for k := range w {
		if math.Abs(w[k]-v[k]) > 1e-9 {
			t.Errorf("mended, car %d weighs %g, with a draw twice %g", k, w[k], v[k])
		}
	}
	for _, bad := range []Hypothesis{
		{LogWeights: []float64{0}}, {LogWeights: []float64{0, 0, 0, 0, math.NaN()}}, {LogWeights: []float64{0, 0, 0, 0, math.Inf(1)}},
		{Cars: []int{0}}, {Cars: []int{0, 1, 2, 3, 6}}, {Cars: []int{0, 1, 2, 3, -1}},
	} {
		h := twice.Hypotheses[1]
		if bad.LogWeights != nil {
			h.LogWeights = bad.LogWeights
		} else {
			h.Cars = bad.Cars
		}
		n := twice
		n.Hypotheses = []Hypothesis{twice.Hypotheses[0], h}
		if _, err := Prepare(n); !errors.Is(err, ErrShape) && !errors.Is(err, ErrNumber) {
			t.Errorf("%v %v: %v", bad.LogWeights, bad.Cars, err)
		}
	}
}
