package advance

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// Every refusal names the field, says what would be accepted and is of its kind.
func TestRefusals(t *testing.T) {
	change := func(f func(*Mechanism)) error {
		m := Usual()
		m.Springs = append([]Spring(nil), m.Springs...)
		f(&m)
		if b := m.At(1000); m.Validate() != nil && !math.IsNaN(b.Mid) {
			t.Errorf("a mechanism that is refused gives %v", b)
		}
		return m.Validate()
	}
	kit := func(k Kit, w []Wanted, o BestOptions) error { _, err := Best(Usual(), k, w, o); return err }
	est := func(p []Point, o EstimateOptions) error { _, err := Estimate(Usual(), p, o); return err }
	marks := func(k Marks) error { _, err := FromMarks(k); return err }
	two := []Point{{RPM: 1000, Advance: 10, PM: 1}, {RPM: 2000, Advance: 20, PM: 1}}
	one := []Wanted{{RPM: 2000, Advance: 20}}
	lone := []KitSpring{{ID: "a", RateNPerM: 2000}}
	var many []KitSpring
	for range 400 {
		many = append(many, KitSpring{RateNPerM: 2000})
	}
	_, free := linear().Springs[0].WithFree(0.02, 0)
	_, parts := FromParts(Parts{Count: 2, MassKg: 0.04, PivotRadiusM: 0.02, ArmM: 0.01, RestRadiusM: 0.05, SwingDeg: 20, StopDeg: 10})
	_, snaps := Mechanism{}.Snaps()
	_, diaphragm := Diaphragm{}.Can()
	for _, c := range []struct {
		err   error
		kind  error
		field string
	}{
		{change(func(m *Mechanism) { m.Weights.MassKg = math.NaN() }), ErrFigure, "Weights.MassKg"},
		{change(func(m *Mechanism) { m.Weights.Count = 0 }), ErrCount, "Weights.Count"},
		{change(func(m *Mechanism) { m.Springs[1].RateNPerM = -1 }), ErrFigure, "Springs[1].RateNPerM"},
		{change(func(m *Mechanism) { m.Springs[0].PinOn = 7 }), ErrFigure, "Springs[0].PinOn"},
		{change(func(m *Mechanism) { m.Springs[0].RestRad = 3 }), ErrSpring, "Springs[0].RestRad"},
		{change(func(m *Mechanism) { m.Springs = make([]Spring, 7) }), ErrCount, "Springs"},
		{change(func(m *Mechanism) { m.StopDeg = 80 }), ErrReach, "StopDeg"},
		{change(func(m *Mechanism) { m.Bend = -0.02 }), ErrRatio, "Bend"},
		{change(func(m *Mechanism) { m.FrictionNm = math.Inf(1) }), ErrFigure, "FrictionNm"},
		{snaps, ErrCount, "Weights.Count"},
		{free, ErrSpring, "PostM"},
		{parts, ErrFigure, "RestRadiusM"},
		{diaphragm, ErrFigure, "AreaM2"},
		{Can{StartPa: 3, FullPa: 3, TravelDeg: 2}.Validate(), ErrFigure, "FullPa"},
		{marks(Marks{BeginsRPM: 500, AllInRPM: 400, MaxDeg: 10}), ErrMarks, "AllInRPM"},
		{marks(Marks{BeginsRPM: 500, AllInRPM: 501, MaxDeg: 10}), ErrMarks, "AllInRPM"},
		{marks(Marks{BeginsRPM: 500, KneeRPM: 1500, KneeDeg: 2, AllInRPM: 1600, MaxDeg: 12}), ErrMarks, "KneeRPM"},
		{marks(Marks{BeginsRPM: 500, KneeRPM: 800, AllInRPM: 1600, MaxDeg: 12}), ErrMarks, "KneeDeg"},
		{est(two[:1], EstimateOptions{}), ErrPoints, "points"},
		{est([]Point{two[0], {RPM: 1, PM: 1, Going: 3}}, EstimateOptions{}), ErrPoints, "points[1].Going"},
		{est([]Point{two[0], {RPM: 1}}, EstimateOptions{}), ErrFigure, "points[1].PM"},
		{est(two, EstimateOptions{Draws: 5}), ErrCount, "Draws"},
		{est(two, EstimateOptions{Doubt: -1}), ErrFigure, "Doubt"},
		{kit(Kit{Springs: lone}, one, BestOptions{}), ErrKit, "Kit.Springs"},
		{kit(Kit{Springs: many}, one, BestOptions{}), ErrKit, "Kit.Springs"},
		{kit(Kit{Stops: []KitStop{{StopDeg: 85}}}, one, BestOptions{}), ErrKit, "Kit"},
		{kit(Kit{Weights: []KitWeight{{MassKg: 9}}}, one, BestOptions{}), ErrFigure, "Kit.Weights[0].MassKg"},
		{kit(Kit{}, nil, BestOptions{}), ErrPoints, "wanted"},
		{kit(Kit{}, one, BestOptions{Initial: [2]float64{5, 2}}), ErrFigure, "Initial[1]"},
		{kit(Kit{}, one, BestOptions{Top: -1}), ErrCount, "Draws or Top"},
	} {
		var e *Error
		if !errors.As(c.err, &e) || !errors.Is(c.err, c.kind) || e.Field != c.field || e.Accept == "" || !strings.Contains(e.Error(), e.Accept) {
			t.Errorf("%s: got %v (%v)", c.field, c.err, c.kind)
		}
	}
}

func TestSpeedsThatAreNone(t *testing.T) {
	m := Usual()
	for _, rpm := range []float64{-1, math.NaN(), math.Inf(-1)} {
		if b := m.At(rpm); !math.IsNaN(b.Mid) || !math.IsNaN(b.Rising) || !math.IsNaN(b.Falling) {
			t.Errorf("%g rpm gives %v", rpm, b)
		}
	}
	if b := m.At(math.Inf(1)); b != (Band{11, 11, 11}) {
		t.Errorf("at any speed beyond %v", b)
	}
	if b := m.At(0); b != (Band{}) {
		t.Errorf("standing %v", b)
	}
	// All springs lost: it flies out at once, friction or not.
	m.Springs = nil
	if b := m.At(300); b.Rising != 11 || b.Falling != 11 {
		t.Errorf("without springs %v", b)
	}
}
