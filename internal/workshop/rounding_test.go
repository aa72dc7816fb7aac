package workshop

import (
	"math"
	"testing"

	"dwellwright/measure"
)

// A figure is as good as its instrument and as it was written down: half of its
// last place [common practice of rounding], put together as independent.
func TestRounded(t *testing.T) {
	c := demoCar(t)
	for _, x := range []struct {
		id, text string
		si       float64
		half     float64 // of the last place, SI; 0: the instrument's alone
	}{
		{"battery_rest", "12.46 V", 12.46, 0},
		{"battery_rest", "12.5", 12.5, 0.05},
		{"battery_rest", "12 V", 12, 0.5},
		{"battery_rest", "12,5V", 12.5, 0.05},
		{"battery_rest", "0 V", 0, 0.05},
		{"battery_rest", ".5 V", 0.5, 0.05},
		{"plate_housing_drop", "–0.1 V", -0.1, 0.05},
		{"condenser_farads", "0 uF", 0, 0.05e-6},
		{"battery_rest", "0.0 V", 0, 0.05},
		{"plate_housing_drop", "120 mV", 0.12, 0.5e-3},
		{"plate_housing_drop", "−0.1 V", -0.1, 0.05},
		{"timing_idle", "8 deg", 8, 0.5},
		{"coil_temp", "180 F", 82.2, 0}, // a thermometer is good to 2 K
		{"points_gap", "0.016 in", 0.4064e-3, 0.5 * 25.4e-6},
		{"secondary_ohms", "9 kohm", 9e3, 500},
		{"battery_rest", "12.4 to 12.6 V", 12.5, 0},
		{"secondary_ohms", "9k1", 9.1e3, 0},
	} {
		m, err := measure.Find(c, x.id)
		if err != nil {
			t.Fatal(err)
		}
		want := 0.0
		if x.half > 0 {
			want = math.Hypot(x.half, m.Accuracy(x.si))
		}
		if got := rounded(&m, x.text, x.si); math.Abs(got-want) > 1e-3*want {
			t.Errorf("%s %q: ± %.4g, expected %.4g", x.id, x.text, got, want)
		}
		e := Entry{Do: Figure, ID: x.id, Text: x.text}
		if r, err := e.read(c); err != nil || x.half > 0 && math.Abs(r.answer.HalfWidth-want) > 1e-3*want {
			t.Errorf("%s: %v, %v", e, r.answer, err)
		}
	}
}
