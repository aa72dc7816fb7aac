package cli

import (
	"encoding/json"
	"math"
	"testing"

	"dwellwright/curve"
	"dwellwright/twin"
)

func curveDocument(t *testing.T, args ...string) CurveDocument {
	t.Helper()
	var d CurveDocument
	if err := json.Unmarshal([]byte(run(t, append(append([]string{"curve"}, args...), "--json")...)), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// Inside takes 95 of 100 mechanisms.
func TestStandOfAWantedPoint(t *testing.T) {
	for _, x := range []struct {
		mid, inside float64
		want        curveStand
	}{
		{20, 1, curveInside}, {20, 0.95, curveInside}, {20, 0.94, curveDoubtful}, {21.9, 0.5, curveDoubtful},
		{22.5, 0.6, curveDoubtful}, {22.5, 0.3, curveOutside}, {21, 0.04, curveOutside}, {30, 0, curveOutside},
	} {
		w := curve.Wanted{Point: curve.Point{RPM: 2000, Advance: 20, Tolerance: 2}, Model: twin.Interval{Mid: x.mid}, Inside: x.inside}
		if got := pointStand(&w); got != x.want {
			t.Errorf("%g, inside in %g: %s, want %s", x.mid, x.inside, curveStands[got].id, curveStands[x.want].id)
		}
	}
}

// The document hangs together: what is said of a wanted point is what the
// curve is there; the advance never falls as the speed goes up without
// friction; the readings of a going fit the model within a few of their ±.
func TestCurveHangsTogether(t *testing.T) {
	d := curveDocument(t, "demo", "--draws", "100")
	if d.Origin != "estimated_from_readings" || len(d.Measured) == 0 || len(d.Wanted) == 0 || len(d.Builds) == 0 {
		t.Fatalf("origin %s, %d readings, %d wanted, %d builds", d.Origin, len(d.Measured), len(d.Wanted), len(d.Builds))
	}
	at := func(rpm float64) Interval {
		for _, c := range d.Curve {
			if c.RPM == rpm {
				return c.Advance
			}
		}
		return Interval{Value: math.NaN()}
	}
	for _, w := range d.Wanted {
		c := at(w.RPM)
		if math.Abs(w.Off-(w.Predicted.Value-w.Advance)) > 1e-9 {
			t.Errorf("%g rpm: off by %g, predicted %g, wanted %g", w.RPM, w.Off, w.Predicted.Value, w.Advance)
		}
		if !math.IsNaN(c.Value) && math.Abs(c.Value-w.Predicted.Value) > 0.2 {
			t.Errorf("%g rpm: the curve has %g, the wanted point %g", w.RPM, c.Value, w.Predicted.Value)
		}
	}
	for i := 1; i < len(d.Curve); i++ {
		if d.Curve[i].Rising < d.Curve[i-1].Rising-1e-6 || d.Curve[i].Falling < d.Curve[i].Rising-1e-6 {
			t.Errorf("%g rpm: rising %g after %g, falling %g", d.Curve[i].RPM, d.Curve[i].Rising, d.Curve[i-1].Rising, d.Curve[i].Falling)
		}
	}
	for _, m := range d.Measured {
		if math.Abs(m.Advance-m.Model) > 3*m.PlusMinus {
			t.Errorf("%g rpm going %s: read %g, model %g", m.RPM, m.Going, m.Advance, m.Model)
		}
	}
	for i, b := range d.Builds {
		if len(b.Off) != len(d.Wanted) || i > 0 && b.Chance > d.Builds[i-1].Chance+1e-9 {
			t.Errorf("build %d: %d points, chance %g", i+1, len(b.Off), b.Chance)
		}
	}
	if v := d.Vacuum; v == nil || len(v.Conditions) == 0 {
		t.Error("no vacuum")
	}
}

// A standard atmosphere is 29.92 inHg and 101.325 kPa (ISO 2533).
func TestStandardAtmosphereBothWays(t *testing.T) {
	if got := bothPressures(101325); got != "29.9 inHg or 101 kPa" {
		t.Errorf("%q", got)
	}
	if inHg := 101325 / inHgPa; math.Abs(inHg-29.92) > 0.005 {
		t.Errorf("%g inHg", inHg)
	}
}

// A thousandth of an inch is 25.4 µm (the inch's definition).
func TestBothLengths(t *testing.T) {
	if got := bothLengths(0.508e-3); got != "0.51 mm (20 mil)" {
		t.Errorf("%q", got)
	}
}
