package evidence

import (
	"errors"
	"math"
	"testing"
)

// The chance of reading below the quantiles that are expected is those quantiles,
// and a reading moves it.
func TestBelowIsTheOtherWayRound(t *testing.T) {
	m := Model{
		Channels:   []Channel{{ID: "v", Abs: 0.1, Low: 0, High: 20}, {ID: "w", Abs: 0.1, Low: 0, High: 20}, {ID: "sees", YesNo: true}},
		Hypotheses: []Hypothesis{{ID: "well", Draws: [][]float64{{12, 6, 1}, {12.4, 6.2, 1}, {11.7, 5.85, 1}, {12.1, 6.05, 1}, {11.9, 5.95, 1}}}},
		Healthy:    "well",
	}
	b, err := Prepare(m)
	if err != nil {
		t.Fatal(err)
	}
	c := b.Open()
	e, err := c.Expect("v", "well")
	if err != nil {
		t.Fatal(err)
	}
	for q, x := range map[float64]float64{0.025: e.Low, 0.5: e.Middle, 0.975: e.High} {
		got, err := c.Below("v", "well", x)
		if err != nil || math.Abs(got-q) > 1e-3 {
			t.Errorf("below %g: %g, %v, wanted %g", x, got, err, q)
		}
	}
	before, _ := c.Below("v", "", 12)
	if err := c.Take(Reading{Channel: "w", Value: 6.2}); err != nil {
		t.Fatal(err)
	}
	if after, _ := c.Below("v", "", 12); !(after < before) {
		t.Errorf("a high second reading left the chance of a low first one at %g, it was %g", after, before)
	}
	if x, err := c.Below("sees", "", 1); !math.IsNaN(x) || err != nil {
		t.Errorf("a yes or no: %g, %v", x, err)
	}
	if _, err := c.Below("x", "", 1); !errors.Is(err, ErrName) {
		t.Error(err)
	}
	if _, err := c.Below("v", "x", 1); !errors.Is(err, ErrName) {
		t.Error(err)
	}
}
