package fit_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/fit"
	"dwellwright/units"
)

// eight is a clockwise eight whose planned trigger switches 20 distributor
// degrees later than its points opened. Its can points to 200 degrees and is
// 50 wide: from 175 to 225. A hose stands from 150 to 165, 3 to be kept, so
// that the can has 175 - 168 = 7 degrees left anticlockwise.
const eight = `
format: 1
name: eight for the test
system: {voltage: 12 V, earth: negative, cylinders: 8}
switch: {kind: single_points}
planned: {switch: {kind: darlington}}
distributor:
  rotation: clockwise
  firing_order: 1-8-4-3-6-5-7-2
  first_tower: 30 deg
  can_at: 200 deg
  can_width: 50 ± 0 deg
  drive: gear
  teeth: 13
  scatter: 1 ± 0 deg
  clamp_radius: 32 ± 0 mm
  clear: 3 deg
  tip_radius: 26 ± 0 mm
  tip_width: 6 ± 0 mm
  electrode_width: 5 ± 0 mm
  phase: 0 ± 1 deg
  trigger_slot: 12.9 deg
  obstacles: {hose: {name: heater hose, from: 150 deg, to: 165 deg}}
timing: {wanted: 8 ± 0 deg, before: 8 ± 1 deg, trigger_later: 20 ± 1 deg}
advance: {vacuum: {source: ported, travel: 7 ± 0 deg}}
cap: {rotor_gap: 0.8 ± 0 mm}
`

func parse(t testing.TB, text string) *car.Car {
	t.Helper()
	c, err := car.Parse("test.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func compute(t testing.TB, text string, draws int) *fit.Fit {
	t.Helper()
	f, err := fit.Compute(parse(t, text), fit.Settings{Draws: draws, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %g, want %g ± %g", what, got, want, within)
	}
}

// The whole job by hand.
func TestTheTriggerCameOutLate(t *testing.T) {
	f := compute(t, eight, 400)

	// Timing: 20 distributor degrees later is 40 at the crank:
	// 8 - 40 = 32 after top dead centre; ± is sqrt(1² + (2·1)²) = 2.24.
	near(t, "timing now", f.Timing.Now.Mid, -32, 0.3)
	near(t, "its ±", f.Timing.Now.PM(), math.Sqrt(5), 0.35)
	if f.Start.Verdict != distributor.HardToStart {
		t.Errorf("first start: %v, a spark 32 degrees late does not start an engine well", f.Start.Verdict)
	}

	// Phase: 0 with points, so 20 past its tower with the vacuum off; over the
	// vacuum's 7 degrees the tip goes from 20 to 13.
	// Overlap by hand: tip 6/26 rad = 13.22°, contact 5/26.8 rad = 10.69°,
	// half of both 11.96°.
	near(t, "overlap", f.Phase.Window.OverlapDeg, 11.96, 0.01)
	if f.Phase.Middle.Verdict != distributor.WrongTower {
		t.Errorf("rotor: %v, 20 of 45 degrees off is nearly half way to the neighbour", f.Phase.Middle.Verdict)
	}

	// Turning back against the rotation by 20 is barred: the can has 7.
	if trial := f.Try(distributor.Move{Housing: -20}, 0); trial.Blocked == "" {
		t.Error("the can passes through the hose")
	} else {
		near(t, "timing it would have", trial.Timing.Mid, 8, 0.3)
	}
	if trial := f.Try(distributor.Move{Housing: -7}, 0); trial.Blocked != "" {
		t.Errorf("seven degrees are free: %s", trial.Blocked)
	}

	if len(f.Ways) == 0 {
		t.Fatal("no way back")
	}
	best := f.Ways[0]
	if best.Register.Verdict != distributor.InRegister {
		t.Errorf("best way: %v; the trigger has 12.9 degrees to go, enough for register", best.Register.Verdict)
	}
	// By hand: the trigger goes back by x, which is x earlier. In register the
	// tip is at most 11.96 past with the vacuum off, less scatter 1 and twice what
	// is not known of the phase, 2·sqrt(1 + 1) = 2.83: 20 - x <= 8.13, so
	// x = 11.87. The 8.13 left are more than the 7 that are free against the
	// rotation, so the leads go back a tower, 45 earlier, and the housing
	// 45 - 8.13 = 36.87 with the rotation.
	near(t, "trigger", best.Move.Trigger, -11.87, 0.3)
	if best.Move.Leads != -1 {
		t.Errorf("best way: %s; leads one tower back is the least", fit.Brief(best.Move))
	}
	near(t, "housing", best.Move.Housing, 45-(20+best.Move.Trigger), 0.01)
	// 36.87/57.2958·32 = 20.6 mm.
	near(t, "millimetres", best.HousingM*1e3, best.Move.Housing*math.Pi/180*32, 1e-9)
	near(t, "timing after", best.Timing.Mid, 8, 0.3)
	if got := best.Phase.Chance[distributor.InRegister]; got < 0.95 {
		t.Errorf("chance of register %g: the way is to hold over the phase's ±", got)
	}

	// With a slot of no length the phase can't be mended: leads and housing
	// bring the timing back and every way says that it fires the wrong tower.
	f = compute(t, strings.Replace(eight, "trigger_slot: 12.9 deg", "trigger_slot: 0 deg", 1), 0)
	// One tower of leads is 90 at the crank; back by one is 90 earlier, 50 too
	// much, taken off by 25 distributor degrees with the rotation: 13.96 mm.
	found := false
	for _, w := range f.Ways {
		if w.Register.Verdict != distributor.WrongTower {
			t.Errorf("%s: %v, but no move of housing or leads mends a phase", fit.Brief(w.Move), w.Register.Verdict)
		}
		if w.Move.Leads == -1 && w.Move.Mesh == 0 && w.Move.Trigger == 0 {
			found = true
			near(t, "housing with leads one back", w.Move.Housing, 25, 1e-6)
			near(t, "its millimetres", w.HousingM*1e3, 13.96, 0.01)
		}
	}
	if !found {
		t.Error("leads one tower back and the housing 25 degrees clockwise: not found")
	}
}

// What a light showed before and after says the same as the bench.
func TestALightSaysAsMuchAsTheBench(t *testing.T) {
	f := compute(t, strings.Replace(eight, "trigger_later: 20 ± 1 deg", "after: -32 ± 1 deg", 1), 0)
	near(t, "timing", f.Timing.Now.Mid, -32, 1e-9)
	near(t, "later", f.Timing.Later.Mid, 20, 1e-9)
	near(t, "phase", f.Phase.AtRest.Mid, 20, 1e-9)
	if !f.Timing.Seen {
		t.Error("seen with a light, but it says worked out")
	}
}

// The mirror of a car gives the mirror of the answer.
func TestMirrored(t *testing.T) {
	mirror := strings.NewReplacer("rotation: clockwise", "rotation: anticlockwise", "first_tower: 30", "first_tower: 330", "can_at: 200", "can_at: 160",
		"from: 150 deg, to: 165 deg", "from: 195 deg, to: 210 deg").Replace(eight)
	a, b := compute(t, eight, 0), compute(t, mirror, 0)
	if len(a.Ways) != len(b.Ways) || len(a.Ways) == 0 {
		t.Fatalf("%d and %d ways", len(a.Ways), len(b.Ways))
	}
	for i := range a.Ways {
		x, y := a.Ways[i], b.Ways[i]
		if x.Move.Leads != y.Move.Leads || x.Move.Mesh != y.Move.Mesh {
			t.Fatalf("way %d: %s and %s", i, fit.Brief(x.Move), fit.Brief(y.Move))
		}
		near(t, "housing", x.Move.Housing, -y.Move.Housing, 1e-6)
		near(t, "trigger", x.Move.Trigger, -y.Move.Trigger, 1e-6)
	}
}

// A gap that is too wide and comes right when a slot is opened by a thirty-
// second of an inch [common practice: so little can decide].
func TestASlotOpenedByAThirtySecond(t *testing.T) {
	wide := eight + `
trigger: {principle: hall, gap: 3.0 ± 0.1 mm, gap_wanted: 2.2 mm, slot_length: 0 mm, operate: 15 ± 1 mT, remanence: 0.22 ± 0.01 T,
  ring_radius: 15 ± 0.1 mm, magnet_height: 8 ± 0.2 mm, magnet_thickness: 3 ± 0.1 mm, axial_offset: 0.3 ± 0.1 mm, tilt: 1 ± 0.5 deg}
`
	f := compute(t, wide, 300)
	worst := f.Gap.At[f.Gap.Worst]
	if worst.Fires > 0.1 || f.Gap.After < 0.9 {
		t.Errorf("every lobe fires in %g of the cars at 3.0 mm and in %g at 2.2 mm; largest gap %.2f mm %s", worst.Fires, f.Gap.After, worst.Largest.Mid*1e3, worst.Name)
	}
	near(t, "slot opened, mm", f.Gap.Slot.OpenM*1e3, 0.8, 1e-9) // 1/32 in is 0.79 mm
	if !f.Gap.Slot.Inwards {
		t.Error("towards the shaft is meant")
	}
}

// A toothed wheel wants a gap of about 0.008 in [common practice]; a hall
// switch works far wider.
func TestGapsOfTheTwoPrinciples(t *testing.T) {
	hall := compute(t, eight+"trigger: {principle: hall}\n", 100)
	teeth := compute(t, eight+"trigger: {principle: reluctance}\n", 100)
	h, r := hall.Gap.At[hall.Gap.Worst].Largest.Mid, teeth.Gap.At[teeth.Gap.Worst].Largest.Mid
	if h < 1.5e-3 || h > 5e-3 {
		t.Errorf("hall: %g mm", h*1e3)
	}
	if r < 0.2e-3 || r > 1.2e-3 {
		t.Errorf("teeth: %g mm while cranking, where 0.2 mm (0.008 in) is usual", r*1e3)
	}
	if teeth.Gap.At[teeth.Gap.Worst].Condition != "cold_crank" {
		t.Errorf("worst for teeth: %s, but slow cranking gives least", teeth.Gap.At[teeth.Gap.Worst].Condition)
	}
}

// Mechanics that cannot be are named with their place in the file.
func TestImpossible(t *testing.T) {
	for _, x := range []struct {
		name, from, to string
		is             error
		says           string
	}{
		{"towers overlap", "electrode_width: 5 ± 0 mm", "electrode_width: 25 ± 0 mm", distributor.ErrTowersOverlap, "distributor.towers"},
		{"rotor longer than the cap", "rotor_gap: 0.8 ± 0 mm", "rotor_gap: 0 ± 0 mm", distributor.ErrRotorTooLong, "test.yaml:18:15: distributor.tip_radius"},
		{"no room", "from: 150 deg, to: 165 deg", "from: 250 deg, to: 245 deg", distributor.ErrFouled, "can"},
	} {
		text := strings.Replace(eight, x.from, x.to, 1)
		_, err := fit.Compute(parse(t, text), fit.Settings{})
		if !errors.Is(err, car.ErrContradiction) || !errors.Is(err, x.is) && !errors.Is(err, distributor.ErrNoRoom) || err == nil || !strings.Contains(err.Error(), x.says) {
			t.Errorf("%s: %v", x.name, err)
		}
	}
}

// Advice applied gives the wanted timing, whatever the car.
func TestAdviceApplied(t *testing.T) {
	for _, cyl := range []int{4, 6, 8} {
		for _, rotation := range []string{"clockwise", "anticlockwise"} {
			text := fmt.Sprintf("format: 1\nsystem: {voltage: 12 V, earth: negative, cylinders: %d}\nplanned: {switch: {kind: mosfet}}\n"+
				"distributor: {rotation: %s, trigger_slot: 10 deg, sleeve_turn: 12 deg}\ntiming: {wanted: 6 ± 0 deg, before: 10 ± 1 deg, trigger_later: -17 ± 1 deg}\n", cyl, rotation)
			f := compute(t, text, 0)
			for _, w := range f.Ways {
				trial := f.Try(w.Move, 3)
				near(t, fit.Brief(w.Move), trial.Timing.Mid, 6, 0.1)
				for _, fire := range trial.Rig.Fire(0, 0) {
					near(t, fmt.Sprintf("cylinder %d", fire.Cylinder), fire.Advance, 6, 0.1)
				}
			}
		}
	}
}

func TestSteps(t *testing.T) {
	f := compute(t, eight, 0)
	var all strings.Builder
	cautions := 0
	for _, s := range f.Steps(&f.Ways[0], units.Metric) {
		fmt.Fprintln(&all, s.Text)
		if s.Caution {
			cautions++
		}
	}
	for _, must := range []string{"spark tester", "compression stroke", "extinguisher", "Key off", "at the clamp", "scribe"} {
		if !strings.Contains(all.String(), must) {
			t.Errorf("the steps don't say %q:\n%s", must, &all)
		}
	}
	if cautions < 4 {
		t.Errorf("%d cautions", cautions)
	}
}

// Dual points by hand: lobes 45 apart, each set closed for 28, so open for 17.
// The first is open from 0 to 17, the second from 6 to 23: both from 6 to 17,
// which is 11, and the coil is fed for the other 34.
func TestDualPoints(t *testing.T) {
	f := compute(t, "format: 1\nsystem: {voltage: 12 V, earth: negative, cylinders: 8}\nswitch: {kind: dual_points}\n"+
		"distributor: {dwell_each: 28 ± 0 deg, sets_apart: 6 ± 0 deg}\n", 0)
	if f.Sets == nil || f.Sets.Refused != nil {
		t.Fatalf("%+v", f.Sets)
	}
	near(t, "opens", f.Sets.Opens.Mid, 6, 1e-9)
	near(t, "dwell", f.Sets.Together.Mid, 34, 1e-9)
	// Sets that lie 17 and more apart are never open together: no spark.
	f = compute(t, "format: 1\nsystem: {voltage: 12 V, earth: negative, cylinders: 8}\nswitch: {kind: dual_points}\n"+
		"distributor: {dwell_each: 28 ± 0 deg, sets_apart: 18 ± 0 deg}\n", 0)
	if !errors.Is(f.Sets.Refused, distributor.ErrNeverOpen) {
		t.Errorf("18 degrees apart: %v", f.Sets.Refused)
	}
}

// An uneven six by hand: it fires every 150 and 90 crank degrees by turns, so
// its lobes and towers stand 75 and 45 distributor degrees apart.
func TestUnevenSix(t *testing.T) {
	const six = `
format: 1
system: {voltage: 12 V, earth: negative, cylinders: 6}
switch: {kind: darlington}
distributor:
  rotation: clockwise
  firing_order: 1-6-5-4-3-2
  intervals: [150, 90, 150, 90, 150, 90]
  phase: 0 deg
timing: {wanted: 8 deg, before: 8 deg, after: -2 deg}
`
	f := compute(t, six, 0)
	for i, want := range []float64{0, 75, 120, 195, 240, 315} {
		near(t, "lobe", f.Rig.Lobes[i], want, 1e-9)
		near(t, "tower", f.Rig.Towers[i], want, 1e-9)
	}
	// Ten crank degrees late: five of the housing, every cylinder right after.
	near(t, "housing", f.Ways[0].Move.Housing, -5, 1e-6)
	for _, w := range f.Ways {
		// Leads by one tower would put 150 where 90 belongs: only pairs will do.
		if w.Move.Leads%2 != 0 {
			t.Errorf("leads moved %d towers on an engine that fires unevenly", w.Move.Leads)
		}
		moved := f.Rig.Apply(w.Move)
		for _, x := range moved.Fire(0, 0) {
			near(t, fmt.Sprintf("cylinder %d", x.Cylinder), x.Advance, 8, 0.1)
		}
	}
}

// The shaft pushed to both sides on the bench: 0.2 mm of play on a ring of
// 15 mm is 0.2/15 rad = 0.764 degrees.
func TestSidePlayFromTheBench(t *testing.T) {
	turn := func(by float64) string {
		var s []string
		for j := range 8 {
			s = append(s, fmt.Sprintf("%.3f", 45*float64(j)+1+by))
		}
		return "[" + strings.Join(s, ", ") + "]"
	}
	run := func(side string, by float64) string {
		return fmt.Sprintf("    - {side: %s, turns: [%s, %s, %s, %s]}\n", side, turn(by+0.02), turn(by-0.02), turn(by+0.01), turn(by-0.01))
	}
	text := eight + "trigger: {ring_radius: 15 ± 0 mm}\nbench:\n  accuracy: 0.05 deg\n  runs:\n" + run("left", -0.382) + run("right", 0.382)
	f := compute(t, text, 0)
	if f.Play == nil || len(f.Lobes) != 2 || f.Lobes[0].Refused != nil {
		t.Fatalf("%+v", f.Play)
	}
	near(t, "angle", f.Play.Angle.Mid, 0.764, 0.01)
	near(t, "play, mm", f.Play.PlayM.Mid*1e3, 0.2, 0.003)
	// Two turns are too few: said with the run, and all else is there.
	text = eight + "bench:\n  runs:\n    - {turns: [" + turn(0) + ", " + turn(0) + "]}\n"
	if f = compute(t, text, 0); f.Lobes[0].Refused == nil || !strings.Contains(f.Lobes[0].Refused.Error(), "test.yaml:") {
		t.Errorf("two turns: %v", f.Lobes[0].Refused)
	}
}

// A plate that swings about a pin beside the sensor takes it away from the
// ring or towards it.
func TestEccentricPlate(t *testing.T) {
	f := compute(t, strings.Replace(eight, "  phase: 0", "  plate_pivot: 25 mm\n  plate_pivot_at: 10 deg\n  trigger_at: 90 deg\n  phase: 0", 1)+"trigger: {gap: 0.8 ± 0 mm, ring_radius: 15 ± 0 mm}\n", 0)
	if math.Abs(f.Gap.PlateM) < 0.2e-3 {
		t.Fatalf("the gap changes by %g mm over seven degrees", f.Gap.PlateM*1e3)
	}
	// By vectors: the plate turns about the pin against rotation until the
	// sensor is 7 degrees round the shaft, which is what the can is said to give.
	rad := math.Pi / 180
	px, py := 25*math.Sin(10*rad), 25*math.Cos(10*rad) // clockwise from straight up
	sx, sy := 15.8*math.Sin(90*rad), 15.8*math.Cos(90*rad)
	moved := func(turn float64) (round, out float64) { // anticlockwise
		c, s := math.Cos(turn), math.Sin(turn)
		x, y := px+c*(sx-px)-s*(sy-py), py+s*(sx-px)+c*(sy-py)
		return (math.Atan2(y, x) - math.Atan2(sy, sx)) / rad, math.Hypot(x, y) - 15.8
	}
	low, high := 0.0, 45*rad
	for range 60 {
		mid := (low + high) / 2
		if round, _ := moved(mid); round < 7 {
			low = mid
		} else {
			high = mid
		}
	}
	if _, out := moved(low); math.Abs(out-f.Gap.PlateM*1e3) > 1e-6 {
		t.Errorf("the gap changes by %g mm, %g as vectors have it", f.Gap.PlateM*1e3, out)
	}
	// And so the tip falls back by 7 degrees, no more and no less.
	near(t, "tip with full vacuum", f.Phase.AtRest.Mid-f.Phase.AtFull.Mid, 7, 1e-6)
}
