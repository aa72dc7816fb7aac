package heat

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// 5 W down the ladder of the package's page: 75 + 5 (1.5 + 0.4 + 2.5 + 5).
func TestLadderOfThePage(t *testing.T) {
	m := TypicalModule()
	m.BodyBlockKPerW = 0
	near(t, "junction", m.Ladder(5, 75, 88)[Junction], 122, 1e-9)
	dry := m
	dry.BasePlateKPerW += 3
	near(t, "dry and painted", dry.Ladder(5, 75, 88)[Junction]-m.Ladder(5, 75, 88)[Junction], 15, 1e-9)
	near(t, "most watts", m.MostWatts(122, 75, 88), 5, 1e-9)
	near(t, "no room", m.MostWatts(70, 75, 88), 0, 0)
	// Air and block of 5 and 2.5 K/W are 5/3 K/W at a third and two thirds of each.
	near(t, "body with the block", TypicalModule().Ladder(6, 75, 90)[Body], 85+6*5/3.0, 1e-9)
}

// Steady is the ladder's sum, for any module and coil.
func TestSteadyIsTheLadder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(0.1, 10)
		m := TypicalModule()
		m.JunctionBaseKPerW, m.BasePlateKPerW, m.PlateBodyKPerW, m.BodyBayKPerW = size.Draw(t, "jb"), size.Draw(t, "bp"), size.Draw(t, "pd"), size.Draw(t, "da")
		m.BodyBlockKPerW = rapid.SampledFrom([]float64{0, 0.5, 4}).Draw(t, "block")
		watts, bay, block := rapid.Float64Range(0, 20).Draw(t, "W"), rapid.Float64Range(-20, 120).Draw(t, "bay"), rapid.Float64Range(-20, 120).Draw(t, "engine")
		s, err := m.Network().Compile()
		if err != nil {
			t.Fatal(err)
		}
		got, err := s.Steady(nil, []Power{{W: watts}, {}, {}, {}}, []float64{bay, block})
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range m.Ladder(watts, bay, block) {
			if math.Abs(got[i]-want) > 1e-9 {
				t.Errorf("module node %d: %.12g, ladder %.12g", i, got[i], want)
			}
		}

		c := TypicalCoil()
		c.WindingAirKPerW, c.WindingShare, c.CanBlockKPerW = size.Draw(t, "wa"), rapid.Float64Range(0.05, 0.9).Draw(t, "share"), m.BodyBlockKPerW
		p := Copper(watts, 20)
		want, lerr := c.Ladder(p, bay, block)
		if s, err = c.Network().Compile(); err != nil {
			t.Fatal(err)
		}
		got, err = s.Steady(nil, []Power{p, {}}, []float64{bay, block})
		if (err == nil) != (lerr == nil) {
			t.Fatalf("steady: %v; ladder: %v", err, lerr)
		}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-9*(1+math.Abs(want[i])) {
				t.Errorf("coil node %d: %.12g, ladder %.12g", i, got[i], want[i])
			}
		}
	})
}

// Superposition and reciprocity, which hold in any linear network: what one
// watt in a does to b is what one watt in b does to a.
func TestSteadyReciprocity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		s, err := n.Compile()
		if err != nil {
			t.Fatal(err)
		}
		count := len(n.Nodes)
		a, b := rapid.IntRange(0, count-1).Draw(t, "a"), rapid.IntRange(0, count-1).Draw(t, "b")
		with := func(at int) []float64 {
			p := make([]Power, count)
			if at >= 0 {
				p[at].W = 1
			}
			got, err := s.Steady(nil, p, []float64{30, 80})
			if err != nil {
				t.Fatal(err)
			}
			return got
		}
		none := with(-1)
		ab, ba := with(a)[b]-none[b], with(b)[a]-none[a]
		if math.Abs(ab-ba) > 1e-9*(1+ab) || ab < -1e-9 {
			t.Errorf("watt in %d heats %d by %g K, the other way by %g K", a, b, ab, ba)
		}
		for i, c := range none {
			if c < 30-1e-9 || c > 80+1e-9 {
				t.Errorf("node %d without heat at %g °C, outside 30 to 80", i, c)
			}
		}
	})
}

func TestSteadyAllocatesNothing(t *testing.T) {
	s := compiled(t, TypicalModule().Network())
	powers, given, dst := []Power{{W: 5}, {}, {}, {}}, []float64{75, 88}, make([]float64, 4)
	if a := testing.AllocsPerRun(100, func() {
		if _, err := s.Steady(dst, powers, given); err != nil {
			t.Fatal(err)
		}
	}); a != 0 {
		t.Errorf("%g allocations", a)
	}
}

// Copper doubles its resistance from 20 °C in 1/0.00393 = 254.5 K; the
// handbook's (T + 234.5)/(20 + 234.5) for annealed copper.
func TestCopper(t *testing.T) {
	for _, atC := range []float64{-20, 20, 75, 120} {
		p := Copper(30, atC)
		near(t, "as given", p.At(atC), 30, 1e-12)
		near(t, "ratio", p.At(100)/p.At(20), (100+234.5)/(20+234.5), 1e-4)
	}
}

// Fed against Ohm's law on ±60 K, and by a difference quotient.
func TestFed(t *testing.T) {
	for _, series := range []float64{0, 0.5, 1.5, 3, 10} {
		const volts, ohm20, nearC = 13.5, 1.5, 80
		watts := func(c float64) float64 {
			r := ohm20 * (1 + CopperPerK*(c-20))
			return volts * volts * r / (r + series) / (r + series)
		}
		p := Fed(volts, series, ohm20, nearC)
		near(t, "touches", p.At(nearC), watts(nearC), 1e-12)
		near(t, "slope", p.WPerK, (watts(nearC+0.01)-watts(nearC-0.01))/0.02, 1e-7)
		most := 0.04
		if series >= ohm20/3 {
			most = 0.015
		}
		for c := nearC - 60.0; c <= nearC+60; c += 10 {
			near(t, "near", p.At(c)/watts(c), 1, most)
		}
	}
	if up := Fed(13.5, 3, 1.5, 20).WPerK; up <= 0 {
		t.Errorf("behind twice its resistance: %g W/K", up)
	}
	if down := Fed(13.5, 0, 3, 20).WPerK; down >= 0 {
		t.Errorf("straight on the supply: %g W/K", down)
	}
}

func BenchmarkSteady(b *testing.B) {
	s := compiled(b, TypicalModule().Network())
	powers, given, dst := []Power{{W: 5}, {}, {}, {}}, []float64{75, 88}, make([]float64, 4)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Steady(dst, powers, given); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRun(b *testing.B) {
	s := compiled(b, TypicalModule().Network())
	bay := TypicalBay()
	cycle := bay.Cycle([]Leg{{"town", 900, []Power{{W: 4}, {}, {}, {}}}, {"road", 1800, []Power{{W: 6}, {}, {}, {}}}}, 5400, make([]Power, 4))
	b.ReportAllocs()
	for b.Loop() {
		h, err := s.Run(s.Even(25), cycle)
		if err != nil {
			b.Fatal(err)
		}
		if !(h.Peak(Junction).TempC > 90) {
			b.Fatal("cold")
		}
	}
}
