package units

import (
	"math"
	"testing"
)

// FuzzParse: whatever is typed, Parse neither panics nor lets a figure through
// that cannot be; a refusal is a whole ParseError; and what was read can be
// written and read again.
func FuzzParse(f *testing.F) {
	for _, s := range forms {
		f.Add(uint8(s.kind), s.text)
	}
	for _, s := range refusals {
		f.Add(uint8(s.kind), s.text)
	}
	f.Fuzz(func(t *testing.T, kind uint8, text string) {
		k := Kind(kind) % Kind(len(traits))
		v, err := Parse(k, text)
		if err != nil {
			checkError(t, k, text, err)
			return
		}
		switch {
		case !isFinite(v.X) || !isFinite(v.PM) || v.PM < 0 || v.Shape > LogNormal,
			(v.Shape == Exact) != (v.PM == 0),
			k.trait().notNegative && (v.X < 0 || math.Signbit(v.X)),
			k == Temperature && v.X < absoluteZero,
			v.Lo() > v.Hi(), !isFinite(v.Sigma()),
			v.Sample(0.3) > v.Sample(0.7):
			t.Fatalf("%v %q gave %+v", k, text, v)
		}
		for _, s := range []System{Metric, Inch} {
			shown := FormatValue(k, v, s)
			// Rounding may carry these over the edge of what Parse takes.
			switch {
			case k == Temperature && v.Lo() < -200,
				k == Count && v.Shape != Exact,
				math.Abs(v.X) > mostX/100, v.PM > mostX/100:
				continue
			}
			if _, err := Parse(k, shown); err != nil {
				t.Fatalf("%v %q is written %q, but %v", k, text, shown, err)
			}
		}
	})
}
