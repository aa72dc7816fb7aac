package circuit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Exponential charging, the check values of a coil of 8 mH behind 2.9 ohm on
// 13.5 V: I = V/R (1 - exp(-t R/L)) [any circuits text].
func TestCoilCharging(t *testing.T) {
	n := NewNetwork()
	a, b, c := n.Node("a"), n.Node("b"), n.Node("c")
	n.VoltageSource("v", a, Ground, 13.5)
	n.Resistor("r", a, b, Resistance{Ohms: 2.9 - 0.001})
	l := n.Inductor("l", b, c, 8e-3)
	n.Resistor("core", b, c, Resistance{Ohms: 1e9})
	sw := n.Switch("points", c, Ground, 0.001, 1e-6, false)
	s := mustCompile(t, n)
	tr, err := s.NewTransient([]Probe{CurrentProbe(l)})
	if err != nil {
		t.Fatal(err)
	}
	got := map[float64]float64{}
	err = tr.Run(16.7e-3, []Action{{At: 0, Elem: sw, Close: true}}, 1e-3/3, func(at float64, r []float64) { got[math.Round(at*3e3)] = r[0] })
	if err != nil {
		t.Fatal(err)
	}
	near(t, "3.333 ms", got[10], 3.265, 3e-4)
	near(t, "16.7 ms", tr.State()[0], 4.644, 3e-4)
	near(t, "closed form", tr.State()[0], 13.5/2.9*-math.Expm1(-16.7e-3*2.9/8e-3), 1e-8)
}

// A lossless tank swings at 1/(2 pi sqrt(LC)): 8 mH and 0.22 uF give
// 3.79 kHz; energy is kept.
func TestTankRings(t *testing.T) {
	n := NewNetwork()
	a := n.Node("a")
	n.Inductor("l", a, Ground, 8e-3)
	n.Capacitor("c", a, Ground, 0.22e-6)
	s := mustCompile(t, n)
	tr, err := s.NewTransient([]Probe{VoltageProbe(a, Ground)})
	if err != nil {
		t.Fatal(err)
	}
	if err := tr.Start(0, []float64{4.6, 0}); err != nil {
		t.Fatal(err)
	}
	var peak float64
	if err := tr.Run(1e-3, nil, 1e-6, func(_ float64, r []float64) { peak = math.Max(peak, r[0]) }); err != nil {
		t.Fatal(err)
	}
	w := 1 / math.Sqrt(8e-3*0.22e-6)
	near(t, "frequency", w/2/math.Pi, 3790, 1e-3)
	near(t, "current", tr.State()[0], 4.6*math.Cos(w*1e-3), 1e-10)
	near(t, "peak", peak, 4.6*math.Sqrt(8e-3/0.22e-6), 1e-4)
}

// A coil switched at 50 % duty with a freewheel diode has a closed form:
// compare with it, the mean by L di/dt averaging to zero.
func TestSteadyAgainstClosedForm(t *testing.T) {
	const V, R, L, T, on = 12.0, 3.0, 8e-3, 5e-3, 3e-3
	n := NewNetwork()
	a, b, c := n.Node("a"), n.Node("b"), n.Node("c")
	n.VoltageSource("v", a, Ground, V)
	n.Resistor("r", a, b, Resistance{Ohms: R})
	l := n.Inductor("l", b, c, L)
	sw := n.Switch("sw", c, Ground, 1e-6, 1e-12, false)
	n.Diode("free", c, a, 0, 1e-6, 1e-12)
	s := mustCompile(t, n)
	st, err := s.NewSteady(Cycle{T, []Action{{0, sw, true}, {on, sw, false}}}, []Probe{CurrentProbe(l), VoltageProbe(c, Ground)}, []ElemID{ElemID(1)})
	if err != nil {
		t.Fatal(err)
	}
	if err := st.Solve(); err != nil {
		t.Fatal(err)
	}
	// i rises to I1 from I0 towards V/R, and falls towards 0.
	e1, e2 := math.Exp(-on*R/L), math.Exp(-(T-on)*R/L)
	i1 := V / R * (1 - e1) / (1 - e1*e2)
	near(t, "peak", st.Readings[0].Max, i1, 1e-6)
	near(t, "least", st.Readings[0].Min, i1*e2, 1e-6)
	near(t, "mean", st.Readings[0].Mean, V/R*on/T, 1e-6)
	near(t, "before break", st.Before[2], i1, 1e-6)
	if s.Stats.Cycles > 4 {
		t.Errorf("%d cycles walked; a few are enough", s.Stats.Cycles)
	}
	// Mean square from the two exponentials.
	tau := L / R
	sq := func(inf, i0, d float64) float64 {
		c := i0 - inf
		return inf*inf*d + 2*inf*c*tau*(1-math.Exp(-d/tau)) + c*c*tau/2*(1-math.Exp(-2*d/tau))
	}
	want := R * (sq(V/R, i1*e2, on) + sq(0, i1, T-on)) / T
	near(t, "heat", st.MeanPower(0), want, 1e-6)
}

// ignition is a primary circuit in general terms: supply, self-heating
// ballast, coupled coil with a spark gap on its secondary, condenser, switch.
func ignition(rng *rand.Rand, detail bool) (*Network, Cycle, []Probe) {
	n := NewNetwork()
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	sup, bal, coil, top := n.Node("supply"), n.Node("feed"), n.Node("core"), n.Node("top")
	emf := n.Node("emf")
	n.VoltageSource("battery", emf, Ground, f(10, 14.5))
	n.Resistor("leads", emf, sup, Resistance{Ohms: f(0.05, 0.3)})
	n.Resistor("ballast", sup, bal, Resistance{Ohms: f(0.4, 1.2), TempCo: 0.004, TempC: 60, HeatKPerW: f(1, 6)})
	n.Resistor("winding", bal, coil, Resistance{Ohms: f(1, 2), TempCo: 0.00393, TempC: 70, HeatKPerW: 2})
	l1 := n.Inductor("primary", coil, top, f(5e-3, 10e-3))
	n.Resistor("iron", coil, top, Resistance{Ohms: f(500, 3000)})
	sw := n.Contact("points", top, Ground, f(0.005, 0.05), 1e-7, false)
	probes := []Probe{VoltageProbe(bal, Ground), CurrentProbe(l1), VoltageProbe(top, Ground)}
	if detail {
		sec, gap := n.Node("sec"), n.Node("gap")
		l2 := n.Inductor("secondary", sec, Ground, f(40, 70))
		n.Couple("core coupling", l1, l2, f(0.95, 0.99))
		n.Resistor("secondary winding", sec, gap, Resistance{Ohms: 9000})
		n.Capacitor("stray", gap, Ground, 60e-12)
		n.Resistor("leak", gap, Ground, Resistance{Ohms: 20e6})
		n.Clamp("spark", gap, Ground, 3000, 900, 5e3, 1e-9)
		mid := n.Node("mid")
		n.Capacitor("condenser", top, mid, 0.22e-6)
		n.Resistor("esr", mid, Ground, Resistance{Ohms: 0.3})
	} else {
		n.Diode("spark", top, coil, f(10, 18), f(0.3, 2), 1e-9)
	}
	rpm := f(500, 5000)
	T := 30 / rpm
	return n, Cycle{T, []Action{{0, sw, true}, {T * f(0.5, 0.8), sw, false}}}, probes
}

// The steady state found at once against running cycles until they settle.
func TestSteadyAgainstRunningOn(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for trial := 0; trial < 40; trial++ {
		n, cyc, probes := ignition(rng, trial%2 == 1)
		s := mustCompile(t, n)
		st, err := s.NewSteady(cyc, probes, nil)
		if err != nil {
			t.Fatal(err)
		}
		if err := st.Solve(); err != nil {
			t.Fatalf("trial %d: %v", trial, err)
		}
		bal, _ := n.Element("ballast")
		r := s.Get(bal, HeatKPerW)*st.Power[0] + 60
		near(t, "ballast heat", st.Heat(bal), r, 1e-6)
		run, err := s.NewTransient(probes)
		if err != nil {
			t.Fatal(err)
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		const cycles = 30
		for k := 0; k < cycles; k++ {
			lo, hi = math.Inf(1), math.Inf(-1)
			every := 0.0
			if k == cycles-1 {
				every = cyc.Period / 100000
			}
			err := run.Run(float64(k+1)*cyc.Period, []Action{
				{float64(k) * cyc.Period, cyc.Actions[0].Elem, true},
				{float64(k)*cyc.Period + cyc.Actions[1].At, cyc.Actions[0].Elem, false},
			}, every, func(_ float64, v []float64) { lo, hi = math.Min(lo, v[0]), math.Max(hi, v[0]) })
			if err != nil {
				t.Fatalf("trial %d: %v", trial, err)
			}
		}
		for i, x := range run.State() {
			if d := math.Abs(x - st.State()[i]); d > 2e-5*(math.Abs(x)+1) {
				t.Errorf("trial %d: state %d after %d cycles %g, at once %g", trial, i, cycles, x, st.State()[i])
			}
		}
		near(t, "feed least", st.Readings[0].Min, lo, 1e-4)
		near(t, "feed most", st.Readings[0].Max, hi, 1e-4)
	}
}

func BenchmarkSteadySimple(b *testing.B) { benchSteady(b, false) }
func BenchmarkSteadyDetail(b *testing.B) { benchSteady(b, true) }

func benchSteady(b *testing.B, detail bool) {
	n, cyc, probes := ignition(rand.New(rand.NewPCG(1, 1)), detail)
	s := mustCompile(b, n)
	st, err := s.NewSteady(cyc, probes, nil)
	if err != nil {
		b.Fatal(err)
	}
	e, _ := n.Element("battery")
	b.ReportAllocs()
	k := 0
	for b.Loop() {
		k++
		s.Set(e, Volts, 12+0.01*float64(k%50))
		if err := st.Solve(); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(s.Stats.Cycles)/float64(k), "cycles/solve")
}
