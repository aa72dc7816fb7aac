package supply

import (
	"math"
	"testing"
)

// A motor electricians' handbook of 1922 lists a 12 V machine of 10 A: begins
// at 1,100 rpm, 2.5 A at 1,200, 5 at 1,400, 7 at 1,500, 10 at 1,700 (speeds of
// the machine). The straight line is within 1 A of each.
func TestGeneratorAgainstHandbook(t *testing.T) {
	g := Generator{CutInRPM: 1100, FullRPM: 1700, RatingA: 10}
	for rpm, amps := range map[float64]float64{1100: 0, 1200: 2.5, 1400: 5, 1500: 7, 1700: 10} {
		within(t, "A", g.Limit(rpm), amps, 1)
	}
}

// The line is that of an armature driven past the bus voltage, E = k n, with
// I = (E - V)/R: two points fix k/R and V/R, the third must lie on it [calc].
func TestGeneratorIsAnArmatureBehindItsResistance(t *testing.T) {
	const k, volts, ohms = 14.0 / 1050, 14.0, 0.6 // V/rpm, V, ohm
	g := Generator{CutInRPM: volts / k, FullRPM: 2150, RatingA: (k*2150 - volts) / ohms}
	for _, rpm := range []float64{1100, 1500, 2000} {
		within(t, "A", g.Limit(rpm), (k*rpm-volts)/ohms, 1e-9)
	}
}

// Output curves at 14 V in a factory service manual of the 1970s: engine rpm
// and amperes of three alternators.
func TestAlternatorAgainstOutputCurves(t *testing.T) {
	for _, c := range []struct {
		idleRPM, idleA float64
		a              Alternator
		rpm, amps      float64
	}{
		{690, 40, Alternator{RatingA: 78, FullRPM: 2750}, 1375, 69},
		{680, 21, Alternator{RatingA: 51, FullRPM: 2750}, 1510, 46},
		{680, 33, Alternator{RatingA: 70, FullRPM: 2750}, 1510, 62},
	} {
		c.a.IdleShare, c.a.IdleRPM = c.idleA/c.a.RatingA, c.idleRPM
		within(t, "halfway, A", c.a.Limit(c.rpm), c.amps, 0.06*c.amps)
		within(t, "idle, A", c.a.Limit(c.idleRPM), c.idleA, 1e-9)
		within(t, "cut-in, A", c.a.Limit(505), 0, 0.05*c.a.RatingA)
		within(t, "full, A", c.a.Limit(2750), c.a.RatingA, 1e-9)
		if c.a.IdleShare < 0.3 || c.a.IdleShare > 0.6 {
			t.Errorf("share at idle %.2f is not the usual 30 to 60 %%", c.a.IdleShare)
		}
	}
}

// A marine engine handbook's figures for an alternator, hot: 16 A at 1,300, 41
// at 2,500, 48 at 5,000 rpm of its own, driven at 1.78 times engine speed.
func TestAlternatorAgainstHandbook(t *testing.T) {
	const ratio = 1.78
	a := Alternator{RatingA: 48, IdleShare: 16.0 / 48, IdleRPM: 1300 / ratio, FullRPM: 5000 / ratio}
	within(t, "A", a.Limit(2500/ratio), 41, 0.12*41)
}

func TestLimitsNeverFallWithSpeed(t *testing.T) {
	type limiter struct {
		limit  func(float64) float64
		rating float64
	}
	list := []limiter{{Generator{CutInRPM: 1000, FullRPM: 2100, RatingA: 30}.Limit, 30}}
	for _, share := range []float64{0, 0.05, 0.1, 0.125, 0.3, 0.45, 0.6, 0.99, 1} {
		for _, full := range []float64{701, 1200, 2100, 2400, 6000} {
			list = append(list, limiter{Alternator{RatingA: 45, IdleShare: share, FullRPM: full}.Limit, 45})
		}
	}
	for _, l := range list {
		before := 0.0
		for rpm := 0.0; rpm <= 7000; rpm += 3.7 {
			i := l.limit(rpm)
			if !(i >= before-1e-9) || !(i <= l.rating+1e-9) {
				t.Fatalf("%g A at %g rpm after %g A", i, rpm, before)
			}
			before = i
		}
		if before != l.rating || l.limit(0) != 0 || l.limit(-100) != 0 {
			t.Errorf("ends at %g A of %g, %g A standing still", before, l.rating, l.limit(0))
		}
	}
}

func TestAlternatorMeetsItsThreePoints(t *testing.T) {
	for _, idle := range []float64{0, 500, 850} {
		a := Alternator{RatingA: 45, IdleShare: 0.4, FullRPM: 2400, IdleRPM: idle}
		if idle == 0 {
			idle = UsualIdleRPM
		}
		within(t, "begins", a.Limit(cutInOfIdle*idle+1e-6), 0, 1e-6)
		within(t, "idle", a.Limit(idle), 18, 1e-9)
		within(t, "full", a.Limit(2400-1e-6), 45, 1e-6)
		a.FullRPM = 400
		if a.Limit(399) != 0 || a.Limit(400) != 45 {
			t.Errorf("full output below idle: %g and %g A", a.Limit(399), a.Limit(400))
		}
	}
}

// At hot idle a generator gives 0 to 5 A, an alternator 15 to 25 A: common
// practice, no source.
func TestIdle(t *testing.T) {
	if i := (Generator{CutInRPM: 1050, FullRPM: 2150, RatingA: 27}).Limit(600); i != 0 {
		t.Errorf("generator gives %g A at idle", i)
	}
	if i := (Alternator{RatingA: 45, IdleShare: 0.45, FullRPM: 2400}).Limit(600); i < 15 || i > 25 {
		t.Errorf("alternator gives %g A at idle", i)
	}
}

// US Army TM 10-3930-621-12, regulator temperature table: 14.1 to 14.9 V at
// 65 °F, 13.7 to 14.5 at 105 °F, 13.4 to 14.2 at 145 °F.
func TestRegulatorAgainstTable(t *testing.T) {
	r := Regulator{SetPointV: 14.5, AtC: 18, DriftVPerK: -0.016}
	six := Regulator{SetPointV: 7.25, AtC: 18, DriftVPerK: -0.008}
	for _, c := range []struct{ f, low, high float64 }{{65, 14.1, 14.9}, {105, 13.7, 14.5}, {145, 13.4, 14.2}} {
		tempC := (c.f - 32) / 1.8
		within(t, "V", r.SetPoint(tempC), (c.low+c.high)/2, 0.05)
		within(t, "V of 6 V", six.SetPoint(tempC), (c.low+c.high)/4, 0.025)
	}
	// The same line referred to 20 °C.
	at20 := Regulator{SetPointV: 14.468, AtC: 20, DriftVPerK: -0.016}
	within(t, "other reference", at20.SetPoint(63), r.SetPoint(63), 1e-9)
	for tempC := -40.0; tempC < 120; tempC++ {
		if !(r.SetPoint(tempC+1) < r.SetPoint(tempC)) {
			t.Fatalf("set point does not fall at %g °C", tempC)
		}
	}
}

func TestUnknownSpeedGivesNoFigure(t *testing.T) {
	nan := math.NaN()
	if i := (Generator{CutInRPM: 1050, FullRPM: 2150, RatingA: 27}).Limit(nan); !math.IsNaN(i) {
		t.Errorf("generator: %g A", i)
	}
	if i := (Alternator{RatingA: 45, IdleShare: 0.45, FullRPM: 2400}).Limit(nan); !math.IsNaN(i) {
		t.Errorf("alternator: %g A", i)
	}
}
