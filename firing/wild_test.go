package firing

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// wildCase draws every figure from all that is accepted, over its decades,
// and the special values often.
func wildCase(rng *rand.Rand) *Case {
	lg := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, rng.Float64()) }
	or := func(v float64, special ...float64) float64 {
		if rng.IntN(3) == 0 {
			return special[rng.IntN(len(special))]
		}
		return v
	}
	inf := math.Inf(1)
	c := &Case{
		Coil:   Coil{L1: lg(1e-5, 10), L2: lg(1e-3, 1e5), Coupling: or(0.1+0.9*rng.Float64(), 0.1, 1, 0.99), R2: or(lg(1, 1e7), 0), Iron: or(lg(1, 1e12), 0, inf), KneeA: or(lg(1e-3, 1e4), 0, inf), Beyond: or(rng.Float64(), 0, 1)},
		Source: Source{Volts: or(lg(0.1, 1e3), 0, -5, 12), Ohms: lg(1e-3, 1e6)},
		Break:  Break{Drop: or(lg(1e-3, 100), 0), On: or(lg(1e-6, 1e6), 0), Farads: or(lg(1e-15, 1e-3), 0), Series: or(lg(1e-3, 1e3), 0), Clamp: or(lg(1, 1e5), 0, inf), ClampOhms: or(lg(1e-3, 1e4), 0), Back: or(lg(0.1, 1e5), 0, inf), Parting: or(lg(1e-9, 100), 0)},
		Gap:    Gap{Farads: lg(1e-13, 1e-6), Shunt: or(lg(1, 1e18), 0, 1, inf), Series: or(lg(1, 1e9), 0), Required: or(lg(1, 1e9), 1, inf), Burn: or(lg(1, 1e6), 0), Extinct: or(lg(1e-6, 10), 0), Linger: or(lg(1e-9, 1), 0)},
		Rhythm: Rhythm{Period: or(lg(1e-6, 1e6), inf, 0.02), Dwell: or(lg(1e-6, 1e6), 0, inf, 0.01)},
	}
	if rng.IntN(2) == 0 && !math.IsInf(c.Rhythm.Period, 1) {
		c.Rhythm.Dwell = c.Rhythm.Period * rng.Float64()
	}
	return c
}

// Whatever is accepted is answered in bounded time, with figures that are
// numbers, or refused by an error of the package.
func TestWild(t *testing.T) {
	rng := rand.New(rand.NewPCG(91, 92))
	refused, endless, answered := 0, 0, 0
	for trial := 0; trial < 400; trial++ {
		c := wildCase(rng)
		s := Solver{Thorough: trial%2 == 0}
		start := time.Now()
		f, err := s.Solve(c)
		took := time.Since(start)
		if took > 20*time.Second {
			t.Errorf("%d takes %v: %+v", trial, took, c)
		}
		var r *RangeError
		switch {
		case errors.As(err, &r):
			refused++
			continue
		case errors.Is(err, ErrEvents):
			endless++
			continue
		case err != nil:
			t.Errorf("%d: %v", trial, err)
		}
		answered++
		for _, v := range [...]float64{f.StillA, f.StartA, f.BreakA, f.StoredJ, f.PrimaryV, f.AvailableV, f.OpenV, f.BurnS, f.GapJ, f.ContactJ, f.ClampJ, f.MeanA, f.Lost.Supply, f.Lost.Primary, f.Lost.Iron, f.Lost.Secondary, f.Lost.Series, f.Lost.Shunt, f.Lost.Switch, f.Lost.Condenser} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%d: %+v gives %+v", trial, c, f)
			}
		}
		if f.BurnS < 0 || f.BurnS > c.Rhythm.Period*1.000001 || f.GapJ < -1e-12 {
			t.Errorf("%d: %+v gives %+v", trial, c, f)
		}
	}
	t.Logf("%d answered, %d out of range, %d without end", answered, refused, endless)
	if answered < 200 {
		t.Errorf("only %d answered", answered)
	}
}
