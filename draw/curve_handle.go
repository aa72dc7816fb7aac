package draw

import "strconv"

const (
	mostHandles = 64
	// handleReach is the radius within which a finger takes a handle: WCAG
	// 2.2 asks for targets 24 CSS pixels wide at least (2.5.8) and 44 for
	// comfort (2.5.5).
	handleReach = 22.0
)

// CurveBox says where a chart's field lies in its scene and which values its
// edges stand for, so that a script turns places into values: on a linear
// axis x = X.Lo + (px-X0)/(X1-X0)*(X.Hi-X.Lo), and y falls from Y.Hi at Y0,
// the upper edge, to Y.Lo at Y1. On a logarithmic axis the same holds of
// their logarithms.
type CurveBox struct {
	X0, X1, Y0, Y1 float64 // user units
	X, Y           Axis    // with Lo and Hi settled
}

// CurvePlace is where Curve puts the field of the spec. An error is a
// *SpecError.
func CurvePlace(spec CurveSpec) (CurveBox, error) {
	c, _, err := layCurve(spec)
	if err != nil {
		return CurveBox{}, err
	}
	return CurveBox{c.x0, c.x1, c.y0, c.y1, c.h, c.v}, nil
}

// handleRing is what is seen of a handle.
func handleRing(x, y float64, t Tone) []Item {
	return []Item{
		Circle{X: x, Y: y, R: 7, Style: Style{Stroke: t, Width: 2.6, Fill: Panel}},
		Circle{X: x, Y: y, R: 2.2, Style: Style{Fill: t}},
	}
}

// handles draws the points of a line that can be moved, each as a slider.
func (c *curveDrawing) handles(s *Scene, i int) {
	r := c.Series[i]
	if !r.Handles {
		return
	}
	for k := range r.X {
		p := c.at(r.X[k], r.Y[k])
		if p.X < c.x0-0.5 || p.X > c.x1+0.5 || p.Y < c.y0-0.5 || p.Y > c.y1+0.5 {
			continue
		}
		text := figure(r.Y[k], c.Y.Unit) + " at " + figure(r.X[k], c.X.Unit)
		s.Items = append(s.Items, Group{
			ID:     c.pre + "series-" + string(rune('a'+i)) + "-" + strconv.Itoa(k),
			Label:  orWord(r.Name, "line") + ", point " + strconv.Itoa(k+1) + ": " + text,
			Slider: &Slider{Lo: c.v.Lo, Hi: c.v.Hi, Now: r.Y[k], Text: text},
			Items:  append([]Item{Circle{X: p.X, Y: p.Y, R: handleReach}}, handleRing(p.X, p.Y, seriesLooks[i].style.Stroke)...),
		})
	}
}
