package draw

import "math"

// mapLetter is the sign by which a point is known on the map and in the list.
func mapLetter(i int) string { return string(rune('A' + i)) }

// holds reports whether a point lies on the map.
func (m *mapDrawing) holds(p MapPoint) bool {
	return p.X >= m.h.Lo && p.X <= m.h.Hi && p.Y >= m.v.Lo && p.Y <= m.v.Hi
}

// free reports whether a box lies in the field and on nothing that is taken.
func (m *mapDrawing) free(b Box) bool {
	if b.Min.X < m.x0+2 || b.Max.X > m.x1-2 || b.Min.Y < m.y0+2 || b.Max.Y > m.y1-2 {
		return false
	}
	for _, t := range m.taken {
		if t.Overlaps(b) {
			return false
		}
	}
	return true
}

const pointSize = 15.0 // of a point's sign

// points draws the sign of each point's state at its place and its letter,
// with its name where there is room, as near as nothing else is covered.
func (m *mapDrawing) points() []Item {
	var signs, tags []Item
	for _, p := range m.Points {
		if m.holds(p) {
			at := m.at(p.X, p.Y)
			const r = pointSize/2 + 1
			m.taken = append(m.taken, Box{Point{at.X - r, at.Y - r}, Point{at.X + r, at.Y + r}})
		}
	}
	for i, p := range m.Points {
		if !m.holds(p) {
			continue
		}
		at := m.at(p.X, p.Y)
		switch p.Mark {
		case MarkNone:
			signs = append(signs, Circle{X: at.X, Y: at.Y, R: 4.5, Style: Style{Stroke: Back, Width: 2, Fill: Ink}})
		default:
			signs = append(signs, Circle{X: at.X, Y: at.Y, R: pointSize/2 + 1.5, Style: Style{Fill: Back}}, Mark(p.Mark, at.X, at.Y, pointSize))
		}
		tag, leader, ok := m.tag(at, mapLetter(i), p.Name, 46)
		if !ok || m.W < 500 {
			tag, leader, ok = m.tag(at, mapLetter(i), "", math.Hypot(m.W, m.FieldH))
		}
		if ok {
			signs = append([]Item{leader}, signs...)
			tags = append(tags, tag)
		}
	}
	return append(signs, tags...)
}

// tag finds room for a letter and a name no further than far from a place.
func (m *mapDrawing) tag(at Point, letter, name string, far float64) (Group, Line, bool) {
	w, h := badgeWidth(letter)+2, badgeSize+2
	if name != "" {
		w += TextWidth(name, 12, false) + 9
	}
	for d := 11.0; d <= far; d += 7 {
		for k := range 16 {
			// Right, left, above, below and what lies between.
			a := [16]float64{0, 8, 12, 4, 14, 2, 10, 6, 1, 15, 7, 9, 3, 13, 5, 11}[k] * math.Pi / 8
			c := Point{at.X + (d+w/2)*math.Cos(a), at.Y + (d+h/2)*math.Sin(a)}
			b := Box{Point{c.X - w/2, c.Y - h/2}, Point{c.X + w/2, c.Y + h/2}}
			if !m.free(b) {
				continue
			}
			m.taken = append(m.taken, b)
			g := Group{Role: "presentation", Items: []Item{
				Rect{X: b.Min.X, Y: b.Min.Y, W: w, H: h, R: h / 2, Style: Style{Stroke: Ink, Fill: Panel}},
				badge(letter, b.Min.X+1+badgeWidth(letter)/2, c.Y),
			}}
			if name != "" {
				g.Items = append(g.Items, Text{X: b.Min.X + badgeWidth(letter) + 4, Y: c.Y + 4, S: name, Size: 12, Tone: Ink})
			}
			end := Point{math.Min(math.Max(at.X, b.Min.X), b.Max.X), math.Min(math.Max(at.Y, b.Min.Y), b.Max.Y)}
			return g, lineBetween(at, end, Style{Stroke: Ink, Width: 1.4}), true
		}
	}
	return Group{}, Line{}, false
}

// contours draws the level lines, the limit's broadest.
func (m *mapDrawing) contours(s *Scene) {
	g := Group{ID: "levels"}
	for _, level := range m.levels {
		st := Style{Stroke: Ink, Width: 1.1}
		if m.isLimit(level) {
			st = Style{Stroke: Short, Width: 2.6}
		}
		for _, line := range m.values.lines(level) {
			g.Items = append(g.Items, Polyline{Points: straighten(line), Style: st})
		}
	}
	if len(g.Items) > 0 {
		s.Items = append(s.Items, g)
	}
}

// numbers writes each level's number on its lines where nothing else is
// covered, the limit's first: on every line that is long enough, and on the
// longest if none is.
func (m *mapDrawing) numbers() []Item {
	var out []Item
	write := func(level float64) {
		word, limit := figure(level, m.Unit), m.isLimit(level)
		if limit {
			word = "limit " + word
		}
		enough := 3 * TextWidth(word, 12, true)
		var longest []Point
		written := false
		for _, line := range m.values.lines(level) {
			if arc(line) > arc(longest) {
				longest = line
			}
			if arc(line) > enough {
				if p, ok := m.plate(line, word, limit); ok {
					out = append(out, p)
					written = true
				}
			}
		}
		if !written && len(longest) > 0 {
			if p, ok := m.plate(longest, word, limit); ok {
				out = append(out, p)
			}
		}
	}
	for _, limit := range [2]bool{true, false} {
		for _, l := range m.levels {
			if m.isLimit(l) == limit {
				write(l)
			}
		}
	}
	return out
}

func (m *mapDrawing) isLimit(level float64) bool {
	return m.Limit.Side != NoLimit && level == m.Limit.At
}

// plate puts a word on a line, as near its middle as there is room.
func (m *mapDrawing) plate(line []Point, word string, bold bool) (Group, bool) {
	w, h := TextWidth(word, 12, bold)+8, 16.0
	whole := arc(line)
	for n := range 60 { // outwards from the middle, to either side in turn
		part := 0.5 + float64((n+1)/2)/120*float64(1-2*(n%2))
		c, x := along(line, part*whole), Box{}
		x = Box{Point{c.X - w/2, c.Y - h/2}, Point{c.X + w/2, c.Y + h/2}}
		if !m.free(x) {
			continue
		}
		m.taken = append(m.taken, x)
		edge := Ink
		if bold {
			edge = Short
		}
		return Group{Role: "presentation", Items: []Item{
			Rect{X: x.Min.X, Y: x.Min.Y, W: w, H: h, R: 3, Style: Style{Stroke: edge, Fill: Panel}},
			Text{X: c.X, Y: c.Y + 4, S: word, Size: 12, Anchor: Middle, Bold: bold, Tone: Ink},
		}}, true
	}
	return Group{}, false
}

// arc is the length of a line.
func arc(line []Point) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += math.Hypot(line[i].X-line[i-1].X, line[i].Y-line[i-1].Y)
	}
	return sum
}

// along is the point a length from the beginning of a line.
func along(line []Point, length float64) Point {
	for i := 1; i < len(line); i++ {
		d := math.Hypot(line[i].X-line[i-1].X, line[i].Y-line[i-1].Y)
		if length <= d && d > 0 {
			t := length / d
			return Point{line[i-1].X + t*(line[i].X-line[i-1].X), line[i-1].Y + t*(line[i].Y-line[i-1].Y)}
		}
		length -= d
	}
	return line[len(line)-1]
}
