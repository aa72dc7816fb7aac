package measure

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"dwellwright/car"
)

func TestCatalogue(t *testing.T) {
	seen := map[string]bool{}
	for _, id := range IDs() {
		if seen[id] {
			t.Errorf("%s twice", id)
		}
		seen[id] = true
	}
	setup := map[string]bool{}
	for _, s := range Setups() {
		setup[s.ID] = true
	}
	used := map[string]bool{}
	for name, c := range exampleCars(t) {
		list := Catalogue(c)
		readings, observations := 0, 0
		for _, m := range list {
			used[m.Setup] = true
			if m.Observation {
				observations++
			} else {
				readings++
			}
			if m.Name == "" || m.Probes == "" || m.Engine == "" || m.Healthy == "" || m.With == "" || !setup[m.Setup] || m.Minutes <= 0 || m.SetupMinutes <= 0 || m.Skill < 1 || m.Skill > 3 {
				t.Errorf("%s: %s is not said in full: %+v", name, m.ID, m)
			}
			if m.Observation != (m.Accuracy == nil) {
				t.Errorf("%s: accuracy is for readings", m.ID)
			}
			if m.Accuracy != nil && !(m.Accuracy(1e-3) > 0 && m.Accuracy(10) >= m.Accuracy(1e-3) && m.Accuracy(-10) == m.Accuracy(10)) {
				t.Errorf("%s: accuracy %v at a thousandth, %v at ten", m.ID, m.Accuracy(1e-3), m.Accuracy(10))
			}
			// A starter turns parts, a running engine gives exhaust or turns too.
			if (m.Needs == NeedsRunning || m.Needs == NeedsCrank) && len(m.Hazards) == 0 {
				t.Errorf("%s: the engine turns, and no hazard is named", m.ID)
			}
			if got, err := Find(c, m.ID); err != nil || got.ID != m.ID {
				t.Errorf("%s: not found again: %v", m.ID, err)
			}
			delete(seen, m.ID)
		}
		if readings < 40 || observations < 15 {
			t.Errorf("%s: %d readings and %d observations, 40 and 15 are wanted", name, readings, observations)
		}
		for _, id := range IDs() {
			_, err := Find(c, id)
			var lacks *LacksError
			if (Why(c, id) != "") != errors.As(err, &lacks) {
				t.Errorf("%s: %s is %q, found with %v", name, id, Why(c, id), err)
			}
		}
	}
	if len(seen) > 0 {
		t.Errorf("of no car at all: %v", seen)
	}
	for id := range setup {
		if !used[id] {
			t.Errorf("set-up %s is used by nothing", id)
		}
	}
}

// What a car has not is not asked of it.
func TestLeftOut(t *testing.T) {
	points := car.Defaults(12, car.NegativeEarth, 8)
	for _, x := range []struct {
		id, why string
		change  func(c *car.Car)
	}{
		{"trigger_feed_idle", "points", func(c *car.Car) {}},
		{"air_gap", "points", func(c *car.Car) {}},
		{"points_gap", "trigger", func(c *car.Car) {
			c.Switch, c.Feed = car.SwitchDefaults(car.IGBT, 12, 8), car.FeedCoil
		}},
		{"ballast_ohms", "no ballast", func(c *car.Car) { c.Ballast.Fitted = false }},
		{"can_travel", "no vacuum can", func(c *car.Car) { c.Advance.Source = car.NoVacuum }},
		{"charging_cruise", "no generator", func(c *car.Car) { c.Charging.Kind = car.NoCharging }},
		{"relay_drop", "relay", func(c *car.Car) {}},
		{"timing_idle", "hot_idle", func(c *car.Car) { c.Conditions = c.Conditions[:1] }},
	} {
		c := points.Clone()
		x.change(c)
		if why := Why(c, x.id); !strings.Contains(why, x.why) {
			t.Errorf("%s: %q, want something about %q", x.id, why, x.why)
		}
		for _, m := range Catalogue(c) {
			if m.ID == x.id {
				t.Errorf("%s is listed", x.id)
			}
		}
		if _, err := NewBench(c, []Measure{{ID: x.id}}); err == nil {
			t.Errorf("%s is read", x.id)
		}
	}
	if list := Catalogue(&car.Car{}); len(list) != 0 {
		t.Errorf("a car without conditions has %d measures", len(list))
	}
}

// Plain data goes through JSON and back, and reads the same.
func TestJSON(t *testing.T) {
	c := exampleCars(t)["harrowmere-eight"]
	list := Catalogue(c)
	text, err := json.Marshal(list)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), `"hazards":["R","W"]`) || !strings.Contains(string(text), `"group":"supply"`) || !strings.Contains(string(text), `"needs":"running"`) {
		t.Errorf("hazards, groups and needs are not words: %.300s", text)
	}
	var back []Measure
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	for i := range list {
		m := list[i]
		m.Accuracy = nil
		if m.Hazards != nil && len(m.Hazards) == 0 {
			m.Hazards = nil
		}
		if !reflect.DeepEqual(m, back[i]) {
			t.Fatalf("went in as %+v, came back as %+v", m, back[i])
		}
	}
	b, err := NewBench(c, back)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Read(nil, make([]float64, len(back))); err != nil {
		t.Error(err)
	}
	var h Hazard
	var g Group
	var n Need
	if h.UnmarshalText([]byte("X")) == nil || g.UnmarshalText([]byte("X")) == nil || n.UnmarshalText([]byte("X")) == nil {
		t.Error("words that are none were taken")
	}
}

func TestHazards(t *testing.T) {
	letters := ""
	for _, h := range Hazards() {
		letters += h.Letter()
		if h.Caution() == "" || h.String() == "" {
			t.Errorf("%v has no words", h.Letter())
		}
	}
	if letters != "HRTFGCSW" {
		t.Errorf("letters %s", letters)
	}
	if s := Hazard(200); s.Letter() != "?" || s.Caution() != "" {
		t.Error("a hazard that is none has words")
	}
}

// The list a caller has is its own.
func TestOwnList(t *testing.T) {
	c := exampleCars(t)["skellgate-six"]
	one := Catalogue(c)
	for i := range one {
		if one[i].Spec != nil {
			one[i].Spec.Red = "nowhere"
		}
		for j := range one[i].Hazards {
			one[i].Hazards[j] = 99
		}
	}
	for _, m := range Catalogue(c) {
		if m.Spec != nil && m.Spec.Red == "nowhere" || len(m.Hazards) > 0 && m.Hazards[0] == 99 {
			t.Fatalf("%s: the list itself was changed", m.ID)
		}
	}
}

// On a positive earth car the leads are the other way round, and said to be.
func TestProbesByEarth(t *testing.T) {
	for _, earth := range []car.Earth{car.NegativeEarth, car.PositiveEarth} {
		m, err := Find(car.Defaults(12, earth, 6), "battery_rest")
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.HasPrefix(m.Probes, "red lead on live battery post"); got != (earth == car.NegativeEarth) {
			t.Errorf("%v earth: %s", earth, m.Probes)
		}
	}
}

func FuzzFind(f *testing.F) {
	for _, id := range []string{"battery_rest", "trigger_feed", "", "_", "no such thing", "plate__drop", strings.Repeat("ab_", 500)} {
		f.Add(id)
	}
	c := car.Defaults(12, car.NegativeEarth, 8)
	f.Fuzz(func(t *testing.T, id string) {
		m, err := Find(c, id)
		_, known := places[id]
		var unknown *UnknownError
		var lacks *LacksError
		switch {
		case err == nil && m.ID != id:
			t.Errorf("%q gave %q", id, m.ID)
		case err == nil && !known, !known && !errors.As(err, &unknown), known && err != nil && !errors.As(err, &lacks):
			t.Errorf("%q: %v", id, err)
		}
		if err != nil && len(err.Error()) > 400 {
			t.Errorf("%d bytes of message", len(err.Error()))
		}
		if (Why(c, id) == "") != (err == nil) {
			t.Errorf("%q: %v, and why not: %q", id, err, Why(c, id))
		}
	})
}

// The normal distribution's table: Φ(1) = 0.8413, Φ(1.96) = 0.9750, Φ(-2.5758)
// = 0.0050 [any handbook of statistics].
func TestChance(t *testing.T) {
	for _, x := range [][2]float64{{0, 0.5}, {1, 0.8413}, {1.96, 0.9750}, {-2.5758, 0.0050}} {
		if got := below(x[0]); math.Abs(got-x[1]) > 5e-5 {
			t.Errorf("Φ(%g) = %.5f, the table has %.4f", x[0], got, x[1])
		}
	}
	if p := either(0.5, 0.5, 0); p != 0.75 {
		t.Errorf("one of two coins: %v", p)
	}
	if !math.IsNaN(below(math.NaN())) {
		t.Error("no figure has a chance")
	}
}
