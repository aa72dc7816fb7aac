package units

import (
	"math"
	"strings"
	"testing"
)

func kinds() []Kind {
	list := make([]Kind, len(traits))
	for i := range list {
		list[i] = Kind(i)
	}
	return list
}

// Every spelling in the table is read, and as the unit it stands under: no
// other unit of the same kind catches it first.
func TestEverySpellingIsRead(t *testing.T) {
	for _, k := range kinds() {
		for i := range table[k] {
			u := &table[k][i]
			for s := range strings.FieldsSeq(u.spell) {
				text, want := "400 "+s, (400-u.zero)*u.scale
				switch u.role {
				case gauge:
					text, want = "18 "+s, AWGSection(18)
				case strand:
					text, want = "1/0.5 "+s, math.Pi/16*u.scale*u.scale
				}
				v, err := Parse(k, text)
				if err != nil || math.Abs(v.X-want) > 1e-14*math.Abs(want) {
					t.Errorf("%v %q: got %v (%v), want %v", k, text, v.X, err, want)
				}
			}
		}
	}
}

// What an error names as accepted is accepted: the units before the semicolon
// and the examples after it.
func TestAcceptsIsTrue(t *testing.T) {
	for _, k := range kinds() {
		list, examples, ok := strings.Cut(k.Accepts(), "; for example ")
		if !ok || strings.ContainsAny(k.Accepts(), "\n") {
			t.Errorf("%v: %q has no examples", k, k.Accepts())
			continue
		}
		for _, u := range strings.Split(list, ", ") {
			switch u {
			case "a whole number", "strands/diameter": // words, not units
				continue
			}
			if _, err := Parse(k, "1 "+u); err != nil {
				t.Errorf("%v: %q is listed but %v", k, u, err)
			}
		}
		for _, e := range strings.Split(examples, ", ") {
			e, _, _ = strings.Cut(e, " (")
			if _, err := Parse(k, e); err != nil {
				t.Errorf("%v: example %q: %v", k, e, err)
			}
		}
	}
}

func TestKindNames(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range kinds() {
		if k.String() == "" || seen[k.String()] {
			t.Errorf("kind %d: name %q is empty or used twice", k, k)
		}
		seen[k.String()] = true
	}
	if got := Kind(200).String(); got != "unknown quantity" {
		t.Errorf("unknown kind is called %q", got)
	}
	if got := Inductance.article() + ", " + Resistance.article(); got != "an inductance, a resistance" {
		t.Error(got)
	}
}

// Factors printed in NIST Special Publication 811 (2008), appendix B.8, in the
// digits given there (from memory): bold, that is exact, ones to all digits.
func TestFactorsAgainstSP811(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want float64
		tol  float64
	}{
		{Length, "1 in", 2.54e-2, 0},
		{Length, "1 mil", 2.54e-5, 1e-15},
		{Length, "1 ft", 3.048e-1, 1e-15},
		{WireSection, "1 in²", 6.4516e-4, 1e-15},
		{WireSection, "1 cmil", 5.067075e-10, 1e-6},
		{Temperature, "212 °F", 100, 1e-15},
		{Temperature, "32 °F", 0, 0},
		{Temperature, "373.15 K", 100, 1e-14},
		{Time, "1 h", 3600, 0},
		{Pressure, "1 bar", 1e5, 0},
		{Pressure, "1 inHg", 3.386389e3, 1e-6},
		{Pressure, "1 mmHg", 1.333224e2, 1e-6},
		{Pressure, "1 psi", 6.894757e3, 1e-7},
		{Force, "1 lbf", 4.448222, 1e-6},
		{Force, "1 ozf", 2.780139e-1, 1e-6},
		{Force, "1 gf", 9.80665e-3, 1e-15},
		{Force, "1 kgf", 9.80665, 0},
		{FluxDensity, "1 gauss", 1e-4, 0},
		{Mass, "1 lb", 4.5359237e-1, 0},
		{Mass, "1 oz", 2.834952e-2, 1e-6},
		{SpringRate, "1 lbf/in", 1.751268e2, 1e-6},
		{SpringRate, "1 kgf/mm", 9806.65, 1e-15},
		{Torque, "1 lbf ft", 1.355818, 1e-6},
		{Torque, "1 lbf in", 1.129848e-1, 1e-6},
		{Torque, "1 ozf in", 7.061552e-3, 1e-6},
		{Vacuum, "1 inHg", 3.386389e3, 1e-6},
	} {
		v, err := Parse(c.kind, c.text)
		if err != nil || math.Abs(v.X-c.want) > c.tol*math.Abs(c.want) {
			t.Errorf("%s: got %v (%v), want %v", c.text, v.X, err, c.want)
		}
	}
}
