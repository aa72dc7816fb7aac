package advance

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.6g, want %.6g within %g", what, got, want, within)
	}
}

// linear is a mechanism that can be worked by hand: at rest the arm stands
// square to the line from pivot to axis, so for small swings the pull hardly
// changes, and the spring is square to its lever.
func linear() Mechanism {
	return Mechanism{
		Weights: Weights{MassKg: 0.050, PivotRadiusM: 0.020, ArmM: 0.010, RestRad: math.Pi / 2, Count: 2},
		Springs: []Spring{{RateNPerM: 4000, PreloadN: 8, PinRadiusM: 0.010}},
		Ratio:   0.5, StopDeg: 2, FrictionNm: 0.004,
	}
}

// By hand: pull = 2*0.050*0.020*0.010 w^2 = 2e-5 w^2 N m. The spring gives
// 8*0.010 = 0.080 N m at rest and 4000*0.010^2 = 0.4 N m/rad. It begins without
// friction at w^2 = 0.080/2e-5 = 4000, w = 63.25 rad/s = 603.9 rpm; with 0.004
// N m of friction at w^2 = 4200 rising, 618.9 rpm, and is back at 3800 falling,
// 588.7 rpm. At w^2 = 5000 it stands at (0.100-0.080)/0.4 = 0.05 rad = 2.865
// degrees of weight, 1.432 of advance; friction moves that by 0.004/0.4 =
// 0.01 rad, 0.286 degrees of advance, either way.
func TestLinearByHand(t *testing.T) {
	m := linear()
	rpm := func(w2 float64) float64 { return math.Sqrt(w2) * 30 / math.Pi }
	near(t, "begins", rpm(4000), 603.9, 0.1)
	for _, c := range []struct {
		w2                   float64
		mid, rising, falling float64
	}{
		{3799, 0, 0, 0},
		{3999, 0, 0, 0.28505},
		{4001, 0.00143, 0, 0.28791},
		{4199, 0.28505, 0, 0.57153},
		{5000, 1.43239, 1.14592, 1.71887},
		{9000, 2, 2, 2},
	} {
		b := m.At(rpm(c.w2))
		// What the hand leaves out: at 3.4 degrees of swing the pull is 0.18 %
		// down, 0.00018 N m, which is 0.013 degree of advance.
		const tol = 0.015
		near(t, "mid", b.Mid, c.mid, tol)
		near(t, "rising", b.Rising, c.rising, tol)
		near(t, "falling", b.Falling, c.falling, tol)
	}
}

// The width of the friction band by hand: twice the friction over the net
// stiffness. At w^2 = 5000 the pull falls as cos: stiffness 0.4 + 0.1 sin(0.05)
// = 0.405 N m/rad, so 2*0.004/0.405 = 0.01975 rad = 1.132 degrees of weight,
// 0.566 of advance.
func TestFrictionBandByHand(t *testing.T) {
	b := linear().At(math.Sqrt(5000) * 30 / math.Pi)
	near(t, "band", b.Falling-b.Rising, 0.566, 0.003)
}

// The pull against the radius the weight really stands at: the work of the
// field over a swing is m w^2/2 times the growth of r^2.
func TestPullIsTheFieldsWork(t *testing.T) {
	w := Weights{MassKg: 0.03, PivotRadiusM: 0.021, ArmM: 0.013, RestRad: 0.7, Count: 1}
	const n, end = 2000, 1.2
	work := 0.0
	for i := range n {
		work += w.TorqueNm(1000, end*(float64(i)+0.5)/n) * end / n
	}
	r0, r1 := w.RadiusM(0), w.RadiusM(end)
	near(t, "work", work, 0.03*speedSquared(1000)/2*(r1*r1-r0*r0), 1e-7*work)
}

// A spring whose preload comes on all at once holds the curve flat while the
// speed makes up for it.
func TestPlateauWhileALoopTakesUp(t *testing.T) {
	m := linear()
	m.FrictionNm = 0
	m.Springs = append(m.Springs, Spring{RateNPerM: 4000, PreloadN: 1, SlackM: 0.010 * radians(2), PinRadiusM: 0.010})
	near(t, "takes up", m.TakesUpDeg(1), 1, 1e-9)
	near(t, "slack for it", m.SlackFor(1, 1), m.Springs[1].SlackM, 1e-12)
	// Balance at 2 degrees of weight: 0.080+0.4*0.0349 = 0.0940 before, 0.1040 after.
	for _, torque := range []float64{0.0942, 0.099, 0.1038} {
		near(t, "plateau", m.At(math.Sqrt(torque/(2e-5*math.Cos(radians(2))))*30/math.Pi).Mid, 1, 1e-9)
	}
}

// Common marks, from memory: begins at 400 to 600 distributor rpm, all in by
// 1,200 to 2,000, 8 to 14 distributor degrees.
func TestUsualIsUsual(t *testing.T) {
	m := Usual()
	if err := m.Validate(); err != nil {
		t.Fatal(err)
	}
	if m.At(400).Falling > 0 || m.At(600).Rising == 0 {
		t.Errorf("begins outside 400 to 600 rpm: %v, %v", m.At(400), m.At(600))
	}
	if m.At(1200).Rising == m.StopDeg || m.At(2000).Rising < m.StopDeg {
		t.Errorf("all in outside 1,200 to 2,000 rpm: %v, %v", m.At(1200), m.At(2000))
	}
	if at := m.TakesUpDeg(1); !(at > 2 && at < 9) {
		t.Errorf("knee at %g degrees", at)
	}
	if s, err := m.Snaps(); err != nil || len(s) > 0 {
		t.Errorf("snaps: %v %v", s, err)
	}
	if m.StopDeg < 8 || m.StopDeg > 14 {
		t.Errorf("stop at %g", m.StopDeg)
	}
}

func TestFromMarksGoesThroughThem(t *testing.T) {
	for _, k := range []Marks{
		{BeginsRPM: 500, AllInRPM: 1500, MaxDeg: 11},
		{BeginsRPM: 450, KneeRPM: 800, KneeDeg: 6, AllInRPM: 1700, MaxDeg: 12, BandRPM: 40},
		{BeginsRPM: 600, KneeRPM: 1000, KneeDeg: 8, AllInRPM: 2000, MaxDeg: 10, Weights: Weights{MassKg: 0.06, PivotRadiusM: 0.025, ArmM: 0.01, RestRad: 1.2, Count: 2}},
	} {
		m, err := FromMarks(k)
		if err != nil {
			t.Errorf("%+v: %v", k, err)
			continue
		}
		near(t, "before it begins", m.At(k.BeginsRPM*0.9999).Mid, 0, 1e-9)
		if m.At(k.BeginsRPM*1.001).Mid <= 0 {
			t.Errorf("%+v: has not begun", k)
		}
		if k.KneeRPM > 0 {
			near(t, "knee", m.At(k.KneeRPM).Mid, k.KneeDeg, 1e-6)
			near(t, "takes up", m.TakesUpDeg(1), k.KneeDeg, 1e-6)
		}
		near(t, "all in", m.At(k.AllInRPM).Mid, k.MaxDeg, 1e-6)
		if m.At(k.AllInRPM*0.99).Mid >= k.MaxDeg {
			t.Errorf("%+v: all in too early", k)
		}
		if k.BandRPM > 0 {
			up := whence(m, func(b Band) float64 { return b.Rising })
			down := whence(m, func(b Band) float64 { return b.Falling })
			near(t, "band where it begins", up-down, k.BandRPM, 0.01)
		}
	}
}

// A part-by-part mechanism: the angles are those of triangles with the sides
// measured. 3-4-5 triangles have a right angle.
func TestFromParts(t *testing.T) {
	m, err := FromParts(Parts{
		Count: 2, MassKg: 0.04, PivotRadiusM: 0.020, ArmM: 0.015, RestRadiusM: 0.025, SwingDeg: 24, StopDeg: 12, FrictionNm: 0.001,
		Springs: []PartsSpring{
			{RateNPerM: 2000, FreeM: 0.024, PinRadiusM: 0.015, PostM: 0.020, HookedM: 0.025},
			{RateNPerM: 9000, FreeM: 0.026, InitialN: 1, PinRadiusM: 0.015, PostM: 0.020, HookedM: 0.025},
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rest angle of the weight", m.Weights.RestRad, math.Pi/2, 1e-9)
	near(t, "radius at rest", m.Weights.RadiusM(0), 0.025, 1e-12)
	near(t, "rest angle of the spring", m.Springs[0].RestRad, math.Pi/2, 1e-9)
	near(t, "preload", m.Springs[0].PreloadN, 2, 1e-9) // 2000 N/m over 1 mm
	near(t, "slack", m.Springs[1].SlackM, 0.001, 1e-12)
	near(t, "initial pull", m.Springs[1].PreloadN, 1, 1e-12)
	near(t, "ratio", m.Ratio, 0.5, 1e-12)
}

// whence is the distributor speed at which it begins, by halving.
func whence(m Mechanism, of func(Band) float64) float64 {
	lo, hi := 0.0, 5000.0
	for range 50 {
		if mid := (lo + hi) / 2; of(m.At(mid)) > 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}
