package browsertest

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"dwellwright/examples"
)

// slide moves a slider to a position as a finger does, with input events.
func (p *tab) slide(name, position string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(() => {
		delete document.documentElement.dataset.answered;
		const s = document.querySelector("[data-moves=%s]");
		s.focus();
		s.value = %s;
		s.dispatchEvent(new Event("input", {bubbles: true}));
		return true;
	})()`, name, position))
	p.answered()
}

// way is the state a way of the plan stands in.
func (p *tab) way(id string) string {
	return eval[string](p, fmt.Sprintf(`document.querySelector("#way-%s .word").innerText.trim()`, id))
}

func (p *tab) quiet() {
	p.t.Helper()
	if c := p.complaints(); len(c) > 0 {
		p.t.Errorf("the page complains: %q", c)
	}
}

// The ballast slider at its lowest lets a trigger fed behind the ballast
// stand; as filed it falls short. Pictures change with it.
func TestBallastSliderTurnsThePlan(t *testing.T) {
	s := open(t)
	for _, sc := range []screen{phone, laptop} {
		t.Run(sc.name, func(t *testing.T) {
			p := s.visit(t, sc, "light", "/cars/1/plan")
			if got := p.way("feed_behind_ballast"); got != "falls short" {
				t.Fatalf("as filed it %s", got)
			}
			bars := `document.querySelector("#way-feed_behind_ballast .bars svg desc").textContent`
			before := eval[string](p, bars)
			p.slide("ballast", "-1e9") // past its end: it stops at its lowest
			if got := p.way("feed_behind_ballast"); got == "falls short" {
				t.Error("with next to no ballast it still falls short")
			}
			if eval[string](p, bars) == before {
				t.Error("the picture has not changed")
			}
			if got := eval[string](p, `document.getElementById("ballast").value`); got != "0.05 Ω" {
				t.Errorf("the field shows %q", got)
			}
			if got := eval[string](p, "location.search"); !strings.Contains(got, "ballast=0.05") {
				t.Errorf("the address is %s", got)
			}
			if !eval[bool](p, `document.getElementById("bench").innerText.includes("as filed") && document.activeElement.dataset.moves === "ballast"`) {
				t.Error("the slider has lost the focus")
			}
			p.settle()
			if !eval[bool](p, `document.getElementById("say").textContent.startsWith("Best")`) {
				t.Error("the verdict is not spoken")
			}
			// What is in the address comes back when the page is loaded anew.
			p.run(chromedp.Reload())
			p.ready()
			if got := p.way("feed_behind_ballast"); got == "falls short" {
				t.Error("the address does not hold what is tried")
			}
			p.moving()
			p.run(chromedp.Click(chromedp.CSS(`[data-control=ballast] a.reset`)))
			p.answered()
			if got := p.way("feed_behind_ballast"); got != "falls short" {
				t.Errorf("back as filed it %s", got)
			}
			if got := eval[string](p, "location.search"); strings.Contains(got, "ballast") {
				t.Errorf("the address is %s", got)
			}
			p.quiet()
		})
	}
}

// Real arrow keys on the ground slider make the ground row fall short.
func TestArrowKeysOnTheGroundSlider(t *testing.T) {
	p := open(t).visit(t, laptop, "light", "/cars/1/prove?condition=hot_idle")
	state := func() string {
		return eval[string](p, `document.querySelector("#row-ground_path button.cell .word").textContent`)
	}
	if got := state(); got == "falls short" {
		t.Fatalf("as filed the ground path %s", got)
	}
	eval[bool](p, `document.querySelector("[data-moves=ground]").focus() === undefined`)
	p.moving()
	p.run(chromedp.KeyEvent(kb.PageUp), chromedp.KeyEvent(kb.PageUp), chromedp.KeyEvent(kb.PageUp), chromedp.KeyEvent(kb.PageUp))
	p.run(chromedp.KeyEvent(strings.Repeat(kb.ArrowRight, 12)))
	p.answered()
	if got := state(); got != "falls short" {
		t.Errorf("with %s it %s", eval[string](p, `document.getElementById("ground").value`), got)
	}
	if got := eval[string](p, `document.querySelector("#verdict .head").textContent`); !strings.Contains(got, "FALLS SHORT") {
		t.Errorf("verdict %q", got)
	}
	if got := eval[string](p, `document.querySelector("[data-moves=ground]").getAttribute("aria-valuetext")`); !strings.Contains(got, "Ω") {
		t.Errorf("the slider says %q", got)
	}
	p.quiet()
}

// Figures are typed with the unit a person has at hand; one that can't be
// used is said so at its field and the page stands.
func TestFiguresAreTyped(t *testing.T) {
	p := open(t).visit(t, laptop, "light", "/cars/1/found?condition=hot_idle")
	enter := func(field, text string) {
		p.moving()
		eval[bool](p, fmt.Sprintf("document.getElementById(%q).select() === undefined", field))
		p.run(chromedp.SendKeys(chromedp.CSS("#"+field), text+kb.Enter))
		p.answered()
	}
	enter("bay", "180 °F")
	if got := eval[string](p, `document.getElementById("tried").innerText`); !strings.Contains(got, "engine bay air 82.2 °C") {
		t.Errorf("tried: %q", got)
	}
	enter("ground", "35 mohm")
	if got := eval[string](p, `document.getElementById("tried").innerText`); !strings.Contains(got, "ground path 35 mΩ") {
		t.Errorf("tried: %q", got)
	}
	enter("ground", "35 mV")
	if !eval[bool](p, `document.getElementById("ground").getAttribute("aria-invalid") === "true" && !!document.getElementById("ground-wrong").textContent`) {
		t.Error("the mistake is not said at its field")
	}
	if eval[string](p, `document.getElementById("ground").value`) != "35 mV" {
		t.Error("what was typed is lost")
	}
	enter("ground", "35 mohm")
	if eval[bool](p, `!!document.getElementById("ground-wrong")`) {
		t.Error("the mistake stays after it was put right")
	}
	p.quiet()
}

// Condition, wiring, loads and units work, and figures of a condition do not
// follow into another.
func TestTheOtherControls(t *testing.T) {
	p := open(t).visit(t, laptop, "light", "/cars/1/found?condition=hot_idle")
	click := func(css string) {
		p.moving()
		p.run(chromedp.Click(chromedp.CSS(css)))
		p.answered()
	}
	search := func() string { return eval[string](p, "location.search") }
	text := func(css string) string {
		return eval[string](p, fmt.Sprintf("document.querySelector(%q).innerText", css))
	}

	p.slide("speed", "900")
	if !strings.Contains(search(), "speed=900") {
		t.Errorf("address %s", search())
	}
	click("input[name=condition][value=cruise]")
	if got := search(); strings.Contains(got, "speed") || !strings.Contains(got, "condition=cruise") {
		t.Errorf("address %s", got)
	}
	if got := eval[string](p, `document.querySelector(".picture.wide svg title").textContent`); got != "Cruise" {
		t.Errorf("picture of %q", got)
	}
	click("input[name=load][value=headlamps]")
	if got := text("#tried"); !strings.Contains(got, "loads on: tail lamps") {
		t.Errorf("tried: %q", got)
	}
	click("input[name=load][value=headlamps]")
	if got := search(); strings.Contains(got, "load") {
		t.Errorf("loads as filed stay in the address: %s", got)
	}
	click("input[name=load][value=headlamps]")
	click("[data-control=loads] a.reset")
	if got := search(); strings.Contains(got, "load") {
		t.Errorf("loads put back stay in the address: %s", got)
	}
	if !eval[bool](p, `document.querySelector("input[name=load][value=headlamps]").checked`) {
		t.Error("the headlamps are not on again")
	}
	p.moving()
	eval[bool](p, `(() => { const o = document.getElementById("option"); o.value = "relay_feed"; o.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`)
	p.answered()
	if got := eval[string](p, `document.querySelector(".picture.wide svg").textContent`); !strings.Contains(got, "relay") {
		t.Error("no relay in the picture")
	}
	click("input[name=units][value=inch]")
	if got := text("#bay-filed"); !strings.Contains(got, "°F") {
		t.Errorf("filed %q", got)
	}
	if got := eval[string](p, `document.querySelector("#stages a[aria-current]").href`); !strings.Contains(got, "units=inch") || !strings.Contains(got, "option=relay_feed") {
		t.Errorf("the stages lead to %s", got)
	}
	p.quiet()
}

// On a phone one control is shown at a time, and the tray can be put away.
func TestTrayOnAPhone(t *testing.T) {
	p := open(t).visit(t, phone, "light", "/cars/1/found?condition=hot_idle")
	shown := func() string {
		return eval[string](p, `[...document.querySelectorAll("#bench .control")].filter(c => c.offsetParent).map(c => c.dataset.control).join(" ")`)
	}
	if got := shown(); got != "ballast" {
		t.Errorf("shown: %q", got)
	}
	for _, name := range []string{"ground", "loads", "option", "speed"} {
		p.run(chromedp.Click(chromedp.CSS("button[data-pick=" + name + "]")))
		if got := shown(); got != name {
			t.Errorf("picked %s, shown: %q", name, got)
		}
		if got := eval[string](p, `document.querySelector("[data-pick][aria-pressed=true]").dataset.pick`); got != name {
			t.Errorf("picked %s, pressed: %s", name, got)
		}
	}
	p.shoot("tray-phone", false)
	p.run(chromedp.Click(chromedp.CSS("button[data-pick=none]")))
	if got := shown(); got != "" {
		t.Errorf("put away, shown: %q", got)
	}
	p.quiet()
}

// Without a script the bench is a form with a button.
func TestWithoutAScript(t *testing.T) {
	s := open(t)
	p := s.visit(t, laptop, "light", "/cars/1/prove?condition=hot_idle")
	p.run(disableScripts())
	p.run(chromedp.Navigate(s.address+"/cars/1/prove?condition=hot_idle"), chromedp.WaitVisible(chromedp.CSS("button.update")))
	p.run(chromedp.SendKeys(chromedp.CSS("#ground"), "0.5 ohm"), chromedp.Click(chromedp.CSS("button.update")), chromedp.WaitVisible(chromedp.CSS("[data-control=ground].tried")))
	state, err := chromedp.Run(p.ctx, chromedp.Text(chromedp.CSS("#row-ground_path button.cell .word")))
	if err != nil || state != "falls short" {
		t.Errorf("half an ohm: %q, %v", state, err)
	}
	where, err := chromedp.Run(p.ctx, chromedp.Location())
	if err != nil || !strings.Contains(where, "ground=0.5+ohm") {
		t.Errorf("address %s, %v", where, err)
	}
	p.shoot("scriptless-laptop", false)
}

// A page whose car file changes on disk shows the new car, or what is wrong
// with it, by itself.
func TestFileChangesUnderThePage(t *testing.T) {
	s := open(t)
	name := filepath.Join(t.TempDir(), "car.yaml")
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write(string(examples.Demo))
	address, stop, err := serve(name)
	if err != nil {
		t.Fatal(err)
	}
	defer stop()
	own := &site{address, s.browser}
	p := own.visit(t, laptop, "light", "/cars/1/found")
	time.Sleep(20 * time.Millisecond)
	write(strings.Replace(string(examples.Demo), "cylinders: 8", "cylinders: 9", 1))
	p.wait(`document.querySelector(".problems") && document.body.innerText.includes("system.cylinders")`)
	p.shoot("broken-laptop", false)
	time.Sleep(20 * time.Millisecond)
	write(strings.Replace(string(examples.Demo), "Harrowmere Eight", "Harrowmere Mended", 1))
	p.wait(`document.querySelector("#verdict") && document.querySelector("h1").textContent.includes("Mended")`)
}
