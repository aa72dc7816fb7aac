package web

import (
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"dwellwright/internal/workshop"
)

// plainText is a page without its tags.
func plainText(html string) string {
	return strings.Join(strings.Fields(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(html, " ")), " ")
}

// Both pages are whole for every kind of car, with and without distributor
// sections, as fitted and with a trigger; each figure says where it is from.
func TestFitAndCurveOfEveryKindOfCar(t *testing.T) {
	file := func(name, text string) string {
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	bare := file("bare.yaml", "format: 1\nname: Bare\nsystem: {voltage: 6 V, earth: positive, cylinders: 4}\n")
	reluctor := file("wheel.yaml", "format: 1\nname: Wheel\nsystem: {voltage: 12 V, earth: negative, cylinders: 6}\nswitch: {kind: mosfet}\ntrigger: {principle: reluctance}\n")
	h := handler(t, "demo", "../../examples/skellgate-six.yaml", "../../examples/tillbrook-four.yaml", bare, reluctor)
	for n := 1; n <= 5; n++ {
		for _, query := range []string{"", "option=as_fitted&", "units=inch&turn=12&leads=1&teeth=-1&drawn=2&trigger=3&gap=0.5+mm&axial=-1+mm&lift=1+mm&play=0.2+mm&w=800:6,2500:28&"} {
			for stage, want := range map[string][]string{
				"fit":   {"From above", "Steps to a safe first start", "Heights: rotor", "Caution:", "before top dead centre", "predicted"},
				"curve": {"Timing over engine speed", "The vacuum can", "Total timing over speed and load", "predicted"},
			} {
				address := fmt.Sprintf("/cars/%d/%s?%sdraws=24", n, stage, query)
				r := get(t, h, address)
				text := body(t, r)
				if r.StatusCode != http.StatusOK {
					t.Errorf("%s: status %d", address, r.StatusCode)
				}
				for _, w := range want {
					if !strings.Contains(text, w) {
						t.Errorf("%s does not say %q: %.300s", address, w, plainText(text[strings.Index(text, `id="verdict"`):]))
					}
				}
				for _, bad := range []string{"can't be drawn", "can't be worked out", "NaN", "not a number", "%!", "infinite", "+Inf"} {
					if i := strings.Index(text, bad); i >= 0 {
						t.Errorf("%s: %q in …%s…", address, bad, text[max(0, i-120):min(len(text), i+80)])
					}
				}
			}
		}
	}
}

// What is tried stands in the address and comes back from it, on its own stage
// and carried along on every other.
func TestTriesStandInTheAddress(t *testing.T) {
	h := handler(t)
	q := url.Values{}
	for k, v := range map[string]string{"turn": "-12.5", "leads": "2", "teeth": "-3", "trigger": "4", "sleeve": "-2.25", "drawn": "3",
		"gap": "0.6 mm", "axial": "-0.4 mm", "lift": "1.2 mm", "play": "0.15 mm", "w": "800:8,1500:20.5"} {
		q.Set(k, v)
	}
	for _, st := range stages {
		a := live(t, h, "/cars/1/"+st.ID+"?live=1&draws=16&"+q.Encode())
		u, err := url.Parse(a.Address)
		if err != nil {
			t.Fatal(err)
		}
		for k := range q {
			if got := u.Query().Get(k); got != q.Get(k) {
				t.Errorf("%s: %s=%q comes back as %q", st.ID, k, q.Get(k), got)
			}
			// A form sends it again: a field of the stage's own, or a hidden one.
			if k != "w" && !strings.Contains(a.Parts["bench"], `name="`+k+`"`) {
				t.Errorf("%s: the form has no field %q", st.ID, k)
			}
		}
	}
	// As it stands nothing of it is said.
	if a := live(t, h, "/cars/1/fit?live=1&draws=16&turn=0&leads=0&w="); strings.Contains(a.Address, "turn") || strings.Contains(a.Address, "leads") || strings.Contains(a.Address, "w=") {
		t.Errorf("nothing tried: %s", a.Address)
	}
}

// A figure that can't be used is said at its field, and the page stands.
func TestFitRefusesAtTheField(t *testing.T) {
	h := handler(t)
	for name, text := range map[string]string{"turn": "half way", "leads": "1.5", "teeth": "40", "trigger": "90", "drawn": "-1", "gap": "6 mm", "lift": "2 kg"} {
		a := live(t, h, "/cars/1/fit?live=1&draws=16&"+url.Values{name: {text}}.Encode())
		if !strings.Contains(a.Parts["bench"], `id="`+name+`-wrong"`) || !strings.Contains(a.Parts["bench"], `value="`+text+`"`) {
			t.Errorf("%s=%s is not said at its field", name, text)
		}
		if !strings.Contains(a.Parts["result"], "<svg") {
			t.Errorf("%s=%s: the page has gone", name, text)
		}
	}
}

// A move by hand is answered from what was worked out at rest, and what does
// not hang on it is left out of the answer.
func TestMoveIsAnsweredFromRest(t *testing.T) {
	h := handler(t)
	whole := live(t, h, "/cars/1/fit?live=1&draws=1000&layout=tall")
	if whole.Draws != 1000 {
		t.Fatalf("at rest %d draws", whole.Draws)
	}
	quick := live(t, h, "/cars/1/fit?live=1&draws=16&layout=tall&turn=5")
	if quick.Draws != 1000 {
		t.Errorf("a turn of the housing is answered from %d cars, though 1000 are at hand", quick.Draws)
	}
	if strings.Contains(quick.Parts["result"], "way-1") || len(quick.Parts["result"]) > len(whole.Parts["result"])/2 {
		t.Errorf("a move is answered with %d bytes of %d", len(quick.Parts["result"]), len(whole.Parts["result"]))
	}
	gap := live(t, h, "/cars/1/fit?live=1&draws=16&layout=tall&gap=2+mm")
	if gap.Draws != 16 || !strings.Contains(gap.Parts["result"], "gap-tall") {
		t.Errorf("another gap is answered from %d cars, chart shown: %v", gap.Draws, strings.Contains(gap.Parts["result"], "gap-tall"))
	}
	// Few bytes that keep what is there: the sections are marked.
	if n := strings.Count(quick.Parts["result"], "data-later"); n != 5 {
		t.Errorf("%d sections are left for later, want 5", n)
	}
}

// Blocked, or far too early: the verdict says so and no steps are written for it.
func TestFitVerdictMinds(t *testing.T) {
	h := handler(t)
	// Timing alone does not make it right: 20° bring the timing, and leave the
	// rotor half way to the next tower and the can in the hose.
	for query, want := range map[string]string{"turn=-20": "no room to stand so", "turn=-6": "do not crank", "trigger=-14&turn=-3&teeth=1": "do not crank"} {
		head := plainText(live(t, h, "/cars/1/fit?live=1&draws=150&"+query).Parts["verdict"])
		if !strings.Contains(head, want) || strings.Contains(head, "may be cranked") || strings.Contains(head, "hould catch") {
			t.Errorf("%s: %s", query, head)
		}
	}
	a := live(t, h, "/cars/1/fit?live=1&draws=150&turn=-40")
	head := plainText(a.Parts["verdict"])
	for _, want := range []string{"no room to stand so", "in its way", "early"} {
		if !strings.Contains(head, want) {
			t.Errorf("the verdict does not say %q: %s", want, head)
		}
	}
	if !strings.Contains(a.Parts["result"], "what is tried does not bring it right") {
		t.Error("steps are written for a move that fires 40° early")
	}
	good := live(t, h, "/cars/1/fit?live=1&draws=150&trigger=-14&turn=-6")
	if head := plainText(good.Parts["verdict"]); !strings.Contains(head, "Timing as wanted") || !strings.Contains(head, "may be cranked") || !strings.Contains(head, "in register") {
		t.Errorf("trigger 14° and housing 6° back: %s", head)
	}
	if !strings.Contains(good.Parts["result"], "by what is tried") {
		t.Error("the steps are not those of what is tried")
	}
}

// The wiring looked at is the conversion planned unless the one fitted is
// asked for; with points there is no air gap.
func TestFitLooksAtThePlan(t *testing.T) {
	h := handler(t)
	planned, fitted := body(t, get(t, h, "/cars/1/fit?draws=24")), body(t, get(t, h, "/cars/1/fit?draws=24&option=as_fitted"))
	if !strings.Contains(planned, "The air gap") || strings.Contains(fitted, "The air gap") {
		t.Error("the air gap belongs to the planned trigger, not to the points")
	}
	if !strings.Contains(fitted, "points are fitted in this wiring") {
		t.Error("with points the gap's slider is not said to be off")
	}
	if a := live(t, h, "/cars/1/fit?live=1&draws=16&option=as_fitted"); !strings.Contains(a.Address, "option=as_fitted") {
		t.Errorf("the wiring asked for is lost: %s", a.Address)
	}
}

// Wanted points are read from an address and from a form alike.
func TestWantedPointsAreRead(t *testing.T) {
	c := demo(t)
	address, errs := workshop.ParseWanted(c, url.Values{"w": {"2000:24,800:8.5"}})
	form, more := workshop.ParseWanted(c, url.Values{"wr": {"2000 rpm", "", "800"}, "wd": {"24°", "", "8.5"}})
	if len(errs)+len(more) > 0 || fmt.Sprint(address) != fmt.Sprint(form) || len(form) != 2 || form[0].RPM != 800 {
		t.Errorf("address %v %v, form %v %v", address, errs, form, more)
	}
	if w := workshop.WantedQuery(form); w != "800:8.5,2000:24" {
		t.Errorf("back in the address: %s", w)
	}
	for _, bad := range []string{"800", ":8", "800:x", "50:8", "800:99", "800:8,800:9", "800:8:9", strings.Repeat("1:1,", 40) + "1:1"} {
		if _, errs := workshop.ParseWanted(c, url.Values{"w": {bad}}); len(errs) == 0 {
			t.Errorf("w=%.40s is taken", bad)
		}
	}
	var own []string
	for _, p := range c.Advance.Wanted {
		own = append(own, fmt.Sprintf("%g:%g", p.RPM.X, p.Advance.X))
	}
	if list, errs := workshop.ParseWanted(c, url.Values{"w": {strings.Join(own, ",")}}); list != nil || len(errs) > 0 {
		t.Errorf("the file's own points count as tried: %v %v", list, errs)
	}
}

// Without a wanted curve the one there is can be started from, and then holds.
func TestCurveStartsFromItself(t *testing.T) {
	h := handler(t, "../../examples/skellgate-six.yaml")
	m := regexp.MustCompile(`href="([^"]*)">Start from the curve as it is`).FindStringSubmatch(body(t, get(t, h, "/cars/1/curve?draws=120")))
	if m == nil {
		t.Fatal("nothing to start from")
	}
	text := body(t, get(t, h, strings.ReplaceAll(m[1], "&amp;", "&")+"&draws=120"))
	if !strings.Contains(text, "The curve as it is meets what is wanted") || strings.Contains(text, "Start from the curve as it is") {
		t.Errorf("held against itself: %.400s", plainText(text[strings.Index(text, `id="verdict"`):]))
	}
}

// Whatever an address holds, a page comes.
func FuzzFitAddress(f *testing.F) {
	for _, s := range []string{"turn=5&leads=1", "w=800:8,1500:20", "wr=800&wd=8&wr=&wd=9", "gap=-1 mm&teeth=−2", "drawn=1e9&sleeve=NaN", "turn=°&trigger=+3 deg", "option=as_fitted&play=0"} {
		f.Add(s)
	}
	h := handler(f)
	f.Fuzz(func(t *testing.T, query string) {
		q, err := url.ParseQuery(query)
		if err != nil || len(query) > 600 {
			return
		}
		q.Set("draws", "0")
		for _, stage := range []string{"fit", "curve"} {
			r := get(t, h, "/cars/1/"+stage+"?"+q.Encode())
			if r.StatusCode != http.StatusOK && r.StatusCode != http.StatusRequestURITooLong {
				t.Fatalf("%s?%s: status %d", stage, query, r.StatusCode)
			}
		}
	})
}
