package draw

import "math"

// series draws one line: thinned, clipped to the field, marked.
func (c *curveDrawing) series(s *Scene, i int) {
	r, look := c.Series[i], seriesLooks[i]
	pts := make([]Point, len(r.X))
	for k := range r.X {
		pts[k] = c.at(r.X[k], r.Y[k])
	}
	g := Group{ID: c.pre + "series-" + string(rune('a'+i)), Label: r.Name}
	if !r.NoLine {
		if float64(len(pts)) > 2*(c.x1-c.x0) {
			look.style.Width = 1.4 // a dense trace would clot
		}
		for _, run := range clipLine(straighten(thin(pts)), c.x0, c.y0, c.x1, c.y1) {
			g.Items = append(g.Items, Polyline{Points: run, Style: look.style})
		}
	}
	if (r.Marks || r.NoLine || r.Going != 0) && !r.Handles {
		for _, p := range pts {
			if p.X >= c.x0-0.5 && p.X <= c.x1+0.5 && p.Y >= c.y0-0.5 && p.Y <= c.y1+0.5 {
				g.Items = append(g.Items, c.mark(i, p.X, p.Y))
			}
		}
	}
	s.Items = append(s.Items, g)
}

// thin keeps from each column one unit wide the first, the lowest, the
// highest and the last point, in their order. A line through those covers
// the same pixels as the whole one (U. Jugel and others, "M4: a
// visualization-oriented time series data aggregation", Proceedings of the
// VLDB Endowment 7, 2014). A line whose x falls anywhere is left as it is.
func thin(pts []Point) []Point {
	if len(pts) < 5 {
		return pts
	}
	for i := 1; i < len(pts); i++ {
		if pts[i].X < pts[i-1].X {
			return pts
		}
	}
	var out []Point
	for i := 0; i < len(pts); {
		col := math.Floor(pts[i].X)
		lo, hi, j := i, i, i
		for ; j < len(pts) && math.Floor(pts[j].X) == col; j++ {
			if pts[j].Y < pts[lo].Y {
				lo = j
			}
			if pts[j].Y > pts[hi].Y {
				hi = j
			}
		}
		keep := [4]int{i, min(lo, hi), max(lo, hi), j - 1}
		for k, at := range keep {
			if k == 0 || at != keep[k-1] {
				out = append(out, pts[at])
			}
		}
		i = j
	}
	return out
}

// straighten leaves out points that lie within a twentieth of a unit of the
// stroke between the points kept on either side, and between these two along
// it: no eye sees that, and a long ramp shrinks to its ends.
func straighten(pts []Point) []Point {
	const off, most = 0.05, 64
	if len(pts) < 3 {
		return pts
	}
	out := pts[:1:1]
	from := 0
	straight := func(a, b int) bool {
		p, q := pts[a], pts[b]
		dx, dy := q.X-p.X, q.Y-p.Y
		long := math.Hypot(dx, dy)
		for k := a + 1; k < b; k++ {
			ex, ey := pts[k].X-p.X, pts[k].Y-p.Y
			along := ex*dx + ey*dy
			if math.Abs(ex*dy-ey*dx) > off*long || along < 0 || along > long*long {
				return false
			}
		}
		return long > 0
	}
	for i := 1; i < len(pts); i++ {
		if i-from > 1 && (i-from > most || !straight(from, i)) {
			from = i - 1
			out = append(out, pts[from])
		}
	}
	return append(out, pts[len(pts)-1])
}

// clipLine cuts a line to a rectangle (Liang and Barsky's way, piece by
// piece) and gives the runs that are left.
func clipLine(pts []Point, x0, y0, x1, y1 float64) [][]Point {
	var out [][]Point
	var run []Point
	flush := func() {
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		lo, hi := 0.0, 1.0
		ok := true
		edge := func(p, d, min, max float64) {
			if d == 0 {
				ok = ok && p >= min && p <= max
				return
			}
			t0, t1 := (min-p)/d, (max-p)/d
			if t0 > t1 {
				t0, t1 = t1, t0
			}
			lo, hi = math.Max(lo, t0), math.Min(hi, t1)
		}
		edge(a.X, b.X-a.X, x0, x1)
		edge(a.Y, b.Y-a.Y, y0, y1)
		if !ok || lo > hi {
			flush()
			continue
		}
		at := func(t float64) Point { return Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)} }
		if lo > 0 || len(run) == 0 {
			flush()
			run = []Point{at(lo)}
		}
		run = append(run, at(hi))
		if hi < 1 {
			flush()
		}
	}
	flush()
	return out
}

// band fills the region between lo and hi, cut to the field.
func (c *curveDrawing) band(s *Scene) {
	b := c.Band
	if len(b.X) < 2 {
		return
	}
	var up, down []Point
	for i := range b.X {
		up = append(up, c.at(b.X[i], b.Hi[i]))
		down = append(down, c.at(b.X[i], b.Lo[i]))
	}
	ring := append([]Point{}, up...)
	for i := len(down) - 1; i >= 0; i-- {
		ring = append(ring, down[i])
	}
	ring = clipRing(ring, c.x0, c.y0, c.x1, c.y1)
	if len(ring) < 3 {
		return
	}
	g := Group{ID: c.pre + "band", Label: b.Name, Items: []Item{Polyline{Points: ring, Closed: true, Style: Style{Fill: Wanted}}}}
	for _, edge := range [][]Point{up, down} {
		for _, run := range clipLine(edge, c.x0, c.y0, c.x1, c.y1) {
			g.Items = append(g.Items, Polyline{Points: run, Style: Style{Stroke: Holds}})
		}
	}
	s.Items = append(s.Items, g)
}

// clipRing cuts a closed outline to a rectangle, one edge after another (I.
// Sutherland and G. Hodgman, "Reentrant polygon clipping", Communications of
// the ACM 17, 1974).
func clipRing(ring []Point, x0, y0, x1, y1 float64) []Point {
	cut := func(in []Point, depth func(Point) float64) []Point {
		var out []Point
		for i, b := range in {
			a := in[(i+len(in)-1)%len(in)]
			da, db := depth(a), depth(b)
			if da*db < 0 {
				t := da / (da - db)
				out = append(out, Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)})
			}
			if db >= 0 {
				out = append(out, b)
			}
		}
		return out
	}
	ring = cut(ring, func(p Point) float64 { return p.X - x0 })
	ring = cut(ring, func(p Point) float64 { return x1 - p.X })
	ring = cut(ring, func(p Point) float64 { return p.Y - y0 })
	return cut(ring, func(p Point) float64 { return y1 - p.Y })
}
