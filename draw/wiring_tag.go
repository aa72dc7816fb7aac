package draw

import (
	"fmt"
	"strings"
)

// row is one line of a block of words, with an origin's sign before it when
// chip is set.
type row struct {
	s    string
	size float64
	bold bool
	tone Tone
	h    float64
	chip bool
	from Origin

	indent bool // leaves the room of a sign
}

func (r row) width() float64 {
	w := TextWidth(r.s, r.size, r.bold)
	if r.chip || r.indent {
		w += chipSize + 4
	}
	return w
}

// shrink sets the row small enough for w, and reports whether it can be.
func (r *row) shrink(w float64) bool {
	for r.width() > w {
		if r.size <= leastSize {
			return false
		}
		r.size = max(leastSize, r.size-0.5)
	}
	return true
}

// node draws a node's dot or mark and its tag.
func (d *wiringDrawing) node(i int) (Group, error) {
	n := d.spec.Nodes[i]
	sp := d.g.spots[n.Place]
	g := Group{ID: "node-" + cleanID(n.ID), Label: nodeWords(n), Link: n.Link}
	if n.Mark == MarkNone {
		g.Items = append(g.Items, Circle{X: sp.at.X, Y: sp.at.Y, R: nodeR, Style: Style{Stroke: Back, Width: 1.5, Fill: Ink}})
	} else {
		g.Items = append(g.Items, Mark(n.Mark, sp.at.X, sp.at.Y, markSize))
	}
	switch i + 1 {
	case d.red:
		g.Items = append(g.Items, redRing(sp.at.X, sp.at.Y, 10.5))
	case d.black:
		g.Items = append(g.Items, blackBox(sp.at.X, sp.at.Y, 10))
	}
	if n.Label == "" && n.Value == "" && n.Sub == "" {
		return g, nil
	}
	tag, err := d.tag(i, sp)
	if err != nil {
		return Group{}, err
	}
	g.Items = append(g.Items, tag)
	return g, nil
}

// The signs for a voltmeter's leads: a ring where the red one goes, a box
// where the black one goes.
func redRing(x, y, r float64) Item {
	return Circle{X: x, Y: y, R: r, Style: Style{Stroke: Short, Width: 2.4}}
}

func blackBox(x, y, r float64) Item {
	return Rect{X: x - r, Y: y - r, W: 2 * r, H: 2 * r, R: 2, Style: Style{Stroke: Ink, Width: 2.4}}
}

// tag draws a node's words in a box: its name in up to two lines, the value,
// and a second line.
func (d *wiringDrawing) tag(i int, sp spot) (Group, error) {
	n, a := d.spec.Nodes[i], sp.tag
	inner := a.w - 2*tagPad
	var sub []row
	if n.Sub != "" {
		r := row{s: n.Sub, size: labelSize, tone: Ink, h: d.g.lineH}
		if r.shrink(inner) {
			sub = []row{r}
		} else {
			for _, l := range Wrap(n.Sub, 11, inner, false) {
				sub = append(sub, row{s: l, size: 11, tone: Ink, h: d.g.lineH})
			}
		}
		for _, r := range sub {
			if len(sub) > 2 || r.width() > inner {
				return Group{}, d.nodeError(i, fmt.Sprintf("has %q below its value, which is too long for the tag; want about %d characters", n.Sub, int(inner/5.5)))
			}
		}
	}
	first := inner
	if n.Value != "" {
		first -= chipSize + 3
	}
	most := sp.most
	if most == 0 {
		most = 3
	}
	rows := d.fitLabel(n.Label, first, inner, max(1, min(2, most-len(sub))))
	if n.Value != "" {
		v := row{s: n.Value, size: d.g.valueSize, bold: true, tone: Ink, h: d.g.valueH}
		room := inner
		if len(rows) == 0 {
			room = first // the sign of its origin is beside it
		}
		if !v.shrink(room) {
			return Group{}, d.nodeError(i, fmt.Sprintf("has the value %q, which is too long for the tag; want about %d characters", n.Value, int(inner/7)))
		}
		rows = append(rows, v)
	}
	rows = append(rows, sub...)
	w, h := 40.0, 2*tagPad-2
	for j, r := range rows {
		rw := r.width()
		if j == 0 && n.Value != "" {
			rw += chipSize + 3
		}
		w = max(w, rw+2*tagPad)
		h += r.h
	}
	box := a.place(w, h)
	style := Style{Stroke: Muted, Width: 1, Fill: Panel}
	if n.Value != "" {
		switch n.Origin {
		case Assumed:
			style.Dash, style.Stroke = Dashed, IsAssumed
		case Measured:
			style.Width, style.Stroke = 1.8, Ink
		}
	}
	g := Group{Role: "presentation", Items: []Item{
		Rect{X: box.Min.X, Y: box.Min.Y, W: w, H: h, R: 4, Style: style},
	}}
	if n.Value != "" {
		g.Items = append(g.Items, chip(n.Origin, box.Max.X-tagPad-chipSize/2.0, box.Min.Y+tagPad+chipSize/2.0-1))
	}
	y := box.Min.Y + tagPad - 1
	for _, r := range rows {
		g.Items = append(g.Items, Text{X: box.Min.X + tagPad, Y: y + r.h*0.78, S: r.s, Size: r.size, Bold: r.bold, Tone: r.tone})
		y += r.h
	}
	return g, nil
}

// fitLabel breaks a name into at most n lines, the first of them no wider
// than first and the others no wider than rest, a little smaller where that
// makes it fit. What does not fit even so is cut and ends in "…"; the whole
// name is in the text alternative.
func (d *wiringDrawing) fitLabel(s string, first, rest float64, n int) []row {
	var lines []string
	size := labelSize
	for ; ; size -= 0.5 {
		var whole bool
		lines, whole = breakLabel(s, size, first, rest, n)
		if whole || size <= leastSize {
			break
		}
	}
	var rows []row
	for _, l := range lines {
		rows = append(rows, row{s: l, size: size, tone: Muted, h: d.g.lineH})
	}
	return rows
}

// breakLabel is one try of fitLabel; whole says that nothing was cut.
func breakLabel(s string, size, first, rest float64, n int) (lines []string, whole bool) {
	width := first
	words := strings.Fields(s)
	for len(words) > 0 && len(lines) < n {
		k := 1
		w, space := TextWidth(words[0], size, false), TextWidth(" ", size, false)
		for ; k < len(words); k++ {
			if w += space + TextWidth(words[k], size, false); w > width {
				break
			}
		}
		if len(lines) == n-1 {
			k = len(words)
		}
		line := strings.Join(words[:k], " ")
		cut := clip(line, size, width, false)
		lines = append(lines, cut)
		if cut != line {
			return lines, false
		}
		words = words[k:]
		width = rest
	}
	return lines, true
}

// partBlock is what is written beside a part: its name, its value with the
// sign of where that comes from, and its current.
func (d *wiringDrawing) partBlock(w *way, p Part) ([]Item, error) {
	a := w.home.label
	most := w.home.lines
	if most == 0 {
		most = 3
	}
	label := p.Label
	if p.New && label != "" {
		label = "new: " + label
	}
	cur := p.Current
	if p.Missing {
		cur = "not connected"
	}
	value := d.figureRows(p, a.w)
	var last []row
	if cur != "" {
		last = d.plainRows(cur, a.w)
	}
	if p.Missing && label != "" && len(value)+len(last) >= most {
		last = nil // the broken line and the legend say it
	}
	name := d.fitLabel(label, a.w, a.w, max(1, most-len(value)-len(last)))
	count := func() int { return len(name) + len(value) + len(last) }
	if count() > most && len(value) == 1 && len(last) == 1 {
		joined := value[0]
		joined.s += ", " + cur
		if joined.shrink(a.w) {
			value, last = []row{joined}, nil
		}
	}
	if count() > most {
		name = nil // figures come first; the text alternative has the name
	}
	rows := append(append(name, value...), last...)
	for i := range rows {
		if !rows[i].shrink(a.w) {
			return nil, d.partError(w.part, fmt.Sprintf("has the text %q, which is too long for its place; want about %d characters", rows[i].s, int(a.w/6)))
		}
	}
	if count() > most {
		return nil, d.partError(w.part, fmt.Sprintf("has %d lines to show, %d have room; shorten its value or its current", count(), most))
	}
	return []Item{Group{Items: block(a, rows)}}, nil
}

// plainRows sets words in one row or, where they are too long, in several.
func (d *wiringDrawing) plainRows(s string, w float64) []row {
	r := row{s: s, size: labelSize, tone: Ink, h: d.g.lineH}
	if r.shrink(w) {
		return []row{r}
	}
	var rows []row
	for _, l := range Wrap(glue(s), 11, w, false) {
		rows = append(rows, row{s: l, size: 11, tone: Ink, h: d.g.lineH})
	}
	return rows
}

// figureRows sets a part's value behind its origin's sign, in two rows where
// it is too long for one.
func (d *wiringDrawing) figureRows(p Part, w float64) []row {
	if p.Value == "" {
		return nil
	}
	r := row{s: p.Value, size: labelSize, tone: Ink, h: d.g.lineH + 3, chip: true, from: p.Origin}
	if r.shrink(w) {
		return []row{r}
	}
	var rows []row
	for i, l := range Wrap(glue(p.Value), 11, w-chipSize-4, false) {
		r := row{s: l, size: 11, tone: Ink, h: d.g.lineH, indent: true}
		if i == 0 {
			r.h, r.chip, r.from = r.h+3, true, p.Origin
		}
		rows = append(rows, r)
	}
	return rows
}

// glue keeps a figure together with its unit and a plus-or-minus with what
// follows it, by no-break spaces.
func glue(s string) string {
	words := strings.Fields(s)
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			prev := words[i-1]
			digits := strings.TrimLeft(prev, "-−+")
			number := digits != "" && digits[0] >= '0' && digits[0] <= '9'
			if prev == "±" || number && w != "±" {
				b.WriteString("\u00a0")
			} else {
				b.WriteByte(' ')
			}
		}
		b.WriteString(w)
	}
	return b.String()
}

// block sets rows in an area, aligned to the side the area stands by.
func block(a area, rows []row) []Item {
	w, h := 0.0, 0.0
	for _, r := range rows {
		w = max(w, r.width())
		h += r.h
	}
	box := a.place(w, h)
	var items []Item
	y := box.Min.Y
	for _, r := range rows {
		x := box.Min.X
		switch a.h {
		case Middle:
			x += (w - r.width()) / 2
		case End:
			x += w - r.width()
		}
		if r.chip {
			items = append(items, chip(r.from, x+chipSize/2.0, y+r.h/2))
		}
		if r.chip || r.indent {
			x += chipSize + 4
		}
		items = append(items, Text{X: x, Y: y + r.h/2 + 0.34*r.size, S: r.s, Size: r.size, Bold: r.bold, Tone: r.tone})
		y += r.h
	}
	return items
}
