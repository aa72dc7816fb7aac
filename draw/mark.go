package draw

import "math"

// CellMark is the state of something that must hold.
type CellMark uint8

const (
	MarkNone     CellMark = iota
	MarkHolds             // tick in a circle
	MarkDoubtful          // question mark in a diamond
	MarkShort             // cross in a square
	MarkUnproven          // dot in an open, dashed circle
	markCount
)

// String is the state in words; empty for MarkNone.
func (m CellMark) String() string {
	switch m {
	case MarkHolds:
		return "holds"
	case MarkDoubtful:
		return "doubtful"
	case MarkShort:
		return "falls short"
	case MarkUnproven:
		return "not yet proven"
	}
	return ""
}

// Mark is the sign of a state as a group of shapes centred on (x, y) and
// size high and wide. The four signs differ in outline and in what stands
// inside, so that none depends on colour. MarkNone is an empty group.
func Mark(m CellMark, x, y, size float64) Group {
	u := size / 20 // signs are designed on a field of 20 by 20
	at := func(dx, dy float64) Point { return Point{x + dx*u, y + dy*u} }
	stroke := Style{Stroke: Back, Width: 2.4 * u}
	var items []Item
	switch m {
	case MarkHolds:
		items = []Item{
			Circle{X: x, Y: y, R: 9 * u, Style: Style{Fill: Holds}},
			Polyline{Points: []Point{at(-4.4, 0.3), at(-1.3, 3.6), at(4.6, -3.6)}, Style: stroke},
		}
	case MarkDoubtful:
		items = []Item{
			Polyline{Points: []Point{at(0, -10), at(10, 0), at(0, 10), at(-10, 0)}, Closed: true, Style: Style{Fill: Doubtful}},
			lineBetween(at(0, -5.2), at(0, 1.6), stroke),
			lineBetween(at(-3.4, -1.8), at(3.4, -1.8), stroke),
			lineBetween(at(-3.4, 4.4), at(3.4, 4.4), stroke),
		}
	case MarkShort:
		items = []Item{
			Rect{X: x - 8.5*u, Y: y - 8.5*u, W: 17 * u, H: 17 * u, R: 2 * u, Style: Style{Fill: Short}},
			lineBetween(at(-4, -4), at(4, 4), stroke),
			lineBetween(at(-4, 4), at(4, -4), stroke),
		}
	case MarkUnproven:
		// The ring is drawn as eight arcs, not as a dashed circle, so that
		// it looks the same at every size.
		items = append(items, Circle{X: x, Y: y, R: 9 * u, Style: Style{Fill: Back}})
		ring := Path{Style: Style{Stroke: Unproven, Width: 1.8 * u}}
		for i := range 8 {
			a := float64(i) * math.Pi / 4
			arc := Path{}
			arc.Arc(x, y, 8*u, a, a+math.Pi/6)
			ring.Segs = append(ring.Segs, arc.Segs...)
		}
		items = append(items, ring, Circle{X: x, Y: y, R: 2.6 * u, Style: Style{Fill: Unproven}})
	}
	return Group{Items: items}
}

func lineBetween(a, b Point, s Style) Line { return Line{a.X, a.Y, b.X, b.Y, s} }

// MarkSVG is the sign of a state as a small inline SVG for running text or a
// table cell, 20 by 20 user units, with its words for assistive technology.
// It is empty for MarkNone.
func MarkSVG(m CellMark) string {
	if m.String() == "" {
		return ""
	}
	w := svgWriter{pal: Light()}
	w.str(`<svg xmlns="http://www.w3.org/2000/svg" class="dw dw-mark" viewBox="0 0 20 20" width="20" height="20" role="img" aria-label="` + m.String() + `">`)
	for _, it := range Mark(m, 10, 10, 20).Items {
		w.item(it)
	}
	w.str("</svg>")
	return w.b.String()
}
