package circuit

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// coilCycle is a coil behind a resistance, connected from 0 to on and
// freewheeling without loss until T.
func coilCycle(t *testing.T, V, R, L, T, on float64) *Steady {
	t.Helper()
	n := NewNetwork()
	a, b, c := n.Node("a"), n.Node("b"), n.Node("c")
	n.VoltageSource("v", a, Ground, V)
	n.Resistor("r", a, b, Resistance{Ohms: R})
	l := n.Inductor("l", b, c, L)
	sw := n.Switch("sw", c, Ground, 1e-7, 1e-13, false)
	n.Diode("free", c, a, 0, 1e-7, 1e-13)
	st, err := mustCompile(t, n).NewSteady(Cycle{T, []Action{{0, sw, true}, {on, sw, false}}}, []Probe{CurrentProbe(l)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

// From a period of a millionth of the coil's time constant to one of a
// thousand million times it, and any dwell from none to all of the period.
func TestSteadyPeriodsTinyAndHuge(t *testing.T) {
	const V, R, L = 12.0, 3.0, 9e-3
	tau := L / R
	for _, T := range []float64{1e-9, 1e-6, 1e-3, 1, 1e6} {
		for _, duty := range []float64{0, 1e-6, 0.3, 1 - 1e-9} {
			st := coilCycle(t, V, R, L, T, duty*T)
			if err := st.Solve(); err != nil {
				t.Errorf("period %g s, duty %g: %v", T, duty, err)
				continue
			}
			x1, x := -math.Expm1(-duty*T/tau), -math.Expm1(-T/tau)
			peak := V / R * x1 / x
			r := st.Readings[0]
			tol := 1e-6*V/R*duty + 1e-11
			if math.Abs(r.Max-peak) > 1e-6*peak+tol || math.Abs(r.Mean-V/R*duty) > tol || math.Abs(r.Min-peak*math.Exp(-(1-duty)*T/tau)) > 1e-6*peak+tol {
				t.Errorf("period %g s, duty %g: mean %g, most %g; want %g, %g", T, duty, r.Mean, r.Max, V/R*duty, peak)
			}
		}
	}
}

// A warm start far from a changed answer must not be taken for it, however
// little one cycle changes.
func TestSteadyWarmStartOfShortCycle(t *testing.T) {
	st := coilCycle(t, 12, 3, 9e-3, 1e-9, 0.5e-9)
	for _, volts := range []float64{12, 13, 6} {
		if err := st.s.Set(0, Volts, volts); err != nil {
			t.Fatal(err)
		}
		if err := st.Solve(); err != nil {
			t.Fatal(err)
		}
		near(t, "mean", st.Readings[0].Mean, volts/6, 1e-6)
	}
}

// Time constants a thousand million to one, each with its closed form.
func TestStiffSteady(t *testing.T) {
	const T, on = 20e-3, 8e-3
	n := NewNetwork()
	a, b, c, d := n.Node("a"), n.Node("b"), n.Node("c"), n.Node("d")
	n.VoltageSource("v", a, Ground, 10)
	sw := n.Switch("sw", a, b, 1e-6, 1e-12, false)
	n.Resistor("bleed", b, Ground, Resistance{Ohms: 1})
	n.Resistor("r1", b, c, Resistance{Ohms: 100})
	n.Capacitor("slow", c, Ground, 1e-3) // 0.1 s
	n.Resistor("r2", b, d, Resistance{Ohms: 100})
	n.Capacitor("fast", d, Ground, 1e-12) // 0.1 ns
	st, err := mustCompile(t, n).NewSteady(Cycle{T, []Action{{0, sw, true}, {on, sw, false}}}, []Probe{VoltageProbe(c, Ground), VoltageProbe(d, Ground)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := st.Solve(); err != nil {
		t.Fatal(err)
	}
	x1, x2 := math.Exp(-on/0.1), math.Exp(-(T-on)/0.101)
	most := 10 * (1 - x1) / (1 - x1*x2)
	near(t, "slow most", st.Readings[0].Max, most, 1e-5)
	near(t, "slow least", st.Readings[0].Min, most*x2, 1e-5)
	near(t, "fast most", st.Readings[1].Max, 10, 1e-5)
	near(t, "fast mean before opening", st.Before[2+1], 10, 1e-5)
}

// What would never settle is refused by name.
func TestSteadyRefusals(t *testing.T) {
	steady := func(n *Network, c Cycle) error {
		st, err := mustCompile(t, n).NewSteady(c, nil, nil)
		if err != nil {
			return err
		}
		return st.Solve()
	}
	// A tank without resistance.
	n := NewNetwork()
	a, b := n.Node("a"), n.Node("b")
	n.CurrentSource("i", Ground, a, 1)
	n.Inductor("l", a, Ground, 8e-3)
	n.Capacitor("c", a, Ground, 0.22e-6)
	sw := n.Switch("sw", b, Ground, 1, 1e-3, false)
	n.Resistor("r", b, Ground, Resistance{Ohms: 1})
	if err := steady(n, Cycle{1e-2, []Action{{5e-3, sw, true}}}); !errors.Is(err, ErrCycle) {
		t.Errorf("undamped tank: %v", err)
	}
	// An inductor whose current a truly open switch cuts off.
	n = NewNetwork()
	a, b = n.Node("a"), n.Node("b")
	n.VoltageSource("v", a, Ground, 1)
	n.Inductor("l", a, b, 1)
	sw = n.Switch("sw", b, Ground, 1, 0, false)
	if err := steady(n, Cycle{1, []Action{{0, sw, true}, {0.5, sw, false}}}); !errors.Is(err, ErrCutset) {
		t.Errorf("current cut off: %v", err)
	}
	// Capacitors in a loop with a source.
	n = NewNetwork()
	a = n.Node("a")
	n.VoltageSource("v", a, Ground, 1)
	n.Capacitor("c", a, Ground, 1)
	if err := steady(n, Cycle{Period: 1}); !errors.Is(err, ErrLoop) {
		t.Errorf("capacitor on a source: %v", err)
	}
	// More states than there is room for.
	n = NewNetwork()
	for i := range maxStates + 1 {
		nd := n.Node(string(rune('a' + i)))
		n.Capacitor("", nd, Ground, 1e-6)
		n.Resistor("", nd, Ground, Resistance{Ohms: 1})
	}
	if err := steady(n, Cycle{Period: 1}); !errors.Is(err, ErrCycle) {
		t.Errorf("17 states: %v", err)
	}
	// Schedules that can't be.
	n = NewNetwork()
	a = n.Node("a")
	n.VoltageSource("v", a, Ground, 1)
	sw = n.Switch("sw", a, Ground, 1, 0, false)
	rel := n.VoltageSwitch("rel", a, Ground, a, Ground, 1, 0, 5, 4)
	for name, c := range map[string]Cycle{
		"no period": {}, "negative period": {Period: -1}, "endless period": {Period: math.Inf(1)}, "no number": {Period: math.NaN()},
		"late":     {1, []Action{{1, sw, true}}},
		"early":    {1, []Action{{-0.1, sw, true}}},
		"disorder": {1, []Action{{0.5, sw, true}, {0.4, sw, false}}},
		"nan":      {1, []Action{{math.NaN(), sw, true}}},
		"source":   {1, []Action{{0.1, 0, true}}},
		"relay":    {1, []Action{{0.1, rel, true}}},
		"nothing":  {1, []Action{{0.1, 99, true}}},
	} {
		if err := steady(n, c); !errors.Is(err, ErrCycle) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// All the states a network may have, in a ladder, against running on.
func TestSteadySixteenStates(t *testing.T) {
	n := NewNetwork()
	src := n.Node("src")
	n.VoltageSource("v", src, Ground, 12)
	last := n.Node("n0")
	sw := n.Switch("sw", src, last, 0.1, 1e-4, false)
	n.Resistor("base", last, Ground, Resistance{Ohms: 20})
	for i := range maxStates / 2 {
		mid, next := n.Node("m"+string(rune('a'+i))), n.Node("n"+string(rune('a'+i)))
		n.Resistor("", last, mid, Resistance{Ohms: 0.5, TempCo: 0.004, TempC: 20, HeatKPerW: 0.5})
		n.Inductor("", mid, next, 1e-3)
		n.Capacitor("", next, Ground, 20e-6)
		last = next
	}
	n.Resistor("load", last, Ground, Resistance{Ohms: 5})
	n.Diode("clip", last, Ground, 4, 1, 1e-6)
	s := mustCompile(t, n)
	cyc := Cycle{5e-3, []Action{{0, sw, true}, {2e-3, sw, false}}}
	probes := []Probe{VoltageProbe(last, Ground)}
	st, err := s.NewSteady(cyc, probes, watchAll(n))
	if err != nil {
		t.Fatal(err)
	}
	if err := st.Solve(); err != nil {
		t.Fatal(err)
	}
	run, err := s.NewTransient(probes)
	if err != nil {
		t.Fatal(err)
	}
	for k := range 50 {
		at := float64(k) * cyc.Period
		if err := run.Run(float64(k+1)*cyc.Period, []Action{{at, sw, true}, {at + 2e-3, sw, false}}, 0, nil); err != nil {
			t.Fatal(err)
		}
	}
	for i, x := range run.State() {
		if math.Abs(x-st.State()[i]) > 1e-7*(1+math.Abs(x)) {
			t.Errorf("state %d: run on %g, at once %g", i, x, st.State()[i])
		}
	}
	base, _ := n.Element("base")
	load, _ := n.Element("load")
	to := []ParamRef{{base, Ohms}, {load, Ohms}}
	c, _ := compareGradient(t, "ladder", s, st, to, 1e-5, 1e-9)
	if c < 8 {
		t.Errorf("%d derivatives compared", c)
	}
}

// Coupling all but complete: against running on, by energy, and its
// derivatives.
func TestTightCoupling(t *testing.T) {
	for _, k := range []float64{0.999, 0.999999, -0.999999} {
		n, cyc, probes := ignition(rand.New(rand.NewPCG(51, 52)), true)
		s := mustCompile(t, n)
		l1, _ := n.Element("primary")
		l2, _ := n.Element("secondary")
		if err := s.SetCoupling(l2, l1, k); err != nil {
			t.Fatal(err)
		}
		st, err := s.NewSteady(cyc, probes, watchAll(n))
		if err != nil {
			t.Fatal(err)
		}
		if err := st.Solve(); err != nil {
			t.Errorf("k = %g: %v", k, err)
			continue
		}
		sum, size := 0.0, 0.0
		for e := range watchAll(n) {
			sum += st.MeanPower(e)
			size = math.Max(size, math.Abs(st.MeanPower(e)))
		}
		if math.Abs(sum) > 1e-7*size {
			t.Errorf("k = %g: powers sum to %g W of %g W", k, sum, size)
		}
		bat, _ := n.Element("battery")
		compareGradient(t, "tight", s, st, []ParamRef{{l1, Henries}, {bat, Volts}}, 1e-4, 1e-8)
	}
}

// What can and can't be set after compiling.
func TestSetRules(t *testing.T) {
	n := NewNetwork()
	a, b := n.Node("a"), n.Node("b")
	n.VoltageSource("v", a, Ground, 12)
	r := n.Resistor("r", a, b, Resistance{Ohms: 1, TempCo: 0.004, TempC: 20})
	hot := n.Resistor("hot", b, Ground, Resistance{Ohms: 1, TempCo: 0.004, TempC: 20, HeatKPerW: 1})
	rel := n.VoltageSwitch("rel", b, Ground, a, Ground, 1, 0, 8, 4)
	q := n.Darlington("q", a, b, 0.8, 0.1, 0, 1e-6, false)
	l1, l2, l3, l4 := n.Inductor("l1", a, b, 1e-3), n.Inductor("l2", a, n.Node("x"), 1e-3), n.Inductor("l3", a, n.Node("y"), 1e-3), n.Inductor("l4", a, n.Node("z"), 1e-3)
	for i, nd := range []string{"x", "y", "z"} {
		n.Resistor("rl"+string(rune('1'+i)), n.Node(nd), Ground, Resistance{Ohms: 10})
	}
	n.Couple("k12", l1, l2, 0.5)
	n.Couple("k23", l2, l3, 0.5)
	s := mustCompile(t, n)
	refuse := func(what string, err error) {
		t.Helper()
		if !errors.Is(err, ErrElement) {
			t.Errorf("%s: %v", what, err)
		}
	}
	accept := func(what string, err error) {
		t.Helper()
		if err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
	// Thresholds in either order; crossed ones are found when solving.
	accept("closing below opening, for now", s.Set(rel, CloseAbove, 3))
	refuse("solving with crossed thresholds", s.DC())
	accept("opening lower still", s.Set(rel, OpenBelow, 2))
	accept("solving again", s.DC())
	if !s.Closed(rel) {
		t.Error("12 V do not close a switch that closes at 3 V")
	}
	// Temperatures and coefficients.
	refuse("a coefficient that falls where it heats itself", s.Set(hot, TempCo, -0.001))
	accept("a coefficient that falls elsewhere", s.Set(r, TempCo, -0.001))
	refuse("no resistance left", s.Set(r, TempC, 1100))
	near(t, "refused figure", s.Get(r, TempC), 20, 0)
	accept("some resistance left", s.Set(r, TempC, 100))
	refuse("self-heating off", s.Set(hot, HeatKPerW, 0))
	// A clamp that is taken away and given back.
	accept("a clamp", s.Set(q, ClampVolts, 2))
	accept("solving with it", s.DC())
	with := s.Current(q)
	accept("no clamp", s.Set(q, ClampVolts, 0))
	accept("solving without", s.DC())
	near(t, "current without a clamp", s.Current(q), 1e-6*s.Voltage(a, b), 1e-9)
	accept("a clamp again", s.Set(q, ClampVolts, 2))
	accept("solving with it again", s.DC())
	near(t, "current with a clamp", s.Current(q), with, 1e-12)
	// Couplings.
	accept("a pair of its own", s.Set(l1, Coupling, 0.4))
	near(t, "coupling", s.Get(l3, Coupling), 0.5, 0)
	refuse("an inductor of two pairs", s.Set(l2, Coupling, 0.4))
	accept("by both names", s.SetCoupling(l3, l2, -0.3))
	near(t, "coupling", s.Get(l3, Coupling), -0.3, 0)
	refuse("not coupled", s.Set(l4, Coupling, 0.4))
	refuse("not a pair", s.SetCoupling(l1, l3, 0.4))
	refuse("complete", s.SetCoupling(l1, l2, 1))
	refuse("no number", s.SetCoupling(l1, l2, math.NaN()))
	near(t, "coupling", s.Get(l1, Coupling), 0.4, 0)
	if !math.IsNaN(s.Get(l2, Coupling)) || !math.IsNaN(s.Get(r, Coupling)) {
		t.Error("a coupling that is not one")
	}
	c := s.Clone()
	accept("the clone's own", c.SetCoupling(l1, l2, 0.1))
	near(t, "coupling of the first", s.Get(l1, Coupling), 0.4, 0)
	// Each pair below 1 but all three together more than can be.
	accept("strong", s.SetCoupling(l1, l2, 0.9))
	accept("strong", s.SetCoupling(l2, l3, -0.9))
	st, err := s.NewSteady(Cycle{Period: 1}, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := st.Solve(); err == nil {
		t.Error("couplings 0.9 and -0.9 of three inductors, the outer two apart, were accepted")
	} else {
		refuse("couplings together", err)
	}
	// Gradients to what is not there.
	out := make([]float64, 1)
	refuse("resistance of a source", s.Gradient(VoltageProbe(b, Ground), []ParamRef{{0, Ohms}}, out))
	refuse("element 99", s.Gradient(VoltageProbe(b, Ground), []ParamRef{{99, Ohms}}, out))
}

// A sampled motion: every multiple of the sample once and in order, with both
// sides of each event, also where they fall together.
func TestTransientSamplesOnEvents(t *testing.T) {
	n := NewNetwork()
	a, b := n.Node("a"), n.Node("b")
	n.VoltageSource("v", a, Ground, 10)
	sw := n.Switch("sw", a, b, 1e-3, 1e-9, false)
	n.Resistor("r", b, Ground, Resistance{Ohms: 10})
	s := mustCompile(t, n)
	run, err := s.NewTransient([]Probe{VoltageProbe(b, Ground)})
	if err != nil {
		t.Fatal(err)
	}
	var times, volts []float64
	acts := []Action{{0, sw, true}, {0.3, sw, false}, {0.3, sw, true}, {0.5, sw, false}, {1, sw, true}}
	err = run.Run(1, acts, 0.1, func(at float64, r []float64) { times, volts = append(times, at), append(volts, r[0]) })
	if err != nil {
		t.Fatal(err)
	}
	on := 0
	for i := range times {
		if i > 0 && times[i] < times[i-1] {
			t.Errorf("time goes back from %g to %g", times[i-1], times[i])
		}
		if volts[i] > 9 {
			on++
			if times[i] > 0.5 {
				t.Errorf("on at %g s", times[i])
			}
		} else if times[i] < 0.5-1e-9 {
			t.Errorf("off at %g s", times[i])
		}
	}
	for k := range 11 {
		at, seen := float64(k)*0.1, false
		for _, x := range times {
			seen = seen || math.Abs(x-at) < 1e-12
		}
		if !seen {
			t.Errorf("nothing was recorded at %g s", at)
		}
	}
	if !s.Closed(sw) || on < 7 {
		t.Errorf("the action at the very end was not taken, or %d records of a closed switch are too few", on)
	}
	// The next run goes on from there.
	err = run.Run(1.1, nil, 0, func(at float64, r []float64) {
		if r[0] < 9 {
			t.Errorf("off at %g s", at)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Values before actions at time zero, and before several at one time, are of
// the network as it was before any of them.
func TestBeforeActionsAtOnce(t *testing.T) {
	n := NewNetwork()
	a, b := n.Node("a"), n.Node("b")
	n.VoltageSource("v", a, Ground, 10)
	s1 := n.Switch("s1", a, b, 1, 1e-9, false)
	s2 := n.Switch("s2", b, Ground, 1, 1e-9, false)
	n.Resistor("r", b, Ground, Resistance{Ohms: 9})
	st, err := mustCompile(t, n).NewSteady(Cycle{1, []Action{{0, s1, true}, {0, s2, false}, {0.25, s2, true}, {0.5, s1, false}, {0.5, s2, false}}},
		[]Probe{VoltageProbe(b, Ground)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := st.Solve(); err != nil {
		t.Fatal(err)
	}
	both := 10 * 0.9 / 1.9
	for k, want := range []float64{0, 0, 9, both, both} {
		if got := st.Read(Asked{0, Before(k)}); math.Abs(got-want) > 1e-6 {
			t.Errorf("before action %d: %g V, want %g", k, got, want)
		}
	}
	near(t, "mean", st.Readings[0].Mean, 9*0.25+both*0.25, 1e-6)
	if !math.IsNaN(st.Read(Asked{0, Before(5)})) || !math.IsNaN(st.Read(Asked{1, Mean})) || !math.IsNaN(st.Read(Asked{0, -1})) {
		t.Error("a reading of what is not there")
	}
	if err := st.Gradient(0, Before(5), nil, nil); !errors.Is(err, ErrCycle) {
		t.Errorf("gradient of what is not there: %v", err)
	}
	if err := st.Gradient(0, Mean, []ParamRef{{0, Volts}}, nil); !errors.Is(err, ErrCycle) {
		t.Errorf("gradient without room: %v", err)
	}
}

// A figure changed so that a device has fewer pieces than before.
func TestSteadyAfterAClampIsTakenAway(t *testing.T) {
	o := trigger(rand.New(rand.NewPCG(61, 62)))
	s := mustCompile(t, o.n)
	st, err := s.NewSteady(o.cyc, o.probes, nil)
	if err != nil {
		t.Fatal(err)
	}
	sw, _ := o.n.Element("switch")
	was := s.Get(sw, ClampVolts)
	var most []float64
	for _, v := range []float64{was, 0, was, 0} {
		if err := s.Set(sw, ClampVolts, v); err != nil {
			t.Fatal(err)
		}
		if err := st.Solve(); err != nil {
			t.Fatal(err)
		}
		most = append(most, st.Readings[0].Max)
	}
	near(t, "with a clamp again", most[2], most[0], 1e-9)
	near(t, "without again", most[3], most[1], 1e-9)
	if !(most[1] > 2*most[0]) {
		t.Errorf("%g V with a clamp, %g V without", most[0], most[1])
	}
}
