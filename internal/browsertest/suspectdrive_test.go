package browsertest

import (
	"fmt"
	"math"
	"net/url"
	"slices"
	"strings"
	"testing"

	"dwellwright/measure"
	"dwellwright/units"
)

// press touches something that moves the page, and waits until it rests.
func (p *tab) press(css string) {
	p.t.Helper()
	p.moving()
	p.tap(css)
	p.answered()
	p.resting()
}

// complain touches what the owner complains of.
func (p *tab) complain(ids []string) {
	p.t.Helper()
	for _, id := range ids {
		p.press(`label:has(#c-` + id + `)`)
	}
}

// mend is the remedy that the page says to do, "" where it says none.
func (p *tab) mend() string {
	p.t.Helper()
	return eval[string](p, `document.querySelector(".stop input[name=mend]")?.value ?? ""`)
}

// stopped is the text of the card that says to stop, "" where a reading is asked for.
func (p *tab) stopped() string {
	p.t.Helper()
	return eval[string](p, `document.querySelector(".stop")?.innerText ?? ""`)
}

// head is what the verdict says.
func (p *tab) head() string {
	p.t.Helper()
	return eval[string](p, `document.querySelector("#verdict .head").textContent`)
}

// again touches the first reading that is offered once more, which then comes.
func (p *tab) again(missing string) {
	p.t.Helper()
	p.press(`.again a`)
	if p.reading() == "" {
		p.t.Error(missing)
	}
	p.quiet()
}

// step shoots a step of a diagnosis and holds it to what a thumb needs.
func (p *tab) step(name string) {
	p.t.Helper()
	if w := eval[int64](p, "document.documentElement.scrollWidth"); w > phone.width {
		p.t.Errorf("%s: %d px wide", name, w)
	}
	near := eval[[]string](p, `(() => {
		const all = [...document.querySelectorAll("#case a, #case button, #case summary")].filter(e => e.checkVisibility()).map(e => [e, e.getBoundingClientRect()]);
		const bad = [];
		for (const [a, r] of all) {
			if (r.height < 44 || r.width < 44) bad.push("small: " + a.outerHTML.slice(0, 80));
			for (const [b, s] of all) if (a !== b && !a.contains(b) && !b.contains(a) &&
				Math.min(r.right, s.right) - Math.max(r.left, s.left) > -4 && Math.min(r.bottom, s.bottom) - Math.max(r.top, s.top) > -4 &&
				!a.matches("summary") && !b.matches("summary")) bad.push("close: " + a.textContent.trim().slice(0, 30) + " | " + b.textContent.trim().slice(0, 30));
		}
		return bad;
	})()`)
	if len(near) > 0 {
		p.t.Errorf("%s: not for a thumb: %q", name, near)
	}
	if cut := eval[[]string](p, `[...document.querySelectorAll("#case *")].filter(e => e.checkVisibility() && e.childElementCount === 0 && !e.closest("svg, .unseen") && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && !e.matches("input")).slice(0, 5).map(e => e.outerHTML.slice(0, 100))`); len(cut) > 0 {
		p.t.Errorf("%s: cut text: %q", name, cut)
	}
	p.shoot("drive-"+name, true)
}

// Two faults at once: the first is mended and the complaint stays, the second
// is found, mended, and proven by a reading.
func TestSuspectTwoFaults(t *testing.T) {
	s := sicken(t, "plate_ground_high", 0.6, 11, "bypass_open")
	p := open(t).held(t, "/cars/1/suspect")
	p.complain(s.hear)
	left, of := s.faults, s.ill
	var done []string
	for n := 0; len(left) > 0; n++ {
		if n > 50 {
			t.Fatalf("after %d answers %d faults are left; said %v", n, len(left), p.said()["r"])
		}
		remedy := p.mend()
		if remedy == "" {
			p.step(fmt.Sprintf("two-%02d", n))
			p.answer(&s, of, false)
			continue
		}
		p.step(fmt.Sprintf("two-%02d-stop", n))
		rest := s.cured(left, remedy)
		if len(rest) == len(left) {
			t.Fatalf("the page would %q and the car has %s; said %v", remedy, faultNames(&s), p.said()["r"])
		}
		then := "still"
		if left, of = rest, s.with(t, rest); len(left) == 0 {
			then = "gone"
		}
		done = append(done, remedy)
		p.press(`.stop .two:not(.less) button[value=` + then + `]`)
		t.Logf("after %d answers: %s, %s; verdict %q", n, remedy, then, p.head())
	}
	if len(done) != 2 {
		t.Errorf("mended with %q", done)
	}
	if !strings.Contains(p.head(), "not yet proven") || p.reading() == "" {
		t.Fatalf("mended and not read again: %q, reading %q", p.head(), p.reading())
	}
	p.step("two-proof")
	for n := 0; n < 6 && p.stopped() == ""; n++ {
		p.answer(&s, s.mended, false)
	}
	if got := p.head(); got[:7] != "Nothing" {
		t.Errorf("mended and proven: %q", got)
	}
	p.step("two-proven")
	p.quiet()
}

func faultNames(s *sick) string {
	var list []string
	for _, f := range s.faults {
		list = append(list, f.ID)
	}
	return strings.Join(list, ", ")
}

// A slip, a reading that can't be done, and an undo: the page names the reading
// that it distrusts and asks for it again; read again, it leads to the same
// remedy as if it had never slipped.
func TestSuspectSlip(t *testing.T) {
	s := sicken(t, "plate_ground_high", 0.6, 11)
	p := open(t).held(t, "/cars/1/suspect")
	p.complain(s.hear)
	first := p.reading()
	p.press(`.answer button[value=leave]`)
	if p.reading() == first {
		t.Errorf("%s is asked again though it can't be done", first)
	}
	p.press(`.undo`)
	if p.reading() != first {
		t.Errorf("undone, %s is asked for in the place of %s", p.reading(), first)
	}
	p.press(`.answer button[value=leave]`)

	// The slip is made on a voltage the car shows as some volts: the point one
	// place off.
	slipped, shown := "", false
	for n := 0; n < 30 && (p.mend() == "" || slipped != "" && !shown); n++ {
		id := p.reading()
		if id == "" {
			break
		}
		i := s.at(t, id)
		m, x := &s.list[i], s.ill[i]
		if slipped == "" && m.Group != measure.Secondary && m.Kind.String() == "voltage" && !math.IsNaN(x) && math.Abs(x) > 1 {
			slipped = id
			wrong := slices.Clone(s.ill)
			wrong[i] = 10 * x
			p.answer(&s, wrong, false)
			p.step("slip-made")
		} else {
			p.answer(&s, s.ill, false)
		}
		shown = shown || eval[bool](p, `!!document.querySelector(".distrusted, #taken .doubt")`)
		if shown && slipped != "" {
			break
		}
	}
	if slipped == "" {
		t.Fatalf("no voltage was asked for; said %v", p.said())
	}
	i := s.at(t, slipped)
	if !shown {
		t.Fatalf("%s was written down ten times too large and the page trusts it; verdict %q, said %v", slipped, p.head(), p.said()["r"])
	}
	if text := eval[string](p, `document.querySelector(".now")?.innerText ?? ""`); !strings.Contains(strings.ToLower(text), strings.ToLower(s.list[i].Name)) {
		t.Errorf("the page distrusts, not by name (%s): %s", s.list[i].Name, text)
	}
	p.step("slip-distrusted")
	if p.reading() != slipped {
		p.press(`.distrusted a.main-button`)
	}
	if p.reading() != slipped {
		t.Fatalf("to be read again is %s, got %s", slipped, p.reading())
	}
	p.answer(&s, s.ill, false)
	if eval[bool](p, `!!document.querySelector(".distrusted")`) {
		t.Errorf("read again, it is still distrusted")
	}
	p.step("slip-read-again")
	for n := 0; n < 24 && p.stopped() == ""; n++ {
		p.answer(&s, s.ill, false)
	}
	if p.mend() != s.remedy {
		t.Errorf("the page would %q, the car wants %s; said %v", p.mend(), s.remedy, p.said()["r"])
	}
	p.press(`.stop .two:not(.less) button[value=gone]`)
	p.answer(&s, s.mended, false)
	if !strings.HasPrefix(p.head(), "Nothing") {
		t.Errorf("mended and proven: %q", p.head())
	}
	p.quiet()
}

// A car in order comes to the card that says so, with where to look instead.
func TestSuspectNothingWrong(t *testing.T) {
	s := contentCar(t)
	q := url.Values{}
	for i, m := range s.list {
		if x := s.mended[i]; !m.Observation && !math.IsNaN(x) && m.Needs <= measure.NeedsRunning && m.Minutes <= 5 {
			q.Add("r", m.ID+":"+units.Format(m.Kind, x, units.Metric))
		}
	}
	p := open(t).held(t, "/cars/1/suspect?"+q.Encode())
	for n := 0; n < 16 && p.stopped() == ""; n++ {
		p.answer(&s, s.mended, false)
	}
	text := p.stopped()
	if !eval[bool](p, `!!document.querySelector(".stop.nothing")`) || !strings.Contains(text, "fuel") || !strings.Contains(text, "local codes") {
		t.Errorf("a car in order: %q\n%s\nsaid %v", p.head(), text, p.said()["r"])
	}
	if head := strings.ToLower(p.head()); !strings.Contains(head, "nothing wrong") && !strings.Contains(head, "outside the ignition") {
		t.Errorf("the card says to look elsewhere, the verdict %q", p.head())
	}
	p.step("nothing-wrong")
	p.quiet()
}

// Readings that nothing explains come to the card that says so, which names
// what to read again.
func TestSuspectUnknown(t *testing.T) {
	q := url.Values{"c": {"misses_speed"}, "r": strangeReadings}
	p := open(t).held(t, "/cars/1/suspect?"+q.Encode())
	text := p.stopped()
	if !eval[bool](p, `!!document.querySelector(".stop.unknown")`) || !strings.Contains(strings.ToLower(text), "read again") {
		t.Errorf("readings that nothing explains: %q\n%s", p.head(), text)
	}
	p.step("unknown")
	p.again("the reading to be taken again does not come")
}

var strangeReadings = []string{"battery_rest:12.6 V", "battery_crank:12.5 V", "plate_housing_drop:0.01 V", "plate_earth_drop:0.9 V", "housing_block_drop:0.01 V",
	"block_earth_drop:0.01 V", "coil_feed_closed:3.1 V", "coil_feed_open:6.0 V", "coil_switched_open:12.5 V", "ballast_drop:0.4 V"}

// With all left out nothing is left to read, and the page says what to do then.
func TestSuspectNothingLeft(t *testing.T) {
	s := contentCar(t)
	q := url.Values{"c": {"misses_speed"}}
	for i := range s.list {
		q.Add("r", s.list[i].ID+":leave")
	}
	out := q["r"]
	q["r"] = out[:len(out)-1]
	p := open(t).held(t, "/cars/1/suspect?"+q.Encode())
	if last := s.list[len(s.list)-1].ID; p.reading() == last {
		p.press(`.answer button[value=leave]`)
	}
	text := p.stopped()
	if !strings.Contains(text, "Nothing is left to read") || !strings.Contains(text, "after all") || !strings.Contains(text, "Before you begin") {
		t.Errorf("with nothing left to read: %q\n%s", p.head(), text)
	}
	p.step("nothing-left")
	p.again("what was left out can't be read after all")
}

// contentCar is a drawn car in order whose owner has nothing to complain of.
func contentCar(t *testing.T) sick {
	t.Helper()
	for seed := range uint64(40) {
		s := wellCar(t, seed)
		ill := slices.ContainsFunc(s.list, func(m measure.Measure) bool {
			x := s.mended[s.at(t, m.ID)]
			return m.Group == measure.Owner && x >= 0.5 && !strings.HasPrefix(m.ID, "catches")
		})
		if !ill {
			return s
		}
	}
	t.Fatal("none of 40 drawn cars in order is without a complaint")
	return sick{}
}
