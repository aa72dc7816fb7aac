package circuit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// odd is a switched network out of the ordinary.
type odd struct {
	name   string
	n      *Network
	cyc    Cycle
	probes []Probe
}

// relaxation charges a capacitor that a hysteresis switch discharges again
// and again while the gate is closed.
func relaxation(rng *rand.Rand) odd {
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	n := NewNetwork()
	a, b, c := n.Node("a"), n.Node("b"), n.Node("c")
	n.VoltageSource("v", a, Ground, f(11, 13))
	gate := n.Switch("gate", a, b, 0.1, 1e-9, false)
	n.Resistor("charge", b, c, Resistance{Ohms: f(80, 120)})
	n.Capacitor("cap", c, Ground, f(8e-6, 12e-6))
	n.Resistor("bleed", c, Ground, Resistance{Ohms: f(400, 600), TempCo: 0.004, TempC: 30, HeatKPerW: f(5, 50)})
	n.VoltageSwitch("neon", c, Ground, c, Ground, f(15, 25), 1e-9, f(7, 7.5), f(2.5, 3.5))
	return odd{"relaxation", n, Cycle{20e-3, []Action{{0, gate, true}, {f(5, 7) * 1e-3, gate, false}}},
		[]Probe{VoltageProbe(c, Ground), VoltageProbe(b, Ground)}}
}

// regulator feeds a smoothed bus through an inductor; a voltage switch puts a
// dump load on it when it rises too high. A load comes and goes.
func regulator(rng *rand.Rand) odd {
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	n := NewNetwork()
	a, b, c := n.Node("a"), n.Node("b"), n.Node("bus")
	n.VoltageSource("v", a, Ground, f(17, 19))
	n.Resistor("feed", a, b, Resistance{Ohms: f(0.8, 1.2), TempCo: 0.004, TempC: 40, HeatKPerW: f(0.1, 1)})
	n.Inductor("choke", b, c, f(1e-3, 3e-3))
	n.Capacitor("smooth", c, Ground, f(100e-6, 200e-6))
	n.VoltageSwitch("dump", c, Ground, c, Ground, f(1, 1.5), 1e-6, f(14, 15), f(11, 12))
	n.Resistor("always", c, Ground, Resistance{Ohms: f(4, 8)})
	load := n.Switch("load", c, Ground, f(2.5, 3.5), 1e-9, false)
	return odd{"regulator", n, Cycle{10e-3, []Action{{0, load, true}, {f(5, 6) * 1e-3, load, false}}},
		[]Probe{VoltageProbe(c, Ground), VoltageProbe(b, Ground)}}
}

// trigger is a field-effect switch that clamps a coil, fed by a generator
// with a current limit beside a battery.
func trigger(rng *rand.Rand) odd {
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	n := NewNetwork()
	a, b, top, emf := n.Node("bus"), n.Node("b"), n.Node("top"), n.Node("emf")
	n.VoltageSource("battery", emf, Ground, f(12, 12.6))
	n.Resistor("inner", emf, a, Resistance{Ohms: f(0.01, 0.05)})
	n.LimitedSource("generator", a, Ground, f(13.8, 14.2), f(0.05, 0.1), f(3, 6), 1e-6)
	n.Resistor("winding", a, b, Resistance{Ohms: f(0.5, 1), TempCo: 0.00393, TempC: 60, HeatKPerW: f(0.5, 2)})
	l := n.Inductor("primary", b, top, f(3e-3, 6e-3))
	sec := n.Node("sec")
	l2 := n.Inductor("secondary", sec, Ground, f(20, 40))
	n.Couple("core", l, l2, f(0.9, 0.98))
	n.Resistor("gap", sec, Ground, Resistance{Ohms: f(2e6, 4e6)})
	n.Clamp("spark", sec, Ground, f(12e3, 14e3), 2000, 5e3, 1e-9)
	m := n.MOSFET("switch", top, Ground, f(0.02, 0.06), f(350, 400), 0.8, 1e-7, false)
	n.Diode("damper", Ground, sec, f(800, 900), 1e4, 1e-10)
	return odd{"trigger", n, Cycle{f(8, 15) * 1e-3, []Action{{0, m, true}, {f(3, 5) * 1e-3, m, false}}},
		[]Probe{VoltageProbe(top, Ground), VoltageProbe(a, Ground), CurrentProbe(l)}}
}

// dimmer has capacitors only, a saturating switch with a clamp, a diode that
// tops up the second capacitor, and several actions at one time.
func dimmer(rng *rand.Rand) odd {
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	n := NewNetwork()
	a, b, c, d := n.Node("a"), n.Node("b"), n.Node("c"), n.Node("d")
	n.CurrentSource("feed", Ground, a, f(0.8, 1.2))
	n.Resistor("shunt", a, Ground, Resistance{Ohms: f(40, 60)})
	n.Capacitor("c1", a, Ground, f(10e-6, 20e-6))
	n.Resistor("r", a, b, Resistance{Ohms: f(5, 10), TempCo: 0.004, TempC: 20, HeatKPerW: f(1, 5)})
	q := n.Darlington("q", b, Ground, f(0.7, 1), f(0.05, 0.2), f(28, 32), 1e-7, false)
	n.Diode("d", a, c, f(0.5, 0.8), f(0.5, 1), 1e-7)
	n.Capacitor("c2", c, Ground, f(50e-6, 100e-6))
	n.Resistor("drain", c, d, Resistance{Ohms: f(80, 120)})
	k := n.Contact("k", d, Ground, 0.05, 1e-7, false)
	T := f(3, 6) * 1e-3
	return odd{"dimmer", n, Cycle{T, []Action{
		{0, q, true}, {0, k, false}, {0, q, false}, {0, q, true}, // thinks again, twice, at once
		{T / 3, q, false}, {T / 3, k, true}, {T / 2, q, true}, {T / 2, q, false},
	}}, []Probe{VoltageProbe(a, Ground), VoltageProbe(c, Ground), VoltageProbe(b, Ground)}}
}

// latch has no states at all: a relay that pulls itself in when the button is
// pressed and is released by the other.
func latch(rng *rand.Rand) odd {
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	n := NewNetwork()
	a, b, c := n.Node("a"), n.Node("b"), n.Node("coil")
	n.VoltageSource("v", a, Ground, f(11, 13))
	stop := n.Contact("stop", a, b, 0.01, 1e-9, true)
	start := n.Contact("start", b, c, 0.01, 1e-9, false)
	n.VoltageSwitch("relay", b, c, c, Ground, 0.05, 1e-9, 7, 3)
	n.Resistor("winding", c, Ground, Resistance{Ohms: f(60, 90), TempCo: 0.00393, TempC: 20, HeatKPerW: f(10, 20)})
	T := 1e-2
	return odd{"latch", n, Cycle{T, []Action{{0.2 * T, start, true}, {0.3 * T, start, false}, {0.7 * T, stop, false}, {0.9 * T, stop, true}}},
		[]Probe{VoltageProbe(c, Ground), CurrentProbe(ElemID(0))}}
}

func odds(rng *rand.Rand) []odd {
	return []odd{relaxation(rng), regulator(rng), trigger(rng), dimmer(rng), latch(rng)}
}

// watchAll is every element of the network.
func watchAll(n *Network) []ElemID {
	all := make([]ElemID, n.Elements())
	for i := range all {
		all[i] = ElemID(i)
	}
	return all
}

// The steady state found at once against running on until it settles.
func TestOddSteadyAgainstRunningOn(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	for trial := 0; trial < 10; trial++ {
		for _, o := range odds(rng) {
			s := mustCompile(t, o.n)
			st, err := s.NewSteady(o.cyc, o.probes, watchAll(o.n))
			if err != nil {
				t.Fatal(err)
			}
			if err := st.Solve(); err != nil {
				t.Errorf("%s, trial %d: %v", o.name, trial, err)
				continue
			}
			// Energy: what the sources give the rest takes.
			sum, most := 0.0, 0.0
			for i := range watchAll(o.n) {
				sum += st.MeanPower(i)
				most = math.Max(most, math.Abs(st.MeanPower(i)))
			}
			if math.Abs(sum) > 1e-8*most {
				t.Errorf("%s, trial %d: mean powers sum to %g W of %g W", o.name, trial, sum, most)
			}
			run, err := s.NewTransient(o.probes)
			if err != nil {
				t.Fatal(err)
			}
			T := o.cyc.Period
			lo, hi := make([]float64, len(o.probes)), make([]float64, len(o.probes))
			const cycles = 60
			for k := 0; k < cycles; k++ {
				acts := slices.Clone(o.cyc.Actions)
				for i := range acts {
					acts[i].At += float64(k) * T
				}
				every := 0.0
				if k == cycles-1 {
					every = T / 20000
				}
				for i := range lo {
					lo[i], hi[i] = math.Inf(1), math.Inf(-1)
				}
				first := true
				err := run.Run(float64(k+1)*T, acts, every, func(_ float64, v []float64) {
					if first && acts[0].At == float64(k)*T {
						first = false // the state before an action at time zero is that of the cycle before
						return
					}
					for i, x := range v {
						lo[i], hi[i] = math.Min(lo[i], x), math.Max(hi[i], x)
					}
				})
				if err != nil {
					t.Fatalf("%s, trial %d: %v", o.name, trial, err)
				}
			}
			for i, x := range run.State() {
				if d := math.Abs(x - st.State()[i]); d > 1e-6*(math.Abs(x)+0.01) {
					t.Errorf("%s, trial %d: state %d after %d cycles %g, at once %g", o.name, trial, i, cycles, x, st.State()[i])
				}
			}
			for i := range o.probes {
				r, size := st.Readings[i], math.Max(math.Abs(lo[i]), math.Abs(hi[i]))
				if math.Abs(r.Min-lo[i]) > 1e-5*size || math.Abs(r.Max-hi[i]) > 1e-5*size {
					t.Errorf("%s, trial %d: probe %d swings %g..%g, run on %g..%g", o.name, trial, i, r.Min, r.Max, lo[i], hi[i])
				}
			}
		}
	}
}

// Gradients where relays, clamps, limits and several actions at once come in.
func TestOddGradientAgainstDifferences(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	compared, leftOut := 0, 0
	for trial := 0; trial < 1; trial++ {
		for _, o := range odds(rng) {
			s := mustCompile(t, o.n)
			st, err := s.NewSteady(o.cyc, o.probes, nil)
			if err != nil {
				t.Fatal(err)
			}
			c, l := compareGradient(t, o.name, s, st, allRefs(o.n), 1e-5, 1e-8)
			t.Logf("%s: %d compared, %d left out; %d events", o.name, c, l, s.Stats.Events/max(1, s.Stats.Cycles))
			compared, leftOut = compared+c, leftOut+l
		}
	}
	if leftOut*10 > compared {
		t.Errorf("%d derivatives compared, %d left out", compared, leftOut)
	}
}
