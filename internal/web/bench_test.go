package web

import (
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/internal/workshop"
	"dwellwright/twin"
	"dwellwright/units"
)

func demo(t testing.TB) *car.Car {
	t.Helper()
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// variant parses the demo car with some text replaced, pair by pair.
func variant(t testing.TB, pairs ...string) *car.Car {
	t.Helper()
	text := strings.NewReplacer(pairs...).Replace(string(examples.Demo))
	c, err := car.Parse("variant.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// What a form says that was not meant is taken out of it.
func TestSettle(t *testing.T) {
	c := demo(t)
	all := url.Values{"condition": {"hot_idle"}, "loads_set": {"1"}, "load": condition(c, "hot_idle").Loads}
	if q := settle(c, all); q.Has("loads_set") || q.Has("load") {
		t.Errorf("loads on as filed count as tried: %v", q)
	}
	some := url.Values{"condition": {"hot_idle"}, "loads_set": {"1"}, "load": {"headlamps"}}
	if q := settle(c, some); !q.Has("loads_set") || q.Get("load") != "headlamps" {
		t.Errorf("loads tried are lost: %v", q)
	}
	none := url.Values{"condition": {"hot_idle"}, "loads_set": {"1"}}
	if q := settle(c, none); !q.Has("loads_set") {
		t.Errorf("no loads on is lost: %v", q)
	}
	left := url.Values{"for": {"hot_idle"}, "condition": {"cruise"}, "speed": {"600"}, "bay": {"80"}, "charge": {"0.5"}, "ground": {"0.1"}}
	if q := settle(c, left); q.Has("speed") || q.Has("bay") || q.Has("charge") || q.Get("ground") != "0.1" {
		t.Errorf("figures of the condition left stay, or others go: %v", q)
	}
	pad := url.Values{"for": {"hot_idle"}, "condition": {"hot_idle"}, "units": {"inch"}, "bay": {"180"}, "charge": {"85"}}
	b, errs := workshop.ParseBench(c, settle(c, pad))
	if len(errs) > 0 || *b.Bay < 82.1 || *b.Bay > 82.3 || *b.Charge != 0.85 {
		t.Errorf("bare numbers: %v, %v %v", errs, b.Bay, b.Charge)
	}
	// An address is in SI, whatever is shown.
	address := url.Values{"condition": {"hot_idle"}, "units": {"inch"}, "bay": {"80"}}
	if b, errs := workshop.ParseBench(c, settle(c, address)); len(errs) > 0 || *b.Bay != 80 {
		t.Errorf("a bare number of an address: %v, %v", errs, b.Bay)
	}
}

// A bench and its address are one: each gives the other.
func TestAddressHoldsTheBench(t *testing.T) {
	c := demo(t)
	q, err := url.ParseQuery("condition=cruise&option=relay_feed&ground=35+mohm&bay=180+%C2%B0F&charge=70+%25&speed=2500&loads_set=1&load=wipers&set_point=14.1&ballast=0.9&units=inch")
	if err != nil {
		t.Fatal(err)
	}
	b, errs := workshop.ParseBench(c, q)
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	again, errs := workshop.ParseBench(c, b.Query())
	if len(errs) > 0 || again.Query().Encode() != b.Query().Encode() {
		t.Errorf("%v\n%s\n%s", errs, b.Query().Encode(), again.Query().Encode())
	}
}

// Every slider stands where its figure is, within its ends, and every figure
// it can write is accepted.
func TestSlidersWriteWhatIsAccepted(t *testing.T) {
	cars := map[string]*car.Car{
		"demo":    demo(t),
		"six":     variant(t, "voltage: 12 V", "voltage: 6 V", "set_point: 14.45 ± 0.2 V", "set_point: 7.2 ± 0.1 V", "minimum_feed: 7.5 ± 0.2 V", "minimum_feed: 4 ± 0.2 V"),
		"reverse": variant(t, "earth: negative", "earth: positive"),
	}
	for name, c := range cars {
		for i := range c.Conditions {
			for _, sys := range []units.System{units.Metric, units.Inch} {
				b := workshop.Bench{Condition: c.Conditions[i].ID, Option: twin.AsFitted, Units: sys}
				for _, x := range controls(c, &c.Conditions[i], b) {
					if x.Off != "" {
						continue
					}
					checkSlider(t, c, name+" "+b.Condition+" "+x.Name, b, x)
				}
			}
		}
	}
}

func checkSlider(t *testing.T, c *car.Car, what string, b workshop.Bench, x control) {
	t.Helper()
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		return v
	}
	lo, hi, step, at := number(x.Slider.Lo), number(x.Slider.Hi), number(x.Slider.Step), number(x.Slider.At)
	if !(lo < hi && step > 0 && at >= lo && at <= hi) {
		t.Errorf("%s: at %v of %v to %v", what, at, lo, hi)
	}
	for _, end := range []float64{lo, hi} {
		text := plain(end) + x.Slider.Unit
		if x.Slider.Power {
			text = units.Format(units.Resistance, math.Pow(10, end), units.Metric)
		}
		q := b.Query()
		q.Set(x.Name, text)
		if _, errs := workshop.ParseBench(c, q); len(errs) > 0 {
			t.Errorf("%s: %s is refused: %v", what, text, errs[0])
		}
	}
}

// A figure that plays no part can't be set, and the page says why.
func TestControlsThatPlayNoPart(t *testing.T) {
	c := variant(t, "ballast: {cold: 0.85 ± 0.08 ohm}", "ballast: none", "class: ballasted", "class: full_voltage", "primary: 1.5 ± 0.05 ohm", "primary: 3 ± 0.1 ohm")
	k := condition(c, "key_on_open")
	var off []string
	for _, x := range controls(c, k, workshop.Bench{Condition: k.ID}) {
		if x.Off != "" {
			off = append(off, x.Name)
		}
	}
	if !slices.Equal(off, []string{"ballast", "speed"}) {
		t.Errorf("off: %v", off)
	}
}

// Which post is earthed is said in words, twice on every page, and first
// among the cautions.
func TestEarthIsSaidInWords(t *testing.T) {
	c := variant(t, "earth: negative", "earth: positive")
	words := "12 V, positive earth car: the battery's positive post is joined to engine and body"
	if earthWords(c) != words {
		t.Errorf("%q", earthWords(c))
	}
	for _, st := range stages {
		k := condition(c, "hot_idle")
		list := cautionsFor(st.ID, c, k)
		if !strings.Contains(list[0], words) {
			t.Errorf("%s: first caution %q", st.ID, list[0])
		}
		all := strings.Join(list, "\n")
		for _, must := range []string{"carbon monoxide", "20 to 40 kV", "Battery gas", "Hot parts", "pacemaker"} {
			if !strings.Contains(all, must) {
				t.Errorf("%s: no caution of %q", st.ID, must)
			}
		}
	}
	still := strings.Join(cautionsFor("found", c, condition(c, "key_on_closed")), "\n")
	if !strings.Contains(still, "a minute at most") {
		t.Error("no caution of a coil that conducts with the engine stopped")
	}
	text := body(t, get(t, handler(t), "/cars/1/prove?draws=20"))
	if n := strings.Count(text, "12 V, negative earth car"); n < 2 {
		t.Errorf("said %d times", n)
	}
	if n := strings.Count(text, "local codes and licensed practice decide"); n < 2 {
		t.Errorf("who decides is said %d times", n)
	}
}

// Every car, wiring and condition is drawn, whatever the sliders say.
func TestEveryPictureIsDrawn(t *testing.T) {
	for name, c := range map[string]*car.Car{
		"demo":       demo(t),
		"positive":   variant(t, "earth: negative", "earth: positive"),
		"six":        variant(t, "voltage: 12 V", "voltage: 6 V", "set_point: 14.45 ± 0.2 V", "set_point: 7.2 ± 0.1 V", "minimum_feed: 7.5 ± 0.2 V", "minimum_feed: 4 ± 0.2 V"),
		"alternator": variant(t, "kind: generator", "kind: alternator", "  cut_in: 1050 ± 80 rpm\n", ""),
	} {
		for _, o := range twin.Options() {
			for i := range c.Conditions {
				for j, more := range []string{"", "&ground=20", "&ballast=3&bay=150&charge=0.05&units=inch"} {
					if j > 0 && name != "demo" {
						break
					}
					q, err := url.ParseQuery("draws=3&option=" + o.ID + "&condition=" + c.Conditions[i].ID + more)
					if err != nil {
						t.Fatal(err)
					}
					b, errs := workshop.ParseBench(c, q)
					if len(errs) > 0 {
						t.Fatal(errs)
					}
					p := newPage(&stages[0], 1, 1, c, b, errs, q, false)
					if err := lookAtCar(p, c, b, 1); err != nil {
						t.Errorf("%s %s %s%s: %v", name, o.ID, c.Conditions[i].ID, more, err)
						continue
					}
					pictures := []html{p.Found.Wide, p.Found.Tall}
					if p.Found.Cycle != nil {
						pictures = append(pictures, p.Found.Cycle.Feed, p.Found.Cycle.Current)
					}
					for n, svg := range pictures {
						if !strings.HasPrefix(string(svg), "<svg") {
							t.Errorf("%s %s %s%s: picture %d: %s", name, o.ID, c.Conditions[i].ID, more, n, svg)
						}
					}
				}
			}
		}
	}
}

// FuzzBench reads any query as a page would: no panic, and what comes out
// can be written and read again as it is.
func FuzzBench(f *testing.F) {
	for _, q := range []string{
		"", "ground=35+mohm&units=inch", "condition=cruise&speed=2500&for=hot_idle", "bay=180+%C2%B0F", "charge=85&for=hot_idle",
		"loads_set=1&load=wipers&load=x", "draws=-1", "option=relay_feed", "ballast=1..2+ohm", "set_point=14,2", "ground=%00%ff", "speed=1e309",
		"bay=-40&units=inch&for=x", "charge=1.0000001", "ground=0.0069",
	} {
		f.Add(q)
	}
	c := demo(f)
	f.Fuzz(func(t *testing.T, query string) {
		q, err := url.ParseQuery(query)
		if err != nil {
			return
		}
		q = settle(c, q)
		b, errs := workshop.ParseBench(c, q)
		for _, e := range errs {
			if e.Field == "" || e.What == "" {
				t.Errorf("a mistake without place or words: %+v", e)
			}
		}
		if b.Draws < 0 || b.Draws > 5000 || condition(c, b.Condition) == nil {
			t.Errorf("bench %+v", b)
		}
		viewBench(&stages[0], 1, c, b, picks{}, errs, q)
		again, errs := workshop.ParseBench(c, b.Query())
		if len(errs) > 0 {
			t.Errorf("%s is refused: %v", b.Query().Encode(), errs[0])
		}
		if a, b := again.Query().Encode(), b.Query().Encode(); a != b {
			t.Errorf("%s becomes %s", b, a)
		}
	})
}
