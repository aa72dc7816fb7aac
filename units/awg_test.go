package units

import (
	"math"
	"testing"
)

// Nominal diameters of ASTM B258, table 1, in inches as printed, and in
// millimetres as wire tables print them; from memory.
var printedDiameters = []struct {
	n      int
	in, mm float64
}{
	{-3, 0.4600, 11.684}, {-2, 0.4096, 10.404}, {-1, 0.3648, 9.266}, {0, 0.3249, 8.252},
	{1, 0.2893, 7.348}, {2, 0.2576, 6.543}, {4, 0.2043, 5.189}, {6, 0.1620, 4.115},
	{8, 0.1285, 3.264}, {10, 0.1019, 2.588}, {12, 0.0808, 2.052}, {14, 0.0641, 1.628},
	{16, 0.0508, 1.291}, {18, 0.0403, 1.024}, {20, 0.0320, 0.812}, {36, 0.0050, 0.127},
}

func TestAWGDiameterAgainstB258(t *testing.T) {
	for _, g := range printedDiameters {
		d := AWGDiameterM(g.n)
		if got := d / inch; math.Abs(got-g.in) > 0.5001e-4 {
			t.Errorf("%s: %.5f in, printed %.4f", AWGName(g.n), got, g.in)
		}
		// The printed millimetres follow from the rounded inches.
		if got := d * 1e3; math.Abs(got-g.mm) > 0.5e-3+0.5e-4*25.4 {
			t.Errorf("%s: %.4f mm, printed %.3f", AWGName(g.n), got, g.mm)
		}
	}
}

// Resistance of solid annealed copper at 20 °C in ohm per 1000 ft, NBS
// Handbook 100 (1966), table of standard annealed copper; from memory. With
// the resistivity of IEC 60028, 1.7241e-8 ohm m, it checks the section.
func TestAWGSectionAgainstHandbook100(t *testing.T) {
	for _, g := range []struct {
		n       int
		per1000 float64
	}{
		{-3, 0.04901}, {0, 0.09825}, {4, 0.2485}, {10, 0.9988}, {12, 1.588},
		{14, 2.524}, {16, 4.016}, {18, 6.386}, {20, 10.15}, {30, 103.2},
	} {
		got := 1.7241e-8 * 1000 * foot / AWGSection(g.n)
		// The handbook rounds the diameter first: up to half a mil tenth.
		if math.Abs(got/g.per1000-1) > 3e-3 {
			t.Errorf("%s: %.5f ohm per 1000 ft, printed %.5f", AWGName(g.n), got, g.per1000)
		}
	}
}

func TestNearestAWG(t *testing.T) {
	for n := ThickestAWG; n <= ThinnestAWG; n++ {
		for _, part := range []float64{0.9, 1, 1.1} { // half a gauge is 12 %
			if got := NearestAWG(part * AWGSection(n)); got != n {
				t.Errorf("%.0f %% of %s gives %s", part*100, AWGName(n), AWGName(got))
			}
		}
	}
	// Sizes sold side by side: common practice, no source.
	for mm2, want := range map[float64]int{0.5: 20, 0.75: 18, 1.5: 15, 2.5: 13, 4: 11, 25: 3} {
		if got := NearestAWG(mm2 * 1e-6); got != want {
			t.Errorf("%v mm² gives %s, want %s", mm2, AWGName(got), AWGName(want))
		}
	}
	for _, odd := range []float64{0, -1, math.NaN(), 1e-12} {
		if got := NearestAWG(odd); got != ThinnestAWG {
			t.Errorf("%v gives %d", odd, got)
		}
	}
	for _, odd := range []float64{1, math.Inf(1)} {
		if got := NearestAWG(odd); got != ThickestAWG {
			t.Errorf("%v gives %d", odd, got)
		}
	}
}

func TestAWGName(t *testing.T) {
	for n, want := range map[int]string{-3: "4/0 AWG", 0: "1/0 AWG", 1: "1 AWG", 18: "18 AWG"} {
		if got := AWGName(n); got != want {
			t.Errorf("%d: %q", n, got)
		}
	}
}
