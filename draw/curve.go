package draw

import (
	"fmt"
	"math"
	"strings"
)

// CurveSpec is a chart of lines over a common x axis.
type CurveSpec struct {
	Title  string
	W, H   float64 // extent of the picture; 0 means 720 by 340
	X, Y   Axis
	Series []Series // four at most, so that they stay told apart
	Band   Band
	Limits []CurveLimit
}

// Axis names one axis. With Lo equal to Hi its ends come from what is drawn.
type Axis struct {
	Label  string // "time"
	Unit   string // "ms"
	Lo, Hi float64
}

// Series is one line. X and Y are of one length. A line of many points whose
// X never falls is thinned without changing how it looks: from each pixel
// column its first, lowest, highest and last point are kept.
type Series struct {
	Name   string
	X, Y   []float64
	Origin Origin
	Marks  bool // every point is marked, as readings are
	NoLine bool // marks only
}

// Band is a filled region between Lo and Hi; the three slices are of one
// length, X rising. It is drawn when X is not empty.
type Band struct {
	Name      string
	X, Lo, Hi []float64
}

// CurveLimit is a level line.
type CurveLimit struct {
	Name string // "lowest feed the trigger stands"
	Limit
}

// Curve draws the spec. An error is a *SpecError.
func Curve(spec CurveSpec) (Scene, error) {
	if spec.W == 0 {
		spec.W = 720
	}
	if spec.H == 0 {
		spec.H = 340
	}
	if err := spec.check(); err != nil {
		return Scene{}, err
	}
	c := curveDrawing{CurveSpec: spec}
	s := Scene{W: spec.W, H: spec.H, Title: spec.Title, Desc: c.words()}
	y := 20.0
	for _, l := range Wrap(spec.Title, 14, spec.W-24, true) {
		s.Items = append(s.Items, Text{X: 12, Y: y, S: l, Size: 14, Bold: true, Tone: Ink})
		y += 18
	}
	key, y := c.key(y + 2)
	s.Items = append(s.Items, key)
	// The name of the y axis stands above the axis, level.
	y += 10
	s.Items = append(s.Items, Text{X: 12, Y: y, S: c.Y.name(), Size: 12, Tone: Muted})
	c.y0 = y + 10
	c.y1 = spec.H - 38
	if c.y1-c.y0 < 60 {
		return Scene{}, &SpecError{"h", fmt.Sprintf("is %v, which leaves no room for the lines; want %v or more", spec.H, math.Ceil(spec.H+60-(c.y1-c.y0)))}
	}
	c.axes(&s)
	c.band(&s)
	for i := range c.Limits {
		c.limit(&s, i)
	}
	for i := range c.Series {
		c.series(&s, i)
	}
	return s, nil
}

func (a Axis) name() string {
	switch {
	case a.Unit == "":
		return a.Label
	case a.Label == "":
		return a.Unit
	}
	return a.Label + ", " + a.Unit
}

func (spec CurveSpec) check() error {
	bad := func(where, what string) error { return &SpecError{where, what} }
	if !(spec.W >= 240 && spec.W <= 8000 && spec.H >= 140 && spec.H <= 8000) {
		return bad("extent", fmt.Sprintf("is %v by %v; want 240 by 140 up to 8000 by 8000", spec.W, spec.H))
	}
	for i, a := range []Axis{spec.X, spec.Y} {
		if !finite(a.Lo) || !finite(a.Hi) || a.Hi < a.Lo {
			return bad("xy"[i:i+1]+" axis", fmt.Sprintf("runs from %v to %v; want numbers in rising order", a.Lo, a.Hi))
		}
	}
	if len(spec.Series) > len(seriesLooks) {
		return bad("series", fmt.Sprintf("are %d; want %d at most", len(spec.Series), len(seriesLooks)))
	}
	numbers := func(where string, vs []float64) error {
		for i, v := range vs {
			if !finite(v) {
				return bad(fmt.Sprintf("%s[%d]", where, i), fmt.Sprintf("is %v; want a number", v))
			}
		}
		return nil
	}
	for i, s := range spec.Series {
		where := fmt.Sprintf("series[%d] (%s)", i, s.Name)
		if len(s.X) != len(s.Y) {
			return bad(where, fmt.Sprintf("has %d x and %d y; want as many of each", len(s.X), len(s.Y)))
		}
		if s.Origin >= originCount {
			return bad(where, "has an origin that does not exist")
		}
		if err := numbers(where+" x", s.X); err != nil {
			return err
		}
		if err := numbers(where+" y", s.Y); err != nil {
			return err
		}
	}
	b := spec.Band
	if len(b.X) != len(b.Lo) || len(b.X) != len(b.Hi) {
		return bad("band", fmt.Sprintf("has %d x, %d lo and %d hi; want as many of each", len(b.X), len(b.Lo), len(b.Hi)))
	}
	for i, vs := range [][]float64{b.X, b.Lo, b.Hi} {
		if err := numbers([]string{"band x", "band lo", "band hi"}[i], vs); err != nil {
			return err
		}
	}
	for i := range b.X {
		if i > 0 && b.X[i] < b.X[i-1] || b.Hi[i] < b.Lo[i] {
			return bad(fmt.Sprintf("band [%d]", i), "is out of order; want x rising and lo below hi")
		}
	}
	for i, l := range spec.Limits {
		if !finite(l.At) || l.Side > AtMost {
			return bad(fmt.Sprintf("limits[%d] (%s)", i, l.Name), fmt.Sprintf("is at %v; want a number", l.At))
		}
	}
	return nil
}

// looks tell series apart by dash, width and mark as well as tone.
var seriesLooks = [...]struct {
	style Style
	mark  int
}{
	{Style{Stroke: SeriesA, Width: 2}, 0},
	{Style{Stroke: SeriesB, Width: 2, Dash: Dashed}, 1},
	{Style{Stroke: SeriesC, Width: 2, Dash: Dotted}, 2},
	{Style{Stroke: SeriesD, Width: 3.4}, 3},
}

func pointMark(kind int, x, y float64, t Tone) Item {
	st := Style{Stroke: t, Width: 1.8, Fill: Panel}
	switch kind {
	case 1:
		return Rect{X: x - 3.5, Y: y - 3.5, W: 7, H: 7, Style: st}
	case 2:
		return Polyline{Points: []Point{{x, y - 4.8}, {x + 4.8, y}, {x, y + 4.8}, {x - 4.8, y}}, Closed: true, Style: st}
	case 3:
		return Polyline{Points: []Point{{x, y - 4.5}, {x + 4.5, y + 3.5}, {x - 4.5, y + 3.5}}, Closed: true, Style: st}
	}
	return Circle{X: x, Y: y, R: 4, Style: st}
}

// curveDrawing is a spec with its axes in place.
type curveDrawing struct {
	CurveSpec
	x0, x1, y0, y1 float64 // the field the lines are drawn in
}

func (c *curveDrawing) at(x, y float64) Point {
	return Point{
		c.x0 + (x-c.X.Lo)/(c.X.Hi-c.X.Lo)*(c.x1-c.x0),
		c.y1 - (y-c.Y.Lo)/(c.Y.Hi-c.Y.Lo)*(c.y1-c.y0),
	}
}

// limitStyle is how level lines are drawn.
var limitStyle = Style{Stroke: Short, Width: 1.8, Dash: Dashed}

// key explains lines, band and limits above the field.
func (c *curveDrawing) key(y float64) (Group, float64) {
	g := Group{Label: "Legend"}
	x := 12.0
	put := func(word string, o Origin, withChip bool, sign func(x, y float64) []Item) {
		w := 28 + 6 + TextWidth(word, 12, false)
		if withChip {
			w += chipSize + 5
		}
		if x > 12 && x+w > c.W-12 {
			x = 12
			y += 19
		}
		g.Items = append(g.Items, sign(x, y-4)...)
		g.Items = append(g.Items, Text{X: x + 34, Y: y, S: word, Size: 12, Tone: Ink})
		if withChip {
			g.Items = append(g.Items, chip(o, x+w-chipSize/2.0, y-4))
		}
		x += w + 16
	}
	for i, s := range c.Series {
		look := seriesLooks[i]
		put(s.Name, s.Origin, true, func(x, y float64) []Item {
			var it []Item
			if !s.NoLine {
				it = append(it, Line{x, y, x + 28, y, look.style})
			}
			if s.Marks || s.NoLine {
				it = append(it, pointMark(look.mark, x+14, y, look.style.Stroke))
			}
			return it
		})
	}
	if len(c.Band.X) > 0 {
		put(c.Band.Name, 0, false, func(x, y float64) []Item {
			return []Item{Rect{X: x, Y: y - 6, W: 28, H: 12, R: 2, Style: Style{Stroke: Holds, Fill: Wanted}}}
		})
	}
	for _, l := range c.Limits {
		word := l.Name
		if w := l.words(c.Y.Unit); w != "" {
			word += ", " + w
		}
		put(strings.TrimPrefix(word, ", "), 0, false, func(x, y float64) []Item {
			return append([]Item{Line{x, y, x + 28, y, limitStyle}}, limitFlag(x+10, y, l.Side))
		})
	}
	if x == 12 {
		return g, y - 16
	}
	return g, y + 12
}

// limitFlag points to the side of the limit on which it is well.
func limitFlag(x, y float64, s Side) Item {
	h := -7.0
	if s == AtMost {
		h = 7
	}
	if s == NoLimit {
		h = 0
	}
	return Polyline{Points: []Point{{x, y}, {x + 8, y}, {x + 4, y + h}}, Closed: true, Style: Style{Fill: limitStyle.Stroke}}
}

// axes settles the range of both axes and draws them.
func (c *curveDrawing) axes(s *Scene) {
	xlo, xhi, ylo, yhi := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, r := range c.Series {
		for i := range r.X {
			xlo, xhi = math.Min(xlo, r.X[i]), math.Max(xhi, r.X[i])
			ylo, yhi = math.Min(ylo, r.Y[i]), math.Max(yhi, r.Y[i])
		}
	}
	for i := range c.Band.X {
		xlo, xhi = math.Min(xlo, c.Band.X[i]), math.Max(xhi, c.Band.X[i])
		ylo, yhi = math.Min(ylo, c.Band.Lo[i]), math.Max(yhi, c.Band.Hi[i])
	}
	span := math.Max(yhi-ylo, 0)
	for _, l := range c.Limits { // kept off the axis itself
		ylo, yhi = math.Min(ylo, l.At-span/25), math.Max(yhi, l.At+span/25)
	}
	settle := func(a *Axis, lo, hi float64, n int, round bool) ([]float64, float64) {
		if lo > hi {
			lo, hi = 0, 1
		}
		if a.Lo == a.Hi {
			ts, step := ticks(lo, hi, n)
			if round || lo == hi {
				a.Lo, a.Hi = ts[0], ts[len(ts)-1]
				return ts, step
			}
			a.Lo, a.Hi = lo, hi
			return inside(ts, lo, hi), step
		}
		ts, step := ticks(a.Lo, a.Hi, n)
		return inside(ts, a.Lo, a.Hi), step
	}
	yt, ystep := settle(&c.Y, ylo, yhi, max(3, int((c.y1-c.y0)/44)), true)
	wide := 0.0
	for _, t := range yt {
		wide = math.Max(wide, TextWidth(tickLabel(t, ystep), 12, false))
	}
	c.x0, c.x1 = 12+wide+8, c.W-16
	xt, xstep := settle(&c.X, xlo, xhi, max(3, int((c.x1-c.x0)/72)), false)
	for _, t := range yt {
		p := c.at(c.X.Lo, t)
		s.Items = append(s.Items,
			Line{c.x0, p.Y, c.x1, p.Y, Style{Stroke: Faint}},
			Text{X: c.x0 - 7, Y: p.Y + 4, S: tickLabel(t, ystep), Size: 12, Anchor: End, Tone: Muted})
	}
	for _, t := range xt {
		p := c.at(t, c.Y.Lo)
		l := Text{X: p.X, Y: c.y1 + 16, S: tickLabel(t, xstep), Size: 12, Anchor: Middle, Tone: Muted}
		if b := l.Bounds(); b.Max.X > c.W-2 {
			l.X -= b.Max.X - c.W + 2
		}
		s.Items = append(s.Items,
			Line{p.X, c.y0, p.X, c.y1, Style{Stroke: Faint}},
			Line{p.X, c.y1, p.X, c.y1 + 4, Style{Stroke: Muted}}, l)
	}
	s.Items = append(s.Items,
		Polyline{Points: []Point{{c.x0, c.y0}, {c.x0, c.y1}, {c.x1, c.y1}}, Style: Style{Stroke: Muted, Width: 1.4}},
		Text{X: c.x1, Y: c.y1 + 32, S: c.X.name(), Size: 12, Anchor: End, Tone: Muted})
}

func (c *curveDrawing) limit(s *Scene, i int) {
	l := c.Limits[i]
	if l.At < c.Y.Lo || l.At > c.Y.Hi {
		return
	}
	y := c.at(c.X.Lo, l.At).Y
	s.Items = append(s.Items, Line{c.x0, y, c.x1, y, limitStyle}, limitFlag(c.x0+8, y, l.Side))
}

// words is the chart in sentences.
func (c *curveDrawing) words() string {
	var out []string
	for _, r := range c.Series {
		name := r.Name
		if name == "" {
			name = "line"
		}
		if len(r.X) == 0 {
			out = append(out, sentence(name, []string{"no points"}))
			continue
		}
		lo, hi := 0, 0
		xlo, xhi := r.X[0], r.X[0]
		for i, v := range r.Y {
			if v < r.Y[lo] {
				lo = i
			}
			if v > r.Y[hi] {
				hi = i
			}
			xlo, xhi = math.Min(xlo, r.X[i]), math.Max(xhi, r.X[i])
		}
		over := c.X.Label
		if over == "" {
			over = "x"
		}
		facts := []string{
			r.Origin.String(),
			over + " from " + figure(xlo, "") + " to " + figure(xhi, c.X.Unit),
			"lowest " + figure(r.Y[lo], c.Y.Unit) + " at " + figure(r.X[lo], c.X.Unit),
			"highest " + figure(r.Y[hi], c.Y.Unit) + " at " + figure(r.X[hi], c.X.Unit),
		}
		if len(r.X) <= 12 {
			var pts []string
			for i := range r.X {
				pts = append(pts, figure(r.Y[i], c.Y.Unit)+" at "+figure(r.X[i], c.X.Unit))
			}
			facts = append(facts[:2], pts...)
		}
		out = append(out, sentence(name, facts))
	}
	if b := c.Band; len(b.X) > 0 {
		n := len(b.X) - 1
		out = append(out, sentence(b.Name, []string{
			"from " + figure(b.Lo[0], "") + " to " + figure(b.Hi[0], c.Y.Unit) + " at " + figure(b.X[0], c.X.Unit),
			"from " + figure(b.Lo[n], "") + " to " + figure(b.Hi[n], c.Y.Unit) + " at " + figure(b.X[n], c.X.Unit),
		}))
	}
	for _, l := range c.Limits {
		name, w := l.Name, l.words(c.Y.Unit)
		if name == "" {
			name = "limit"
		}
		if w == "" {
			w = figure(l.At, c.Y.Unit)
		}
		out = append(out, sentence(name, []string{w}))
	}
	return strings.Join(out, " ")
}
