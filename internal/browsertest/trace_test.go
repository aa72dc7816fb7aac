package browsertest

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// span is the stretch of time that is shown.
type span struct{ From, To float64 }

func (s span) width() float64 { return s.To - s.From }

// shown gives the stretch once the next frame is drawn.
func (p *tab) shown() span {
	p.t.Helper()
	return eval[span](p, `new Promise(r => requestAnimationFrame(() => requestAnimationFrame(() => {
		const d = document.querySelector(".traces").dataset;
		r({From: Number(d.from), To: Number(d.to)});
	})))`)
}

// field is where the first panel's field lies on the screen.
type field struct{ X, Y, W, H float64 }

func (p *tab) field() field {
	p.t.Helper()
	return eval[field](p, `(() => { const r = document.querySelector(".traces .u-over").getBoundingClientRect(); return {X: r.x, Y: r.y, W: r.width, H: r.height}; })()`)
}

func (p *tab) mouse(kind input.DispatchMouseEventType, x, y, deltaY float64, button input.MouseButton) {
	p.t.Helper()
	p.run(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		e := input.DispatchMouseEventParams{Type: kind, X: x, Y: y, DeltaY: deltaY, Button: button}
		if deltaY != 0 {
			e.DeltaX = 1e-6 // a wheel event without it is refused, and nought is left out
		}
		if button != "" {
			e.Buttons = 1
		}
		_, err := cdp.Call(ctx, t, input.DispatchMouseEvent, e)
		return err
	}))
}

// touch puts fingers at places along x, all at one height.
func (p *tab) touch(kind input.DispatchTouchEventType, y float64, xs ...float64) {
	p.t.Helper()
	points := []*input.TouchPoint{}
	for i, x := range xs {
		id := float64(i)
		points = append(points, &input.TouchPoint{X: x, Y: y, ID: &id})
	}
	p.run(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
		return err
	}))
}

// openTrace opens the page with a trace and waits for the panels.
func openTrace(t *testing.T, sc screen, theme, path string) *tab {
	t.Helper()
	p := open(t).tracePage(t, 10000).visit(t, sc, theme, path)
	p.wait(`document.querySelector("figure.traced .traces .u-over") && document.querySelector(".traces").dataset.to`)
	return p
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-6*math.Max(1, math.Abs(b)) }

// The wheel zooms at the pointer and the page scrolls where there is nothing
// left to zoom out of; a drag pans.
func TestTraceByMouse(t *testing.T) {
	p := openTrace(t, laptop, "light", "/")
	whole := p.shown()
	if !near(whole.From, 0) || !near(whole.To, 20) {
		t.Fatalf("at first %v is shown", whole)
	}
	f := p.field()
	x, y := f.X+f.W*0.6, f.Y+f.H/2 // 12 ms
	for i := range 2 {
		p.mouse(input.DispatchMouseEventTypeMouseMoved, x-float64(4*(1-i)), y, 0, "")
	}
	p.mouse(input.DispatchMouseEventTypeMouseWheel, x, y, -240, "")
	p.wait(`Number(document.querySelector(".traces").dataset.to) < 19.9`)
	near12 := p.shown()
	at := near12.From + 0.6*near12.width()
	if math.Abs(at-12) > 0.05 || near12.width() > 15 {
		t.Errorf("the wheel at 12 ms shows %v, with %v under the pointer", near12, at)
	}
	if got := eval[string](p, `document.querySelector(".traces .read").textContent`); !strings.Contains(got, "time 12.0") && !strings.Contains(got, "time 11.9") || !strings.Contains(got, " A predicted") || !strings.Contains(got, " ± 0.20 A") {
		t.Errorf("read: %q", got)
	}
	p.mouse(input.DispatchMouseEventTypeMousePressed, x, y, 0, input.MouseButtonLeft)
	for i := 1; i <= 5; i++ {
		p.mouse(input.DispatchMouseEventTypeMouseMoved, x+float64(20*i), y, 0, input.MouseButtonLeft)
	}
	p.mouse(input.DispatchMouseEventTypeMouseReleased, x+100, y, 0, input.MouseButtonLeft)
	panned := p.shown()
	if !(panned.From < near12.From-0.1) || !near(panned.width(), near12.width()) {
		t.Errorf("a drag to the right shows %v after %v", panned, near12)
	}
	p.shoot("trace-laptop-zoomed", false)
	for range 12 {
		p.mouse(input.DispatchMouseEventTypeMouseWheel, x, y, 240, "")
	}
	if got := p.shown(); !near(got.width(), 20) {
		t.Errorf("zoomed out: %v", got)
	}
	p.quiet()
}

// All of it by keys, and by buttons large enough for a thumb.
func TestTraceByKeys(t *testing.T) {
	for _, sc := range []screen{phone, laptop} {
		p := openTrace(t, sc, "light", "/")
		eval[bool](p, `document.querySelector(".traces .field").focus() === undefined`)
		p.run(chromedp.KeyEvent("+"), chromedp.KeyEvent("+"))
		zoomed := p.shown()
		if !near(zoomed.width(), 5) {
			t.Errorf("%s: + twice shows %v", sc.name, zoomed)
		}
		p.run(chromedp.KeyEvent(kb.ArrowRight))
		if got := p.shown(); !near(got.From, zoomed.From+5.0/8) {
			t.Errorf("%s: right shows %v after %v", sc.name, got, zoomed)
		}
		p.run(chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent("-"))
		if got := p.shown(); !near(got.width(), 10) {
			t.Errorf("%s: - shows %v", sc.name, got)
		}
		p.wait(`document.querySelector(".traces [role=status]").textContent.startsWith("time ")`)
		p.run(chromedp.KeyEvent(kb.ArrowRight, chromedp.KeyModifiers(chromedp.ModifierShift)))
		p.wait(`/time .* ms: primary current .* A predicted; primary voltage .* V predicted; secondary .* kV predicted/.test(document.querySelector(".traces [role=status]").textContent)`)
		p.run(chromedp.KeyEvent("0"))
		if got := p.shown(); !near(got.width(), 20) {
			t.Errorf("%s: 0 shows %v", sc.name, got)
		}
		// Buttons: zoom in, then to a mark.
		small := eval[[]string](p, `[...document.querySelectorAll(".traces button")].filter(b => { const r = b.getBoundingClientRect(); return r.width < 44 || r.height < 44; }).map(b => b.textContent)`)
		if len(small) > 0 {
			t.Errorf("%s: too small to touch: %q", sc.name, small)
		}
		eval[bool](p, `document.querySelector(".traces button[aria-label='Zoom in']").click() === undefined`)
		eval[bool](p, `[...document.querySelectorAll(".traces .steps button")].find(b => b.textContent.includes("plug breaks down")).click() === undefined`)
		if got := p.shown(); !near(got.width(), 10) || !near((got.From+got.To)/2, 12.06) {
			t.Errorf("%s: the mark shows %v", sc.name, got)
		}
		for range 7 {
			eval[bool](p, `document.querySelector(".traces button[aria-label='Zoom in']").click() === undefined`)
		}
		p.shown()
		p.shoot("trace-"+sc.name+"-breakdown", false)
		for range 30 {
			eval[bool](p, `document.querySelector(".traces button[aria-label='Zoom in']").click() === undefined`)
		}
		if got := p.shown(); !(got.width() > 0.002) {
			t.Errorf("%s: zoomed past the points: %v", sc.name, got)
		}
		if w := eval[int64](p, "document.documentElement.scrollWidth"); w > sc.width {
			t.Errorf("%s: %d px wide", sc.name, w)
		}
		p.quiet()
	}
}

// Two fingers zoom, one pans what is zoomed and moves the cursor of what is
// not, and a finger that goes up and down scrolls the page.
func TestTraceByTouch(t *testing.T) {
	s := open(t).tracePage(t, 10000)
	p := s.visit(t, phone, "light", "/")
	p.run(chromedp.EmulateViewport(phone.width, phone.height, chromedp.EmulateMobile, chromedp.EmulateTouch))
	p.goTo("/")
	p.wait(`document.querySelector(".traces")?.dataset.to`)
	f := p.field()
	mid, y := f.X+f.W/2, f.Y+f.H/2
	p.touch("touchStart", y, f.X+20)
	for i := range 6 {
		p.touch("touchMove", y, f.X+20+float64(15*(i+1)))
	}
	p.touch("touchEnd", y)
	if got := p.shown(); !near(got.width(), 20) {
		t.Errorf("one finger on the whole shows %v", got)
	}
	if got := eval[string](p, `document.querySelector(".traces .read").textContent`); !strings.Contains(got, "primary current") {
		t.Errorf("one finger reads %q", got)
	}
	p.touch("touchStart", y, mid-30)
	p.touch("touchStart", y, mid-30, mid+30)
	for i := 1; i <= 6; i++ {
		p.touch("touchMove", y, mid-30-float64(10*i), mid+30+float64(10*i))
	}
	p.touch("touchEnd", y)
	zoomed := p.shown()
	if math.Abs(zoomed.width()-20.0/3) > 0.3 || math.Abs((zoomed.From+zoomed.To)/2-10) > 0.1 {
		t.Errorf("two fingers three times as far apart show %v", zoomed)
	}
	p.touch("touchStart", y, mid)
	for i := 1; i <= 6; i++ {
		p.touch("touchMove", y, mid-float64(15*i))
	}
	p.touch("touchEnd", y)
	panned := p.shown()
	if want := zoomed.From + zoomed.width()*90/f.W; math.Abs(panned.From-want) > 0.08*zoomed.width() || !near(panned.width(), zoomed.width()) {
		t.Errorf("one finger 90 px to the left shows %v after %v, want it to begin at %.2f", panned, zoomed, want)
	}
	p.shoot("trace-phone-touch", false)
	p.quiet()
}

// How long a frame takes while 10,000 points in three panels are panned.
// Printed, and not judged beyond the absurd, since the machine may be busy.
func TestTracePansSmoothly(t *testing.T) {
	for _, sc := range []screen{phone, laptop} {
		p := openTrace(t, sc, "light", "/")
		eval[bool](p, `document.querySelector(".traces .field").focus() === undefined`)
		p.run(chromedp.KeyEvent("+"), chromedp.KeyEvent("-"), chromedp.KeyEvent("+"))
		if sc == phone { // a phone's processor is a quarter as fast as this one
			p.run(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
				_, err := cdp.Call(ctx, t, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
				return err
			}))
		}
		type took struct{ Frames, Work []float64 }
		got := eval[took](p, `(async () => {
			const f = document.querySelector(".traces .field"), out = {Frames: [], Work: []};
			const frame = () => new Promise(r => requestAnimationFrame(r));
			const done = () => new Promise(r => { const c = new MessageChannel(); c.port1.onmessage = r; c.port2.postMessage(0); });
			let last = await frame();
			for (let i = 0; i < 90; i++) {
				f.dispatchEvent(new KeyboardEvent("keydown", {key: i % 16 < 8 ? "ArrowLeft" : "ArrowRight"}));
				const now = await frame(), start = performance.now();
				await done(); // frame's callbacks and microtasks are through
				out.Frames.push(now - last);
				out.Work.push(performance.now() - start);
				last = now;
			}
			return out;
		})()`)
		slices.Sort(got.Frames)
		slices.Sort(got.Work)
		mid, tail := got.Frames[len(got.Frames)/2], got.Frames[len(got.Frames)*95/100]
		t.Logf("%-6s 10,000 points, three panels: a frame takes %.1f ms (95 %% within %.1f), of that drawn in %.1f ms (95 %% within %.1f)",
			sc.name, mid, tail, got.Work[len(got.Work)/2], got.Work[len(got.Work)*95/100])
		if mid > 500 {
			t.Errorf("%s: %.0f ms a frame", sc.name, mid)
		}
		p.quiet()
	}
}

// Colours follow the theme; a page patched by the bench keeps the panels and
// what is shown; another address brings another trace.
func TestTraceLivesWithThePage(t *testing.T) {
	p := openTrace(t, laptop, "light", "/")
	ink := `(() => { const c = document.querySelector(".traces canvas"), o = new OffscreenCanvas(c.width, c.height).getContext("2d", {willReadFrequently: true}); o.drawImage(c, 0, 0); const d = o.getImageData(0, 0, c.width, c.height).data; const n = {}; for (let i = 0; i < d.length; i += 4) if (d[i+3] > 250) { const k = d[i] + "," + d[i+1] + "," + d[i+2]; n[k] = (n[k] ?? 0) + 1; } return Object.keys(n).filter(k => n[k] > 200).join(" "); })()`
	if got := eval[string](p, ink); !strings.Contains(got, "10,94,168") { // #0a5ea8
		t.Errorf("light: %s", got)
	}
	eval[bool](p, `(document.documentElement.dataset.theme = "dark", true)`)
	p.shown()
	if got := eval[string](p, ink); !strings.Contains(got, "107,181,242") || strings.Contains(got, "10,94,168") { // #6bb5f2
		t.Errorf("dark: %s", got)
	}
	eval[bool](p, `document.querySelector(".traces .field").focus() === undefined`)
	p.run(chromedp.KeyEvent("+"), chromedp.KeyEvent("+"))
	before := p.shown()
	eval[bool](p, `(async () => {
		const { place } = await import("/static/patch.js");
		const main = document.querySelector("main"), fresh = main.cloneNode(true);
		main.id = fresh.id = "whole";
		for (const e of fresh.querySelectorAll(".traces, .wrong")) e.remove();
		const f = fresh.querySelector("figure");
		f.removeAttribute("class");
		f.dataset.trace = "/other.json";
		place("whole", fresh.outerHTML, null);
		return true;
	})()`)
	p.wait(`document.querySelector(".traces .steps").textContent.includes("the plug breaks down")`)
	if got := p.shown(); got != before || !eval[bool](p, `document.querySelectorAll(".traces .u-over").length === 3 && document.querySelector("figure").classList.contains("traced") && document.querySelector(".traces").offsetHeight > 300`) {
		t.Errorf("after a patch %v is shown, before it %v", got, before)
	}
	p.quiet()
}

// The rules of accessibility hold in every theme, and the picture is left for
// paper, for a page without scripts, and where the address fails.
func TestTraceIsForEveryone(t *testing.T) {
	s := open(t).tracePage(t, 10000)
	for _, sc := range []screen{phone, laptop} {
		for _, theme := range []string{"light", "dark", "contrast"} {
			p := s.visit(t, sc, theme, "/")
			p.wait(`document.querySelector(".traces")?.dataset.to`)
			for _, f := range p.check() {
				t.Errorf("%s %s: %s (%s): %s\n\t%s", sc.name, theme, f.ID, f.Impact, f.Help, strings.Join(f.Nodes, "\n\t"))
			}
			if eval[bool](p, `!!document.querySelector(".picture").offsetParent`) {
				t.Errorf("%s: the still picture is shown beside the panels", sc.name)
			}
			p.shoot("trace-"+sc.name+"-"+theme, true)
			p.quiet()
		}
	}
	p := s.visit(t, laptop, "light", "/wrong")
	p.wait(`document.querySelector("figure > .wrong")?.checkVisibility()`)
	if !eval[bool](p, `!!document.querySelector(".picture svg").checkVisibility() && document.querySelector("figure > .wrong").textContent.includes("a has 1 values for 2 times")`) {
		t.Errorf("a wrong answer: %s", eval[string](p, `document.querySelector("figure").innerText`))
	}
	p.quiet()
	p = s.visit(t, laptop, "light", "/")
	p.wait(`document.querySelector("figure.traced")`)
	p.run(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		return err
	}))
	if !eval[bool](p, `document.querySelector(".picture svg").checkVisibility() && !document.querySelector(".traces").checkVisibility()`) {
		t.Error("on paper the still picture is not shown, or the panels are")
	}
	p = s.visit(t, laptop, "light", "/")
	p.run(disableScripts(), chromedp.Navigate(s.address+"/"), chromedp.WaitVisible(chromedp.CSS("figure svg")))
}
