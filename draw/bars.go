package draw

import (
	"fmt"
	"math"
	"strings"
)

// Side says on which side of a limit a value is wanted.
type Side uint8

const (
	NoLimit Side = iota
	AtLeast
	AtMost
)

// Limit is a line a value must not pass.
type Limit struct {
	Side Side
	At   float64
}

// Range is a band in which a value is wanted; it counts only when On.
type Range struct {
	On     bool
	Lo, Hi float64
}

// BarsSpec is one row of the proof sheet as a picture: one figure in every
// condition, each as an interval on a common axis. Pictures to be read side
// by side get the same Lo and Hi.
type BarsSpec struct {
	Title  string
	Unit   string
	Width  float64 // user units; 0 means 360, less than 240 is refused
	Lo, Hi float64 // ends of the axis; equal: from the figures
	Rows   []BarRow
}

// BarRow is the figure in one condition.
type BarRow struct {
	Label     string // the condition
	Value     float64
	PlusMinus float64 // half width of the interval, not negative
	Text      string  // the figure as it is to be written; empty: from Value and PlusMinus
	Unknown   bool    // there is no figure yet
	Origin    Origin
	Limit     Limit
	Wanted    Range
	Mark      CellMark
	Link      string // where a tap leads; see Group.Link
}

const (
	barsMargin = 12.0
	laneH      = 20.0
)

// Bars draws the spec. An error is a *SpecError.
func Bars(spec BarsSpec) (Scene, error) {
	if spec.Width == 0 {
		spec.Width = 360
	}
	if err := spec.check(); err != nil {
		return Scene{}, err
	}
	for i := range spec.Rows {
		if r := &spec.Rows[i]; r.Text == "" && !r.Unknown {
			r.Text = plusMinus(r.Value, r.PlusMinus, spec.Unit)
		}
	}
	b := barsDrawing{BarsSpec: spec}
	b.axis()
	b.x0, b.x1 = barsMargin+8, spec.Width-barsMargin-8
	s := Scene{W: spec.Width, Title: spec.Title, Desc: b.words()}
	y := 20.0
	for _, l := range Wrap(spec.Title, 14, spec.Width-2*barsMargin, true) {
		s.Items = append(s.Items, Text{X: barsMargin, Y: y, S: l, Size: 14, Bold: true, Tone: Ink})
		y += 18
	}
	y = b.key(&s, y-2)
	for i := range spec.Rows {
		var g Group
		g, y = b.row(i, y)
		s.Items = append(s.Items, g)
	}
	s.Items = append(s.Items, Line{b.x0, y, b.x1, y, Style{Stroke: Muted}})
	for i, t := range b.ticks {
		l := tickLabel(t, b.step)
		if i == len(b.ticks)-1 && spec.Unit != "" {
			l += " " + spec.Unit
		}
		x := b.at(t)
		half := TextWidth(l, 12, false) / 2
		x = math.Min(math.Max(x, half+2), spec.Width-half-2)
		s.Items = append(s.Items, Text{X: x, Y: y + 15, S: l, Size: 12, Anchor: Middle, Tone: Muted})
	}
	s.H = y + 24
	return s, nil
}

func (spec BarsSpec) check() error {
	bad := func(where, what string) error { return &SpecError{where, what} }
	if !(spec.Width >= 240 && spec.Width <= 4000) {
		return bad("width", fmt.Sprintf("is %v; want 240 to 4000", spec.Width))
	}
	if !finite(spec.Lo) || !finite(spec.Hi) || spec.Hi < spec.Lo {
		return bad("axis", fmt.Sprintf("runs from %v to %v; want numbers in rising order", spec.Lo, spec.Hi))
	}
	for i, r := range spec.Rows {
		where := fmt.Sprintf("rows[%d] (%s)", i, r.Label)
		switch {
		case r.Mark >= markCount || r.Origin >= originCount || r.Limit.Side > AtMost:
			return bad(where, "has a mark, an origin or a side of the limit that does not exist")
		case !r.Unknown && !finite(r.Value):
			return bad(where, fmt.Sprintf("has the value %v; want a number, or set Unknown", r.Value))
		case !r.Unknown && !(finite(r.PlusMinus) && r.PlusMinus >= 0):
			return bad(where, fmt.Sprintf("has plus-or-minus %v; want a number not below 0", r.PlusMinus))
		case r.Limit.Side != NoLimit && !finite(r.Limit.At):
			return bad(where, fmt.Sprintf("has its limit at %v; want a number", r.Limit.At))
		case r.Wanted.On && !(finite(r.Wanted.Lo) && finite(r.Wanted.Hi) && r.Wanted.Lo <= r.Wanted.Hi):
			return bad(where, fmt.Sprintf("has a wanted band from %v to %v; want numbers in rising order", r.Wanted.Lo, r.Wanted.Hi))
		}
	}
	return nil
}

// barsDrawing is a spec with its axis.
type barsDrawing struct {
	BarsSpec
	ticks  []float64
	step   float64
	x0, x1 float64
}

func (b *barsDrawing) axis() {
	n := int(b.Width / 70)
	if b.Lo < b.Hi {
		var ts []float64
		ts, b.step = ticks(b.Lo, b.Hi, n)
		b.ticks = inside(ts, b.Lo, b.Hi)
		return
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	see := func(v float64) { lo, hi = math.Min(lo, v), math.Max(hi, v) }
	for _, r := range b.Rows {
		if !r.Unknown {
			see(r.Value - r.PlusMinus)
			see(r.Value + r.PlusMinus)
		}
		if r.Limit.Side != NoLimit {
			see(r.Limit.At)
		}
		if r.Wanted.On {
			see(r.Wanted.Lo)
			see(r.Wanted.Hi)
		}
	}
	if lo > hi {
		lo, hi = 0, 1
	}
	pad := (hi - lo) * 0.04
	b.ticks, b.step = ticks(lo-pad, hi+pad, n)
	b.Lo, b.Hi = b.ticks[0], b.ticks[len(b.ticks)-1]
}

// at is where a value stands on the axis; beyond the ends it stays at them.
func (b *barsDrawing) at(v float64) float64 {
	f := (v - b.Lo) / (b.Hi - b.Lo)
	return b.x0 + math.Min(1, math.Max(0, f))*(b.x1-b.x0)
}

func (l Limit) words(unit string) string {
	switch l.Side {
	case AtLeast:
		return "at least " + figure(l.At, unit)
	case AtMost:
		return "at most " + figure(l.At, unit)
	}
	return ""
}

func (r Range) words(unit string) string {
	return "wanted " + figure(r.Lo, "") + " to " + figure(r.Hi, unit)
}

// shared reports whether all rows have the same limit and band, which are
// then explained once for all.
func (b *barsDrawing) shared() bool {
	for _, r := range b.Rows {
		if r.Limit != b.Rows[0].Limit || r.Wanted != b.Rows[0].Wanted {
			return false
		}
	}
	return len(b.Rows) > 0
}

// keyWords explains a row's limit and band.
func (b *barsDrawing) keyWords(r BarRow) string {
	var parts []string
	if r.Limit.Side != NoLimit {
		parts = append(parts, "limit "+r.Limit.words(b.Unit))
	}
	if r.Wanted.On {
		parts = append(parts, r.Wanted.words(b.Unit))
	}
	return strings.Join(parts, ", ")
}

// key writes the limit and band under the title when all rows share them.
func (b *barsDrawing) key(s *Scene, y float64) float64 {
	if b.shared() {
		for _, l := range Wrap(b.keyWords(b.Rows[0]), 12, b.Width-2*barsMargin, false) {
			s.Items = append(s.Items, Text{X: barsMargin, Y: y, S: l, Size: 12, Tone: Muted})
			y += 15
		}
	}
	return y - 8
}

// row draws one condition from y down and gives the y below it: its name and
// figure, and the lane with the interval.
func (b *barsDrawing) row(i int, y float64) (Group, float64) {
	r := b.Rows[i]
	g := Group{ID: fmt.Sprintf("row-%d", i), Label: b.rowWords(r), Link: r.Link}
	text := r.Text
	if r.Unknown {
		text = "no figure yet"
	}
	const size = 13.0
	right := b.Width - barsMargin
	figW := TextWidth(text, size, !r.Unknown)
	if r.Mark != MarkNone {
		figW += 24
	}
	if !r.Unknown {
		figW += chipSize + 5
	}
	y += 17
	room := right - barsMargin - figW - 12
	lines := Wrap(r.Label, 12.5, room, false)
	if len(lines) > 1 {
		lines = Wrap(r.Label, 12.5, right-barsMargin, false)
	}
	for j, l := range lines {
		if j > 0 {
			y += 15
		}
		g.Items = append(g.Items, Text{X: barsMargin, Y: y, S: l, Size: 12.5, Tone: Ink})
	}
	if len(lines) > 1 || len(lines) == 1 && TextWidth(lines[0], 12.5, false) > room {
		y += 19 // the figure gets a line of its own
	}
	figure, _ := figureEnd(right, y, text, size, !r.Unknown, r.Origin, r.Mark)
	g.Items = append(g.Items, figure...)
	if !b.shared() {
		for _, l := range Wrap(b.keyWords(r), 12, right-barsMargin, false) {
			y += 15
			g.Items = append(g.Items, Text{X: barsMargin, Y: y, S: l, Size: 12, Tone: Muted})
		}
	}
	y += 9
	g.Items = append(g.Items, b.lane(r, y)...)
	return g, y + laneH + 8
}

// lane draws the interval against its limit and band.
func (b *barsDrawing) lane(r BarRow, y float64) []Item {
	mid := y + laneH/2
	var items []Item
	if r.Wanted.On {
		x0, x1 := b.at(r.Wanted.Lo), b.at(r.Wanted.Hi)
		items = append(items, Rect{X: x0, Y: y, W: x1 - x0, H: laneH, R: 2, Style: Style{Fill: Wanted}})
	}
	items = append(items, Line{b.x0, mid, b.x1, mid, Style{Stroke: Faint}})
	for _, t := range b.ticks {
		x := b.at(t)
		items = append(items, Line{x, y, x, y + laneH, Style{Stroke: Faint}})
	}
	limit := b.limit(r.Limit, y)
	if r.Unknown {
		return append(items, limit...)
	}
	lo, hi := r.Value-r.PlusMinus, r.Value+r.PlusMinus
	x0, x1, x := b.at(lo), b.at(hi), b.at(r.Value)
	style := Style{Fill: r.Origin.tone()}
	if r.Origin != Measured {
		style = Style{Stroke: r.Origin.tone(), Width: 1.8, Fill: Panel}
		if r.Origin == Assumed {
			style.Dash = Dashed
		}
	}
	const h = 9.0
	if hi >= b.Lo && lo <= b.Hi {
		if w := 4 - (x1 - x0); w > 0 { // keep an exact figure visible
			x0, x1 = x0-w/2, x1+w/2
		}
		items = append(items, Rect{X: x0, Y: mid - h/2, W: x1 - x0, H: h, R: 2, Style: style})
	}
	items = append(items, limit...)
	if r.Value >= b.Lo && r.Value <= b.Hi {
		items = append(items, Line{x, mid - h/2 - 3, x, mid + h/2 + 3, Style{Stroke: r.Origin.tone(), Width: 2.6}})
	}
	// An interval that runs off the axis ends in an open arrow head.
	if lo < b.Lo {
		items = append(items, Polyline{Points: []Point{{b.x0 - 2, mid - 5}, {b.x0 - 8, mid}, {b.x0 - 2, mid + 5}}, Style: Style{Stroke: r.Origin.tone(), Width: 2}})
	}
	if hi > b.Hi {
		items = append(items, Polyline{Points: []Point{{b.x1 + 2, mid - 5}, {b.x1 + 8, mid}, {b.x1 + 2, mid + 5}}, Style: Style{Stroke: r.Origin.tone(), Width: 2}})
	}
	return items
}

// limit is the limit's line across a lane, with a flag to the side on which
// it is well.
func (b *barsDrawing) limit(l Limit, y float64) []Item {
	if l.Side == NoLimit || l.At < b.Lo || l.At > b.Hi {
		return nil
	}
	x, to := b.at(l.At), 8.0
	if l.Side == AtMost {
		to = -8
	}
	return []Item{
		Line{x, y - 3, x, y + laneH + 2, Style{Stroke: Short, Width: 2}},
		Polyline{Points: []Point{{x, y - 3}, {x + to, y - 3}, {x, y + 3.5}}, Closed: true, Style: Style{Fill: Short}},
	}
}

func (b *barsDrawing) words() string {
	var out []string
	for _, r := range b.Rows {
		out = append(out, b.rowWords(r))
	}
	return strings.Join(out, " ")
}

func (b *barsDrawing) rowWords(r BarRow) string {
	var facts []string
	if r.Unknown {
		facts = append(facts, "no figure yet")
	} else {
		facts = append(facts, r.Text+" "+r.Origin.String())
	}
	if k := b.keyWords(r); k != "" {
		facts = append(facts, k)
	}
	if r.Mark != MarkNone {
		facts = append(facts, r.Mark.String())
	}
	name := r.Label
	if name == "" {
		name = "figure"
	}
	return sentence(name, facts)
}
