package fault_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/fault"
	"dwellwright/twin"
	"dwellwright/units"
)

var snake = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)

// Ids are unique, every fault is told in words, has a remedy with its cautions
// and times, and figures for every size that its words name.
func TestEveryFaultIsWhole(t *testing.T) {
	list := fault.Catalogue()
	if len(list) < 60 {
		t.Errorf("%d faults", len(list))
	}
	ids, names, remedies := map[string]bool{}, map[string]bool{}, map[string]fault.Remedy{}
	for _, f := range list {
		if ids[f.ID] || !snake.MatchString(f.ID) {
			t.Errorf("id %q", f.ID)
		}
		if names[f.Name] || f.Name == "" || f.Group == "" || f.Change == "" || strings.ContainsAny(f.Change, "{}") {
			t.Errorf("%s: name %q, group %q, change %q", f.ID, f.Name, f.Group, f.Change)
		}
		ids[f.ID], names[f.Name] = true, true
		switch f.Evidence {
		case fault.CommonPractice, fault.FromMemory, fault.Estimate:
		default:
			t.Errorf("%s: evidence %q", f.ID, f.Evidence)
		}
		if !(f.Prior > 0 && f.Prior < 5) {
			t.Errorf("%s: prior %g", f.ID, f.Prior)
		}
		if len(f.Sizes) > 3 || len(f.Moves) == 0 && f.Unseen == "" {
			t.Errorf("%s: %d sizes, %d moves", f.ID, len(f.Sizes), len(f.Moves))
		}
		for _, s := range f.Sizes {
			if s.Spread == fault.LogUniform && !(s.Mild > 0 && s.Worst > 0) {
				t.Errorf("%s: size %+v", f.ID, s)
			}
		}
		r := f.Remedy
		if !snake.MatchString(r.ID) || len(r.Words) < 20 || !(r.Minutes >= 5 && r.Minutes <= 600) {
			t.Errorf("%s: remedy %+v", f.ID, r)
		}
		// All of it is work on a car: some caution, and that local codes decide.
		if len(r.Cautions) < 2 || !strings.Contains(r.Cautions[len(r.Cautions)-1], "local codes and licensed practice") {
			t.Errorf("%s: cautions %q", f.ID, r.Cautions)
		}
		if was, ok := remedies[r.ID]; ok && !reflect.DeepEqual(was, r) {
			t.Errorf("%s: two remedies called %s", f.ID, r.ID)
		}
		remedies[r.ID] = r
	}
	t.Log(len(list), "faults,", len(remedies), "remedies")
}

// Priors are cases per 100 (all estimates): of the trade's hundred, some 2 are
// faults that no figure here can be, in one cylinder alone most of them. The
// groups' shares are those of the trade's table [estimates, no survey].
func TestPriorsAddUp(t *testing.T) {
	sum, groups := 0.0, map[fault.Group]float64{}
	most, commonest := 0.0, ""
	for _, f := range fault.Catalogue() {
		sum += f.Prior
		groups[f.Group] += f.Prior
		if f.Prior > most {
			most, commonest = f.Prior, f.ID
		}
	}
	if math.Abs(sum-98) > 2 {
		t.Errorf("priors add up to %g", sum)
	}
	for g, want := range map[fault.Group]float64{
		fault.Supply: 8.4, fault.Feed: 20.9, fault.CoilGroup: 7.7, fault.Points: 11.7, fault.Trigger: 11.5,
		fault.Timing: 13.1, fault.Advance: 11.2, fault.Secondary: 11.9, fault.Elsewhere: 3.6,
	} {
		if got := groups[g]; math.Abs(got-want) > 0.35*want {
			t.Errorf("%s: %g per 100, the trade has %g", g, got, want)
		}
	}
	if commonest != "points_closed_up" && commonest != "plate_ground_high" {
		t.Errorf("commonest is %s", commonest)
	}
}

// A story makes likelier what it should.
func TestStory(t *testing.T) {
	for _, x := range []struct {
		id    string
		story fault.Context
		times float64
	}{
		{"plate_ground_high", fault.JustConverted, 3.5},
		{"timing_late", fault.JustConverted, 3.5},
		{"points_burnt", fault.JustConverted, 1},
		{"points_burnt", fault.LongUntouched, 2},
		{"weights_seized", fault.LongUntouched, 2},
		{"coil_shorted_turns_hot", fault.QuitsHot, 1},
		{"ballast_opens_hot", fault.QuitsHot, 1},
		{"coil_reversed", fault.QuitsHot, 0.1},
		{"bypass_open", fault.SwitchWork, 5},
		{"switch_contact_worn", fault.SwitchWork, 5},
		{"battery_discharged", fault.Stored, 3},
		{"plugs_fouled", fault.Stored, 3},
		{"trigger_feed_dead_in_start", fault.JustConverted | fault.SwitchWork, 17.5},
		{"coil_reversed", 0, 1},
	} {
		f := byID(t, x.id)
		if got := f.PriorIn(x.story) / f.Prior; math.Abs(got-x.times) > 1e-9 {
			t.Errorf("%s in %b: times %g, want %g", x.id, x.story, got, x.times)
		}
	}
}

// Quantiles of the spreads, from their definitions; that of the normal
// distribution against its table: 84.13 % lie below one standard deviation.
func TestSizes(t *testing.T) {
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	log := fault.Size{Kind: units.Resistance, Spread: fault.LogUniform, Mild: 0.1, Worst: 10}
	near("middle of a decade either side", log.At(0.5), 1, 1e-12)
	near("a quarter of two decades", log.At(0.25), math.Sqrt(0.1), 1e-12)
	down := fault.Size{Spread: fault.LogUniform, Mild: 1e6, Worst: 1e4}
	near("falling", down.At(1), 1e4, 1e-6)
	flat := fault.Size{Spread: fault.Uniform, Mild: 0.7, Worst: 0.3}
	near("uniform", flat.At(0.25), 0.6, 1e-12)
	bell := fault.Size{Spread: fault.Normal, Mild: 8.04, Worst: 11.96} // 10, standard deviation 1
	near("one standard deviation", bell.At(0.8413), 11, 0.01)
	near("95 % of them", bell.At(0.975), 11.96, 0.03)
	near("backwards", fault.Size{Spread: fault.Normal, Mild: 11.96, Worst: 8.04}.At(0.8413), 9, 0.01)
	side := fault.Size{Spread: fault.EitherSide, Mild: -1, Worst: 1}
	near("one side", side.At(0.49), -1, 0)
	near("other side", side.At(0.51), 1, 0)
	for _, s := range []fault.Size{log, down, flat, bell, side} {
		near("no number", s.At(math.NaN()), s.At(0.5), 0)
		near("below", s.At(-3), s.At(0), 0)
		near("above", s.At(math.Inf(1)), s.At(1), 0)
	}
}

// What is hot only is there in the hot car and not in the cold one; what comes
// and goes is there in its share; what needs the plate moved, with vacuum.
func TestWhen(t *testing.T) {
	c := example(t, "harrowmere-eight", "as_fitted")
	trig := example(t, "harrowmere-eight", "feed_before_ballast")
	for _, f := range fault.Catalogue() {
		of := c
		if !f.Fits(of) {
			of = trig
		}
		cold, hot := condition(of, "cold_crank"), condition(of, "hot_restart")
		switch f.When.Kind {
		case fault.OnlyHot:
			if f.Present(of, cold, all(1)) || !f.Present(of, hot, all(1)) {
				t.Errorf("%s: cold %t, hot %t", f.ID, f.Present(of, cold, all(1)), f.Present(of, hot, all(1)))
			}
		case fault.ComesAndGoes:
			n, of1 := 0, 0
			for u := 0.0005; u < 1; u += 0.001 {
				for i := range of.Conditions {
					of1++
					if f.Present(of, &of.Conditions[i], all(u)) {
						n++
					}
				}
			}
			if got := float64(n) / float64(of1); math.Abs(got-f.When.Share) > 0.01 {
				t.Errorf("%s: there in %.3f of them, says %g", f.ID, got, f.When.Share)
			}
		case fault.PlateMoved:
			// The car's hose is on the port: nothing at idle, full at cruise.
			if f.Present(of, condition(of, "hot_idle"), all(1)) || !f.Present(of, condition(of, "cruise"), all(0)) {
				t.Errorf("%s: plate moved at idle or not at cruise", f.ID)
			}
			pump := *condition(of, "key_on_closed")
			pump.Manifold.X = 45e3 // what a hand pump on the can draws
			if !f.Present(of, &pump, all(0)) {
				t.Errorf("%s: a hand pump does not move the plate", f.ID)
			}
		case fault.InStart:
			if !f.Present(of, cold, all(0)) || f.Present(of, condition(of, "cruise"), all(0)) {
				t.Errorf("%s: in start only", f.ID)
			}
		case fault.NotInStart:
			if f.Present(of, cold, all(0)) || !f.Present(of, condition(of, "cruise"), all(0)) {
				t.Errorf("%s: not in start", f.ID)
			}
		}
	}
}

// Faults of parts that a car has not do not fit it.
func TestFits(t *testing.T) {
	points, trig := example(t, "harrowmere-eight", "as_fitted"), example(t, "harrowmere-eight", "feed_before_ballast")
	four, six := example(t, "tillbrook-four", "as_fitted"), example(t, "skellgate-six", "as_fitted")
	for _, x := range []struct {
		id   string
		c    *car.Car
		fits bool
	}{
		{"points_burnt", points, true}, {"points_burnt", trig, false}, {"trigger_gap_wide", points, false}, {"trigger_gap_wide", trig, true},
		{"dual_points_out_of_step", points, true}, {"dual_points_out_of_step", four, false},
		{"ballast_open", four, false}, {"bypass_open", four, false}, {"generator_cuts_in_late", six, false}, {"alternator_diode", six, true},
		{"diaphragm_torn", four, false}, {"hose_on_manifold", points, true}, {"hose_on_port", points, false},
		{"tooth_out", four, false}, {"tooth_out", points, true}, {"relay_fuse_poor", points, false},
		{"trigger_feed_behind_ballast", trig, true}, {"trigger_feed_behind_ballast", points, false},
	} {
		f := byID(t, x.id)
		if f.Fits(x.c) != x.fits {
			t.Errorf("%s fits %s: %t", x.id, x.c.Name, !x.fits)
		}
	}
	if byID(t, "coil_reversed").Fits(nil) {
		t.Error("a fault of no car")
	}
}

// Which two can be at once; and what can, can be solved, and is the same
// whichever is named first.
func TestCompatible(t *testing.T) {
	for _, x := range []struct {
		a, b string
		both bool
	}{
		{"plate_ground_high", "points_burnt", true}, {"plate_ground_high", "plate_ground_high", false},
		{"points_burnt", "trigger_gap_wide", false}, {"points_closed_up", "points_gap_wide", false},
		{"timing_early", "timing_late", false}, {"timing_late", "timing_chain_slack", true},
		{"ballast_open", "ballast_bypassed", false}, {"ballast_open", "coil_reversed", true},
		{"generator_gives_nothing", "alternator_diode", false}, {"cap_damp", "plugs_fouled", true},
		{"plug_gap_wide", "plug_gap_closed", false}, {"trigger_dead", "trigger_overheated", false},
		{"switch_feed_high", "main_feed_high", true}, {"hose_on_port", "hose_on_manifold", false},
	} {
		a, b := byID(t, x.a), byID(t, x.b)
		if fault.Compatible(a, b) != x.both || fault.Compatible(b, a) != x.both {
			t.Errorf("%s with %s: %t", x.a, x.b, !x.both)
		}
	}

	list, cars := fault.Catalogue(), fleet(t)
	rng := rand.New(rand.NewPCG(3, 5))
	draw := func() fault.Severity {
		return fault.Severity{U: [4]float64{rng.Float64(), rng.Float64(), rng.Float64(), rng.Float64()}}
	}
	for solved := 0; solved < 1500/thin; {
		a, b, c := &list[rng.IntN(len(list))], &list[rng.IntN(len(list))], cars[rng.IntN(len(cars))]
		if !fault.Compatible(a, b) || !a.Fits(c) || !b.Fits(c) {
			continue
		}
		solved++
		got := c.Clone()
		k := &got.Conditions[rng.IntN(len(got.Conditions))]
		sa, sb := draw(), draw()
		other := c.Clone()
		fault.ApplyBoth(got, k, a, sa, b, sb)
		fault.ApplyBoth(other, condition(other, k.ID), b, sb, a, sa)
		if !reflect.DeepEqual(got, other) {
			t.Errorf("%s with %s of %s, %s: not the same the other way round", a.ID, b.ID, c.Name, k.ID)
		}
		m, err := twin.Build(got, k.ID)
		if err == nil {
			err = m.Solve()
		}
		if err == nil && m.Switched() {
			_, err = m.Spark()
		}
		if err == nil {
			err = twin.Mechanics(got)
		}
		if err != nil {
			t.Errorf("%s with %s of %s, %s: %v", a.ID, b.ID, c.Name, k.ID, err)
		}
	}
}

// The same again is the same; a condition that is none changes nothing.
func TestApplyRepeats(t *testing.T) {
	for _, c := range fleet(t)[:6] {
		for _, f := range fault.Catalogue() {
			a, b := c.Clone(), c.Clone()
			s := fault.Severity{U: [4]float64{0.3, 0.7, 0.1, 0.9}}
			f.Apply(a, &a.Conditions[3], s)
			f.Apply(b, &b.Conditions[3], s)
			if !reflect.DeepEqual(a, b) {
				t.Errorf("%s: not the same twice", f.ID)
			}
			d := c.Clone()
			f.Apply(d, nil, s)
			f.Apply(nil, &a.Conditions[0], s)
			if !reflect.DeepEqual(c, d) {
				t.Errorf("%s: changes a car in no condition", f.ID)
			}
		}
	}
}

func TestByID(t *testing.T) {
	f, err := fault.ByID("coil_reversed")
	if err != nil || f.Name == "" {
		t.Fatal(f, err)
	}
	_, err = fault.ByID("coil_reversd")
	var unknown *fault.UnknownError
	if !errors.As(err, &unknown) || !strings.Contains(err.Error(), "coil_reversed") {
		t.Errorf("%v", err)
	}
}

// A hose moved to the manifold draws the plate over at idle, and a plate's wire
// that breaks with it then breaks at idle, named first or last.
func TestPlateMovedGoesLast(t *testing.T) {
	c := example(t, "harrowmere-eight", "as_fitted")
	hose, wire := byID(t, "hose_on_manifold"), byID(t, "plate_ground_breaks_moved")
	for range 2 {
		d := c.Clone()
		fault.ApplyBoth(d, condition(d, "hot_idle"), wire, all(0.5), hose, all(0.5))
		if d.Wiring[car.PivotWire].Resistance.X == c.Wiring[car.PivotWire].Resistance.X {
			t.Errorf("%s, then %s: the wire holds at idle", wire.ID, hose.ID)
		}
		hose, wire = wire, hose
	}
}
