package circuit

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if d := math.Abs(got - want); !(d <= rel*math.Max(1e-12, math.Abs(want))) {
		t.Errorf("%s = %.12g, want %.12g (off by %.3g)", what, got, want, d)
	}
}

func mustCompile(t testing.TB, n *Network) *Solver {
	t.Helper()
	s, err := n.Compile()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestDividerWithSourcesAndInductors(t *testing.T) {
	n := NewNetwork()
	a, b, c := n.Node("a"), n.Node("b"), n.Node("c")
	v := n.VoltageSource("v", a, Ground, 12)
	n.Resistor("r1", a, b, Resistance{Ohms: 2})
	l := n.Inductor("l", b, c, 8e-3)
	r2 := n.Resistor("r2", c, Ground, Resistance{Ohms: 1, TempCo: 0.00393, TempC: 100})
	n.Capacitor("cap", c, Ground, 1e-6)
	s := mustCompile(t, n)
	if err := s.DC(); err != nil {
		t.Fatal(err)
	}
	r := 1 + 0.00393*80
	near(t, "V(c)", s.V(c), 12*r/(2+r), 1e-13)
	near(t, "I(l)", s.Current(l), 12/(2+r), 1e-13)
	near(t, "I(v)", s.Current(v), -12/(2+r), 1e-13)
	near(t, "P(r2)", s.Power(r2), 144*r/(2+r)/(2+r), 1e-13)
}

// A ballast in series with a coil on a stiff supply: v = i (R'/(1 - κ i²) + Rc).
func TestSelfHeating(t *testing.T) {
	n := NewNetwork()
	a, b := n.Node("a"), n.Node("b")
	n.VoltageSource("v", a, Ground, 12)
	bal := n.Resistor("ballast", a, b, Resistance{Ohms: 0.9, TempCo: 0.004, TempC: 60, HeatKPerW: 8})
	n.Resistor("coil", b, Ground, Resistance{Ohms: 1.5})
	s := mustCompile(t, n)
	if err := s.DC(); err != nil {
		t.Fatal(err)
	}
	i := s.Current(bal)
	temp := 60 + 8*s.Power(bal)
	near(t, "heat", s.Heat(bal), temp, 1e-12)
	near(t, "supply", i*(0.9*(1+0.004*(temp-20))+1.5), 12, 1e-12)
}

func TestNamedErrors(t *testing.T) {
	n := NewNetwork()
	a, b := n.Node("a"), n.Node("b")
	n.VoltageSource("v1", a, Ground, 12)
	n.VoltageSource("v2", a, b, 1)
	n.Inductor("l", b, Ground, 1)
	_, err := n.Compile()
	if !errors.Is(err, ErrLoop) {
		t.Errorf("loop: got %v", err)
	}
	n = NewNetwork()
	a, b, c := n.Node("a"), n.Node("b"), n.Node("c")
	n.VoltageSource("v1", a, Ground, 12)
	n.Resistor("r", b, c, Resistance{Ohms: 1})
	n.Capacitor("c", a, b, 1e-6)
	s := mustCompile(t, n)
	if err := s.DC(); !errors.Is(err, ErrFloating) {
		t.Errorf("floating: got %v", err)
	}
	n = NewNetwork()
	a = n.Node("a")
	n.CurrentSource("i", Ground, a, 1)
	n.Switch("sw", a, Ground, 0.01, 0, false)
	s = mustCompile(t, n)
	if err := s.DC(); !errors.Is(err, ErrCutset) {
		t.Errorf("cutset: got %v", err)
	}
	n = NewNetwork()
	a, b = n.Node("a"), n.Node("b")
	n.VoltageSource("v", a, Ground, 12)
	n.Resistor("r", a, b, Resistance{Ohms: 10})
	n.Resistor("r2", b, Ground, Resistance{Ohms: 100})
	n.VoltageSwitch("buzzer", b, Ground, b, Ground, 1, 0, 8, 4)
	s = mustCompile(t, n)
	if err := s.DC(); !errors.Is(err, ErrChatter) {
		t.Errorf("chatter: got %v", err)
	}
	n = NewNetwork()
	a = n.Node("a")
	n.Resistor("zero", a, Ground, Resistance{})
	n.Resistor("nan", a, Ground, Resistance{Ohms: math.NaN()})
	n.Resistor("self", a, a, Resistance{Ohms: 1})
	if _, err := n.Compile(); !errors.Is(err, ErrElement) {
		t.Errorf("element: got %v", err)
	}
}

// randomDC builds a connected network of every kind of DC element.
func randomDC(rng *rand.Rand) (*Network, []ParamRef) {
	n := NewNetwork()
	nodes := []NodeID{Ground}
	count := 4 + rng.IntN(8)
	for i := 1; i <= count; i++ {
		nd := n.Node(fmt.Sprintf("n%d", i))
		// A spanning tree of resistors keeps every node decided.
		n.Resistor("", nd, nodes[rng.IntN(len(nodes))], Resistance{Ohms: math.Exp(rng.NormFloat64()), TempCo: 0.004, TempC: 80 * rng.Float64()})
		nodes = append(nodes, nd)
	}
	pick := func() (NodeID, NodeID) {
		a := rng.IntN(len(nodes))
		b := (a + 1 + rng.IntN(len(nodes)-1)) % len(nodes)
		return nodes[a], nodes[b]
	}
	ohm := func() float64 { return math.Exp(rng.NormFloat64()) }
	for k := 0; k < 3+rng.IntN(6); k++ {
		a, b := pick()
		switch rng.IntN(10) {
		case 0:
			n.CurrentSource("", a, b, 3*rng.NormFloat64())
		case 1:
			n.Diode("", a, b, 0.7*rng.Float64(), 0.02+0.1*rng.Float64(), 1e-6)
		case 2:
			n.Clamp("", a, b, 2*rng.Float64(), 2*rng.Float64(), 0.1, 1e-6)
		case 3:
			n.Darlington("", a, b, 0.9, 0.05, 6, 1e-6, rng.IntN(2) == 0)
		case 4:
			n.MOSFET("", a, b, 0.05, 5, 0.8, 1e-6, rng.IntN(2) == 0)
		case 5:
			n.LimitedSource("", a, b, 5+8*rng.Float64(), 0.02, 3*rng.Float64(), 1e-6)
		case 6:
			n.Resistor("", a, b, Resistance{Ohms: ohm(), TempCo: 0.004, TempC: 50, HeatKPerW: 5})
		case 7:
			n.Contact("", a, b, 0.01, 1e-9, rng.IntN(2) == 0)
		default:
			n.Resistor("", a, b, Resistance{Ohms: ohm()})
		}
	}
	a, b := nodes[1], Ground
	n.VoltageSource("supply", a, b, 6+8*rng.Float64())
	var refs []ParamRef
	for e := range n.elems {
		for _, p := range n.Params(ElemID(e)) {
			refs = append(refs, ParamRef{ElemID(e), p})
		}
	}
	return n, refs
}

// Kirchhoff's current law at every node, each device on its own curve: the
// solution is checked against the definitions, not against the solver.
func TestRandomNetworksObeyKirchhoff(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for trial := 0; trial < 500; trial++ {
		n, _ := randomDC(rng)
		s := mustCompile(t, n)
		if err := s.DC(); err != nil {
			t.Fatalf("trial %d: %v", trial, err)
		}
		sum := make([]float64, n.Nodes())
		most := 1.0
		for e := range n.elems {
			i := s.Current(ElemID(e))
			most = math.Max(most, math.Abs(i))
			el := &s.elems[e]
			sum[el.a] += i
			sum[el.b] -= i
			if isDevice(el.kind) {
				p := s.shape[e]
				v := s.Voltage(el.a, el.b)
				k := p.segment(v)
				if want := p.g[k]*v + p.i0[k]; math.Abs(want-i) > 1e-8*most {
					t.Errorf("trial %d: %s off its curve: %g, want %g", trial, el.kind, i, want)
				}
			}
		}
		for nd, r := range sum {
			if math.Abs(r) > 1e-10*most {
				t.Errorf("trial %d: node %d: currents sum to %g", trial, nd, r)
			}
		}
	}
}

// The adjoint derivative against a central difference.
func TestGradientAgainstDifferences(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	checked := 0
	for trial := 0; trial < 200; trial++ {
		n, refs := randomDC(rng)
		s := mustCompile(t, n)
		if err := s.DC(); err != nil {
			t.Fatal(err)
		}
		pr := VoltageProbe(NodeID(1+rng.IntN(n.Nodes()-1)), Ground)
		if rng.IntN(2) == 0 {
			pr = CurrentProbe(ElemID(rng.IntN(n.Elements())))
		}
		grad := make([]float64, len(refs))
		if err := s.Gradient(pr, refs, grad); err != nil {
			t.Fatal(err)
		}
		segs := append([]int8(nil), s.seg...)
		for j, q := range refs {
			v := s.Get(q.Elem, q.Param)
			h := 1e-5 * math.Max(0.1, math.Abs(v))
			read := func(x float64) (float64, bool) {
				if s.Set(q.Elem, q.Param, x) != nil {
					return 0, false
				}
				if err := s.DC(); err != nil {
					t.Fatal(err)
				}
				for k := range segs {
					if segs[k] != s.seg[k] {
						return 0, false
					}
				}
				return s.Read(pr), true
			}
			if q.Param == OffSiemens {
				h = 1e-7
			}
			hi, ok1 := read(v + h)
			lo, ok2 := read(v - h)
			s.Set(q.Elem, q.Param, v)
			if !ok1 || !ok2 {
				continue
			}
			fd := (hi - lo) / (2 * h)
			checked++
			if math.Abs(fd-grad[j]) > 1e-4*(math.Abs(fd)+1e-3*math.Abs(s.Read(pr))+1e-3)+5e-14/h {
				t.Errorf("trial %d: d/d(%s of %s) = %g, difference gives %g", trial, q.Param, n.ElementKind(q.Elem), grad[j], fd)
			}
		}
		s.DC()
	}
	if checked < 2000 {
		t.Errorf("only %d derivatives were checked", checked)
	}
}

func TestSolvesDoNotAllocate(t *testing.T) {
	n, _ := randomDC(rand.New(rand.NewPCG(5, 6)))
	s := mustCompile(t, n)
	e, _ := n.Element("supply")
	v := 6.0
	if a := testing.AllocsPerRun(100, func() {
		v += 0.01
		s.Set(e, Volts, v)
		if s.DC() != nil {
			t.Fatal("no solution")
		}
	}); a != 0 {
		t.Errorf("%g allocations a solve", a)
	}
}

func BenchmarkDC(b *testing.B) {
	n := NewNetwork()
	n.VoltageSource("v", n.Node("n0"), Ground, 12)
	prev := n.Node("n0")
	for i := 1; i < 12; i++ {
		nd := n.Node("n" + string(rune('0'+i)))
		n.Resistor("", prev, nd, Resistance{Ohms: 0.1})
		n.Resistor("", nd, Ground, Resistance{Ohms: 5})
		prev = nd
	}
	s := mustCompile(b, n)
	e, _ := n.Element("resistor 1")
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s.Set(e, Ohms, 0.1+1e-6*float64(i%100))
		s.DC()
	}
}
