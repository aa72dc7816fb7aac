package browsertest

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	_ "embed"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

//go:embed testdata/axe.min.js.gz
var packed []byte

// checker unpacks the checker.
func checker(t *testing.T) string {
	t.Helper()
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

//go:embed testdata/axe.sha256
var axeSum string

// The checker is the one its registry serves.
func TestCheckerIsWhole(t *testing.T) {
	if got := fmt.Sprintf("%x  axe.min.js", sha256.Sum256([]byte(checker(t)))); got != strings.TrimSpace(axeSum) {
		t.Errorf("axe.min.js is %s", got)
	}
}

type finding struct {
	ID, Impact, Help string
	Nodes            []string
}

// check runs the rules of WCAG 2.2 A and AA and the checker's good practice,
// and gives what is serious or critical.
func (p *tab) check() []finding {
	p.t.Helper()
	eval[bool](p, checker(p.t)+"; typeof axe === 'object'")
	return eval[[]finding](p, `axe.run(document, {resultTypes: ["violations"]}).then(r => r.violations
		.filter(v => v.impact === "serious" || v.impact === "critical")
		.map(v => ({ID: v.id, Impact: v.impact, Help: v.help, Nodes: v.nodes.slice(0, 4).map(n => n.html.slice(0, 160) + " | " + (n.any[0]?.message ?? n.all[0]?.message ?? ""))})))`)
}

func TestRulesOfAccessibility(t *testing.T) {
	s := open(t)
	for _, stage := range []string{"found", "plan", "spark", "fit", "curve", "prove"} {
		for _, sc := range []screen{phone, laptop} {
			t.Run(stage+" "+sc.name, func(t *testing.T) {
				p := s.visit(t, sc, "light", "/cars/1/"+stage+"?option=feed_behind_ballast&condition=hot_idle&ground=0.4&bay=x")
				for _, theme := range []string{"light", "dark", "contrast"} {
					eval[bool](p, fmt.Sprintf("document.documentElement.dataset.theme = %q, document.querySelectorAll('details').forEach(d => d.open = true), true", theme))
					for _, f := range p.check() {
						t.Errorf("%s: %s (%s): %s\n\t%s", theme, f.ID, f.Impact, f.Help, strings.Join(f.Nodes, "\n\t"))
					}
				}
				if stage == "prove" {
					p.run(chromedp.Click(chromedp.CSS("#row-ground_path button.cell")))
					for _, f := range p.check() {
						t.Errorf("cell open: %s (%s): %s\n\t%s", f.ID, f.Impact, f.Help, strings.Join(f.Nodes, "\n\t"))
					}
				}
			})
		}
	}
	t.Run("planted", func(t *testing.T) { // the checker does find what is wrong
		p := s.visit(t, phone, "light", "/cars/1/found")
		eval[bool](p, `document.querySelector("main").insertAdjacentHTML("beforeend", "<button></button><p id='pale'>pale</p>"), document.getElementById("pale").style.color = "#ddd", true`)
		var ids []string
		for _, f := range p.check() {
			ids = append(ids, f.ID)
		}
		if got := strings.Join(ids, " "); !strings.Contains(got, "button-name") || !strings.Contains(got, "color-contrast") {
			t.Errorf("a nameless button and pale text were planted; found: %q", got)
		}
	})
	t.Run("others", func(t *testing.T) {
		address, stop, err := serve("demo", "nowhere.yaml")
		if err != nil {
			t.Fatal(err)
		}
		defer stop()
		own := &site{address, s.browser}
		for _, path := range []string{"/", "/cars/2/found"} {
			p := own.visit(t, phone, "dark", path)
			for _, f := range p.check() {
				t.Errorf("%s: %s (%s): %s\n\t%s", path, f.ID, f.Impact, f.Help, strings.Join(f.Nodes, "\n\t"))
			}
		}
	})
}

// No page is wider than the screen, and what is touched is large enough for a
// thumb: 44 CSS px, target size (enhanced) of WCAG 2.2. Links within a
// sentence and what a label stands for are exempt there.
func TestNothingIsTooWideOrTooSmall(t *testing.T) {
	s := open(t)
	narrow := screen{"narrow", 320, 640}
	for _, stage := range []string{"found", "plan", "spark", "fit", "curve", "prove"} {
		for _, sc := range []screen{narrow, phone, laptop} {
			p := s.visit(t, sc, "light", "/cars/1/"+stage+"?option=feed_before_ballast&condition=hot_idle&ground=0.4")
			eval[bool](p, "document.querySelectorAll('details').forEach(d => d.open = true), true")
			if w := eval[int64](p, "document.documentElement.scrollWidth"); w > sc.width {
				wide := eval[[]string](p, `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest(".chips, .picks, .wider, .unseen")).slice(0, 5).map(e => e.outerHTML.slice(0, 120))`)
				t.Errorf("%s on %s: %d px wide, because of %q", stage, sc.name, w, wide)
			}
			if sc == narrow {
				continue
			}
			small := eval[[]string](p, `[...document.querySelectorAll("a, button, select, summary, input:not([type=hidden])")]
				.filter(e => e.offsetParent && !e.closest(".unseen, .brand, [popover]") && !e.classList.contains("skip"))
				.map(e => e.matches("input[type=checkbox], input[type=radio]") ? e.closest("label") : e)
				.filter(e => { const r = e.getBoundingClientRect(); return r.width < 44 || r.height < 43.5; })
				.map(e => e.outerHTML.slice(0, 120) + " " + Math.round(e.getBoundingClientRect().width) + "x" + Math.round(e.getBoundingClientRect().height))`)
			if len(small) > 0 {
				t.Errorf("%s on %s: too small to touch: %q", stage, sc.name, small)
			}
			p.quiet()
		}
	}
}

// Everything can be reached and worked with the tab key alone, in the order
// it stands in, each with a focus that can be seen and is not covered.
func TestKeyboardWalk(t *testing.T) {
	s := open(t)
	for _, sc := range []screen{phone, laptop} {
		for _, stage := range []string{"found", "plan", "spark", "fit", "curve", "prove"} {
			t.Run(stage+" "+sc.name, func(t *testing.T) {
				p := s.visit(t, sc, "light", "/cars/1/"+stage+"?condition=hot_idle&ground=0.1")
				p.walk()
				p.quiet()
			})
		}
	}
}

// stop is where the tab key has come to.
type stop struct {
	Body, Seen, Clear, InOrder bool
	What                       string
}

func (p *tab) walk() {
	t := p.t
	t.Helper()
	eval[bool](p, `(() => {
		window.last = null;
		window.reached = new Set();
		window.here = () => {
			const e = document.activeElement;
			if (!e || e === document.body) return {Body: true};
			reached.add(e);
			const shown = e.matches(".chip input, .units input") ? e.nextElementSibling : e;
			const style = getComputedStyle(shown);
			const r = shown.getBoundingClientRect();
			const x = Math.min(Math.max(r.left + r.width / 2, 1), innerWidth - 1), y = Math.min(Math.max(r.top + Math.min(r.height / 2, 30), 1), innerHeight - 1);
			const top = document.elementFromPoint(x, y);
			const inOrder = !last || !!(last.compareDocumentPosition(e) & Node.DOCUMENT_POSITION_FOLLOWING);
			last = e;
			return {
				Body: false, What: e.outerHTML.slice(0, 140) + " at " + Math.round(x) + "," + Math.round(y) + " under " + (top ? top.outerHTML.slice(0, 80) : "nothing"),
				Seen: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2 && e.matches(":focus-visible"),
				Clear: r.height > innerHeight / 2 || !!top && (shown.contains(top) || top.contains(shown) || e === top || shown.closest("label")?.contains(top)),
				InOrder: inOrder,
			};
		};
		return true;
	})()`)
	first := true
	for range 400 {
		p.run(chromedp.KeyEvent(kb.Tab))
		h := eval[stop](p, "here()")
		if h.Body {
			break
		}
		if first && !strings.Contains(h.What, "skip") {
			t.Errorf("the first stop is %s", h.What)
		}
		first = false
		if !h.Seen {
			t.Errorf("focus can't be seen on %s", h.What)
		}
		if !h.Clear {
			t.Errorf("covered: %s", h.What)
		}
		if !h.InOrder {
			t.Errorf("out of order: %s", h.What)
			break
		}
	}
	t.Logf("%d stops", eval[int](p, "reached.size"))
	missed := eval[[]string](p, `[...document.querySelectorAll("a[href], button, select, summary, input:not([type=hidden])")]
		.filter(e => e.checkVisibility({visibilityProperty: true}) && !e.disabled && e.tabIndex >= 0 && !reached.has(e))
		.filter(e => !(e.type === "radio" && !e.checked))
		.map(e => e.outerHTML.slice(0, 120))`)
	if len(missed) > 0 {
		t.Errorf("never reached: %q", missed)
	}
}

// The skip link, a details and a cell of the sheet are worked by keys.
func TestKeysWork(t *testing.T) {
	p := open(t).visit(t, laptop, "light", "/cars/1/prove?condition=hot_idle")
	p.run(chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter))
	if got := eval[string](p, "document.activeElement.id"); got != "verdict" {
		t.Errorf("the skip link leads to %q", got)
	}
	p.run(chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter))
	if !eval[bool](p, `document.querySelector(".caution").open`) {
		t.Error("the cautions do not open by key")
	}
	eval[bool](p, `document.querySelector("#row-ground_path button.cell").focus() === undefined`)
	p.run(chromedp.KeyEvent(kb.Enter))
	open := `document.querySelector("#row-ground_path [popover]").matches(":popover-open")`
	if !eval[bool](p, open) {
		t.Error("a cell does not open by key")
	}
	text := eval[string](p, `document.querySelector("#row-ground_path [popover]").innerText`)
	for _, want := range []string{"Predicted", "at most 0.2 Ω", "common practice", "ohmmeter", "95 %"} {
		if !strings.Contains(text, want) {
			t.Errorf("an open cell does not say %q:\n%s", want, text)
		}
	}
	p.shoot("cell-laptop", false)
	p.run(chromedp.KeyEvent(kb.Escape))
	if eval[bool](p, open) {
		t.Error("a cell does not close by key")
	}
	p.quiet()
}
