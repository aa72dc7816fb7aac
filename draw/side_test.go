package draw

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// sideSpec is an invented rotor that a sleeve holds 2 mm above its old seat.
func sideSpec(w float64) DistributorSideSpec {
	band := func(lo, hi float64) SideBand { return SideBand{lo / 1000, hi / 1000} }
	return DistributorSideSpec{
		Title: "How the rotor sits on the sleeve", W: w, ShaftRadiusM: 0.006, ShaftTop: 0.034,
		Plate:   &SideBody{InnerM: 0.009, OuterM: 0.029, Band: band(0, 1.6), Name: "breaker plate"},
		Sleeve:  &SideBody{InnerM: 0.006, OuterM: 0.012, Band: band(8, 22)},
		Ring:    &SideBody{InnerM: 0.012, OuterM: 0.015, Band: band(9, 17)},
		Sensor:  &SideBody{InnerM: 0.0158, OuterM: 0.023, Band: band(1.6, 16)},
		Rotor:   SideRotor{RadiusM: 0.016, Band: band(22, 42), BoreTop: 0.036, Tip: band(36.5, 38.5), TipRadiusM: 0.026, LiftM: 0.002},
		Contact: SideBody{InnerM: 0.0267, OuterM: 0.030, Band: band(35, 43)}, RoofHeight: 0.052,
		Brush: &SideBody{OuterM: 0.0025, Band: band(42, 52)},
		Gaps: []SideGap{
			{ID: "engagement", Name: "shaft in the rotor's bore", At: 0.008, From: 0.022, To: 0.034, Value: Figure{"12 ± 2 mm", Measured, MarkHolds}},
			{ID: "headroom", Name: "room under the roof", At: 0.012, From: 0.042, To: 0.052, Value: Figure{"10 ± 1 mm", Assumed, MarkDoubtful}},
			{ID: "tip", Name: "tip's top edge below the contact's", At: -0.0255, From: 0.0385, To: 0.043, Value: Figure{"4.5 ± 0.7 mm", Predicted, MarkShort}},
			{ID: "air", Name: "air gap", Across: true, At: 0.012, From: 0.015, To: 0.0158, Value: Figure{"0.8 ± 0.3 mm", Measured, MarkHolds}},
			{ID: "end-play", Name: "end play", At: -0.009, From: 0.004, To: 0.0043, Value: Figure{"0.3 ± 0.15 mm", Measured, MarkHolds}},
		},
	}
}

// Heights and radii stand to one scale in the written picture.
func TestDistributorSideIsToScale(t *testing.T) {
	for _, w := range []float64{390, 620} {
		spec := sideSpec(w)
		s, at, err := DistributorSide(spec)
		if err != nil {
			t.Fatal(err)
		}
		got := shapesByID(t, []byte(svgOf(t, s, SVGOptions{})))
		mm := 0.02 / at.Scale
		box := func(id string, i int) (x0, x1, z0, z1 float64) {
			x0, x1, z0, z1 = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
			for _, p := range got[id][i].pts {
				x, z := (p.X-at.X)/at.Scale, (at.Y-p.Y)/at.Scale
				x0, x1, z0, z1 = math.Min(x0, x), math.Max(x1, x), math.Min(z0, z), math.Max(z1, z)
			}
			return x0, x1, z0, z1
		}
		body := func(id string, i int, x0, x1, z0, z1 float64) {
			a, b, c, d := box(id, i)
			near(t, id+" left", a, x0, mm)
			near(t, id+" right", b, x1, mm)
			near(t, id+" foot", c, z0, mm)
			near(t, id+" top", d, z1, mm)
		}
		body("ring", 0, 0.012, 0.015, 0.009, 0.017)
		body("ring", 1, -0.015, -0.012, 0.009, 0.017)
		body("sensor", 0, 0.0158, 0.023, 0.0016, 0.016)
		body("sleeve", 0, 0.006, 0.012, 0.008, 0.022)
		body("plate", 0, 0.009, 0.029, 0, 0.0016)
		body("rotor", 0, -0.016, 0.016, 0.022, 0.042)
		body("rotor-old", 0, -0.016, 0.016, 0.020, 0.040)
		body("contact", 0, -0.030, -0.0267, 0.035, 0.043)
		body("brush", 0, -0.0025, 0.0025, 0.042, 0.052)
		left, _, z0, z1 := box("tip", 0)
		near(t, "tip", left, -0.026, mm)
		near(t, "tip's foot", z0, 0.0365, mm)
		near(t, "tip's top", z1, 0.0385, mm)
		_, _, _, top := box("shaft", 0)
		near(t, "shaft's end", top, 0.034, mm)
		bore := math.Inf(-1)
		for _, p := range got["rotor"][0].pts {
			if math.Abs(p.X-at.X)/at.Scale < 0.0061 {
				bore = math.Max(bore, (at.Y-p.Y)/at.Scale)
			}
		}
		near(t, "bore", bore, 0.036, mm)
		for _, g := range spec.Gaps {
			near(t, g.ID, length(got["gap-"+g.ID][0].pts)/at.Scale, g.To-g.From, mm)
		}
		// The air path from tip to contact.
		_, face, _, _ := box("contact", 0)
		near(t, "gap from tip to contact", left-face, 0.0007, 2*mm)
	}
}

func TestDistributorSideIsLegible(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	num := func(lo, hi float64) float64 { return lo + r.Float64()*(hi-lo) }
	called, uncalled := 0, 0
	for i := range 80 {
		spec := sideSpec([]float64{390, 620, 1060}[r.IntN(3)])
		up := num(-0.004, 0.004)
		spec.Rotor.Band.From += up
		spec.Rotor.Band.To += up + num(0, 0.01)
		spec.Rotor.Tip.From += up
		spec.Rotor.Tip.To += up
		spec.Rotor.LiftM = up
		spec.RoofHeight = num(0.05, 0.07)
		spec.Brush.Band.To = spec.RoofHeight
		spec.Contact.Band.From = num(0.03, 0.04)
		for k := range spec.Gaps {
			spec.Gaps[k].To = spec.Gaps[k].From + num(-0.001, 0.015)
			spec.Gaps[k].Value.Origin, spec.Gaps[k].Value.Mark = Origin(r.IntN(4)), CellMark(r.IntN(5))
		}
		spec.Gaps = spec.Gaps[:r.IntN(6)]
		for _, p := range []**SideBody{&spec.Plate, &spec.Sleeve, &spec.Ring, &spec.Sensor, &spec.Brush} {
			if r.IntN(4) == 0 {
				*p = nil
			}
		}
		s, _, err := DistributorSide(spec)
		if err != nil {
			t.Fatalf("%d: %v", i, err)
		}
		checkLaid(t, fmt.Sprintf("%d, %v wide", i, spec.W), s)
		ids, _, _ := readSVG(t, []byte(svgOf(t, s, SVGOptions{})))
		for id := range ids {
			if k, ok := strings.CutPrefix(id, "dw-key-"); ok {
				if called++; ids["dw-call-"+k] == 0 {
					uncalled++
				}
			}
		}
		if t.Failed() {
			break
		}
	}
	if uncalled*50 > called {
		t.Errorf("%d of %d things in the list have no letter in the picture", uncalled, called)
	}
}

func TestDistributorSideRefuses(t *testing.T) {
	nan := math.NaN()
	for name, spoil := range map[string]func(*DistributorSideSpec){
		"narrow":         func(s *DistributorSideSpec) { s.W = 100 },
		"NaN shaft":      func(s *DistributorSideSpec) { s.ShaftRadiusM = nan },
		"negative shaft": func(s *DistributorSideSpec) { s.ShaftRadiusM = -0.006 },
		"rotor too long": func(s *DistributorSideSpec) { s.Rotor.TipRadiusM = 0.0267 },
		"band":           func(s *DistributorSideSpec) { s.Ring.Band.To = 0.001 },
		"NaN tip":        func(s *DistributorSideSpec) { s.Rotor.Tip.To = nan },
		"bore":           func(s *DistributorSideSpec) { s.Rotor.BoreTop = 0.05 },
		"sensor within":  func(s *DistributorSideSpec) { s.Sensor.InnerM = 0.014 },
		"inside out":     func(s *DistributorSideSpec) { s.Plate.OuterM = 0.001 },
		"gap NaN":        func(s *DistributorSideSpec) { s.Gaps[1].At = nan },
		"gaps alike":     func(s *DistributorSideSpec) { s.Gaps[1].ID = "air" },
		"far roof":       func(s *DistributorSideSpec) { s.RoofHeight = 0.9 },
		"no roof":        func(s *DistributorSideSpec) { s.RoofHeight = math.Inf(1) },
		"mark":           func(s *DistributorSideSpec) { s.Gaps[0].Value.Mark = 9 },
	} {
		spec := sideSpec(620)
		spoil(&spec)
		var se *SpecError
		if _, _, err := DistributorSide(spec); !errors.As(err, &se) {
			t.Errorf("%s: got %v, want a SpecError", name, err)
		}
	}
}

func TestDistributorSideSaysInWords(t *testing.T) {
	s, _, err := DistributorSide(sideSpec(390))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Shaft in the rotor's bore: drawn 12 mm, 12 ± 2 mm measured, holds.", "Where the rotor stood before: 2 mm lower.",
		"Magnets: from height 9 mm to 17 mm.", "falls short",
	} {
		if !strings.Contains(s.Desc, want) {
			t.Errorf("%q is missing from\n%s", want, s.Desc)
		}
	}
}

func TestDistributorSideGolden(t *testing.T) {
	for name, w := range map[string]float64{"phone": 390, "wide": 620} {
		s, _, err := DistributorSide(sideSpec(w))
		if err != nil {
			t.Fatal(err)
		}
		golden(t, "side-"+name, s)
	}
}
