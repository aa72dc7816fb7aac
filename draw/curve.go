package draw

import (
	"fmt"
	"math"
	"strconv"
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
	Spans  []Span
	// Direct writes each line's name at its right end as well as in the
	// legend; a letter where there is no room for names.
	Direct bool
}

// Axis names one axis. With Lo equal to Hi its ends come from what is drawn.
// On a logarithmic axis every value must be above 0.
type Axis struct {
	Label  string // "time"
	Unit   string // "ms"
	Lo, Hi float64
	Log    bool
}

// Series is one line. X and Y are of one length. A line of many points whose
// X never falls is thinned without changing how it looks: from each pixel
// column its first, lowest, highest and last point are kept.
type Series struct {
	Name   string
	X, Y   []float64
	Lo, Hi []float64 // the interval at each point, or both empty; drawn as upright bars here and there
	Origin Origin
	Marks  bool // every point is marked, as readings are
	NoLine bool // marks only
	Going  int8 // how the points were taken: +1 while x rose, -1 while it fell, marked by filled triangles that point up or down; 0 not said
	// Handles makes every point a slider for the page's script to move: a
	// group "series-a-0" with a ring to see and room for a finger around it.
	Handles bool
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
	_, s, err := layCurve(spec)
	return s, err
}

// layCurve draws the spec and keeps the axes as they came to lie.
func layCurve(spec CurveSpec) (curveDrawing, Scene, error) {
	none := curveDrawing{}
	if spec.W == 0 {
		spec.W = 720
	}
	if spec.H == 0 {
		spec.H = 340
	}
	if err := spec.check(); err != nil {
		return none, Scene{}, err
	}
	c := curveDrawing{CurveSpec: spec}
	c.letters = c.Direct && c.widest() > 0.24*spec.W
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
	c.y0 = y + 10 + c.spanRoom()
	c.y1 = spec.H - 38
	if c.y1-c.y0 < 60 {
		return none, Scene{}, &SpecError{"h", fmt.Sprintf("is %v, which leaves no room for the lines; want %v or more", spec.H, math.Ceil(spec.H+60-(c.y1-c.y0)))}
	}
	c.axes(&s)
	c.lines(&s)
	if c.Direct {
		c.ends(&s)
	}
	return c, s, nil
}

// lines draws what stands in the field.
func (c *curveDrawing) lines(s *Scene) {
	c.band(s)
	for i := range c.Limits {
		c.limit(s, i)
	}
	for i := range c.Series {
		c.bars(s, i)
	}
	for i := range c.Series {
		c.series(s, i)
	}
	for i := range c.Series {
		c.handles(s, i)
	}
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

// mark is the sign of one of the line's points.
func (c *curveDrawing) mark(i int, x, y float64) Item {
	look := seriesLooks[i]
	if g := float64(c.Series[i].Going); g != 0 {
		return Polyline{Closed: true, Style: Style{Stroke: Panel, Fill: look.style.Stroke}, Points: []Point{{x, y - 5*g}, {x + 5, y + 4*g}, {x - 5, y + 4*g}}}
	}
	return pointMark(look.mark, x, y, look.style.Stroke)
}

// curveDrawing is a spec with its axes in place.
type curveDrawing struct {
	CurveSpec
	field
	pre     string // before the ids of its groups
	letters bool   // lines are named by letters at their ends
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
		name := s.Name
		switch s.Going {
		case 1:
			name += ", going up"
		case -1:
			name += ", going down"
		}
		put(c.letter(i)+name, s.Origin, true, func(x, y float64) []Item {
			var it []Item
			if !s.NoLine {
				it = append(it, Line{x, y, x + 28, y, look.style})
			}
			if s.Handles {
				return append(it, handleRing(x+14, y, look.style.Stroke)...)
			}
			if s.Marks || s.NoLine || s.Going != 0 {
				it = append(it, c.mark(i, x+14, y))
			}
			return it
		})
	}
	for i, r := range c.Series {
		if len(r.Lo) > 0 {
			st := Style{Stroke: seriesLooks[i].style.Stroke, Width: 1.4}
			put("plus-or-minus", 0, false, func(x, y float64) []Item {
				return []Item{Line{x + 14, y - 6, x + 14, y + 6, st}, Line{x + 10.5, y - 6, x + 17.5, y - 6, st}, Line{x + 10.5, y + 6, x + 17.5, y + 6, st}}
			})
			break
		}
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
	if c.numbered() {
		for i, p := range c.Spans {
			put(p.Name, 0, false, func(x, y float64) []Item { return []Item{badge(strconv.Itoa(i+1), x+14, y)} })
		}
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

// reach is the extent of all that is drawn, along x and along y.
func (c *curveDrawing) reach() (xlo, xhi, ylo, yhi float64) {
	xlo, xhi, ylo, yhi = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	see := func(x float64, ys ...float64) {
		xlo, xhi = math.Min(xlo, x), math.Max(xhi, x)
		for _, y := range ys {
			ylo, yhi = math.Min(ylo, y), math.Max(yhi, y)
		}
	}
	for _, r := range c.Series {
		for i := range r.X {
			see(r.X[i], r.Y[i])
		}
		for i := range r.Lo {
			see(r.X[i], r.Lo[i], r.Hi[i])
		}
	}
	for i := range c.Band.X {
		see(c.Band.X[i], c.Band.Lo[i], c.Band.Hi[i])
	}
	for _, p := range c.Spans {
		see(p.From)
		see(p.To)
	}
	span := math.Max(yhi-ylo, 0)
	if c.Y.Log {
		span = 0
	}
	for _, l := range c.Limits { // kept off the axis itself
		ylo, yhi = math.Min(ylo, l.At-span/25), math.Max(yhi, l.At+span/25)
	}
	return xlo, xhi, ylo, yhi
}

// axes settles the range of both axes and draws them.
func (c *curveDrawing) axes(s *Scene) {
	xlo, xhi, ylo, yhi := c.reach()
	c.h, c.v = c.X, c.Y
	yt := c.v.settle(ylo, yhi, max(3, int((c.y1-c.y0)/44)), true)
	c.x0, c.x1 = gutter(yt), c.W-16
	if c.Direct {
		c.x1 = c.W - c.endRoom()
	}
	xt := c.h.settle(xlo, xhi, max(3, int((c.x1-c.x0)/72)), false)
	c.shade(s)
	c.level(s, yt)
	c.upright(s, xt)
	c.foot(s, xt)
	c.frame(s)
}

func (c *curveDrawing) limit(s *Scene, i int) {
	l := c.Limits[i]
	if l.At < c.v.Lo || l.At > c.v.Hi {
		return
	}
	y := c.at(c.h.Lo, l.At).Y
	s.Items = append(s.Items, Line{c.x0, y, c.x1, y, limitStyle}, limitFlag(c.x0+8, y, l.Side))
}
