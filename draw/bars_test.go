package draw

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func feedBars(width float64) BarsSpec {
	limit := Limit{AtLeast, 8}
	wanted := Range{true, 10, 14.4}
	return BarsSpec{
		Title: "Trigger feed voltage, lowest instant", Unit: "V", Width: width,
		Rows: []BarRow{
			{Label: "cold crank", Value: 8.3, PlusMinus: 0.6, Origin: Predicted, Limit: limit, Wanted: wanted, Mark: MarkDoubtful},
			{Label: "hot restart", Value: 6.9, PlusMinus: 0.4, Origin: Measured, Limit: limit, Wanted: wanted, Mark: MarkShort},
			{Label: "hot idle, in gear, lamps, fan and brake lamps on", Value: 10.6, PlusMinus: 0.15, Origin: Measured, Limit: limit, Wanted: wanted, Mark: MarkHolds},
			{Label: "cruise", Value: 13.2, PlusMinus: 0.9, Origin: Assumed, Limit: limit, Wanted: wanted, Mark: MarkUnproven},
			{Label: "top speed", Unknown: true, Limit: limit, Wanted: wanted, Mark: MarkUnproven},
		},
	}
}

func TestBarsGolden(t *testing.T) {
	for name, w := range map[string]float64{"narrow": 340, "wide": 560} {
		s, err := Bars(feedBars(w))
		if err != nil {
			t.Fatal(err)
		}
		checkLaid(t, name, s)
		golden(t, "bars-"+name, s)
	}
	heat := BarsSpec{Title: "Coil heat", Unit: "W", Width: 360, Lo: 0, Hi: 12, Rows: []BarRow{
		{Label: "hot idle", Value: 9.2, PlusMinus: 1.1, Origin: Predicted, Limit: Limit{AtMost, 9}, Mark: MarkDoubtful},
		{Label: "key on, engine stopped", Value: 14.1, PlusMinus: 0.8, Origin: Stated, Limit: Limit{AtMost, 11}, Mark: MarkShort},
		{Label: "cruise", Value: 0.4, PlusMinus: 0.9, Origin: Assumed, Limit: Limit{AtMost, 9}, Mark: MarkHolds},
	}}
	s, err := Bars(heat)
	if err != nil {
		t.Fatal(err)
	}
	checkLaid(t, "heat", s)
	golden(t, "bars-off-axis", s)
}

// The interval, limit and value must stand where the axis says: on an axis
// from 0 to 12 over a field of 320 units that begins at 20, a value of 9
// stands at 20 + 320*9/12 = 260.
func TestBarsStandWhereTheAxisSays(t *testing.T) {
	b := barsDrawing{BarsSpec: BarsSpec{Width: 360, Lo: 0, Hi: 12}, x0: 20, x1: 340}
	for v, want := range map[float64]float64{0: 20, 9: 260, 12: 340, -1: 20, 99: 340} {
		if got := b.at(v); math.Abs(got-want) > 1e-9 {
			t.Errorf("%v stands at %v, want %v", v, got, want)
		}
	}
}

func TestBarsRefuses(t *testing.T) {
	for name, spec := range map[string]BarsSpec{
		"NaN value":     {Rows: []BarRow{{Value: math.NaN()}}},
		"Inf spread":    {Rows: []BarRow{{PlusMinus: math.Inf(1)}}},
		"minus spread":  {Rows: []BarRow{{PlusMinus: -1}}},
		"NaN limit":     {Rows: []BarRow{{Limit: Limit{AtLeast, math.NaN()}}}},
		"falling band":  {Rows: []BarRow{{Wanted: Range{true, 3, 2}}}},
		"falling axis":  {Lo: 2, Hi: 1},
		"narrow":        {Width: 100},
		"no such mark":  {Rows: []BarRow{{Mark: 99}}},
		"no such limit": {Rows: []BarRow{{Limit: Limit{Side: 9}}}},
	} {
		_, err := Bars(spec)
		var se *SpecError
		if !errors.As(err, &se) {
			t.Errorf("%s: got %v, want a SpecError", name, err)
		}
	}
	if _, err := Bars(BarsSpec{}); err != nil {
		t.Errorf("an empty spec is refused: %v", err)
	}
}

func TestPlusMinus(t *testing.T) {
	for _, c := range []struct {
		v, pm float64
		want  string
	}{{10.6, 0.15, "10.60 ± 0.15 V"}, {8.3, 0.6, "8.3 ± 0.6 V"}, {-0.04, 0.012, "−0.040 ± 0.012 V"}, {1234.4, 56.7, "1234 ± 57 V"}, {5, 0, "5 V"}} {
		if got := plusMinus(c.v, c.pm, "V"); got != c.want {
			t.Errorf("%v and %v give %q, want %q", c.v, c.pm, got, c.want)
		}
	}
}

func TestBarsSayInWords(t *testing.T) {
	s, err := Bars(feedBars(0))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Cold crank: 8.3 ± 0.6 V predicted, limit at least 8 V, wanted 10 to 14.4 V, doubtful.",
		"Top speed: no figure yet",
		"falls short",
	} {
		if !strings.Contains(s.Desc, want) {
			t.Errorf("%q is not in %q", want, s.Desc)
		}
	}
}
