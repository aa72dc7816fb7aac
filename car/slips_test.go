package car

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"dwellwright/supply"
	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

const plainHead = "format: 1\nsystem: {voltage: 12 V, earth: negative, cylinders: 8}\n"

func mustParse(t *testing.T, rest string) *Car {
	t.Helper()
	c, err := Parse("t", []byte(plainHead+rest))
	if err != nil {
		t.Fatal(err)
	}
	sane(t, c)
	return c
}

// TestNotSlips: what looks like a slip and is none.
func TestNotSlips(t *testing.T) {
	for _, rest := range []string{
		"coil: {primary: \"1,5 ohm\", turns: 90}\n",
		"coil:\n  primary: 1,5 ohm\n",
		"notes: \"coil:new\"\n",
		"notes: see page 12,5 of the manual\n",
		"notes: |\n  coil:new\n  1,5 ohm\n",
		"name: coil:new\n",
		"readings:\n  - {at: [battery_live, block], condition: hot_idle, instrument: voltmeter, value: 12.4 V, when: 2026-05-02T14:30, note: \"km 12,5\"}\n",
		"readings:\n  - {at: [battery_live, block], condition: hot_idle, instrument: voltmeter, value: \"12,4 V\", accuracy: \"0,5 % + 0,02 V\"}\n",
	} {
		mustParse(t, rest)
	}
	c := mustParse(t, "readings:\n  - {at: [battery_live, block], condition: hot_idle, instrument: voltmeter, value: \"12,4 V\", accuracy: \"0,5 % + 2 digits\"}\n")
	if got, want := c.Readings[0].Accuracy.X, 0.005*12.4+0.2; math.Abs(got-want) > 1e-12 {
		t.Errorf("accuracy %v, wanted %v", got, want)
	}
}

func TestPointed(t *testing.T) {
	for figure, want := range map[string]string{
		"1,5 ohm": "1.5 ohm", "0,9 ± 0,1 ohm": "0.9 ± 0.1 ohm", "2,300 rpm": "2300 rpm", "1,234,567": "1234567",
		"0,5 % + 2 digits": "0.5 % + 2 digits", "12,4": "12.4", "5": "5", "1,5..1,7 ohm": "1.5..1.7 ohm",
	} {
		if got := pointed(figure); got != want {
			t.Errorf("%q is written %q, wanted %q", figure, got, want)
		}
	}
}

// TestHintsCanBeFollowed: every word a hint can lead to is one that some
// place in a car file accepts.
func TestHintsCanBeFollowed(t *testing.T) {
	var known []string
	var gather func(list []line)
	gather = func(list []line) {
		for _, l := range list {
			known = append(append(known, l.name), l.words...)
			gather(l.inner)
		}
	}
	gather(lines(carTable))
	known = append(append(known, ids(TestPoints)...), BuiltInConditions()...)
	for _, m := range instruments {
		known = append(known, ids(m.parts)...)
	}
	seen := map[string]bool{}
	for _, s := range synonyms {
		for _, w := range s.means {
			if !slices.Contains(known, w) {
				t.Errorf("%q is no word of a car file", w)
			}
		}
		for _, w := range s.typed {
			if seen[w] || squash(w) != w {
				t.Errorf("%q is listed twice, or never looked up", w)
			}
			seen[w] = true
		}
	}
}

func TestHint(t *testing.T) {
	points := ids(TestPoints)
	for _, c := range []struct {
		typed    string
		words    []string
		positive bool
		want     string
	}{
		{"coil +", points, false, "coil_feed"}, {"Coil+", points, false, "coil_feed"}, {"coil -", points, false, "coil_switched"},
		// On a positive earth car the coil's + goes to the breaker: common practice, no source.
		{"coil +", points, true, "coil_switched"}, {"coil-", points, true, "coil_feed"}, {"battery -", points, true, "battery_live"},
		{"ground", points, false, "block"}, {"earth", points, false, "block"}, {"points", points, false, "breaker_terminal"},
		{"breaker plate", points, false, "breaker_plate"}, {"BREAKER-PLATE", points, false, "breaker_plate"}, {"breker_plate", points, false, "breaker_plate"},
		{"-", earthWords, false, "negative"}, {"+", earthWords, true, "positive"}, {"NEG", earthWords, false, "negative"}, {"pos", earthWords, false, "positive"},
		{"ammeter", instrumentWords, false, "clamp_ammeter"}, {"scope", instrumentWords, false, "scope_minimum"},
		{"idle", BuiltInConditions(), false, "hot_idle"}, {"points", switchWords, false, "single_points"},
		{"dynamo", chargingWords, false, "generator"}, {"Alternator", chargingWords, false, "alternator"},
		{"zebra crossing", points, false, ""}, {"", points, false, ""}, {"-", points, false, ""},
	} {
		r := &reader{positive: c.positive}
		if got := r.hint(c.typed, c.words); got != c.want {
			t.Errorf("%q (positive earth %v) hints at %q, wanted %q", c.typed, c.positive, got, c.want)
		}
	}
}

// TestYesAndNoForParts: yes and no stand for fitted and none.
func TestYesAndNoForParts(t *testing.T) {
	for _, no := range []string{"none", "no", "No", "false"} {
		c := mustParse(t, "ballast: "+no+"\nloads: {radio: "+no+"}\n")
		if c.Ballast.Fitted || c.Ballast.FittedOrigin != Stated || c.Coil.Class != "full_voltage" || slices.Contains(loadIDs(c), "radio") {
			t.Errorf("%s: %v %v %v", no, c.Ballast.Fitted, c.Coil.Class, loadIDs(c))
		}
		if c := mustParse(t, "relay: "+no+"\n"); c.Relay.Fitted {
			t.Errorf("%s: a relay", no)
		}
	}
	for _, yes := range []string{"fitted", "yes", "true"} {
		c := mustParse(t, "coil: {class: full_voltage}\nballast: "+yes+"\nswitch: {kind: igbt}\nfeed: relay\nrelay: "+yes+"\n")
		if !c.Ballast.Fitted || c.Ballast.FittedOrigin != Stated || !c.Relay.Fitted {
			t.Errorf("%s: %v %v", yes, c.Ballast.Fitted, c.Relay.Fitted)
		}
	}
}

// TestNoCurrent: a load of 0 A is as good as none, but may be listed.
func TestNoCurrent(t *testing.T) {
	for _, figure := range []string{"0 A", "0", "{current: 0 A}", "{name: wireless, current: {value: 0 A, measured: yes}}", "{value: 0 mA}"} {
		c := mustParse(t, "loads: {radio: "+figure+", clock: "+figure+", fan: 3 A}\nconditions: {hot_idle: {loads: [radio, clock, fan]}, cruise: {loads: all}}\n")
		if ids := loadIDs(c); slices.Contains(ids, "radio") || slices.Contains(ids, "clock") || !slices.Contains(ids, "fan") {
			t.Errorf("%s: loads %v", figure, ids)
		}
		for _, k := range c.Conditions {
			if k.ID == "hot_idle" && !slices.Equal(k.Loads, []string{"fan"}) || slices.Contains(k.Loads, "radio") {
				t.Errorf("%s: %s with %v", figure, k.ID, k.Loads)
			}
		}
	}
}

// TestRelayInUse: a relay is described when something is, was or may be fed
// by it.
func TestRelayInUse(t *testing.T) {
	relay := "relay: {winding: 85 ohm}\n"
	for _, rest := range []string{
		"switch: {kind: igbt}\nfeed: relay\n",
		"planned: {switch: {kind: igbt}, feed: relay}\n",
		"readings:\n  - {at: [relay_out, block], condition: hot_idle, instrument: voltmeter, value: 13 V, option: relay_feed}\n",
	} {
		mustParse(t, relay+rest)
	}
}

func TestUnnamed(t *testing.T) {
	for text, want := range map[string]string{"": "unnamed car", "name: \"\"\n": "unnamed car", "name: \" \"\n": "unnamed car", "name: Grey\n": "Grey"} {
		if got := mustParse(t, text).Name; got != want {
			t.Errorf("%q: %q, wanted %q", text, got, want)
		}
	}
}

// TestDrawsArePossible writes figures at and near the ends of what is
// possible, plain and with spreads that reach just as far, and looks at the
// furthest draws.
func TestDrawsArePossible(t *testing.T) {
	checked := 0
	for path, l := range limits {
		span := l.high - l.low
		for _, x := range []float64{l.low, l.low + 1e-9*span, l.low + 0.001*span, l.low + span/3, l.high - 0.001*span, l.high - span/1e15, l.high} {
			for _, pm := range []float64{0, 1e-13 * span, 0.0009 * span, 0.3 * span, x - l.low, l.high - x} {
				if pm < 0 {
					continue
				}
				for _, shape := range []units.Shape{units.Normal, units.Uniform, units.LogNormal} {
					v := units.Value{X: x, PM: pm, Shape: shape}
					if shape == units.LogNormal && x <= 0 {
						continue
					}
					r := &reader{}
					v, ok := r.possible(&yaml.Node{}, path, l.kind, v, l.low, l.high, l.plain, l.amount)
					if !ok {
						if pm == 0 {
							t.Errorf("%s = %v without a spread is refused", path, x)
						}
						continue
					}
					if lo, hi := v.Sample(0), v.Sample(1); lo < l.low || hi > l.high || !(lo <= hi) {
						t.Errorf("%s = %v ± %v (%v): draws of %v to %v, outside %v to %v", path, x, pm, shape, lo, hi, l.low, l.high)
					}
					checked++
				}
			}
		}
	}
	if checked < 2000 {
		t.Errorf("only %d spreads", checked)
	}
}

// TestNothingIsPossible: joints and contacts of no resistance are read, and no
// draw of them is negative.
func TestNothingIsPossible(t *testing.T) {
	for _, figure := range []string{"0 ohm", "0..1 mohm", "1 ± 1 mohm", "1e-9 ohm"} {
		wiring := ""
		for _, leg := range LegNames {
			wiring += fmt.Sprintf("  %s: {resistance: %s}\n", leg, figure)
		}
		c := mustParse(t, "switch: {kind: mosfet, contact: "+figure+"}\nfeed: relay\nkey_switch: {contact: "+figure+"}\nrelay: {contact: "+figure+", fuse: "+figure+"}\nwiring:\n"+wiring)
		stated := 0
		for _, p := range Params(c) {
			if p.P.Origin == Stated && p.P.Kind == units.Resistance {
				stated++
				if lo := p.P.Sample(0); lo < 0 {
					t.Errorf("%s = %s: a draw of %v", p.Path, figure, lo)
				}
			}
		}
		if stated != int(LegCount)+4 {
			t.Errorf("%d figures", stated)
		}
	}
}

// TestBatteryTakesEveryTemperature: whatever battery temperature a file may
// give, the battery model takes its furthest draws, and 3 °C more.
func TestBatteryTakesEveryTemperature(t *testing.T) {
	for _, text := range []string{"-45 °C", "-44 °C", "-40 ± 5 °C", "75 °C", "74.9 °C", "70 ± 5 °C", "65..75 °C", "-49 °F", "167 °F"} {
		c := mustParse(t, "conditions: {cold_crank: {battery_temp: "+text+"}}\n")
		p := c.Conditions[0].BatteryTemp
		for _, temp := range []float64{p.Sample(0) - 3, p.Sample(0), p.X, p.Sample(1), p.Sample(1) + 3} {
			if err := (supply.Battery{NominalV: 12, SOC: 0.8, TempC: temp, CapacityAh: 60, InternalOhm20: 9e-3}).Validate(); err != nil {
				t.Errorf("%s: %v", text, err)
			}
		}
	}
}
