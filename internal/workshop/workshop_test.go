package workshop

import (
	"bytes"
	"net/url"
	"reflect"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/twin"
)

func demo(t testing.TB) *car.Car {
	t.Helper()
	c, err := Open("demo", nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Every option in every condition gives a picture in both layouts.
func TestLookDraws(t *testing.T) {
	c := demo(t)
	for _, o := range twin.Options() {
		for i := range c.Conditions {
			f, err := Look(c, Bench{Option: o.ID, Condition: c.Conditions[i].ID, Draws: 20})
			if err != nil {
				t.Fatalf("%s, %s: %v", o.ID, c.Conditions[i].ID, err)
			}
			for _, tall := range []bool{false, true} {
				f.Wiring.Tall = tall
				scene, err := draw.Wiring(f.Wiring)
				if err != nil {
					t.Errorf("%s, %s: %v", o.ID, c.Conditions[i].ID, err)
					continue
				}
				var b bytes.Buffer
				if err := draw.WriteSVG(&b, scene, draw.SVGOptions{IDPrefix: "w"}); err != nil {
					t.Errorf("%s: %v", o.ID, err)
				}
			}
			if len(f.Assumed) == 0 || f.Stated == 0 {
				t.Errorf("%d assumed, %d stated", len(f.Assumed), f.Stated)
			}
		}
	}
}

// Either earth, either voltage, points or trigger, ballast or none.
func TestLookDrawsEveryCar(t *testing.T) {
	for _, volts := range []int{6, 12} {
		for _, earth := range []car.Earth{car.NegativeEarth, car.PositiveEarth} {
			c := car.Defaults(volts, earth, 6)
			for _, o := range twin.Options() {
				if o.Unfit(c) != "" {
					continue
				}
				f, err := Look(c, Bench{Option: o.ID, Condition: "cruise", Draws: 10})
				if err != nil {
					t.Fatal(err)
				}
				if _, err := draw.Wiring(f.Wiring); err != nil {
					t.Errorf("%d V, %v, %s: %v", volts, earth, o.ID, err)
				}
			}
		}
	}
}

// The mark at the trigger's supply turns with one slider.
func TestBenchTurnsTheMark(t *testing.T) {
	c := demo(t)
	mark := func(query string) draw.CellMark {
		q, err := url.ParseQuery(query)
		if err != nil {
			t.Fatal(err)
		}
		b, errs := ParseBench(c, q)
		if len(errs) > 0 {
			t.Fatal(errs[0])
		}
		f, err := Look(c, b)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range f.Wiring.Nodes {
			if n.ID == "trigger_supply" {
				return n.Mark
			}
		}
		t.Fatal("no trigger supply in the picture")
		return 0
	}
	if m := mark("option=feed_behind_ballast"); m != draw.MarkShort {
		t.Errorf("behind the ballast: %v", m)
	}
	if m := mark("option=feed_behind_ballast&ballast=0.1"); m != draw.MarkUnproven {
		t.Errorf("behind a ballast of 0.1 ohm: %v", m)
	}
	if m := mark("option=feed_before_ballast"); m != draw.MarkUnproven {
		t.Errorf("before the ballast: %v", m)
	}
	if m := mark("option=feed_before_ballast&ground=3"); m == draw.MarkUnproven {
		t.Errorf("before the ballast with a ground of 3 ohm: %v", m)
	}
}

// A bench written to an address and read back is the same bench.
func TestBenchRoundTrip(t *testing.T) {
	c := demo(t)
	q, _ := url.ParseQuery("condition=cruise&option=relay_feed&speed=2500&charge=0.6&bay=70&ground=0.15&ballast=0.9&set_point=14.1&loads_set=1&load=blower&units=inch")
	a, errs := ParseBench(c, q)
	if len(errs) > 0 {
		t.Fatal(errs[0])
	}
	b, errs := ParseBench(c, a.Query())
	if len(errs) > 0 || !reflect.DeepEqual(a, b) {
		t.Errorf("%+v became %+v (%v)", a, b, errs)
	}
	before := c.Clone()
	a.Apply(c)
	if !reflect.DeepEqual(before, c) {
		t.Error("trying figures changed the car")
	}
}

func TestBenchRefusesWithTheField(t *testing.T) {
	c := demo(t)
	for query, field := range map[string]string{
		"speed=fast": "speed", "speed=90000": "speed", "charge=140+%25": "charge", "bay=12+V": "bay", "ground=-1": "ground",
		"condition=moon": "condition", "option=hope": "option", "loads_set=1&load=disco": "load", "draws=many": "draws",
	} {
		q, err := url.ParseQuery(query)
		if err != nil {
			t.Fatal(err)
		}
		_, errs := ParseBench(c, q)
		if len(errs) != 1 || errs[0].Field != field {
			t.Errorf("%s: %v", query, errs)
		}
	}
}

// The written network names its nodes and carries its notes.
func TestNetlist(t *testing.T) {
	var b bytes.Buffer
	if err := Netlist(&b, demo(t), "feed_before_ballast", "hot_idle", false); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"node 0 is the earthed battery post", "trigger_supply", ".tran", ".meas tran p0_min"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in it", want)
		}
	}
}

func FuzzParseBench(f *testing.F) {
	c := demo(f)
	f.Add("condition=hot_idle&speed=600&ground=0.1+ohm&loads_set=1&load=blower")
	f.Add("ballast=1..2&bay=180+°F&set_point=14,2+V&charge=80 %")
	f.Fuzz(func(t *testing.T, query string) {
		q, err := url.ParseQuery(query)
		if err != nil {
			return
		}
		b, _ := ParseBench(c, q)
		b.Draws = 0
		if _, err := Look(c, b); err != nil {
			t.Errorf("%q: %v", query, err)
		}
	})
}
