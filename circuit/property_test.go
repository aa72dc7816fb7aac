package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// drawLinear draws a connected network of resistors, inductors, capacitors,
// switches and sources of both kinds; the sources' values are drawn too.
func drawLinear(t *rapid.T) (n *Network, sources []ElemID) {
	n = NewNetwork()
	nodes := []NodeID{Ground}
	ohms := rapid.Float64Range(-3, 3)
	node := func() NodeID { return nodes[rapid.IntRange(0, len(nodes)-1).Draw(t, "node")] }
	for i := range rapid.IntRange(2, 9).Draw(t, "nodes") {
		nd := n.Node(fmt.Sprint("n", i))
		n.Resistor("", nd, node(), Resistance{Ohms: math.Exp(ohms.Draw(t, "ln ohms"))})
		nodes = append(nodes, nd)
	}
	for range rapid.IntRange(0, 8).Draw(t, "more") {
		a, b := node(), node()
		if a == b {
			continue
		}
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			n.Capacitor("", a, b, 1e-6)
		case 1:
			n.Switch("", a, b, 0.05, 1e-9, rapid.Bool().Draw(t, "closed"))
		case 2:
			sources = append(sources, n.CurrentSource("", a, b, rapid.Float64Range(-5, 5).Draw(t, "amps")))
		default:
			n.Resistor("", a, b, Resistance{Ohms: math.Exp(ohms.Draw(t, "ln ohms"))})
		}
	}
	// Sources of voltage and inductors hang on nodes of their own, so that
	// they make no loops.
	for i := range rapid.IntRange(1, 3).Draw(t, "feeds") {
		nd := n.Node(fmt.Sprint("feed", i))
		sources = append(sources, n.VoltageSource("", nd, Ground, rapid.Float64Range(-15, 15).Draw(t, "volts")))
		other := n.Node(fmt.Sprint("beyond", i))
		n.Inductor("", nd, other, 1e-3)
		n.Resistor("", other, nodes[1+rapid.IntRange(0, len(nodes)-2).Draw(t, "to")], Resistance{Ohms: math.Exp(ohms.Draw(t, "ln ohms"))})
	}
	return n, sources
}

// value returns the figure of a source.
func value(s *Solver, e ElemID) (Param, float64) {
	p := Volts
	if s.net.ElementKind(e) == KindCurrentSource {
		p = Amps
	}
	return p, s.Get(e, p)
}

// Superposition: what all sources do together is the sum of what each does
// alone.
func TestSuperposition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, sources := drawLinear(t)
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		values := make([]float64, len(sources))
		for i, e := range sources {
			_, values[i] = value(s, e)
		}
		read := func() []float64 {
			if err := s.DC(); err != nil {
				t.Fatal(err)
			}
			var out []float64
			for nd := 1; nd < n.Nodes(); nd++ {
				out = append(out, s.V(NodeID(nd)))
			}
			for e := range n.Elements() {
				out = append(out, s.Current(ElemID(e)))
			}
			return out
		}
		all := read()
		sum, size := make([]float64, len(all)), 1e-6
		for i := range sources {
			for j, e := range sources {
				p, _ := value(s, e)
				v := 0.0
				if i == j {
					v = values[j]
				}
				if err := s.Set(e, p, v); err != nil {
					t.Fatal(err)
				}
			}
			for k, v := range read() {
				sum[k] += v
				size = math.Max(size, math.Abs(v))
			}
		}
		for k := range all {
			if math.Abs(all[k]-sum[k]) > 1e-10*size {
				t.Errorf("reading %d: %g together, %g one by one", k, all[k], sum[k])
			}
		}
	})
}

// Reciprocity: in a network of resistances a current put in at one pair of
// nodes makes the same voltage at another pair as it would the other way
// round.
func TestReciprocity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, sources := drawLinear(t)
		pick := rapid.IntRange(0, n.Nodes()-1)
		a, b := NodeID(pick.Draw(t, "a")), NodeID(pick.Draw(t, "b"))
		c, d := NodeID(pick.Draw(t, "c")), NodeID(pick.Draw(t, "d"))
		if a == b || c == d {
			t.Skip("no pair")
		}
		one := n.CurrentSource("one", a, b, 0)
		other := n.CurrentSource("other", c, d, 0)
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range sources {
			p, _ := value(s, e)
			if err := s.Set(e, p, 0); err != nil {
				t.Fatal(err)
			}
		}
		through := func(e ElemID, x, y NodeID) float64 {
			if err := s.Set(e, Amps, 1); err != nil {
				t.Fatal(err)
			}
			if err := s.DC(); err != nil {
				t.Fatal(err)
			}
			v := s.Voltage(x, y)
			s.Set(e, Amps, 0)
			return v
		}
		v1, v2 := through(one, c, d), through(other, a, b)
		if math.Abs(v1-v2) > 1e-9*(math.Abs(v1)+1e-3) {
			t.Errorf("%g one way, %g the other", v1, v2)
		}
	})
}

// Tellegen's theorem: the powers of all elements sum to nothing, whatever
// they are [B. D. H. Tellegen, Philips Research Reports 7, 1952; reference
// from memory].
func TestTellegen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, _ := randomDC(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)))
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		if err := s.DC(); err != nil {
			t.Fatal(err)
		}
		sum, size := 0.0, 1e-6
		for e := range n.Elements() {
			p := s.Power(ElemID(e))
			sum += p
			size = math.Max(size, math.Abs(p))
			// What gives is a source; all else takes.
			switch n.ElementKind(ElemID(e)) {
			case KindVoltageSource, KindCurrentSource, KindLimitedSource, KindInductor:
			default:
				if p < -1e-9*size {
					t.Errorf("%s gives %g W", n.ElementName(ElemID(e)), -p)
				}
			}
		}
		if math.Abs(sum) > 1e-9*size {
			t.Errorf("powers sum to %g W of %g W", sum, size)
		}
	})
}

// Over a steady cycle the mean power the sources give is what resistances and
// devices take, and inductors and capacitors take none.
func TestEnergyOverACycle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		var n *Network
		var cyc Cycle
		if k := rapid.IntRange(0, 6).Draw(t, "network"); k < 5 {
			o := odds(rng)[k]
			n, cyc = o.n, o.cyc
		} else {
			n, cyc, _ = ignition(rng, k == 6)
		}
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		st, err := s.NewSteady(cyc, nil, watchAll(n))
		if err != nil {
			t.Fatal(err)
		}
		if err := st.Solve(); err != nil {
			t.Skip(err) // a relay between two orders of events need not repeat
		}
		sum, size := 0.0, 1e-6
		for e := range n.Elements() {
			p := st.MeanPower(e)
			sum += p
			size = math.Max(size, math.Abs(p))
		}
		if math.Abs(sum) > 1e-8*size {
			t.Errorf("mean powers sum to %g W of %g W", sum, size)
		}
		for e := range n.Elements() {
			switch n.ElementKind(ElemID(e)) {
			case KindInductor, KindCapacitor:
				// Coupled inductors pass power on, so only those alone count.
				if len(n.couplings) == 0 && math.Abs(st.MeanPower(e)) > 1e-8*size {
					t.Errorf("%s takes %g W", n.ElementName(ElemID(e)), st.MeanPower(e))
				}
			}
		}
	})
}

// The sensitivities of a voltage to all sources, times the sources, sum to the
// voltage: a linear network is homogeneous [Euler's theorem].
func TestGradientIsHomogeneous(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, sources := drawLinear(t)
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		nd := NodeID(rapid.IntRange(1, n.Nodes()-1).Draw(t, "node"))
		var to []ParamRef
		for _, e := range sources {
			p, _ := value(s, e)
			to = append(to, ParamRef{e, p})
		}
		out := make([]float64, len(to))
		if err := s.Gradient(VoltageProbe(nd, Ground), to, out); err != nil {
			t.Fatal(err)
		}
		sum, size := 0.0, 1.0
		for i, q := range to {
			x := out[i] * s.Get(q.Elem, q.Param)
			sum += x
			size = math.Max(size, math.Abs(x))
		}
		if math.Abs(sum-s.V(nd)) > 1e-10*size {
			t.Errorf("V = %g, from its gradient %g", s.V(nd), sum)
		}
	})
}
