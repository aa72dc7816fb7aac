package draw

import (
	"math"
	"sort"
)

// spread takes the grid's values, those that are missing filled in from their
// neighbours so that lines can be traced; blank covers them later.
func (m *mapDrawing) spread() {
	m.known = make([][]bool, len(m.Ys))
	for j, row := range m.Z {
		m.known[j] = make([]bool, len(row))
		for i, v := range row {
			m.known[j][i] = !math.IsNaN(v) && (m.PM == nil || !math.IsNaN(m.PM[j][i]))
		}
	}
	m.values = lattice{z: m.filled(func(i, j int) float64 { return m.Z[j][i] })}
}

// stand puts the grid where the field is.
func (m *mapDrawing) stand() {
	for _, x := range m.Xs {
		m.values.xs = append(m.values.xs, m.at(x, m.v.Lo).X)
	}
	for _, y := range m.Ys {
		m.values.ys = append(m.values.ys, m.at(m.h.Lo, y).Y)
	}
	if m.Limit.Side != NoLimit {
		m.beyond = m.values.region(m.Limit.At)
	}
}

// filled is a figure of the grid with the mean of known neighbours in the
// place of what is not known, ring by ring; 0 where nothing is known.
func (m *mapDrawing) filled(of func(i, j int) float64) [][]float64 {
	nx, ny := len(m.Xs), len(m.Ys)
	z := make([][]float64, ny)
	done := make([][]bool, ny)
	left := 0
	for j := range z {
		z[j], done[j] = make([]float64, nx), append([]bool(nil), m.known[j]...)
		for i := range z[j] {
			if done[j][i] {
				z[j][i] = of(i, j)
			} else {
				left++
			}
		}
	}
	for left > 0 {
		type fill struct {
			i, j int
			v    float64
		}
		var ring []fill
		for j := range z {
			for i := range z[j] {
				if done[j][i] {
					continue
				}
				sum, n := 0.0, 0
				for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
					if a, b := i+d[0], j+d[1]; a >= 0 && a < nx && b >= 0 && b < ny && done[b][a] {
						sum += z[b][a]
						n++
					}
				}
				if n > 0 {
					ring = append(ring, fill{i, j, sum / float64(n)})
				}
			}
		}
		if len(ring) == 0 {
			break // nothing is known at all
		}
		for _, f := range ring {
			z[f.j][f.i], done[f.j][f.i] = f.v, true
			left--
		}
	}
	return z
}

// outline is the whole field as a ring.
func (m *mapDrawing) outline() []Point {
	return []Point{{m.x0, m.y0}, {m.x1, m.y0}, {m.x1, m.y1}, {m.x0, m.y1}}
}

// hatch draws slanting strokes over what is on the wrong side of the limit.
func (m *mapDrawing) hatch(s *Scene) {
	if m.Limit.Side == NoLimit {
		return
	}
	rings := m.beyond
	if m.Limit.Side == AtLeast {
		rings = append([][]Point{m.outline()}, rings...)
	}
	p := Path{Style: Style{Stroke: Short}}
	for _, c := range scan(rings, Point{math.Sqrt2 / 2, -math.Sqrt2 / 2}, 7, 1.5) {
		p.MoveTo(c[0].X, c[0].Y)
		p.LineTo(c[1].X, c[1].Y)
	}
	if len(p.Segs) > 0 {
		s.Items = append(s.Items, Group{ID: "short", Items: []Item{p}})
	}
}

// doubt dots where the limit lies within the plus-or-minus, and draws the
// edges of that.
func (m *mapDrawing) doubt(s *Scene) {
	inner, outer, ok := m.doubtful()
	if !ok {
		return
	}
	g := Group{ID: "doubtful"}
	dots := Path{Style: Style{Stroke: Doubtful, Width: 2.4}}
	const gap = 8.0
	for _, c := range scan(append(append([][]Point{}, inner.region(m.Limit.At)...), outer.region(m.Limit.At)...), Point{1, 0}, gap, 0) {
		row := math.Round(c[0].Y / gap)
		from := math.Ceil((c[0].X-gap/2*math.Mod(row, 2))/gap)*gap + gap/2*math.Mod(row, 2)
		for x := from; x <= c[1].X; x += gap {
			dots.MoveTo(x-1.2, c[0].Y)
			dots.LineTo(x+1.2, c[0].Y)
		}
	}
	if len(dots.Segs) > 0 {
		g.Items = append(g.Items, dots)
	}
	for _, l := range [2]lattice{inner, outer} {
		for _, line := range l.lines(m.Limit.At) {
			g.Items = append(g.Items, Polyline{Points: straighten(line), Style: Style{Stroke: Doubtful, Width: 1.6, Dash: Dotted}})
		}
	}
	if len(g.Items) > 0 {
		s.Items = append(s.Items, g)
	}
}

// doubtful gives the lower and the upper end of the figure over the map.
func (m *mapDrawing) doubtful() (low, high lattice, ok bool) {
	if m.Limit.Side == NoLimit || m.PM == nil {
		return low, high, false
	}
	low, high = m.values, m.values
	low.z = m.filled(func(i, j int) float64 { return m.Z[j][i] - m.PM[j][i] })
	high.z = m.filled(func(i, j int) float64 { return m.Z[j][i] + m.PM[j][i] })
	return low, high, true
}

// blank covers what has no answer, strews crosses over it and gives what is
// covered.
func (m *mapDrawing) blank(s *Scene) []Box {
	var boxes []Box
	g := Group{ID: "blank"}
	crosses := Path{Style: Style{Stroke: Muted}}
	edge := func(vs []float64, k int) float64 { // where the reach of entry k begins
		switch k {
		case 0:
			return vs[0]
		case len(vs):
			return vs[len(vs)-1]
		}
		return (vs[k-1] + vs[k]) / 2
	}
	for j := range m.Ys {
		top, foot := edge(m.values.ys, j+1), edge(m.values.ys, j)
		for i := 0; i < len(m.Xs); i++ {
			if m.known[j][i] {
				continue
			}
			from := i
			for i+1 < len(m.Xs) && !m.known[j][i+1] {
				i++
			}
			x0, x1 := edge(m.values.xs, from), edge(m.values.xs, i+1)
			g.Items = append(g.Items, Rect{X: x0, Y: top, W: x1 - x0, H: foot - top, Style: Style{Fill: Back}})
			boxes = append(boxes, Box{Point{x0, top}, Point{x1, foot}})
			cross := func(x, y float64) {
				for _, d := range [2]float64{-2.5, 2.5} {
					crosses.MoveTo(x-2.5, y-d)
					crosses.LineTo(x+2.5, y+d)
				}
			}
			const gap = 14.0
			n := len(crosses.Segs)
			for y := math.Ceil(top/gap) * gap; y < foot; y += gap {
				for x := math.Ceil(x0/gap) * gap; x < x1; x += gap {
					if x < m.x0+3 || x > m.x1-3 || y < m.y0+3 || y > m.y1-3 {
						continue
					}
					cross(x, y)
				}
			}
			if len(crosses.Segs) == n && x1-x0 < 2*gap { // a hole between the rows and columns of crosses
				cross((x0+x1)/2, (top+foot)/2)
			}
		}
	}
	if len(crosses.Segs) > 0 {
		g.Items = append(g.Items, crosses)
	}
	if len(g.Items) > 0 {
		s.Items = append(s.Items, g)
	}
	return boxes
}

// scan cuts parallel lines along a direction, gap apart, at the outlines and
// gives the pieces within, where within means inside an odd number of them;
// pieces shorter than least are left out.
func scan(rings [][]Point, along Point, gap, least float64) [][2]Point {
	across := Point{-along.Y, along.X}
	rows := map[int][]float64{}
	lo, hi := math.MaxInt, math.MinInt
	for _, ring := range rings {
		for k, b := range ring {
			a := ring[(k+len(ring)-1)%len(ring)]
			va, vb := a.X*across.X+a.Y*across.Y, b.X*across.X+b.Y*across.Y
			ua, ub := a.X*along.X+a.Y*along.Y, b.X*along.X+b.Y*along.Y
			if va > vb {
				va, vb, ua, ub = vb, va, ub, ua
			}
			// The lower end counts and the upper does not, so that a line
			// through a corner is cut once.
			for n := int(math.Ceil(va / gap)); float64(n)*gap < vb; n++ {
				t := (float64(n)*gap - va) / (vb - va)
				rows[n] = append(rows[n], ua+t*(ub-ua))
				lo, hi = min(lo, n), max(hi, n)
			}
		}
	}
	var out [][2]Point
	for n := lo; n <= hi; n++ {
		us := rows[n]
		sort.Float64s(us)
		v := float64(n) * gap
		at := func(u float64) Point { return Point{u*along.X + v*across.X, u*along.Y + v*across.Y} }
		for k := 0; k+1 < len(us); k += 2 {
			if us[k+1]-us[k] > least {
				out = append(out, [2]Point{at(us[k]), at(us[k+1])})
			}
		}
	}
	return out
}
