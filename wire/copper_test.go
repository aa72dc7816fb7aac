package wire

import (
	"math"
	"testing"
)

// near fails unless got is within rel (a fraction) of want.
func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.6g, want %.6g within %.2g %%", what, got, want, 100*rel)
	}
}

// NBS Handbook 100 (1966), solid annealed copper at 20 °C, ohms per 1000 ft,
// and ASTM B258 diameters in mils.
var handbook100 = []struct {
	awg             int
	ohms1000ft, mil float64
}{
	{20, 10.15, 31.96}, {18, 6.385, 40.30}, {16, 4.016, 50.82}, {14, 2.525, 64.08}, {12, 1.588, 80.81},
	{10, 0.9989, 101.9}, {8, 0.6282, 128.5}, {6, 0.3951, 162.0}, {4, 0.2485, 204.3}, {2, 0.1563, 257.6},
	{1, 0.1239, 289.3}, {0, 0.09827, 324.9}, {-1, 0.07793, 364.8}, {-2, 0.06180, 409.6}, {-3, 0.04901, 460.0},
}

func TestHandbookWireTable(t *testing.T) {
	for _, c := range handbook100 {
		near(t, gaugeName(c.awg)+" diameter", AWGDiameter(c.awg), c.mil*25.4e-6, 5e-4)
		near(t, gaugeName(c.awg)+" resistance", Resistance(AWGSection(c.awg), 304.8, 20, 1), c.ohms1000ft, 1e-3)
	}
}

// Ohm per kilometre from 1.7241e-8 ohm m and the gauge formula, computed by
// hand to four figures; NBS Handbook 100 has the same within 0.1 %.
func TestOhmsPerKilometre(t *testing.T) {
	for awg, want := range map[int]float64{10: 3.277, 14: 8.285, 18: 20.95} {
		near(t, gaugeName(awg), Resistance(AWGSection(awg), 1000, 20, 1), want, 3e-4)
	}
}

// NBS Handbook 100 prints the same coefficient seen from 25 °C: resistance at
// 25 °C is 1.0197 times that at 20 °C, and it vanishes at -234.5 °C on the
// straight line.
func TestTemperature(t *testing.T) {
	a := AWGSection(12)
	near(t, "25 over 20 °C", Resistance(a, 1, 25, 1)/Resistance(a, 1, 20, 1), 1.0197, 1e-4)
	near(t, "no resistance left", 1e-3+Resistance(a, 1, -234.5, 1), 1e-3, 2e-3)
	// A trade worked figure: copper of 1.50 ohm at 20 °C is 1.97 ohm at 100 °C.
	near(t, "winding", 1.5*Resistance(a, 1, 100, 1)/Resistance(a, 1, 20, 1), 1.97, 2e-3)
}

func TestResistanceRisesWithHeatAndLengthAndFallsWithCopper(t *testing.T) {
	for _, awg := range gauges {
		a := AWGSection(awg)
		for c := -50.0; c < 200; c += 12.5 {
			if !(Resistance(a, 2, c+1, Stranded) > Resistance(a, 2, c, Stranded)) {
				t.Errorf("gauge %s does not rise at %g °C", gaugeName(awg), c)
			}
			if !(Resistance(a*1.01, 2, c, Stranded) < Resistance(a, 2, c, Stranded)) || !(Resistance(a, 2.02, c, Stranded) > Resistance(a, 2, c, Stranded)) {
				t.Errorf("gauge %s: wrong way round in section or length at %g °C", gaugeName(awg), c)
			}
		}
	}
}

func TestImpossibleWires(t *testing.T) {
	if r := Resistance(1e-6, 0, 20, 1); r != 0 {
		t.Errorf("no length: %g", r)
	}
	if r := Resistance(0, 1, 20, 1); !math.IsInf(r, 1) {
		t.Errorf("no copper: %g", r)
	}
	nan := math.NaN()
	for _, c := range [][3]float64{{-1e-6, 1, 1}, {1e-6, -1, 1}, {1e-6, 1, 0.9}, {nan, 1, 1}, {1e-6, nan, 1}, {1e-6, 1, nan}} {
		if r := Resistance(c[0], c[1], 20, c[2]); !math.IsNaN(r) {
			t.Errorf("section, length, stranding %v: %g", c, r)
		}
	}
}

// A joint's grades must not overlap the wrong way, and a good one must pass,
// a bad one fail the 0.1 V allowed in any one control wire at 4 A [US Army
// TM 5-3820-256-24-4].
func TestJointGrades(t *testing.T) {
	grades := [][3]float64{
		{JointGoodLowOhm, JointGoodOhm, JointGoodHighOhm},
		{JointTiredLowOhm, JointTiredOhm, JointTiredHighOhm},
		{JointBadLowOhm, JointBadOhm, JointBadHighOhm},
	}
	for i, g := range grades {
		if !(g[0] < g[1] && g[1] < g[2]) || i > 0 && g[0] < grades[i-1][2] {
			t.Errorf("grade %d: %v", i, g)
		}
	}
	if JointGoodHighOhm*4 > 0.1 || JointBadLowOhm*4 < 0.1 {
		t.Error("the grades do not part at the trade's limit")
	}
}
