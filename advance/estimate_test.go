package advance

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// The table behind Estimate and Best against the exact balance: within a step.
func TestGridIsTheMechanism(t *testing.T) {
	for _, step := range []float64{readStepDeg, kitStepDeg} {
		r := rand.New(rand.NewPCG(5, 5))
		worst, sum, n := 0.0, 0.0, 0.0
		for k := range 60 {
			m := wild(r, k%6 == 5)
			c := m.tabulate(m.limitDeg(min(2*m.StopDeg, 90)), step).curve()
			var ts []tension
			for _, s := range m.Springs {
				ts = append(ts, tension{s.RateNPerM, s.PreloadN, s.SlackM})
			}
			c.set(ts, m.StopDeg, m.FrictionNm, 1)
			for rpm := 250.0; rpm < 3000; rpm += 37 {
				lo, hi, got := m.At(rpm-2), m.At(rpm+2), c.band(speedSquared(rpm))
				off := max(lo.Mid-got.Mid, got.Mid-hi.Mid, lo.Rising-got.Rising, got.Rising-hi.Rising, lo.Falling-got.Falling, got.Falling-hi.Falling, 0)
				worst, sum, n = max(worst, off), sum+off, n+1
				if off > step {
					t.Errorf("mechanism %d at %g rpm: %+v, exact %+v to %+v", k, rpm, got, lo, hi)
				}
			}
		}
		t.Logf("step %g: worst beyond 2 rpm %.4f degree, mean %.6f", step, worst, sum/n)
		if sum/n > step/50 {
			t.Errorf("step %g: off by %g on average", step, sum/n)
		}
	}
}

// Upper tail of chi-square: Abramowitz and Stegun, table 26.8.
func TestChiSquareTail(t *testing.T) {
	for _, c := range [][3]float64{{3.841, 1, 0.05}, {6.635, 1, 0.01}, {18.307, 10, 0.05}, {4.865, 10, 0.9}, {29.588, 10, 0.001}, {43.773, 30, 0.05}, {20.599, 30, 0.9}} {
		near(t, "tail", beyond(c[0], c[1]), c[2], 2e-4*c[2]+2e-5)
	}
	if beyond(0, 3) != 1 || beyond(math.Inf(1), 3) != 0 || beyond(1e6, 1) > 1e-12 {
		t.Error("ends of the tail")
	}
}

// A sharp set of readings pins the curve down, and what it cannot tell stays
// unknown.
func TestEstimateNarrows(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	m := Usual()
	m.Springs = append([]Spring(nil), m.Springs...)
	m.Springs[0].RateNPerM *= 1.4
	m.Springs[1].SlackM *= 1.2
	m.StopDeg = 12.5
	m.FrictionNm = 0.004
	d := Draw{m, 9}
	e, err := Estimate(Usual(), read(d, 0.3, r), EstimateOptions{EstimateInitial: true, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%+v", e.Misfit)
	for _, c := range []struct {
		name string
		f    Fig
		x    float64
	}{
		{"rate", e.Springs[0].RateNPerM, m.Springs[0].RateNPerM}, {"preload", e.Springs[0].PreloadN, 4.2},
		{"slack", e.Springs[1].SlackM, m.Springs[1].SlackM}, {"takes up", e.Springs[1].TakesUpDeg, m.TakesUpDeg(1)},
		{"stop", e.StopDeg, 12.5}, {"friction", e.FrictionNm, 0.004}, {"initial", e.Initial, 9},
	} {
		if !(c.f.Lo95 <= c.f.Lo90 && c.f.Lo90 <= c.f.Mid && c.f.Mid <= c.f.Hi90 && c.f.Hi90 <= c.f.Hi95) {
			t.Errorf("%s: intervals out of order %+v", c.name, c.f)
		}
		wide := c.f.Hi95 - c.f.Lo95
		if c.x < c.f.Lo95-wide/2 || c.x > c.f.Hi95+wide/2 {
			t.Errorf("%s: %+v, true %g", c.name, c.f, c.x)
		}
		if !c.f.Known {
			t.Errorf("%s: not narrowed by sharp readings: %+v", c.name, c.f)
		}
	}
	if e.Springs[1].PreloadN != given(0) {
		t.Errorf("a preload of 0 was not taken over: %+v", e.Springs[1].PreloadN)
	}
	if w := e.Initial.Hi95 - e.Initial.Lo95; w > 0.8 {
		t.Errorf("initial only to within %g", w)
	}
	rpm := []float64{600, 1500, 3000, 4000}
	for i, c := range e.Curve(rpm, 1) {
		want := 9 + 2*m.At(rpm[i]/2).Rising
		if !(c.Lo95 <= c.Lo90 && c.Lo90 <= c.Hi90 && c.Hi90 <= c.Hi95) || want < c.Lo95-0.3 || want > c.Hi95+0.3 || c.Hi95-c.Lo95 > 2 {
			t.Errorf("curve at %g rpm: %+v, true %g", rpm[i], c, want)
		}
	}
	if e.Misfit.P < 0.01 {
		t.Errorf("sound readings called a misfit: %+v", e.Misfit)
	}

	// Only idle readings: nothing of springs or stop can show.
	idle := []Point{{RPM: 500, Advance: 9, PM: 1, Going: 1}, {RPM: 600, Advance: 9.2, PM: 1, Going: 1}}
	e, err = Estimate(Usual(), idle, EstimateOptions{EstimateInitial: true})
	if err != nil {
		t.Fatal(err)
	}
	if !e.Initial.Known || e.StopDeg.Known || e.Springs[0].RateNPerM.Known || e.Springs[1].SlackM.Known || e.Springs[1].TakesUpDeg.Known {
		t.Errorf("from idle alone: initial %+v stop %+v rate %+v takes up %+v", e.Initial, e.StopDeg, e.Springs[0].RateNPerM, e.Springs[1].TakesUpDeg)
	}
}

// Without any reading that bears on them the figures come back as assumed.
func TestEstimateGivesBackWhatWasAssumed(t *testing.T) {
	e, err := Estimate(Usual(), []Point{{RPM: 0, PM: 1}, {RPM: 0, PM: 1}}, EstimateOptions{Draws: 8000})
	if err != nil {
		t.Fatal(err)
	}
	z := func(x, mid, sd float64) float64 { return math.Log(x/mid) / sd }
	f, start := e.Springs[0].RateNPerM, Usual().Springs[0]
	near(t, "rate, 90 % low", z(f.Lo90, start.RateNPerM, RateSD), -1.645, 0.1)
	near(t, "rate, 90 % high", z(f.Hi90, start.RateNPerM, RateSD), 1.645, 0.1)
	near(t, "rate, 95 % high", z(f.Hi95, start.RateNPerM, RateSD), 1.96, 0.12)
	near(t, "friction, 90 % high", z(e.FrictionNm.Hi90, 0.001, FrictionSD), 1.645, 0.1)
	if !e.Initial.Given || e.Initial.Mid != 0 {
		t.Errorf("initial %+v", e.Initial)
	}
}

func TestEstimateIsTheSameTwice(t *testing.T) {
	points := read(Draw{Usual(), 8}, 1, rand.New(rand.NewPCG(1, 1)))
	opt := EstimateOptions{InitialCrank: 8, Seed: 4, Draws: 100}
	a, err := Estimate(Usual(), points, opt)
	b, err2 := Estimate(Usual(), points, opt)
	if err != nil || err2 != nil || !reflect.DeepEqual(a, b) {
		t.Error("same seed, another answer", err, err2)
	}
}

// Readings no mechanism gives are said to be so: a hump, and one slip of ten
// degrees.
func TestMisfit(t *testing.T) {
	var hump []Point
	for i, deg := range []float64{10, 20, 30, 22, 14, 30} {
		hump = append(hump, Point{RPM: 800 + 600*float64(i), Advance: deg, PM: 1, Going: 1})
	}
	e, err := Estimate(Usual(), hump, EstimateOptions{EstimateInitial: true})
	if err != nil {
		t.Fatal(err)
	}
	if e.Misfit.P > 1e-3 {
		t.Errorf("a hump fits: %+v", e.Misfit)
	}
	slip := read(Draw{Usual(), 8}, 1, rand.New(rand.NewPCG(2, 1)))
	slip[9].Advance += 10
	e, err = Estimate(Usual(), slip, EstimateOptions{EstimateInitial: true})
	if err != nil {
		t.Fatal(err)
	}
	if e.Misfit.P > 1e-3 || e.Misfit.Worst != 9 || e.Misfit.WorstBy < 4 {
		t.Errorf("a slip at reading 9: %+v", e.Misfit)
	}
}
