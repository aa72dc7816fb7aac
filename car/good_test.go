package car

import (
	"math"
	"path/filepath"
	"testing"

	"dwellwright/units"
)

func TestGood(t *testing.T) {
	examples, _ := filepath.Glob("../examples/*.yaml")
	for _, file := range append(files(t, "testdata/good/*.yaml"), examples...) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			c, err := Parse(file, read(t, file))
			if err != nil {
				t.Fatal(err)
			}
			sane(t, c)
		})
	}
}

// TestMinimalIsTypical: an almost empty file is the typical car.
func TestMinimalIsTypical(t *testing.T) {
	c, err := Parse("minimal.yaml", read(t, "testdata/good/minimal.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	want := Params(Defaults(12, NegativeEarth, 8))
	for i, r := range Params(c) {
		if r.Path != want[i].Path || *r.P != *want[i].P {
			t.Errorf("%s = %+v, wanted %+v", r.Path, *r.P, *want[i].P)
		}
	}
	if c.Feed != FeedNone || c.Planned != nil || c.Switch.Kind != SinglePoints {
		t.Errorf("%v %v %v", c.Feed, c.Planned, c.Switch.Kind)
	}
}

func TestFull(t *testing.T) {
	c, err := Parse("full.yaml", read(t, "testdata/good/full.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if c.Battery.Internal.Origin != Measured || c.Battery.Internal.PM != 1e-3 || c.Battery.Internal.Pos != (Pos{"full.yaml", 13, 21}) {
		t.Errorf("battery.internal %+v", c.Battery.Internal)
	}
	// ASTM B258 gives 1/0 AWG 53.5 mm².
	if got := c.Wiring[BatteryCable].Section.X; math.Abs(got-53.5e-6) > 0.05e-6 {
		t.Errorf("1/0 AWG is %v m²", got)
	}
	if !c.Wiring[PivotWire].Given || c.Wiring[PivotWire].Resistance.X != 0.02 || c.Wiring[HousingClamp].Given {
		t.Error("the resistance of the pivot wire alone is given")
	}
	if c.Wiring[IgnitionLead].Age != Old || c.Wiring[FeedWire].Age != New || c.Wiring[CoilLead].Age != Used {
		t.Error("ages")
	}
	if c.Planned == nil || c.Planned.Switch.Kind != Darlington || c.Planned.Switch.MinFeed.X != 8 || c.Planned.Feed != FeedRelay {
		t.Errorf("planned %+v", c.Planned)
	}
	find := func(id string) Condition {
		for _, k := range c.Conditions {
			if k.ID == id {
				return k
			}
		}
		t.Fatalf("no condition %s", id)
		return Condition{}
	}
	if k := find("hot_idle"); len(k.Loads) != 6 || k.Loads[5] != "clock" || !k.BuiltIn {
		t.Errorf("hot idle %v", k.Loads)
	}
	if k := find("cruise"); len(k.Loads) != 0 || k.Speed.X != 2300 {
		t.Errorf("cruise %v", k)
	}
	if k := find("wet_night_crawl"); k.BuiltIn || len(k.Loads) != 4 || k.Name != "crawl on a wet night" || k.BayTemp.X != 70 || k.BayTemp.PM != 5 {
		t.Errorf("crawl %+v", k)
	}
	if k := find("winter_start"); k.Engine != Cranking || k.BayTemp.X != -15 || k.BayTemp.Origin != Assumed || k.Name != "winter start" {
		t.Errorf("winter start %+v", k)
	}
	half := map[string]float64{
		"plate_voltage": 0.005*7.4 + 0.02,   // said
		"reading_2":     0.01*0.31 + 2*0.01, // usual for an ohmmeter
		"reading_3":     0.01*0.93 + 3*0.01, // said
		"reading_4":     0.1,                // the value's own
		"reading_5":     0.03*0.09 + 0.1,    // usual for a scope
		"reading_10":    2,                  // usual for a thermometer
	}
	for _, d := range c.Readings {
		if want, ok := half[d.ID]; ok && math.Abs(d.Accuracy.X-want) > 1e-9 {
			t.Errorf("%s is good to %v, wanted %v", d.ID, d.Accuracy.X, want)
		}
		if d.Kind != d.Instrument.Shows() {
			t.Errorf("%s is a %v", d.ID, d.Kind)
		}
	}
	first, second, third := c.Readings[0], c.Readings[1], c.Readings[2]
	if first.Red != "trigger_supply" || first.Black != "breaker_plate" || first.Option != "feed_behind_ballast" || first.When != "2026-05-02" || first.Pos.Line == 0 {
		t.Errorf("%+v", first)
	}
	if second.Leads != (units.Value{X: 0.2, PM: 0.05, Shape: units.Normal}) || second.Condition != "" {
		t.Errorf("%+v", second)
	}
	if third.Leads.X != 0 || !third.LeadsNulled {
		t.Errorf("%+v", third)
	}
}

// TestDecidingWords: what follows from a few words of the file.
func TestDecidingWords(t *testing.T) {
	parse := func(rest string) *Car {
		c, err := Parse("t", []byte("format: 1\nsystem: {voltage: 12 V, earth: negative, cylinders: 6}\n"+rest))
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	if c := parse("ballast: none\n"); c.Ballast.Fitted || c.Coil.Class != "full_voltage" || c.KeySwitch.Bypass || !c.KeySwitch.LiveInStart {
		t.Errorf("no ballast: %v %v", c.Coil.Class, c.KeySwitch)
	}
	if c := parse("coil: {class: full_voltage}\n"); c.Ballast.Fitted || c.Ballast.FittedOrigin != Assumed {
		t.Error("a full-voltage coil has a ballast")
	}
	if c := parse("coil: {class: ballasted}\nballast: none\n"); c.Ballast.Fitted || c.Coil.Class != "ballasted" {
		t.Error("a mistake that is really made is not kept")
	}
	if c := parse("switch: {kind: darlington}\n"); c.Feed != FeedBallastSupply || c.FeedOrigin != Assumed {
		t.Errorf("trigger fed from %v", c.Feed)
	}
	if c := parse("ballast: none\nswitch: {kind: igbt}\n"); c.Feed != FeedCoil {
		t.Errorf("trigger fed from %v", c.Feed)
	}
	if c := parse("wiring: {age: corroded, main_feed: {age: new}}\n"); c.Wiring[CoilLead].Age != Corroded || c.Wiring[MainFeed].Age != New {
		t.Error("age of the wiring")
	}
	if c := parse("key_switch: {run_live_in_start: YES, start_bypass: False}\n"); !c.KeySwitch.LiveInStart || c.KeySwitch.Bypass || c.KeySwitch.BypassOrigin != Stated {
		t.Errorf("%+v", c.KeySwitch)
	}
	if c := parse("name: 1958\nbattery: {capacity: 60}\n"); c.Name != "1958" || c.Battery.Capacity.X != 60 {
		t.Errorf("%q %v", c.Name, c.Battery.Capacity)
	}
	if c := parse("coil: {primary: 1.5 ± 1.2 ohm}\n"); c.Coil.Primary.Shape != units.Uniform || c.Coil.Primary.Sample(0) < 0 {
		t.Errorf("%+v", c.Coil.Primary)
	}
	if c := parse("switch: {dwell: 59.5 deg}\n"); c.Switch.Dwell.Sample(1) >= 60 || c.Switch.Dwell.Origin != Stated {
		t.Errorf("points that may never open: %+v", c.Switch.Dwell)
	}
	if c := parse("charging: {cut_in: 700 rpm}\n"); math.Abs(c.Charging.FullOutput.X-2150*700./1050) > 1 {
		t.Errorf("full output at %v rpm", c.Charging.FullOutput.X)
	}
	if c := parse("charging: {full_output: 4300 rpm}\n"); math.Abs(c.Charging.CutIn.X-2100) > 1 {
		t.Errorf("cut-in at %v rpm", c.Charging.CutIn.X)
	}
	if c := parse("conditions: {cold_crank: {engine: running}}\n"); c.Conditions[0].Speed.X < 400 {
		t.Errorf("running at %v rpm", c.Conditions[0].Speed.X)
	}
}

// TestByteOrderMark: some editors put one at the start of a file.
func TestByteOrderMark(t *testing.T) {
	c, err := Parse("t", append([]byte("\ufeff"), read(t, "testdata/good/minimal.yaml")...))
	if err != nil || c.Cylinders != 8 {
		t.Error(c, err)
	}
	windows := []byte("format: 1\r\nsystem:\r\n  voltage: 6 V\r\n  earth: positive\r\n  cylinders: 4\r\n")
	if c, err := Parse("t", windows); err != nil || c.NominalV != 6 {
		t.Error(c, err)
	}
}
