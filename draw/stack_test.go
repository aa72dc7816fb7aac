package draw

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// firingSpec is an invented firing: the current ramps, the switch opens at
// 12 ms, the plug breaks down 60 µs later and the spark goes out at 13.6 ms.
func firingSpec() StackSpec {
	var ms, amps, volts, kilovolts []float64
	const n = 10000
	for i := range n {
		t := 20 * float64(i) / (n - 1)
		a, v, k := 0.0, 12.4, 0.0
		switch {
		case t < 4:
		case t < 12:
			a = 7.2 * (1 - math.Exp(-(t-4)/5))
			v = 0.9 + 0.02*a
		case t < 12.06:
			w := math.Sin(math.Pi / 2 * (t - 12) / 0.06)
			a, v, k = 5.7*(1-w*w), 12.4+260*w, -16*w
		case t < 13.6:
			d := t - 12.06
			v, k = 42+60*math.Exp(-d/0.08)*math.Cos(2*math.Pi*d/0.05), -1.1-0.4*d*d/2.4
		default:
			d := t - 13.6
			w := math.Exp(-d/0.7) * math.Cos(2*math.Pi*d/0.4)
			v, k = 12.4+34*w, -2.1*w
		}
		ms, amps, volts, kilovolts = append(ms, t), append(amps, a), append(volts, v), append(kilovolts, k)
	}
	return StackSpec{
		Title: "One firing at hot idle", X: Axis{Label: "time", Unit: "ms"},
		Charts: []StackChart{
			{Y: Axis{Label: "primary current", Unit: "A"}, Series: []Series{{Name: "primary current", X: ms, Y: amps, Origin: Predicted}}},
			{Y: Axis{Label: "primary voltage", Unit: "V"}, Series: []Series{{Name: "at the switched terminal", X: ms, Y: volts, Origin: Predicted}},
				Limits: []CurveLimit{{"switch's highest", Limit{AtMost, 350}}}},
			{Y: Axis{Label: "secondary", Unit: "kV"}, Series: []Series{{Name: "secondary", X: ms, Y: kilovolts, Origin: Predicted}}},
		},
		Moments: []Moment{{"switch closes", 4}, {"switch opens", 12}, {"plug breaks down", 12.06}, {"spark goes out", 13.6}},
	}
}

func TestStackGolden(t *testing.T) {
	for name, w := range map[string]float64{"wide": 720, "phone": 366} {
		spec := firingSpec()
		spec.W = w
		s, err := Stack(spec)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range clashes(s) {
			if strings.Contains(c, "lies on") || strings.Contains(c, "leaves") {
				t.Errorf("%s: %s", name, c)
			}
		}
		if out := svgOf(t, s, SVGOptions{}); len(out) > 60_000 {
			t.Errorf("%s: %d bytes", name, len(out))
		}
		golden(t, "stack-"+name, s)
	}
}

// Fields share their left and right ends, so that a moment is one upright
// line through all of them, at the place the axis says: over 0 to 20 ms, 4 ms
// is a fifth along.
func TestStackMomentsLineUp(t *testing.T) {
	s, err := Stack(firingSpec())
	if err != nil {
		t.Fatal(err)
	}
	var uprights []Line
	x0, x1 := math.Inf(1), 0.0
	for _, it := range s.Items {
		switch v := it.(type) {
		case Line:
			if v.Style.Stroke == Ink && v.X1 == v.X2 {
				uprights = append(uprights, v)
			}
		case Polyline:
			if v.Style.Stroke == Muted && len(v.Points) == 3 { // the axes
				x0, x1 = math.Min(x0, v.Points[1].X), math.Max(x1, v.Points[2].X)
				if v.Points[1].X != x0 || v.Points[2].X != x1 {
					t.Error("charts do not line up")
				}
			}
		}
	}
	if len(uprights) != 12 {
		t.Fatalf("%d strokes for 4 moments in 3 charts", len(uprights))
	}
	for _, l := range uprights[:3] {
		if want := x0 + (x1-x0)/5; math.Abs(l.X1-want) > 1e-9 {
			t.Errorf("4 ms stands at %v, want %v", l.X1, want)
		}
	}
}

func TestStackSaysInWords(t *testing.T) {
	s, err := Stack(firingSpec())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Primary current: predicted, time from 0 to 20 ms, lowest 0 A", "Moment 3, plug breaks down, at 12.06 ms.", "Switch's highest: at most 350 V."} {
		if !strings.Contains(s.Desc, want) {
			t.Errorf("%q is not in %q", want, s.Desc)
		}
	}
	var texts []string
	for _, x := range takeApart(s.Items).texts {
		texts = append(texts, x.s)
	}
	if all := strings.Join(texts, "|"); !strings.Contains(all, "2–3") || !strings.Contains(all, "plug breaks down, 12.06 ms") {
		t.Errorf("moments 60 µs apart do not share a sign, or are not listed: %s", all)
	}
}

func TestStackRefuses(t *testing.T) {
	for name, spec := range map[string]StackSpec{
		"narrow":        {W: 100},
		"flat":          {ChartH: 3},
		"nine charts":   {Charts: make([]StackChart, 9)},
		"NaN":           {Charts: []StackChart{{Series: []Series{{X: []float64{0}, Y: []float64{math.NaN()}}}}}},
		"NaN moment":    {Moments: []Moment{{"x", math.NaN()}}},
		"falling order": {Moments: []Moment{{"x", 2}, {"y", 1}}},
	} {
		_, err := Stack(spec)
		var se *SpecError
		if !errors.As(err, &se) {
			t.Errorf("%s: got %v, want a SpecError", name, err)
		}
	}
	if _, err := Stack(StackSpec{}); err != nil {
		t.Errorf("an empty spec is refused: %v", err)
	}
}

func FuzzStack(f *testing.F) {
	f.Add("plug breaks down", 12.0, 12.06, 13.6, 366.0)
	f.Add("", 0.0, 0.0, 0.0, 720.0)
	f.Fuzz(func(t *testing.T, name string, a, b, c, w float64) {
		s, err := Stack(StackSpec{Title: name, W: w, X: Axis{Label: name, Unit: name},
			Charts:  []StackChart{{Y: Axis{Label: name}, Series: []Series{{Name: name, X: []float64{a, b}, Y: []float64{b, c}}}}, {}},
			Moments: []Moment{{name, a}, {name, b}, {name, c}}})
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
