package web

import (
	"fmt"
	"html/template"
	"net/url"
	"strings"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/twin"
)

// page is everything the template of a stage shows.
type page struct {
	Title    string
	Stage    string // id
	Question string
	N        int
	Several  bool // other cars are open
	Edition  string
	Address  string // of this page with this bench
	Car      string
	Earth    string // voltage and earth, in words
	Fitted   string // what else is fitted, in words
	Stages   []stageLink
	Verdict  verdict
	Bench    benchView
	Cautions []string
	Found    *foundView
	Plan     *planView
	Prove    *proveView
	Spark    *sparkView
	Fit      *fitView
	Curve    *curveView
	Suspect  *suspectView
	Failed   string
	Draws    int
	Ms       int64
	// Quick leaves out of a live answer what can wait until the bench rests:
	// what stands behind the cells of the sheet.
	Quick bool
	// Live says that this is a live answer: the script asks for the parts that
	// take their time.
	Live bool
	// Layout is the one layout of the wiring picture that is wanted, wide or
	// tall; "" is both.
	Layout string

	picks picks
	bench workshop.Bench
	shelf *shelf
}

// query is the bench and what is looked at, as they stand in an address.
func (p *page) query() string {
	q := p.bench.Query()
	p.picks.add(q)
	return q.Encode()
}

// stageLink leads to a stage with the same bench.
type stageLink struct {
	Name, Href string
	Here       bool
}

// verdict is how things stand, in a mark, a few words and a sentence.
type verdict struct {
	Mark         html
	State        string // for the edge of its box
	Head, Detail string
}

func newPage(st *stage, n, count int, c *car.Car, b workshop.Bench, errs []*workshop.FieldError, q url.Values, several bool) *page {
	k := condition(c, b.Condition)
	p := &page{
		Title: st.Name + ": " + c.Name, Stage: st.ID, Question: st.Question, N: n, Several: several, Edition: edition(count),
		Car: c.Name, Earth: earthWords(c), Fitted: fitted(c), Cautions: cautionsFor(st.ID, c, k), Draws: b.Draws,
	}
	p.bench = b
	var more []*workshop.FieldError
	p.picks, more = parsePicks(c, q)
	errs = append(errs, more...)
	p.picks.AsFitted = st.ID == "fit" && q.Get("option") == twin.AsFitted
	at := func(stage string) string { return fmt.Sprintf("/cars/%d/%s?%s", n, stage, p.query()) }
	p.Address = at(st.ID)
	for _, x := range inOrder() {
		p.Stages = append(p.Stages, stageLink{x.Name, at(x.ID), x.ID == st.ID})
	}
	p.Bench = viewBench(st, n, c, b, p.picks, errs, q)
	return p
}

// html is text that is known to be safe.
type html = template.HTML

// facts is a car in a line.
func facts(c *car.Car) string {
	return fmt.Sprintf("%d V, %s earth, %s", c.NominalV, c.Earth, fitted(c))
}

// fitted says what switches and what charges.
func fitted(c *car.Car) string {
	charging := c.Charging.Kind.String()
	if c.Charging.Kind == car.NoCharging {
		charging = "no charging"
	}
	ballast := "ballast"
	if !c.Ballast.Fitted {
		ballast = "no ballast"
	}
	return fmt.Sprintf("%d cylinders, %s, %s, %s", c.Cylinders, strings.ReplaceAll(c.Switch.Kind.String(), "_", " "), charging, ballast)
}

// marks ties the states of a cell to their signs.
var marks = map[prove.State]draw.CellMark{
	prove.None: draw.MarkNone, prove.Holds: draw.MarkHolds, prove.NotProven: draw.MarkUnproven,
	prove.Doubtful: draw.MarkDoubtful, prove.FallsShort: draw.MarkShort,
}

// mark is the sign of a state with its word for those who don't see it.
func mark(s prove.State) html {
	return useMark(s, `role="img" aria-label="`+s.String()+`"`)
}

// sign is the sign alone, for beside the word.
func sign(s prove.State) html { return useMark(s, `aria-hidden="true"`) }

// useMark draws a sign by pointing at the one of signs.
func useMark(s prove.State, says string) html {
	if s == prove.None {
		return ""
	}
	return html(`<svg class="dw dw-mark" viewBox="0 0 20 20" width="20" height="20" ` + says + `><use href="#mark-` + stateClass(s) + `"/></svg>`)
}

// signs holds the four signs, once for a page.
func signs() html {
	var b strings.Builder
	b.WriteString(`<svg class="signs" aria-hidden="true">`)
	for _, s := range []prove.State{prove.Holds, prove.NotProven, prove.Doubtful, prove.FallsShort} {
		_, inside, _ := strings.Cut(draw.MarkSVG(marks[s]), ">")
		b.WriteString(`<symbol id="mark-` + stateClass(s) + `" viewBox="0 0 20 20">` + strings.TrimSuffix(inside, "</svg>") + `</symbol>`)
	}
	b.WriteString("</svg>")
	return html(b.String())
}

// stateClass is a state as a style class.
func stateClass(s prove.State) string {
	return map[prove.State]string{
		prove.Holds: "holds", prove.NotProven: "unproven", prove.Doubtful: "doubtful", prove.FallsShort: "short",
	}[s]
}

// speak makes a verdict of a sentence that begins with how things stand.
func speak(s prove.State, sentence string) verdict {
	head, detail, _ := strings.Cut(sentence, ". ")
	if detail == "" {
		head = strings.TrimSuffix(head, ".")
	}
	return verdict{Mark: mark(s), State: stateClass(s), Head: head, Detail: detail}
}

// picture writes a scene for the page. What can't be drawn is said in its
// place: the figures beside it still stand.
func picture(s draw.Scene, err error, prefix string) html {
	var b strings.Builder
	if err == nil {
		err = draw.WriteSVG(&b, s, draw.SVGOptions{IDPrefix: prefix})
	}
	if err != nil {
		return html(`<p class="undrawn">This can't be drawn: ` + template.HTMLEscapeString(err.Error()) + `</p>`)
	}
	return html(b.String())
}
