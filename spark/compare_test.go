package spark

import (
	"math"
	"testing"

	"dwellwright/car"
)

// What the trade knows of a conversion [common practice, no source]: a
// Darlington's current is less than clean points' at every running speed, by
// about a volt's share; worn points' is less still; and while cranking, where
// points part slowly and arc, every transistor has more kV than points.
func TestSwitchesCompared(t *testing.T) {
	ct, err := Compare(eight(), CompareSettings{Speeds: 10})
	if err != nil {
		t.Fatal(err)
	}
	side := func(f Fitting) *Side { return &ct.Sides[f] }
	for i, rpm := range ct.RPM {
		clean, worn, dar, mos := side(CleanPoints), side(WornPoints), side(Darlington), side(MOSFET)
		if ct.Crank[i] {
			for _, s := range []*Side{dar, side(IGBT), mos} {
				if s.KV[i].Mid < 1.1*clean.KV[i].Mid {
					t.Errorf("%.0f rpm: %v %.1f kV, points %.1f", rpm, s.Fitting, s.KV[i].Mid, clean.KV[i].Mid)
				}
			}
			continue
		}
		if rpm < 4500 {
			if r := dar.BreakA[i].Mid / clean.BreakA[i].Mid; r < 0.85 || r > 0.98 {
				t.Errorf("%.0f rpm: a Darlington has %.2f of the points' current", rpm, r)
			}
		}
		if worn.BreakA[i].Mid >= clean.BreakA[i].Mid {
			t.Errorf("%.0f rpm: worn points carry more than clean ones", rpm)
		}
		if mos.KV[i].Mid <= dar.KV[i].Mid {
			t.Errorf("%.0f rpm: a MOSFET gives less than a Darlington", rpm)
		}
	}
	// Weak springs let go first: at the top the worn set has lost dwell.
	n := len(ct.RPM) - 1
	if side(WornPoints).KV[n].Mid > 0.85*side(CleanPoints).KV[n].Mid {
		t.Error("worn points do not float")
	}
}

// Taken apart one cause at a time, the causes make the whole difference.
func TestExplainAddsUp(t *testing.T) {
	for f := WornPoints; f < Fittings; f++ {
		for _, k := range []string{"cold_crank", "hot_idle", "top_speed"} {
			start, steps, err := Explain(eight(), CleanPoints, f, k)
			if err != nil {
				t.Fatal(err)
			}
			v := start
			for _, s := range steps {
				v *= 1 + s.Share
			}
			s, err := Shoot(Fit(eight(), f), k, 0, 1)
			if err != nil {
				t.Fatal(err)
			}
			if want := s.Spark.Firing.AvailableV / 1e3; math.Abs(v/want-1) > 0.03 {
				t.Errorf("%v, %s: %.2f kV by causes, %.2f in all", f, k, v, want)
			}
		}
	}
}

// A trace has thousands of points, in order of time, and its peaks are those
// of the figures; thinned it keeps them.
func TestTraceKeepsPeaks(t *testing.T) {
	for _, f := range []Fitting{CleanPoints, IGBT} {
		c := Fit(eight(), f)
		tr, err := NewTrace(c, "cruise")
		if err != nil {
			t.Fatal(err)
		}
		if len(tr.Points) < 2000 {
			t.Errorf("%v: %d points", f, len(tr.Points))
		}
		top := func(ps []float64) float64 {
			m := 0.0
			for _, v := range ps {
				m = math.Max(m, v)
			}
			return m
		}
		var all, thin []float64
		last := math.Inf(-1)
		for _, p := range tr.Points {
			if p.T < last {
				t.Fatalf("time runs back at %g", p.T)
			}
			last = p.T
			all = append(all, p.PrimaryV)
		}
		few := tr.Thin(math.Inf(-1), math.Inf(1), 600)
		if len(few) > 900 {
			t.Errorf("thinned to %d", len(few))
		}
		for _, p := range few {
			thin = append(thin, p.PrimaryV)
		}
		if top(all) != top(thin) || math.Abs(top(all)/tr.Firing.PrimaryV-1) > 0.01 {
			t.Errorf("%v: peaks %.1f, thinned %.1f, solved %.1f", f, top(all), top(thin), tr.Firing.PrimaryV)
		}
	}
}

// No condenser: the arc stands, hardly a spark is left, and it is said
// [a fact of the trade, no source].
func TestNoCondenser(t *testing.T) {
	c := eight()
	good, err := Shoot(c, "hot_idle", 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	c.Switch.Condenser = car.Param{}
	bad, err := Shoot(c, "hot_idle", 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	if v := Parting(c, &bad.Spark.Firing); v != PartStands {
		t.Errorf("verdict %d", v)
	}
	if bad.Spark.Firing.AvailableV > 0.4*good.Spark.Firing.AvailableV {
		t.Errorf("%.1f kV without a condenser, %.1f with", bad.Spark.Firing.AvailableV/1e3, good.Spark.Firing.AvailableV/1e3)
	}
	if v := Parting(c, &good.Spark.Firing); v != PartClean {
		t.Errorf("verdict %d with its condenser", v)
	}
}

// Reversed leads cost the plug's part its share, and are said in volts.
func TestWrongPolarity(t *testing.T) {
	c := eight()
	right, err := Shoot(c, "hot_idle", 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	c.Coil.Reversed = true
	wrong, err := Shoot(c, "hot_idle", 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	if v := WrongPolarity(eight(), right); v != 0 {
		t.Errorf("%g V with the right polarity", v)
	}
	if v, want := WrongPolarity(c, wrong), wrong.Asked.TotalV-right.Asked.TotalV; math.Abs(v-want) > 1 {
		t.Errorf("%g V more, the difference is %g", v, want)
	}
}
