package heat

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"dwellwright/internal/judge"
)

// One node: T = Ta + P R (1 - exp(-t/RC)), any textbook of heat transfer
// (lumped capacity).
func TestOneNodeExponential(t *testing.T) {
	s := compiled(t, one(3, 500))
	h := ran(t, s, s.Even(20), Segment{"on", 6000, []Power{{W: 30}}, []Given{Held(20)}})
	for _, sec := range []float64{0, 1, 100, 1500, 4000, 6000} {
		near(t, "it", h.At(0, sec), 20+90*(1-math.Exp(-sec/1500)), 1e-10)
	}
	// The limit of 80 °C: 90 (1 - x) = 60, t = 1500 ln 3.
	to, ok := h.TimeTo(0, 80)
	near(t, "time to 80 °C", to, 1500*math.Log(3), 1e-6)
	if !ok {
		t.Error("80 °C is not reached")
	}
	near(t, "time above 80 °C", h.TimeAbove(0, 80), 6000-1500*math.Log(3), 1e-6)
	if _, ok := h.TimeTo(0, 110); ok {
		t.Error("110 °C, the end value, is reached in finite time")
	}
}

// Copper at constant current makes one node again, with the time constant
// RC/(1 - R P20 a) and the end value (Ta + R P20 (1 - 20 a))/(1 - R P20 a).
func TestOneNodeOfCopper(t *testing.T) {
	s := compiled(t, one(4, 300))
	left := 1 - 4*30*CopperPerK
	end, tau := (60+4*30*(1-20*CopperPerK))/left, 4*300/left
	h := ran(t, s, s.Even(60), Segment{"on", 9000, []Power{Copper(30, 20)}, []Given{Held(60)}})
	for _, sec := range []float64{10, 1000, 9000} {
		near(t, "copper", h.At(0, sec), end+(60-end)*math.Exp(-sec/tau), 1e-9)
	}
}

// At the very edge of runaway heat grows as fast as it leaves and the
// temperature rises in a straight line, P/C; beyond it grows exponentially.
func TestEdgeOfRunaway(t *testing.T) {
	s := compiled(t, one(4, 300))
	h := ran(t, s, s.Even(20), Segment{"edge", 600, []Power{{W: 30, AtC: 20, WPerK: 0.25}}, []Given{Held(20)}})
	near(t, "edge", h.At(0, 600), 20+30*600/300.0, 1e-9)

	beyond := Power{W: 30, AtC: 20, WPerK: 0.30}
	if _, err := s.Steady(nil, []Power{beyond}, []float64{20}); !errors.Is(err, ErrRunaway) {
		t.Errorf("steady beyond the edge: %v", err)
	}
	// C dT/dt = 30 + 0.05 (T-20): T = 20 + 600 (exp(t/6000) - 1).
	h = ran(t, s, s.Even(20), Segment{"short", 600, []Power{beyond}, []Given{Held(20)}})
	near(t, "short", h.At(0, 600), 20+600*math.Expm1(0.1), 1e-9)

	h, err := s.Run(s.Even(20), []Segment{{"long", 1e6, []Power{beyond}, []Given{Held(20)}}})
	var away *RunawayError
	if !errors.As(err, &away) || away.Node != "it" || away.Segment != "long" {
		t.Fatalf("long: %v", err)
	}
	near(t, "molten after", away.AfterS, 6000*math.Log(1+(BeyondC-20)/600), 1e-6)
	to, ok := h.TimeTo(0, 100)
	near(t, "100 °C after", to, 6000*math.Log(1+80/600.0), 1e-6)
	if !ok || h.Seconds != away.AfterS {
		t.Errorf("history of %g s, error after %g s", h.Seconds, away.AfterS)
	}
}

func TestRunawayWithoutCapacity(t *testing.T) {
	s := compiled(t, one(4, 0))
	if _, err := s.Run(s.Even(20), []Segment{{"on", 1, []Power{{W: 1, WPerK: 0.3}}, []Given{Held(20)}}}); !errors.Is(err, ErrRunaway) {
		t.Errorf("runaway at once: %v", err)
	}
	h := ran(t, s, s.Even(20), Segment{"on", 10, []Power{{W: 5}}, []Given{{ToC: 60, LagS: 5}}}, Segment{"off", 10, []Power{{}}, []Given{Held(30)}})
	near(t, "follows at once", h.At(0, 5), 20+60-40/math.E, 1e-9)
	near(t, "after the jump", h.At(0, 10), 30, 1e-9)
	if p := h.Peak(0); p.Segment != "on" {
		t.Errorf("peak %+v", p)
	}
	near(t, "peak before the jump", h.Peak(0).TempC, 20+60-40/math.E/math.E, 1e-9)
}

// drawNetwork draws a network in which everything is joined: a chain to the
// first given temperature and paths across.
func drawNetwork(t *rapid.T) Network {
	size := func(lo, hi float64, what string) float64 {
		return math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, what))
	}
	n := Network{Given: []string{"air", "block"}}
	count := rapid.IntRange(1, 5).Draw(t, "nodes")
	for i := range count {
		c := 0.0
		if rapid.IntRange(0, 3).Draw(t, "stores") > 0 {
			c = size(0.5, 500, "J/K")
		}
		n.Nodes = append(n.Nodes, Node{fmt.Sprint("n", i), c})
		to := "air"
		if i > 0 {
			to = n.Nodes[rapid.IntRange(0, i-1).Draw(t, "to")].Name
		}
		n.Paths = append(n.Paths, Path{n.Nodes[i].Name, to, size(0.2, 20, "K/W")})
	}
	for range rapid.IntRange(0, 3).Draw(t, "across") {
		a := rapid.IntRange(0, count-1).Draw(t, "from")
		b := rapid.SampledFrom(append([]string{"block", "air"}, n.Nodes[(a+1)%count].Name)).Draw(t, "to")
		if b != n.Nodes[a].Name {
			n.Paths = append(n.Paths, Path{n.Nodes[a].Name, b, size(0.2, 20, "K/W")})
		}
	}
	return n
}

func drawCycle(t *rapid.T, n Network) (State, []Segment) {
	temp := rapid.Float64Range(-20, 120)
	start := State{make([]float64, len(n.Nodes)), make([]float64, len(n.Given))}
	for i := range start.NodeC {
		start.NodeC[i] = temp.Draw(t, "start")
	}
	for j := range start.GivenC {
		start.GivenC[j] = temp.Draw(t, "given")
	}
	var cycle []Segment
	for k := range rapid.IntRange(1, 3).Draw(t, "segments") {
		g := Segment{Name: fmt.Sprint("s", k), Seconds: rapid.Float64Range(1, 120).Draw(t, "s")}
		for range n.Nodes {
			g.Powers = append(g.Powers, Power{
				W: rapid.Float64Range(0, 10).Draw(t, "W"), AtC: 20,
				WPerK: rapid.SampledFrom([]float64{0, 0, -0.05, 0.01}).Draw(t, "W/K")})
		}
		for range n.Given {
			g.Given = append(g.Given, Given{temp.Draw(t, "to"), rapid.SampledFrom([]float64{0, 3, 40}).Draw(t, "lag")})
		}
		cycle = append(cycle, g)
	}
	return start, cycle
}

// Ends and peaks of any cycle against the independent integrator.
func TestRunAgainstRungeKutta(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		start, cycle := drawCycle(t, n)
		// Steps a tenth of the fastest time constant.
		fastest := 3.0
		for i, x := range n.Nodes {
			if x.JPerK > 0 {
				fastest = min(fastest, x.JPerK/s.g[i*len(n.Nodes)+i])
			}
		}
		total := 0.0
		for _, g := range cycle {
			total += g.Seconds
		}
		if total/fastest > 400 {
			t.Skip("stiff: too many steps")
		}
		h, err := s.Run(start, cycle)
		if errors.Is(err, ErrRunaway) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		end, highest := rk4(n, start, cycle, fastest/10)
		for i := range n.Nodes {
			if got := h.At(i, h.Seconds); math.Abs(got-end[i]) > 2e-3 {
				t.Errorf("node %d ends at %.6f, Runge-Kutta at %.6f", i, got, end[i])
			}
			peak := h.Peak(i)
			// Its highest lies at a step, ours may lie between two.
			if peak.TempC < highest[i]-2e-3 || peak.TempC > highest[i]+0.3 {
				t.Errorf("node %d peaks at %.6f, Runge-Kutta at %.6f", i, peak.TempC, highest[i])
			}
		}
	})
}

// The same by another exact way: the matrix exponential of the network with
// its given temperatures and the constant 1 as further states.
func TestRunAgainstMatrixExponential(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		for i := range n.Nodes {
			if n.Nodes[i].JPerK == 0 {
				n.Nodes[i].JPerK = 2
			}
		}
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		start, cycle := drawCycle(t, n)
		h, err := s.Run(start, cycle)
		if errors.Is(err, ErrRunaway) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		size, m := len(n.Nodes), len(n.Given)
		x := mat.NewVecDense(size+m+1, nil)
		for i, c := range start.NodeC {
			x.SetVec(i, c)
		}
		for j, c := range start.GivenC {
			x.SetVec(size+j, c)
		}
		x.SetVec(size+m, 1)
		for _, g := range cycle {
			a := mat.NewDense(size+m+1, size+m+1, nil)
			for i, p := range g.Powers {
				c := n.Nodes[i].JPerK
				for j := range size {
					a.Set(i, j, -s.g[i*size+j]/c)
				}
				a.Set(i, i, a.At(i, i)+p.WPerK/c)
				for j := range m {
					a.Set(i, size+j, s.b[i*m+j]/c)
				}
				a.Set(i, size+m, p.At(0)/c)
			}
			for j, v := range g.Given {
				if v.LagS == 0 {
					x.SetVec(size+j, v.ToC)
				} else {
					a.Set(size+j, size+j, -1/v.LagS)
					a.Set(size+j, size+m, v.ToC/v.LagS)
				}
			}
			a.Scale(g.Seconds, a)
			var e mat.Dense
			e.Exp(a)
			var y mat.VecDense
			y.MulVec(&e, x)
			x.CopyVec(&y)
		}
		for i := range n.Nodes {
			if got := h.At(i, h.Seconds); math.Abs(got-x.AtVec(i)) > 1e-7 {
				t.Errorf("node %d: %.10f, matrix exponential %.10f", i, got, x.AtVec(i))
			}
		}
	})
}

// What was put in is what is stored and what has left, whatever the cycle.
func TestEnergyBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		start, cycle := drawCycle(t, n)
		h, err := s.Run(start, cycle)
		if errors.Is(err, ErrRunaway) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		made, left, gross := 0.0, 0.0, 1.0
		for k, p := range h.pieces {
			for i, w := range cycle[k].Powers {
				e := p.integral(func(x float64) float64 { return w.At(p.at(i, x)) })
				made, gross = made+e, gross+math.Abs(e)
			}
			for _, path := range n.Paths {
				for j, name := range n.Given {
					if path.B == name {
						for i, node := range n.Nodes {
							if node.Name == path.A {
								e := p.integral(func(x float64) float64 { return (p.at(i, x) - p.givenAt(j, x)) / path.KPerW })
								left, gross = left+e, gross+math.Abs(e)
							}
						}
					}
				}
			}
		}
		stored := 0.0
		for i, x := range n.Nodes {
			stored += x.JPerK * (h.End().NodeC[i] - start.NodeC[i])
			gross += x.JPerK * 100
		}
		if math.Abs(made-left-stored) > 1e-7*gross {
			t.Errorf("made %.9g J, left %.9g J, stored %.9g J", made, left, stored)
		}
	})
}

// A run cut in two is the same run, and a long one ends at Steady.
func TestRunCutAndRunLong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		start, cycle := drawCycle(t, n)
		g := cycle[0]
		whole, err := s.Run(start, []Segment{g})
		if err != nil {
			return
		}
		first, second := g, g
		first.Seconds = g.Seconds * rapid.Float64Range(0.01, 0.99).Draw(t, "cut")
		second.Seconds -= first.Seconds
		cut, err := s.Run(start, []Segment{first, second})
		if err != nil {
			t.Fatal(err)
		}
		g.Seconds = 1e6
		long, err := s.Run(start, []Segment{g})
		steady, notSteady := s.Steady(nil, g.Powers, []float64{g.Given[0].ToC, g.Given[1].ToC})
		if (err != nil) != (notSteady != nil) {
			t.Fatalf("long run: %v; steady: %v", err, notSteady)
		}
		for i := range n.Nodes {
			if a, b := whole.At(i, whole.Seconds), cut.At(i, cut.Seconds); math.Abs(a-b) > 1e-8 {
				t.Errorf("node %d: whole %.10f, cut %.10f", i, a, b)
			}
			if err == nil && math.Abs(long.At(i, 1e6)-steady[i]) > 1e-6 {
				t.Errorf("node %d: after long %.8f, steady %.8f", i, long.At(i, 1e6), steady[i])
			}
		}
	})
}

// TimeAbove, TimeTo and Peak against a dense grid of samples.
func TestCrossingsAgainstGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		start, cycle := drawCycle(t, n)
		h, err := s.Run(start, cycle)
		if err != nil {
			return
		}
		limit := rapid.Float64Range(-20, 150).Draw(t, "limit")
		const points = 4000
		step := h.Seconds / points
		for i := range n.Nodes {
			above, first, highest := 0.0, math.Inf(1), math.Inf(-1)
			for k := range points {
				at := (float64(k) + 0.5) * step
				c := h.At(i, at)
				highest = max(highest, c)
				if c >= limit {
					above += step
					first = min(first, at)
				}
			}
			if got := h.TimeAbove(i, limit); math.Abs(got-above) > 8*step {
				t.Errorf("node %d above %g °C: %g s, grid %g s", i, limit, got, above)
			}
			to, ok := h.TimeTo(i, limit)
			if ok && to > first || !ok && !math.IsInf(first, 1) || ok && math.IsInf(first, 1) && h.TimeAbove(i, limit) > 2*step {
				t.Errorf("node %d to %g °C: %g s %v, grid %g s", i, limit, to, ok, first)
			}
			if ok && h.At(i, to) < limit-1e-6 && h.Peak(i).AtS != to {
				// A node without capacity may have jumped down at this very moment.
				if s.capacity[i] > 0 {
					t.Errorf("node %d at %g s is %.9f °C, not %g", i, to, h.At(i, to), limit)
				}
			}
			if got := h.Peak(i).TempC; got < highest-1e-6 {
				t.Errorf("node %d peaks at %.9f, grid %.9f", i, got, highest)
			}
		}
	})
}

// The typical module driven for 20 minutes, as a network of resistors and
// capacitors in ngspice: volts are kelvins, amperes watts.
func TestModuleAgainstNgspice(t *testing.T) {
	m := TypicalModule()
	deck := fmt.Sprintf(`* junction 1, base 2, plate 3, body 4, bay 5, block 6
ip 0 1 5
r1 1 2 %g
r2 2 3 %g
r3 3 4 %g
r4 4 5 %g
r5 4 6 %g
vbay 5 0 75
vblock 6 0 88
c1 1 0 %g ic=25
c2 2 0 %g ic=25
c3 3 0 %g ic=25
c4 4 0 %g ic=25
.options reltol=1e-6 method=gear
.tran 0.2 1200 0 0.2 uic
.meas tran j1 find v(1) at=1
.meas tran j30 find v(1) at=30
.meas tran b300 find v(2) at=300
.meas tran p300 find v(3) at=300
.meas tran d600 find v(4) at=600
.meas tran j1200 find v(1) at=1199
.end
`, m.JunctionBaseKPerW, m.BasePlateKPerW, m.PlateBodyKPerW, m.BodyBayKPerW, m.BodyBlockKPerW,
		m.JunctionJPerK, m.BaseJPerK, m.PlateJPerK, m.BodyJPerK)
	got := judge.Results(judge.Ngspice(t, deck))
	s := compiled(t, m.Network())
	h := ran(t, s, s.Even(25), Segment{"drive", 1200, []Power{{W: 5}, {}, {}, {}}, []Given{Held(75), Held(88)}})
	for _, c := range []struct {
		name string
		node int
		at   float64
	}{{"j1", Junction, 1}, {"j30", Junction, 30}, {"b300", Base, 300}, {"p300", Plate, 300}, {"d600", Body, 600}, {"j1200", Junction, 1199}} {
		v, ok := got[c.name]
		if !ok {
			t.Fatalf("ngspice measured no %s", c.name)
		}
		near(t, c.name, h.At(c.node, c.at), v, 0.02)
	}
}
