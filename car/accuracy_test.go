package car

import (
	"math"
	"testing"

	"dwellwright/units"
)

// TestAccuracy works the sums an instrument's sheet asks for by hand.
func TestAccuracy(t *testing.T) {
	for _, c := range []struct {
		text  string
		kind  units.Kind
		shown string
		want  float64
	}{
		{"0.5 % + 0.02 V", units.Voltage, "7.4 V", 0.037 + 0.02},
		{"0.5%+0.02V", units.Voltage, "-7.4 V", 0.037 + 0.02},
		{"0.02 V", units.Voltage, "7.4 V", 0.02},
		{"1 %", units.Voltage, "7.4 V", 0.074},
		{"1 % + 3 digits", units.Resistance, "0.93 ohm", 0.0093 + 0.03},
		{"1 % + 3 digits", units.Resistance, "930 mohm", 0.0093 + 0.003},
		{"2 digits", units.Voltage, "7.40 V", 0.02},
		{"2 digits", units.Voltage, "7,40 V", 0.02},
		{"2 digits", units.Voltage, "12", 2},
		{"5 counts + 1 %", units.Current, "3.9 A", 0.5 + 0.039},
		{"2 K", units.Temperature, "80 °C", 2},
		{"2 °C + 1 digit", units.Temperature, "80.5 °C", 2.1},
		{"1 digit", units.Temperature, "180 °F", 5. / 9},
		{"9 °F", units.Temperature, "180 °F", 5},
	} {
		v, err := units.Parse(c.kind, c.shown)
		if err != nil {
			t.Fatal(err)
		}
		got, err := accuracy(c.text, c.kind, v.X, c.shown)
		if err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s of %s = %v, %v; wanted %v", c.text, c.shown, got, err, c.want)
		}
	}
	for _, text := range []string{"", "+", "good", "1 % +", "0 %", "60 %", "1 A", "-0.1 V", "3", "digits", "500 digits"} {
		if got, err := accuracy(text, units.Voltage, 7.4, "4R7"); err == nil && text != "3" {
			t.Errorf("%q = %v", text, got)
		}
	}
}

func TestSuggest(t *testing.T) {
	words := []string{"coil", "coil_lead", "battery", "ballast", "wiring", "switch"}
	for typed, want := range map[string]string{
		"coli": "coil", "batery": "battery", "batterie": "battery", "balast": "ballast", "swich": "switch", "wirring": "wiring",
		"colour": "", "x": "", "": "", "notes": "", "coil_led": "coil_lead",
	} {
		if got := suggest(typed, words); got != want {
			t.Errorf("suggest(%q) = %q, wanted %q", typed, got, want)
		}
	}
	// Damerau's own four slips: one letter wrong, missing, extra, two swapped.
	for _, p := range [][2]string{{"dwell", "dvell"}, {"dwell", "dwel"}, {"dwell", "dweell"}, {"dwell", "dewll"}} {
		if d := editDistance(p[0], p[1]); d != 1 {
			t.Errorf("%s to %s is %d", p[0], p[1], d)
		}
	}
}
