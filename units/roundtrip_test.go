package units

import (
	"math"
	"math/rand/v2"
	"testing"
)

// shownDiff is how much of the printed digits two figures may differ by: what
// Format rounds off (half of the third digit of 200 and up, 0.25 %; a section
// shown as a gauge 0.5 %), in the unit it is shown in, since a temperature's
// zero is not SI's.
func shownDiff(k Kind, got, want float64, s System) bool {
	st := k.choose(want, s)
	part := 0.0026
	switch {
	case k == WireSection && s == Inch:
		part = nearGauge
	case k.trait().grouped && math.Abs(want) < 2:
		part = 0.005 // 1.174 rpm is written 1.17: see doc.go on commas
	}
	a, b := st.typed(got), st.typed(want)
	return math.Abs(a-b) <= part*math.Abs(b)+1e-9*math.Abs(st.zero)
}

// checkRoundTrip holds for every value: what FormatValue writes, Parse reads
// back to within the digits written.
func checkRoundTrip(t *testing.T, k Kind, v Value, s System) {
	t.Helper()
	text := FormatValue(k, v, s)
	w, err := Parse(k, text)
	if err != nil {
		t.Errorf("%v %+v is written %q, but %v", k, v, text, err)
		return
	}
	ok := false
	switch {
	case v.Shape == Exact:
		ok = w.Shape == Exact && shownDiff(k, w.X, v.X, s)
	case v.Shape == LogNormal:
		f, g := v.factor(), w.factor()
		ok = shownDiff(k, w.X, v.X, s) && math.Abs(g-f) <= 0.0501*(f-1)+1e-9*f
	case k == WireSection && s == Inch && v.Shape == Normal:
		// A gauge may stand for the section and shift it by nearGauge.
		ok = math.Abs(w.X-v.X) <= nearGauge*v.X+0.0501*v.PM && math.Abs(w.PM-v.PM) <= 0.06*v.PM
	default:
		// Half of the second digit of PM is at most 5 % of it; 1e-11 is the
		// last digit of the long form.
		slack := 0.0501*v.PM + 1e-11*math.Max(math.Abs(v.X), v.PM)
		ok = w.Shape == v.Shape && math.Abs(w.X-v.X) <= slack && math.Abs(w.PM-v.PM) <= slack
	}
	if !ok {
		t.Errorf("%v %+v is written %q and read back as %+v", k, v, text, w)
	}
}

func TestRoundTrip(t *testing.T) {
	rng := rand.New(rand.NewPCG(1950, 1975))
	logUniform := func(lo, hi float64) float64 {
		return lo * math.Pow(hi/lo, rng.Float64())
	}
	for _, k := range kinds() {
		for range 400 {
			x := logUniform(1e-13, 1e9)
			switch {
			case k == Count:
				x = float64(rng.IntN(100000))
			case k == Temperature:
				x = -100 + 1600*rng.Float64()
			case !k.trait().notNegative && rng.IntN(2) == 0:
				x = -x
			}
			for _, s := range []System{Metric, Inch} {
				checkRoundTrip(t, k, Value{X: x}, s)
				if k == Count {
					continue // a count with a spread is rounded to a part of one
				}
				// No wider than the figure: a range below nothing is refused.
				pm := math.Abs(x) * logUniform(1e-6, 1)
				checkRoundTrip(t, k, Value{x, pm, Normal}, s)
				if k == Temperature {
					pm = min(pm, 100)
				}
				checkRoundTrip(t, k, Value{x, pm, Uniform}, s)
				if x > 0 && k != Temperature {
					checkRoundTrip(t, k, Value{x, x * logUniform(1e-4, 10), LogNormal}, s)
				}
			}
		}
	}
	for _, f := range forms {
		v, err := Parse(f.kind, f.text)
		if err != nil {
			t.Fatal(err)
		}
		if f.kind == Count && v.Shape != Exact || f.kind == Temperature && v.X < -200 {
			continue // absolute zero in three digits, -460 °F, is below itself
		}
		checkRoundTrip(t, f.kind, v, Metric)
		checkRoundTrip(t, f.kind, v, Inch)
	}
}
