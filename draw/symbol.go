package draw

import "math"

// symbol is how a part looks in the middle of its wire.
type symbol struct {
	half float64 // half the length the symbol takes of the wire
	draw func(symFrame) []Item
}

// symFrame maps a symbol's own coordinates to the scene: u along the wire
// from the live side, v to the side of it.
type symFrame struct{ o, u, v Point }

func newFrame(o, dir Point, flip bool) symFrame {
	v := Point{-dir.Y, dir.X}
	if flip {
		v = Point{dir.Y, -dir.X}
	}
	return symFrame{o, dir, v}
}

func (f symFrame) at(u, v float64) Point {
	return Point{f.o.X + u*f.u.X + v*f.v.X, f.o.Y + u*f.u.Y + v*f.v.Y}
}

func (f symFrame) line(u1, v1, u2, v2 float64, s Style) Line {
	return lineBetween(f.at(u1, v1), f.at(u2, v2), s)
}

func (f symFrame) poly(s Style, closed bool, uv ...float64) Polyline {
	p := Polyline{Closed: closed, Style: s}
	for i := 0; i+1 < len(uv); i += 2 {
		p.Points = append(p.Points, f.at(uv[i], uv[i+1]))
	}
	return p
}

func (f symFrame) circle(u, v, r float64, s Style) Circle {
	p := f.at(u, v)
	return Circle{p.X, p.Y, r, s}
}

// bumps draws n half circles of radius r along u from (u0, v0), bulging
// towards +v when side is +1.
func (f symFrame) bumps(n int, r, u0, v0, side float64, s Style) Path {
	p := Path{Style: s}
	k := 4.0 / 3 * math.Tan(math.Pi/8) * r
	a := f.at(u0, v0)
	p.MoveTo(a.X, a.Y)
	for i := range n {
		u := u0 + 2*r*float64(i)
		top := f.at(u+r, v0+side*r)
		p.CubicTo(f.at(u, v0+side*k), f.at(u+r-k, v0+side*r), top)
		p.CubicTo(f.at(u+r+k, v0+side*r), f.at(u+2*r, v0+side*k), f.at(u+2*r, v0))
	}
	return p
}

var (
	inkLine  = Style{Stroke: Ink, Width: 1.8}
	inkThick = Style{Stroke: Ink, Width: 3.4}
	inkBody  = Style{Stroke: Ink, Width: 1.8, Fill: Panel}
	inkFill  = Style{Fill: Ink}
)

const triggerHalfWidth = 27.0

func symbolOf(p Part, positiveEarth bool) symbol {
	switch p.Kind {
	case Battery:
		return symbol{18, func(f symFrame) []Item { return batterySymbol(f, positiveEarth) }}
	case Generator:
		return symbol{16, func(f symFrame) []Item { return machineSymbol(f, "G", f.direct) }}
	case Alternator:
		return symbol{16, func(f symFrame) []Item { return machineSymbol(f, "G", f.alternating) }}
	case Starter:
		return symbol{16, func(f symFrame) []Item { return machineSymbol(f, "M", f.direct) }}
	case Loads:
		return symbol{13, lampSymbol}
	case KeySwitch:
		return symbol{18, func(f symFrame) []Item { return contactSymbol(f, p.Open) }}
	case Relay:
		return symbol{18, func(f symFrame) []Item { return contactSymbol(f, p.Open) }}
	case Ballast:
		return symbol{22, ballastSymbol}
	case Coil:
		return symbol{32, coilSymbol}
	case Points:
		return symbol{24, func(f symFrame) []Item { return append(cam(f, 17), breaker(f, 0, p.Open)...) }}
	case DualPoints:
		return symbol{26, func(f symFrame) []Item { return dualSymbol(f, p.Open) }}
	case Trigger:
		return symbol{28, triggerSymbol}
	case Condenser:
		return symbol{4, condenserSymbol}
	case Fuse:
		return symbol{15, fuseSymbol}
	case Earth:
		return symbol{4, jointSymbol}
	}
	return symbol{}
}

// batterySymbol is three cells; the longer plate of each is the positive one.
func batterySymbol(f symFrame, positiveEarth bool) []Item {
	var items []Item
	for i := range 6 {
		u := -18 + 7.2*float64(i)
		if (i%2 == 0) != positiveEarth {
			items = append(items, f.line(u, -15, u, 15, inkLine))
		} else {
			items = append(items, f.line(u, -8, u, 8, inkThick))
		}
	}
	for _, end := range []float64{-1, 1} {
		c := f.at(end*25, 10)
		items = append(items, Line{c.X - 4, c.Y, c.X + 4, c.Y, inkLine})
		if (end < 0) != positiveEarth {
			items = append(items, Line{c.X, c.Y - 4, c.X, c.Y + 4, inkLine})
		}
	}
	return items
}

// machineSymbol is a rotating machine: a circle, its letter and its current.
func machineSymbol(f symFrame, letter string, kind func() Item) []Item {
	return []Item{
		f.circle(0, 0, 16, inkBody),
		Text{X: f.o.X, Y: f.o.Y + 2, S: letter, Size: 13, Anchor: Middle, Bold: true, Tone: Ink},
		kind(),
	}
}

func (f symFrame) direct() Item {
	return Line{f.o.X - 6, f.o.Y + 7, f.o.X + 6, f.o.Y + 7, Style{Stroke: Ink, Width: 1.5}}
}

func (f symFrame) alternating() Item {
	p := Path{Style: Style{Stroke: Ink, Width: 1.5}}
	x, y := f.o.X, f.o.Y+7.5
	p.MoveTo(x-7, y)
	p.CubicTo(Point{x - 4, y - 6}, Point{x - 2.5, y - 4}, Point{x, y})
	p.CubicTo(Point{x + 2.5, y + 4}, Point{x + 4, y + 6}, Point{x + 7, y})
	return p
}

func lampSymbol(f symFrame) []Item {
	const r = 13.0
	d := r / math.Sqrt2
	return []Item{f.circle(0, 0, r, inkBody), f.line(-d, -d, d, d, inkLine), f.line(-d, d, d, -d, inkLine)}
}

// contactSymbol is a make contact between two terminals.
func contactSymbol(f symFrame, open bool) []Item {
	tip := f.at(15, -3)
	if open {
		tip = f.at(13, -10)
	}
	return []Item{
		lineBetween(f.at(-15, 0), tip, Style{Stroke: Ink, Width: 2.4}),
		f.circle(-15, 0, 3.2, inkBody), f.circle(15, 0, 3.2, inkBody),
	}
}

func ballastSymbol(f symFrame) []Item {
	return []Item{f.poly(inkLine, false, -22, 0, -18.5, -7, -11, 7, -3.7, -7, 3.7, 7, 11, -7, 18.5, 7, 22, 0)}
}

// coilSymbol is two windings on one core, the second one joined to the
// switched end of the first and leading out to the spark.
func coilSymbol(f symFrame) []Item {
	tip := f.at(-36, -21)
	return []Item{
		f.bumps(4, 7.5, -30, 0, -1, inkLine),
		f.line(-32, 0, -30, 0, inkLine), f.line(30, 0, 32, 0, inkLine),
		f.line(-29, -11.5, 29, -11.5, inkLine), f.line(-29, -14.5, 29, -14.5, inkLine),
		f.bumps(6, 4.6, -27.6, -21, 1, inkLine),
		f.poly(inkLine, false, 27.6, -21, 31, -21, 31, 0),
		f.circle(31, 0, 2.4, inkFill),
		lineBetween(f.at(-27.6, -21), tip, inkLine),
		f.poly(inkFill, true, -42, -21, -34, -24.5, -34, -17.5),
	}
}

// breaker is one breaker contact at distance v from the wire: a fixed
// contact on the live side, an arm pivoted on the plate side.
func breaker(f symFrame, v float64, open bool) []Item {
	tip, pad := v, -4.5
	if open {
		tip, pad = v-7, -3
	}
	return []Item{
		f.line(-24, v, -9, v, inkLine), f.line(-8, v-6, -8, v+6, inkThick),
		f.line(pad, tip-5.5, pad, tip+5.5, inkThick),
		f.line(pad, tip, 20, v, Style{Stroke: Ink, Width: 2.2}),
		f.circle(21, v, 3.2, inkBody),
	}
}

// cam is a lobed cam beside the arm.
func cam(f symFrame, v float64) []Item {
	sq := f.poly(Style{Stroke: Muted, Width: 1.5, Fill: Panel}, true, -1, v, 6, v-7, 13, v, 6, v+7)
	return []Item{sq, f.circle(6, v, 1.6, Style{Fill: Muted})}
}

func dualSymbol(f symFrame, open bool) []Item {
	items := cam(f, 22)
	items = append(items, breaker(f, 9, open)...)
	items = append(items, breaker(f, -9, open)...)
	return append(items,
		f.line(-25, -9, -25, 9, inkLine), f.line(-26, 0, -25, 0, inkLine),
		f.line(24, -9, 24, 9, inkLine), f.line(24, 0, 26, 0, inkLine))
}

// triggerSymbol is a box with a pickup that drives a transistor.
func triggerSymbol(f symFrame) []Item {
	const w = triggerHalfWidth
	return []Item{
		f.poly(inkBody, true, -28, -w, 28, -w, 28, w, -28, w),
		f.line(-28, 0, -15, 0, inkLine), f.line(-15, 0, -6, 9, inkLine),
		f.line(28, 0, 15, 0, inkLine), f.line(15, 0, 6, 9, inkLine),
		f.line(-11, 9, 11, 9, inkThick), f.line(0, 9, 0, 15, inkLine),
		f.poly(inkFill, true, 14.5, 0.5, 8.5, 0.5, 14.5, 6.5),
		f.poly(Style{Stroke: Ink, Width: 1.5, Fill: Panel}, true, -6, 15, 6, 15, 6, 22, -6, 22),
		f.line(-2, 15, -2, 22, Style{Stroke: Ink, Width: 1}),
	}
}

func condenserSymbol(f symFrame) []Item {
	return []Item{f.line(-4, -11, -4, 11, Style{Stroke: Ink, Width: 2.4}), f.line(4, -11, 4, 11, Style{Stroke: Ink, Width: 2.4})}
}

func fuseSymbol(f symFrame) []Item {
	return []Item{
		f.poly(inkBody, true, -15, -6, 15, -6, 15, 6, -15, 6),
		f.line(-15, 0, 15, 0, inkLine),
	}
}

// jointSymbol is two faces pressed together.
func jointSymbol(f symFrame) []Item {
	return []Item{f.line(-3, -9, -3, 9, inkThick), f.line(3, -9, 3, 9, inkThick), f.line(-4, 0, 4, 0, inkLine)}
}
