package browsertest

import (
	"fmt"
	"math"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"dwellwright/measure"
	"dwellwright/units"
)

func (s *sick) at(t *testing.T, id string) int {
	t.Helper()
	i := slices.IndexFunc(s.list, func(m measure.Measure) bool { return m.ID == id })
	if i < 0 {
		t.Fatalf("the page asks for %q, which is no reading of the car", id)
	}
	return i
}

// tap touches an element with a finger.
func (p *tab) tap(css string) {
	p.t.Helper()
	at := p.middle(css)
	p.touch("touchStart", at.Y, at.X)
	p.touch("touchEnd", at.Y)
}

// held opens a page on a phone that is touched.
func (s *site) held(t *testing.T, path string) *tab {
	t.Helper()
	p := s.visit(t, phone, "light", path)
	handOn(p, phone, path)
	p.banked()
	return p
}

// reading is the id of the reading asked for, "" where none is.
func (p *tab) reading() string {
	p.t.Helper()
	return eval[string](p, `document.getElementById("next")?.dataset.reading ?? ""`)
}

// said is what the address says.
func (p *tab) said() url.Values {
	p.t.Helper()
	u, err := url.Parse(eval[string](p, "location.href"))
	if err != nil {
		p.t.Fatal(err)
	}
	return u.Query()
}

// resting waits until the answer, with its reasons, is there.
func (p *tab) resting() {
	p.t.Helper()
	for end := time.Now().Add(40 * time.Second); !eval[bool](p, `document.documentElement.dataset.answered === "settled"`); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			p.t.Fatalf("never at rest: %s, %q", eval[string](p, "document.body.innerText.slice(0, 300)"), p.complaints())
		}
	}
}

// answer gives the reading asked for as the car shows it, by touch or by keys,
// and gives back how long the page took, in ms.
func (p *tab) answer(s *sick, of []float64, byKeys bool) float64 {
	p.t.Helper()
	id := p.reading()
	i := s.at(p.t, id)
	m, x := &s.list[i], of[i]
	press := p.tap
	if byKeys {
		press = func(css string) {
			eval[bool](p, fmt.Sprintf(`document.querySelector(%q).focus() === undefined`, css))
			p.run(chromedp.KeyEvent(kb.Enter))
		}
	}
	switch {
	case math.IsNaN(x):
		p.moving()
		if m.Group == measure.Owner {
			press(`.answer button[value=leave]`)
			break
		}
		press(`.answer button[value=cannot]`)
	case m.Observation && x >= 0.5:
		p.moving()
		press(`.answer button[value=yes]`)
	case m.Observation:
		p.moving()
		press(`.answer button[value=no]`)
	case byKeys:
		eval[bool](p, `document.getElementById("say-it").focus() === undefined`)
		p.run(chromedp.SendKeys(chromedp.CSS("#say-it"), units.Format(m.Kind, x, units.Metric)))
		p.moving()
		p.run(chromedp.KeyEvent(kb.Enter))
	default:
		p.onPad(m, x)
		p.moving()
		p.tap(`.answer .big`)
	}
	p.answered()
	took := eval[float64](p, `Number(document.documentElement.dataset.took)`)
	p.resting()
	if got := p.said()["r"]; len(got) == 0 || !strings.HasPrefix(got[len(got)-1], id+":") {
		p.t.Fatalf("%s = %v was answered and the address says %q; the page: %s", id, x, got, eval[string](p, `document.querySelector(".wrong")?.textContent ?? "nothing"`))
	}
	return took
}

// onPad types a figure on the pad, key by key, in the unit that is set.
func (p *tab) onPad(m *measure.Measure, x float64) {
	p.t.Helper()
	unit := eval[string](p, `document.querySelector(".unit-keys input:checked")?.value ?? ""`)
	if m.Kind != units.Temperature && unit != "" {
		one, err := units.Parse(m.Kind, "1 "+unit)
		if err != nil {
			p.t.Fatalf("%s: the unit that is set: %v", m.ID, err)
		}
		x /= one.X
	}
	digits := 3
	if math.Abs(x) >= 1000 {
		digits = 0
	}
	text := fmt.Sprintf("%.*f", digits, x)
	for _, r := range text {
		key := string(r)
		if key == "-" {
			key = "minus"
			if eval[bool](p, `!document.querySelector(".pad [data-key=minus]") || document.querySelector(".pad [data-key=minus]").disabled`) {
				continue // what is a hair below nothing
			}
		}
		p.tap(fmt.Sprintf(`.pad [data-key="%s"]`, key))
	}
	if got := eval[string](p, `document.getElementById("say-it").value`); got != text && got != strings.TrimPrefix(text, "-") {
		p.t.Fatalf("%s was tapped and the field says %q", text, got)
	}
}

// Three sick cars are brought to the right remedy by what the page asks for,
// on a phone, and the reading that proves the work is taken.
func TestSuspectWholeDiagnoses(t *testing.T) {
	for _, x := range []struct {
		id       string
		severity float64
		byKeys   bool
	}{
		{"plate_ground_high", 0.6, false},
		{"bypass_open", 0.5, true},
		{"ballast_open", 0.5, false},
	} {
		t.Run(x.id, func(t *testing.T) {
			s := sicken(t, x.id, x.severity, 11)
			p := open(t).held(t, "/cars/1/suspect")
			for _, id := range s.hear {
				p.moving()
				if x.byKeys {
					eval[bool](p, fmt.Sprintf(`document.getElementById("c-%s").focus() === undefined`, id))
					p.run(chromedp.KeyEvent(" "))
				} else {
					p.tap(`label:has(#c-` + id + `)`)
				}
				p.answered()
				p.resting()
			}
			if got := p.said()["c"]; len(got) != len(s.hear) {
				t.Fatalf("told %q, the address says %q", s.hear, got)
			}
			var took []float64
			for len(took) < 24 && !eval[bool](p, `!!document.querySelector(".stop")`) {
				took = append(took, p.answer(&s, s.ill, x.byKeys))
			}
			slices.Sort(took)
			if remedy := eval[string](p, `document.querySelector(".stop.mend input[name=mend]")?.value ?? ""`); remedy != s.remedy {
				t.Fatalf("after %q and %d readings the page would %q, the car wants %s; said %v", s.hear, len(took), remedy, s.remedy, p.said())
			}
			t.Logf("%s: complaints %q, %d readings, from answer to page %.0f ms in the middle, %.0f at most", x.id, s.hear, len(took), took[len(took)/2], took[len(took)-1])
			text := eval[string](p, `document.querySelector(".stop").innerText`)
			for _, must := range []string{"Before you begin", "local codes", "Proof", "predicted"} {
				if !strings.Contains(text, must) {
					t.Errorf("the card that says to mend has no %q:\n%s", must, text)
				}
			}
			p.shoot("suspect-stop-"+x.id, true)

			before := p.said()
			p.run(chromedp.Reload())
			p.ready()
			p.banked()
			if after := p.said(); after.Encode() != before.Encode() || !eval[bool](p, `!!document.querySelector(".stop.mend")`) {
				t.Errorf("loaded anew the page says %v after %v", after, before)
			}

			p.moving()
			p.tap(`.stop .two:not(.less) button[value=gone]`)
			p.answered()
			p.resting()
			if head := eval[string](p, `document.querySelector("#verdict .head").textContent`); !strings.Contains(head, "not yet proven") {
				t.Errorf("mended and not read again, the verdict is %q", head)
			}
			if p.reading() == "" {
				t.Fatal("no reading is asked for that proves the work")
			}
			p.answer(&s, s.mended, x.byKeys)
			if head := eval[string](p, `document.querySelector("#verdict .head").textContent`); !strings.HasPrefix(head, "Nothing") {
				t.Errorf("mended and proven, the verdict is %q", head)
			}
			p.quiet()
		})
	}
}

// Going back in the browser takes the answer back, and so does undo; what is
// wrong is said where it was typed, and the field keeps it.
func TestSuspectBackUndoAndMistakes(t *testing.T) {
	const path = "/cars/1/suspect?c=misses_speed&ask=plate_earth_drop"
	p := open(t).held(t, path)
	enter := func(text string) {
		eval[bool](p, `document.getElementById("say-it").focus() === undefined`)
		p.moving()
		p.run(chromedp.SendKeys(chromedp.CSS("#say-it"), text+kb.Enter))
		p.answered()
		p.resting()
	}
	enter("12 ohm")
	if got := eval[string](p, `document.getElementById("say-wrong")?.textContent ?? ""`); !strings.Contains(got, "V") || strings.Contains(got, "--") {
		t.Errorf("ohms for volts: %q", got)
	}
	if got := eval[string](p, `document.getElementById("say-it").value`); got != "12 ohm" {
		t.Errorf("the field says %q after a mistake", got)
	}
	if p.said().Has("r") {
		t.Error("a mistake went into the address")
	}
	eval[bool](p, `document.getElementById("say-it").value = "", true`)
	enter("1.4 ± 0.05")
	if got := p.said()["r"]; len(got) != 1 || got[0] != "plate_earth_drop:1.4 ± 0.05 V" {
		t.Fatalf("address %q", got)
	}
	if got := eval[string](p, `document.getElementById("taken").innerText`); !strings.Contains(got, "1.400 ± 0.050 V") {
		t.Errorf("what is known: %s", got)
	}
	first := p.reading()
	p.moving()
	p.tap(`.answer button[value=leave]`)
	p.answered()
	p.resting()
	if next := p.reading(); next == first {
		t.Errorf("%s is asked again though it can't be done", next)
	}
	p.moving()
	p.tap(`.undo`)
	p.answered()
	p.resting()
	if got := p.said()["r"]; len(got) != 1 || p.reading() != first {
		t.Errorf("after undo %q, reading %s for %s", got, p.reading(), first)
	}
	p.moving()
	eval[bool](p, "history.go(-2), true")
	p.answered()
	p.resting()
	if got := p.said()["r"]; len(got) != 1 {
		t.Errorf("two steps back: %q", got)
	}
	p.quiet()
}

// What is said goes along to the other stages and comes back.
func TestSuspectIsCarriedAlong(t *testing.T) {
	p := open(t).visit(t, laptop, "light", "/cars/1/suspect?c=misses_speed&r=plate_earth_drop%3A1.4+V&r=points_arc%3Ano")
	p.banked()
	want := p.said()
	p.run(chromedp.Click(chromedp.CSS(`#stages a[href*="/found"]`)))
	p.wait(`location.pathname.endsWith("/found") && document.documentElement.dataset.answered === "settled"`)
	p.run(chromedp.Click(chromedp.CSS(`#stages a[href*="/suspect"]`)))
	p.wait(`location.pathname.endsWith("/suspect")`)
	p.banked()
	if got := p.said(); !slices.Equal(got["r"], want["r"]) || !slices.Equal(got["c"], want["c"]) {
		t.Errorf("%v came back as %v", want, got)
	}
	p.quiet()
}

// Without a script all of it is there, and forms and links do the work.
func TestSuspectWithoutScript(t *testing.T) {
	p := open(t).visit(t, phone, "light", "/cars/1/suspect")
	p.banked()
	p.run(disableScripts())
	p.run(chromedp.Navigate(p.address + "/cars/1/suspect"))
	at := func(what string, want ...string) url.Values {
		t.Helper()
		var u *url.URL
		for end := time.Now().Add(20 * time.Second); ; time.Sleep(30 * time.Millisecond) {
			where, err := chromedp.Run(p.ctx, chromedp.Location())
			if err == nil { // asked between two pages there is none
				if u, err = url.Parse(where); err != nil {
					t.Fatal(err)
				}
				have := strings.Join(append(u.Query()["c"], u.Query()["r"]...), " ")
				if !slices.ContainsFunc(want, func(w string) bool { return !strings.Contains(have, w) }) {
					return u.Query()
				}
			}
			if time.Now().After(end) {
				t.Fatalf("%s: address %s, wanted %q (%v)", what, where, want, err)
			}
		}
	}
	p.run(chromedp.Click(chromedp.CSS(`label:has(#c-misses_speed)`)), chromedp.Click(chromedp.CSS(`#complaints button`)))
	at("complaint", "misses_speed")
	p.run(chromedp.Navigate(p.address + "/cars/1/suspect?c=misses_speed&ask=plate_earth_drop"))
	p.run(chromedp.SendKeys(chromedp.CSS("#say-it"), "1.4"), chromedp.Click(chromedp.CSS(`.answer button[value=figure]`)))
	at("figure", "misses_speed", "plate_earth_drop:1.4 V")
	p.run(chromedp.WaitVisible(chromedp.CSS("#taken")), chromedp.WaitVisible(chromedp.CSS(".suspect")))
	p.run(chromedp.Click(chromedp.CSS(".suspect summary")), chromedp.WaitVisible(chromedp.CSS(".suspect .reasons")), chromedp.WaitVisible(chromedp.CSS(".suspect .mind")))
	p.run(chromedp.Click(chromedp.CSS(`.answer button[value=leave]`)))
	at("left out", "plate_earth_drop:1.4 V", ":leave")
	p.run(chromedp.Click(chromedp.CSS(".undo")))
	if q := at("undo", "plate_earth_drop:1.4 V"); len(q["r"]) > 2 {
		t.Errorf("after undo %q", q["r"])
	}
	p.shoot("suspect-scriptless", true)
}

// Each scene keeps the rules of accessibility in each theme, is no wider than
// the screen, and what is touched is large enough for a dirty thumb: 48 px on
// this page's own controls.
func TestSuspectRules(t *testing.T) {
	s := open(t)
	narrow := screen{"narrow", 320, 640}
	for _, x := range suspectScenes {
		t.Run(x.name, func(t *testing.T) {
			for _, sc := range []screen{phone, narrow, laptop} {
				p := s.visit(t, sc, "light", "/cars/1/suspect"+x.query)
				p.banked()
				eval[bool](p, "document.querySelectorAll('details').forEach(d => d.open = true), true")
				if w := eval[int64](p, "document.documentElement.scrollWidth"); w > sc.width {
					wide := eval[[]string](p, `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > innerWidth + 1).slice(0, 5).map(e => e.outerHTML.slice(0, 120))`)
					t.Errorf("%s: %d px wide, because of %q", sc.name, w, wide)
				}
				if sc == narrow {
					continue
				}
				small := eval[[]string](p, `[...document.querySelectorAll("#case a, #case button, #case summary, #case input:not([type=hidden])")]
					.filter(e => e.checkVisibility())
					.map(e => e.matches("input[type=checkbox], input[type=radio]") ? e.closest("label") : e)
					.filter(e => { const r = e.getBoundingClientRect(); return r.width < 47.5 || r.height < 47.5; })
					.map(e => e.outerHTML.slice(0, 120) + " " + Math.round(e.getBoundingClientRect().width) + "x" + Math.round(e.getBoundingClientRect().height))`)
				if len(small) > 0 {
					t.Errorf("%s: too small to touch: %q", sc.name, small)
				}
				if sc == phone || x.name == "mend" {
					for _, theme := range []string{"light", "dark", "contrast"} {
						eval[bool](p, fmt.Sprintf("document.documentElement.dataset.theme = %q, true", theme))
						for _, f := range p.check() {
							t.Errorf("%s, %s: %s (%s): %s\n\t%s", sc.name, theme, f.ID, f.Impact, f.Help, strings.Join(f.Nodes, "\n\t"))
						}
					}
				}
				p.quiet()
			}
		})
	}
}

// Everything is reached by the tab key in the order it stands in.
func TestSuspectKeyboardWalk(t *testing.T) {
	p := open(t).visit(t, phone, "light", "/cars/1/suspect?c=misses_speed&ask=plate_earth_drop")
	p.banked()
	p.walk()
	p.quiet()
}
