package draw

import (
	"fmt"
	"math"
	"strconv"
)

// MapSpec is one figure over two others, such as spark in hand over engine
// speed and supply voltage, as bands between level lines. It reads without
// colour: level lines carry their number, what falls short of the limit is
// hatched, what is doubtful is dotted.
type MapSpec struct {
	Title  string
	W      float64 // extent; 0 means 720, less than 240 is refused
	FieldH float64 // height of the map itself; 0 means 320

	X, Y  Axis   // Lo and Hi come from Xs and Ys
	Value string // what is mapped, "spark in hand, available over required"
	Unit  string

	// The figure is given where the columns Xs and rows Ys cross, both rising:
	// Z[j][i] at (Xs[i], Ys[j]), NaN where there is no answer. Between them it
	// runs straight. PM is its half width, of the same shape, or nil.
	Xs, Ys []float64
	Z, PM  [][]float64
	Origin Origin

	// Levels part the bands, rising; the limit's is added. On the side that
	// falls short there is room for two bands, on the other for four.
	Levels []float64
	Limit  Limit

	Points []MapPoint // twelve at most
}

// MapPoint is a named place on the map, such as a condition of the car.
type MapPoint struct {
	Name   string
	X, Y   float64
	Text   string // the figure there as it is to be written, "1.42 ± 0.15"; may be empty
	Origin Origin
	Mark   CellMark
	Link   string // where a tap on its row leads; see Group.Link
}

// mapDrawing is a spec with its field, its grid and what is traced from it.
type mapDrawing struct {
	MapSpec
	field
	values lattice
	known  [][]bool
	levels []float64
	xt, yt []tick
	// beyond is the region at or above the limit.
	beyond [][]Point
	// taken is what words must not cover.
	taken []Box
}

// Map draws the spec. An error is a *SpecError.
func Map(spec MapSpec) (Scene, error) {
	if spec.W == 0 {
		spec.W = 720
	}
	if spec.FieldH == 0 {
		spec.FieldH = 320
	}
	if err := spec.check(); err != nil {
		return Scene{}, err
	}
	m := mapDrawing{MapSpec: spec, levels: spec.allLevels()}
	if err := m.checkBands(); err != nil {
		return Scene{}, err
	}
	s := Scene{W: spec.W, Title: spec.Title}
	y := 20.0
	for _, l := range Wrap(spec.Title, 14, spec.W-24, true) {
		s.Items = append(s.Items, Text{X: 12, Y: y, S: l, Size: 14, Bold: true, Tone: Ink})
		y += 18
	}
	m.h, m.v = spec.X, spec.Y
	m.h.Lo, m.h.Hi = spec.Xs[0], spec.Xs[len(spec.Xs)-1]
	m.v.Lo, m.v.Hi = spec.Ys[0], spec.Ys[len(spec.Ys)-1]
	m.yt = m.v.settle(0, 0, max(3, int(spec.FieldH/44)), false)
	m.x0, m.x1 = gutter(m.yt)+4, spec.W-16
	m.xt = m.h.settle(0, 0, max(3, int((m.x1-m.x0)/72)), false)
	m.spread()

	key, y := m.key(y + 2)
	s.Items = append(s.Items, key)
	y += 10
	s.Items = append(s.Items, Text{X: 12, Y: y, S: clip(m.v.name(), 12, spec.W-24, false), Size: 12, Tone: Muted})
	m.y0, m.y1 = y+10, y+10+spec.FieldH
	m.stand()

	m.bands(&s)
	m.hatch(&s)
	m.doubt(&s)
	m.contours(&s)
	blank := m.blank(&s)
	m.edges(&s)
	marks := m.points()
	m.taken = append(m.taken, blank...)
	s.Items = append(s.Items, m.numbers()...)
	s.Items = append(s.Items, marks...)
	s.H = m.list(&s, m.y1+46) + 6
	s.Desc = m.words()
	return s, nil
}

func (spec MapSpec) check() error {
	bad := func(where, format string, a ...any) error { return &SpecError{where, fmt.Sprintf(format, a...)} }
	if !(spec.W >= 240 && spec.W <= 8000 && spec.FieldH >= 80 && spec.FieldH <= 8000) {
		return bad("extent", "is %v wide with a map %v high; want 240 to 8000 and 80 to 8000", spec.W, spec.FieldH)
	}
	for i, vs := range [][]float64{spec.Xs, spec.Ys} {
		where, axis := []string{"xs", "ys"}[i], []Axis{spec.X, spec.Y}[i]
		if len(vs) < 2 || len(vs) > 500 {
			return bad(where, "are %d; want 2 to 500", len(vs))
		}
		for k, v := range vs {
			if !axis.takes(v) || k > 0 && v <= vs[k-1] {
				return bad(fmt.Sprintf("%s[%d]", where, k), "is %v; want %s, rising", v, axis.wants())
			}
		}
	}
	for i, rows := range [][][]float64{spec.Z, spec.PM} {
		where := []string{"z", "pm"}[i]
		if where == "pm" && rows == nil {
			continue
		}
		if len(rows) != len(spec.Ys) {
			return bad(where, "has %d rows; want %d, one for each y", len(rows), len(spec.Ys))
		}
		for j, row := range rows {
			if len(row) != len(spec.Xs) {
				return bad(fmt.Sprintf("%s[%d]", where, j), "has %d values; want %d, one for each x", len(row), len(spec.Xs))
			}
			for k, v := range row {
				at := fmt.Sprintf("%s[%d][%d]", where, j, k)
				if !finite(v) && !math.IsNaN(v) {
					return bad(at, "is %v; want a number, or NaN where there is no answer", v)
				}
				if where == "pm" && v < 0 {
					return bad(at, "is %v; want a number not below 0", v)
				}
			}
		}
	}
	for i, l := range spec.Levels {
		if !finite(l) || i > 0 && l <= spec.Levels[i-1] {
			return bad(fmt.Sprintf("levels[%d]", i), "is %v; want numbers, rising", l)
		}
	}
	if spec.Limit.Side > AtMost || spec.Limit.Side != NoLimit && !finite(spec.Limit.At) {
		return bad("limit", "is at %v; want a number", spec.Limit.At)
	}
	if spec.Origin >= originCount {
		return bad("origin", "does not exist")
	}
	if len(spec.Points) > 12 {
		return bad("points", "are %d; want 12 at most", len(spec.Points))
	}
	for i, p := range spec.Points {
		where := fmt.Sprintf("points[%d] (%s)", i, p.Name)
		if !finite(p.X) || !finite(p.Y) {
			return bad(where, "is at (%v, %v); want numbers", p.X, p.Y)
		}
		if p.Origin >= originCount || p.Mark >= markCount {
			return bad(where, "has an origin or a mark that does not exist")
		}
	}
	return nil
}

// allLevels are the levels with the limit among them.
func (spec MapSpec) allLevels() []float64 {
	var out []float64
	add := spec.Limit.Side != NoLimit
	for _, l := range spec.Levels {
		if add && spec.Limit.At <= l {
			if spec.Limit.At < l {
				out = append(out, spec.Limit.At)
			}
			add = false
		}
		out = append(out, l)
	}
	if add {
		out = append(out, spec.Limit.At)
	}
	return out
}

// below counts the bands under the limit.
func (m *mapDrawing) below() int {
	for i, l := range m.levels {
		if m.Limit.Side != NoLimit && l == m.Limit.At {
			return i + 1
		}
	}
	return 0
}

func (m *mapDrawing) checkBands() error {
	n, under := len(m.levels)+1, m.below()
	short := under
	if m.Limit.Side == AtMost {
		short = n - under
	}
	if short > 2 || n-short > 4 {
		return &SpecError{"levels", fmt.Sprintf("make %d bands that fall short and %d others; want 2 and 4 at most", short, n-short)}
	}
	return nil
}

// tone is the filling of a band, counted from the lowest.
func (m *mapDrawing) tone(band int) Tone {
	well := [...]Tone{BandWell, BandWell2, BandWell3, BandWell4}
	under := m.below()
	switch {
	case m.Limit.Side == NoLimit:
		return well[band]
	case m.Limit.Side == AtLeast && band >= under:
		return well[band-under]
	case m.Limit.Side == AtMost && band < under:
		return well[under-1-band]
	}
	if band == under-1 || m.Limit.Side == AtMost && band == under {
		return BandShort
	}
	return BandShortFar
}

// short reports whether a band is on the wrong side of the limit.
func (m *mapDrawing) short(band int) bool {
	t := m.tone(band)
	return t == BandShort || t == BandShortFar
}

// bandWords is a band in words.
func (m *mapDrawing) bandWords(band int) string {
	switch n := len(m.levels); {
	case n == 0:
		return "all"
	case band == 0:
		return "below " + figure(m.levels[0], m.Unit)
	case band == n:
		return figure(m.levels[n-1], m.Unit) + " and more"
	default:
		return figure(m.levels[band-1], "") + " to " + figure(m.levels[band], m.Unit)
	}
}

// bands fills the map, the lowest band first and each higher one over it.
func (m *mapDrawing) bands(s *Scene) {
	g := Group{ID: "bands", Items: []Item{Rect{X: m.x0, Y: m.y0, W: m.x1 - m.x0, H: m.y1 - m.y0, Style: Style{Fill: m.tone(0)}}}}
	for i, l := range m.levels {
		if p := ringPath(m.values.region(l), Style{Fill: m.tone(i + 1)}); len(p.Segs) > 0 {
			g.Items = append(g.Items, p)
		}
	}
	s.Items = append(s.Items, g)
}

// ringPath is closed outlines as one path.
func ringPath(rings [][]Point, st Style) Path {
	p := Path{Style: st}
	for _, r := range rings {
		r = straighten(r)
		if len(r) < 3 {
			continue
		}
		p.MoveTo(r[0].X, r[0].Y)
		for _, q := range r[1:] {
			p.LineTo(q.X, q.Y)
		}
		p.Close()
	}
	return p
}

// edges draws the axes around the map.
func (m *mapDrawing) edges(s *Scene) {
	for _, t := range m.yt {
		p := m.at(m.h.Lo, t.at)
		s.Items = append(s.Items, Line{m.x0 - 4, p.Y, m.x0, p.Y, Style{Stroke: Muted}},
			Text{X: m.x0 - 11, Y: p.Y + 4, S: t.label, Size: 12, Anchor: End, Tone: Muted})
	}
	m.foot(s, m.xt)
	s.Items = append(s.Items, Rect{X: m.x0, Y: m.y0, W: m.x1 - m.x0, H: m.y1 - m.y0, Style: Style{Stroke: Muted, Width: 1.4}})
}

// list names the points under the map with their figures, in two columns
// where there is room, and gives the y below it.
func (m *mapDrawing) list(s *Scene, y float64) float64 {
	columns := 1
	if m.W >= 640 {
		columns = 2
	}
	const between = 36.0
	wide := (m.W - 24 - between*float64(columns-1)) / float64(columns)
	each := (len(m.Points) + columns - 1) / columns
	foot := y
	for c := range columns {
		at := y
		left := 12 + float64(c)*(wide+between)
		for i := c * each; i < min(len(m.Points), (c+1)*each); i++ {
			at = m.row(s, i, left, left+wide, at)
		}
		foot = max(foot, at)
	}
	return foot
}

// row is one point of the list from y down; it gives the y below it.
func (m *mapDrawing) row(s *Scene, i int, left, right, y float64) float64 {
	p := m.Points[i]
	where := "at " + figure(p.X, m.h.Unit) + ", " + figure(p.Y, m.v.Unit)
	if !m.holds(p) {
		where += ", off the map"
	}
	g := Group{ID: "point-" + strconv.Itoa(i), Label: m.pointWords(p), Link: p.Link}
	y += 16
	items, end := figureEnd(right, y, p.Text, 13, p.Text != "", p.Origin, p.Mark)
	l := mapLetter(i)
	g.Items = append(g.Items, badge(l, left+badgeWidth(l)/2, y-4))
	x := left + badgeWidth(l) + 7
	lines := Wrap(p.Name, 13, end-x-10, false)
	if len(lines) > 1 || len(lines) == 1 && TextWidth(lines[0], 13, false) > end-x-10 {
		lines = Wrap(p.Name, 13, right-x, false) // the figure gets a line of its own
	} else {
		g.Items = append(g.Items, items...)
		items = nil
	}
	for k, line := range lines {
		if k > 0 {
			y += 16
		}
		g.Items = append(g.Items, Text{X: x, Y: y, S: clip(line, 13, right-x, false), Size: 13, Tone: Ink})
	}
	if items != nil {
		y += 18
		items, _ = figureEnd(right, y, p.Text, 13, p.Text != "", p.Origin, p.Mark)
		g.Items = append(g.Items, items...)
	}
	y += 15
	g.Items = append(g.Items, Text{X: x, Y: y, S: clip(where, 12, right-x, false), Size: 12, Tone: Muted})
	s.Items = append(s.Items, g)
	return y + 4
}

// figureEnd is a figure that ends at right, with the chip of its origin
// before it and its state's sign behind it, and the x at which it begins.
func figureEnd(right, y float64, text string, size float64, known bool, o Origin, mark CellMark) ([]Item, float64) {
	var items []Item
	x := right
	if mark != MarkNone {
		items = append(items, Mark(mark, x-9, y-4.5, 18))
		x -= 24
	}
	t := Text{X: x, Y: y, S: text, Size: size, Anchor: End, Bold: known, Tone: Ink}
	if !known {
		t.Tone = Muted
	}
	x = t.Bounds().Min.X
	if known {
		x -= 5 + chipSize
		items = append(items, chip(o, x+chipSize/2.0, y-4.5))
	}
	if text != "" {
		items = append(items, t)
	}
	return items, x
}
