package firing

import (
	"math"
	"math/rand/v2"
	"testing"

	"dwellwright/circuit"
)

// A second opinion: the general solver of this program, which knows nothing of
// coils and finds its events by the eigenvalues of each phase, run from rest
// through the same network until it repeats.
func TestSecondOpinion(t *testing.T) {
	rng := rand.New(rand.NewPCG(81, 82))
	worst := map[string]float64{}
	for judged := 0; judged < 40; {
		c := randomCase(rng)
		c.Coil.KneeA, c.Break.Parting, c.Gap.Linger = 0, 0, 0
		c.Rhythm = Turning(6, 800+4000*rng.Float64(), 38)
		f := solve(t, c, false)
		if !f.Settled || math.Abs(f.AvailableV/c.Gap.Required-1) < 0.1 {
			continue
		}
		judged++
		n, err := c.Network()
		if err != nil {
			t.Fatal(err)
		}
		s, err := n.Net.Compile()
		if err != nil {
			t.Fatal(err)
		}
		probes := []circuit.Probe{circuit.CurrentProbe(n.Primary), circuit.VoltageProbe(n.Switched, circuit.Ground), circuit.VoltageProbe(n.Tower, circuit.Ground)}
		if n.Gap >= 0 {
			probes = append(probes, circuit.CurrentProbe(n.Gap))
		}
		tr, err := s.NewTransient(probes)
		if err != nil {
			t.Fatal(err)
		}
		T := c.Rhythm.Period
		cycles := 2 + int(math.Ceil(10*c.Coil.L1/c.Source.Ohms/T))
		var actions []circuit.Action
		for k := 0; k < cycles; k++ {
			for _, a := range n.Cycle.Actions {
				a.At += float64(k) * T
				actions = append(actions, a)
			}
		}
		last := float64(cycles-1) * T
		opens := last + c.Rhythm.Dwell
		var broke, primary, secondary, charge, at, amps float64
		look := func(now float64, r []float64) {
			if now >= opens {
				primary, secondary = max(primary, r[1]), max(secondary, math.Abs(r[2]))
			}
			if n.Gap >= 0 && now >= last {
				if at >= last {
					charge += (now - at) * (amps + r[3]) / 2
				}
				amps = r[3]
			}
			at = now
		}
		// Finely just after the break, where the leakage rings.
		for _, p := range []struct{ until, sample float64 }{{last + c.Rhythm.Dwell/2, 0}, {opens + 40e-6, 5e-9}, {float64(cycles) * T, 1e-7}} {
			k := 0
			for k < len(actions) && actions[k].At < p.until {
				k++
			}
			if p.sample == 5e-9 {
				// No need of it while the switch is still closed.
				if err := tr.Run(opens, nil, 0, func(_ float64, r []float64) { broke = r[0] }); err != nil {
					t.Fatalf("%+v: %v", c, err)
				}
			}
			if err := tr.Run(p.until, actions[:k], p.sample, look); err != nil {
				t.Fatalf("%+v: %v", c, err)
			}
			actions = actions[k:]
		}
		check := func(what string, got, want, tol float64) {
			t.Helper()
			d := math.Abs(got-want) / math.Max(want, 1e-9)
			worst[what] = max(worst[what], d)
			if d > tol {
				t.Errorf("%s: %.6g, by the general solver %.6g: %+v", what, got, want, c)
			}
		}
		check("break current", f.BreakA, broke, 2e-4)
		check("primary peak", f.PrimaryV, primary, 0.001)
		if f.Fires {
			check("gap charge", f.GapJ/c.Gap.Burn+1e-6, charge+1e-6, 0.003)
		} else {
			check("available", f.AvailableV, secondary, 0.001)
		}
	}
	t.Logf("at worst %v", worst)
}
