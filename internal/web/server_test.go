package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
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
	"dwellwright/internal/workshop"
)

const port = "8747"

// handler serves cars to a test; what it logs fails the test.
func handler(t testing.TB, cars ...string) http.Handler {
	t.Helper()
	if len(cars) == 0 {
		cars = []string{"demo"}
	}
	s, err := New(cars, strings.NewReader(""))
	if err != nil {
		t.Fatal(err)
	}
	return s.Handler(port, log.New(complain{t}, "", 0))
}

type complain struct{ t testing.TB }

func (c complain) Write(b []byte) (int, error) {
	c.t.Errorf("logged: %s", b)
	return len(b), nil
}

// get asks for an address as the browser on this machine would.
func get(t testing.TB, h http.Handler, address string) *http.Response {
	t.Helper()
	return ask(h, httptest.NewRequest("GET", address, nil))
}

func ask(h http.Handler, r *http.Request) *http.Response {
	if r.Host == "example.com" { // what httptest says where nobody says another
		r.Host = "127.0.0.1:" + port
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

func body(t testing.TB, r *http.Response) string {
	t.Helper()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestEveryRouteAnswers(t *testing.T) {
	h := handler(t)
	for address, want := range map[string]int{
		"/":                         http.StatusSeeOther,
		"/cars/1/":                  http.StatusSeeOther,
		"/cars/1/found?draws=20":    http.StatusOK,
		"/cars/1/plan?draws=20":     http.StatusOK,
		"/cars/1/prove?draws=20":    http.StatusOK,
		"/cars/1/spark?draws=20":    http.StatusOK,
		"/cars/1/spark/map?draws=0": http.StatusOK,
		"/cars/1/spark/trace.json":  http.StatusOK,
		"/cars/1/spark/else":        http.StatusNotFound,
		"/cars/1/spark/":            http.StatusNotFound,
		"/static/spark.css":         http.StatusOK,
		"/static/parts.js":          http.StatusOK,
		"/static/trace.js":          http.StatusOK,
		"/static/uPlot.iife.min.js": http.StatusOK,
		"/static/uPlot.min.css":     http.StatusOK,
		"/cars/1/stamp":             http.StatusOK,
		"/static/page.css":          http.StatusOK,
		"/static/bench.css":         http.StatusOK,
		"/static/stages.css":        http.StatusOK,
		"/static/tones.css":         http.StatusOK,
		"/static/theme.js":          http.StatusOK,
		"/static/choose.js":         http.StatusOK,
		"/static/workshop.js":       http.StatusOK,
		"/static/ask.js":            http.StatusOK,
		"/static/patch.js":          http.StatusOK,
		"/static/slider.js":         http.StatusOK,
		"/static/icon.svg":          http.StatusOK,
		"/static/nothing.js":        http.StatusNotFound,
		"/cars/2/found":             http.StatusNotFound,
		"/cars/0/prove":             http.StatusNotFound,
		"/cars/-1/plan":             http.StatusNotFound,
		"/cars/x/found":             http.StatusNotFound,
		"/cars/9/stamp":             http.StatusNotFound,
		"/cars/2/":                  http.StatusNotFound,
		"/cars/1/elsewhere":         http.StatusNotFound,
		"/wp-login":                 http.StatusNotFound,
		"/static/../server.go":      http.StatusTemporaryRedirect, // to the cleaned path, which there is not
	} {
		r := get(t, h, address)
		if r.StatusCode != want {
			t.Errorf("%s: status %d, want %d", address, r.StatusCode, want)
		}
		if got := r.Header.Get("Content-Security-Policy"); got != policy {
			t.Errorf("%s: policy %q", address, got)
		}
		if r.Header.Get("X-Content-Type-Options") != "nosniff" || r.Header.Get("Referrer-Policy") != "no-referrer" {
			t.Errorf("%s: nosniff or no-referrer is missing", address)
		}
	}
}

// What a page loads is on this server, and nothing in it needs an exception
// from the policy.
func TestPagesKeepToThePolicy(t *testing.T) {
	for _, word := range []string{"unsafe", "*", "http"} {
		if strings.Contains(policy, word) {
			t.Errorf("the policy holds %q", word)
		}
	}
	h := handler(t, "demo", "missing.yaml")
	for _, address := range []string{"/", "/cars/1/found?draws=20", "/cars/1/plan?draws=20", "/cars/1/spark?draws=20", "/cars/1/spark/drive?draws=0", "/cars/1/prove?draws=20", "/cars/2/found", "/cars/9/found"} {
		text := body(t, get(t, h, address))
		for _, bad := range []string{"<style", "style=\"", "onclick", "onload", "javascript:", "src=\"http", "href=\"http", "url("} {
			if strings.Contains(text, bad) {
				t.Errorf("%s holds %q", address, bad)
			}
		}
		if strings.Contains(text, "<script>") {
			t.Errorf("%s holds an inline script", address)
		}
		if !strings.Contains(address, "spark/") && !strings.HasPrefix(text, "<!doctype html>") || !strings.Contains(address, "spark/") && !strings.Contains(text, `<html lang="en">`) {
			t.Errorf("%s does not say what it is", address)
		}
	}
}

func TestOnlyOwnHostIsAnswered(t *testing.T) {
	h := handler(t)
	for host, want := range map[string]int{
		"127.0.0.1:8747":      http.StatusOK,
		"localhost:8747":      http.StatusOK,
		"LOCALHOST:8747":      http.StatusOK,
		"[::1]:8747":          http.StatusOK,
		"127.0.0.1:8748":      http.StatusForbidden,
		"127.0.0.1":           http.StatusForbidden,
		"localhost":           http.StatusForbidden,
		"workshop.test:8747":  http.StatusForbidden,
		"localhost.test:8747": http.StatusForbidden,
		"127.0.0.1.test:8747": http.StatusForbidden,
		"[::2]:8747":          http.StatusForbidden,
		"192.168.1.5:8747":    http.StatusForbidden,
		"":                    http.StatusForbidden,
		"localhost:8747:8747": http.StatusForbidden,
	} {
		r := httptest.NewRequest("GET", "/static/page.css", nil)
		r.Host = host
		if got := ask(h, r).StatusCode; got != want {
			t.Errorf("host %q: status %d, want %d", host, got, want)
		}
	}
}

func TestNothingCanBeSent(t *testing.T) {
	h := handler(t)
	for _, method := range []string{"POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "CONNECT"} {
		r := httptest.NewRequest(method, "/cars/1/found", strings.NewReader("x=1"))
		if got := ask(h, r); got.StatusCode != http.StatusMethodNotAllowed || got.Header.Get("Allow") != "GET, HEAD" {
			t.Errorf("%s: status %d, allow %q", method, got.StatusCode, got.Header.Get("Allow"))
		}
	}
	long := get(t, h, "/cars/1/found?ground="+strings.Repeat("1", 8000))
	if long.StatusCode != http.StatusRequestURITooLong {
		t.Errorf("long address: status %d", long.StatusCode)
	}
}

func TestPanicIsAnswered(t *testing.T) {
	var logged strings.Builder
	h := guard(port, log.New(&logged, "", 0), http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("boom") }))
	r := get(t, h, "/")
	if r.StatusCode != http.StatusInternalServerError || strings.Contains(body(t, r), "boom") {
		t.Errorf("status %d; what went wrong is for the terminal", r.StatusCode)
	}
	if !strings.Contains(logged.String(), "boom") {
		t.Error("nothing was logged")
	}
}

// Nothing but a loopback address is listened on.
func TestListenRefusesTheNetwork(t *testing.T) {
	for _, host := range []string{"0.0.0.0", "::", "192.168.1.5", "workshop.test", "127.0.0.2", "*"} {
		l, err := Listen(host, 0)
		if err == nil {
			l.Close()
			t.Errorf("%s is listened on", host)
		} else if !strings.Contains(err.Error(), "127.0.0.1") {
			t.Errorf("%s: %v does not say what is accepted", host, err)
		}
	}
	if _, err := Listen("localhost", 70000); err == nil {
		t.Error("port 70000 is accepted")
	}
	l, err := Listen("", 0)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if !strings.HasPrefix(Address(l), "http://127.0.0.1:") {
		t.Errorf("address %s", Address(l))
	}
	// A port that is taken: another is found when none was asked for.
	m, err := Listen("", 0)
	if err != nil {
		t.Fatal(err)
	}
	defer m.Close()
	if Address(l) == Address(m) {
		t.Errorf("both are at %s", Address(l))
	}
}

// A figure that can't be used is said so at its field, with what would be
// accepted, and the page stands.
func TestBadFiguresAreSaidAtTheirField(t *testing.T) {
	h := handler(t)
	for query, want := range map[string]string{
		"ground=lots":          `id="ground-wrong"`,
		"ground=-3+ohm":        `id="ground-wrong"`,
		"ground=1+mohm":        "housing clamp and earth cable alone",
		"ballast=3+V":          `id="ballast-wrong"`,
		"bay=900+%C2%B0C":      `id="bay-wrong"`,
		"speed=1e99":           `id="speed-wrong"`,
		"set_point=NaN":        `id="set_point-wrong"`,
		"charge=140+%25":       `id="charge-wrong"`,
		"condition=lunch":      "is not a condition of this car",
		"option=magic":         "magic",
		"draws=999999":         "a whole number from 0 to 5000",
		"loads_set=1&load=tea": "is not a load of this car",
	} {
		r := get(t, h, "/cars/1/found?draws=20&"+strings.TrimPrefix(query, "draws=20&"))
		if strings.HasPrefix(query, "draws=") {
			r = get(t, h, "/cars/1/found?"+query)
		}
		text := body(t, r)
		if r.StatusCode != http.StatusOK || !strings.Contains(text, want) {
			t.Errorf("%s: status %d, %q not found", query, r.StatusCode, want)
		}
		if strings.Contains(text, "undrawn") {
			t.Errorf("%s: a picture is missing", query)
		}
	}
}

// Text from an address never becomes markup.
func TestTextFromTheAddressIsEscaped(t *testing.T) {
	h := handler(t)
	for _, field := range []string{"ground", "condition", "option", "load", "draws", "bay", "units", "for"} {
		q := url.Values{field: {`"><script>alert(1)</script>`}, "loads_set": {"1"}}
		if field != "draws" {
			q.Set("draws", "20")
		}
		text := body(t, get(t, h, "/cars/1/found?"+q.Encode()))
		if strings.Contains(text, "<script>alert") {
			t.Errorf("%s comes through as it is", field)
		}
	}
}

func live(t testing.TB, h http.Handler, address string) answer {
	t.Helper()
	r := get(t, h, address)
	var a answer
	if err := json.NewDecoder(r.Body).Decode(&a); err != nil || r.StatusCode != http.StatusOK {
		t.Fatalf("%s: status %d, %v", address, r.StatusCode, err)
	}
	return a
}

func TestLiveAnswer(t *testing.T) {
	h := handler(t)
	for _, st := range stages {
		a := live(t, h, "/cars/1/"+st.ID+"?live=1&draws=24&ground=0.35&condition=hot_idle")
		for _, id := range parts {
			if !strings.Contains(a.Parts[id], `id="`+id+`"`) {
				t.Errorf("%s: part %s does not hold its element", st.ID, id)
			}
		}
		if a.Draws != 24 || a.Edition == "" || a.Title == "" || a.Say == "" {
			t.Errorf("%s: %+v", st.ID, a)
		}
		if want := "/cars/1/" + st.ID + "?condition=hot_idle&ground=0.35"; a.Address != want {
			t.Errorf("address %s, want %s", a.Address, want)
		}
		if !strings.Contains(a.Parts["bench"], "Tried: ground path 0.35 Ω. The car file is unchanged.") {
			t.Errorf("%s does not say what is tried", st.ID)
		}
	}
}

// The bench reaches the physics: a bad earth fails the ground row, and a
// ballast next to nothing feeds a trigger behind it as well as one before.
func TestBenchReachesTheSheet(t *testing.T) {
	h := handler(t)
	row := func(query, id string) string {
		text := live(t, h, "/cars/1/prove?live=1&draws=100&"+query).Parts["result"]
		_, after, ok := strings.Cut(text, `id="row-`+id+`"`)
		if !ok {
			t.Fatalf("%s: no row %s", query, id)
		}
		before, _, _ := strings.Cut(after, "</tr>")
		return before
	}
	const short = `class="cell short"`
	if got := row("", "ground_path"); strings.Contains(got, short) {
		t.Error("the ground path of the demo car falls short as filed")
	}
	if got := row("ground=0.5+ohm", "ground_path"); !strings.Contains(got, short) {
		t.Error("half an ohm of ground path does not fall short")
	}
	if got := row("option=feed_behind_ballast", "trigger_feed"); !strings.Contains(got, short) {
		t.Error("a trigger fed behind the ballast does not fall short")
	}
	if got := row("option=feed_behind_ballast&ballast=0.05+ohm", "trigger_feed"); strings.Contains(got, short) {
		t.Error("with next to no ballast a trigger fed behind it still falls short")
	}
}

func TestFileThatChangesIsReadAgain(t *testing.T) {
	name := filepath.Join(t.TempDir(), "car.yaml")
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		// A clock with coarse steps may give two writes the same time.
		if err := os.Chtimes(name, time.Time{}, time.Now().Add(time.Duration(len(text))*time.Second)); err != nil {
			t.Fatal(err)
		}
	}
	h := handler(t, name)
	if r := get(t, h, "/cars/1/found"); r.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(body(t, r), "there is no such file") {
		t.Errorf("a file that is not there: status %d", r.StatusCode)
	}
	write(string(examples.Demo))
	first := body(t, get(t, h, "/cars/1/stamp"))
	if r := get(t, h, "/cars/1/found?draws=20"); r.StatusCode != http.StatusOK {
		t.Errorf("a good file: status %d", r.StatusCode)
	}
	if again := body(t, get(t, h, "/cars/1/stamp")); again != first {
		t.Errorf("%q, then %q, though nothing changed", first, again)
	}
	write(strings.Replace(string(examples.Demo), "voltage: 12 V", "voltage: 13 V", 1) + "\ncolour: red\n")
	before, _, _ := strings.Cut(string(examples.Demo), "voltage: 12 V")
	line := 1 + strings.Count(before, "\n")
	r := get(t, h, "/cars/1/prove")
	text := body(t, r)
	if r.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(text, "2 things to put right") ||
		!strings.Contains(text, fmt.Sprintf("car.yaml:%d:", line)) || !strings.Contains(text, "<b>system.voltage</b>") || !strings.Contains(text, "Accepted:") {
		t.Errorf("a broken file: status %d\n%s", r.StatusCode, text)
	}
	if r := get(t, h, "/cars/1/prove?live=1"); r.StatusCode != http.StatusUnprocessableEntity {
		t.Errorf("live on a broken file: status %d", r.StatusCode)
	}
	if now := body(t, get(t, h, "/cars/1/stamp")); now == first {
		t.Error("the stamp of a changed file is the same")
	}
	write(strings.Replace(string(examples.Demo), "Harrowmere Eight", "Harrowmere Nine", 1))
	if text := body(t, get(t, h, "/cars/1/found?draws=20")); !strings.Contains(text, "Harrowmere Nine") {
		t.Error("a mended file is not read again")
	}
}

func TestSeveralCarsHaveAnIndex(t *testing.T) {
	h := handler(t, "demo", "nowhere.yaml")
	r := get(t, h, "/")
	text := body(t, r)
	if r.StatusCode != http.StatusOK || !strings.Contains(text, "/cars/1/found") || !strings.Contains(text, "/cars/2/found") || !strings.Contains(text, "see what is wrong") {
		t.Errorf("status %d\n%s", r.StatusCode, text)
	}
	if _, err := New(nil, nil); err == nil {
		t.Error("no car at all is accepted")
	}
}

// A reading counts as measured, in words and sign; one that decides no cell
// is listed with the reason.
func TestReadingsAreShownAsMeasured(t *testing.T) {
	name := filepath.Join(t.TempDir(), "car.yaml")
	text := string(examples.Demo) + `
readings:
  - {at: [breaker_plate, battery_earth], instrument: ohmmeter, value: 0.03 ohm, leads_nulled: yes}
  - {at: [body, housing], instrument: voltmeter, condition: cruise, value: 0.02 V}
`
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	r := get(t, handler(t, name), "/cars/1/prove?draws=50")
	page := body(t, r)
	if r.StatusCode != http.StatusOK {
		t.Fatalf("status %d\n%s", r.StatusCode, page)
	}
	_, row, _ := strings.Cut(page, `id="row-ground_path"`)
	row, _, _ = strings.Cut(row, "</tr>")
	for _, want := range []string{`class="cell holds"`, `class="tag measured"`, "<span class=\"unseen\">measured</span>", "The model expects", "car.yaml:"} {
		if !strings.Contains(row, want) {
			t.Errorf("the ground path's cell does not hold %q", want)
		}
	}
	_, loose, _ := strings.Cut(page, `id="loose-title"`)
	if !strings.Contains(loose, "body to housing") || !strings.Contains(loose, "no row of the sheet is read there") {
		t.Errorf("the loose reading is not listed: %s", loose)
	}
}

// A bench with which the circuit can't be worked out is said so on the page.
func TestWhatCannotBeWorkedOut(t *testing.T) {
	s, err := New([]string{"demo"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	st := stage{ID: "found", Name: "As found", work: func(*page, *car.Car, workshop.Bench, int) error {
		return errors.New("no operating point")
	}}
	r := httptest.NewRequest("GET", "/cars/1/found", nil)
	r.SetPathValue("n", "1")
	w := httptest.NewRecorder()
	s.stage(w, r, &st)
	if got := w.Body.String(); w.Code != http.StatusOK || !strings.Contains(got, "Put something back as filed") || !strings.Contains(got, "no operating point") {
		t.Errorf("status %d\n%s", w.Code, got)
	}
}

// A request that has gone does not wait its turn.
func TestLongCalculationsTakeTurns(t *testing.T) {
	s, err := New([]string{"demo"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	s.heavy <- struct{}{} // one is under way
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r := httptest.NewRequest("GET", "/cars/1/found?draws=1000", nil).WithContext(ctx)
	r.SetPathValue("n", "1")
	w := httptest.NewRecorder()
	s.stage(w, r, &stages[0])
	if w.Body.Len() > 0 {
		t.Error("it was worked out all the same")
	}
	r = httptest.NewRequest("GET", "/cars/1/found?draws=20", nil)
	r.SetPathValue("n", "1")
	w = httptest.NewRecorder()
	s.stage(w, r, &stages[0])
	if w.Code != http.StatusOK || w.Body.Len() == 0 {
		t.Error("a quick one has to wait")
	}
}

// Serve stops when it is told to.
func TestServeStops(t *testing.T) {
	s, err := New([]string{"demo"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	l, err := Listen("", 0)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error)
	go func() { done <- s.Serve(ctx, l, log.New(complain{t}, "", 0)) }()
	r, err := http.Get(Address(l) + "static/icon.svg")
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if r.StatusCode != http.StatusOK {
		t.Errorf("status %d", r.StatusCode)
	}
	cancel()
	if err := <-done; err != nil {
		t.Error(err)
	}
}
