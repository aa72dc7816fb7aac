package draw

import "math"

// room keeps account of what is drawn, so that words find a place on which
// nothing else lies.
type room struct {
	area    Box
	boxes   []Box
	strokes []bar
}

// bar is a straight stroke and half its width.
type bar struct {
	a, b Point
	half float64
}

// take enters what is drawn: words by their boxes, shapes by their outlines.
func (r *room) take(items ...Item) {
	run := func(st Style, closed bool, pts []Point) {
		if st.Stroke == None && st.Fill == None || len(pts) == 0 {
			return
		}
		half := 0.0
		if st.Stroke != None {
			half = math.Max(st.Width, 1) / 2
		}
		for i := 1; i < len(pts); i++ {
			r.strokes = append(r.strokes, bar{pts[i-1], pts[i], half})
		}
		if closed {
			r.strokes = append(r.strokes, bar{pts[len(pts)-1], pts[0], half})
		}
	}
	for _, it := range items {
		switch v := it.(type) {
		case Line:
			run(v.Style, false, []Point{{v.X1, v.Y1}, {v.X2, v.Y2}})
		case Polyline:
			run(v.Style, v.Closed, v.Points)
		case Rect:
			run(v.Style, true, []Point{{v.X, v.Y}, {v.X + v.W, v.Y}, {v.X + v.W, v.Y + v.H}, {v.X, v.Y + v.H}})
		case Circle:
			p := Path{}
			p.Arc(v.X, v.Y, v.R, 0, 2*math.Pi)
			for _, pts := range p.runs() {
				run(v.Style, true, pts)
			}
		case Path:
			for _, pts := range v.runs() {
				run(v.Style, false, pts)
			}
		case Text:
			r.boxes = append(r.boxes, v.Bounds())
		case Group:
			r.take(v.Items...)
		}
	}
}

// runs turns the path into runs of straight strokes, eight to a curve.
func (p Path) runs() [][]Point {
	var out [][]Point
	var cur []Point
	flush := func() {
		if len(cur) > 1 {
			out = append(out, cur)
		}
	}
	for _, s := range p.Segs {
		switch s.Op {
		case MoveTo:
			flush()
			cur = []Point{s.P[0]}
		case LineTo:
			cur = append(cur, s.P[0])
		case CubicTo:
			a := cur[len(cur)-1]
			for i := 1; i <= 8; i++ {
				t := float64(i) / 8
				u := 1 - t
				b0, b1, b2, b3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
				cur = append(cur, Point{
					b0*a.X + b1*s.P[0].X + b2*s.P[1].X + b3*s.P[2].X,
					b0*a.Y + b1*s.P[0].Y + b2*s.P[1].Y + b3*s.P[2].Y})
			}
		case Close:
			cur = append(cur, cur[0])
		}
	}
	flush()
	return out
}

// free reports whether a box lies in the area and on nothing that is taken.
func (r *room) free(b Box) bool {
	if b.Min.X < r.area.Min.X || b.Max.X > r.area.Max.X || b.Min.Y < r.area.Min.Y || b.Max.Y > r.area.Max.Y {
		return false
	}
	const gap = 1.5
	b = Box{Point{b.Min.X - gap, b.Min.Y - gap}, Point{b.Max.X + gap, b.Max.Y + gap}}
	for _, t := range r.boxes {
		if t.Overlaps(b) {
			return false
		}
	}
	for i := range r.strokes {
		if r.strokes[i].crosses(b) {
			return false
		}
	}
	return true
}

// open reports whether a thin stroke from a to b crosses no words.
func (r *room) open(a, b Point) bool {
	s := bar{a, b, 2.4} // the place's own dot is as wide
	for _, t := range r.boxes {
		if s.crosses(t) {
			return false
		}
	}
	return true
}

// crosses reports whether the stroke enters the box (Liang and Barsky's way).
func (s *bar) crosses(b Box) bool {
	b.Min.X -= s.half
	b.Min.Y -= s.half
	b.Max.X += s.half
	b.Max.Y += s.half
	if max(s.a.X, s.b.X) < b.Min.X || min(s.a.X, s.b.X) > b.Max.X || max(s.a.Y, s.b.Y) < b.Min.Y || min(s.a.Y, s.b.Y) > b.Max.Y {
		return false
	}
	lo, hi := 0.0, 1.0
	cut := func(p, d, min, max float64) bool {
		if d == 0 {
			return p >= min && p <= max
		}
		t0, t1 := (min-p)/d, (max-p)/d
		if t0 > t1 {
			t0, t1 = t1, t0
		}
		lo, hi = math.Max(lo, t0), math.Min(hi, t1)
		return lo <= hi
	}
	return cut(s.a.X, s.b.X-s.a.X, b.Min.X, b.Max.X) && cut(s.a.Y, s.b.Y-s.a.Y, b.Min.Y, b.Max.Y)
}

// callout is a letter, with a name behind it where there is room for one,
// for the thing at a place.
type callout struct {
	at           Point
	letter, name string
	value        Figure  // in place of the name, where it has a text
	near         float64 // least distance from the place; below 0: on the place itself, if that is free
}

// call finds room for a callout no further than far from its place, and draws
// it there with a stroke to the place. It gives nothing where there is none.
func (r *room) call(c callout, far float64) []Item {
	first := badgeWidth(c.letter) + 2
	w, h := first, badgeSize+2
	switch {
	case c.value.Text != "":
		w += 3 + chipSize + 4 + TextWidth(c.value.Text, 12, true) + 8
		if c.value.Mark != MarkNone {
			w += 13
		}
	case c.name != "":
		w += TextWidth(c.name, 12, false) + 9
	}
	put := func(m Point, lead bool) []Item {
		b := Box{Point{m.X - w/2, m.Y - h/2}, Point{m.X + w/2, m.Y + h/2}}
		if !r.free(b) {
			return nil
		}
		var out []Item
		if lead {
			end := Point{math.Min(math.Max(c.at.X, b.Min.X), b.Max.X), math.Min(math.Max(c.at.Y, b.Min.Y), b.Max.Y)}
			if !r.open(c.at, end) {
				return nil
			}
			if d := math.Hypot(end.X-c.at.X, end.Y-c.at.Y); d > 1.5 { // up to the tag, not into it
				end.X -= 1.2 * (end.X - c.at.X) / d
				end.Y -= 1.2 * (end.Y - c.at.Y) / d
			}
			out = append(out, lineBetween(c.at, end, Style{Stroke: Ink, Width: 1.2}), Circle{X: c.at.X, Y: c.at.Y, R: 2, Style: Style{Fill: Ink}})
			r.take(out...)
		}
		r.boxes = append(r.boxes, b)
		g := Group{Role: "presentation", Items: []Item{
			Rect{X: b.Min.X, Y: b.Min.Y, W: w, H: h, R: h / 2, Style: Style{Stroke: Ink, Fill: Panel}},
			badge(c.letter, b.Min.X+1+badgeWidth(c.letter)/2, m.Y),
		}}
		switch {
		case c.value.Text != "":
			x := b.Min.X + first + 3
			g.Items = append(g.Items, chip(c.value.Origin, x+chipSize/2, m.Y), Text{X: x + chipSize + 4, Y: m.Y + 4, S: c.value.Text, Size: 12, Bold: true, Tone: Ink}, Mark(c.value.Mark, b.Max.X-10, m.Y, 13))
		case c.name != "":
			g.Items = append(g.Items, Text{X: b.Min.X + badgeWidth(c.letter) + 4, Y: m.Y + 4, S: c.name, Size: 12, Tone: Ink})
		}
		return append(out, g)
	}
	if c.near < 0 {
		if out := put(c.at, false); out != nil {
			return out
		}
		c.near = 4
	}
	for d := math.Max(c.near, 3); d <= far; d += 6 {
		for k := range 24 {
			// Right, left, above, below and what lies between.
			a := float64((k%2)*12+[12]int{0, 6, 18, 3, 21, 9, 15, 1, 23, 5, 19, 11}[k/2]) * math.Pi / 12
			if out := put(Point{c.at.X + (d+w/2)*math.Cos(a), c.at.Y + (d+h/2)*math.Sin(a)}, true); out != nil {
				return out
			}
		}
	}
	return nil
}

// callAll puts the letters of a list into the picture, each with its name or
// figure where there is room near by. No letter covers the place of another.
func callAll(s *Scene, r *room, list []keyRow, marks []callout) {
	words := r.boxes
	for i, c := range marks {
		r.boxes = words[:len(words):len(words)]
		for _, o := range marks[i+1:] {
			if math.Hypot(o.at.X-c.at.X, o.at.Y-c.at.Y) < 7 {
				continue // the two share a place
			}
			r.boxes = append(r.boxes, Box{Point{o.at.X - 3.5, o.at.Y - 3.5}, Point{o.at.X + 3.5, o.at.Y + 3.5}})
		}
		kept := len(r.boxes)
		items := r.call(c, 66)
		if items == nil {
			c.name, c.value = "", Figure{}
			items = r.call(c, math.Min(s.W, 320))
		}
		if items == nil {
			r.boxes = words[:len(words):len(words)]
			kept = len(r.boxes)
			items = r.call(c, math.Min(s.W, 320))
		}
		if items != nil {
			s.Items = append(s.Items, Group{ID: "call-" + list[i].id, Items: items})
		}
		words = append(words, r.boxes[kept:]...)
	}
	r.boxes = words
}
