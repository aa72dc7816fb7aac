package draw

import "testing"

func TestWiringWindowHoldsTheLeads(t *testing.T) {
	for _, tall := range []bool{false, true} {
		spec := WiringSpec{Tall: tall,
			Nodes: []Node{{ID: "feed", Label: "coil, feed", Place: AtCoilFeed}, {ID: "switched", Label: "coil, switched", Place: AtCoilSwitched}},
			Parts: []Part{{ID: "coil", Kind: Coil, From: "feed", To: "switched"}}}
		if _, _, ok := WiringWindow(spec); ok {
			t.Error("a picture without a meter has a window")
		}
		whole := len(spec.Parts)
		for _, m := range []Part{{ID: "m", Kind: Meter, From: "feed", To: "switched"}, {ID: "m", Kind: Meter, Third: "coil"}} {
			spec.Parts = append(spec.Parts[:whole:whole], m)
			lo, hi, ok := WiringWindow(spec)
			g := wideGrid()
			if tall {
				g = tallGrid()
			}
			a, b := g.spots[AtCoilFeed].at.Y, g.spots[AtCoilSwitched].at.Y
			if !ok || lo >= a-20 || hi <= b+20 || hi-lo > b-a+4*windowRoom {
				t.Errorf("tall %v: window %v to %v, %v, for leads at %v and %v", tall, lo, hi, ok, a, b)
			}
		}
		spec.Parts = append(spec.Parts[:whole:whole], Part{ID: "m", Kind: Meter, From: "feed", To: "nowhere"})
		if _, _, ok := WiringWindow(spec); ok {
			t.Error("leads on nothing have a window")
		}
	}
}
