package draw

import "math"

// part draws one way: its wire, symbol, arrow and words.
func (d *wiringDrawing) part(w *way) (Group, error) {
	p := d.spec.Parts[w.part]
	g := Group{ID: "part-" + cleanID(p.ID), Label: d.partWords(p), Link: p.Link}

	style := Style{Stroke: w.home.tone, Width: w.home.width}
	if p.Missing {
		style = Style{Stroke: Muted, Width: 1.6, Dash: Dashed}
	}
	sym := symbolOf(p, d.spec.PositiveEarth)
	lines := d.wire(w, sym.half)
	for _, pts := range lines {
		g.Items = append(g.Items, d.stroke(w, pts, style, p.New)...)
	}
	if w.home.frame {
		g.Items = append(g.Items, frame(w.path[len(w.path)-1], w.home.b, w.home.word)...)
	}
	if w.home.b == AtBody && !w.home.frame {
		at := d.g.spots[AtBody].at
		foot := Point{at.X, at.Y + 13}
		g.Items = append(append(g.Items, lineBetween(at, foot, Style{Stroke: WireEarth, Width: 1.8})), bodyFrame(foot)...)
	}
	for _, t := range w.home.taps {
		for _, live := range d.taps {
			if live == t.at {
				g.Items = append(g.Items, Circle{X: t.at.X, Y: t.at.Y, R: 3, Style: Style{Fill: w.home.tone}})
				break
			}
		}
	}
	spot, dir, clear := d.arrowSpot(w, sym.half)
	switch {
	case d.clamp == w.part+1 && clear:
		g.Items = append(g.Items, Circle{X: spot.X, Y: spot.Y, R: 8, Style: Style{Stroke: Accent, Width: 2.6}})
	case p.Flow != 0 && clear:
		if (p.Flow < 0) != w.back {
			dir = Point{-dir.X, -dir.Y}
		}
		tone := style.Stroke
		if p.New {
			tone = Accent
		}
		g.Items = append(g.Items, arrow(spot, dir, tone))
	}
	if sym.draw != nil {
		f := newFrame(w.home.sym, d.directionAt(w, w.home.sym), w.home.flip)
		g.Items = append(g.Items, Group{Items: sym.draw(f)})
		switch {
		case p.Kind == Relay:
			g.Items = append(g.Items, d.winding(p)...)
		case p.Kind == Trigger && p.Third != "":
			to := f.at(0, triggerHalfWidth)
			from := d.g.spots[AtTriggerSupply].at
			g.Items = append(g.Items, lineBetween(from, to, Style{Stroke: WireControl, Width: controlW}))
		}
	}
	words, err := d.partBlock(w, p)
	if err != nil {
		return Group{}, err
	}
	g.Items = append(g.Items, words...)
	return g, nil
}

// wire is the way's line with a gap of half the symbol's length on either
// side of its middle: one or two runs of points.
func (d *wiringDrawing) wire(w *way, half float64) [][]Point {
	if half == 0 {
		return [][]Point{w.path}
	}
	for i := 1; i < len(w.path); i++ {
		s := stretch{w.path[i-1], w.path[i]}
		t, on := s.along(w.home.sym)
		if !on {
			continue
		}
		h := half / s.length()
		at := func(f float64) Point { return Point{s.a.X + f*(s.b.X-s.a.X), s.a.Y + f*(s.b.Y-s.a.Y)} }
		first := append(append([]Point{}, w.path[:i]...), at(t-h))
		second := append([]Point{at(t + h)}, w.path[i:]...)
		return [][]Point{first, second}
	}
	return [][]Point{w.path}
}

// directionAt is the way's direction, from the grid's first end to its
// second, where the symbol sits.
func (d *wiringDrawing) directionAt(w *way, p Point) Point {
	for i := 1; i < len(w.path); i++ {
		s := stretch{w.path[i-1], w.path[i]}
		if _, on := s.along(p); on {
			l := s.length()
			return Point{(s.b.X - s.a.X) / l, (s.b.Y - s.a.Y) / l}
		}
	}
	return Point{1, 0}
}

// arrowSpot is the middle of the longest straight stretch that the way has
// to itself, clear of nodes and symbol, with its direction.
func (d *wiringDrawing) arrowSpot(w *way, half float64) (at, dir Point, ok bool) {
	if at = w.home.arrow; at != (Point{}) {
		return at, d.directionAt(w, at), true
	}
	best := 14.0 // room for an arrow
	ends := [2]Point{w.path[0], w.path[len(w.path)-1]}
	for _, s := range d.stretches(w.path) {
		if d.uses[s.key()] > 1 {
			continue
		}
		l := s.length()
		lo, hi := 0.0, l
		if s.a == ends[0] {
			lo = 11
		}
		if s.b == ends[1] {
			hi -= 11
		}
		spans := [][2]float64{{lo, hi}}
		if t, on := s.along(w.home.sym); on && half > 0 {
			spans = [][2]float64{{lo, t*l - half}, {t*l + half, hi}}
		}
		for _, sp := range spans {
			if sp[1]-sp[0] > best {
				best = sp[1] - sp[0]
				m := (sp[0] + sp[1]) / 2
				dir = Point{(s.b.X - s.a.X) / l, (s.b.Y - s.a.Y) / l}
				at = Point{s.a.X + m*dir.X, s.a.Y + m*dir.Y}
				ok = true
			}
		}
	}
	return at, dir, ok
}

func arrow(at, dir Point, tone Tone) Polyline {
	const l, w = 6.0, 4.5
	return Polyline{Closed: true, Style: Style{Fill: tone}, Points: []Point{
		{at.X + l*dir.X, at.Y + l*dir.Y},
		{at.X - l*dir.X - w*dir.Y, at.Y - l*dir.Y + w*dir.X},
		{at.X - l*dir.X + w*dir.Y, at.Y - l*dir.Y - w*dir.X},
	}}
}

// stroke paints one run of points as a wire with softened corners, hopping
// over what it crosses; a new wire is painted as a tube.
func (d *wiringDrawing) stroke(w *way, pts []Point, style Style, isNew bool) []Item {
	p := Path{Style: style}
	last := len(pts) - 1
	p.MoveTo(pts[0].X, pts[0].Y)
	for i := 1; i <= last; i++ {
		a, b := pts[i-1], pts[i]
		for _, x := range d.crossings(w, a, b) {
			p.hop(a, b, x)
		}
		if i == last {
			p.LineTo(b.X, b.Y)
			break
		}
		c := pts[i+1]
		r := math.Min(6, math.Min(stretch{a, b}.length(), stretch{b, c}.length())/2)
		in, out := towards(b, a, r), towards(b, c, r)
		p.LineTo(in.X, in.Y)
		p.CubicTo(towards(b, a, r*0.45), towards(b, c, r*0.45), out)
	}
	if !isNew {
		return []Item{p}
	}
	outer, inner := p, p
	outer.Style = Style{Stroke: Accent, Width: 5.5, Dash: style.Dash}
	inner.Style = Style{Stroke: Panel, Width: 2.2}
	return []Item{outer, inner}
}

// towards is the point r from a in the direction of b.
func towards(a, b Point, r float64) Point {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return a
	}
	return Point{a.X + r*(b.X-a.X)/l, a.Y + r*(b.Y-a.Y)/l}
}

// crossings are the points strictly between a and b, in order, at which a
// level stretch of this way crosses an upright stretch of another one.
func (d *wiringDrawing) crossings(w *way, a, b Point) []Point {
	if a.Y != b.Y {
		return nil
	}
	var out []Point
	for i := range d.ways {
		o := &d.ways[i]
		if o.part == w.part {
			continue
		}
		for j := 1; j < len(o.path); j++ {
			u, v := o.path[j-1], o.path[j]
			if u.X != v.X || (u.Y-a.Y)*(v.Y-a.Y) > -1 || (u.X-a.X)*(u.X-b.X) > -64 {
				continue
			}
			x := Point{u.X, a.Y}
			k := len(out)
			for k > 0 && math.Abs(out[k-1].X-a.X) > math.Abs(x.X-a.X) {
				k--
			}
			if k > 0 && out[k-1] == x || k < len(out) && out[k] == x {
				continue
			}
			out = append(out[:k], append([]Point{x}, out[k:]...)...)
		}
	}
	return out
}

// hop draws on towards b and over x in a half circle.
func (p *Path) hop(a, b, x Point) {
	const r = 6.0
	if b.X > a.X {
		p.Arc(x.X, x.Y, r, -math.Pi, 0)
	} else {
		p.Arc(x.X, x.Y, r, 0, -math.Pi)
	}
}

// winding draws the relay's winding from the node that feeds it to the body.
func (d *wiringDrawing) winding(p Part) []Item {
	c := d.g.coil
	style := Style{Stroke: WireControl, Width: controlW}
	if p.Missing {
		style = Style{Stroke: Muted, Width: 1.6, Dash: Dashed}
	}
	in := append([]Point{d.g.spots[AtSwitchOut].at}, c.via...)
	w := &way{part: d.parts[p.ID]}
	items := d.stroke(w, in, style, false)
	items = append(items, d.stroke(w, c.earth, style, false)...)
	box := Rect{X: c.box.X - 22, Y: c.box.Y - 12, W: 44, H: 24, Style: Style{Stroke: Ink, Width: 1.8, Fill: Panel}}
	items = append(items, box,
		lineBetween(Point{c.box.X - 8, c.box.Y + 12}, Point{c.box.X + 8, c.box.Y - 12}, Style{Stroke: Ink, Width: 1.4}),
		lineBetween(c.link[0], c.link[1], Style{Stroke: Muted, Width: 1.2, Dash: Dotted}))
	return append(items, frame(c.earth[len(c.earth)-1], AtBody, c.word)...)
}

// frame draws the symbol for a connection to block or body, hanging from p,
// with its word beside it.
func frame(p Point, to Place, side Anchor) []Item {
	word := "block"
	switch to {
	case AtBody:
		word = "body"
	case AtBreakerPlate:
		word = "plate"
	}
	t := Text{X: p.X + 15, Y: p.Y + 8, S: word, Size: labelSize, Tone: WireEarth}
	if side == End {
		t.X, t.Anchor = p.X-16, End
	}
	return append(bodyFrame(p), t)
}

// bodyFrame is the general symbol for a frame or chassis connection (as in
// IEC 60617): a bar with three slanting strokes.
func bodyFrame(p Point) []Item {
	s := Style{Stroke: WireEarth, Width: 1.8}
	items := []Item{lineBetween(Point{p.X - 11, p.Y}, Point{p.X + 11, p.Y}, s)}
	for _, x := range []float64{-9, 0, 9} {
		items = append(items, lineBetween(Point{p.X + x, p.Y}, Point{p.X + x - 5, p.Y + 8}, s))
	}
	return items
}
