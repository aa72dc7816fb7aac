package heat

import (
	"math"
	"testing"
)

// After a drive and shutdown the housing of a module that makes little heat
// is hottest some minutes after the stop, not on the road: common practice
// calls it hot soak. The air under the bonnet peaks where the soak ends.
func TestHotSoakPeaksAfterShutdown(t *testing.T) {
	s := compiled(t, TypicalModule().Network())
	b := TypicalBay()
	off := make([]Power, 4)
	cycle := b.Cycle([]Leg{{"town", 900, []Power{{W: 2}, {}, {}, {}}}, {"road", 2700, []Power{{W: 3}, {}, {}, {}}}}, 3*3600, off)
	h := ran(t, s, s.Even(b.OutsideC), cycle...)
	near(t, "length", h.Seconds, 3600+3*3600, 1e-9)
	p := h.Peak(Body)
	if p.Segment != "hot soak" && p.Segment != "cooling down" || p.AtS < 3600+120 || p.AtS > 3600+2400 {
		t.Errorf("body peaks in %q at %g s", p.Segment, p.AtS)
	}
	if road := h.At(Body, 3600); p.TempC < road+2 {
		t.Errorf("body: %.1f °C on the road, peak %.1f °C", road, p.TempC)
	}
	air := h.GivenAt(BayAir, 3600+b.SoakS)
	near(t, "air at the end of the soak", air, b.SoakC+(h.GivenAt(BayAir, 3600)-b.SoakC)*math.Exp(-b.SoakS/b.SoakLagS), 1e-9)
	if air < 90 || air > 120 {
		t.Errorf("bay air %.1f °C in hot soak, 90 to 120 are usual", air)
	}
	// A module that makes much heat is hottest on the road.
	for i := range cycle[:2] {
		cycle[i].Powers = []Power{{W: 15}, {}, {}, {}}
	}
	if p := ran(t, s, s.Even(b.OutsideC), cycle...).Peak(Junction); p.Segment != "road" {
		t.Errorf("15 W: junction peaks in %q", p.Segment)
	}
}

func TestCycleCutsTheSoak(t *testing.T) {
	b := TypicalBay()
	off := make([]Power, 4)
	for parked, want := range map[float64]int{0: 1, 600: 2, 1200: 2, 1201: 3} {
		cycle := b.Cycle([]Leg{{"road", 600, off}}, parked, off)
		sum := 0.0
		for _, g := range cycle {
			sum += g.Seconds
		}
		if len(cycle) != want || sum != 600+parked {
			t.Errorf("parked %g s: %d segments of %g s", parked, len(cycle), sum)
		}
	}
}
