package car

import (
	"math"
	"slices"
	"testing"

	"dwellwright/advance"
	"dwellwright/magnet"
	"dwellwright/units"

	"github.com/google/go-cmp/cmp"
)

// TestFullDistributor: what full.yaml says of the distributor is what is read.
func TestFullDistributor(t *testing.T) {
	c, err := Parse("full.yaml", read(t, "testdata/good/full.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	d := &c.Distributor
	if !d.Given || d.Rotation != Anticlockwise || d.RotationOrigin != Stated || d.OrderOrigin != Stated || d.Drive != GearDrive || d.Teeth != 14 || d.TeethOrigin != Stated {
		t.Errorf("%+v", d)
	}
	if diff := cmp.Diff([]int{1, 5, 4, 2, 6, 3, 7, 8}, d.FiringOrder); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]int{7, 8, 1, 5, 4, 2, 6, 3}, d.Leads); diff != "" {
		t.Error(diff)
	}
	// 45 distributor degrees are 90 of the crank.
	if diff := cmp.Diff([]float64{90, 90, 90.1, 89.9, 90, 90, 90, 90}, d.Intervals); diff != "" {
		t.Error(diff)
	}
	if !slices.Equal(d.Towers, []float64{0, 45, 90, 135, 180, 225, 270, 315}) {
		t.Error(d.Towers)
	}
	if len(d.Obstacles) != 2 || d.Obstacles[0].Name != "top hose" || d.Obstacles[0].From.X != 340 || d.Obstacles[0].To.X != 10 ||
		d.Obstacles[1].Name != "coil bracket" || d.Obstacles[1].From.Origin != Measured || d.Obstacles[1].To.Shape != units.Uniform {
		t.Errorf("%+v", d.Obstacles)
	}
	if d.ClampRadius.X != 1.25*25.4e-3 || d.Phase.X != -2 || d.Clear.PM != 0 || d.FirstTower.PM != 3 {
		t.Errorf("%+v", d)
	}
	if s := c.Trigger; !s.Given || s.Ring != OnePerLobe || s.Poles != 8 || math.Abs(s.Remanence.X-1.1) > 1e-12 || math.Abs(s.Hysteresis.X-3e-3) > 1e-12 || s.Gap.Origin != Measured {
		t.Errorf("%+v", s)
	}
	a := &c.Advance
	// 1 lb/in is 175.1268 N/m, 1 inHg is 3386.389 Pa, 1 ozf in 7.0615518 mN m
	// (NIST Special Publication 811, appendix B).
	for _, x := range []struct{ got, want float64 }{
		{a.Light.Rate.X, 14 * 175.1268}, {a.Start.X, 5 * 3386.389}, {a.Friction.X, 0.70615518e-3},
		{a.Full.X, 48e3}, {a.Mass.X, 1.4 * 28.349523e-3}, {a.Altitude.X, 457.2}, {a.SafeMost.X, 34}, {a.Heavy.Slack.X, 5},
	} {
		if math.Abs(x.got-x.want) > 1e-6*x.want {
			t.Errorf("read %v, wanted %v", x.got, x.want)
		}
	}
	if a.Source != ManifoldVacuum || a.SourceOrigin != Stated || a.SafeMost.Origin != Stated || a.SafeSource != "manual" {
		t.Errorf("%+v", a)
	}
	if len(a.Wanted) != 2 || a.Wanted[0].Tolerance != 2 || a.Wanted[1].Tolerance != 1 || a.Wanted[1].Advance != exactly(12) || a.Wanted[1].RPM != exactly(1200) || a.Wanted[0].Pos.Line == 0 {
		t.Errorf("%+v", a.Wanted)
	}
	if len(a.Runs) != 2 || a.Runs[0].Going != 1 || a.Runs[1].Going != 0 || a.Runs[0].Accuracy.X != 1 || a.Runs[1].Accuracy != usualSight ||
		a.Runs[0].Points[1].RPM.PM != 50 || a.Runs[0].When != "2026-05-02" || a.Runs[0].By != "owner" || a.Runs[0].Note != "hose off" {
		t.Errorf("%+v", a.Runs)
	}
	if k := a.Kit; len(k.Springs) != 2 || k.Springs[0].ID != "soft" || k.Springs[0].Rate.X != 2000 || k.Springs[1].Slack.X != 4 || k.Springs[0].Slack.Value != exactly(0) ||
		len(k.Stops) != 1 || k.Stops[0].Limit.X != 10 || len(k.Weights) != 1 || k.Weights[0].Mass.X != 0.055 {
		t.Errorf("%+v", k)
	}
	if b := c.Bench; !b.Given || b.Accuracy.X != 0.2 || len(b.Runs) != 2 || b.Runs[0].Side != LeftSide || len(b.Runs[0].Turns) != 2 || b.Runs[0].Turns[1][1] != 405.2 || b.Runs[1].Side != FreeSide {
		t.Errorf("%+v", b)
	}
	for _, r := range c.Readings[10:] {
		if r.Red == "" || r.Black != "" || (r.Condition == "") != (r.Instrument >= FeelerGauge) {
			t.Errorf("%+v", r)
		}
	}

	d2 := c.Clone()
	d2.Distributor.FiringOrder[0], d2.Distributor.Leads[0], d2.Distributor.Intervals[0], d2.Distributor.Towers[1] = 9, 9, 9, 9
	d2.Distributor.Obstacles[0].ID, d2.Advance.Wanted[0].Tolerance, d2.Advance.Runs[0].Points[0].RPM.X = "x", 9, 9
	d2.Advance.Kit.Springs[0].ID, d2.Advance.Kit.Stops[0].ID, d2.Advance.Kit.Weights[0].ID, d2.Bench.Runs[0].Turns[0][0] = "x", "x", "x", 9
	again, _ := Parse("full.yaml", read(t, "testdata/good/full.yaml"))
	if diff := cmp.Diff(again, c); diff != "" {
		t.Error("a change of the clone shows in the car:", diff)
	}
}

// TestNoSections: a file that says nothing of the distributor has the usual
// one, and says that it is not given.
func TestNoSections(t *testing.T) {
	for n, want := range map[int]string{4: "1-3-4-2", 6: "1-5-3-6-2-4", 8: "1-8-4-3-6-5-7-2"} {
		c := Defaults(12, NegativeEarth, n)
		d := &c.Distributor
		if d.Given || c.Timing.Given || c.Trigger.Given || c.Advance.Given || c.Bench.Given || dashed(d.FiringOrder) != want || d.OrderOrigin != Assumed || d.Teeth != 13 || d.Towers != nil {
			t.Errorf("%d cylinders: %+v", n, d)
		}
	}
}

// TestDriveAndDual: what follows from the words of the new sections.
func TestDriveAndDual(t *testing.T) {
	for word, want := range map[string]int{"gear": 13, "offset_tang": 1, "centred_tang": 2, "gear, teeth: 15": 15, "centred_tang, teeth: 2": 2} {
		if d := mustParse(t, "distributor: {drive: "+word+"}\n").Distributor; d.Teeth != want || d.DriveOrigin != Stated {
			t.Errorf("%s: %+v", word, d)
		}
	}
	if d := mustParse(t, "switch: {kind: dual_points}\n").Distributor; d.SetsApart.X == 0 || d.DwellEach.X == 0 {
		t.Errorf("%+v", d)
	} else if both := Defaults(12, NegativeEarth, 8); math.Abs(d.SetsApart.X+d.DwellEach.X-SwitchDefaults(DualPoints, 12, 8).Dwell.X) > 1e-9 || both.Distributor.SetsApart.X != 0 {
		t.Errorf("sets %v apart, %v each", d.SetsApart.X, d.DwellEach.X)
	}
	r := mustParse(t, "trigger: {principle: reluctance, poles: 8, threshold: 0.4 V}\n").Trigger
	if r.Operate.X != 0 || r.Remanence.X != 0 || r.Gap.X > 0.5e-3 || r.Threshold.X != 0.4 {
		t.Errorf("%+v", r)
	}
	if c := mustParse(t, "timing: {tolerance: 3 deg}\nadvance: {wanted: [[600, 8], [900, 9 ± 1]]}\n"); c.Advance.Wanted[0].Tolerance != 3 || c.Advance.Wanted[1].Tolerance != 1 {
		t.Errorf("%+v", c.Advance.Wanted)
	}
}

// TestTimingFollows: of before, after and the trigger's lateness two make the
// third: a distributor degree is two of the crank (common practice, no
// source), and half-widths add as squares.
func TestTimingFollows(t *testing.T) {
	near := func(what string, got, want units.Value) {
		t.Helper()
		if math.Abs(got.X-want.X) > 1e-9 || math.Abs(got.PM-want.PM) > 1e-9 {
			t.Errorf("%s %+v, wanted %+v", what, got, want)
		}
	}
	c := mustParse(t, "timing: {wanted: 10 deg, before: 8 ± 1 deg, trigger_later: 20 ± 1 deg}\n").Timing
	near("after", c.After.Value, about(-32, math.Sqrt(1+4)))
	if c.After.Origin != Assumed || c.Wanted.Value != exactly(10) {
		t.Errorf("%+v", c)
	}
	c = mustParse(t, "timing: {before: 8 ± 3 deg, after: -32 ± 4 deg}\n").Timing
	near("later", c.TriggerLater.Value, about(20, 2.5))
	c = mustParse(t, "timing: {wanted: 12 deg}\n").Timing
	near("before", c.Before.Value, about(12, 3))
	near("after", c.After.Value, about(12, math.Hypot(3, 16)))
	c = mustParse(t, "timing: {before: 8 deg, trigger_later: 180 deg}\n").Timing
	if math.Abs(c.After.X) > 360 || math.Abs(math.Remainder(c.After.X-8, 720)) != 360 {
		t.Errorf("half a turn late: %+v", c.After)
	}
	if got := mustParse(t, "conditions: {hot_idle: {speed: 700 ± 20 rpm}}\n").Timing.SeenAt; got.X != 700 || got.Origin != Assumed {
		t.Errorf("seen at %+v", got)
	}
	// A wide ± of after and lateness can be true together, and a turn of the
	// engine makes no odds.
	mustParse(t, "timing: {before: 8 ± 1 deg, trigger_later: 20 ± 1 deg, after: -29 ± 1 deg}\n")
	mustParse(t, "timing: {before: 8 ± 1 deg, trigger_later: 179 ± 1 deg, after: -350 ± 1 deg}\n")
}

// TestTypicalAdvance holds the typical mechanism against figures of the trade
// (from memory): it begins at 400 to 600 distributor rpm, is all in by 1200 to
// 2000 and gives 8 to 14 distributor degrees; a vacuum can begins at 4 to 8
// inHg and is full at 12 to 16 (common practice, no source), giving 10 to 20
// degrees at the crank.
func TestTypicalAdvance(t *testing.T) {
	a := Defaults(12, NegativeEarth, 8).Advance
	m := advance.Usual()
	m.Weights = advance.Weights{MassKg: a.Mass.X, PivotRadiusM: a.PivotRadius.X, ArmM: a.Arm.X, RestRad: a.Rest.X * math.Pi / 180, Count: 2}
	m.Ratio, m.StopDeg, m.FrictionNm = a.Ratio.X, a.Stop.X, a.Friction.X
	for i, s := range []Spring{a.Light, a.Heavy} {
		m.Springs[i].RateNPerM, m.Springs[i].PreloadN, m.Springs[i].SlackM, m.Springs[i].PinRadiusM = s.Rate.X, s.Preload.X, 0, a.SpringRadius.X
		if s.Slack.X > 0 {
			m.Springs[i].SlackM = m.SlackFor(i, s.Slack.X)
		}
	}
	if err := m.Validate(); err != nil {
		t.Fatal(err)
	}
	begins, allIn := 0.0, 0.0
	for rpm := 200.0; rpm < 3000; rpm += 10 {
		at := m.At(rpm).Mid
		if at > 0.1 && begins == 0 {
			begins = rpm
		}
		if at > a.Stop.X-0.1 && allIn == 0 {
			allIn = rpm
		}
	}
	const inHg = 3386.389
	for _, h := range []struct {
		what          string
		got, low, top float64
	}{
		{"begins, rpm", begins, 400, 600}, {"all in, rpm", allIn, 1200, 2000}, {"stop", a.Stop.X, 8, 14},
		{"can begins, inHg", a.Start.X / inHg, 4, 8}, {"can full, inHg", a.Full.X / inHg, 12, 16}, {"can, crank degrees", 2 * a.Travel.X, 10, 20},
	} {
		if h.got < h.low || h.got > h.top {
			t.Errorf("%s: %.4g, wanted %v to %v", h.what, h.got, h.low, h.top)
		}
	}
}

// TestTypicalTriggerFires: the usual hall trigger sees every magnet at its
// usual gap, cold and hot; gaps of 0.5 to 1.5 mm are common practice, no source.
func TestTypicalTriggerFires(t *testing.T) {
	for _, ring := range []RingKind{AlternatingRing, OnePerLobe} {
		f := newFacts(12, 8)
		f.ring = ring
		var s TriggerFit
		fill(triggerTable, f, &s)
		r := magnet.UsualRing(8, s.RingRadius.X)
		if ring == OnePerLobe {
			r = magnet.UsualUnipolar(8, s.RingRadius.X)
		}
		r.HeightM, r.ThicknessM, r.RemanenceT, r.TempCoeff = s.MagnetHeight.X, s.MagnetThickness.X, s.Remanence.X, -s.FieldFalls.X
		h := magnet.UsualHall()
		h.OperateT, h.ReleaseT = s.Operate.X, s.Operate.X-s.Hysteresis.X
		for _, temp := range []float64{-10, 20, 110} {
			most, err := magnet.Fit{Ring: r, Hall: h, GapM: s.Gap.X, AxialM: s.AxialOffset.X, TiltRad: s.Tilt.X * math.Pi / 180, TempC: temp}.LargestGap()
			if err != nil || most < s.Gap.Hi() || most > 8e-3 {
				t.Errorf("%v at %v °C: up to %v m, %v", ring, temp, most, err)
			}
		}
	}
}
