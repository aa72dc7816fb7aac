package draw

import "math"

// Op is one step of a Path.
type Op uint8

const (
	MoveTo  Op = iota // P[0] is the new point
	LineTo            // P[0] is the end
	CubicTo           // P[0], P[1] are the controls, P[2] the end
	Close
)

// Seg is one step of a Path with its points.
type Seg struct {
	Op Op
	P  [3]Point
}

// Path is an outline of straight strokes and cubic curves. Arcs are reduced
// to cubics when they are added, so that a renderer needs no arc of its own.
type Path struct {
	Segs  []Seg
	Style Style
}

// MoveTo starts a new stroke at (x, y).
func (p *Path) MoveTo(x, y float64) {
	p.Segs = append(p.Segs, Seg{Op: MoveTo, P: [3]Point{{x, y}}})
}

// LineTo adds a straight stroke to (x, y).
func (p *Path) LineTo(x, y float64) {
	p.Segs = append(p.Segs, Seg{Op: LineTo, P: [3]Point{{x, y}}})
}

// CubicTo adds a cubic curve with controls a and b ending in c.
func (p *Path) CubicTo(a, b, c Point) {
	p.Segs = append(p.Segs, Seg{Op: CubicTo, P: [3]Point{a, b, c}})
}

// Close draws back to where the stroke began.
func (p *Path) Close() { p.Segs = append(p.Segs, Seg{Op: Close}) }

// Arc adds a piece of a circle of radius r about (cx, cy) from angle from to
// angle to, both in radians, turning from the x axis towards the y axis
// (clockwise on the page) when to > from. It joins the current point to the
// beginning of the arc by a straight stroke, or starts there when the path
// is empty.
//
// Each quarter turn or less becomes one cubic whose controls lie
// k = 4/3 tan(θ/4) r along the tangents, θ the angle of that piece. The
// radius is then wrong by at most 2.8e-4 of itself (M. Goldapp,
// "Approximation of circular arcs by cubic polynomials", Computer Aided
// Geometric Design 8, 1991).
func (p *Path) Arc(cx, cy, r, from, to float64) {
	at := func(a float64) Point { return Point{cx + r*math.Cos(a), cy + r*math.Sin(a)} }
	s := at(from)
	if len(p.Segs) == 0 {
		p.MoveTo(s.X, s.Y)
	} else {
		p.LineTo(s.X, s.Y)
	}
	n := math.Ceil(math.Abs(to-from)/(math.Pi/2) - 1e-9)
	if !(n >= 1) || n > 4096 { // nothing to draw, or angles that are not numbers
		return
	}
	step := (to - from) / n
	k := 4.0 / 3 * math.Tan(step/4) * r
	for i := range int(n) {
		a0 := from + float64(i)*step
		a1 := from + float64(i+1)*step
		s, e := at(a0), at(a1)
		p.CubicTo(
			Point{s.X - k*math.Sin(a0), s.Y + k*math.Cos(a0)},
			Point{e.X + k*math.Sin(a1), e.Y - k*math.Cos(a1)},
			e)
	}
}
