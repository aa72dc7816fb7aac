package heat

import (
	"math"
	"testing"
)

// With x = exp(-t) a polynomial in x is a sum of exponentials, and its roots
// in (0, 1) are known: (x - 0.9)(x - 0.5)(x - 0.2), and one that only touches.
func TestZerosOfPolynomials(t *testing.T) {
	cubic := []term{{3, 1}, {2, -1.6}, {1, 0.73}, {0, -0.09}}
	want := []float64{-math.Log(0.9), -math.Log(0.5), -math.Log(0.2)}
	got := zeros(cubic, 100)
	if len(got) != 3 {
		t.Fatalf("%v, want %v", got, want)
	}
	for i := range want {
		near(t, "zero", got[i], want[i], 1e-12)
	}
	if got := zeros(cubic, 1); len(got) != 2 {
		t.Errorf("until 1 s: %v", got)
	}
	if got := zeros([]term{{2, 1}, {1, -1}, {0, 0.26}}, 100); got != nil {
		t.Errorf("no root: %v", got)
	}
	if got := zeros([]term{{1, 1}, {1, -0.5}, {0, 0}, {2, 1}}, 100); got != nil {
		t.Errorf("all above 0: %v", got)
	}
}

// A node whose own time constant is the lag of its air, exactly: the formula
// of two lags in a row meets 0/0 there, and the answer is
// T = 20 + 60 (1 - (1 + t/τ) exp(-t/τ)).
func TestLagOfTheNodesOwn(t *testing.T) {
	s := compiled(t, one(4, 25))
	seg := Segment{"warm", 1000, []Power{{}}, []Given{{80, 100}}}
	h := ran(t, s, s.Even(20), seg)
	for _, sec := range []float64{1, 100, 700} {
		near(t, "two lags", h.At(0, sec), 20+60*(1-(1+sec/100)*math.Exp(-sec/100)), 1e-10)
	}
	// Begun at 60 °C in air of 20 °C it first falls: T - 80 = (-20 - 0.6 t)
	// exp(-t/τ), lowest where 0.6 = (20 + 0.6 t)/100, t = 200/3 s.
	start := s.Even(20)
	start.NodeC[0] = 60
	turns := ran(t, s, start, seg).pieces[0].turns(0)
	if len(turns) != 3 {
		t.Fatalf("turns at %v", turns)
	}
	near(t, "turn", turns[1], 200/3.0, 1e-4)
}
