package draw

import (
	"errors"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
)

func eachLayout(f func(layout string, tall bool)) {
	f("-wide", false)
	f("-tall", true)
}

func TestWiringGolden(t *testing.T) {
	for name, spec := range wiringCases() {
		eachLayout(func(layout string, tall bool) {
			s, err := Wiring(spec(tall))
			if err != nil {
				t.Errorf("%s%s: %v", name, layout, err)
				return
			}
			checkLaid(t, name+layout, s)
			golden(t, "wiring-"+name+layout, s)
		})
	}
}

// stuffed fills every tag and every label with as much as it is meant to
// hold.
func stuffed(tall bool, parts []Part) WiringSpec {
	s := build(tall, parts...)
	for i := range s.Nodes {
		n := &s.Nodes[i]
		n.Label = "a long name for this terminal here"
		n.Value = "12.6 ± 0.2 V"
		n.Sub = "lowest 10.4 V"
		n.Mark = CellMark(1 + i%4)
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.Kind == Meter {
			continue
		}
		p.Label = "a long name for this part"
		p.Value = "18 ± 9 mΩ"
		p.Current = "12.4 A"
	}
	s.Title = "A title far too long for the room above the picture, so that it has to give way"
	s.EarthLabel = "POSITIVE earth"
	return s
}

// Whatever subset of the circuit is drawn, and however full its words are,
// nothing lies on anything else.
func TestWiringNeverOverlaps(t *testing.T) {
	cond := Part{ID: "condenser", Kind: Condenser, From: "breaker-terminal", To: "plate"}
	full := with(loopParts, with(triggerParts, with(relayParts, cond)...)...)
	sources := []string{"relay-out", "switch-out", "ballast-supply", "coil-feed"}
	for _, src := range sources {
		eachLayout(func(layout string, tall bool) {
			s, err := Wiring(stuffed(tall, with(full, feedFrom(src))))
			if err != nil {
				t.Errorf("stuffed%s: %v", layout, err)
				return
			}
			checkLaid(t, "stuffed, fed from "+src+layout, s)
		})
	}
	r := rand.New(rand.NewPCG(5, 6))
	for range 40 {
		var parts []Part
		for _, p := range full {
			if p.ID != "trigger" && r.IntN(5) == 0 {
				continue
			}
			p.Missing = r.IntN(6) == 0
			p.New = r.IntN(6) == 0
			p.Open = r.IntN(2) == 0
			p.Flow = r.IntN(3) - 1
			p.Origin = Origin(r.IntN(int(originCount)))
			parts = append(parts, p)
		}
		parts = append(parts, feedFrom(sources[r.IntN(4)]))
		if r.IntN(2) == 0 {
			parts = append(parts, Part{ID: "m", Kind: Meter, From: "plate", To: "breaker-terminal", Label: "voltmeter"})
		} else {
			parts = append(parts, Part{ID: "m", Kind: Meter, Third: parts[r.IntN(len(parts))].ID, Label: "clamp"})
		}
		eachLayout(func(layout string, tall bool) {
			spec := stuffed(tall, parts)
			s, err := Wiring(spec)
			if err != nil {
				t.Errorf("%v", err)
				return
			}
			for _, c := range clashes(s) {
				t.Errorf("%s: %s", layout, c)
			}
		})
		if t.Failed() {
			return
		}
	}
}

func TestGlue(t *testing.T) {
	for in, want := range map[string]string{
		"1.65 ± 0.05 Ω":       "1.65 ±_0.05_Ω",
		"0.769 Ω at -3.89 °C": "0.769_Ω at -3.89_°C",
		"winding 85 Ω":        "winding 85_Ω",
		" − ± ":               "− ±",
		"":                    "",
	} {
		if got := strings.ReplaceAll(glue(in), "\u00a0", "_"); got != want {
			t.Errorf("%q is glued as %q, want %q", in, got, want)
		}
	}
}

// find gives the group with an id.
func find(items []Item, id string) (Group, bool) {
	for _, it := range items {
		if g, ok := it.(Group); ok {
			if g.ID == id {
				return g, true
			}
			if h, ok := find(g.Items, id); ok {
				return h, true
			}
		}
	}
	return Group{}, false
}

// A terminal stays where it is whatever else is fitted.
func TestPlacesStay(t *testing.T) {
	eachLayout(func(layout string, tall bool) {
		first := map[string]Item{}
		for name, spec := range wiringCases() {
			s, err := Wiring(spec(tall))
			if err != nil {
				t.Fatal(err)
			}
			for _, id := range []string{"node-coil-feed", "node-plate", "node-battery-earth", "node-switch-out"} {
				g, ok := find(s.Items, id)
				if !ok {
					t.Fatalf("%s%s lacks %s", name, layout, id)
				}
				var at Item
				switch v := g.Items[0].(type) {
				case Circle:
					at = Circle{X: v.X, Y: v.Y}
				case Group: // a mark: its first shape says where
					l := takeApart(v.Items)
					lo, hi := l.strokes[0].a, l.strokes[0].a
					for _, k := range l.strokes {
						lo.X, hi.X = min(lo.X, k.a.X), max(hi.X, k.a.X)
						lo.Y, hi.Y = min(lo.Y, k.a.Y), max(hi.Y, k.a.Y)
					}
					at = Circle{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2}
				}
				if was, ok := first[id]; ok && was != at {
					t.Errorf("%s%s: %s moved from %v to %v", name, layout, id, was, at)
				}
				first[id] = at
			}
		}
	})
}

// The arrow of the coil lead points to the coil for current from battery to
// coil, away from it when it flows the other way, whichever way round the
// part is entered.
func TestArrowsFollowTheFlow(t *testing.T) {
	for _, c := range []struct {
		from, to string
		flow     int
		right    bool
	}{
		{"ballast-coil", "coil-feed", 1, true},
		{"ballast-coil", "coil-feed", -1, false},
		{"coil-feed", "ballast-coil", 1, false},
		{"coil-feed", "ballast-coil", -1, true},
	} {
		parts := without(loopParts, "coil-lead")
		parts = append(parts, Part{ID: "coil-lead", Kind: Leg, From: c.from, To: c.to, Flow: c.flow})
		s, err := Wiring(build(false, parts...))
		if err != nil {
			t.Fatal(err)
		}
		g, _ := find(s.Items, "part-coil-lead")
		var tip *Polyline
		for _, it := range g.Items {
			if p, ok := it.(Polyline); ok {
				tip = &p
			}
		}
		if tip == nil {
			t.Fatal("no arrow")
		}
		if right := tip.Points[0].X > tip.Points[1].X; right != c.right {
			t.Errorf("%+v: arrow points right: %v", c, right)
		}
	}
}

// Longer plates are positive: with positive earth the long plate of the
// outer cell is on the earth side.
func TestBatteryPolarity(t *testing.T) {
	for _, positive := range []bool{false, true} {
		f := newFrame(Point{}, Point{1, 0}, false)
		items := batterySymbol(f, positive)
		first := items[0].(Line)
		long := first.Y2-first.Y1 > 20
		if long == positive {
			t.Errorf("positive earth %v: first plate from the live post is long: %v", positive, long)
		}
	}
	s, err := Wiring(WiringSpec{PositiveEarth: true})
	if err != nil || !strings.Contains(s.Desc, "positive earth") {
		t.Errorf("the words lack the polarity: %q, %v", s.Desc, err)
	}
}

// A feed wire that crosses the relay's wire hops over it.
func TestCrossingWiresHop(t *testing.T) {
	spec := wiringCases()["relay-switch-feed"](false)
	d := wiringDrawing{spec: spec, g: wideGrid()}
	if err := d.check(); err != nil {
		t.Fatal(err)
	}
	if err := d.route(); err != nil {
		t.Fatal(err)
	}
	hops := 0
	for i := range d.ways {
		w := &d.ways[i]
		for k := 1; k < len(w.path); k++ {
			hops += len(d.crossings(w, w.path[k-1], w.path[k]))
		}
	}
	if hops != 1 {
		t.Errorf("%d hops, want 1", hops)
	}
}

func TestWiringSaysInWords(t *testing.T) {
	s, err := Wiring(wiringCases()["no-ballast-points"](true))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Primary circuit, positive earth.",
		"Coil feed terminal: 7.1 ± 0.4 V measured, lowest 6.1 V, falls short.",
		"Ignition lead from ignition switch, outgoing to coil feed terminal: 20 ± 5 mΩ assumed, 4.0 A, current flows towards coil feed terminal.",
		"Voltmeter, red lead on coil feed terminal, black lead on engine block: 5.8 ± 0.1 V measured.",
	} {
		if !strings.Contains(s.Desc, want) {
			t.Errorf("%q is not in %q", want, s.Desc)
		}
	}
	full, err := Wiring(wiringCases()["full"](false))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"New relay wire from", "not connected", "winding fed from ignition switch, outgoing", "open"} {
		if !strings.Contains(full.Desc, want) {
			t.Errorf("%q is not in the words", want)
		}
	}
}

// No figure is ever cut: each value stands whole in the picture or the spec
// is refused.
func TestFiguresAreNeverCut(t *testing.T) {
	for name, spec := range wiringCases() {
		eachLayout(func(layout string, tall bool) {
			sp := spec(tall)
			s, err := Wiring(sp)
			if err != nil {
				t.Fatal(err)
			}
			var words []string
			for _, x := range takeApart(s.Items).texts {
				words = append(words, x.s)
			}
			all := strings.ReplaceAll(strings.Join(words, " "), "\u00a0", " ")
			for _, n := range sp.Nodes {
				if !strings.Contains(all, n.Value) || !strings.Contains(all, n.Sub) {
					t.Errorf("%s%s: %s is cut", name, layout, n.ID)
				}
			}
			for _, p := range sp.Parts {
				if p.Kind != Meter && (!strings.Contains(all, p.Value) || !strings.Contains(all, p.Current)) {
					t.Errorf("%s%s: %s is cut", name, layout, p.ID)
				}
			}
		})
	}
	spec := wiringCases()["bare"](false)
	spec.Nodes[0].Value = "12.345678901234567 ± 0.000000001 V"
	if _, err := Wiring(spec); err == nil {
		t.Error("a value that cannot fit was accepted")
	}
}

func TestWiringRefuses(t *testing.T) {
	node := func(id string, p Place) Node { return Node{ID: id, Place: p} }
	two := []Node{node("a", AtCoilFeed), node("b", AtCoilSwitched)}
	three := append(two, node("c", AtBreakerTerminal))
	part := func(p ...Part) WiringSpec { return WiringSpec{Nodes: three, Parts: p} }
	coil := Part{ID: "coil", Kind: Coil, From: "a", To: "b"}
	for name, c := range map[string]struct {
		spec WiringSpec
		says string
	}{
		"no ID":         {WiringSpec{Nodes: []Node{node("", AtBlock)}}, "no ID"},
		"ID twice":      {WiringSpec{Nodes: []Node{node("a", AtBlock), node("a", AtBody)}}, "nodes[0]"},
		"no place":      {WiringSpec{Nodes: []Node{{ID: "a"}}}, "engine block"},
		"place twice":   {WiringSpec{Nodes: []Node{node("a", AtBlock), node("b", AtBlock)}}, "one node to a place"},
		"loose end":     {part(Part{ID: "x", From: "a", To: "nowhere"}), `"nowhere"`},
		"wrong spot":    {part(Part{ID: "x", Kind: Battery, From: "a", To: "b"}), "from battery live post to battery earth post"},
		"wire too far":  {part(Part{ID: "x", From: "a", To: "c"}), "neighbours"},
		"stretch twice": {part(coil, Part{ID: "coil2", Kind: Coil, From: "b", To: "a"}), "parts[0] (coil)"},
		"third end":     {part(Part{ID: "x", Kind: Coil, From: "a", To: "b", Third: "c"}), "only a relay"},
		"flow":          {part(Part{ID: "x", From: "a", To: "b", Flow: 2}), "-1, 0 or +1"},
		"two meters":    {part(Part{ID: "m", Kind: Meter, From: "a", To: "b"}, Part{ID: "n", Kind: Meter, From: "a", To: "c"}), "second meter"},
		"meter on one":  {part(Part{ID: "m", Kind: Meter, From: "a", To: "a"}), "two nodes"},
		"clamp on none": {part(Part{ID: "m", Kind: Meter, Third: "zzz"}), `"zzz"`},
		"part ID twice": {part(coil, Part{ID: "coil", From: "b", To: "c"}), "parts[0]"},
		"kind":          {part(Part{ID: "x", Kind: 200, From: "a", To: "b"}), "kind"},
		"mark":          {WiringSpec{Nodes: []Node{{ID: "a", Place: AtBlock, Mark: 77}}}, "mark"},
		"relay unfed": {WiringSpec{Nodes: []Node{node("a", AtRelayIn), node("b", AtRelayOut)},
			Parts: []Part{{ID: "r", Kind: Relay, From: "a", To: "b"}}}, "ignition switch out"},
	} {
		_, err := Wiring(c.spec)
		var se *SpecError
		if !errors.As(err, &se) {
			t.Errorf("%s: got %v, want a SpecError", name, err)
			continue
		}
		if !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %q does not say %q", name, err, c.says)
		}
	}
	if s, err := Wiring(WiringSpec{}); err != nil || s.W == 0 {
		t.Errorf("an empty spec is refused: %v", err)
	}
}

// Any words at all give a picture or a SpecError, and the picture can be
// written.
func FuzzWiring(f *testing.F) {
	f.Add("ballast, supply side", "11.4 V", "lowest 6.1 V", "3.1 A", true)
	f.Add("", "± Ω 1", " ", "\xff", false)
	f.Add("", "\xc2\xfa\x00\x00\xfa 1", " ", "\xff", false) // as wide as a tag without a name
	f.Fuzz(func(t *testing.T, label, value, sub, current string, tall bool) {
		spec := wiringCases()["full"](tall)
		spec.Nodes[3].Label, spec.Nodes[3].Value, spec.Nodes[3].Sub = label, value, sub
		spec.Parts[4].Label, spec.Parts[4].Value, spec.Parts[4].Current = label, value, current
		s, err := Wiring(spec)
		var se *SpecError
		if err != nil {
			if !errors.As(err, &se) {
				t.Fatal(err)
			}
			return
		}
		readSVG(t, []byte(svgOf(t, s, SVGOptions{})))
		for _, c := range clashes(s) {
			t.Error(c)
		}
	})
}

func BenchmarkWiringToSVG(b *testing.B) {
	spec := wiringCases()["full"](true)
	b.ReportAllocs()
	for b.Loop() {
		s, err := Wiring(spec)
		if err != nil {
			b.Fatal(err)
		}
		if err := WriteSVG(io.Discard, s, SVGOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
