package heat

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestValidateNamesTheField(t *testing.T) {
	nan := math.NaN()
	for _, v := range []interface{ Validate() error }{TypicalModule(), TypicalCoil(), TypicalBay(), Power{}, Copper(30, 20), TypicalModule().Network(), TypicalCoil().Network()} {
		if err := v.Validate(); err != nil {
			t.Errorf("%+v: %v", v, err)
		}
	}
	module := func(set func(*Module)) error { m := TypicalModule(); set(&m); return m.Validate() }
	coil := func(set func(*CoilCan)) error { c := TypicalCoil(); set(&c); return c.Validate() }
	bay := func(set func(*Bay)) error { b := TypicalBay(); set(&b); return b.Validate() }
	for _, c := range []struct {
		err               error
		where, what, want string
	}{
		{Module{}.Validate(), "module", "JunctionBaseKPerW", "K/W"},
		{module(func(m *Module) { m.BasePlateKPerW = -1 }), "module", "BasePlateKPerW", "K/W"},
		{module(func(m *Module) { m.PlateBodyKPerW = nan }), "module", "PlateBodyKPerW", "K/W"},
		{module(func(m *Module) { m.BodyBayKPerW = math.Inf(1) }), "module", "BodyBayKPerW", "K/W"},
		{module(func(m *Module) { m.BodyBlockKPerW = -1 }), "module", "BodyBlockKPerW", "0 where nothing touches"},
		{module(func(m *Module) { m.JunctionJPerK = -1 }), "module", "JunctionJPerK", "J/K"},
		{module(func(m *Module) { m.BaseJPerK = nan }), "module", "BaseJPerK", "J/K"},
		{module(func(m *Module) { m.PlateJPerK = 1e9 }), "module", "PlateJPerK", "J/K"},
		{module(func(m *Module) { m.BodyJPerK = -5 }), "module", "BodyJPerK", "J/K"},
		{CoilCan{}.Validate(), "coil", "WindingAirKPerW", "K/W"},
		{coil(func(c *CoilCan) { c.WindingShare = 25 }), "coil", "WindingShare", "0.01 to 0.99"},
		{coil(func(c *CoilCan) { c.WindingAirKPerW, c.WindingShare = 0.01, 0.05 }), "coil", "WindingShare of", "K/W"},
		{coil(func(c *CoilCan) { c.WindingAirKPerW, c.WindingShare = 0.01, 0.99 }), "coil", "rest of", "K/W"},
		{coil(func(c *CoilCan) { c.CanBlockKPerW = nan }), "coil", "CanBlockKPerW", "0 where nothing touches"},
		{coil(func(c *CoilCan) { c.WindingJPerK = -1 }), "coil", "WindingJPerK", "J/K"},
		{coil(func(c *CoilCan) { c.CanJPerK = 1e-9 }), "coil", "CanJPerK", "J/K"},
		{bay(func(b *Bay) { b.OutsideC = 1e6 }), "bay", "OutsideC", "°C"},
		{bay(func(b *Bay) { b.RunningC = nan }), "bay", "RunningC", "°C"},
		{bay(func(b *Bay) { b.SoakC = -200 }), "bay", "SoakC", "°C"},
		{bay(func(b *Bay) { b.BlockC = nan }), "bay", "BlockC", "°C"},
		{bay(func(b *Bay) { b.BlockSoakC = 1e9 }), "bay", "BlockSoakC", "°C"},
		{bay(func(b *Bay) { b.WarmLagS = -1 }), "bay", "WarmLagS", "at once"},
		{bay(func(b *Bay) { b.SoakLagS = nan }), "bay", "SoakLagS", "at once"},
		{bay(func(b *Bay) { b.SoakS = -1 }), "bay", "SoakS", "s"},
		{bay(func(b *Bay) { b.CoolLagS = 1e9 }), "bay", "CoolLagS", "at once"},
		{bay(func(b *Bay) { b.BlockWarmLagS = 1e-9 }), "bay", "BlockWarmLagS", "at once"},
		{bay(func(b *Bay) { b.BlockCoolLagS = nan }), "bay", "BlockCoolLagS", "at once"},
		{Power{W: -1}.Validate(), "power", "W", "W"},
		{Power{AtC: nan}.Validate(), "power", "AtC", "°C"},
		{Power{WPerK: nan}.Validate(), "power", "WPerK", "W/K"},
		{one(-3, 1).Validate(), `path "it" to "air"`, "KPerW", "K/W"},
		{one(0, 1).Validate(), `path "it" to "air"`, "KPerW", "K/W"},
		{one(1, -1).Validate(), `node "it"`, "JPerK", "J/K"},
	} {
		var f *InputError
		if !errors.Is(c.err, ErrInput) || !errors.As(c.err, &f) {
			t.Errorf("%s %s: %v", c.where, c.what, c.err)
			continue
		}
		if f.Where != c.where || !strings.HasPrefix(f.What, c.what) || !strings.Contains(f.Want, c.want) {
			t.Errorf("%s %s: %v", c.where, c.what, c.err)
		}
	}
}

func TestNetworkErrors(t *testing.T) {
	a, b := Node{"a", 1}, Node{"b", 1}
	air := []string{"air"}
	for name, n := range map[string]Network{
		"nothing":     {},
		"no node":     {Given: air},
		"no given":    {Nodes: []Node{a}},
		"too many":    {Nodes: make([]Node, MaxNodes+1), Given: air},
		"no name":     {Nodes: []Node{{}}, Given: air},
		"twice":       {Nodes: []Node{a, a}, Given: air},
		"twice given": {Nodes: []Node{a}, Given: []string{"a"}},
		"no such end": {Nodes: []Node{a}, Given: air, Paths: []Path{{"a", "c", 1}}},
		"both given":  {Nodes: []Node{a}, Given: []string{"air", "block"}, Paths: []Path{{"air", "block", 1}}},
		"to itself":   {Nodes: []Node{a}, Given: air, Paths: []Path{{"a", "a", 1}}},
	} {
		if err := n.Validate(); !errors.Is(err, ErrNetwork) || !strings.Contains(err.Error(), "wanted") {
			t.Errorf("%s: %v", name, err)
		}
	}
	err := Network{Nodes: []Node{a, b, {"c", 0}}, Given: air, Paths: []Path{{"a", "air", 1}, {"b", "c", 1}}}.Validate()
	var f *FloatingError
	if !errors.Is(err, ErrFloating) || !errors.As(err, &f) || f.Node != "b" {
		t.Errorf("floating: %v", err)
	}
}

func TestCallErrors(t *testing.T) {
	s := compiled(t, one(4, 100))
	ok := Segment{"on", 10, []Power{{W: 1}}, []Given{Held(20)}}
	for name, call := range map[string]func() error{
		"powers":      func() error { _, err := s.Steady(nil, nil, []float64{20}); return err },
		"given":       func() error { _, err := s.Steady(nil, []Power{{}}, nil); return err },
		"given NaN":   func() error { _, err := s.Steady(nil, []Power{{}}, []float64{math.NaN()}); return err },
		"power NaN":   func() error { _, err := s.Steady(nil, []Power{{W: math.NaN()}}, []float64{20}); return err },
		"no segment":  func() error { _, err := s.Run(s.Even(20), nil); return err },
		"no start":    func() error { _, err := s.Run(State{}, []Segment{ok}); return err },
		"start NaN":   func() error { _, err := s.Run(s.Even(math.NaN()), []Segment{ok}); return err },
		"given start": func() error { _, err := s.Run(State{[]float64{20}, []float64{1e9}}, []Segment{ok}); return err },
		"no time":     func() error { g := ok; g.Seconds = 0; _, err := s.Run(s.Even(20), []Segment{g}); return err },
		"endless":     func() error { g := ok; g.Seconds = math.Inf(1); _, err := s.Run(s.Even(20), []Segment{g}); return err },
		"no powers":   func() error { g := ok; g.Powers = nil; _, err := s.Run(s.Even(20), []Segment{g}); return err },
		"no given":    func() error { g := ok; g.Given = nil; _, err := s.Run(s.Even(20), []Segment{g}); return err },
		"negative lag": func() error {
			g := ok
			g.Given = []Given{{20, -1}}
			_, err := s.Run(s.Even(20), []Segment{g})
			return err
		},
	} {
		if err := call(); !errors.Is(err, ErrInput) {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, err := s.Steady(nil, []Power{{W: 1, WPerK: 1}}, []float64{20})
	if err == nil || !strings.Contains(err.Error(), `"it"`) {
		t.Errorf("runaway: %v", err)
	}
	h := ran(t, s, s.Even(20), ok)
	for _, x := range []float64{h.At(0, -1), h.At(0, 11), h.At(1, 5), h.At(-1, 5), h.GivenAt(1, 5), h.At(0, math.NaN()), h.Peak(3).TempC, (&History{}).At(0, 0)} {
		if !math.IsNaN(x) {
			t.Errorf("outside the run: %g", x)
		}
	}
	if _, reached := (&History{}).TimeTo(0, 20); reached || h.TimeAbove(7, 0) != 0 {
		t.Error("outside the run something is reached")
	}
}

// Whatever is put in, nothing panics, and what is not refused is finite.
func FuzzRun(f *testing.F) {
	f.Add(1.5, 0.4, 2.5, 5.0, 1.0, 27.0, 60.0, 0.0, 5.0, 0.02, 75.0, 600.0, 1800.0)
	f.Add(1e-3, 1e5, 1e-3, 1e5, 1e-3, 1e6, 0.0, 1e-3, 1e5, -1e4, -100.0, 0.01, 1e7)
	f.Add(4.0, 1.0, 1.0, 1.0, 0.0, 0.0, 0.0, 0.0, 30.0, 0.125, 20.0, 0.0, 10.0)
	f.Add(1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 9.0, 20.0, 1.0, 1e6)
	f.Fuzz(func(t *testing.T, r1, r2, r3, r4, c1, c2, c3, c4, watts, wPerK, toC, lagS, seconds float64) {
		m := Module{r1, r2, r3, r4, r2, c1, c2, c3, c4}
		if m.Validate() != nil {
			return
		}
		s, err := m.Network().Compile()
		if err != nil {
			t.Fatalf("a module that is valid: %v", err)
		}
		powers := []Power{{W: watts, AtC: 20, WPerK: wPerK}, {}, {W: math.Abs(watts) / 2}, {}}
		if got, err := s.Steady(nil, powers, []float64{toC, 80}); err == nil {
			for i, c := range got {
				if math.IsNaN(c) || math.IsInf(c, 0) {
					t.Errorf("steady node %d: %g", i, c)
				}
			}
		} else if !errors.Is(err, ErrInput) && !errors.Is(err, ErrRunaway) {
			t.Errorf("steady: %v", err)
		}
		h, err := s.Run(s.Even(20), []Segment{{"a", seconds, powers, []Given{{toC, lagS}, {60, lagS}}}, {"b", 100, make([]Power, 4), []Given{Held(20), {90, 5}}}})
		if err != nil {
			if !errors.Is(err, ErrInput) && !errors.Is(err, ErrRunaway) {
				t.Errorf("run: %v", err)
			}
			if h == nil {
				return
			}
		}
		for i := range 4 {
			for k := range 9 {
				if h.Seconds == 0 {
					break
				}
				if c := h.At(i, h.Seconds*float64(k)/8); math.IsNaN(c) || math.IsInf(c, 0) {
					t.Errorf("node %d at %d/8: %g", i, k, c)
				}
			}
			if h.Seconds > 0 && math.IsNaN(h.Peak(i).TempC) {
				t.Errorf("node %d: no peak", i)
			}
			if over := h.TimeAbove(i, 100); !between(0, over, h.Seconds*(1+1e-12)) {
				t.Errorf("node %d above 100 °C for %g s of %g", i, over, h.Seconds)
			}
			h.TimeTo(i, 150)
			if a := h.MeanAcceleration(i, 0.7, 85); a < 0 {
				t.Errorf("node %d: acceleration %g", i, a)
			}
		}
	})
}
