package draw

import "math"

// field is the rectangle of a picture that values are drawn in, with both
// axes settled.
type field struct {
	h, v           Axis // horizontal and vertical
	x0, x1, y0, y1 float64
}

// at is where a pair of values stands in the scene.
func (f *field) at(x, y float64) Point {
	return Point{f.x0 + f.h.part(x)*(f.x1-f.x0), f.y1 - f.v.part(y)*(f.y1-f.y0)}
}

// part is how far along the axis a value stands, 0 at Lo and 1 at Hi. A
// value without a logarithm stands far before the beginning.
func (a Axis) part(v float64) float64 {
	if !a.Log {
		return (v - a.Lo) / (a.Hi - a.Lo)
	}
	if v <= 0 {
		return -1e3
	}
	return math.Max(-1e3, math.Log(v/a.Lo)/math.Log(a.Hi/a.Lo))
}

// tick is a mark on an axis with what stands beside it.
type tick struct {
	at    float64
	label string
}

// settle gives the axis its ends from what is drawn, lo to hi, unless it has
// them, and its ticks, about n. With round an open end is moved to a tick.
func (a *Axis) settle(lo, hi float64, n int, round bool) []tick {
	open := a.Lo == a.Hi
	if lo > hi {
		lo, hi = 0, 1
		if a.Log {
			lo = 0.1
		}
	}
	if !open {
		lo, hi = a.Lo, a.Hi
	}
	if a.Log {
		return a.settleLog(lo, hi, n, open)
	}
	ts, step := ticks(lo, hi, n)
	switch {
	case open && (round || lo == hi):
		a.Lo, a.Hi = ts[0], ts[len(ts)-1]
	case open:
		a.Lo, a.Hi = lo, hi
	}
	var out []tick
	for _, t := range inside(ts, a.Lo, a.Hi) {
		out = append(out, tick{t, tickLabel(t, step)})
	}
	return out
}

// settleLog is settle for a logarithmic axis: ticks at powers of ten, and at
// 2 and 5 times these where there is room.
func (a *Axis) settleLog(lo, hi float64, n int, open bool) []tick {
	low, high := math.Floor(math.Log10(lo)+1e-9), math.Ceil(math.Log10(hi)-1e-9)
	if high <= low {
		high = low + 1
	}
	if open {
		a.Lo, a.Hi = math.Pow(10, low), math.Pow(10, high)
	}
	steps, every := []float64{1, 2, 5}, 1
	decades := math.Log10(a.Hi / a.Lo)
	if decades*3 > float64(n)*1.5 {
		steps = []float64{1}
		every = max(1, int(math.Ceil(decades/float64(n))))
	}
	var out []tick
	for k := 0; k <= int(high-low); k += every {
		for _, s := range steps {
			t := s * math.Pow(10, low+float64(k))
			if t >= a.Lo*(1-1e-9) && t <= a.Hi*(1+1e-9) {
				out = append(out, tick{t, figure(t, "")})
			}
		}
	}
	return out
}

// gutter is the room the figures of a vertical axis take.
func gutter(ts []tick) float64 {
	wide := 0.0
	for _, t := range ts {
		wide = math.Max(wide, TextWidth(t.label, 12, false))
	}
	return 12 + wide + 8
}

// level draws the vertical axis's lines and figures.
func (f *field) level(s *Scene, ts []tick) {
	for _, t := range ts {
		p := f.at(f.h.Lo, t.at)
		s.Items = append(s.Items,
			Line{f.x0, p.Y, f.x1, p.Y, Style{Stroke: Faint}},
			Text{X: f.x0 - 7, Y: p.Y + 4, S: t.label, Size: 12, Anchor: End, Tone: Muted})
	}
}

// upright draws the horizontal axis's lines across the field.
func (f *field) upright(s *Scene, ts []tick) {
	for _, t := range ts {
		x := f.at(t.at, f.v.Lo).X
		s.Items = append(s.Items, Line{x, f.y0, x, f.y1, Style{Stroke: Faint}})
	}
}

// foot draws the horizontal axis's ticks, figures and name, which take 34
// units below the field.
func (f *field) foot(s *Scene, ts []tick) {
	last := math.Inf(-1)
	for _, t := range ts {
		x := f.at(t.at, f.v.Lo).X
		s.Items = append(s.Items, Line{x, f.y1, x, f.y1 + 4, Style{Stroke: Muted}})
		l := Text{X: x, Y: f.y1 + 16, S: t.label, Size: 12, Anchor: Middle, Tone: Muted}
		if b := l.Bounds(); b.Max.X > s.W-2 {
			l.X -= b.Max.X - s.W + 2
		}
		if b := l.Bounds(); b.Min.X > last+2 {
			s.Items = append(s.Items, l)
			last = b.Max.X
		}
	}
	s.Items = append(s.Items, Text{X: f.x1, Y: f.y1 + 32, S: clip(f.h.name(), 12, f.x1-12, false), Size: 12, Anchor: End, Tone: Muted})
}

// frame draws the two axes themselves.
func (f *field) frame(s *Scene) {
	s.Items = append(s.Items, Polyline{Points: []Point{{f.x0, f.y0}, {f.x0, f.y1}, {f.x1, f.y1}}, Style: Style{Stroke: Muted, Width: 1.4}})
}

// badge is a number or letter in a filled, rounded sign centred on (x, y), as
// wide as its text needs.
func badge(s string, x, y float64) Group {
	w := badgeWidth(s)
	return Group{Items: []Item{
		Rect{X: x - w/2, Y: y - badgeSize/2, W: w, H: badgeSize, R: badgeSize / 2, Style: Style{Fill: Ink}},
		Text{X: x, Y: y + 4, S: s, Size: 11, Anchor: Middle, Bold: true, Tone: Panel},
	}}
}

const badgeSize = 16.0

func badgeWidth(s string) float64 { return math.Max(badgeSize, TextWidth(s, 11, true)+7) }
