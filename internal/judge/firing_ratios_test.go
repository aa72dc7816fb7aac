package judge

import (
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"dwellwright/firing"
)

// How many firings are solved in the time ngspice takes for one, both in this
// run on this machine: ngspice runs a long stretch of the very same firings,
// its start taken out, at its usual largest step of 5 us and at the step at
// which it agrees with itself at half the step as well as we agree with it. A
// settled firing of ours is several cycles and one more without a spark.
func TestFiringRatios(t *testing.T) {
	find(t)
	if raceDetector {
		t.Skip("the race detector slows one side only")
	}
	few, many, cases := 4, 24, 3
	if os.Getenv("DWELLWRIGHT_BENCH") != "" {
		few, many, cases = 10, 110, 6
	}
	rng := rand.New(rand.NewPCG(41, 1))
	var solve, available, coarse, fine time.Duration
	for n := 0; n < cases; {
		c := randomFiring(rng)
		if math.IsInf(c.Gap.Required, 1) || c.Rhythm.Period > 12e-3 {
			continue // a long period is a long nothing: it would flatter us
		}
		var s firing.Solver
		f, err := s.Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		if !f.Settled || !f.Fires {
			continue
		}
		n++
		at := func(step float64) time.Duration {
			return theirs(t, func(passes int) string {
				return strings.Replace(firingDeck(t, c, passes, step, false), " trtol=1", "", 1)
			}, few, many)
		}
		coarse += at(5e-6)
		fine += at(1.4e-6)
		// A figure changes from call to call, so that nothing can be kept.
		volts := c.Source.Volts
		one, allocs := ours(func(k int) {
			c.Source.Volts = volts * (1 + 1e-6*float64(k%100))
			if _, err := s.Solve(c); err != nil {
				t.Error(err)
			}
		})
		solve += one
		two, more := ours(func(k int) {
			c.Source.Volts = volts * (1 + 1e-6*float64(k%100))
			if _, _, err := s.Available(c); err != nil {
				t.Error(err)
			}
		})
		available += two
		if allocs+more != 0 {
			t.Errorf("%g allocations", allocs+more)
		}
	}
	k := time.Duration(cases)
	t.Logf("ngspice, a firing of a long run: %.1f ms at a largest step of 5 us, %.1f ms at 1.4 us", us(coarse/k)/1e3, us(fine/k)/1e3)
	t.Logf("settled firing, everything of it: %.1f us, %.0f and %.0f in that time; wanted 300", us(solve/k), float64(coarse)/float64(solve), float64(fine)/float64(solve))
	t.Logf("settled firing, current and kV: %.1f us, %.0f and %.0f in that time; wanted 300, aimed at 1,000", us(available/k), float64(coarse)/float64(available), float64(fine)/float64(available))
	if r := float64(fine) / float64(available); r < 75 {
		t.Errorf("%.0f firings in the time of one; at least 75 is accepted here, 300 wanted", r)
	}
}
