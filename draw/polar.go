package draw

import "math"

// polar is a picture seen from above: angles in degrees clockwise from
// straight up, about a centre.
type polar struct{ x, y float64 }

func (p polar) at(r, deg float64) Point {
	s, c := math.Sincos(deg * math.Pi / 180)
	return Point{p.x + r*s, p.y - r*c}
}

// arc adds a piece of a circle to a path, clockwise when to > from.
func (p polar) arc(path *Path, r, from, to float64) {
	path.Arc(p.x, p.y, r, (from-90)*math.Pi/180, (to-90)*math.Pi/180)
}

// stroke is a piece of a circle.
func (p polar) stroke(r, from, to float64, st Style) Path {
	path := Path{Style: st}
	p.arc(&path, r, from, to)
	return path
}

// sector is the region between two radii and two angles.
func (p polar) sector(r0, r1, from, to float64, st Style) Path {
	path := Path{Style: st}
	p.arc(&path, r1, from, to)
	p.arc(&path, r0, to, from)
	path.Close()
	return path
}

// arrow is a piece of a circle with a head that ends at to. The stroke runs
// the whole way; a short one has a smaller head.
func (p polar) arrow(r, from, to float64, st Style) []Item {
	long := math.Abs(to-from) * math.Pi / 180 * r
	head := math.Min(5+2*st.Width, 0.8*long)
	back := to - math.Copysign(head/r*180/math.Pi, to-from)
	w := 0.55 * head
	return []Item{
		p.stroke(r, from, to, st),
		Polyline{Closed: true, Style: Style{Fill: st.Stroke}, Points: []Point{p.at(r, to), p.at(r-w, back), p.at(r+w, back)}},
	}
}

// hatch is slanting strokes through the region between two radii and two
// angles, each running from the inner to the outer edge.
func (p polar) hatch(r0, r1, from, to, every float64, st Style) Path {
	path := Path{Style: st}
	lean := (r1 - r0) / r1 * 180 / math.Pi * 0.6
	step := every / r1 * 180 / math.Pi
	for a := from - lean; a < to; a += step {
		// A stroke from (r0, a) to (r1, a+lean), cut to the region.
		u0, u1 := math.Max(0, (from-a)/lean), math.Min(1, (to-a)/lean)
		if u1 <= u0 {
			continue
		}
		s, e := p.at(r0+u0*(r1-r0), a+u0*lean), p.at(r0+u1*(r1-r0), a+u1*lean)
		path.MoveTo(s.X, s.Y)
		path.LineTo(e.X, e.Y)
	}
	return path
}

// turn360 brings an angle into [0, 360).
func turn360(deg float64) float64 {
	a := math.Mod(deg, 360)
	if a < 0 {
		a += 360
	}
	return a
}

// apart is the angle between two directions, 0 to 180.
func apart(a, b float64) float64 {
	d := turn360(a - b)
	return math.Min(d, 360-d)
}
