package fit_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/fit"
	"dwellwright/twin"
	"dwellwright/units"
)

// with is the eight of the tests with other timing and phase.
func with(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(eight) }

// A rotor half way between two towers is past the one or short of the other,
// whichever a draw says, and is no less well known for that: its ± is that of
// the figures it is made of, and a way back is looked for all the same.
func TestHalfWayBetweenTowers(t *testing.T) {
	for _, x := range []struct {
		later string
		far   float64 // from a tower
	}{{"22 ± 1", 22}, {"25 ± 1", 25}, {"26 ± 1", 26}, {"-30 ± 1", 15}} {
		f := compute(t, with("trigger_later: 20 ± 1", "trigger_later: "+x.later, "first_tower: 30 deg", "first_tower: 30 deg\n  sleeve_turn: 40 deg"), 300)
		// Phase 0 ± 1 and trigger ± 1: sqrt 2; the vacuum's travel is exact.
		near(t, x.later+": ± vacuum off", f.Phase.AtRest.PM(), math.Sqrt2, 0.3)
		near(t, x.later+": ± full vacuum", f.Phase.AtFull.PM(), math.Sqrt2, 0.3)
		near(t, x.later+": vacuum off", math.Abs(math.Remainder(f.Phase.AtRest.Mid-x.far, 45)), 0, 0.2)
		if len(f.Ways) == 0 || f.Ways[0].Register.Verdict != distributor.InRegister {
			t.Errorf("%s: a sleeve that turns by 40 degrees brings any rotor into register", x.later)
		}
	}
}

// However little is known, that is an answer too.
func TestLittleIsKnown(t *testing.T) {
	for _, later := range []string{"0 ± 45", "22.5 ± 20", "-90 ± 50"} {
		f := compute(t, with("trigger_later: 20 ± 1", "trigger_later: "+later), 200)
		if len(f.Ways)+len(f.Refused) == 0 {
			t.Errorf("%s: nothing said", later)
		}
	}
}

// All leads sit one tower on, as they may: the engine runs as well so. The
// light is on the lead of No. 1, wherever it sits, and shows what it showed.
func TestLeadsSitOneOn(t *testing.T) {
	const on = "2-1-8-4-3-6-5-7" // 1-8-4-3-6-5-7-2 moved on by one
	for _, timing := range []string{"before: 8 ± 1 deg, after: 4 ± 1 deg", "before: 8 ± 1 deg, trigger_later: 2 ± 0 deg"} {
		f := compute(t, with("before: 8 ± 1 deg, trigger_later: 20 ± 1 deg", timing,
			"first_tower: 30 deg", "first_tower: 30 deg\n  leads: "+on), 0)
		near(t, timing+": now", f.Timing.Now.Mid, 4, 1e-9)
		near(t, timing+": rotor", f.Phase.AtRest.Mid, 2, 1e-9)
		for _, x := range f.Rig.Fire(0, 0) {
			near(t, timing+": every cylinder", x.Advance, 4, 1e-9)
		}
		// Two degrees of the housing against the rotation, the leads stay.
		if m := f.Ways[0].Move; m.Leads != 0 || math.Abs(m.Housing+2) > 1e-6 {
			t.Errorf("%s: best way %+v", timing, m)
		}
	}
}

// Seen at 3000 rpm with the weights out: the idle is what is wanted right, so
// what the weights make is no reason to turn anything.
func TestSeenOffIdle(t *testing.T) {
	const weights = "advance: {stop: 11 ± 0 deg, vacuum:"
	// All in long before 3000: 8 + 2·11 = 30.
	points := func(before string) string {
		return with("planned: {switch: {kind: darlington}}\n", "", "before: 8 ± 1 deg, trigger_later: 20 ± 1 deg", "before: "+before+" ± 1 deg, seen_at: 3000 rpm", "advance: {vacuum:", weights)
	}
	f := compute(t, points("30"), 0)
	near(t, "wanted there", f.Timing.Wanted.Mid, 30, 0.1)
	near(t, "wanted at idle", f.Timing.AtIdle, 8, 1e-9)
	near(t, "off", f.Timing.Off.Mid, 0, 0.1)
	if m := f.Ways[0].Move; math.Abs(m.Housing) > 0.05 {
		t.Errorf("nothing is to be turned: %+v", m)
	}
	if f.Start.Verdict != distributor.StartsWell {
		t.Errorf("8 degrees while cranking: %v", f.Start.Verdict)
	}
	// 40 at 3000 is 18 at idle: 5 degrees of the housing with the rotation.
	near(t, "housing", compute(t, points("40"), 0).Ways[0].Move.Housing, 5, 0.05)
	// How far out the weights are at 3000 is not known to the degree: that is
	// in the ± of what is off, on top of the light's 1.
	if pm := compute(t, points("30"), 200).Timing.Off.PM(); pm < 1.1 {
		t.Errorf("off ± %g", pm)
	}
}

// A can that stands two degrees from a hose stands there, whatever room is
// wished for; one that stands in it does not.
func TestCanNearHose(t *testing.T) {
	// The can's edge is at 175.
	f := compute(t, with("to: 165 deg", "to: 173 deg"), 50)
	near(t, "clearance", f.Rig.Clearance, 2, 1e-9)
	if trial := f.Try(distributor.Move{Housing: -0.5}, 0); trial.Blocked == "" {
		t.Error("nearer still is not free")
	}
	near(t, "as wished", compute(t, eight, 0).Rig.Clearance, 3, 1e-9)
	if _, err := fit.Compute(parse(t, with("to: 165 deg", "to: 180 deg")), fit.Settings{}); !errors.Is(err, distributor.ErrFouled) {
		t.Errorf("in the hose: %v", err)
	}
}

// A plate whose pin stands beside its sensor moves it in and out and gives no
// advance to speak of.
func TestPinBesideTheSensor(t *testing.T) {
	_, err := fit.Compute(parse(t, with("  phase: 0", "  plate_pivot: 16.2 mm\n  plate_pivot_at: 90 deg\n  trigger_at: 90 deg\n  phase: 0")+"trigger: {gap: 0.8 ± 0 mm, ring_radius: 15 ± 0 mm}\n"), fit.Settings{})
	if err == nil || !strings.Contains(err.Error(), "distributor.plate_pivot") {
		t.Errorf("got %v", err)
	}
}

// A small wheel or ring is a wheel and a ring.
func TestSmallRing(t *testing.T) {
	for _, kind := range []string{"principle: reluctance", "ring: one_per_lobe", "ring: alternating"} {
		f := compute(t, eight+"trigger: {"+kind+", ring_radius: 4 ± 0 mm, gap: 0.1 ± 0 mm}\n", 20)
		for _, at := range f.Gap.At {
			if math.IsNaN(at.Volts.Lo + at.Volts.Mid + at.Volts.Hi) {
				t.Errorf("%s: %s: no voltage", kind, at.Condition)
			}
		}
		if f.Gap.Principle == car.Reluctance {
			if err := twin.Reluctor(f.Car).Validate(); err != nil {
				t.Errorf("%s: %v", kind, err)
			}
		} else if err := twin.Hall(f.Car, 20).Validate(); err != nil {
			t.Errorf("%s: %v", kind, err)
		}
	}
}

// What is worked out is not called seen: a bench figure of the trigger is no
// look at the damper, and a trigger that is only thought of has none.
func TestSeenAndNotSeen(t *testing.T) {
	for _, x := range []struct {
		kind, timing, option string
		seen                 bool
		now, pm              float64
	}{
		{"darlington", "before: 8 ± 1 deg", "", true, 8, 1},
		{"darlington", "before: 8 ± 1 deg, trigger_later: 5 ± 1 deg", "", false, -2, math.Sqrt(5)},
		{"darlington", "before: 8 ± 1 deg, after: -2 ± 1 deg", "", true, -2, 1},
		{"single_points", "before: 8 ± 1 deg", "", true, 8, 1},
		{"single_points", "before: 8 ± 1 deg", "full_voltage_coil", false, 8, 16},
	} {
		c := parse(t, with("planned: {switch: {kind: darlington}}\n", "", "single_points", x.kind, "before: 8 ± 1 deg, trigger_later: 20 ± 1 deg", x.timing))
		f, err := fit.Compute(c, fit.Settings{Option: x.option, Draws: 400, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		if f.Timing.Seen != x.seen {
			t.Errorf("%s, %s %s: seen is %v", x.kind, x.timing, x.option, f.Timing.Seen)
		}
		near(t, x.timing+x.option, f.Timing.Now.Mid, x.now, 0.15*x.pm)
		near(t, x.timing+x.option+": ±", f.Timing.Now.PM(), x.pm, 0.2*x.pm)
	}
}

// A ring that touches its sensor is said to, drawn cars or none; and the creep
// of the edge is for a tenth of a millimetre however near the sensor stands.
func TestNoGap(t *testing.T) {
	for _, draws := range []int{0, 20} {
		near(t, "rubs", compute(t, eight+"trigger: {gap: 0 ± 0 mm}\n", draws).Gap.Rubs, 1, 1e-9)
	}
	near(t, "creep", compute(t, eight+"trigger: {gap: 0.02 ± 0 mm}\n", 0).Gap.CreepDeg,
		compute(t, eight+"trigger: {gap: 0.05 ± 0 mm}\n", 0).Gap.CreepDeg, 0.06)
}

// The hose leaves the can 7 degrees anticlockwise: beyond, it is not told to
// be turned but lifted over, and then meshed as before.
func TestPastTheHose(t *testing.T) {
	f := compute(t, eight, 0)
	for _, x := range []struct {
		m    distributor.Move
		says string
	}{
		{distributor.Move{Housing: -6}, "Turn the housing 6.0° anticlockwise"},
		{distributor.Move{Housing: 30}, "Turn the housing 30.0° clockwise"},
		{distributor.Move{Housing: -90}, "on the same tooth with the housing turned 90.0° anticlockwise"},
		{distributor.Move{Housing: -90, Mesh: 1}, "put it back with the housing turned 90.0° anticlockwise"},
	} {
		list := fit.Moves(&f.Rig, x.m, units.Metric)
		if got := list[len(list)-1]; !strings.Contains(got, x.says) {
			t.Errorf("%+v: %s", x.m, got)
		}
	}
	lifted := 0
	for _, w := range f.Ways {
		says := strings.Join(fit.Moves(&f.Rig, w.Move, units.Metric), " ")
		if w.Lifted != strings.Contains(strings.ToLower(says), "lift the distributor out") {
			t.Errorf("lifted is %v: %s", w.Lifted, says)
		}
		if w.Lifted {
			lifted++
		}
	}
	if lifted == 0 {
		t.Error("no way was lifted")
	}
}
