package draw

import "math"

// outside draws what stands around the housing: obstacles hatched, the can,
// and in broken lines the can's place after the turn.
func (d *topDrawing) outside() {
	for i, o := range d.Obstacles {
		id := d.obstacleID(i)
		d.add(id, d.rowWords(id),
			d.p.sector(d.rim, d.rim+topBand, o.From, o.To, Style{Stroke: Short, Width: 1.4}),
			d.p.hatch(d.rim, d.rim+topBand, o.From, o.To, 8, Style{Stroke: Short}))
	}
	c := d.Can
	if c == nil {
		return
	}
	can := func(by float64, st Style) []Item {
		mid := (c.From+c.To)/2 + by
		items := []Item{d.p.sector(d.rim, d.rim+topBand, c.From+by, c.To+by, st)}
		if r := d.HousingRadiusM * d.scale; r >= d.number+topNumber+2 {
			st.Fill = None
			w := 4 / d.rim * 180 / math.Pi
			items = append(items, lineBetween(d.p.at(r, mid-w), d.p.at(d.rim, mid-w), st), lineBetween(d.p.at(r, mid+w), d.p.at(d.rim, mid+w), st))
		}
		return items
	}
	d.add("can", d.rowWords("can"), can(0, Style{Stroke: Ink, Width: 1.8, Fill: Panel})...)
	if t := d.Turn; t != nil {
		d.add("can-new", d.rowWords("can-new"), can(t.To-t.From, Style{Stroke: Accent, Width: 1.8, Dash: Dashed})...)
	}
}

// inside draws what lies below the rotor: ring or cam, trigger, pivot.
func (d *topDrawing) inside() {
	if g := d.Ring; g != nil {
		d.add("ring", d.rowWords("ring"), d.ring(g)...)
	}
	if t := d.Trigger; t != nil {
		r, w, deep := t.RadiusM*d.scale, t.WidthM*d.scale/2, t.DepthM*d.scale
		s, c := math.Sincos(t.Angle * math.Pi / 180)
		at := func(u, v float64) Point { return Point{d.p.x + u*s + v*c, d.p.y - u*c + v*s} } // outwards, across
		d.add("trigger", d.rowWords("trigger"),
			Polyline{Closed: true, Style: Style{Stroke: SeriesC, Width: 1.6, Fill: Panel}, Points: []Point{at(r, -w), at(r, w), at(r+deep, w), at(r+deep, -w)}},
			lineBetween(at(r, -w), at(r, w), Style{Stroke: SeriesC, Width: 3}))
	}
	if p := d.Pivot; p != nil {
		c := d.p.at(p.RadiusM*d.scale, p.Angle)
		d.add("pivot", d.rowWords("pivot"),
			Circle{X: c.X, Y: c.Y, R: 5, Style: Style{Stroke: Ink, Width: 1.6, Fill: Panel}},
			Line{c.X - 5, c.Y, c.X + 5, c.Y, Style{Stroke: Ink}}, Line{c.X, c.Y - 5, c.X, c.Y + 5, Style{Stroke: Ink}})
	}
}

// ring is magnets on a ring, filled and open by turns where they alternate,
// or the outline of a cam.
func (d *topDrawing) ring(g *TopRing) []Item {
	r := g.RadiusM * d.scale
	st := Style{Stroke: Ink, Width: 1.2, Fill: Panel}
	least := 360.0
	for i, a := range g.Angles {
		for _, b := range g.Angles[:i] {
			least = math.Min(least, apart(a, b))
		}
	}
	if g.Lobes {
		// Each lobe is a smooth rise of an eighth of the radius over 0.9 of
		// the way to its nearest neighbour.
		cam := Polyline{Closed: true, Style: st}
		wide := 0.45 * math.Min(least, 120)
		for k := range 240 {
			a, rise := 1.5*float64(k), 0.0
			for _, l := range g.Angles {
				if off := apart(a, l); off < wide {
					rise = math.Max(rise, 0.5+0.5*math.Cos(math.Pi*off/wide))
				}
			}
			cam.Points = append(cam.Points, d.p.at(r*(0.875+0.125*rise), a))
		}
		return []Item{cam}
	}
	items := []Item{
		Circle{X: d.p.x, Y: d.p.y, R: r, Style: st},
		Circle{X: d.p.x, Y: d.p.y, R: 0.62 * r, Style: Style{Stroke: Ink, Width: 0.8}},
	}
	half := math.Min(0.36*least, 14)
	for i, a := range g.Angles {
		m := Style{Stroke: Ink, Width: 0.8, Fill: Muted}
		if g.Alternating && i%2 == 1 {
			m.Fill = Panel
		}
		items = append(items, d.p.sector(0.7*r, r, a-half, a+half, m))
	}
	return items
}

// rotor draws the rotor as the spark jumps, before it in dotted outline the
// rotor at full vacuum, and the way between the two.
func (d *topDrawing) rotor() {
	r := d.Rotor
	tip := r.TipRadiusM * d.scale
	if f := d.Full; f != nil {
		d.add("rotor-full", d.rowWords("rotor-full"), d.blade(f.Angle, Style{Stroke: Accent, Width: 1.6, Dash: Dotted}))
		way := turn360(f.Angle - r.Angle)
		if way > 180 {
			way -= 360
		}
		if way != 0 {
			d.add("sweep", "the way from rest to full vacuum, "+degrees(math.Abs(way)), d.p.arrow(0.8*tip, r.Angle, r.Angle+way, Style{Stroke: Accent, Width: 1.6})...)
		}
	}
	half := r.TipWidthM / r.TipRadiusM * 90 / math.Pi
	d.add("rotor", d.rowWords("rotor"),
		d.blade(r.Angle, Style{Stroke: Ink, Width: 1.6, Fill: Panel}),
		d.p.sector(0.93*tip, tip, r.Angle-half, r.Angle+half, Style{Fill: SeriesB}),
		Circle{X: d.p.x, Y: d.p.y, R: 0.2 * tip, Style: Style{Stroke: Ink, Width: 1.6, Fill: Panel}},
		Circle{X: d.p.x, Y: d.p.y, R: 0.09 * tip, Style: Style{Fill: Ink}})
}

// blade is the outline from the hub to the tip's face, the face an arc.
func (d *topDrawing) blade(angle float64, st Style) Path {
	r := d.Rotor
	tip := r.TipRadiusM * d.scale
	half := r.TipWidthM / r.TipRadiusM * 90 / math.Pi
	p := Path{Style: st}
	d.p.arc(&p, tip, angle-half, angle+half)
	w := math.Min(math.Max(0.3*r.TipWidthM*d.scale, 2.5), 0.15*tip)
	hub := 0.16 * tip
	lean := math.Atan2(w, hub) * 180 / math.Pi
	a, b := d.p.at(math.Hypot(hub, w), angle+lean), d.p.at(math.Hypot(hub, w), angle-lean)
	p.LineTo(a.X, a.Y)
	p.LineTo(b.X, b.Y)
	p.Close()
	return p
}
