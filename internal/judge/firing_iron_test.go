package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"dwellwright/firing"
)

// ironDeck writes a coil whose iron saturates by hand, in another set of states
// than ours: the flux linkages of both windings, as voltages of capacitors,
// from which the currents follow. Each winding has its own leakage inductance,
// a part 1-k of it, and what it has in common falls to a part beyond the knee.
// It measures the last of so many cycles, in which the gap never breaks
// down.
func ironDeck(c *firing.Case, cycles int, step float64) string {
	T, dwell := c.Rhythm.Period, c.Rhythm.Dwell
	from, to := float64(cycles-1)*T, float64(cycles)*T
	opens := from + dwell
	k, n := c.Coil.Coupling, math.Sqrt(c.Coil.L2/c.Coil.L1)
	lm := k * c.Coil.L1
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("* a coil with iron that saturates")
	p("vs feed 0 %.12g", c.Source.Volts)
	p("vp feed feed1 0")
	p("rp feed1 core %.12g", c.Source.Ohms)
	p("ri core switched %.12g", c.Coil.Iron)
	// Both linkages in mV s; J = λ1/Ll1 + n λ2/Ll2 = im + G φ(im), with G =
	// 1/Ll1 + n²/Ll2, gives the magnetising current in two straight pieces,
	// with the knee rounded over a thousandth of it.
	ll1, ll2 := (1-k)*c.Coil.L1, (1-k)*c.Coil.L2
	g := 1/ll1 + n*n/ll2
	below, beyond := 1+g*lm, 1+g*lm*c.Coil.Beyond
	knee := c.Coil.KneeA * below
	p("b1 0 link1 i = v(core,switched)")
	p("c1k link1 0 1e-3")
	p("b2 0 link2 i = -v(winding)")
	p("c2k link2 0 1e-3")
	p("bj j 0 v = 1e-3*(v(link1)/%.12g + v(link2)*%.12g)", ll1, n/ll2)
	p("bo over 0 v = v(j)/%.12g - 1", knee)
	p("bu under 0 v = -v(j)/%.12g - 1", knee)
	p("bm im 0 v = v(j)/%.12g + %.12g*(v(over) + sqrt(v(over)*v(over) + 1e-6) - v(under) - sqrt(v(under)*v(under) + 1e-6))/2", below, knee*(1/beyond-1/below))
	p("bphi phi 0 v = (v(j) - v(im))/%.12g", g)
	p("bi1 core switched i = (1e-3*v(link1) - v(phi))/%.12g", ll1)
	// λ2' is what is left of the tower's voltage and the winding's: i2 flows
	// from earth through the winding into the tower.
	p("bi2 0 winding i = (1e-3*v(link2) - %.12g*v(phi))/%.12g", n, ll2)
	p("r2 winding tower %.12g", c.Coil.R2)
	p("c2 tower 0 %.12g", c.Gap.Farads)
	if c.Gap.Shunt > 0 {
		p("rs tower 0 %.12g", c.Gap.Shunt)
	}
	// The switch.
	p("c1 switched can %.12g", math.Max(c.Break.Farads, firing.Stray))
	p("rc can 0 %.12g", c.Break.Series+1e-3)
	p("s1 switched 0 go 0 sw off")
	p(".model sw sw vt=0.5 vh=0 ron=%.12g roff=1e9", c.Break.On)
	if z := c.Break.Clamp; z > 0 {
		p("bz switched 0 i = v(switched)>%.12g ? (v(switched)-%.12g)/%.12g : 0", z, z, c.Break.ClampOhms)
	}
	p("vgo go 0 pulse(1 0 %.12g 1e-8 1e-8 %.12g %.12g)", dwell, T-dwell-2e-8, T)
	p("bmag mag 0 v=abs(v(tower))")
	p("rmag mag 0 1e6")
	p(".options method=gear reltol=1e-6 abstol=1e-9 vntol=1e-7")
	p(".tran %.9g %.12g %.12g %.9g uic", step, to, from, step)
	p(".meas tran brk find i(vp) at=%.15g", opens-2e-7)
	p(".meas tran prim max v(switched) from=%.15g to=%.15g", opens, to)
	p(".meas tran sec max v(mag) from=%.15g to=%.15g", opens, to)
	p(".end")
	return b.String()
}

// Iron that saturates, before ngspice: a dozen random coils that go up to
// twice past the knee, with a condenser or a clamp. Wanted: break current,
// primary peak and kV within 0.5 %.
func TestSaturatedFiringsAgainstNgspice(t *testing.T) {
	rng := rand.New(rand.NewPCG(71, 1))
	for trial := 0; trial < 12; trial++ {
		c := randomFiring(rng)
		c.Gap.Required = math.Inf(1)
		c.Break.Drop, c.Break.Back = 0, 0
		c.Rhythm = firing.Turning(4, 600+1500*rng.Float64(), 50)
		c.Coil.KneeA = (0.4 + 0.4*rng.Float64()) * c.Source.Volts / c.Source.Ohms
		c.Coil.Beyond = 0.2 + 0.5*rng.Float64()
		t.Run(fmt.Sprint(trial), func(t *testing.T) {
			t.Parallel()
			var s firing.Solver
			f, err := s.Solve(c)
			if err != nil {
				t.Fatal(err)
			}
			free := *c
			free.Coil.KneeA = 0
			g, err := s.Solve(&free)
			if err != nil {
				t.Fatal(err)
			}
			if f.BreakA < c.Coil.KneeA || f.AvailableV > 0.999*g.AvailableV {
				t.Errorf("does not saturate: %.3f A, knee %.3f", f.BreakA, c.Coil.KneeA)
			}
			got := Results(Ngspice(t, ironDeck(c, 3, 1e-6)))
			for _, x := range []struct {
				what, name string
				ours       float64
			}{{"break current", "brk", f.BreakA}, {"primary peak", "prim", f.PrimaryV}, {"available V", "sec", f.AvailableV}} {
				want, ok := got[x.name]
				if !ok {
					t.Errorf("ngspice measured no %s", x.name)
					continue
				}
				t.Logf("%s: %.6g, ngspice %.6g (%+.3f %%)", x.what, x.ours, want, 100*(x.ours/want-1))
				if !(math.Abs(x.ours/want-1) < 0.005) {
					t.Errorf("%s: %.6g, ngspice %.6g (%+.2f %%): %+v", x.what, x.ours, want, 100*(x.ours/want-1), c)
				}
			}
		})
	}
}
