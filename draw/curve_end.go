package draw

import (
	"math"
	"sort"
)

// widest is the width of the longest name of a line.
func (c *curveDrawing) widest() float64 {
	w := 0.0
	for _, r := range c.Series {
		w = math.Max(w, TextWidth(r.Name, 12, true))
	}
	return w
}

// endRoom is what names, or letters in their place, take right of the field.
func (c *curveDrawing) endRoom() float64 {
	if c.letters {
		return 40
	}
	return c.widest() + 32
}

// letter stands before a line's name in the legend where its end has no room
// for the name.
func (c *curveDrawing) letter(i int) string {
	if !c.letters {
		return ""
	}
	return string(rune('a'+i)) + "  "
}

// ends writes each line's name, or its letter, beside its last point in the
// field, kept apart from its neighbours and joined to the line by a stroke.
func (c *curveDrawing) ends(s *Scene) {
	type end struct {
		i    int
		from Point
		y    float64
	}
	var ends []end
	for i, r := range c.Series {
		last, ok := Point{X: math.Inf(-1)}, false
		for k := range r.X {
			p := c.at(r.X[k], r.Y[k])
			if p.X >= last.X && p.X <= c.x1+0.5 && p.X >= c.x0-0.5 && p.Y >= c.y0-0.5 && p.Y <= c.y1+0.5 {
				last, ok = p, true
			}
		}
		if ok {
			ends = append(ends, end{i, last, last.Y})
		}
	}
	sort.SliceStable(ends, func(a, b int) bool { return ends[a].y < ends[b].y })
	const apart = 15.0
	for i := range ends { // down from the top, then up from the foot
		ends[i].y = math.Max(ends[i].y, c.y0+6)
		if i > 0 {
			ends[i].y = math.Max(ends[i].y, ends[i-1].y+apart)
		}
	}
	floor := c.y1 - 6
	for i := len(ends) - 1; i >= 0; i-- {
		ends[i].y = math.Min(ends[i].y, floor)
		floor = ends[i].y - apart
	}
	for _, e := range ends {
		look := seriesLooks[e.i]
		name := c.Series[e.i].Name
		if c.letters {
			name = string(rune('a' + e.i))
		}
		x := c.x1 + 16
		lead := Style{Stroke: look.style.Stroke}
		if e.from.X < c.x1-1 { // not to be taken for more of the line
			lead = Style{Stroke: Muted, Dash: Dotted}
		}
		s.Items = append(s.Items,
			Polyline{Points: []Point{e.from, {math.Max(e.from.X, c.x1) + 4, e.from.Y}, {x - 4, e.y}}, Style: lead},
			Text{X: x, Y: e.y + 4, S: name, Size: 12, Bold: true, Tone: look.style.Stroke})
	}
}

// bars draws the interval of a line at places spread along the field, those
// of different lines beside one another.
func (c *curveDrawing) bars(s *Scene, i int) {
	r, n := c.Series[i], len(c.Series)
	if len(r.Lo) == 0 {
		return
	}
	every := math.Max(14*float64(n), (c.x1-c.x0)/12)
	next := c.x0 + every*(float64(i)+0.5)/float64(n)
	if r.NoLine && len(r.X) <= 24 { // readings: each has its own
		every, next = 0, c.x0-1
	}
	st := Style{Stroke: seriesLooks[i].style.Stroke, Width: 1.4}
	g := Group{ID: c.pre + "bars-" + string(rune('a'+i)), Label: r.Name + ", interval"}
	for k := range r.X {
		x := c.at(r.X[k], c.v.Lo).X
		last := k == len(r.X)-1
		if x < c.x0-0.5 || x > c.x1+0.5 || x < next && !(last && len(g.Items) == 0) {
			continue
		}
		next = x + every
		lo, hi := c.at(r.X[k], r.Lo[k]).Y, c.at(r.X[k], r.Hi[k]).Y
		top, foot := math.Max(hi, c.y0), math.Min(lo, c.y1)
		if top > foot {
			continue
		}
		bar := Path{Style: st}
		bar.MoveTo(x, top)
		bar.LineTo(x, foot)
		for _, e := range []struct{ at, want float64 }{{top, hi}, {foot, lo}} {
			if e.at == e.want { // no cap where the field cuts the bar
				bar.MoveTo(x-3.5, e.at)
				bar.LineTo(x+3.5, e.at)
			}
		}
		g.Items = append(g.Items, bar)
	}
	s.Items = append(s.Items, g)
}
