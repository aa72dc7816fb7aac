package draw

import (
	"fmt"
	"math"
	"testing"
)

// laid is a scene taken apart for looking at what lies on what. Each piece
// knows the innermost group it belongs to: a tag, a symbol or a sign may have
// its own words inside.
type laid struct {
	texts   []laidText
	tags    []laidTag
	strokes []laidStroke
}

type laidText struct {
	box   Box
	s     string
	group int
}

type laidTag struct {
	box   Box
	group int
}

type laidStroke struct {
	a, b  Point
	half  float64
	group int
}

// sameGroup reports whether two pieces are parts of one sign; 0 is no group.
func sameGroup(a, b int) bool { return a == b && a != 0 }

func takeApart(items []Item) *laid {
	l := &laid{}
	n := 0
	l.walk(items, 0, -1, &n)
	return l
}

// walk numbers groups; inside a tag every piece counts as the tag's own.
func (l *laid) walk(items []Item, group, tag int, n *int) {
	own := group
	if tag >= 0 {
		own = tag
	}
	outline := func(s Style, closed bool, pts ...Point) {
		if s.Stroke == None && s.Fill == None {
			return
		}
		half := 0.0
		if s.Stroke != None {
			half = math.Max(s.Width, 1) / 2
		}
		for i := 1; i < len(pts); i++ {
			l.strokes = append(l.strokes, laidStroke{pts[i-1], pts[i], half, own})
		}
		if closed {
			l.strokes = append(l.strokes, laidStroke{pts[len(pts)-1], pts[0], half, own})
		}
	}
	for _, it := range items {
		switch v := it.(type) {
		case Line:
			outline(v.Style, false, Point{v.X1, v.Y1}, Point{v.X2, v.Y2})
		case Polyline:
			outline(v.Style, v.Closed, v.Points...)
		case Rect:
			outline(v.Style, true, Point{v.X, v.Y}, Point{v.X + v.W, v.Y}, Point{v.X + v.W, v.Y + v.H}, Point{v.X, v.Y + v.H})
		case Circle:
			var pts []Point
			for i := range 24 {
				a := float64(i) * math.Pi / 12
				pts = append(pts, Point{v.X + v.R*math.Cos(a), v.Y + v.R*math.Sin(a)})
			}
			outline(v.Style, true, pts...)
		case Path:
			for _, pts := range flatten(v) {
				outline(v.Style, false, pts...)
			}
		case Text:
			l.texts = append(l.texts, laidText{v.Bounds(), v.S, own})
		case Group:
			*n++
			g, t := *n, tag
			if v.Role == "presentation" {
				t = g
				r := v.Items[0].(Rect)
				l.tags = append(l.tags, laidTag{Box{Point{r.X, r.Y}, Point{r.X + r.W, r.Y + r.H}}, g})
			}
			l.walk(v.Items, g, t, n)
		}
	}
}

// flatten turns a path into polylines, eight points to a curve.
func flatten(p Path) [][]Point {
	var out [][]Point
	var cur []Point
	for _, s := range p.Segs {
		switch s.Op {
		case MoveTo:
			if len(cur) > 1 {
				out = append(out, cur)
			}
			cur = []Point{s.P[0]}
		case LineTo:
			cur = append(cur, s.P[0])
		case CubicTo:
			a := cur[len(cur)-1]
			for i := 1; i <= 8; i++ {
				t := float64(i) / 8
				u := 1 - t
				mix := func(a, b, c, d float64) float64 {
					return u*u*u*a + 3*u*u*t*b + 3*u*t*t*c + t*t*t*d
				}
				cur = append(cur, Point{mix(a.X, s.P[0].X, s.P[1].X, s.P[2].X), mix(a.Y, s.P[0].Y, s.P[1].Y, s.P[2].Y)})
			}
		case Close:
			cur = append(cur, cur[0])
		}
	}
	if len(cur) > 1 {
		out = append(out, cur)
	}
	return out
}

// crosses reports whether the stroke enters the box.
func (s *laidStroke) crosses(b Box) bool {
	if max(s.a.X, s.b.X)+s.half < b.Min.X || min(s.a.X, s.b.X)-s.half > b.Max.X ||
		max(s.a.Y, s.b.Y)+s.half < b.Min.Y || min(s.a.Y, s.b.Y)-s.half > b.Max.Y {
		return false
	}
	b.Min.X -= s.half
	b.Min.Y -= s.half
	b.Max.X += s.half
	b.Max.Y += s.half
	lo, hi := 0.0, 1.0
	clip := func(p, d, min, max float64) bool {
		if d == 0 {
			return p > min && p < max
		}
		t0, t1 := (min-p)/d, (max-p)/d
		if t0 > t1 {
			t0, t1 = t1, t0
		}
		lo, hi = math.Max(lo, t0), math.Min(hi, t1)
		return true
	}
	return clip(s.a.X, s.b.X-s.a.X, b.Min.X, b.Max.X) && clip(s.a.Y, s.b.Y-s.a.Y, b.Min.Y, b.Max.Y) && lo < hi
}

// checkLaid reports whatever lies on something else or outside the scene.
func checkLaid(t *testing.T, name string, s Scene) {
	t.Helper()
	for _, f := range clashes(s) {
		t.Errorf("%s: %s", name, f)
	}
}

func clashes(s Scene) []string {
	l := takeApart(s.Items)
	var out []string
	say := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	at := func(b Box) string { return fmt.Sprintf("at (%.0f, %.0f)", b.Min.X, b.Min.Y) }
	inside := func(b Box) bool {
		return b.Min.X >= 0 && b.Min.Y >= 0 && b.Max.X <= s.W && b.Max.Y <= s.H
	}
	for i, a := range l.texts {
		if !inside(a.box) {
			say("text %q %s leaves the scene", a.s, at(a.box))
		}
		for _, b := range l.texts[i+1:] {
			if a.box.Overlaps(b.box) {
				say("text %q %s lies on text %q %s", a.s, at(a.box), b.s, at(b.box))
			}
		}
		for _, b := range l.tags {
			if !sameGroup(a.group, b.group) && a.box.Overlaps(b.box) {
				say("text %q %s lies on a tag %s", a.s, at(a.box), at(b.box))
			}
		}
		for k := range l.strokes {
			b := &l.strokes[k]
			if b.crosses(a.box) && !sameGroup(a.group, b.group) {
				say("text %q %s is crossed by a stroke from (%.0f, %.0f) to (%.0f, %.0f)", a.s, at(a.box), b.a.X, b.a.Y, b.b.X, b.b.Y)
				break
			}
		}
	}
	for i, a := range l.tags {
		if !inside(a.box) {
			say("tag %s leaves the scene", at(a.box))
		}
		for _, b := range l.tags[i+1:] {
			if a.box.Overlaps(b.box) {
				say("tag %s lies on tag %s", at(a.box), at(b.box))
			}
		}
		for k := range l.strokes {
			b := &l.strokes[k]
			if b.crosses(a.box) && !sameGroup(a.group, b.group) {
				say("tag %s is crossed by a stroke from (%.0f, %.0f) to (%.0f, %.0f)", at(a.box), b.a.X, b.a.Y, b.b.X, b.b.Y)
				break
			}
		}
	}
	for _, a := range l.strokes {
		for _, p := range []Point{a.a, a.b} {
			if p.X < 0 || p.Y < 0 || p.X > s.W || p.Y > s.H {
				say("a stroke at (%.0f, %.0f) leaves the scene", p.X, p.Y)
			}
		}
	}
	return out
}

// TestClashesAreSeen makes sure the judge above can say no.
func TestClashesAreSeen(t *testing.T) {
	word := func(x, y float64) Text { return Text{X: x, Y: y, S: "word", Size: 12, Tone: Ink} }
	tag := Group{Role: "presentation", Items: []Item{Rect{X: 10, Y: 10, W: 50, H: 20, Style: Style{Stroke: Ink}}, word(14, 24)}}
	for name, items := range map[string][]Item{
		"text on text":   {word(10, 50), word(20, 52)},
		"text on tag":    {tag, word(55, 24)},
		"wire over text": {word(10, 50), Line{0, 46, 90, 46, Style{Stroke: Ink}}},
		"wire over tag":  {tag, Line{5, 28, 90, 28, Style{Stroke: Ink}}},
		"off the scene":  {word(90, 50)},
	} {
		if len(clashes(Scene{W: 100, H: 100, Items: items})) == 0 {
			t.Errorf("%s goes unseen", name)
		}
	}
	if got := clashes(Scene{W: 100, H: 100, Items: []Item{tag, word(10, 60), Line{0, 80, 90, 80, Style{Stroke: Ink}}}}); len(got) != 0 {
		t.Errorf("a clean scene is refused: %v", got)
	}
}
