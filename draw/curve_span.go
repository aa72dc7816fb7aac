package draw

import (
	"fmt"
	"strconv"
)

// Span is a named stretch of the x axis, such as driving or heat soak.
type Span struct {
	Name     string
	From, To float64
}

func (spec CurveSpec) checkSpans() error {
	for i, p := range spec.Spans {
		where := fmt.Sprintf("spans[%d] (%s)", i, p.Name)
		if !spec.X.takes(p.From) || !spec.X.takes(p.To) || p.To <= p.From {
			return &SpecError{where, fmt.Sprintf("runs from %v to %v; want %s in rising order", p.From, p.To, spec.X.wants())}
		}
		if i > 0 && p.From < spec.Spans[i-1].To {
			return &SpecError{where, fmt.Sprintf("begins at %v, before %v, where the one before it ends", p.From, spec.Spans[i-1].To)}
		}
	}
	return nil
}

// spanRoom is the height the names of the spans take above the field.
func (c *curveDrawing) spanRoom() float64 {
	if len(c.Spans) == 0 {
		return 0
	}
	return 20
}

// numbered reports whether some span is too narrow for its name, by an
// estimate of the field's width that errs to the narrow side; all are then
// numbered and named in the legend.
func (c *curveDrawing) numbered() bool {
	if len(c.Spans) == 0 {
		return false
	}
	a := c.X
	xlo, xhi, _, _ := c.reach()
	a.settle(xlo, xhi, 5, false)
	wide := c.W - 80
	if c.Direct {
		wide -= c.endRoom()
	}
	for _, p := range c.Spans {
		from, to := max(a.part(p.From), 0), min(a.part(p.To), 1)
		if to > from && (to-from)*wide < TextWidth(p.Name, 12, false)+8 {
			return true
		}
	}
	return false
}

// shade fills every other span and names each above the field.
func (c *curveDrawing) shade(s *Scene) {
	numbered := c.numbered()
	for i, p := range c.Spans {
		x0, x1 := max(c.at(p.From, c.v.Lo).X, c.x0), min(c.at(p.To, c.v.Lo).X, c.x1)
		if x1 <= x0 {
			continue
		}
		g := Group{ID: c.pre + "span-" + strconv.Itoa(i), Label: p.Name}
		if i%2 == 0 {
			g.Items = append(g.Items, Rect{X: x0, Y: c.y0 - 20, W: x1 - x0, H: c.y1 - c.y0 + 20, Style: Style{Fill: Shade}})
		}
		edge := Style{Stroke: Muted, Dash: Dotted}
		g.Items = append(g.Items, Line{x0, c.y0 - 20, x0, c.y1, edge}, Line{x1, c.y0 - 20, x1, c.y1, edge})
		if n := strconv.Itoa(i + 1); !numbered {
			g.Items = append(g.Items, Text{X: (x0 + x1) / 2, Y: c.y0 - 6, S: p.Name, Size: 12, Anchor: Middle, Tone: Ink})
		} else if badgeWidth(n)+2 < x1-x0 {
			g.Items = append(g.Items, badge(n, (x0+x1)/2, c.y0-10))
		}
		s.Items = append(s.Items, g)
	}
}
