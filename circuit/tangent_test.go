package circuit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A coil behind a resistance, connected for half of the time and freewheeling
// for the other half, all in closed form: with x = e^{-RT/2L} the current
// swings between V/R · x/(1+x) and V/R · 1/(1+x), its mean is V/2R [any power
// electronics text; here by hand].
func TestSteadyGradientClosedForm(t *testing.T) {
	const V, R, L, T = 12.0, 3.0, 8e-3, 5e-3
	n := NewNetwork()
	a, b, c := n.Node("a"), n.Node("b"), n.Node("c")
	src := n.VoltageSource("v", a, Ground, V)
	r := n.Resistor("r", a, b, Resistance{Ohms: R})
	l := n.Inductor("l", b, c, L)
	sw := n.Switch("sw", c, Ground, 1e-7, 1e-13, false)
	free := n.Diode("free", c, a, 0, 1e-7, 1e-13)
	s := mustCompile(t, n)
	st, err := s.NewSteady(Cycle{T, []Action{{0, sw, true}, {T / 2, sw, false}}}, []Probe{CurrentProbe(l)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	to := []ParamRef{{src, Volts}, {r, Ohms}, {l, Henries}, {free, Knee}}
	x := math.Exp(-R * T / 2 / L)
	dxR, dxL := -x*T/2/L, x*R*T/2/L/L
	// A knee k drives the second half down:
	//   I1 = V/R (1-x) + I0 x,  I0 = -k/R (1-x) + I1 x
	dI1k := -x / R * (1 - x) / (1 - x*x)
	dI0k := -1 / R * (1 - x) / (1 - x*x)
	want := map[Of][]float64{
		Mean:      {1 / (2 * R), -V / (2 * R * R), 0, -1 / (2 * R)},
		Max:       {1 / R / (1 + x), -V/R/R/(1+x) - V/R/(1+x)/(1+x)*dxR, -V / R / (1 + x) / (1 + x) * dxL, dI1k},
		Min:       {1 / R * x / (1 + x), -V/R/R*x/(1+x) + V/R/(1+x)/(1+x)*dxR, V / R / (1 + x) / (1 + x) * dxL, dI0k},
		Before(0): {1 / R * x / (1 + x), -V/R/R*x/(1+x) + V/R/(1+x)/(1+x)*dxR, V / R / (1 + x) / (1 + x) * dxL, dI0k},
		Before(1): {1 / R / (1 + x), -V/R/R/(1+x) - V/R/(1+x)/(1+x)*dxR, -V / R / (1 + x) / (1 + x) * dxL, dI1k},
	}
	out := make([]float64, len(to))
	for of, w := range want {
		if err := st.Gradient(0, of, to, out); err != nil {
			t.Fatal(err)
		}
		for j := range to {
			if d := math.Abs(out[j] - w[j]); !(d <= 2e-6*math.Abs(w[j])+1e-7) {
				t.Errorf("d(%s)/d(%s) = %.9g, want %.9g", of, to[j].Param, out[j], w[j])
			}
		}
	}
}

// allRefs lists every figure of every element, and the coupling of pairs.
func allRefs(n *Network) []ParamRef {
	var refs []ParamRef
	for e := range n.elems {
		for _, p := range n.Params(ElemID(e)) {
			refs = append(refs, ParamRef{ElemID(e), p})
		}
	}
	for _, c := range n.couplings {
		refs = append(refs, ParamRef{c.l1, Coupling})
	}
	return refs
}

// compareGradient puts the gradient of everything asked to every figure
// before central differences of whole solves, extrapolated to a step of
// nothing [Romberg's rule]. Several steps are tried; where none of them
// agrees with itself well enough to judge by, nothing is compared and it is
// counted as left out. Agreement is wanted to tol, or where a doubling of the
// figure would move the reading by less than floor of its size.
func compareGradient(t *testing.T, name string, s *Solver, st *Steady, refs []ParamRef, tol, floor float64) (compared, leftOut int) {
	t.Helper()
	st.tol, st.heatTol = 1e-13, 1e-10 // differences need more than a reading does
	var asked []Asked
	for i := range st.probes {
		for _, o := range []Of{Mean, Min, Max} {
			asked = append(asked, Asked{i, o})
		}
		for k := range st.cycle.Actions {
			asked = append(asked, Asked{i, Before(k)})
		}
	}
	grad := make([]float64, len(asked)*len(refs))
	if err := st.Gradients(asked, refs, grad); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	base, size := make([]float64, len(asked)), make([]float64, len(asked))
	for i, a := range asked {
		base[i] = st.Read(a)
		size[i] = math.Max(math.Abs(st.Readings[a.Probe].Min), math.Abs(st.Readings[a.Probe].Max)) + 1e-9
	}
	for j, q := range refs {
		v := s.Get(q.Elem, q.Param)
		if v == 0 {
			continue
		}
		room := math.Abs(v)
		if q.Param == Coupling {
			room = 1 - math.Abs(v)
		}
		read := func(x float64) []float64 {
			if err := s.Set(q.Elem, q.Param, x); err != nil {
				t.Fatal(err)
			}
			if err := st.Solve(); err != nil {
				return nil // between two orders of events there can be none that repeats
			}
			out := make([]float64, len(asked))
			for i, a := range asked {
				out[i] = st.Read(a)
			}
			return out
		}
		open := make([]bool, len(asked))
		left := len(asked)
		for i := range open {
			open[i] = true
		}
		for _, rel := range []float64{1e-2, 1e-3, 0.2} {
			if left == 0 {
				break
			}
			h := rel * room
			var diff [3][]float64
			for k := range diff {
				up, down := read(v+h), read(v-h)
				if up == nil || down == nil {
					up, down = make([]float64, len(asked)), make([]float64, len(asked))
					for i := range up {
						up[i] = math.NaN()
					}
				}
				diff[k] = make([]float64, len(asked))
				for i := range asked {
					diff[k][i] = (up[i] - down[i]) / (2 * h)
				}
				h /= 2
			}
			for i, a := range asked {
				if !open[i] {
					continue
				}
				r1 := diff[1][i] + (diff[1][i]-diff[0][i])/3
				r2 := diff[2][i] + (diff[2][i]-diff[1][i])/3
				fd := r2 + (r2-r1)/15
				if !(math.Abs(r2-r1) <= tol/2*math.Abs(fd)) && !(math.Abs(r2-r1)*math.Abs(v) <= 1e-10*size[i]) {
					continue // no difference to judge by at this step
				}
				open[i] = false
				left--
				compared++
				got := grad[i*len(refs)+j]
				if d := math.Abs(got - fd); !(d <= tol*math.Abs(fd)) && d*math.Abs(v) > floor*size[i] {
					t.Errorf("%s: d(%s of probe %d)/d(%s of %s) = %.9g, differences give %.9g (%.9g, %.9g)", name, a.What, a.Probe, q.Param, s.net.ElementName(q.Elem), got, fd, r1, r2)
				}
			}
		}
		leftOut += left
		s.Set(q.Elem, q.Param, v)
	}
	if err := st.Solve(); err != nil {
		t.Fatal(err)
	}
	for i, a := range asked {
		if got := st.Read(a); math.Abs(got-base[i]) > 1e-8*size[i] {
			t.Errorf("%s: %s of probe %d is %g after the gradient, was %g", name, a.What, a.Probe, got, base[i])
		}
	}
	return compared, leftOut
}

func TestSteadyGradientAgainstDifferences(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	compared, leftOut := 0, 0
	for trial := 0; trial < 8; trial++ {
		detail := trial%4 == 3
		n, cyc, probes := ignition(rng, detail)
		s := mustCompile(t, n)
		st, err := s.NewSteady(cyc, probes, nil)
		if err != nil {
			t.Fatal(err)
		}
		c, k := compareGradient(t, "ignition", s, st, allRefs(n), 1e-5, 1e-9)
		t.Logf("detail %v: %d compared, %d left out", detail, c, k)
		compared, leftOut = compared+c, leftOut+k
	}
	t.Logf("%d derivatives compared, %d left out", compared, leftOut)
}
