package heat

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.10g, want %.10g ± %g", what, got, want, tol)
	}
}

func compiled(t testing.TB, n Network) *System {
	t.Helper()
	s, err := n.Compile()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func ran(t testing.TB, s *System, start State, cycle ...Segment) *History {
	t.Helper()
	h, err := s.Run(start, cycle)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// one is a single node of capacity c at r K/W from air.
func one(r, c float64) Network {
	return Network{Nodes: []Node{{"it", c}}, Given: []string{"air"}, Paths: []Path{{"it", "air", r}}}
}

// rk4 is an independent integrator: classical Runge-Kutta of fourth order in
// tiny steps, straight from the paths of the network and not from its
// matrices. Nodes without capacity are settled by relaxation. It returns every
// node's temperature at the end of the cycle and the highest each had.
func rk4(n Network, start State, cycle []Segment, step float64) (end, highest []float64) {
	index := map[string]int{}
	for i, x := range n.Nodes {
		index[x.Name] = i
	}
	for j, x := range n.Given {
		index[x] = -1 - j
	}
	temp := append([]float64(nil), start.NodeC...)
	given := append([]float64(nil), start.GivenC...)
	highest = make([]float64, len(temp))
	for i := range highest {
		highest[i] = math.Inf(-1)
	}
	flows := func(g Segment, tc, gc, into, pull []float64) {
		for i, p := range g.Powers {
			into[i], pull[i] = p.At(tc[i]), -p.WPerK
		}
		for _, p := range n.Paths {
			a, b := index[p.A], index[p.B]
			at := func(i int) float64 {
				if i < 0 {
					return gc[-1-i]
				}
				return tc[i]
			}
			q := (at(a) - at(b)) / p.KPerW
			if a >= 0 {
				into[a] -= q
				pull[a] += 1 / p.KPerW
			}
			if b >= 0 {
				into[b] += q
				pull[b] += 1 / p.KPerW
			}
		}
	}
	size := len(n.Nodes)
	into, pull := make([]float64, size), make([]float64, size)
	settle := func(g Segment, tc, gc []float64) {
		for range 20000 {
			flows(g, tc, gc, into, pull)
			worst := 0.0
			for i, x := range n.Nodes {
				if x.JPerK == 0 {
					tc[i] += into[i] / pull[i] / 2
					worst = max(worst, math.Abs(into[i]))
				}
			}
			if worst < 1e-9 {
				return
			}
		}
	}
	for _, g := range cycle {
		steps := int(math.Ceil(g.Seconds / step))
		dt := g.Seconds / float64(steps)
		slope := func(tc, gc []float64) (dT, dG []float64) {
			settle(g, tc, gc)
			flows(g, tc, gc, into, pull)
			dT, dG = make([]float64, size), make([]float64, len(gc))
			for i, x := range n.Nodes {
				if x.JPerK > 0 {
					dT[i] = into[i] / x.JPerK
				}
			}
			for j, v := range g.Given {
				if v.LagS > 0 {
					dG[j] = (v.ToC - gc[j]) / v.LagS
				}
			}
			return dT, dG
		}
		plus := func(x, dx []float64, h float64) []float64 {
			y := make([]float64, len(x))
			for i := range x {
				y[i] = x[i] + h*dx[i]
			}
			return y
		}
		for j, v := range g.Given {
			if v.LagS == 0 {
				given[j] = v.ToC
			}
		}
		settle(g, temp, given)
		for range steps {
			for i := range temp {
				highest[i] = max(highest[i], temp[i])
			}
			t1, g1 := slope(temp, given)
			t2, g2 := slope(plus(temp, t1, dt/2), plus(given, g1, dt/2))
			t3, g3 := slope(plus(temp, t2, dt/2), plus(given, g2, dt/2))
			t4, g4 := slope(plus(temp, t3, dt), plus(given, g3, dt))
			for i := range temp {
				temp[i] += dt / 6 * (t1[i] + 2*t2[i] + 2*t3[i] + t4[i])
			}
			for j := range given {
				given[j] += dt / 6 * (g1[j] + 2*g2[j] + 2*g3[j] + g4[j])
			}
			settle(g, temp, given)
		}
		for i := range temp {
			highest[i] = max(highest[i], temp[i])
		}
	}
	return temp, highest
}
