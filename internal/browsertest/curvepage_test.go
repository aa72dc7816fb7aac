package browsertest

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// ring is the handle of a wanted point, counted from 1, in the layout shown.
func ring(n int) string {
	return fmt.Sprintf(".handled [role=slider][id$='-%d']", n-1)
}

// wanted reads a wanted point from its fields.
func (p *tab) wanted(n int) (rpm, deg float64) {
	return number(p.t, eval[string](p, fmt.Sprintf(`document.getElementById("wr-%d").value`, n))), number(p.t, eval[string](p, fmt.Sprintf(`document.getElementById("wd-%d").value`, n)))
}

// builds is the ranking of the kit as it is shown.
func (p *tab) builds() string {
	return eval[string](p, `[...document.querySelectorAll(".build h3, .build .brief")].map(e => e.innerText).join("; ")`)
}

// A ring is dragged by finger and mouse: it goes along at once, and fields,
// address, table and the ranking of the kit follow.
func TestCurveRingIsDragged(t *testing.T) {
	for _, sc := range []screen{phone, laptop} {
		t.Run(sc.name, func(t *testing.T) {
			p := open(t).visit(t, sc, "light", "/cars/1/curve")
			h := handOn(p, sc, "/cars/1/curve")
			p.settle()
			rpm, deg := p.wanted(5)
			builds := p.builds()
			if builds == "" {
				t.Fatal("nothing is built of the demo car's kit")
			}
			at := p.middle(ring(5))
			// Field units to pixels, from the picture's own axes.
			per := eval[place](p, `(() => { const b = [...document.querySelectorAll(".handled")].find(e => e.checkVisibility()), s = b.querySelector("svg"), k = s.getBoundingClientRect().width / s.viewBox.baseVal.width, d = b.dataset; return {X: (d.x1 - d.x0) * k / (d.xhi - d.xlo), Y: (d.y1 - d.y0) * k / (d.yhi - d.ylo)}; })()`)
			eval[bool](p, `window.real = window.fetch, window.fetch = () => new Promise(() => {}), true`)
			h.do("down", at.X, at.Y)
			h.do("move", at.X+30*per.X, at.Y+3*per.Y)
			p.wait(fmt.Sprintf(`[...document.querySelectorAll(%q)].some(g => g.hasAttribute("transform"))`, ring(5)))
			eval[bool](p, `window.fetch = window.real, delete document.documentElement.dataset.answered, true`)
			h.do("move", at.X+100*per.X, at.Y+6*per.Y)
			h.do("up", 0, 0)
			p.settle()
			gotRPM, gotDeg := p.wanted(5)
			if math.Abs(gotRPM-(rpm+100)) > 51 || math.Abs(gotDeg-(deg-6)) > 0.6 {
				t.Errorf("dragged from %v rpm, %v° by 100 rpm and −6°: %v rpm, %v°", rpm, deg, gotRPM, gotDeg)
			}
			if got := eval[string](p, "decodeURIComponent(location.search)"); !strings.Contains(got, fmt.Sprintf("%g:%g", gotRPM, gotDeg)) {
				t.Errorf("address %s", got)
			}
			// To scale: the ring the server drew stands where the axes have its figures.
			drawn := eval[place](p, fmt.Sprintf(`(() => { const e = [...document.querySelectorAll(%q)].find(e => e.checkVisibility()), c = e.querySelector("circle"), d = e.closest(".handled").dataset; return {X: +d.xlo + (c.getAttribute("cx") - d.x0) / (d.x1 - d.x0) * (d.xhi - d.xlo), Y: +d.ylo + (d.y1 - c.getAttribute("cy")) / (d.y1 - d.y0) * (d.yhi - d.ylo)}; })()`, ring(5)))
			if math.Abs(drawn.X-gotRPM) > 1 || math.Abs(drawn.Y-gotDeg) > 0.02 {
				t.Errorf("the ring is drawn at %v, its fields say %v rpm, %v°", drawn, gotRPM, gotDeg)
			}
			if got := p.builds(); got == builds {
				t.Error("the kit is ranked as before")
			}
			p.shoot("curve-"+sc.name+"-dragged", false)
			p.quiet()
		})
	}
}

// Arrow keys move a ring by 50 rpm and half a degree; it stays a slider with
// its figures said, keeps the focus and can't pass its neighbour.
func TestCurveRingByKeys(t *testing.T) {
	for _, sc := range []screen{phone, laptop} {
		p := open(t).visit(t, sc, "light", "/cars/1/curve")
		p.settle()
		rpm, deg := p.wanted(4)
		focus := fmt.Sprintf(`[...document.querySelectorAll(%q)].find(e => e.checkVisibility()).focus() === undefined`, ring(4))
		eval[bool](p, focus)
		p.moving()
		p.run(chromedp.KeyEvent(kb.ArrowUp), chromedp.KeyEvent(kb.ArrowUp), chromedp.KeyEvent(kb.ArrowRight))
		p.settle()
		if gotRPM, gotDeg := p.wanted(4); gotRPM != rpm+50 || gotDeg != deg+1 {
			t.Errorf("%s: %v rpm, %v° after %v rpm, %v°", sc.name, gotRPM, gotDeg, rpm, deg)
		}
		said := eval[[]string](p, `(() => { const e = document.activeElement; return [e.getAttribute("role"), e.getAttribute("aria-valuenow"), e.getAttribute("aria-valuetext"), e.getAttribute("aria-label"), String(e.tabIndex)]; })()`)
		if said[0] != "slider" || said[1] != fmt.Sprint(deg+1) || !strings.Contains(said[2], fmt.Sprint(rpm+50)) || said[3] == "" || said[4] != "0" {
			t.Errorf("%s: the ring says %q", sc.name, said)
		}
		next, _ := p.wanted(5)
		p.moving()
		p.run(chromedp.KeyEvent(strings.Repeat(kb.ArrowRight, 14)))
		p.settle()
		if gotRPM, _ := p.wanted(4); gotRPM != next-50 {
			t.Errorf("%s: pushed past its neighbour at %v rpm: %v", sc.name, next, gotRPM)
		}
		if sc == phone {
			wide := eval[float64](p, `Math.min(...[...document.querySelectorAll(".handled [role=slider] circle:first-of-type")].filter(e => e.checkVisibility()).map(e => e.getBoundingClientRect()).flatMap(r => [r.width, r.height]))`)
			if wide < 43.5 {
				t.Errorf("a ring takes a finger over %.1f px, want 44", wide)
			}
		}
		// Loaded anew, the address holds it.
		p.run(chromedp.Reload())
		p.ready()
		if gotRPM, gotDeg := p.wanted(4); gotRPM != next-50 || gotDeg != deg+1 {
			t.Errorf("%s: loaded anew %v rpm, %v°", sc.name, gotRPM, gotDeg)
		}
		p.quiet()
	}
}

// Points are typed: one more, one less, and what can't be used is said.
func TestCurvePointsAreTyped(t *testing.T) {
	p := open(t).visit(t, laptop, "light", "/cars/1/curve")
	p.settle()
	rows := `document.querySelectorAll("[aria-label='Wanted points'] tbody tr").length`
	n := eval[int](p, rows)
	enter := func(id, text string) {
		p.moving()
		eval[bool](p, fmt.Sprintf("document.getElementById(%q).select() === undefined", id))
		p.run(chromedp.SendKeys(chromedp.CSS("#"+id), text+kb.Enter))
		p.settle()
	}
	more := fmt.Sprint(n + 1)
	eval[bool](p, fmt.Sprintf(`document.getElementById("wr-%s").value = "4200", true`, more))
	enter("wd-"+more, "31.5")
	if got := eval[int](p, rows); got != n+1 {
		t.Errorf("%d wanted points after one more than %d", got, n)
	}
	enter("wd-"+more, "lots")
	if got := eval[string](p, `document.querySelector("#bench .wrong").textContent`); !strings.Contains(got, "wanted point "+more) || !strings.Contains(got, "deg") {
		t.Errorf("the mistake is said as %q", got)
	}
	if got := eval[string](p, fmt.Sprintf(`document.getElementById("wd-%s").value`, more)); got != "lots" {
		t.Errorf("what was typed has become %q", got)
	}
	eval[bool](p, fmt.Sprintf(`document.getElementById("wr-%s").value = "", document.getElementById("wd-%s").value = "", document.dispatchEvent(new Event("dw-moved")), delete document.documentElement.dataset.answered, true`, more, more))
	p.settle()
	if got := eval[int](p, rows); got != n {
		t.Errorf("%d wanted points after one was blanked, want %d", got, n)
	}
	if got := eval[string](p, "location.search"); strings.Contains(got, "w=") {
		t.Errorf("the file's points stand in the address: %s", got)
	}
	p.quiet()
}

// Without a script the page is whole, and its fields work.
func TestCurveWithoutAScript(t *testing.T) {
	s := open(t)
	p := s.visit(t, laptop, "light", "/cars/1/prove?condition=hot_idle")
	p.run(disableScripts())
	p.run(chromedp.Navigate(s.address+"/cars/1/curve"), chromedp.WaitVisible(chromedp.CSS("#curve-wide-held svg")),
		chromedp.WaitVisible(chromedp.CSS(".build")), chromedp.WaitVisible(chromedp.CSS("[aria-label='Springs and stop']")), chromedp.WaitVisible(chromedp.CSS("[aria-labelledby=load-title] svg")))
	p.run(chromedp.SendKeys(chromedp.CSS("#wd-2"), "\b\b\b11.5"), chromedp.Click(chromedp.CSS("#bench .update")))
	where := ""
	for end := time.Now().Add(15 * time.Second); !strings.Contains(where, "wd=11.5"); time.Sleep(20 * time.Millisecond) {
		var err error
		if where, err = chromedp.Run(p.ctx, chromedp.Location()); err != nil || time.Now().After(end) {
			t.Fatalf("address %s, %v", where, err)
		}
	}
	p.run(chromedp.WaitVisible(chromedp.CSS("#tried.some")))
	p.shoot("curve-scriptless", true)
}
