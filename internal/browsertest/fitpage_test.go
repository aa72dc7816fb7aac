package browsertest

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/examples"
	"dwellwright/fit"
)

// hand moves a pointer in a page: a finger on a phone, else a mouse.
type hand struct {
	p      *tab
	finger bool
}

// handOn gives the hand for a screen; on a phone the page is loaded anew with
// touch.
func handOn(p *tab, sc screen, path string) hand {
	if sc != phone {
		return hand{p, false}
	}
	p.run(chromedp.EmulateViewport(sc.width, sc.height, chromedp.EmulateMobile, chromedp.EmulateTouch))
	p.goTo(path)
	return hand{p, true}
}

func (h hand) do(what string, x, y float64) {
	h.p.t.Helper()
	if h.finger {
		kind := map[string]input.DispatchTouchEventType{"down": "touchStart", "move": "touchMove", "up": "touchEnd"}[what]
		if what == "up" {
			h.p.touch(kind, y)
			return
		}
		h.p.touch(kind, y, x)
		return
	}
	kind := map[string]input.DispatchMouseEventType{"down": "mousePressed", "move": "mouseMoved", "up": "mouseReleased"}[what]
	h.p.run(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: kind, X: x, Y: y, Button: "left", Buttons: 1, ClickCount: 1})
		return err
	}))
}

// place is a point of the screen.
type place struct{ X, Y float64 }

// middle is the middle of an element on the screen, brought into sight.
func (p *tab) middle(css string) place {
	p.t.Helper()
	return eval[place](p, fmt.Sprintf(`(() => { const e = [...document.querySelectorAll(%q)].find(e => e.checkVisibility()); e.scrollIntoView({block: "center"}); const r = e.getBoundingClientRect(); return {X: r.left + r.width / 2, Y: r.top + r.height / 2}; })()`, css))
}

// shaft is where the shaft stands on the screen.
func (p *tab) shaft() place {
	return eval[place](p, `(() => { const e = [...document.querySelectorAll(".gripped")].find(e => e.checkVisibility()); const r = e.getBoundingClientRect(); return {X: r.left + r.width * e.dataset.x / e.dataset.w, Y: r.top + r.height * e.dataset.y / e.dataset.h}; })()`)
}

// turned is a point turned clockwise about another.
func (a place) turned(about place, deg float64) place {
	s, c := math.Sincos(deg * math.Pi / 180)
	x, y := a.X-about.X, a.Y-about.Y
	return place{about.X + x*c - y*s, about.Y + x*s + y*c}
}

// fact is what a read-out of the stage shows.
func (p *tab) fact(name string) string {
	p.t.Helper()
	return eval[string](p, fmt.Sprintf(`[...document.querySelectorAll(".facts-of > div")].find(d => d.querySelector("dt").textContent === %q)?.querySelector("dd").innerText.replaceAll("\n", " ") ?? ""`, name))
}

// number reads the figure a text begins with.
func number(t *testing.T, text string) float64 {
	t.Helper()
	var x float64
	if _, err := fmt.Sscanf(strings.ReplaceAll(text, "−", "-"), "%g", &x); err != nil {
		t.Fatalf("%q does not begin with a number", text)
	}
	return x
}

// demoFit is the fit that the page shows, worked out beside it.
func demoFit(t *testing.T) *fit.Fit {
	t.Helper()
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		t.Fatal(err)
	}
	f, err := fit.Compute(c, fit.Settings{Draws: 0, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The can is dragged by a finger and by a mouse: it goes along at once,
// without an answer of the server, and then timing, room and address follow.
// 30 degrees anticlockwise, against a clockwise rotor, are 60 crank degrees
// earlier, and leave the rotor where it is.
func TestFitCanIsDragged(t *testing.T) {
	for _, sc := range []screen{phone, laptop} {
		t.Run(sc.name, func(t *testing.T) {
			p := open(t).visit(t, sc, "light", "/cars/1/fit")
			h := handOn(p, sc, "/cars/1/fit")
			p.settle()
			before, rotor := p.fact("Timing"), p.fact("Rotor at the spark")
			if !strings.Contains(before, "after top dead centre") {
				t.Fatalf("timing of the demo car: %q", before)
			}
			at := p.middle(".grip[data-grip=turn]")
			about := p.shaft()
			eval[bool](p, `window.real = window.fetch, window.fetch = () => new Promise(() => {}), true`)
			h.do("down", at.X, at.Y)
			half := at.turned(about, -15)
			h.do("move", half.X, half.Y)
			p.wait(`[...document.querySelectorAll("svg > g[id$='-can']")].some(g => /rotate\(-1[45]/.test(g.getAttribute("transform") ?? ""))`)
			if !eval[bool](p, `[...document.querySelectorAll("svg > g[id^='top-'][id*='-obstacle-']")].every(g => !g.hasAttribute("transform"))`) {
				t.Error("what stands in the way turns with the housing")
			}
			eval[bool](p, `window.fetch = window.real, delete document.documentElement.dataset.answered, true`)
			for i := 16; i <= 30; i += 2 {
				q := at.turned(about, -float64(i))
				h.do("move", q.X, q.Y)
			}
			h.do("up", 0, 0)
			p.settle()
			turn := number(t, eval[string](p, `document.getElementById("turn").value`))
			if math.Abs(turn+30) > 1 {
				t.Errorf("dragged by 30° anticlockwise the field says %v", turn)
			}
			if got := eval[string](p, "location.search"); !strings.Contains(got, fmt.Sprintf("turn=%g", turn)) {
				t.Errorf("address %s", got)
			}
			after := p.fact("Timing")
			was, is := number(t, before), number(t, after)
			if !strings.Contains(after, "before top dead centre") || math.Abs(is-(-was-2*turn)) > 0.15 {
				t.Errorf("timing %q after %q, turned by %v", after, before, turn)
			}
			if got := p.fact("Rotor at the spark"); got != rotor {
				t.Errorf("turning the housing moved the rotor's phase from %q to %q", rotor, got)
			}
			if eval[bool](p, `[...document.querySelectorAll("svg > g")].some(g => g.hasAttribute("transform"))`) {
				t.Error("at rest something is still turned by the script")
			}
			if got := p.fact("Room to turn"); !strings.Contains(got, "in the way") {
				t.Errorf("the can is in the hose, and the page says %q", got)
			}
			if sc == phone && eval[float64](p, "scrollY") < 10 {
				t.Error("the page was scrolled to the picture and has gone back")
			}
			p.shoot("fit-"+sc.name+"-dragged", false)
			p.quiet()
		})
	}
}

// The trigger is dragged along its plate: the rotor's phase goes with it.
func TestFitTriggerIsDragged(t *testing.T) {
	for _, sc := range []screen{phone, laptop} {
		p := open(t).visit(t, sc, "light", "/cars/1/fit")
		h := handOn(p, sc, "/cars/1/fit")
		p.settle()
		before := number(t, p.fact("Rotor at the spark"))
		at := p.middle(".grip[data-grip=trigger]")
		about := p.shaft()
		p.moving()
		h.do("down", at.X, at.Y)
		for i := 2; i <= 14; i += 2 {
			q := at.turned(about, -float64(i))
			h.do("move", q.X, q.Y)
		}
		h.do("up", 0, 0)
		p.settle()
		by := number(t, eval[string](p, `document.getElementById("trigger").value`))
		if math.Abs(by+14) > 2 {
			t.Errorf("%s: dragged by 14° the field says %v", sc.name, by)
		}
		if after := number(t, p.fact("Rotor at the spark")); math.Abs(after-before-by) > 0.11 {
			t.Errorf("%s: phase %v after %v, trigger moved by %v", sc.name, after, before, by)
		}
		p.quiet()
	}
}

// All of it is worked by keys: sliders, steps and "try it".
func TestFitByKeys(t *testing.T) {
	p := open(t).visit(t, laptop, "light", "/cars/1/fit")
	p.settle()
	before := number(t, p.fact("Timing"))
	eval[bool](p, `document.querySelector("[data-moves=turn]").focus() === undefined`)
	p.moving()
	p.run(chromedp.KeyEvent(strings.Repeat(kb.ArrowLeft, 10)))
	p.settle()
	if got := number(t, p.fact("Timing")); math.Abs(got-(before-10)) > 0.11 {
		t.Errorf("5° anticlockwise by keys: timing %v after, was %v", got, before)
	}
	if !eval[bool](p, `document.activeElement.dataset.moves === "turn"`) {
		t.Error("the slider has lost the focus")
	}
	eval[bool](p, `document.querySelector("button[data-for=leads][data-step='-1']").focus() === undefined`)
	p.moving()
	p.run(chromedp.KeyEvent(kb.Enter))
	p.settle()
	if got := eval[string](p, `document.getElementById("leads").value`); got != "-1" {
		t.Errorf("leads one back: %q", got)
	}
	if got := p.desc("#top-wide-held"); !strings.Contains(got, "moved back by one tower") {
		t.Errorf("the picture does not say that the leads moved: %.300s", got)
	}
	// The eight's towers are 45 distributor degrees apart, 90 of the crank.
	if got := p.fact("Timing"); math.Abs(number(t, got)-(90-(before-10))) > 0.11 || !strings.Contains(got, "before") {
		t.Errorf("leads one tower back: timing %q", got)
	}
	eval[bool](p, `document.querySelector(".way [data-try]").focus() === undefined`)
	p.moving()
	p.run(chromedp.KeyEvent(kb.Enter))
	p.settle()
	if got := p.fact("Timing"); !strings.HasPrefix(got, "8.0") || !strings.Contains(got, "before") {
		t.Errorf("the first way back gives %q", got)
	}
	if got := eval[string](p, `document.querySelector("#verdict .head").textContent`); !strings.Contains(got, "as wanted") || !strings.Contains(got, "in register") {
		t.Errorf("verdict of the first way: %q", got)
	}
	if !eval[bool](p, `document.querySelector("#way-1").innerText.includes("In the picture now")`) {
		t.Error("the way tried is not marked")
	}
	p.moving()
	p.run(chromedp.Click(chromedp.CSS(`#tried a.reset`)))
	p.settle()
	if got := number(t, p.fact("Timing")); got != before {
		t.Errorf("all put back: timing %v, was %v", got, before)
	}
	p.quiet()
}

// measure reads a figure of a served picture: mean direction, least and
// greatest distance from the shaft of a group's outline, and its length, all
// by the picture's own scale bar, mm.
type measured struct{ Deg, Near, Far, Length float64 }

func (p *tab) measure(css string) measured {
	p.t.Helper()
	return eval[measured](p, fmt.Sprintf(`(() => {
		const g = document.querySelector(%q), box = g.closest(".gripped");
		const outline = g.matches("g") ? g.querySelector("path, polygon, polyline, circle, rect, line") : g;
		const cx = +box.dataset.x, cy = +box.dataset.y, n = 4000, whole = outline.getTotalLength();
		const bar = box.querySelector("g[id$='-scale-bar'] polyline, g[id$='-scale-bar'] path, g[id$='-scale-bar'] line");
		const mm = bar.getBBox().width / parseFloat(box.querySelector("g[id$='-scale-bar'] text").textContent);
		let s = 0, c = 0, near = 1e9, far = 0;
		for (let i = 0; i < n; i++) {
			const q = outline.getPointAtLength(whole * i / n), r = Math.hypot(q.x - cx, q.y - cy);
			s += (q.x - cx) / r; c += -(q.y - cy) / r;
			near = Math.min(near, r); far = Math.max(far, r);
		}
		return {Deg: (Math.atan2(s, c) * 180 / Math.PI + 360) %% 360, Near: near / mm, Far: far / mm, Length: whole / mm};
	})()`, css))
}

// The picture is to scale: towers, rotor, can and arrow of the served SVG are
// measured with its own scale bar and held against the geometry, worked out
// beside the page by the equations of package distributor's comment.
func TestFitPictureIsToScale(t *testing.T) {
	f := demoFit(t)
	for _, sc := range []screen{phone, laptop} {
		p := open(t).visit(t, sc, "light", "/cars/1/fit?turn=-20&drawn=0")
		id := map[screen]string{phone: "#top-tall", laptop: "#top-wide"}[sc]
		p.settle()
		rig := f.Rig.Apply(distributor.Move{Housing: -20})
		s := float64(rig.Rotation)
		apart := func(a, b float64) float64 { return math.Abs(math.Mod(a-b+540, 360) - 180) }
		for k := range rig.Towers {
			m := p.measure(fmt.Sprintf("%s-tower-%d", id, k+1))
			if want := math.Mod(rig.Housing+rig.FirstTower+s*rig.Towers[k]+720, 360); apart(m.Deg, want) > 0.25 {
				t.Errorf("%s: tower %d stands at %.2f°, want %.2f°", sc.name, k+1, m.Deg, want)
			}
			if math.Abs(m.Near-1e3*rig.ElectrodeRadiusM) > 0.25 {
				t.Errorf("%s: electrode %d at %.2f mm, want %.2f", sc.name, k+1, m.Near, 1e3*rig.ElectrodeRadiusM)
			}
		}
		tip := p.measure(id + "-rotor")
		gap := p.measure(id+"-tower-1").Near - tip.Far
		if want := 1e3 * (rig.ElectrodeRadiusM - rig.TipRadiusM); math.Abs(gap-want) > 0.12 {
			t.Errorf("%s: rotor gap %.2f mm in the picture, want %.2f", sc.name, gap, want)
		}
		fire := rig.Fire(f.Timing.Centrifugal/2, 0)[0]
		blade := p.measure(id + "-rotor path:nth-of-type(2)") // the brass at the tip
		if want := math.Mod(rig.Housing+fire.Rotor+720, 360); apart(blade.Deg, want) > 0.4 {
			t.Errorf("%s: the tip stands at %.2f°, want %.2f°", sc.name, blade.Deg, want)
		}
		can := p.measure(id + "-can")
		if want := math.Mod(rig.Housing+720, 360); apart(can.Deg, want) > 1.5 {
			t.Errorf("%s: the can stands at %.2f°, want %.2f°", sc.name, can.Deg, want)
		}
		// The arrow is as long as the housing is turned at the clamp: 20° at
		// 33 mm are 11.52 mm.
		arrow := p.measure(id + "-turn")
		said := number(t, p.fact("At the clamp"))
		if want := 20 * math.Pi / 180 * 33; math.Abs(arrow.Length-want) > 0.1 || math.Abs(said-want) > 0.06 {
			t.Errorf("%s: the arrow is %.2f mm long, the page says %.2f, want %.2f", sc.name, arrow.Length, said, want)
		}
		p.quiet()
	}
}

// Gap and heights have sliders: the chance, the side view and the words
// follow.
func TestFitGapAndHeights(t *testing.T) {
	p := open(t).visit(t, laptop, "light", "/cars/1/fit")
	p.settle()
	chance, side := p.fact("Air gap now"), p.desc("#side-part")
	p.slide("gap", "3")
	p.settle()
	if got := p.fact("Air gap now"); got == chance || !strings.HasPrefix(got, "3 mm") {
		t.Errorf("a gap of 3 mm: %q", got)
	}
	if got := p.desc("#side-part"); got == side || !strings.Contains(got, "3 mm") {
		t.Errorf("the side view is as before: %.200s", got)
	}
	if got := eval[string](p, `document.getElementById("gap-part").innerText`); !strings.Contains(got, "towards the shaft") {
		t.Errorf("nothing is said of the slot: %.300s", got)
	}
	p.slide("lift", "4")
	p.settle()
	if got := p.fact("Free under the cap"); !strings.Contains(got, "falls short") {
		t.Errorf("a rotor 4 mm high: free under the cap %q", got)
	}
	if got := eval[string](p, "location.search"); !strings.Contains(got, "gap=3+mm") || !strings.Contains(got, "lift=4+mm") {
		t.Errorf("address %s", got)
	}
	// What is tried goes along to another stage and back.
	p.goTo(eval[string](p, `new URL([...document.querySelectorAll("#stages a")].find(a => a.textContent === "Prove").href).pathname + new URL([...document.querySelectorAll("#stages a")].find(a => a.textContent === "Prove").href).search`))
	p.slide("ballast", "0.5")
	if got := eval[string](p, "location.search"); !strings.Contains(got, "gap=3+mm") {
		t.Errorf("on another stage what is tried is lost: %s", got)
	}
	p.quiet()
}

// Without a script the page is whole, and the form works.
func TestFitWithoutAScript(t *testing.T) {
	s := open(t)
	p := s.visit(t, laptop, "light", "/cars/1/prove?condition=hot_idle")
	p.run(disableScripts())
	p.run(chromedp.Navigate(s.address+"/cars/1/fit"), chromedp.WaitVisible(chromedp.CSS("#top-wide-held svg")),
		chromedp.WaitVisible(chromedp.CSS("#way-1")), chromedp.WaitVisible(chromedp.CSS("#side-part svg")), chromedp.WaitVisible(chromedp.CSS("#gap-part svg")), chromedp.WaitVisible(chromedp.CSS(".order")))
	p.run(chromedp.SendKeys(chromedp.CSS("#turn"), "-12.5"), chromedp.SendKeys(chromedp.CSS("#leads"), "1"), chromedp.Click(chromedp.CSS("#bench .update")))
	where := ""
	for end := time.Now().Add(15 * time.Second); !strings.Contains(where, "turn=-12.5"); time.Sleep(20 * time.Millisecond) {
		var err error
		if where, err = chromedp.Run(p.ctx, chromedp.Location()); err != nil || time.Now().After(end) {
			t.Fatalf("address %s, %v", where, err)
		}
	}
	p.run(chromedp.WaitVisible(chromedp.CSS("#top-wide-turn")), chromedp.WaitVisible(chromedp.CSS("#top-wide-leads")))
	p.shoot("fit-scriptless", true)
}

// How long from a move of a slider to the picture. Printed, judged only beyond
// the absurd.
func TestFitIsQuick(t *testing.T) {
	for _, x := range []struct {
		stage, what, js string
	}{
		{"fit", "housing slider", `(i) => { const s = document.querySelector("[data-moves=turn]"); s.value = i; s.dispatchEvent(new Event("input", {bubbles: true})); }`},
		{"fit", "air gap slider", `(i) => { const s = document.querySelector("[data-moves=gap]"); s.value = 0.4 + 0.05 * i; s.dispatchEvent(new Event("input", {bubbles: true})); }`},
		{"curve", "wanted point", `(i) => { document.getElementById("wd-3").value = 12 + 0.25 * i; document.dispatchEvent(new Event("dw-moved")); }`},
	} {
		for _, sc := range []screen{phone, laptop} {
			p := open(t).visit(t, sc, "light", "/cars/1/"+x.stage)
			p.settle()
			type took struct{ Whole, Server []float64 }
			got := eval[took](p, fmt.Sprintf(`(async () => {
				const move = %s, page = document.documentElement, out = {Whole: [], Server: []}, real = window.fetch;
				window.fetch = async (...a) => { const r = await real(...a); const j = r.json.bind(r); r.json = async () => { const v = await j(); out.Server.push(v.ms); return v; }; return r; };
				for (let i = 1; i <= 4 + %d; i++) {
					delete page.dataset.answered;
					const start = performance.now();
					move(i);
					while (!page.dataset.answered) await new Promise(r => setTimeout(r, 1));
					document.body.offsetHeight;
					if (i > 4) out.Whole.push(performance.now() - start);
				}
				window.fetch = real;
				return out;
			})()`, x.js, moves()))
			slices.Sort(got.Whole)
			slices.Sort(got.Server)
			m := got.Whole[len(got.Whole)/2]
			t.Logf("%s, %s, %s: from move to page %.0f ms (slowest %.0f), server %.0f ms", x.stage, x.what, sc.name, m, got.Whole[len(got.Whole)-1], got.Server[len(got.Server)/2])
			if m > 3000 {
				t.Errorf("%s: %.0f ms", x.what, m)
			}
			p.quiet()
		}
	}
}
