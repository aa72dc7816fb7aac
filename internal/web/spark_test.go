package web

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/firing"
	"dwellwright/internal/workshop"
	"dwellwright/spark"
	"dwellwright/spike"
	"dwellwright/twin"
	"dwellwright/units"
)

// The page is whole without a script: verdict, figures, every picture with its
// text, every part.
func TestSparkIsWholeWithoutAScript(t *testing.T) {
	h := handler(t)
	r := get(t, h, "/cars/1/spark?draws=20")
	text := body(t, r)
	if r.StatusCode != http.StatusOK || !strings.HasSuffix(strings.TrimSpace(text), "</html>") {
		t.Fatalf("status %d, ends with %q", r.StatusCode, text[max(0, len(text)-80):])
	}
	for _, want := range []string{
		"Spark in hand:", "; least ", "the plug asks for", "bar and", "for the rotor gap of", "The points part clean",
		`data-trace="/cars/1/spark/trace.json?condition=hot_idle"`, `id="spark-map"`, "Spark in hand over speed and supply, clean points",
		"Darlington against clean points", "Why, in hot idle", "Heat through a drive with a hot soak", "Key left on, engine stopped, points closed",
		"Test pulse 5a", "What withstands", "hanging free", "pacemaker", "never take a battery terminal off", "never leave the key on", "Short a charged condenser",
		`href="/static/uPlot.min.css"`, `src="/static/uPlot.iife.min.js"`, `src="/static/trace.js"`, `src="/static/parts.js"`, `form="bench">Show</button>`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not hold %q", want)
		}
	}
	for _, bad := range []string{"undrawn", "can't be worked out", "NaN", "data-later", "%!"} {
		if strings.Contains(text, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	svgs, descs := strings.Count(text, "<svg xmlns"), strings.Count(text, "<desc")
	// Firing, map, four charts of switches, drive, key, spike, each for both screens.
	if svgs != 2*9 || descs != svgs {
		t.Errorf("%d pictures with %d descriptions", svgs, descs)
	}
	ids := map[string]bool{}
	for _, p := range strings.Split(text, ` id="`)[1:] {
		id, _, _ := strings.Cut(p, `"`)
		if ids[id] {
			t.Errorf("the id %s stands twice", id)
		}
		ids[id] = true
	}
}

// The first part of the page is sent before the rest is worked out.
func TestSparkIsSentInTwo(t *testing.T) {
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		p := &page{Stage: "spark", Spark: &sparkView{}}
		s, err := New([]string{"demo"}, nil)
		if err != nil {
			t.Error(err)
			return
		}
		for _, x := range sparkParts {
			p.Spark.parts = append(p.Spark.parts, part{ID: "spark-" + x.name, Later: true})
		}
		p.Spark.working.Go(func() { <-r.Context().Done() }) // until the reader has seen the first
		s.stream(w, p, time.Now())
	}))
	defer srv.Close()
	r, err := http.Get(srv.URL)
	if err != nil {
		t.Fatal(err)
	}
	b := make([]byte, 64<<10)
	n := 0
	for !strings.Contains(string(b[:n]), `id="firing-title"`) && n < len(b) {
		k, err := r.Body.Read(b[n:])
		if n += k; err != nil {
			break
		}
	}
	if got := string(b[:n]); !strings.Contains(got, `id="firing-title"`) || strings.Contains(got, `id="map-title"`) {
		t.Errorf("the first part is %q", got[max(0, len(got)-300):])
	}
	r.Body.Close()
}

// A live answer leaves the parts to their own addresses, and those answer with
// the element they replace.
func TestSparkPartsAnswer(t *testing.T) {
	h := handler(t)
	quick := live(t, h, "/cars/1/spark?live=1&draws=20&layout=tall&fitting=igbt").Parts["result"]
	for _, p := range sparkParts {
		want := fmt.Sprintf(`<div class="part" id="spark-%s" data-part="/cars/1/spark/%s?condition=hot_idle&amp;fitting=igbt&amp;draws=0" data-later></div>`, p.name, p.name)
		if !strings.Contains(quick, want) {
			t.Errorf("a quick answer does not hold %s", want)
		}
		for _, layout := range []string{"wide", "tall"} {
			r := get(t, h, "/cars/1/spark/"+p.name+"?draws=0&layout="+layout)
			text := body(t, r)
			if r.StatusCode != http.StatusOK || !strings.HasPrefix(text, `<div class="in" id="spark-`+p.name+`-in">`) || strings.Count(text, "<svg xmlns") == 0 {
				t.Errorf("%s: status %d, %.200s", p.name, r.StatusCode, text)
			}
			if strings.Contains(text, "switches-"+map[string]string{"wide": "tall", "tall": "wide"}[layout]) {
				t.Errorf("%s, %s: the other layout is drawn too", p.name, layout)
			}
		}
	}
	if rest := live(t, h, "/cars/1/spark?live=1&draws=500").Parts["result"]; !strings.Contains(rest, "draws=1000") {
		t.Error("at rest the parts are not asked for in full")
	}
	for _, address := range []string{"/cars/1/spark/nothing", "/cars/2/spark/map", "/cars/1/spark/map/more"} {
		if r := get(t, h, address); r.StatusCode != http.StatusNotFound {
			t.Errorf("%s: status %d", address, r.StatusCode)
		}
	}
}

// firingOf reads a trace as the page's script does.
type firingOf struct {
	X struct {
		Unit   string
		Values []float64
	}
	Series []struct {
		Label, Unit, Scale, Origin string
		Values                     []*float64
	}
	Marks []struct {
		X     float64
		Label string
	}
	Show [2]float64
}

func traceAt(t testing.TB, h http.Handler, address string) firingOf {
	t.Helper()
	r := get(t, h, address)
	var f firingOf
	if err := json.NewDecoder(r.Body).Decode(&f); err != nil || r.StatusCode != http.StatusOK {
		t.Fatalf("%s: status %d, %v", address, r.StatusCode, err)
	}
	return f
}

// The trace is one firing: time rises through the opening, the current before
// it is that at the break, the secondary reaches what the plug asks, and what
// happens stands in order.
func TestTraceOfAFiring(t *testing.T) {
	h := handler(t)
	c := demo(t)
	for _, q := range []string{"condition=cold_crank", "condition=hot_idle", "condition=cruise", "condition=top_speed", "condition=cruise&option=feed_before_ballast"} {
		f := traceAt(t, h, "/cars/1/spark/trace.json?"+q)
		values, _ := url.ParseQuery(q)
		tr, err := workshop.Trace(c, values.Get("option"), values.Get("condition"))
		if err != nil {
			t.Fatal(err)
		}
		if f.X.Unit != "ms" || len(f.X.Values) < 500 || len(f.Series) != 3 || f.Show[0] >= 0 || f.Show[1] <= 0 {
			t.Fatalf("%s: unit %s, %d points, %d lines, shown %v", q, f.X.Unit, len(f.X.Values), len(f.Series), f.Show)
		}
		kv, most, before := 0.0, 0.0, 0.0
		for i, x := range f.X.Values {
			if i > 0 && x <= f.X.Values[i-1] {
				t.Fatalf("%s: time falls at %d", q, i)
			}
			for _, s := range f.Series {
				if len(s.Values) != len(f.X.Values) || s.Origin != "predicted" {
					t.Fatalf("%s: %s has %d values, %s", q, s.Label, len(s.Values), s.Origin)
				}
			}
			if x < 0 {
				before = *f.Series[0].Values[i]
			}
			most = math.Max(most, *f.Series[1].Values[i])
			kv = math.Max(kv, math.Abs(*f.Series[2].Values[i]))
		}
		if math.Abs(before-tr.Firing.BreakA) > 0.02*tr.Firing.BreakA {
			t.Errorf("%s: %.4g A before the opening, %.4g at the break", q, before, tr.Firing.BreakA)
		}
		if math.Abs(most-tr.Firing.PrimaryV) > 0.01*tr.Firing.PrimaryV {
			t.Errorf("%s: %.4g V at most, the firing has %.4g", q, most, tr.Firing.PrimaryV)
		}
		if !(kv > 2) {
			t.Errorf("%s: %.3g kV at most", q, kv)
		}
		last := math.Inf(-1)
		var labels []string
		for _, m := range f.Marks {
			if m.X < last {
				t.Errorf("%s: %s stands before the one before it", q, m.Label)
			}
			last = m.X
			labels = append(labels, m.Label)
		}
		all := strings.Join(labels, "; ")
		opens := "points open"
		if strings.Contains(q, "option") {
			opens = "trigger switches off"
		}
		if !strings.Contains(all, opens) || !strings.Contains(all, "plug breaks down") || !strings.Contains(all, "spark goes out") {
			t.Errorf("%s: marks %q", q, all)
		}
		if len(f.Marks) > 8 {
			t.Errorf("%s: %d marks: %q", q, len(f.Marks), all)
		}
	}
	r := get(t, h, "/cars/1/spark/trace.json?condition=key_on_open")
	if text := body(t, r); r.StatusCode != http.StatusConflict || !strings.Contains(text, "nothing fires") {
		t.Errorf("a stopped engine: status %d, %q", r.StatusCode, text)
	}
}

// Happenings without number become a few marks.
func TestManyStrikesAreOneMark(t *testing.T) {
	tr := &spark.Trace{Moments: []firing.Moment{{T: 0, What: firing.Opens}}}
	for i := range 40 {
		at := float64(i+1) * 1e-5
		tr.Moments = append(tr.Moments, firing.Moment{T: at, What: firing.Strikes}, firing.Moment{T: at + 2e-6, What: firing.Breaks}, firing.Moment{T: at + 4e-6, What: firing.GoesOut})
	}
	list := moments(tr, false)
	var names []string
	for _, m := range list {
		names = append(names, fmt.Sprintf("%s %.4f", m.Name, m.At))
	}
	want := "points open 0.0000; contacts strike again, the first of 40 times 0.0100; plug breaks down, the first of 40 times 0.0120; spark goes out for good 0.4040"
	if got := strings.Join(names, "; "); got != want {
		t.Errorf("%s", got)
	}
}

// The bench reaches the spark: a discharged battery takes it away while
// cranking, worn points give less than clean ones at speed.
func TestBenchReachesTheSpark(t *testing.T) {
	h := handler(t)
	fact := func(q, name string) string {
		text := live(t, h, "/cars/1/spark?live=1&draws=20&"+q).Parts["result"]
		_, rest, ok := strings.Cut(text, "<dt>"+name+"</dt><dd><b>")
		if !ok {
			t.Fatalf("%s: no figure %s", q, name)
		}
		v, _, _ := strings.Cut(rest, "</b>")
		return v
	}
	if full, flat := fact("condition=cold_crank&charge=100+%25", "The coil gives"), fact("condition=cold_crank&charge=10+%25", "The coil gives"); !(number(t, flat) < number(t, full)) {
		t.Errorf("a flat battery gives %s, a full one %s", flat, full)
	}
	if a, b := fact("condition=cruise", "The coil gives"), fact("condition=cruise&ballast=2.5+ohm", "The coil gives"); !(number(t, b) < 0.9*number(t, a)) {
		t.Errorf("behind 2.5 ohm of ballast %s, as filed %s", b, a)
	}
	desc := func(q string) string {
		text := body(t, get(t, h, "/cars/1/spark/map?draws=0&layout=wide&"+q))
		_, rest, _ := strings.Cut(text, "<desc")
		d, _, _ := strings.Cut(rest, "</desc>")
		return d
	}
	clean, worn, other := desc("fitting=clean_points"), desc("fitting=worn_points"), desc("fitting=mosfet")
	if clean == worn || clean == other || desc("") != clean {
		t.Error("the switch on the map changes nothing, or the usual is not the one fitted")
	}
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	s, _, _ = strings.Cut(s, " ")
	var v float64
	if _, err := fmt.Sscanf(s, "%g", &v); err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return v
}

// What is looked at stands in the address, follows the bench, and text that
// means nothing is said so.
func TestPicksStandInTheAddress(t *testing.T) {
	h := handler(t)
	a := live(t, h, "/cars/1/spark?live=1&draws=20&fitting=mosfet&rival=worn_points&spike=pulse_2a&ballast=0.9")
	if want := "/cars/1/spark?ballast=0.9&condition=hot_idle&fitting=mosfet&rival=worn_points&spike=pulse_2a"; a.Address != want {
		t.Errorf("address %s", a.Address)
	}
	if !strings.Contains(a.Parts["bench"], "fitting=mosfet") {
		t.Error("putting a figure back as filed forgets what is looked at")
	}
	for _, want := range []string{`<option value="mosfet" selected>`, `<option value="worn_points" selected>`, `<option value="pulse_2a" selected>`} {
		if !strings.Contains(a.Parts["result"], want) {
			t.Errorf("%s is not on the page", want)
		}
	}
	for q, want := range map[string]string{"fitting=valve": "no switch", "rival=%3Cb%3E": "no switch", "spike=lightning": "no spike"} {
		text := body(t, get(t, h, "/cars/1/spark?draws=20&"+q))
		if !strings.Contains(text, want) || strings.Contains(text, "<b>&#34;") {
			t.Errorf("%s: %q is not said", q, want)
		}
	}
}

// sparkCars are cars of every kind, some that can't fire.
func sparkCars(t testing.TB) map[string]*car.Car {
	t.Helper()
	list := map[string]*car.Car{
		"demo":     demo(t),
		"positive": variant(t, "earth: negative", "earth: positive"),
		"six":      variant(t, "voltage: 12 V", "voltage: 6 V", "set_point: 14.45 ± 0.2 V", "set_point: 7.2 ± 0.1 V", "minimum_feed: 7.5 ± 0.2 V", "minimum_feed: 4 ± 0.2 V"),
	}
	for _, k := range []car.SwitchKind{car.Darlington, car.IGBT, car.MOSFET} {
		list[k.String()] = spark.Fit(demo(t), spark.Of(&car.Car{Switch: car.SwitchDefaults(k, 12, 8)}))
	}
	only := func(keep func(k *car.Condition) bool) *car.Car {
		c := demo(t).Clone()
		var kept []car.Condition
		for i := range c.Conditions {
			if keep(&c.Conditions[i]) {
				kept = append(kept, c.Conditions[i])
			}
		}
		c.Conditions = kept
		return c
	}
	list["stopped"] = only(func(k *car.Condition) bool { return k.Engine != car.Running && k.Engine != car.Cranking })
	list["cranked"] = only(func(k *car.Condition) bool { return k.Engine == car.Cranking })
	list["running"] = only(func(k *car.Condition) bool { return k.ID == "cruise" })
	dead := demo(t).Clone()
	dead.Coil.Primary.X = 5000
	list["open coil"] = dead
	wide := demo(t).Clone()
	wide.Switch.Dwell.X = 44
	list["hardly opens"] = wide
	return list
}

// Every kind of car gets a page that says what it can and why it can't, and no
// mistake of the program.
func TestSparkOfEveryKindOfCar(t *testing.T) {
	s, err := New([]string{"demo"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range sparkCars(t) {
		for i, k := range c.Conditions {
			q := url.Values{"condition": {k.ID}, "draws": {"3"}}
			b, _ := workshop.ParseBench(c, q)
			p := newPage(&stages[2], 1, 1, c, b, nil, q, false)
			p.Live = i != 0 // the parts once
			if err := sparkCar(p, c, b, 1); err != nil {
				p.Failed = plainly(err)
			}
			p.Spark.Wait()
			w := httptest.NewRecorder()
			s.write(w, http.StatusOK, "stage", p)
			text := w.Body.String()
			for _, bad := range []string{"NaN", "Inf", "%!", "undrawn", "<no value>"} {
				if strings.Contains(text, bad) {
					_, after, _ := strings.Cut(text, bad)
					t.Errorf("%s %s: the page holds %q: …%.160s", name, k.ID, bad, after)
				}
			}
			turns := k.Engine == car.Running || k.Engine == car.Cranking
			still := strings.Contains(text, "nothing fires") || strings.Contains(text, "Nothing fires")
			if !turns && !still {
				t.Errorf("%s %s: it is not said that nothing fires", name, k.ID)
			}
			if turns && p.Failed == "" && len(p.Spark.Facts) == 0 && !still {
				t.Errorf("%s %s: no figures", name, k.ID)
			}
			if p.Failed != "" {
				t.Logf("%s %s: %s", name, k.ID, p.Failed)
			}
			for _, x := range p.Spark.parts {
				if x.Failed != "" {
					t.Logf("%s %s %s: %s", name, k.ID, x.ID, x.Failed)
				}
			}
			if name == "stopped" {
				break
			}
		}
	}
}

// A figure is written with its unit, its plus-or-minus and a true minus.
func TestHowFiguresAreWritten(t *testing.T) {
	for _, x := range []struct {
		kind units.Kind
		i    spark.Interval
		want string
	}{
		{units.Voltage, spark.Interval{Mid: 26100, Lo: 20000, Hi: 33000}, "26.1 ± 6.5 kV"},
		{units.Time, spark.Interval{Mid: 1.35e-3, Lo: 0.7e-3, Hi: 2e-3}, "1.35 ± 0.65 ms"},
		{units.Energy, spark.Interval{Mid: 23e-3, Lo: 12e-3, Hi: 34e-3}, "23 ± 11 mJ"},
		{units.Ratio, spark.Interval{Mid: 2.69, Lo: 1.6, Hi: 3.8}, "2.7 ± 1.1"},
		{units.Temperature, spark.Interval{Mid: -12, Lo: -12, Hi: -12}, "−12 °C"},
		{units.Ratio, spark.Interval{Mid: math.NaN(), Lo: math.NaN(), Hi: math.NaN()}, "none"},
	} {
		if got := of(x.kind, x.i, units.Metric); got != x.want {
			t.Errorf("%v is written %q, want %q", x.i, got, x.want)
		}
	}
	if got := minus("from -16 V to 40 V, plus-or-minus (-3)"); got != "from −16 V to 40 V, plus-or-minus (−3)" {
		t.Error(got)
	}
}

// A spike's row says what withstands, from the figures beside it.
func TestWhatWithstandsASpike(t *testing.T) {
	seen := func(peak, least float64) spike.Seen {
		s := spike.Seen{RestV: 13, PeakV: peak, LowestV: least}
		if peak > 40 {
			s.AboveS = 1e-3
		}
		if least < -16 {
			s.BelowS = 1e-3
		}
		return s
	}
	k := spike.Cases(demo(t))[0]
	with := func(id string, s spike.Seen) spike.With {
		return spike.With{Protection: spike.Protection{ID: id}, Seen: s}
	}
	r := &spike.Result{Case: k, Limit: spike.Limit{PeakV: 40, LowestV: -16}, Without: seen(80, -2),
		With: []spike.With{with("capacitor", seen(79, -2)), with("clamp", seen(31, 0)), with("both", seen(30, 0)), with("healthy_battery", seen(20, 0))}}
	if row := spikeRowOf(r, false); row.Stands != "clamp is enough" || row.Cells[0].Text != "80.0 V" || !row.Cells[0].bad || row.Cells[2].bad {
		t.Errorf("%+v", row)
	}
	r.Without = seen(20, -90)
	r.With = []spike.With{with("capacitor", seen(20, -80)), with("clamp", seen(20, -28)), with("both", seen(20, -10))}
	if row := spikeRowOf(r, false); row.Stands != "both together are enough" || row.Cells[0].Text != "−90.0 V" {
		t.Errorf("%+v", row)
	}
	r.Without = seen(20, 8)
	if row := spikeRowOf(r, false); row.Stands != "needs nothing" {
		t.Errorf("%+v", row)
	}
}

// What is kept is given again, the oldest goes first, and a mistake is not
// kept.
func TestShelf(t *testing.T) {
	s := new(shelf)
	made := 0
	make1 := func() (int, error) { made++; return made, nil }
	for range 3 {
		if v, err := kept(s, "a", make1); v != 1 || err != nil {
			t.Errorf("%d, %v", v, err)
		}
	}
	for i := range mostKept {
		_, _ = kept(s, fmt.Sprint(i), make1)
	}
	if len(s.kept) != mostKept || len(s.order) != mostKept {
		t.Errorf("%d kept, %d in order", len(s.kept), len(s.order))
	}
	before := made
	if _, _ = kept(s, "a", make1); made != before+1 {
		t.Error("the oldest has not gone")
	}
	if _, err := kept(s, "bad", func() (int, error) { return 0, twin.ErrNoFiring }); err == nil || s.kept["bad"] != nil {
		t.Error("a mistake is kept")
	}
	if v, _ := kept(nil, "a", make1); v != made {
		t.Error("nothing to keep in is not allowed")
	}
}

// A file that changes brings new parts.
func TestPartsFollowTheFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "car.yaml")
	write := func(text string, ahead time.Duration) {
		t.Helper()
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(name, time.Time{}, time.Now().Add(ahead)); err != nil {
			t.Fatal(err)
		}
	}
	write(string(examples.Demo), time.Second)
	h := handler(t, name)
	before := body(t, get(t, h, "/cars/1/spark/map?draws=200&layout=wide"))
	write(strings.Replace(string(examples.Demo), "primary: 1.5 ± 0.05 ohm", "primary: 1.9 ± 0.05 ohm", 1), 2*time.Second)
	if after := body(t, get(t, h, "/cars/1/spark/map?draws=200&layout=wide")); after == before {
		t.Error("the map of the old file is shown")
	}
	write("format: 1\nnonsense: yes\n", 3*time.Second)
	if r := get(t, h, "/cars/1/spark/map"); r.StatusCode != http.StatusUnprocessableEntity {
		t.Errorf("a broken file: status %d", r.StatusCode)
	}
}

// FuzzSpark asks for any part of any bench: an answer in words, and no mistake
// of the program.
func FuzzSpark(f *testing.F) {
	for n, q := range []string{
		"", "condition=key_on_closed", "condition=cold_crank&charge=0.05", "speed=8000&condition=top_speed", "speed=50&condition=cold_crank", "ground=20&ballast=10",
		"bay=-40&units=inch", "fitting=worn_points&rival=x&spike=pulse_1", "set_point=5&charge=5%25", "option=relay_feed&loads_set=1&load=headlamps", "spike=reverse_battery&condition=cruise",
		"draws=3&condition=lunch", "layout=%00&fitting=%ff", "set_point=18&speed=8000&condition=cruise&option=full_voltage_coil",
	} {
		for i := range 2 {
			f.Add(q, uint8(2*n+i))
		}
	}
	h := handler(f)
	f.Fuzz(func(t *testing.T, query string, which uint8) {
		q, err := url.ParseQuery(query)
		if err != nil || len(query) > 600 {
			return
		}
		q.Set("draws", "2")
		q.Set("layout", "wide")
		names := []string{"", "/trace.json", "/map", "/switches", "/drive", "/spikes"}
		name := names[int(which)%len(names)]
		if name == "" {
			q.Set("live", "1")
		}
		r := get(t, h, "/cars/1/spark"+name+"?"+q.Encode())
		if text := body(t, r); r.StatusCode >= 500 || text == "" || strings.Contains(text, "NaN") || strings.Contains(text, "%!") {
			t.Errorf("status %d: %.300s", r.StatusCode, text)
		}
	})
}
