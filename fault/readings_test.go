package fault_test

import (
	"math"
	"testing"

	"dwellwright/car"
	"dwellwright/fault"
	"dwellwright/twin"
)

// reading is one that splits a fault from what looks like it, in one
// condition of one of the cars.
type reading struct {
	fault, car, condition string
	what                  string
	of                    func(t *testing.T, c *car.Car, condition string) float64
	by                    float64 // the least it moves at a severity of one half, below 0 down
}

func spec(in twin.Instrument, red, black string) func(*testing.T, *car.Car, string) float64 {
	return func(t *testing.T, c *car.Car, condition string) float64 {
		t.Helper()
		e, err := twin.Predict(c, condition, []twin.Spec{{Instrument: in, Red: red, Black: black}}, 0, 1)
		if err != nil {
			t.Fatal(err)
		}
		if e[0].Missing() {
			t.Fatalf("nothing to read at %s %s in %s", red, black, condition)
		}
		return e[0].Mid
	}
}

func volts(red, black string) func(*testing.T, *car.Car, string) float64 {
	return spec(twin.Voltmeter, red, black)
}

func lowest(red, black string) func(*testing.T, *car.Car, string) float64 {
	return spec(twin.VoltmeterMin, red, black)
}

func meter(red, black string) func(*testing.T, *car.Car, string) float64 {
	return spec(twin.Ohmmeter, red, black)
}

func peak(part string) func(*testing.T, *car.Car, string) float64 {
	return spec(twin.ClampPeak, part, "")
}

func firing(in twin.Instrument) func(*testing.T, *car.Car, string) float64 { return spec(in, "", "") }

func figure(of func(c *car.Car, k *car.Condition) float64) func(*testing.T, *car.Car, string) float64 {
	return func(_ *testing.T, c *car.Car, id string) float64 { return of(c, condition(c, id)) }
}

var (
	dwell = figure(func(c *car.Car, k *car.Condition) float64 {
		return 360 / float64(c.Cylinders) * twin.Dwell(c, k.Speed.X).Dwell / twin.Dwell(c, k.Speed.X).Period
	})
	gapInHand = figure(func(c *car.Car, k *car.Condition) float64 { return twin.LargestGap(c, k) - c.Trigger.Gap.X })
	strobe    = spec(twin.TimingLight, "damper", "")
	window    = spec(twin.WindowedCap, "rotor_tip", "")
	pumped    = spec(twin.WindowedCap, "rotor_tip_full_vacuum", "")
	// outOfTurn counts the cylinders that fire 60 degrees and more from where
	// No. 1 of a healthy car does.
	outOfTurn = figure(func(c *car.Car, _ *car.Condition) float64 {
		n, d := 0.0, twin.Distributor(c)
		for _, f := range d.Fire(twin.CentrifugalSeen(c), 0) {
			if math.Abs(f.Advance-c.Timing.Wanted.X) > 60 {
				n++
			}
		}
		return n
	})
	// rotorFromNumber1 is where the rotor stands at the spark of No. 1 as it is
	// wanted, found by hand on its compression.
	rotorFromNumber1 = figure(func(c *car.Car, _ *car.Condition) float64 {
		d := twin.Distributor(c)
		at := d.FirstTower
		for k, cylinder := range d.Leads {
			if cylinder == 1 {
				at += float64(d.Rotation) * d.Towers[k]
			}
		}
		return math.Abs(math.Remainder(d.RotorAt(c.Timing.Wanted.X).Housing-at, 360))
	})
	advanceNow = figure(func(_ *car.Car, k *car.Condition) float64 { return k.Advance.X })
	scatter    = figure(func(c *car.Car, _ *car.Condition) float64 { return c.Distributor.Scatter.X })
	band       = figure(func(c *car.Car, k *car.Condition) float64 {
		b := twin.Mechanism(c).At(k.Speed.X / 2)
		return 2 * (b.Falling - b.Rising)
	})
	feedInHand = func(t *testing.T, c *car.Car, id string) float64 {
		return lowest("trigger_supply", "breaker_plate")(t, c, id) - c.Switch.MinFeed.X
	}
	secondaryOhms = figure(func(c *car.Car, _ *car.Condition) float64 { return c.Coil.Secondary.X })
	leadOhms      = figure(func(c *car.Car, _ *car.Condition) float64 { return c.Coil.Series.X - c.Coil.Secondary.X })
)

// Cars of the table.
const (
	eight   = "points"  // dual points, generator, ballast, ported vacuum
	trigger = "trigger" // the same with its trigger fed ahead of the ballast
	relayed = "relay"
	six     = "six"      // alternator, trigger
	four    = "four"     // 6 V, positive earth, points, no ballast
	sucked  = "manifold" // the first with its hose on the manifold
)

// What moves which reading, and how far: from the trade's table of faults
// [common practice; no published survey]. Figures of M.. below are the readings
// a workshop takes.
var readings = []reading{
	// Supply.
	{"battery_discharged", eight, "key_on_open", "rest volts", volts("battery_live", "battery_earth"), -0.25},
	{"battery_sulphated", eight, "cold_crank", "cranking volts", volts("battery_live", "battery_earth"), -0.8},
	{"live_post_corroded", eight, "hot_restart", "post to starter stud, cranking", volts("battery_live", "starter_stud"), 1},
	{"earth_post_corroded", eight, "hot_restart", "block to earthed post, cranking", volts("block", "battery_earth"), 1},
	{"engine_strap_bad", eight, "hot_idle", "body to block, loads on", volts("body", "block"), 0.1},
	{"earth_cable_frayed", eight, "hot_restart", "block to earthed post, cranking", volts("block", "battery_earth"), 1},
	{"generator_gives_nothing", eight, "cruise", "charging volts", volts("battery_live", "battery_earth"), -0.5},
	{"generator_cuts_in_late", eight, "cruise", "generator's current, which at this speed is still rising", spec(twin.ClampAmmeter, "generator", ""), -1},
	{"alternator_diode", six, "hot_idle", "alternator's current, loads on", spec(twin.ClampAmmeter, "generator", ""), -5},
	{"belt_slips", six, "hot_idle", "alternator's current, loads on", spec(twin.ClampAmmeter, "generator", ""), -5},
	{"regulator_low", six, "cruise", "charging volts", volts("battery_live", "battery_earth"), -0.5},
	{"regulator_high", six, "cruise", "charging volts", volts("battery_live", "battery_earth"), 1},
	{"charge_lead_high", six, "cruise", "generator output to junction", volts("generator_output", "feed_junction"), 0.5},
	{"starter_drags", eight, "hot_restart", "cranking volts", volts("battery_live", "battery_earth"), -0.5},
	// Ballast, start, ground.
	{"ballast_open", eight, "key_on_closed", "coil feed, run", volts("coil_feed", "block"), -5},
	{"ballast_opens_hot", eight, "hot_idle", "coil current", peak("coil"), -2},
	{"ballast_high", eight, "key_on_closed", "ballast's ohms", meter("ballast_supply", "ballast_coil_side"), 0.5},
	{"ballast_low", eight, "key_on_closed", "ballast's ohms", meter("ballast_supply", "ballast_coil_side"), -0.3},
	{"ballast_bypassed", eight, "key_on_closed", "coil current", peak("coil"), 1.5},
	{"ballast_bypassed", eight, "hot_idle", "coil feed, points closed", lowest("coil_feed", "block"), 3},
	{"plate_ground_high", eight, "key_on_closed", "plate to housing drop", volts("breaker_plate", "housing"), 0.5},
	{"plate_ground_high", trigger, "key_on_closed", "plate to battery ohms", meter("breaker_plate", "battery_earth"), 0.5},
	{"plate_ground_breaks_moved", eight, "cruise", "plate to housing drop", volts("breaker_plate", "housing"), 0.5},
	{"plate_ground_open", eight, "key_on_closed", "plate to housing drop", volts("breaker_plate", "housing"), 8},
	{"housing_ground_poor", eight, "key_on_closed", "housing to block drop", volts("housing", "block"), 0.5},
	{"bypass_open", eight, "cold_crank", "coil feed, cranking", volts("coil_feed", "block"), -5},
	{"bypass_high", eight, "cold_crank", "coil current, cranking", peak("coil"), -0.5},
	{"run_feed_dead_in_start", four, "cold_crank", "coil current, cranking", peak("coil"), -1},
	// Live side.
	{"switch_contact_worn", eight, "key_on_closed", "across the switch", volts("switch_in", "switch_out"), 0.5},
	{"switch_contact_intermittent", eight, "key_on_closed", "across the switch, in the spells", volts("switch_in", "switch_out"), 0.5},
	{"main_feed_high", eight, "hot_idle", "stud to junction, loads on", volts("starter_stud", "feed_junction"), 0.8},
	{"switch_feed_high", eight, "key_on_closed", "junction to switch", volts("feed_junction", "switch_in"), 0.5},
	{"ignition_lead_high", eight, "key_on_closed", "switch to ballast", volts("switch_out", "ballast_supply"), 0.5},
	{"ignition_lead_few_strands", eight, "key_on_closed", "switch to ballast, in the spells", volts("switch_out", "ballast_supply"), 0.5},
	{"ignition_lead_breaks", eight, "key_on_closed", "coil current, in the spells", peak("coil"), -3},
	{"series_tachometer", eight, "key_on_closed", "switch to ballast", volts("switch_out", "ballast_supply"), 0.3},
	{"coil_feed_lead_high", eight, "key_on_closed", "ballast to coil", volts("ballast_coil_side", "coil_feed"), 0.5},
	{"switched_lead_off", eight, "key_on_closed", "coil to distributor", volts("coil_switched", "breaker_terminal"), 8},
	{"switched_lead_high", eight, "key_on_closed", "coil to distributor", volts("coil_switched", "breaker_terminal"), 0.5},
	{"trigger_feed_behind_ballast", trigger, "hot_idle", "trigger's lowest feed", lowest("trigger_supply", "breaker_plate"), -2},
	{"trigger_feed_dead_in_start", trigger, "cold_crank", "trigger's feed, cranking", volts("trigger_supply", "breaker_plate"), -5},
	{"trigger_feed_dead_in_run", trigger, "hot_idle", "trigger's feed, running", volts("trigger_supply", "breaker_plate"), -8},
	{"trigger_fuse_poor", trigger, "hot_idle", "along the feed wire", volts("ballast_supply", "trigger_supply"), 0.3},
	{"trigger_feed_open", trigger, "hot_idle", "trigger's feed, running", volts("trigger_supply", "breaker_plate"), -8},
	{"trigger_feed_breaks", trigger, "hot_idle", "trigger's feed, in the spells", volts("trigger_supply", "breaker_plate"), -8},
	{"trigger_feed_dead_in_start", trigger, "cold_crank", "coil current, cranking", peak("coil"), -3},
	{"relay_contact_poor", relayed, "hot_idle", "starter stud to relay's output", volts("starter_stud", "relay_out"), 0.5},
	{"relay_fuse_poor", relayed, "hot_idle", "starter stud to relay's output", volts("starter_stud", "relay_out"), 0.5},
	{"switch_contact_open", eight, "key_on_closed", "across the ignition switch", volts("switch_in", "switch_out"), 8},
	{"ignition_lead_open", eight, "key_on_closed", "switch to ballast", volts("switch_out", "ballast_supply"), 8},
	{"coil_feed_lead_off", eight, "key_on_closed", "ballast to coil", volts("ballast_coil_side", "coil_feed"), 8},
	{"switched_lead_shorted", eight, "key_on_open", "coil's switched terminal", volts("coil_switched", "block"), -11},
	{"switched_lead_shorted", eight, "hot_restart", "kV available", firing(twin.AvailableVolts), -8e3},
	// Coil.
	{"coil_reversed", eight, "hot_idle", "kV asked", firing(twin.AskedVolts), 700},
	{"coil_primary_low", eight, "key_on_open", "primary's ohms", meter("coil_feed", "coil_switched"), -0.5},
	{"coil_primary_low", eight, "hot_idle", "coil current", peak("coil"), 0.8},
	{"coil_primary_high", eight, "hot_idle", "coil current", peak("coil"), -0.8},
	{"coil_shorted_turns", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -5e3},
	{"coil_shorted_turns_hot", eight, "hot_restart", "kV available", firing(twin.AvailableVolts), -5e3},
	{"coil_primary_open", eight, "key_on_closed", "coil current", peak("coil"), -2},
	{"coil_primary_opens_hot", eight, "hot_restart", "coil current", peak("coil"), -2},
	{"coil_secondary_open", eight, "hot_idle", "secondary's ohms", secondaryOhms, 40e3},
	{"coil_secondary_open", eight, "hot_idle", "energy in the gap", firing(twin.GapEnergy), -3e-3},
	{"coil_tower_tracking", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -5e3},
	{"coil_lead_corroded", eight, "hot_idle", "energy in the gap", firing(twin.GapEnergy), -3e-3},
	// Points.
	{"points_burnt", eight, "key_on_closed", "across the closed points", volts("breaker_terminal", "breaker_plate"), 0.5},
	{"points_closed_up", four, "hot_idle", "dwell", dwell, 6},
	{"points_closed_up", four, "hot_idle", "strobe", strobe, -6},
	{"points_never_open", eight, "key_on_open", "coil's switched terminal", volts("coil_switched", "block"), -11},
	{"points_never_open", eight, "hot_restart", "kV available", firing(twin.AvailableVolts), -8e3},
	{"condenser_shorted", eight, "key_on_open", "coil's switched terminal", volts("coil_switched", "block"), -11},
	{"breaker_terminal_shorted", eight, "key_on_open", "coil's switched terminal", volts("coil_switched", "block"), -11},
	{"points_gap_wide", four, "hot_idle", "dwell", dwell, -6},
	{"points_gap_wide", four, "hot_idle", "strobe", strobe, 6},
	{"points_gap_wide", eight, "top_speed", "coil current", peak("coil"), -0.2},
	{"points_oily", eight, "key_on_closed", "across the closed points", volts("breaker_terminal", "breaker_plate"), 0.5},
	{"points_spring_weak", eight, "top_speed", "dwell at speed", dwell, -3},
	{"dual_points_out_of_step", eight, "hot_idle", "dwell", dwell, 3},
	{"dual_points_out_of_step", eight, "hot_idle", "strobe", strobe, -5},
	{"condenser_open", eight, "hot_idle", "energy in the arcs at the points", firing(twin.ContactEnergy), 1e-3},
	{"condenser_open", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -5e3},
	{"condenser_leaks_hot", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -2e3},
	{"condenser_too_small", eight, "cold_crank", "energy in the arcs at the points", firing(twin.ContactEnergy), 0.1e-3},
	{"condenser_too_large", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -2e3},
	{"condenser_joint_poor", eight, "hot_idle", "condenser's series resistance", figure(func(c *car.Car, _ *car.Condition) float64 { return c.Switch.CondenserSeries.X }), 4},
	{"breaker_lead_breaks_moved", eight, "cruise", "coil current", peak("coil"), -2},
	// Trigger.
	{"trigger_dead", trigger, "key_on_closed", "coil current", peak("coil"), -3},
	{"trigger_shorted", trigger, "key_on_open", "coil's switched side stays low", volts("coil_switched", "block"), -11},
	{"trigger_wires_reversed", trigger, "key_on_closed", "coil's switched side stays high", volts("coil_switched", "block"), 5},
	{"trigger_drops_out_hot", trigger, "hot_restart", "coil current", peak("coil"), -2},
	{"trigger_overheated", trigger, "key_on_closed", "across the trigger", volts("breaker_terminal", "breaker_plate"), 1},
	{"trigger_needs_more_feed", trigger, "hot_idle", "feed in hand", feedInHand, -1},
	{"trigger_badly_cooled", trigger, "hot_idle", "chip's temperature", firing(twin.JunctionHeat), 5},
	{"trigger_dwell_long", trigger, "hot_idle", "coil's average current", spec(twin.ClampAmmeter, "coil", ""), 0.2},
	{"condenser_left_on", trigger, "hot_idle", "primary's peak", firing(twin.PrimaryPeak), -20},
	{"solid_core_leads", six, "hot_idle", "leads' ohms", leadOhms, -5e3},
	{"trigger_gap_wide", trigger, "hot_restart", "air gap", spec(twin.FeelerGauge, "air_gap", ""), 0.5e-3},
	{"trigger_gap_wide", trigger, "hot_restart", "gap in hand", gapInHand, -0.5e-3},
	{"trigger_rubs", trigger, "hot_restart", "air gap", spec(twin.FeelerGauge, "air_gap", ""), -0.5e-3},
	{"sleeve_high", trigger, "hot_restart", "gap in hand", gapInHand, -0.1e-3},
	{"magnets_weak", trigger, "hot_restart", "gap in hand", gapInHand, -0.3e-3},
	{"sensor_insensitive", trigger, "hot_restart", "gap in hand", gapInHand, -0.5e-3},
	{"rotor_not_seated", trigger, "hot_idle", "shaft in the rotor's bore", spec(twin.Caliper, "rotor_engagement", ""), -2e-3},
	{"sleeve_loose", six, "hot_idle", "strobe; the upper side is late", strobe, -10},
	{"sleeve_loose", six, "hot_idle", "rotor's tip past its tower", window, 5},
	// Timing.
	{"timing_early", eight, "hot_idle", "strobe", strobe, 10},
	{"timing_late", eight, "hot_idle", "strobe", strobe, -10},
	{"housing_loose", eight, "hot_idle", "strobe", strobe, 10},
	{"rotor_phase_off", eight, "hot_idle", "rotor's tip past its tower", window, 8},
	{"leads_tower_off", eight, "hot_idle", "strobe, a tower late", strobe, -90},
	{"leads_tower_off", eight, "hot_idle", "cylinders that fire out of turn", outOfTurn, 8},
	{"two_leads_swapped", eight, "hot_idle", "cylinders that fire out of turn", outOfTurn, 2},
	{"half_turn_out", eight, "hot_idle", "cylinders that fire out of turn", outOfTurn, 8},
	{"half_turn_out", eight, "key_on_open", "rotor from the tower of No. 1 at its spark", rotorFromNumber1, 170},
	{"tooth_out", eight, "hot_idle", "strobe: 720/13 degrees", strobe, 55},
	{"damper_slipped", eight, "hot_idle", "strobe", strobe, 8},
	{"timing_misread", eight, "hot_idle", "strobe", strobe, 20},
	{"hose_on_port", sucked, "hot_idle", "true advance with the hose on", advanceNow, -10},
	{"hose_left_off", eight, "cruise", "true advance with the hose on", advanceNow, -10},
	{"hose_left_off", eight, "hot_idle", "pressure in the manifold", figure(func(_ *car.Car, k *car.Condition) float64 { return k.Manifold.X }), 3e3},
	{"hose_on_manifold", eight, "hot_idle", "true advance with the hose on", advanceNow, 10},
	// Advance.
	{"weights_seized", eight, "top_speed", "strobe", strobe, -10},
	{"advance_spring_weak", eight, "cruise", "strobe", strobe, 1.5},
	{"advance_spring_lost", eight, "hot_idle", "strobe", strobe, 2},
	{"advance_springs_heavy", eight, "cruise", "strobe", strobe, -4},
	{"advance_stop_short", eight, "top_speed", "strobe", strobe, -6},
	{"stop_bush_lost", eight, "top_speed", "strobe", strobe, 3},
	{"weights_sticky", eight, "cruise", "curve coming down over curve going up", band, 2},
	{"diaphragm_torn", eight, "hot_idle", "rotor's tip with the can pumped", pumped, 4},
	{"wrong_can", eight, "hot_idle", "rotor's tip with the can pumped", pumped, -4},
	{"plate_seized", eight, "hot_idle", "strobe", strobe, 5},
	{"plate_seized", eight, "hot_idle", "travel seen through the cap", func(t *testing.T, c *car.Car, id string) float64 {
		return math.Abs(pumped(t, c, id) - window(t, c, id))
	}, -5},
	{"bushing_worn", eight, "hot_idle", "side play", figure(func(c *car.Car, _ *car.Condition) float64 { return c.Distributor.SidePlay.X }), 0.2e-3},
	{"end_play_large", trigger, "hot_restart", "gap in hand", gapInHand, -0.02e-3},
	{"drive_gear_worn", eight, "hot_idle", "scatter", scatter, 3},
	{"timing_chain_slack", eight, "hot_idle", "scatter", scatter, 1},
	{"timing_chain_slack", eight, "hot_idle", "strobe", strobe, -4},
	// Secondary.
	{"rotor_burnt_through", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -8e3},
	{"rotor_leaks_hot", eight, "hot_restart", "kV available", firing(twin.AvailableVolts), -5e3},
	{"cap_rotor_eroded", eight, "hot_idle", "kV asked", firing(twin.AskedVolts), 3e3},
	{"rotor_short", eight, "hot_idle", "rotor gap", spec(twin.Caliper, "rotor_gap", ""), 1.5e-3},
	{"rotor_short", eight, "hot_idle", "kV asked", firing(twin.AskedVolts), 3e3},
	{"cap_tracked", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -5e3},
	{"cap_damp", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -1e3},
	{"coil_lead_leaks", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -3e3},
	{"leads_leak", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -3e3},
	{"king_lead_broken", eight, "hot_idle", "kV asked", firing(twin.AskedVolts), 4e3},
	{"brush_gone", eight, "hot_idle", "kV asked", firing(twin.AskedVolts), 3e3},
	{"leads_high", eight, "hot_idle", "leads' ohms", leadOhms, 50e3},
	{"leads_high", eight, "hot_idle", "energy in the gap", firing(twin.GapEnergy), -2e-3},
	{"plugs_fouled", eight, "hot_idle", "kV available", firing(twin.AvailableVolts), -3e3},
	{"plug_gap_wide", eight, "hot_idle", "kV asked", firing(twin.AskedVolts), 2e3},
	{"plug_gap_wide", eight, "hot_idle", "burn time", firing(twin.BurnTime), -0.02e-3},
	{"plug_gap_closed", eight, "hot_idle", "kV asked", firing(twin.AskedVolts), -2e3},
	{"plugs_worn", eight, "hot_idle", "kV asked", firing(twin.AskedVolts), 1e3},
	// Elsewhere.
	{"vacuum_leak", eight, "hot_idle", "pressure in the manifold", figure(func(_ *car.Car, k *car.Condition) float64 { return k.Manifold.X }), 8e3},
	{"compression_low", eight, "hot_idle", "kV asked", firing(twin.AskedVolts), -300},
}

// Each fault moves the reading that the trade splits it by, the way the trade
// says, by more than a workshop's instrument is out.
func TestReadingsThatSplit(t *testing.T) {
	cars := carsOfTable(t)
	split := map[string]bool{}
	for _, r := range readings {
		f, healthy := byID(t, r.fault), cars[r.car]
		if !f.Fits(healthy) {
			t.Errorf("%s: the %s car cannot have it", r.fault, r.car)
			continue
		}
		split[r.fault] = true
		ill := healthy.Clone()
		f.Apply(ill, condition(ill, r.condition), present(f, ill, r.condition))
		was, is := r.of(t, healthy, r.condition), r.of(t, ill, r.condition)
		if moved := is - was; !(moved*r.by > 0 && math.Abs(moved) >= math.Abs(r.by)) {
			t.Errorf("%s, %s in %s: %.4g to %.4g, moved %.3g, wanted %.3g or more", r.fault, r.what, r.condition, was, is, moved, r.by)
		}
	}
	if len(split) < 45 {
		t.Errorf("%d faults with a reading", len(split))
	}
	for _, f := range fault.Catalogue() {
		if split[f.ID] == (f.Unseen != "") {
			t.Errorf("%s: read here %t, but it says %q", f.ID, split[f.ID], f.Unseen)
		}
	}
}

// present is a middling severity at which the fault is there in the condition.
func present(f *fault.Fault, c *car.Car, id string) fault.Severity {
	s := all(0.5)
	for u := 0.0; u <= 1; u += 0.05 {
		if s.U[3] = u; f.Present(c, condition(c, id), s) {
			break
		}
	}
	return s
}

func carsOfTable(t *testing.T) map[string]*car.Car {
	const demo = "harrowmere-eight"
	cars := map[string]*car.Car{
		eight: example(t, demo, twin.AsFitted), trigger: example(t, demo, "feed_before_ballast"), relayed: example(t, demo, "relay_feed"),
		six: example(t, "skellgate-six", twin.AsFitted), four: example(t, "tillbrook-four", twin.AsFitted),
	}
	cars[sucked] = cars[eight].Clone()
	cars[sucked].Advance.Source = car.ManifoldVacuum
	return cars
}

// The worse a fault, the further its readings: never back by more than a
// hundredth of what they move in all, or a thousandth of what they are.
func TestWorseIsFurther(t *testing.T) {
	cars := carsOfTable(t)
	for _, r := range readings {
		f := byID(t, r.fault)
		if f.ID == "two_leads_swapped" || f.ID == "condenser_too_small" {
			continue // its severity is which two; arcs strike and go out a whole one at a time
		}
		last, first := math.NaN(), math.NaN()
		var steps []float64
		for u := 0.0; u <= 1; u += 0.125 {
			ill := cars[r.car].Clone()
			s := present(f, ill, r.condition)
			for i := range f.Sizes {
				s.U[i] = u
				if f.Sizes[i].Spread == fault.EitherSide {
					s.U[i] = 1
				}
			}
			f.Apply(ill, condition(ill, r.condition), s)
			is := math.Copysign(1, r.by) * r.of(t, ill, r.condition)
			if u == 0 {
				first = is
			} else {
				steps = append(steps, is-last)
			}
			last = is
		}
		for i, d := range steps {
			if d < -0.01*math.Abs(last-first)-1e-3*math.Abs(last) {
				t.Errorf("%s, %s in %s: back by %.3g of %.3g at step %d", r.fault, r.what, r.condition, -d, last-first, i)
			}
		}
	}
}
