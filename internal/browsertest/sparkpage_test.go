package browsertest

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// openSpark opens the stage Spark and waits until its parts and its trace
// stand.
func openSpark(t *testing.T, sc screen, theme, query string) *tab {
	t.Helper()
	p := open(t).visit(t, sc, theme, "/cars/1/spark?"+query)
	p.whole()
	return p
}

// whole waits until every part shows what the bench says.
func (p *tab) whole() {
	p.t.Helper()
	p.settle()
	p.wait(`document.documentElement.dataset.parts === "whole" && !document.querySelector(".part.stale") && [...document.querySelectorAll(".part")].every(e => e.firstElementChild)`)
}

// desc is what a picture says, in the layout that is shown.
func (p *tab) desc(within string) string {
	p.t.Helper()
	return eval[string](p, fmt.Sprintf(`[...document.querySelectorAll(%q + " svg[role=img]")].find(s => s.checkVisibility())?.querySelector("desc").textContent ?? ""`, within))
}

// choose picks from a list as a person does.
func (p *tab) choose(id, value string) {
	p.t.Helper()
	p.moving()
	eval[bool](p, fmt.Sprintf(`(() => { const s = document.getElementById(%q); s.value = %q; s.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`, id, value))
	p.answered()
}

// Another condition brings another verdict and another firing; one with the
// engine stopped has none, and going back brings it again.
func TestSparkFollowsTheCondition(t *testing.T) {
	for _, sc := range []screen{phone, laptop} {
		p := openSpark(t, sc, "light", "condition=hot_idle")
		p.wait(`document.querySelector("figure.traced .traces")?.dataset.to`)
		idle := p.shown()
		if !(idle.From < 0 && idle.From > -2 && idle.To > 0.3 && idle.To < 6) {
			t.Errorf("%s: at first %v ms is shown", sc.name, idle)
		}
		marks := `document.querySelector(".traces .steps").innerText`
		if got := eval[string](p, marks); !strings.Contains(got, "points open") || !strings.Contains(got, "plug breaks down") || !strings.Contains(got, "spark goes out") {
			t.Errorf("%s: marks %q", sc.name, got)
		}
		head := `document.querySelector("#verdict .head").textContent`
		if got := eval[string](p, head); !strings.Contains(got, "in hot idle") || !strings.Contains(got, "±") {
			t.Errorf("%s: verdict %q", sc.name, got)
		}
		mapped := p.desc("#spark-map")
		click := func(id string) {
			p.moving()
			eval[bool](p, fmt.Sprintf(`document.querySelector("input[name=condition][value=%s]").click() === undefined`, id))
			p.answered()
			p.whole()
		}
		click("cold_crank")
		if got := eval[string](p, head); !strings.Contains(got, "in cold crank") {
			t.Errorf("%s: verdict %q", sc.name, got)
		}
		p.wait(`document.querySelector("figure[data-trace]").dataset.trace.includes("cold_crank") && document.querySelector(".traces .steps").innerText.includes("contacts strike again")`)
		if crank := p.shown(); crank == idle {
			t.Errorf("%s: the same stretch is shown", sc.name)
		}
		if p.desc("#spark-map") != mapped {
			t.Errorf("%s: the map depends on the condition looked at", sc.name)
		}
		click("key_on_open")
		if !eval[bool](p, `!document.querySelector("figure[data-trace]") && document.getElementById("result").innerText.includes("nothing fires") && document.querySelector("#verdict .head").textContent.includes("Nothing fires in")`) {
			t.Errorf("%s: a stopped engine: %s", sc.name, eval[string](p, head))
		}
		p.shoot("spark-"+sc.name+"-stopped", false)
		click("hot_idle")
		p.wait(`document.querySelector("figure.traced .traces .u-over")`)
		if got := p.shown(); !near(got.To, idle.To) {
			t.Errorf("%s: back again %v is shown, at first %v", sc.name, got, idle)
		}
		p.quiet()
	}
}

// A slider moves everything: while it moves what is in sight, at rest all of
// it, with the plus-or-minus.
func TestSparkFollowsASlider(t *testing.T) {
	for _, sc := range []screen{phone, laptop} {
		p := openSpark(t, sc, "light", "condition=hot_idle")
		hand := `document.querySelector(".facts-of dd b").textContent`
		before, parts := eval[string](p, hand), map[string]string{}
		for _, id := range []string{"#spark-map", "#spark-switches", "#spark-drive"} {
			parts[id] = p.desc(id)
			if parts[id] == "" {
				t.Fatalf("%s: %s has no picture", sc.name, id)
			}
		}
		if !strings.Contains(parts["#spark-map"], "±") {
			t.Errorf("%s: the map has no plus-or-minus: %.200s", sc.name, parts["#spark-map"])
		}
		eval[bool](p, `document.getElementById("map-title").scrollIntoView() === undefined`)
		p.slide("ballast", "2.2")
		p.wait(fmt.Sprintf(`[...document.querySelectorAll("#spark-map svg desc")].every(d => d.textContent !== %q)`, parts["#spark-map"]))
		p.whole()
		if got := eval[string](p, hand); got == before {
			t.Errorf("%s: spark in hand is still %s", sc.name, got)
		}
		for id, was := range parts {
			if p.desc(id) == was {
				t.Errorf("%s: %s has not changed", sc.name, id)
			}
		}
		if got := p.desc("#spark-map"); !strings.Contains(got, "±") {
			t.Errorf("%s: at rest the map has no plus-or-minus: %.200s", sc.name, got)
		}
		if !eval[bool](p, `document.activeElement.dataset.moves === "ballast"`) {
			t.Errorf("%s: the slider has lost the focus", sc.name)
		}
		p.shoot("spark-"+sc.name+"-map", false)
		p.quiet()
	}
}

// The switch on the map, the switch compared and the spike drawn are chosen
// and stand in the address.
func TestSparkChoices(t *testing.T) {
	for _, sc := range []screen{phone, laptop} {
		p := openSpark(t, sc, "light", "condition=hot_idle")
		before := p.desc("#spark-map")
		p.choose("fitting", "mosfet")
		p.whole()
		if got := eval[string](p, `document.querySelector("#spark-map").innerText`); !strings.Contains(got, "MOSFET") || p.desc("#spark-map") == before {
			t.Errorf("%s: the map is still %.120s", sc.name, p.desc("#spark-map"))
		}
		p.choose("rival", "worn_points")
		p.whole()
		if got := eval[string](p, `document.querySelector("#spark-switches").innerText`); !strings.Contains(got, "Worn points against clean points") || !strings.Contains(got, "Why, in hot idle") {
			t.Errorf("%s: switches: %.300s", sc.name, got)
		}
		p.choose("spike", "pulse_3b")
		p.whole()
		if got := eval[string](p, `document.querySelector("#spark-spikes").innerText`); !strings.Contains(got, "Test pulse 3b") {
			t.Errorf("%s: spikes: %.300s", sc.name, got)
		}
		search := eval[string](p, "location.search")
		for _, want := range []string{"fitting=mosfet", "rival=worn_points", "spike=pulse_3b"} {
			if !strings.Contains(search, want) {
				t.Errorf("%s: address %s", sc.name, search)
			}
		}
		eval[bool](p, `document.querySelector("#spark-spikes summary").click() === undefined`)
		p.slide("ground", "-1")
		p.whole()
		if !eval[bool](p, `document.querySelector("#spark-spikes details").open && document.getElementById("spike").value === "pulse_3b"`) {
			t.Errorf("%s: what was opened is shut, or the choice is lost", sc.name)
		}
		p.quiet()
	}
}

// The firing is zoomed by keys and by fingers, and the zoom stays while a
// slider moves.
func TestSparkTraceIsZoomed(t *testing.T) {
	p := openSpark(t, laptop, "light", "condition=cruise")
	p.wait(`document.querySelector("figure.traced .traces")?.dataset.to`)
	first := p.shown()
	eval[bool](p, `document.querySelector(".traces .field").focus() === undefined`)
	p.run(chromedp.KeyEvent("+"))
	if got := p.shown(); !near(got.width(), first.width()/2) {
		t.Errorf("+ shows %v after %v", got, first)
	}
	p.run(chromedp.KeyEvent("0"))
	whole := p.shown()
	if !(whole.width() > 3*first.width()) {
		t.Errorf("0 shows %v, first was %v: there is nothing to pan to", whole, first)
	}
	eval[bool](p, `document.querySelector(".traces button[aria-label='Back to the start']").click() === undefined`)
	if got := p.shown(); got != first {
		t.Errorf("back to the start shows %v, want %v", got, first)
	}
	p.run(chromedp.KeyEvent(kb.Tab)) // the focus is where it was
	eval[bool](p, `[...document.querySelectorAll(".traces .steps button")].find(b => b.textContent.includes("plug breaks down")).click() === undefined`)
	p.wait(`/primary voltage .* V predicted; secondary voltage .* kV predicted/.test(document.querySelector(".traces .read").textContent)`)
	eval[bool](p, `document.querySelector(".traces button[aria-label='Zoom in']").click() === undefined`)
	zoomed := p.shown()
	p.slide("charge", "40")
	p.whole()
	if got := p.shown(); !near(got.From, zoomed.From) || !near(got.To, zoomed.To) {
		t.Errorf("a slider moved what is shown from %v to %v", zoomed, got)
	}
	p.shoot("spark-laptop-zoomed", false)
	p.quiet()

	s := open(t)
	p = s.visit(t, phone, "light", "/cars/1/spark?condition=cruise")
	p.run(chromedp.EmulateViewport(phone.width, phone.height, chromedp.EmulateMobile, chromedp.EmulateTouch))
	p.goTo("/cars/1/spark?condition=cruise")
	p.whole()
	p.wait(`document.querySelector("figure.traced .traces")?.dataset.to`)
	eval[bool](p, `document.querySelector(".traces .field").scrollIntoView({block: "start"}) === undefined && scrollBy(0, -140) === undefined`)
	first = p.shown()
	f := p.field()
	mid, y := f.X+f.W/2, f.Y+f.H/2
	p.touch("touchStart", y, mid-30)
	p.touch("touchStart", y, mid-30, mid+30)
	for i := 1; i <= 6; i++ {
		p.touch("touchMove", y, mid-30-float64(10*i), mid+30+float64(10*i))
	}
	p.touch("touchEnd", y)
	if got := p.shown(); !(got.width() < 0.5*first.width()) {
		t.Errorf("two fingers apart show %v after %v", got, first)
	}
	p.shoot("spark-phone-touch", false)
	p.quiet()
}

// Without a script everything is there, the lists have a button, and on paper
// the still picture of the firing is printed.
func TestSparkWithoutAScript(t *testing.T) {
	s := open(t)
	p := s.visit(t, laptop, "light", "/cars/1/prove?condition=hot_idle")
	p.run(disableScripts())
	p.run(chromedp.Navigate(s.address+"/cars/1/spark?condition=hot_idle"), chromedp.WaitVisible(chromedp.CSS("#spark-spikes svg")))
	p.run(chromedp.WaitVisible(chromedp.CSS("figure svg")), chromedp.WaitVisible(chromedp.CSS("#spark-map svg")), chromedp.WaitVisible(chromedp.CSS("#spark-switches svg")), chromedp.WaitVisible(chromedp.CSS("#spark-drive svg")))
	p.run(chromedp.SendKeys(chromedp.CSS("#spike"), "Test pulse 2a"), chromedp.Click(chromedp.CSS("#spike + button")))
	where := ""
	for end := time.Now().Add(15 * time.Second); !strings.Contains(where, "spike=pulse_2a"); time.Sleep(20 * time.Millisecond) {
		var err error
		if where, err = chromedp.Run(p.ctx, chromedp.Location()); err != nil || time.Now().After(end) {
			t.Fatalf("address %s, %v", where, err)
		}
	}
	p.run(chromedp.WaitVisible(chromedp.CSS("#spark-spikes svg")))
	p.shoot("spark-scriptless", true)

	for _, sc := range []screen{laptop, phone} {
		p = openSpark(t, sc, "light", "condition=hot_idle")
		p.wait(`document.querySelector("figure.traced")`)
		p.run(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
			return err
		}))
		if !eval[bool](p, `[...document.querySelectorAll("figure .picture svg")].some(s => s.checkVisibility()) && !document.querySelector(".traces").checkVisibility()`) {
			t.Errorf("%s: on paper the still picture is not shown, or the panels are", sc.name)
		}
		if !eval[bool](p, `[...document.querySelectorAll(".part")].every(e => [...e.querySelectorAll("svg[role=img]")].some(s => s.checkVisibility()))`) {
			t.Errorf("%s: a part has no picture on paper", sc.name)
		}
	}
}

// A part that can't be had is said so in its place, and comes back.
func TestSparkSaysWhatItCannot(t *testing.T) {
	p := openSpark(t, phone, "light", "condition=hot_idle")
	eval[bool](p, `(() => { const real = window.realFetch = fetch; window.fetch = (at, how) => String(at).includes("/spark/map") ? Promise.reject(new Error("gone")) : real(at, how); return true; })()`)
	p.choose("fitting", "igbt")
	p.wait(`document.querySelector("#spark-map .wrong")?.textContent.includes("This can't be shown")`)
	eval[bool](p, `window.fetch = window.realFetch, true`)
	p.choose("fitting", "mosfet")
	p.wait(`!document.querySelector("#spark-map .wrong") && document.querySelector("#spark-map").innerText.includes("MOSFET")`)
}

// How long from a move of a slider to the figures, to the map that is in
// sight, and to all of it at rest. Printed, judged only beyond the absurd.
func TestSparkIsQuick(t *testing.T) {
	p := openSpark(t, laptop, "light", "condition=hot_idle")
	eval[bool](p, `document.getElementById("map-title").scrollIntoView() === undefined`)
	type took struct{ Figures, Map, Rest []float64 }
	got := eval[took](p, `(async () => {
		const slider = document.querySelector("[data-moves=ballast]"), page = document.documentElement;
		const map = () => document.querySelector("#spark-map-in .wide").innerHTML.length + document.querySelector("#spark-map desc").textContent;
		const until = async (f) => { while (!f()) await new Promise(r => setTimeout(r, 1)); };
		const out = {Figures: [], Map: [], Rest: []};
		for (let i = 0; i < 8; i++) {
			const was = map();
			slider.value = 0.5 + 0.13 * i;
			delete page.dataset.answered;
			const start = performance.now(), since = () => performance.now() - start;
			slider.dispatchEvent(new Event("input", {bubbles: true}));
			await until(() => page.dataset.answered);
			out.Figures.push(since());
			await until(() => map() !== was);
			out.Map.push(since());
			await until(() => page.dataset.answered === "settled" && page.dataset.parts === "whole" && !document.querySelector(".part.stale"));
			out.Rest.push(since());
		}
		return out;
	})()`)
	for _, x := range []struct {
		name string
		ms   []float64
		most float64
	}{{"figures", got.Figures, 3000}, {"map in sight", got.Map, 5000}, {"all of it, with 300 ms of rest before", got.Rest, 15000}} {
		slices.Sort(x.ms)
		m := x.ms[len(x.ms)/2]
		t.Logf("from a move to the %s: %.0f ms (slowest %.0f)", x.name, m, x.ms[len(x.ms)-1])
		if m > x.most {
			t.Errorf("%s: %.0f ms", x.name, m)
		}
	}
	p.quiet()
}
