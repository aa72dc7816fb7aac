package measure

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"dwellwright/car"
	"dwellwright/fault"
	"dwellwright/twin"
)

// What cars in order show lies where the trade expects it. The middle car of
// each is held to the range; sources beside it. A 6 V car's volts are doubled.
func TestTradeRanges(t *testing.T) {
	eight := car.Defaults(12, car.NegativeEarth, 8)
	six := car.Defaults(12, car.NegativeEarth, 6)
	four := car.Defaults(12, car.NegativeEarth, 4)
	alternator := six.Clone()
	alternator.Charging = car.ChargingDefaults(car.ACAlternator, 12)
	trigger := exampleCars(t)["skellgate-six"]
	demo := exampleCars(t)["harrowmere-eight"]
	all := []*car.Car{eight, six, four, alternator, trigger, demo}
	points := []*car.Car{eight, six, four, demo}
	for _, x := range []struct {
		id       string
		from, to float64
		cars     []*car.Car
		source   string
	}{
		{"battery_rest", 12.45, 12.65, all, "75 % to full, battery makers' tables"},
		{"battery_gravity", 1.225, 1.280, all, "75 % to full, US Army TM 9-6140-200-14 and battery makers' tables"},
		{"battery_crank", 9.6, 12.0, all, "battery makers' tables"},
		{"live_cable_crank", 0, 0.5, all, "US Army TM 10-3930-671-24"},
		{"earth_cable_crank", 0, 0.3, all, "US Army TM 10-3930-671-24"},
		{"charging_cold", 14.1, 14.9, []*car.Car{alternator}, "US Army TM 10-3930-621-12, 65 °F"},
		{"charging_cold", 13.9, 14.9, points, "US Army TM 5-3820-233-35/1"},
		{"charging_cruise", 13.4, 14.2, all, "US Army TM 10-3930-621-12, 145 °F"},
		{"battery_idle_loads", 11.8, 12.5, points, "a generator's way at idle: 11.8 to 12.4 V, common practice"},
		{"coil_feed_open", 12.4, 12.65, all, "the battery's volts, factory manuals"},
		{"run_drop", 4.5, 6.9, points, "US Navy NAVEDTRA 14329"},
		{"coil_feed_closed", 5, 7, points, "factory manuals"},
		{"main_feed_drop", 0, 0.2, all, "common practice"},
		{"key_switch_drop", 0, 0.1, points, "US Army TM 5-3820-256-24-4"},
		{"plate_earth_drop", 0, 0.1, []*car.Car{demo}, "US Navy NAVEDTRA 14329"},
		{"plate_housing_drop", 0.005, 0.06, []*car.Car{demo}, "0.02 to 0.05, shared out by common practice"},
		{"switch_drop", 0, 0.1, points, "US Navy NAVEDTRA 14329"},
		{"switch_drop", 0.2, 1.5, []*car.Car{trigger}, "common practice"},
		{"coil_amps_key", 3, 5, points, "calculated; common practice"},
		{"coil_peak_idle", 3, 4.5, points, "common practice"},
		{"coil_ohms", 1.2, 1.8, points, "common practice"},
		{"secondary_ohms", 6e3, 30e3, all, "factory manuals"},
		{"dwell_idle", 28, 32, []*car.Car{eight}, "US Navy NAVEDTRA 14273: 30"},
		{"dwell_idle", 36, 42, []*car.Car{six}, "common practice, six"},
		{"dwell_idle", 49, 60, []*car.Car{four}, "US Army TM 10-3930-653-14&P: 49 to 55; up to 60 by other makers, from memory"},
		{"condenser_farads", 0.18e-6, 0.25e-6, points, "common practice"},
		{"points_spring", 4.7, 5.6, points, "17 to 20 oz, factory manuals"},
		{"tower_crank", 13e3, 45e3, all, "13 mm at the tower, US Army TM 5-4210-230-14&P-1"},
		{"available_cruise", 18e3, 40e3, all, "20 kV: US Army TM 9-8000; 30 and more of better coils, common practice"},
		{"plug_kv_idle", 6e3, 12e3, all, "common practice; 8 kV at 8:1, textbook"},
		{"plug_kv_snap", 10e3, 20e3, all, "15 to 18 kV, to 20 by a textbook"},
		{"burn_time", 0.8e-3, 2.2e-3, all, "1 to 2 ms, common practice"},
		{"rings", 3, 12, points, "three to five and more, common practice"},
		{"timing_idle", 3, 12, all, "6 to 12 degrees, owners' columns; US Army TM 10-3930-653-14&P has 8"},
		{"timing_3500", 24, 38, all, "30 to 38 in all, common practice; late and slow is no fault by itself"},
		{"can_travel", 10, 20, []*car.Car{eight, six, four, demo, trigger}, "common practice"},
		{"can_starts", 13.5e3, 27e3, []*car.Car{eight, six, four, demo, trigger}, "4 to 8 inHg, common practice"},
		{"manifold_vacuum", 57.6e3, 74.5e3, all, "17 to 22 inHg, US Army subcourse OD1001"},
		{"rotor_gap", 0.5e-3, 1.0e-3, all, "common practice"},
		{"coil_temp", 60, 110, all, "70 to 80 °C of the can can be normal, common practice; the winding is hotter"},
		{"trigger_temp", 65, 100, []*car.Car{trigger}, "70 to 95 °C, from memory"},
		{"plate_ohms", 0, 0.06, []*car.Car{demo}, "0.05 ohm, common practice"},
	} {
		for _, c := range x.cars {
			m, err := Find(c, x.id)
			if err != nil {
				t.Errorf("%s: %v", c.Name, err)
				continue
			}
			got, err := Expect(c, []Measure{m}, 0, 1)
			if err != nil {
				t.Fatal(err)
			}
			if v := got[0].Mid; !(v >= x.from && v <= x.to) {
				t.Errorf("%q, %d cylinders: %s %.4g, expected %.4g to %.4g (%s)", c.Name, c.Cylinders, x.id, v, x.from, x.to, x.source)
			}
		}
	}
}

// A hydrometer against the volts at rest, the table most battery makers print
// [from memory]: 12.65 V goes with 1.265, 12.45 with 1.225, 12.24 with 1.190,
// 12.06 with 1.155.
func TestGravity(t *testing.T) {
	for _, x := range [][2]float64{{12.65, 1.265}, {12.45, 1.225}, {12.24, 1.190}, {12.06, 1.155}} {
		if got := x[0]/6 - 0.84; math.Abs(got-x[1]) > 0.016 {
			t.Errorf("%g V: %.3f, the table has %.3f", x[0], got, x[1])
		}
	}
}

// reads is the figures of some measures of a car with a change.
func reads(t *testing.T, c *car.Car, change func(c *car.Car, k *car.Condition), ids ...string) []float64 {
	t.Helper()
	var list []Measure
	for _, id := range ids {
		m, err := Find(c, id)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, m)
	}
	b, err := NewBench(c, list)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]float64, len(list))
	if err := b.Read(change, out); err != nil {
		t.Fatal(err)
	}
	return out
}

// More of one thing moves a figure the way it must, all the way.
func TestMonotone(t *testing.T) {
	eight := car.Defaults(12, car.NegativeEarth, 8)
	trigger := exampleCars(t)["skellgate-six"]
	leg := func(id car.LegID, ohms float64) func(x float64) func(*car.Car, *car.Condition) {
		return func(x float64) func(*car.Car, *car.Condition) {
			return func(c *car.Car, _ *car.Condition) {
				l := &c.Wiring[id]
				l.Given, l.Resistance.X = true, twin.LegOhms(l, 20)+x*ohms
			}
		}
	}
	for _, x := range []struct {
		name   string
		c      *car.Car
		change func(x float64) func(*car.Car, *car.Condition)
		rises  []string
		falls  []string
	}{
		{"plate's ground", eight, leg(car.PivotWire, 3), []string{"plate_housing_drop", "plate_earth_drop", "plate_ohms", "coil_feed_closed", "misses_speed"},
			[]string{"coil_amps_key", "coil_peak_idle", "available_fast"}},
		{"ignition lead", eight, leg(car.IgnitionLead, 3), []string{"ignition_lead_drop", "run_drop"}, []string{"coil_feed_closed", "available_cruise"}},
		{"earth cable", eight, leg(car.EarthCable, 0.05), []string{"earth_cable_crank", "slow_crank", "lights_dim_crank"}, []string{"starter_crank"}},
		{"charge lead", eight, leg(car.ChargeLead, 0.2), []string{"charge_lead_drop"}, nil},
		{"battery's inside", eight, func(x float64) func(*car.Car, *car.Condition) {
			return func(c *car.Car, _ *car.Condition) { c.Battery.Internal.X *= 1 + 4*x }
		}, []string{"slow_crank", "hard_start_cold"}, []string{"battery_crank", "coil_feed_crank"}},
		{"ballast", eight, func(x float64) func(*car.Car, *car.Condition) {
			return func(c *car.Car, _ *car.Condition) { c.Ballast.Cold.X *= 1 + 3*x }
		}, []string{"ballast_ohms", "ballast_ohms_hot", "ballast_drop"}, []string{"coil_feed_closed", "coil_peak_idle"}},
		{"plug gap", eight, func(x float64) func(*car.Car, *car.Condition) {
			return func(c *car.Car, _ *car.Condition) { c.Plugs.Gap.X *= 1 + x }
		}, []string{"plug_gap", "plug_kv_idle", "plug_kv_snap", "misses_load", "no_spark_crank"}, []string{"burn_time"}},
		{"earlier timing", eight, func(x float64) func(*car.Car, *car.Condition) {
			return func(c *car.Car, k *car.Condition) {
				c.Timing.Before.X += 35 * x
				if k.Speed.X > 0 {
					k.Advance.X += 35 * x
				}
			}
		}, []string{"timing_idle", "pings_load", "kicks_back"}, nil},
		{"later timing", eight, func(x float64) func(*car.Car, *car.Condition) {
			return func(c *car.Car, k *car.Condition) {
				c.Timing.Before.X -= 25 * x
				if k.Speed.X > 0 {
					k.Advance.X -= 25 * x
				}
			}
		}, []string{"no_pull_speed", "dull_hot", "pops_coasting"}, []string{"timing_idle", "pings_load"}},
		{"least feed", trigger, func(x float64) func(*car.Car, *car.Condition) {
			return func(c *car.Car, _ *car.Condition) { c.Switch.MinFeed.X += 9 * x }
		}, []string{"no_start"}, []string{"spark_at_tower", "trigger_switches"}},
		{"air gap", trigger, func(x float64) func(*car.Car, *car.Condition) {
			return func(c *car.Car, _ *car.Condition) { c.Trigger.Gap.X += 4e-3 * x }
		}, []string{"air_gap", "no_start", "dies_at_idle"}, []string{"spark_at_tower"}},
		{"plate's ground of a trigger", trigger, leg(car.PivotWire, 3), []string{"plate_housing_drop"}, []string{"tower_crank", "trigger_feed_idle"}},
		{"leak", trigger, func(x float64) func(*car.Car, *car.Condition) {
			return func(c *car.Car, _ *car.Condition) { c.Cap.Shunt.X = math.Pow(10, 8-3*x) }
		}, []string{"no_start"}, []string{"rotor_leak_ohms", "lead_crank", "spark_at_lead"}},
	} {
		ids := append(append([]string(nil), x.rises...), x.falls...)
		var last, first []float64
		for step := 0.0; step <= 1; step += 0.125 {
			got := reads(t, x.c, x.change(step), ids...)
			for i, id := range ids {
				way := 1.0
				if i >= len(x.rises) {
					way = -1
				}
				if last != nil && way*(got[i]-last[i]) < -1e-3*math.Max(math.Abs(last[i]), 1e-2) {
					t.Errorf("%s at %g: %s went from %.5g to %.5g", x.name, step, id, last[i], got[i])
				}
			}
			if last = got; first == nil {
				first = got
			}
		}
		for i, id := range ids {
			if math.Abs(last[i]-first[i]) < 1e-3*math.Abs(first[i]) {
				t.Errorf("%s: %s did not move from %g", x.name, id, first[i])
			}
		}
	}
}

// With a light that shows what is not so, the plugs decide.
func TestSlippedMark(t *testing.T) {
	c := car.Defaults(12, car.NegativeEarth, 8)
	ids := []string{"timing_idle", "pings_load", "kicks_back"}
	good := reads(t, c, nil, ids...)
	crept := reads(t, c, func(c *car.Car, _ *car.Condition) { c.Timing.Before.X += 20 }, ids...)
	if crept[0] < good[0]+19 || math.Abs(crept[1]-good[1]) > 0.02 || math.Abs(crept[2]-good[2]) > 0.02 {
		t.Errorf("a mark that has crept: %v, before %v", crept, good)
	}
	set := reads(t, c, func(_ *car.Car, k *car.Condition) {
		if k.Speed.X > 0 {
			k.Advance.X += 20
		}
	}, ids...)
	if math.Abs(set[0]-good[0]) > 1e-9 || set[1] < 0.8 || set[2] < 0.7 {
		t.Errorf("set by a crept mark: %v, before %v", set, good)
	}
}

// gone is the change of a fault of the catalogue.
func gone(t *testing.T, id string, u float64) func(c *car.Car, k *car.Condition) {
	t.Helper()
	f, err := fault.ByID(id)
	if err != nil {
		t.Fatal(err)
	}
	return func(c *car.Car, k *car.Condition) { f.Apply(c, k, fault.Severity{U: [4]float64{u, u, u, u}}) }
}

// Leads a tower on, or a drive a tooth out, fire every cylinder away from the mark
// and the rotor stands beside No. 1's tower. A distributor half a turn out stands
// right under the light, since the mark comes round twice for each turn of the
// rotor, which is how it is missed: the rotor with No. 1 on its compression tells
// it [common practice].
func TestLeads(t *testing.T) {
	ids := []string{"no_start", "backfires_start", "rotor_at_first_tower", "mark_in_sight", "leads_in_order"}
	for _, name := range []string{"harrowmere-eight", "skellgate-six", "tillbrook-four"} {
		c := exampleCars(t)[name]
		for _, x := range []struct {
			id   string
			want [5]float64
		}{
			{"leads_tower_off", [5]float64{1, math.NaN(), 0, 0, 1}}, // late it does not kick back
			{"half_turn_out", [5]float64{1, 1, 0, 1, 1}},
			{"two_leads_swapped", [5]float64{math.NaN(), math.NaN(), 1, 1, 0}}, // of two cylinders, more or less
			{"tooth_out", [5]float64{math.NaN(), math.NaN(), 0, 0, 1}},
		} {
			if x.id == "tooth_out" && name == "tillbrook-four" {
				continue // its drive goes in two ways only
			}
			for _, u := range []float64{0.2, 0.8} {
				for j, got := range reads(t, c, gone(t, x.id, u), ids...) {
					if math.Abs(got-x.want[j]) > 0.15 {
						t.Errorf("%s, %s %g: %s %.2f, want %.0f", name, x.id, u, ids[j], got, x.want[j])
					}
				}
			}
		}
		timing := []string{"timing_idle", "timing_static"}
		good, half := reads(t, c, nil, timing...), reads(t, c, gone(t, "half_turn_out", 0.5), timing...)
		for i, id := range timing {
			if !(math.Abs(half[i]-good[i]) < 0.3) {
				t.Errorf("%s: %s %.3g half a turn out, %.3g in order", name, id, half[i], good[i])
			}
		}
	}
}

// Whatever a car is like, nothing panics, chances are chances, and what is not
// read is told.
func TestRandomCars(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	unsolved := 0
	for trial := range 150 {
		c := car.Defaults([]int{6, 12}[rng.IntN(2)], car.Earth(rng.IntN(2)), []int{4, 6, 8}[rng.IntN(3)])
		kind := car.SwitchKind(rng.IntN(5))
		c.Switch = car.SwitchDefaults(kind, c.NominalV, c.Cylinders)
		if kind.Electronic() {
			c.Feed = car.FeedPoint(1 + rng.IntN(4))
			c.Relay.Fitted = c.Feed == car.FeedRelay
			c.Trigger.Principle = car.Principle(rng.IntN(2))
		}
		c.Charging = car.ChargingDefaults(car.ChargingKind(rng.IntN(3)), c.NominalV)
		c.Ballast.Fitted, c.KeySwitch.Bypass, c.KeySwitch.LiveInStart = rng.IntN(2) == 0, rng.IntN(2) == 0, rng.IntN(2) == 0
		c.Advance.Source = car.VacuumSource(rng.IntN(3))
		list := Catalogue(c)
		b, err := NewBench(c, list)
		if err != nil {
			t.Fatal(err)
		}
		wild := math.Pow(10, 3*rng.Float64()-1)
		for _, r := range car.Params(b.Car()) {
			switch rng.IntN(20) {
			case 0:
				r.P.X = 0
			case 1:
				r.P.X = -r.P.X
			case 2, 3:
				r.P.X *= math.Exp(wild * (rng.Float64() - 0.5))
			}
		}
		b.OnlyIfRuns = trial%3 == 0
		out := make([]float64, len(list))
		err = b.Read(func(c *car.Car, k *car.Condition) {
			if rng.IntN(4) == 0 {
				c.Wiring[rng.IntN(int(car.LegCount))].Joint.X += math.Pow(10, 8*rng.Float64()-2)
				k.BayTemp.X += 100 * rng.Float64()
			}
		}, out)
		if err != nil {
			unsolved++
		}
		for i, x := range out {
			if list[i].Observation && (x < 0 || x > 1) || math.IsInf(x, 0) {
				t.Fatalf("car %d: %s came to %v", trial, list[i].ID, x)
			}
		}
	}
	if unsolved == 150 {
		t.Error("no car was solved")
	}
}

// An engine that cannot run gives nothing to read running; that it does not
// start is told all the same.
func TestOnlyIfRuns(t *testing.T) {
	c := exampleCars(t)["harrowmere-eight"]
	list := Catalogue(c)
	b, err := NewBench(c, list)
	if err != nil {
		t.Fatal(err)
	}
	b.OnlyIfRuns = true
	open := func(c *car.Car, _ *car.Condition) { c.Coil.Primary.X = 3e6 }
	out, good := make([]float64, len(list)), make([]float64, len(list))
	if err := b.Read(open, out); err != nil {
		t.Fatal(err)
	}
	if err := b.Read(nil, good); err != nil {
		t.Fatal(err)
	}
	for i, m := range list {
		running := m.Needs == NeedsRunning
		if math.IsNaN(out[i]) != running || math.IsNaN(good[i]) {
			t.Errorf("%s: %v with the coil open, %v in order", m.ID, out[i], good[i])
		}
		if m.ID == "no_start" && out[i] < 0.85 {
			t.Errorf("an open coil does not start: told by %.2f", out[i])
		}
	}
}

func BenchmarkRead(b *testing.B) {
	c := exampleCars(b)["harrowmere-eight"]
	list := Catalogue(c)
	bench, err := NewBench(c, list)
	if err != nil {
		b.Fatal(err)
	}
	s := twin.NewSampler(c, 1)
	out := make([]float64, len(list))
	b.ReportAllocs()
	k := 0
	for b.Loop() {
		k++
		s.Draw(k)
		bench.Take(s)
		if err := bench.Read(nil, out); err != nil {
			b.Fatal(err)
		}
	}
}

// Where a leak is, is told by what is measured there and by what a tester on the
// tower and on a lead still gets: a fouled plug loads neither, a burnt rotor only
// the lead, a tracked tower both [common practice: tower first, then lead, then
// part by part].
func TestWhereItLeaks(t *testing.T) {
	c := exampleCars(t)["harrowmere-eight"]
	volts := []string{"tower_crank", "lead_crank"}
	part := []string{"cap_leak_ohms", "rotor_leak_ohms", "king_lead_leak_ohms", "coil_tower_leak_ohms", "plug_lead_leak_ohms"}
	looks := []string{"glow_in_dark", "plugs_look_fouled"}
	good := reads(t, c, nil, slices.Concat(volts, part, looks)...)
	for _, x := range []struct {
		at   car.LeakPlace
		load [2]bool // tower, lead
		ohms int     // which part reads it; -1 none
		look [2]bool
	}{
		{car.LeakAtCap, [2]bool{false, true}, 0, [2]bool{true, false}},
		{car.LeakAtRotor, [2]bool{false, true}, 1, [2]bool{false, false}},
		{car.LeakAtKingLead, [2]bool{false, true}, 2, [2]bool{true, false}},
		{car.LeakAtCoilTower, [2]bool{true, true}, 3, [2]bool{true, false}},
		{car.LeakAtLeads, [2]bool{false, true}, 4, [2]bool{true, false}},
		{car.LeakAtPlugs, [2]bool{false, false}, -1, [2]bool{false, true}},
	} {
		got := reads(t, c, func(c *car.Car, _ *car.Condition) { c.Cap.LeakBy(x.at, 100e3) }, slices.Concat(volts, part, looks)...)
		for i := range volts {
			if loaded := got[i] < 0.5*good[i]; loaded != x.load[i] || !loaded && math.Abs(got[i]-good[i]) > 0.02*good[i] {
				t.Errorf("a leak at %d: %s %.4g, %.4g in order", x.at, volts[i], got[i], good[i])
			}
		}
		for i := range part {
			r := got[2+i]
			if i == x.ohms && math.Abs(r-100e3) > 1e3 || i != x.ohms && math.Abs(r-good[2+i]) > 1e-6*r {
				t.Errorf("a leak at %d: %s %.4g, %.4g in order", x.at, part[i], r, good[2+i])
			}
		}
		for i := range looks {
			if seen := got[7+i] > 0.6; seen != x.look[i] || good[7+i] > 0.1 {
				t.Errorf("a leak at %d: %s %.2f, %.2f in order", x.at, looks[i], got[7+i], good[7+i])
			}
		}
	}
}

// What a compression gauge shows of a warm engine: 8.5 to 1 some 150 to 165 psi at
// sea level, 7 to 1 110 to 130 [from memory, factory manuals' tables of such engines].
func TestCompression(t *testing.T) {
	c := exampleCars(t)["harrowmere-eight"]
	for _, x := range []struct{ ratio, from, to float64 }{{8.5, 145, 165}, {7, 110, 130}} {
		got := reads(t, c, func(c *car.Car, _ *car.Condition) { c.Engine.Compression.X, c.Advance.Altitude.X = x.ratio, 0 }, "compression")[0] / 6894.76
		if got < x.from || got > x.to {
			t.Errorf("%g to 1: %.0f psi, expected %g to %g", x.ratio, got, x.from, x.to)
		}
	}
}
