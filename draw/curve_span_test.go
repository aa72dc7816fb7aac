package draw

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// heatSpec is an invented drive of 90 minutes: two bodies warm up with time
// constants of 12 and 25 minutes, soak after the engine stops and warm again.
func heatSpec() CurveSpec {
	spec := CurveSpec{
		Title: "Heat over a drive", X: Axis{Label: "time", Unit: "min"}, Y: Axis{Label: "temperature", Unit: "°C"},
		Series: []Series{{Name: "switch case", Origin: Predicted}, {Name: "coil winding", Origin: Predicted}, {Name: "engine bay air", Origin: Assumed}},
		Limits: []CurveLimit{{"switch's highest", Limit{AtMost, 110}}},
		Spans:  []Span{{"driving", 0, 40}, {"heat soak", 40, 60}, {"idling in traffic", 60, 75}, {"driving", 75, 90}},
	}
	air := func(t float64) float64 {
		switch {
		case t < 40 || t >= 75:
			return 62
		case t < 60:
			return 88
		}
		return 80
	}
	sw, coil := 20.0, 20.0
	for t := 0.0; t <= 90; t += 0.5 {
		rise := 30.0
		if t >= 40 && t < 60 {
			rise = 0
		}
		sw += (air(t) + rise - sw) * 0.5 / 12
		coil += (air(t) + 1.4*rise - coil) * 0.5 / 25
		for i, v := range []float64{sw, coil, air(t)} {
			s := &spec.Series[i]
			s.X, s.Y = append(s.X, t), append(s.Y, v)
			if i == 0 {
				s.Lo, s.Hi = append(s.Lo, v-6), append(s.Hi, v+6)
			}
		}
	}
	return spec
}

// switchSpec compares invented switches: what they give over engine speed.
func switchSpec() CurveSpec {
	spec := CurveSpec{
		Title: "Available secondary voltage by switch", X: Axis{Label: "engine speed", Unit: "rpm"}, Y: Axis{Label: "available", Unit: "kV"},
		Limits: []CurveLimit{{"most a plug asks for", Limit{AtLeast, 18}}}, Direct: true,
	}
	for _, k := range []struct {
		name       string
		top, fall  float64
		pm         float64
		lowSpeed   float64
		dwellShare float64
	}{
		{"points, condenser", 25, 2600, 1.6, 0.75, 0.6},
		{"transistor behind points", 26, 2900, 1.2, 0.98, 0.6},
		{"trigger, fixed dwell", 27, 3800, 1, 0.97, 0.8},
		{"capacitor discharge", 29, 12000, 1.5, 0.9, 1},
	} {
		s := Series{Name: k.name, Origin: Predicted}
		for n := 300.0; n <= 6000; n += 150 {
			v := k.top * (1 - math.Exp(-k.fall/n)) * (1 - (1-k.lowSpeed)*math.Exp(-(n-300)/400))
			s.X, s.Y, s.Lo, s.Hi = append(s.X, n), append(s.Y, v), append(s.Lo, v-k.pm), append(s.Hi, v+k.pm)
		}
		spec.Series = append(spec.Series, s)
	}
	return spec
}

// spikeSpec is an invented load dump with and without a clamp.
func spikeSpec(log bool) CurveSpec {
	spec := CurveSpec{
		Title: "Supply spike when a load is cut off", X: Axis{Label: "time", Unit: "ms"}, Y: Axis{Label: "at the trigger", Unit: "V", Log: log},
		Series: []Series{{Name: "as it is", Origin: Predicted}, {Name: "with a suppressor", Origin: Predicted}},
		Limits: []CurveLimit{{"trigger's highest", Limit{AtMost, 60}}},
	}
	for t := -20.0; t <= 400; t++ {
		v := 13.8
		if t >= 0 {
			v += 68 * math.Exp(-t/120)
		}
		for i, u := range []float64{v, math.Min(v, 34)} {
			spec.Series[i].X, spec.Series[i].Y = append(spec.Series[i].X, t), append(spec.Series[i].Y, u)
		}
	}
	return spec
}

func TestCurveKindsGolden(t *testing.T) {
	for name, spec := range map[string]CurveSpec{"heat": heatSpec(), "switch": switchSpec(), "spike": spikeSpec(false), "spike-log": spikeSpec(true)} {
		for _, w := range []float64{720, 366} {
			spec.W, spec.H = w, 360
			s, err := Curve(spec)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			for _, c := range clashes(s) {
				if strings.Contains(c, "lies on") || strings.Contains(c, "leaves") {
					t.Errorf("%s at %v: %s", name, w, c)
				}
			}
			layout := "-wide"
			if w < 400 {
				layout = "-phone"
			}
			golden(t, "curve-"+name+layout, s)
		}
	}
}

func TestCurveSpansAndIntervalsInWords(t *testing.T) {
	heat, err := Curve(heatSpec())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Heat soak: 40 to 60 min.", "Switch's highest: at most 110 °C.", "lowest 23 (17 to 29) °C at 0 min"} {
		if !strings.Contains(heat.Desc, want) {
			t.Errorf("%q is not in %q", want, heat.Desc)
		}
	}
}

// On a logarithmic axis equal ratios take equal lengths: over 1 to 1000 a
// tenfold takes a third.
func TestLogAxis(t *testing.T) {
	a := Axis{Lo: 1, Hi: 1000, Log: true}
	for v, want := range map[float64]float64{1: 0, 10: 1.0 / 3, 100: 2.0 / 3, 1000: 1, math.Sqrt(1000): 0.5} {
		if got := a.part(v); math.Abs(got-want) > 1e-12 {
			t.Errorf("%v stands at %v, want %v", v, got, want)
		}
	}
	for _, c := range []struct {
		lo, hi float64
		n      int
		want   string
	}{{13, 82, 5, "10 20 50 100"}, {2, 3, 5, "1 2 5 10"}, {1e-3, 1e6, 5, "0.001 0.1 10 1000 100000"}} {
		a := Axis{Log: true}
		var got []string
		for _, k := range a.settle(c.lo, c.hi, c.n, true) {
			got = append(got, k.label)
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%v to %v has ticks %s, want %s", c.lo, c.hi, s, c.want)
		}
		if a.Lo > c.lo || a.Hi < c.hi {
			t.Errorf("%v to %v is not covered by %v to %v", c.lo, c.hi, a.Lo, a.Hi)
		}
	}
}

func TestCurveRefusesSpansAndIntervals(t *testing.T) {
	line := func(lo, hi []float64) []Series {
		return []Series{{X: []float64{1, 2}, Y: []float64{1, 2}, Lo: lo, Hi: hi}}
	}
	for name, spec := range map[string]CurveSpec{
		"uneven interval":   {Series: line([]float64{1}, []float64{1})},
		"crossed interval":  {Series: line([]float64{2, 2}, []float64{1, 3})},
		"NaN interval":      {Series: line([]float64{math.NaN(), 2}, []float64{1, 3})},
		"backward span":     {Spans: []Span{{"a", 2, 1}}},
		"overlapping spans": {Spans: []Span{{"a", 0, 2}, {"b", 1, 3}}},
		"log of nought":     {Y: Axis{Log: true}, Series: []Series{{X: []float64{1}, Y: []float64{0}}}},
		"log axis from 0":   {Y: Axis{Log: true, Lo: 0, Hi: 1}},
		"log limit at -1":   {Y: Axis{Log: true}, Limits: []CurveLimit{{"x", Limit{AtMost, -1}}}},
	} {
		_, err := Curve(spec)
		var se *SpecError
		if !errors.As(err, &se) {
			t.Errorf("%s: got %v, want a SpecError", name, err)
		}
	}
}

// Names at the ends keep apart and in the field even where all lines end in
// one point.
func TestEndNamesKeepApart(t *testing.T) {
	spec := CurveSpec{Title: "t", W: 720, H: 240, Y: Axis{Lo: 0, Hi: 1}, Direct: true}
	for i, y := range []float64{0, 0, 0.01, 1} {
		spec.Series = append(spec.Series, Series{Name: "line " + string(rune('A'+i)), X: []float64{0, 1}, Y: []float64{0.5, y}})
	}
	s, err := Curve(spec)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range clashes(s) {
		if strings.Contains(c, "lies on") || strings.Contains(c, "leaves") {
			t.Error(c)
		}
	}
	for _, r := range spec.Series {
		n := 0
		for _, x := range takeApart(s.Items).texts {
			if x.s == r.Name {
				n++
			}
		}
		if n != 2 {
			t.Errorf("%s stands %d times, want in the legend and at its end", r.Name, n)
		}
	}
}

func FuzzCurve(f *testing.F) {
	f.Add("driving", 0.0, 40.0, 12.0, 3.0, true, false, 366.0)
	f.Add("", -1.0, 1e9, 0.5, 1e-9, false, true, 720.0)
	f.Fuzz(func(t *testing.T, name string, from, to, y, pm float64, direct, log bool, w float64) {
		spec := CurveSpec{Title: name, W: w, H: 400, X: Axis{Label: name, Unit: name}, Y: Axis{Log: log}, Direct: direct,
			Series: []Series{{Name: name, X: []float64{from, to}, Y: []float64{y, y + pm}, Lo: []float64{y - pm, y}, Hi: []float64{y + pm, y + 2*pm}}, {Name: "b"}},
			Limits: []CurveLimit{{name, Limit{AtMost, y}}},
			Spans:  []Span{{name, from, to}}}
		s, err := Curve(spec)
		var se *SpecError
		if err != nil {
			if !errors.As(err, &se) {
				t.Fatal(err)
			}
			return
		}
		readSVG(t, []byte(svgOf(t, s, SVGOptions{})))
	})
}
