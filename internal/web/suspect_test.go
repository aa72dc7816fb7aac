package web

import (
	"encoding/json"
	"fmt"
	"log"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/internal/workshop"
	"dwellwright/suspect"
	"dwellwright/units"
)

var smallBank = sync.OnceValues(func() (*suspect.Bank, error) {
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		return nil, err
	}
	return suspect.Prepare(c, suspect.Settings{Draws: 6, Seed: 1})
})

// suspectHandler serves the demo car with a small bank that is ready.
func suspectHandler(t testing.TB) http.Handler {
	t.Helper()
	b, err := smallBank()
	if err != nil {
		t.Fatal(err)
	}
	s, err := New([]string{"demo"}, strings.NewReader(""))
	if err != nil {
		t.Fatal(err)
	}
	u := &workup{key: "1 " + edition(1), began: time.Now(), ready: make(chan struct{}), looks: map[string]*look{}, total: 1, bank: b}
	close(u.ready)
	s.workups.list = append(s.workups.list, u)
	return s.Handler("80", log.New(t.Output(), "", 0))
}

func visit(t testing.TB, h http.Handler, address string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, "http://localhost"+address, nil)
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// A form's answer goes into the address; what cannot be taken stays out of it,
// is said, and what was typed is kept.
func TestAnswersGoIntoTheAddress(t *testing.T) {
	h := suspectHandler(t)
	for _, x := range []struct{ form, want string }{
		{"ask=coil_feed_closed&do=figure&say=5.9&unit=V", "coil_feed_closed:5.9 V"},
		{"ask=coil_feed_closed&say=12.6+V&unit=mV", "coil_feed_closed:12.6 V"},
		{"ask=ballast_ohms&do=figure&say=0.2+±+0.05&unit=ohm", "ballast_ohms:0.2 ± 0.05 ohm"},
		{"ask=ballast_ohms&do=figure&say=0.2+±+10+%25&unit=ohm", "ballast_ohms:0.2 ohm ± 10 %"},
		{"ask=rotor_leak_ohms&do=figure&say=>500&unit=Mohm", "rotor_leak_ohms:>500 Mohm"},
		{"ask=points_arc&do=yes", "points_arc:yes"},
		{"ask=points_arc&do=no", "points_arc:no"},
		{"ask=points_arc&do=cannot", "points_arc:cannot"},
		{"ask=points_arc&do=leave", "points_arc:leave"},
		{"do=done&mend=renew_ballast&then=still", "done:renew_ballast:still"},
	} {
		w := visit(t, h, "/cars/1/suspect?c=no_start&r=points_gap:leave&"+strings.ReplaceAll(x.form, "±", "%C2%B1"))
		if w.Code != http.StatusSeeOther {
			t.Errorf("%s: status %d", x.form, w.Code)
			continue
		}
		u, err := url.Parse(w.Header().Get("Location"))
		if err != nil {
			t.Fatal(err)
		}
		got := u.Query()["r"]
		if len(got) != 2 || got[0] != "points_gap:leave" || got[1] != x.want || u.Query().Get("c") != "no_start" || u.Query().Has("say") {
			t.Errorf("%s: %v, want %q", x.form, u.Query(), x.want)
		}
	}
	for form, says := range map[string]string{
		"ask=coil_feed_closed&do=figure&say=&unit=V":      "Nothing stands in the field",
		"ask=coil_feed_closed&do=figure&say=5+ohm&unit=V": "ohm",
		"ask=coil_feed_closed&do=figure&say=9000&unit=V":  "impossible",
	} {
		w := visit(t, h, "/cars/1/suspect?"+form)
		text := w.Body.String()
		if w.Code != http.StatusOK || !strings.Contains(text, `role="alert"`) || !strings.Contains(text, says) || strings.Contains(text, "--read") {
			t.Errorf("%s: status %d, says %q", form, w.Code, text[max(0, strings.Index(text, `role="alert"`)):][:200])
		}
	}
	w := visit(t, h, "/cars/1/suspect?r=nonsense:5&r=coil_feed_closed:5.9+V&c=points_arc")
	if text := w.Body.String(); !strings.Contains(text, "Left out") || !strings.Contains(text, "nonsense") || !strings.Contains(text, "5.9") {
		t.Error("what of the address can't be used is not said")
	}
}

// A car that is being worked out says how far it is, and takes complaints.
func TestPreparingIsShown(t *testing.T) {
	s, err := New([]string{"demo"}, strings.NewReader(""))
	if err != nil {
		t.Fatal(err)
	}
	u := &workup{key: "1 " + edition(1), ready: make(chan struct{}), total: 200}
	u.done.Store(50)
	s.workups.list = append(s.workups.list, u)
	text := visit(t, s.Handler("80", log.New(t.Output(), "", 0)), "/cars/1/suspect?c=no_start").Body.String()
	for _, want := range []string{"25 %", `http-equiv="refresh"`, `value="no_start" id="c-no_start" checked`, "local codes"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q while it is worked out", want)
		}
	}
}

// Every card has its cautions before the work, where it goes, what a car in
// order shows, and a way to answer.
func TestEveryCardIsWhole(t *testing.T) {
	h := suspectHandler(t)
	b, _ := smallBank()
	pictures := 0
	for _, m := range b.Measures {
		r := visit(t, h, "/cars/1/suspect?live=quick&units=inch&ask="+m.ID)
		var a answer
		if err := json.Unmarshal(r.Body.Bytes(), &a); err != nil {
			t.Fatal(err)
		}
		_, card, ok := strings.Cut(a.Parts["case"], `data-reading="`+m.ID+`"`)
		if !ok {
			t.Errorf("%s has no card", m.ID)
			continue
		}
		card, _, _ = strings.Cut(card, "</section>")
		if strings.Contains(card, "undrawn") {
			t.Errorf("%s: its picture can't be drawn", m.ID)
		}
		if strings.Contains(card, `class="leads"`) {
			pictures++
		} else if strings.Contains(m.Probes, "red lead on") && strings.Contains(m.Probes, "; black") {
			t.Errorf("%s: no picture of %s", m.ID, m.Probes)
		}
		for _, hz := range m.Hazards {
			if i := strings.Index(card, capital(hz.String())+":"); i < 0 || i > strings.Index(card, `class="steps"`) {
				t.Errorf("%s: no caution of %s before the steps", m.ID, hz)
			}
		}
		for _, want := range []string{"A car in order", `name="ask" value="` + m.ID + `"`, `value="leave"`} {
			if !strings.Contains(card, want) {
				t.Errorf("%s: no %q", m.ID, want)
			}
		}
		if m.Observation != strings.Contains(card, `value="yes"`) || m.Observation == strings.Contains(card, `data-key="7"`) {
			t.Errorf("%s: the wrong way to answer", m.ID)
		}
		if strings.Contains(card, "NaN") || strings.Contains(card, "Inf") {
			t.Errorf("%s shows what is no number", m.ID)
		}
	}
	if pictures < 40 {
		t.Errorf("%d pictures of %d readings", pictures, len(b.Measures))
	}
}

// Whatever stands in an address is told or taken, and what is taken comes back
// as it was.
func FuzzSaid(f *testing.F) {
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		f.Fatal(err)
	}
	for _, s := range []string{"coil_feed_closed:5.9 V", "points_arc:no", "done:renew_ballast:gone", "done::", ":", "rotor_leak_ohms:>500 Mohm", "coil_feed_closed:5:6", "no_start:yes", "plate_ohms:0.2 ± 0.05 ohm"} {
		f.Add(s, s, "V")
	}
	f.Fuzz(func(t *testing.T, r, say, unit string) {
		s := parseSaid(c, url.Values{"r": {r}, "c": {r}})
		if len(s.Entries)+len(s.Wrong) == 0 {
			t.Fatalf("%q is neither taken nor told", r)
		}
		q := url.Values{}
		s.add(q)
		if again := parseSaid(c, q); len(again.Wrong) > 0 || fmt.Sprint(again.Entries) != fmt.Sprint(s.Entries) {
			t.Fatalf("%q came back as %v, %q", r, again.Entries, again.Wrong)
		}
		e, ok, wrong := answered(c, url.Values{"ask": {"coil_feed_closed"}, "do": {"figure"}, "say": {say}, "unit": {unit}})
		if ok == (wrong != "") {
			t.Fatalf("%q: taken %v, told %q", say, ok, wrong)
		}
		if ok {
			if _, err := entryOf(c, written(e)); err != nil {
				t.Fatalf("%q was taken and can't be read again: %v", say, err)
			}
		}
	})
}

func TestWithUnit(t *testing.T) {
	for _, x := range []struct {
		kind       units.Kind
		text, unit string
		want       string
	}{
		{units.Voltage, "12.6", "V", "12.6 V"}, {units.Voltage, "12.6 V", "mV", "12.6 V"}, {units.Voltage, "12.6", "ohm", "12.6"},
		{units.Temperature, "80", "°F", "80 °F"}, {units.CrankAngle, "-8", "°", "-8 °"}, {units.Resistance, "0.2 ± 0.05 ohm", "kohm", "0.2 ± 0.05 ohm"},
		{units.Length, "0.4 +/- 0.02", "mm", "0.4 ± 0.02 mm"}, {units.Count, "4", "", "4"},
	} {
		if got := withUnit(x.kind, x.text, x.unit); got != x.want {
			t.Errorf("%q in %s: %q, want %q", x.text, x.unit, got, x.want)
		}
	}
}

// What the server spends on an answer, with a bank as large as the page's:
// weighed, the next reading chosen, and written out.
func BenchmarkSuspectAnswer(b *testing.B) {
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		b.Fatal(err)
	}
	began := time.Now()
	bank, err := suspect.Prepare(c, suspect.Settings{Seed: 1, Each: workshop.Parallel(2)})
	if err != nil {
		b.Fatal(err)
	}
	b.Logf("the bank took %.1f s", time.Since(began).Seconds())
	s, err := New([]string{"demo"}, strings.NewReader(""))
	if err != nil {
		b.Fatal(err)
	}
	u := &workup{key: "1 " + edition(1), ready: make(chan struct{}), looks: map[string]*look{}, total: 1, bank: bank}
	close(u.ready)
	s.workups.list = append(s.workups.list, u)
	h := s.Handler("80", log.New(b.Output(), "", 0))
	n := 0
	for b.Loop() {
		b.StopTimer()
		n++
		visit(b, h, fmt.Sprintf("/cars/1/suspect?live=quick&c=misses_speed&r=coil_feed_closed:%d.%02d+V", 5+n%3, n%100))
		b.StartTimer()
		visit(b, h, fmt.Sprintf("/cars/1/suspect?live=quick&c=misses_speed&r=coil_feed_closed:%d.%02d+V&r=plate_earth_drop:0.3+V", 5+n%3, n%100))
	}
}
