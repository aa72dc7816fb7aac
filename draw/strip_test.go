package draw

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func stripSpec(w float64) PhaseStripSpec {
	return PhaseStripSpec{
		Title: "Where the tip stands as the spark jumps", W: w, PitchDeg: 60, ElectrodeDeg: 10.7, TipDeg: 13.2,
		RestDeg: 3, FullDeg: -9, PM: 2, Origin: Predicted, OverlapDeg: 11.9, JumpDeg: 16,
		Tower: "1", Before: "4", Next: "5", Verdict: "in register over the whole vacuum travel", Mark: MarkHolds,
	}
}

// Every stretch of the strip is as long as its degrees say, on one scale.
func TestPhaseStripIsToScale(t *testing.T) {
	spec := stripSpec(390)
	s, err := PhaseStrip(spec)
	if err != nil {
		t.Fatal(err)
	}
	got := shapesByID(t, []byte(svgOf(t, s, SVGOptions{})))
	span := func(id string) (lo, hi float64) {
		lo, hi = math.Inf(1), math.Inf(-1)
		for _, p := range got[id][0].pts {
			lo, hi = math.Min(lo, p.X), math.Max(hi, p.X)
		}
		return lo, hi
	}
	lo, hi := span("electrode")
	scale, zero := (hi-lo)/spec.ElectrodeDeg, (lo+hi)/2
	for id, want := range map[string][2]float64{
		"overlap": {-11.9, 11.9}, "jump": {-16, 16}, "rest": {1, 5}, "full": {-11, -7},
		"tip": {3 - 6.6, 3 + 6.6}, "tip-full": {-9 - 6.6, -9 + 6.6}, "travel": {-9, 3},
	} {
		lo, hi := span(id)
		near(t, id+" from", (lo-zero)/scale, want[0], 0.03)
		near(t, id+" to", (hi-zero)/scale, want[1], 0.03)
	}
}

func TestPhaseStripIsLegible(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	num := func(lo, hi float64) float64 { return lo + r.Float64()*(hi-lo) }
	for i := range 300 {
		pitch := []float64{90, 60, 45, 30}[r.IntN(4)]
		o := num(0, 20)
		spec := PhaseStripSpec{
			Title: "Phase", W: []float64{320, 390, 620}[r.IntN(3)], PitchDeg: pitch, ElectrodeDeg: num(5, 0.9*pitch), TipDeg: num(0, 20),
			RestDeg: num(-50, 50), FullDeg: num(-50, 50), PM: num(0, 9), Origin: Origin(r.IntN(4)), OverlapDeg: o, JumpDeg: o + num(0, 9),
			Tower: "1", Before: "8", Next: "2", Mark: CellMark(r.IntN(5)), Verdict: []string{"", "jumps to the next tower at full vacuum, where the tip stands nearer to it"}[r.IntN(2)],
		}
		s, err := PhaseStrip(spec)
		if err != nil {
			t.Fatal(err)
		}
		checkLaid(t, fmt.Sprint(i), s)
		if t.Failed() {
			t.Fatalf("%+v", spec)
		}
	}
}

func TestPhaseStripRefuses(t *testing.T) {
	for name, spoil := range map[string]func(*PhaseStripSpec){
		"narrow": func(s *PhaseStripSpec) { s.W = 10 }, "no pitch": func(s *PhaseStripSpec) { s.PitchDeg = 0 },
		"NaN": func(s *PhaseStripSpec) { s.RestDeg = math.NaN() }, "wide electrode": func(s *PhaseStripSpec) { s.ElectrodeDeg = 60 },
		"negative": func(s *PhaseStripSpec) { s.PM = -1 }, "jump below overlap": func(s *PhaseStripSpec) { s.JumpDeg = 2 },
		"tip": func(s *PhaseStripSpec) { s.TipDeg = -1 }, "overlap": func(s *PhaseStripSpec) { s.OverlapDeg = math.Inf(1) },
		"mark": func(s *PhaseStripSpec) { s.Mark = 9 },
	} {
		spec := stripSpec(390)
		spoil(&spec)
		var se *SpecError
		if _, err := PhaseStrip(spec); !errors.As(err, &se) {
			t.Errorf("%s: got %v, want a SpecError", name, err)
		}
	}
}

func TestPhaseStripSaysInWords(t *testing.T) {
	s, err := PhaseStrip(stripSpec(390))
	if err != nil {
		t.Fatal(err)
	}
	plain := strings.ReplaceAll(s.Desc, "\u00a0", " ")
	for _, want := range []string{"Rotor's tip at tower 1: vacuum off 3° ± 2° past, full vacuum 9° ± 2° short, predicted.", "In register over the whole vacuum travel: holds.", "4 at −60°, 5 at 60°"} {
		if !strings.Contains(plain, want) {
			t.Errorf("%q is missing from %q", want, plain)
		}
	}
}

func TestPhaseStripGolden(t *testing.T) {
	for name, w := range map[string]float64{"phone": 390, "wide": 620} {
		s, err := PhaseStrip(stripSpec(w))
		if err != nil {
			t.Fatal(err)
		}
		golden(t, "strip-"+name, s)
	}
}
