package browsertest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"testing"

	"dwellwright/draw"
)

// firingTrace is an invented firing of n points over 20 ms, in the form the
// page's script reads: the current ramps, the switch opens at 12 ms, the plug
// breaks down 60 µs later, the spark goes out at 13.6 ms and what is left
// rings.
func firingTrace(n int) (ms, amps, volts, kilovolts []float64) {
	for i := range n {
		t := 20 * float64(i) / float64(n-1)
		a, v, k := 0.0, 12.4, 0.0
		switch {
		case t < 4:
		case t < 12:
			a = 7.2 * (1 - math.Exp(-(t-4)/5))
			v = 0.9 + 0.02*a
		case t < 12.06:
			s := math.Sin(math.Pi / 2 * (t - 12) / 0.06)
			a, v, k = 5.7*(1-s*s), 12.4+260*s, -16*s
		case t < 13.6:
			d := t - 12.06
			a, v, k = 0, 42+60*math.Exp(-d/0.08)*math.Cos(2*math.Pi*d/0.05), -1.1-0.4*d*d/2.4
		default:
			d := t - 13.6
			w := math.Exp(-d/0.7) * math.Cos(2*math.Pi*d/0.4)
			v, k = 12.4+34*w, -2.1*w
		}
		ms, amps, volts, kilovolts = append(ms, t), append(amps, a), append(volts, v), append(kilovolts, k)
	}
	return
}

// tracePage serves a page with one zoomable trace under the workshop's own
// policy, styles and scripts.
func (s *site) tracePage(t *testing.T, points int) *site {
	t.Helper()
	r, err := http.Get(s.address + "/static/page.css")
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	policy := r.Header.Get("Content-Security-Policy")
	if policy == "" {
		t.Fatal("the workshop has no policy to test under")
	}
	ms, amps, volts, kilovolts := firingTrace(points)
	var picture bytes.Buffer
	chart := func(name, unit string, values []float64) draw.StackChart {
		return draw.StackChart{Y: draw.Axis{Label: name, Unit: unit}, Series: []draw.Series{{Name: name, X: ms, Y: values, Origin: draw.Predicted}}}
	}
	scene, err := draw.Stack(draw.StackSpec{Title: "One firing", X: draw.Axis{Label: "time", Unit: "ms"},
		Charts:  []draw.StackChart{chart("primary current", "A", amps), chart("primary voltage", "V", volts), chart("secondary", "kV", kilovolts)},
		Moments: []draw.Moment{{Name: "switch closes", At: 4}, {Name: "switch opens", At: 12}, {Name: "plug breaks down", At: 12.06}, {Name: "spark goes out", At: 13.6}}})
	if err != nil {
		t.Fatal(err)
	}
	if err := draw.WriteSVG(&picture, scene, draw.SVGOptions{IDPrefix: "firing"}); err != nil {
		t.Fatal(err)
	}
	type line struct {
		Label  string    `json:"label"`
		Unit   string    `json:"unit"`
		Scale  string    `json:"scale"`
		Values []float64 `json:"values"`
		PM     float64   `json:"pm"`
		Origin string    `json:"origin"`
	}
	answer, err := json.Marshal(map[string]any{
		"x": map[string]any{"label": "time", "unit": "ms", "values": ms},
		"series": []line{
			{"primary current", "A", "A", amps, 0.2, "predicted"},
			{"primary voltage", "V", "V", volts, 0, "predicted"},
			{"secondary", "kV", "kV", kilovolts, 0, "predicted"},
		},
		"marks": []map[string]any{{"x": 4, "label": "switch closes"}, {"x": 12, "label": "switch opens"}, {"x": 12.06, "label": "plug breaks down"}, {"x": 13.6, "label": "spark goes out"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	there, err := url.Parse(s.address)
	if err != nil {
		t.Fatal(err)
	}
	mux := http.NewServeMux()
	proxy := &httputil.ReverseProxy{Rewrite: func(r *httputil.ProxyRequest) { r.SetURL(there) }}
	mux.Handle("GET /static/", proxy)
	give := func(kind string, body []byte) http.HandlerFunc {
		return func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Security-Policy", policy)
			w.Header().Set("Content-Type", kind)
			_, _ = w.Write(body)
		}
	}
	page := func(address string) []byte {
		return fmt.Appendf(nil, `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>One firing</title><link rel="icon" href="/static/icon.svg" type="image/svg+xml">
<link rel="stylesheet" href="/static/tones.css"><link rel="stylesheet" href="/static/page.css">
<link rel="stylesheet" href="/static/uPlot.min.css"><link rel="stylesheet" href="/static/trace.css">
<script src="/static/theme.js"></script><script defer src="/static/uPlot.iife.min.js"></script><script type="module" src="/static/trace.js"></script></head>
<body><main><section class="sheet"><h1>One firing</h1><p>Above the trace.</p>
<figure data-trace="%s"><div class="picture">%s</div><figcaption>One firing of an invented coil.</figcaption></figure>
<p id="foot">Below the trace.</p></section></main></body></html>`, address, picture.Bytes())
	}
	mux.HandleFunc("GET /{$}", give("text/html; charset=utf-8", page("/trace.json")))
	mux.HandleFunc("GET /wrong", give("text/html; charset=utf-8", page("/wrong.json")))
	mux.HandleFunc("GET /trace.json", give("application/json", answer))
	mux.HandleFunc("GET /other.json", give("application/json", bytes.Replace(answer, []byte("plug breaks down"), []byte("the plug breaks down"), 1)))
	mux.HandleFunc("GET /wrong.json", give("application/json", []byte(`{"x":{"label":"time","unit":"ms","values":[0,1]},"series":[{"label":"a","unit":"V","scale":"V","values":[1]}],"marks":[]}`)))
	srv := httptest.NewServer(mux)
	t.Cleanup(srv.Close)
	return &site{address: srv.URL, browser: s.browser}
}
