package units

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf8"
)

// refusal is text that must not be taken: where the trouble begins (byte) and
// a part of what must be said about it.
var refusals = []struct {
	kind   Kind
	text   string
	offset int
	what   string
}{
	// Of another quantity, or of none.
	{Resistance, "5 V", 2, "V is a voltage; a resistance is wanted"},
	{Voltage, "5 ohm", 2, "ohm is a resistance; a voltage is wanted"},
	{Inductance, "8 mm", 2, "mm is a length; an inductance is wanted"},
	{Voltage, "5 mV/K", 2, "mV/K is a voltage change per degree; a voltage is wanted"},
	{Voltage, "13 K", 3, "K is a temperature"}, // the same letter case first
	{Voltage, "13 k", 3, "k is a resistance"},
	{DistributorAngle, "67 %", 3, "a distributor angle is wanted"},
	{Resistance, "#18", 0, "# is a wire gauge; a resistance is wanted"},
	{Resistance, "5 bananas", 2, "bananas is not a known unit"},
	{Resistance, "1.5 ohm hot", 4, "ohm hot is not a known unit"},
	{Count, "8 cylinders", 2, "cylinders is not a known unit"},

	// Two meanings.
	{Resistance, "5 MOHM", 2, "m is milli (a thousandth), M is mega (a million)"},
	{Resistance, "5 m", 2, "m is milli (a thousandth), M is mega (a million)"},
	{Resistance, "4m7", 0, "m is milli (a thousandth), M is mega (a million)"},
	{Voltage, "5 MV", 2, "M, which is mega (a million): for thousandths write mV"},
	{Charge, "5 MAH", 2, "for thousandths write mAh"},
	{Capacitance, "0.22 mF", 5, "write µF, uF or mfd"},
	{Capacitance, "0.22 MF", 5, "write µF, uF or mfd"},
	{WireSection, "18 gauge", 3, "American and British"},
	{WireSection, "18 SWG", 3, "British"},
	{WireSection, "1.5 mm", 0, "a diameter is not an area"},
	{WireSection, "1.5", 0, "gauge number or mm²"},
	{WireSection, "1/0", 0, "gauge number or mm²"},
	{WireSection, "18 AWG ± 1", 10, "per cent or mm²"},
	{Length, "35", 0, "mm, mil or inches"},
	{Length, "1..2", 0, "mm, mil or inches"},
	{Pressure, "0.55", 0, "bar, kPa, psi or inHg"},
	{Pressure, "0.4..0.6", 0, "bar, kPa, psi or inHg"},
	{Pressure, "18 inHg vacuum", 3, "18 inHg of vacuum under 30 inHg of air is 12 inHg"},
	{Pressure, "600 mbar vac", 4, "write what is left, absolute"},
	{Pressure, "18 in Hg vac.", 3, "write what is left, absolute"},
	{Pressure, "5 psig", 2, "leaves out the air outside"},
	{Pressure, "500 MBAR", 4, "for thousandths write mbar"},
	{Force, "19", 0, "newtons, ounces or grams"},
	{Vacuum, "6", 0, "inHg, mbar or kPa"},
	{Vacuum, "20 inHg abs", 3, "counted up from nothing"},
	{Vacuum, "-2 inHg", 0, "cannot be negative"},
	{GaugePressure, "150", 0, "psi, bar or kPa"},
	{GaugePressure, "165 psia", 4, "counts the air outside"},
	{Mass, "40", 0, "grams, ounces or pounds"},
	{Mass, "40 N", 3, "N is a force; a mass is wanted"},
	{SpringRate, "2.5", 0, "N/mm, N/m or lb/in"},
	{Torque, "1", 0, "N m, lb in or oz in"},
	{FluxDensity, "12", 0, "tesla, millitesla or gauss"},
	{CrankAngle, "5 deg ATDC", 2, "negative advance: -5 deg"},
	{CrankAngle, "5° ATDC", 1, "negative advance: -5 deg"},
	{Temperature, "180°", 3, "which scale"},
	{Temperature, "82 °C ± 5 %", 10, "a part of a temperature has no meaning"},
	{Temperature, "82 °C within a factor of 2", 0, "not a temperature"},
	{Fraction, "67", 0, "write 67 %"},
	{Fraction, "0.67 ± 5 %", 8, "write 67 % ± 5 % or 0.67 ± 0.05"},
	{Resistance, "9,500 ohm", 0, "write 9500 or 9.500"},
	{Turns, "1,250 turns", 0, "write 1250 or 1.250"},
	{Speed, "1.200 rpm", 0, "write 1200 or 1.2000"},
	{Speed, "1 200 rpm", 2, "two numbers side by side"},
	{Resistance, "4E7", 0, "write 4.7 or 4e7"},
	{Resistance, "5k5 ± 100", 7, "needs its own unit"},
	{Resistance, "4..5k5", 0, "needs its own unit"},
	{Length, "6 ft 3 in .. 7", 13, "needs its own unit"},
	{Resistance, "4R7 kohm", 4, "kohm does not go with 4R7"},

	// No such figure.
	{Resistance, "-0.5 ohm", 0, "cannot be negative"},
	{Resistance, "-0.5..1 ohm", 0, "cannot be negative"},
	{Capacitance, "-1 µF", 0, "cannot be negative"},
	{Length, "-1 in", 0, "cannot be negative"},
	{Pressure, "-0.4 bar", 0, "cannot be negative"},
	{Force, "-1 N", 0, "cannot be negative"},
	{Length, "-6 ft 3 in", 0, "cannot be negative"},
	{WireSection, "-1 mm²", 0, "cannot be negative"},
	{WireSection, "41 AWG", 0, "from 4/0 (thick)"},
	{WireSection, "5/0 AWG", 0, "from 4/0 (thick)"},
	{WireSection, "00000 AWG", 0, "from 4/0 (thick)"},
	{WireSection, "18.5 AWG", 0, "from 4/0 (thick)"},
	{WireSection, "18½ AWG", 0, "from 4/0 (thick)"},
	{WireSection, "-18 AWG", 0, "from 4/0 (thick)"},
	{WireSection, "2.5/0.3 mm", 0, "strands/diameter"},
	{Temperature, "-300 C", 0, "absolute zero"},
	{Temperature, "-460 F", 0, "absolute zero"},
	{Temperature, "-1 K", 0, "absolute zero"},
	{Resistance, "1.6..1.4 ohm", 0, "swapped"},
	{Resistance, "900..1.1 kohm", 0, "swapped"},
	{Resistance, "NaN", 0, "a number should stand here"},
	{Resistance, "inf", 0, "a number should stand here"},
	{Resistance, "1e400", 0, "too large"},
	{Resistance, "1e28 Mohm", 0, "too large"},
	{Resistance, "1 ± 1e31", 5, "too large"},
	{Resistance, "1 ohm within a factor of 1e31", 25, "too large"},
	{Count, "8.5", 0, "whole number"},
	{Count, "1.5..3", 0, "whole number"},
	{Length, "1/0 in", 0, "lower one is not 0"},
	{Length, "1 in ± 1/0 in", 8, "lower one is not 0"},
	{Length, "1 3/2 in", 2, "below 1"},
	{Length, "6 ft 13 in", 5, "inches below 12"},
	{Length, "6.5 ft 3 in", 7, "inches below 12"},

	// Not understood.
	{Resistance, "", 0, "nothing was typed"},
	{Resistance, "   ", 3, "nothing was typed"},
	{Resistance, "ohm", 0, "a number should stand here, not ohm"},
	{Resistance, "1.5 ±", 6, "a number is missing"},
	{Resistance, "1.5 ± -0.1", 7, "no sign of its own"},
	{Resistance, "1.5 ohm 2", 8, "2 should not stand here"},
	{Resistance, "1.5 ohm = 2", 8, "= should not stand here"},
	{Resistance, "1.5½ ohm", 3, "should not stand here"},
	{Resistance, "1.5 .. ohm", 7, "a number should stand here"},
	{Resistance, "1.5 .. 1.6 V", 11, "a resistance is wanted"},
	{Resistance, "1.5 V within a factor of 2", 4, "a resistance is wanted"},
	{Resistance, "-1.5 within a factor of 2", 0, "cannot be negative"},
	{Voltage, "-1.5 within a factor of 2", 0, "above zero"},
	{Resistance, "1.5 within a factor of 1,234", 23, "write 1234 or 1.234"},
	{Resistance, "1.5 ± -1 V", 10, "a resistance is wanted"},
	{Resistance, "-1.5 ± 0.1", 0, "cannot be negative"},
	{Voltage, "5k5", 0, "for a voltage no k stands in place of the decimal point"},
	{Length, "6 ft 4R7 in", 5, "for a length no R stands"},
	{Length, "6 ft 3 V", 7, "a length is wanted"},
	{WireSection, "1/1e300 mm", 0, "too large"},
	{Resistance, "1.5 fathoms of the longest cable", 4, "fathoms of the longest c… is not a known unit"},
	{Resistance, "1,2345,678 ohm", 0, "too many decimal marks"},
	{Resistance, "1,2,3 ohm", 0, "too many decimal marks"},
	{Resistance, "1.5 + 0.2 ohm", 4, "write a range"},
	{Resistance, "1.5 within a factor of 0.5", 23, "1 or more"},
	{Resistance, "1.5 within a factor of", 22, "within a factor of 1.3"},
	{Resistance, "1.5 \xff", 4, "should not stand here"},
	{Resistance, "1.5 o\nhm\x00", 8, "should not stand here"},
	{Resistance, strings.Repeat("1", mostText+1), mostText, "too long"},
	{Resistance, strings.Repeat("\x80", mostText+1), 0, "too long"},
}

func TestParseRefuses(t *testing.T) {
	for _, r := range refusals {
		v, err := Parse(r.kind, r.text)
		var pe *ParseError
		if !errors.As(err, &pe) {
			t.Errorf("%v %q: got %+v, %v; want a *ParseError", r.kind, r.text, v, err)
			continue
		}
		if !strings.Contains(pe.What, r.what) {
			t.Errorf("%v %q: said %q, want it to say %q", r.kind, r.text, pe.What, r.what)
		}
		if pe.Offset != r.offset {
			t.Errorf("%v %q: pointed at byte %d, want %d (%s)", r.kind, r.text, pe.Offset, r.offset, pe.What)
		}
		checkError(t, r.kind, r.text, err)
	}
}

// checkError holds for every refusal: typed, on one printable line, naming
// what is accepted, and pointing into the text.
func checkError(t *testing.T, k Kind, text string, err error) {
	t.Helper()
	var pe *ParseError
	switch {
	case !errors.As(err, &pe):
		t.Errorf("%v %q: %v is not a *ParseError", k, text, err)
	case pe.Kind != k || !strings.HasPrefix(text, pe.Text) || len(pe.Text) > mostText:
		t.Errorf("%v %q: wrong Kind or Text in %+v", k, text, pe)
	case pe.Offset < 0 || pe.Offset > len(pe.Text):
		t.Errorf("%v %q: Offset %d is outside the text", k, text, pe.Offset)
	case pe.What == "" || strings.ContainsAny(pe.Error(), "\n\r\x00") || !utf8.ValidString(pe.Error()):
		t.Errorf("%v %q: message %q is empty or not one line of text", k, text, pe.Error())
	case !strings.HasSuffix(pe.Error(), "; accepted: "+k.Accepts()):
		t.Errorf("%v %q: message %q does not say what is accepted", k, text, pe.Error())
	}
}

func TestParseUnknownKind(t *testing.T) {
	if _, err := Parse(Kind(200), "1"); err == nil || err.Error() != "no such kind of quantity" {
		t.Errorf("got %v", err)
	}
}
