package draw

import (
	"math"
	"strings"
)

// words is the chart in sentences.
func (c *curveDrawing) words() string {
	var out []string
	for _, r := range c.Series {
		name := r.Name
		if name == "" {
			name = "line"
		}
		if len(r.X) == 0 {
			out = append(out, sentence(name, []string{"no points"}))
			continue
		}
		lo, hi := 0, 0
		xlo, xhi := r.X[0], r.X[0]
		for i, v := range r.Y {
			if v < r.Y[lo] {
				lo = i
			}
			if v > r.Y[hi] {
				hi = i
			}
			xlo, xhi = math.Min(xlo, r.X[i]), math.Max(xhi, r.X[i])
		}
		switch r.Going {
		case 1:
			name += ", going up"
		case -1:
			name += ", going down"
		}
		over := c.X.Label
		if over == "" {
			over = "x"
		}
		word := func(i int) string {
			if len(r.Lo) == 0 {
				return figure(r.Y[i], c.Y.Unit)
			}
			return figure(r.Y[i], "") + " (" + figure(r.Lo[i], "") + " to " + figure(r.Hi[i], "") + ") " + c.Y.Unit
		}
		facts := []string{
			r.Origin.String(),
			over + " from " + figure(xlo, "") + " to " + figure(xhi, c.X.Unit),
			"lowest " + word(lo) + " at " + figure(r.X[lo], c.X.Unit),
			"highest " + word(hi) + " at " + figure(r.X[hi], c.X.Unit),
		}
		if len(r.X) <= 12 {
			var pts []string
			for i := range r.X {
				pts = append(pts, word(i)+" at "+figure(r.X[i], c.X.Unit))
			}
			facts = append(facts[:2], pts...)
		}
		out = append(out, sentence(name, facts))
	}
	if b := c.Band; len(b.X) > 0 {
		n := len(b.X) - 1
		out = append(out, sentence(b.Name, []string{
			"from " + figure(b.Lo[0], "") + " to " + figure(b.Hi[0], c.Y.Unit) + " at " + figure(b.X[0], c.X.Unit),
			"from " + figure(b.Lo[n], "") + " to " + figure(b.Hi[n], c.Y.Unit) + " at " + figure(b.X[n], c.X.Unit),
		}))
	}
	for _, l := range c.Limits {
		name, w := l.Name, l.words(c.Y.Unit)
		if name == "" {
			name = "limit"
		}
		if w == "" {
			w = figure(l.At, c.Y.Unit)
		}
		out = append(out, sentence(name, []string{w}))
	}
	for _, p := range c.Spans {
		out = append(out, sentence(p.Name, []string{figure(p.From, "") + " to " + figure(p.To, c.X.Unit)}))
	}
	return strings.Join(out, " ")
}
