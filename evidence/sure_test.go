package evidence

import (
	"fmt"
	"math"
	"testing"
)

// What would refute a fault, and what it lets expect, is the same however sure it
// is: odds between it and the rest have no part in it.
func TestRefuterDoesNotHangOnHowSureItIs(t *testing.T) {
	at := func(prior float64) (Refuter, Why) {
		m := duo(48)
		m.Hypotheses[1].LogPrior = prior
		w := must(must(Prepare(m)).Open().Why("fa", Situation{}))
		if w.Refuter == nil {
			t.Fatalf("prior %g: nothing refutes", prior)
		}
		return *w.Refuter, w
	}
	want, _ := at(0)
	if want.Channel != "b" || want.Decibans < 5 {
		t.Fatalf("%+v", want)
	}
	for _, prior := range []float64{-5, 12, 16, 20, 50, 600} {
		got, w := at(prior)
		if got.Channel != want.Channel || math.Abs(got.Decibans-want.Decibans) > 1e-6 || math.Abs(got.Else.Middle-want.Else.Middle) > 1e-6 {
			t.Errorf("P = 1 - %.1g: %+v, wanted %+v", 1-w.P, got, want)
		}
	}
}

func TestExpectedOfWhatCanHardlyBe(t *testing.T) {
	at := func(prior float64) Expected {
		m := duo(12)
		m.Hypotheses[1].LogPrior = prior
		m.Hypotheses[0].LogPrior = -prior
		return must(must(Prepare(m)).Open().Expect("a", "fa"))
	}
	want, got := at(0), at(-600)
	for _, x := range [][2]float64{{want.Low, got.Low}, {want.Middle, got.Middle}, {want.High, got.High}, {want.Cannot, got.Cannot}} {
		if !(math.Abs(x[0]-x[1]) < 1e-9) {
			t.Errorf("%+v, wanted %+v", got, want)
			break
		}
	}
}

// Other draws of the healthy car are those of the unknown one as well, base cars
// included.
func TestHealthyDrawnAnewThenMended(t *testing.T) {
	m := duo(9)
	m.Common = m.Hypotheses[0].Draws
	m.Hypotheses[0].Cars = []int{0, 1, 2, 3, 4, 5, 6, 7, 8}
	c := must(Prepare(m)).Open()
	if err := c.Redraw("ok", append(m.Common[:9:9], m.Common...)); err != nil {
		t.Fatal(err)
	}
	figures(t, c, Reading{Channel: "a", Value: 1})
	if err := c.Repair(Repair{Remedies: []string{UnknownID}, Outcome: Gone}); err != nil {
		t.Fatal(err)
	}
	sums(t, c)
	if got := fmt.Sprint(c.Posterior().Hypotheses[0].Draws); got != "18" && got != "9" {
		t.Error(got)
	}
}
