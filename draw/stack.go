package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// StackSpec is several charts above one another on one time axis, such as
// the current, the primary and the secondary voltage of one firing. What
// happens at a moment is marked through all of them.
type StackSpec struct {
	Title   string
	W       float64 // extent; 0 means 720, less than 240 is refused
	ChartH  float64 // height of each chart's field; 0 means 110
	X       Axis
	Charts  []StackChart // eight at most
	Moments []Moment
}

// StackChart is one chart of a stack.
type StackChart struct {
	Y      Axis
	Series []Series // four at most
	Limits []CurveLimit
}

// Moment is an instant worth a name; they stand in rising order.
type Moment struct {
	Name string // "plug breaks down"
	At   float64
}

// Stack draws the spec. An error is a *SpecError.
func Stack(spec StackSpec) (Scene, error) {
	if spec.W == 0 {
		spec.W = 720
	}
	if spec.ChartH == 0 {
		spec.ChartH = 110
	}
	if err := spec.check(); err != nil {
		return Scene{}, err
	}
	s := Scene{W: spec.W, Title: spec.Title}
	y := 20.0
	for _, l := range Wrap(spec.Title, 14, spec.W-24, true) {
		s.Items = append(s.Items, Text{X: 12, Y: y, S: l, Size: 14, Bold: true, Tone: Ink})
		y += 18
	}
	charts := make([]curveDrawing, len(spec.Charts))
	x0, xlo, xhi := 0.0, math.Inf(1), math.Inf(-1)
	ticksOf := make([][]tick, len(charts))
	for i, p := range spec.Charts {
		c := curveDrawing{CurveSpec: CurveSpec{W: spec.W, X: spec.X, Y: p.Y, Series: p.Series, Limits: p.Limits}, pre: "chart-" + strconv.Itoa(i) + "-"}
		c.v = c.Y
		lo, hi, ylo, yhi := c.reach()
		xlo, xhi = math.Min(xlo, lo), math.Max(xhi, hi)
		ticksOf[i] = c.v.settle(ylo, yhi, max(3, int(spec.ChartH/36)), true)
		x0 = math.Max(x0, gutter(ticksOf[i]))
		charts[i] = c
	}
	for _, m := range spec.Moments {
		xlo, xhi = math.Min(xlo, m.At), math.Max(xhi, m.At)
	}
	x := spec.X
	x1 := spec.W - 16
	xt := x.settle(xlo, xhi, max(3, int((x1-x0)/72)), false)
	var words []string
	for i := range charts {
		c := &charts[i]
		key, below := c.key(y + 4)
		s.Items = append(s.Items, key)
		y = below + 10
		s.Items = append(s.Items, Text{X: 12, Y: y, S: clip(c.Y.name(), 12, spec.W-24, false), Size: 12, Tone: Muted})
		y += 10
		if i == 0 && len(spec.Moments) > 0 {
			y += badgeSize + 4
		}
		c.field = field{h: x, v: c.v, x0: x0, x1: x1, y0: y, y1: y + spec.ChartH}
		c.level(&s, ticksOf[i])
		c.upright(&s, xt)
		if i == len(charts)-1 {
			c.foot(&s, xt)
		}
		c.frame(&s)
		c.lines(&s)
		y += spec.ChartH + 16
		words = append(words, c.words())
	}
	if len(charts) > 0 {
		y += 22
		spec.moments(&s, charts)
	}
	y = spec.list(&s, y+6)
	for i, m := range spec.Moments {
		words = append(words, fmt.Sprintf("Moment %d, %s, at %s.", i+1, m.Name, figure(m.At, spec.X.Unit)))
	}
	s.H = y
	s.Desc = strings.Join(words, " ")
	return s, nil
}

func (spec StackSpec) check() error {
	if !(spec.W >= 240 && spec.W <= 8000 && spec.ChartH >= 40 && spec.ChartH <= 4000) {
		return &SpecError{"extent", fmt.Sprintf("is %v wide with charts %v high; want 240 to 8000 and 40 to 4000", spec.W, spec.ChartH)}
	}
	if len(spec.Charts) > 8 {
		return &SpecError{"charts", fmt.Sprintf("are %d; want 8 at most", len(spec.Charts))}
	}
	for i, p := range spec.Charts {
		c := CurveSpec{W: 240, H: 140, X: spec.X, Y: p.Y, Series: p.Series, Limits: p.Limits}
		if err := c.check(); err != nil {
			e := err.(*SpecError)
			return &SpecError{fmt.Sprintf("charts[%d] %s", i, e.Where), e.What}
		}
	}
	for i, m := range spec.Moments {
		where := fmt.Sprintf("moments[%d] (%s)", i, m.Name)
		if !spec.X.takes(m.At) {
			return &SpecError{where, fmt.Sprintf("is at %v; want %s", m.At, spec.X.wants())}
		}
		if i > 0 && m.At < spec.Moments[i-1].At {
			return &SpecError{where, fmt.Sprintf("is at %v, before the one before it at %v; want rising order", m.At, spec.Moments[i-1].At)}
		}
	}
	return nil
}

// moments draws each moment through all charts and its number above the
// first; numbers that would cover one another share a sign, such as 2–3.
func (spec StackSpec) moments(s *Scene, charts []curveDrawing) {
	type sign struct {
		from, to int
		x        float64
	}
	var signs []sign
	text := func(g sign) string {
		if g.from == g.to {
			return strconv.Itoa(g.from)
		}
		return strconv.Itoa(g.from) + "–" + strconv.Itoa(g.to)
	}
	top := charts[0]
	for i, m := range spec.Moments {
		x := top.at(m.At, top.v.Lo).X
		if x < top.x0-0.5 || x > top.x1+0.5 {
			continue
		}
		for k := range charts {
			y0 := charts[k].y0
			if k == 0 {
				y0 -= 4
			}
			s.Items = append(s.Items, Line{x, y0, x, charts[k].y1, Style{Stroke: Ink, Width: 1.2, Dash: Dotted}})
		}
		signs = append(signs, sign{i + 1, i + 1, x})
		for n := len(signs); n > 1; n = len(signs) {
			a, b := signs[n-2], signs[n-1]
			if b.x-a.x >= (badgeWidth(text(a))+badgeWidth(text(b)))/2+1 {
				break
			}
			signs = append(signs[:n-2], sign{a.from, b.to, (a.x + b.x) / 2})
		}
	}
	for _, g := range signs {
		t := text(g)
		half := badgeWidth(t) / 2
		s.Items = append(s.Items, badge(t, math.Min(math.Max(g.x, half+1), spec.W-half-1), top.y0-4-badgeSize/2))
	}
}

// list names the moments under the charts and gives the y below it.
func (spec StackSpec) list(s *Scene, y float64) float64 {
	if len(spec.Moments) == 0 {
		return y
	}
	g := Group{Label: "Moments"}
	x := 12.0
	y += 12
	for i, m := range spec.Moments {
		n := strconv.Itoa(i + 1)
		room := spec.W - 24 - badgeWidth(n) - 6
		word := clip(m.Name+", "+figure(m.At, spec.X.Unit), 12, room, false)
		w := badgeWidth(n) + 6 + TextWidth(word, 12, false)
		if x > 12 && x+w > spec.W-12 {
			x = 12
			y += 20
		}
		g.Items = append(g.Items, badge(n, x+badgeWidth(n)/2, y-4), Text{X: x + badgeWidth(n) + 6, Y: y, S: word, Size: 12, Tone: Ink})
		x += w + 18
	}
	s.Items = append(s.Items, g)
	return y + 14
}
