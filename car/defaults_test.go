package car

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dwellwright/units"

	"github.com/google/go-cmp/cmp"
)

// variants are typical cars of every sort.
func variants(t *testing.T) map[string]*Car {
	list := map[string]*Car{}
	for _, v := range []int{6, 12} {
		for _, n := range []int{4, 6, 8} {
			for s := range switchWords {
				for k := range chargingWords {
					name := fmt.Sprintf("%dV/%d/%v/%v", v, n, SwitchKind(s), ChargingKind(k))
					c := Defaults(v, Earth(n/6%2), n)
					c.Switch = SwitchDefaults(SwitchKind(s), v, n)
					c.Charging = ChargingDefaults(ChargingKind(k), v)
					list[name] = c
				}
			}
			for _, class := range CoilClasses {
				c := Defaults(v, NegativeEarth, n)
				c.Coil = CoilDefaults(class.ID, v)
				list[fmt.Sprintf("%dV/%d/%s", v, n, class.ID)] = c
			}
			for a := range ageWords {
				c := Defaults(v, NegativeEarth, n)
				for id := range LegCount {
					c.Wiring[id] = LegDefaults(id, Age(a), v)
				}
				list[fmt.Sprintf("%dV/%d/%v", v, n, Age(a))] = c
			}
		}
	}
	return list
}

// figureLines finds the line of the field table for every path of Params; an
// id in it is a *.
func figureLines() map[string]line {
	limits := map[string]line{}
	var gather func(path string, list []line)
	gather = func(path string, list []line) {
		for _, l := range list {
			at := join(path, l.name)
			switch l.form {
			case figureForm:
				limits[at] = l
			case idMapForm:
				gather(at+".*", l.inner)
			case sectionForm:
				gather(at, l.inner)
			}
		}
	}
	gather("", lines(carTable))
	return limits
}

func anyID(path string) string {
	p := strings.Split(path, ".")
	switch {
	case p[0] == "loads" || p[0] == "conditions":
		p[1] = "*"
	case strings.HasPrefix(path, "distributor.obstacles."):
		p[2] = "*"
	case strings.HasPrefix(path, "advance.kit."):
		p[3] = "*"
	}
	return strings.Join(p, ".")
}

// TestDefaultsSpread: every typical figure has a spread, unless it is a count
// or something the car has not; and no draw from it is impossible.
func TestDefaultsSpread(t *testing.T) {

	for name, c := range variants(t) {
		for _, r := range Params(c) {
			l, ok := limits[anyID(r.Path)]
			if !ok {
				t.Fatalf("%s: %s is not in the field table", name, r.Path)
			}
			if r.P.Kind != l.kind || r.P.Origin != Assumed {
				t.Errorf("%s: %s is %v, %v", name, r.Path, r.P.Kind, r.P.Origin)
			}
			if r.P.PM == 0 {
				switch r.Path[strings.LastIndexByte(r.Path, '.')+1:] {
				case "max_junction", "clear", "tolerance", "gap_wanted", "engagement_least", "accuracy":
					continue // a limit or a wish, not a figure of this car
				}
				if r.P.X != 0 && l.kind != units.Count || r.P.Shape != units.Exact {
					t.Errorf("%s: %s = %v is exact", name, r.Path, r.P.X)
				}
				continue
			}
			for _, u := range []float64{0, 0.5, 1} {
				if x := r.P.Sample(u); x < l.low || x > l.high {
					t.Errorf("%s: %s can be %v, outside %v to %v", name, r.Path, x, l.low, l.high)
				}
			}
		}
		if t.Failed() {
			return
		}
	}
}

// ohms is the resistance of a leg at 20 °C, middle of its figures, with the
// resistivity of annealed copper of IEC 60028, 1/58 ohm mm²/m.
func ohms(l Leg) float64 {
	return l.Length.X/(58e6*l.Section.X)*l.Stranding.X + l.Connections.X*l.Joint.X
}

// TestHealthyPaths holds the typical wiring against the drops that published
// manuals allow on a car in order.
func TestHealthyPaths(t *testing.T) {
	sum := func(c *Car, legs ...LegID) (r float64) {
		for _, id := range legs {
			r += ohms(c.Wiring[id])
		}
		return r
	}
	c := Defaults(12, NegativeEarth, 8)
	feed := sum(c, BatteryCable, MainFeed, SwitchFeed, IgnitionLead) + c.KeySwitch.Contact.X
	earth := sum(c, PivotWire, HousingClamp, EarthCable)
	for _, check := range []struct {
		what       string
		got        float64
		low, high  float64
		fromSource string
	}{
		{"feed, battery to ballast, ohm", feed, 0.05, 0.10,
			"several wires and a switch of at most 0.1 V each at about 4 A: US Army TM 5-3820-256-24-4"},
		{"plate to battery, ohm", earth, 0.02, 0.05, "at most 0.1 V at about 4 A in order, 0.2 ohm is marginal: US Navy NAVEDTRA 14329"},
		{"plate to battery, V at 4 A", 4 * earth, 0, 0.1, "US Navy NAVEDTRA 14329"},
		{"ignition switch, V at 4 A", 4 * c.KeySwitch.Contact.X, 0, 0.1, "US Army TM 5-3820-256-24-4"},
		{"start bypass, ohm", sum(c, BypassLead), 0, 0.03, "at most 0.1 V: US Navy NAVEDTRA 14329"},
		{"earth cable, V in 100 A", 100 * sum(c, EarthCable), 0, 0.2, "US Army TM 10-3930-671-24"},
		{"live cable, V in 170 A", 170 * sum(c, BatteryCable), 0, 0.5, "US Army TM 10-3930-671-24"},
		{"block to body, V in 30 A", 30 * sum(c, EngineStrap), 0, 0.1, "common practice, no source"},
		{"points, V at 4 A", 4 * c.Switch.On.X, 0, 0.1, "US Navy NAVEDTRA 14329"},
		{"regulator at 18 °C, V", c.Charging.SetPoint.X - 2*c.Charging.Drift.X, 14.1, 14.9, "US Army TM 10-3930-621-12, 65 °F"},
		{"regulator at 41 °C, V", c.Charging.SetPoint.X + 21*c.Charging.Drift.X, 13.7, 14.5, "US Army TM 10-3930-621-12, 105 °F"},
		{"regulator at 63 °C, V", c.Charging.SetPoint.X + 43*c.Charging.Drift.X, 13.4, 14.2, "US Army TM 10-3930-621-12, 145 °F"},
		{"V8 dwell", c.Switch.Dwell.X, 28, 32, "US Navy NAVEDTRA 14273"},
		{"four-cylinder dwell", SwitchDefaults(SinglePoints, 12, 4).Dwell.X, 49, 55, "US Army TM 10-3930-653-14&P"},
		{"six-cylinder dwell", SwitchDefaults(SinglePoints, 12, 6).Dwell.X, 36, 42, "common practice, no source"},
		{"ballasted coil, ohm", CoilDefaults("ballasted", 12).Primary.X, 1.2, 1.8, "common practice, no source"},
		{"full-voltage coil, ohm", CoilDefaults("full_voltage", 12).Primary.X, 2.8, 4.0, "common practice, no source"},
		{"turns ratio", c.Coil.Turns.X, 60, 100, "about 100: US Army TM 9-8000"},
	} {
		if check.got < check.low || check.got > check.high {
			t.Errorf("%s is %.4g, wanted %v to %v (%s)", check.what, check.got, check.low, check.high, check.fromSource)
		}
	}

	// A tired car is worse in every leg, a corroded one much worse.
	for id := range LegCount {
		used := ohms(LegDefaults(id, Used, 12))
		if n, o, k := ohms(LegDefaults(id, New, 12)), ohms(LegDefaults(id, Old, 12)), ohms(LegDefaults(id, Corroded, 12)); !(n < used && used < o && 2*o < k) {
			t.Errorf("%v: new %.4g, used %.4g, old %.4g, corroded %.4g ohm", id, n, used, o, k)
		}
	}
}

// TestBallastHot: the typical ballast, heated by the current of a hot idle,
// is within the 1.2 to 1.8 ohm that the trade measures hot [common practice].
// The duty of single points on a V8 is 30/45; the current's mean square is
// taken as the duty times the square of the settled current.
func TestBallastHot(t *testing.T) {
	c := Defaults(12, NegativeEarth, 8)
	r := c.Ballast.Cold.X
	for range 100 {
		i := 12.2 / (r + c.Coil.Primary.X*1.25 + 0.1)
		rise := 75 - 20 + c.Ballast.Thermal.X*30/45*i*i*r
		r = c.Ballast.Cold.X * (1 + c.Ballast.TempCo.X*rise)
	}
	if r < 1.2 || r > 1.8 {
		t.Errorf("hot ballast %.3f ohm", r)
	}
}

func TestDefaultsFollowFacts(t *testing.T) {
	twelve, six := Defaults(12, NegativeEarth, 8), Defaults(6, PositiveEarth, 6)
	if !twelve.Ballast.Fitted || twelve.Coil.Class != "ballasted" || !twelve.KeySwitch.Bypass || twelve.KeySwitch.LiveInStart {
		t.Errorf("12 V: %+v %+v", twelve.Ballast.Fitted, twelve.KeySwitch)
	}
	if six.Ballast.Fitted || six.Coil.Class != "six_volt" || six.KeySwitch.Bypass || !six.KeySwitch.LiveInStart || six.Earth != PositiveEarth {
		t.Errorf("6 V: %+v %+v", six.Ballast.Fitted, six.KeySwitch)
	}
	if got, want := six.Loads[0].Current.X, 2*twelve.Loads[0].Current.X; got != want {
		t.Errorf("6 V headlamps take %v A, wanted %v", got, want)
	}
	if d := cmp.Diff(Defaults(12, NegativeEarth, 8), Defaults(24, NegativeEarth, 12)); d != "" {
		t.Error("odd arguments are not taken as 12 V and eight cylinders:", d)
	}
	for _, id := range BuiltInConditions() {
		k := twelve.Conditions[0]
		twelve.Conditions = append(twelve.Conditions[1:], k)
		if k.ID != id || !k.BuiltIn || k.Name == "" {
			t.Errorf("condition %+v, wanted %s", k, id)
		}
		if (k.Engine >= StoppedClosed) != (k.Speed.X == 0) {
			t.Errorf("%s: %v at %v rpm", id, k.Engine, k.Speed.X)
		}
		if id == "hot_idle" && len(k.Loads) != len(twelve.Loads) {
			t.Errorf("hot idle with %v", k.Loads)
		}
	}
}

func TestCloneIsApart(t *testing.T) {
	c, err := Parse("full.yaml", read(t, "testdata/good/full.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	before := c.Clone()
	if d := cmp.Diff(c, before); d != "" {
		t.Fatal("not alike:", d)
	}
	d := c.Clone()
	for _, r := range Params(d) {
		r.P.X = math.Pi
	}
	for i := range d.Conditions {
		for j := range d.Conditions[i].Loads {
			d.Conditions[i].Loads[j] = "x"
		}
		d.Conditions[i].Name = "x"
	}
	d.Readings[0].Value.X = math.Pi
	d.Loads[0].ID = "x"
	d.Planned.Feed = FeedNone
	if diff := cmp.Diff(before, c); diff != "" {
		t.Error("a change of the clone shows in the car:", diff)
	}
	if (*Car)(nil).Clone() != nil {
		t.Error("clone of nothing")
	}
}

func TestParamsOrder(t *testing.T) {
	c, err := Parse("full.yaml", read(t, "testdata/good/full.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	seen := map[string]bool{}
	for _, r := range Params(c) {
		if seen[r.Path] {
			t.Errorf("%s twice", r.Path)
		}
		seen[r.Path] = true
		fmt.Fprintf(&b, "%s = %s (%v)\n", r.Path, units.FormatValue(r.P.Kind, r.P.Value, units.Metric), r.P.Origin)
	}
	golden(t, "testdata/good/full.params", []byte(b.String()))
}

// TestEveryFieldIsRead writes each figure of a car on its own into a file at
// the path under which Params lists it, and looks for it there.
func TestEveryFieldIsRead(t *testing.T) {
	head := "format: 1\nsystem: {voltage: 12 V, earth: negative, cylinders: 8}\n"
	for _, extra := range []string{
		"charging: {kind: generator#}\nswitch: {kind: igbt}\n",
		"charging: {kind: alternator#}\nplanned: {switch: {kind: darlington}}\n",
	} {
		base, err := Parse("base", []byte(head+strings.ReplaceAll(extra, "#", "")))
		if err != nil {
			t.Fatal(err)
		}
		read := 0
		for _, r := range Params(base) {
			if r.P.X == 0 || strings.HasSuffix(r.Path, ".speed") && r.P.X < 200 {
				continue
			}
			v := units.FormatValue(r.P.Kind, r.P.Value, units.Metric)
			c, err := Parse(r.Path, []byte(place(head+extra, r.Path, v)))
			if err != nil {
				t.Errorf("%v\n%s", err, place(head+extra, r.Path, v))
				continue
			}
			for i, p := range Params(c) {
				was := Params(base)[i]
				if p.Path == r.Path {
					if p.P.Origin != Stated || math.Abs(p.P.X-r.P.X) > 0.02*math.Abs(r.P.X) || math.Abs(p.P.PM-r.P.PM) > 0.1*r.P.PM+0.06*math.Abs(r.P.X) {
						t.Errorf("%s: wrote %s, read %v ± %v (%v)", r.Path, v, p.P.X, p.P.PM, p.P.Origin)
					}
				} else if follows[r.Path] == p.Path {
					continue
				} else if p.Path != was.Path || p.P.Origin != was.P.Origin || p.P.Value != was.P.Value {
					t.Errorf("writing %s changed %s", r.Path, p.Path)
				}
			}
			read++
		}
		if read < 210 {
			t.Errorf("only %d figures", read)
		}
	}
}

// follows are the figures that are worked out from another if not said.
var follows = map[string]string{"timing.before": "timing.after", "timing.after": "timing.trigger_later"}

// place puts a figure at a path into a file with its own charging, switch or
// planned section.
func place(text, path, figure string) string {
	p := strings.Split(path, ".")
	inner := p[len(p)-1] + ": " + figure
	for i := len(p) - 2; i >= 1; i-- {
		inner = p[i] + ": {" + inner + "}"
	}
	line := p[0] + ": {" + inner + "}\n"
	switch {
	case p[0] == "relay" && strings.Contains(text, "\nplanned:"):
		text = strings.Replace(text, "{kind: darlington}", "{kind: darlington}, feed: relay", 1)
	case p[0] == "relay":
		line += "feed: relay\n"
	case p[0] == "charging":
		text = strings.Replace(text, "#", ", "+inner, 1)
		line = ""
	case p[0] == "switch" && strings.Contains(text, "\nswitch:"):
		text = strings.Replace(text, "switch: {kind: igbt}", "switch: {kind: igbt, "+inner+"}", 1)
		line = ""
	case p[0] == "planned":
		text = strings.Replace(text, "{kind: darlington}", "{kind: darlington, "+p[2]+": "+figure+"}", 1)
		line = ""
	}
	return strings.ReplaceAll(text, "#", "") + line
}
