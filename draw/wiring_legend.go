package draw

// legend explains the signs the picture uses and gives the y at which it
// ends.
func (d *wiringDrawing) legend() (Group, float64) {
	x0, x1, y := d.g.legend.Min.X, d.g.legend.Max.X, d.g.legend.Min.Y
	g := Group{ID: "legend", Label: "Legend"}
	g.Items = append(g.Items, Line{x0, y, x1, y, Style{Stroke: Faint}})
	y += 16

	if d.meter != 0 {
		p := d.spec.Parts[d.meter-1]
		s := d.partWords(p)
		for _, l := range Wrap(s, labelSize, x1-x0, false) {
			g.Items = append(g.Items, Text{X: x0, Y: y + 4, S: l, Size: labelSize, Bold: false, Tone: Ink})
			y += d.g.lineH + 1
		}
		y += 4
	}

	x := x0
	put := func(sign func(x, y float64) []Item, signW float64, word string) {
		w := signW + 5 + TextWidth(word, labelSize, false)
		if x > x0 && x+w > x1 {
			x = x0
			y += 20
		}
		g.Items = append(g.Items, sign(x+signW/2, y)...)
		g.Items = append(g.Items, Text{X: x + signW + 5, Y: y + 4, S: word, Size: labelSize, Tone: Ink})
		x += w + 16
	}
	origins, marks := d.signsUsed()
	for o := originCount; o > 0; o-- {
		if o := o - 1; origins[o] {
			put(func(x, y float64) []Item { return []Item{chip(o, x, y)} }, chipSize, o.String())
		}
	}
	for m := MarkHolds; m < markCount; m++ {
		if marks[m] {
			put(func(x, y float64) []Item { return []Item{Mark(m, x, y, 16)} }, 16, m.String())
		}
	}
	sample := func(s Style) func(x, y float64) []Item {
		return func(x, y float64) []Item { return []Item{Line{x - 12, y, x + 12, y, s}} }
	}
	var hasNew, hasMissing, hasControl bool
	for _, w := range d.ways {
		p := d.spec.Parts[w.part]
		hasNew = hasNew || p.New
		hasMissing = hasMissing || p.Missing
		hasControl = hasControl || (w.home.tone == WireControl && !p.Missing) || p.Kind == Relay
	}
	put(sample(Style{Stroke: WireLive, Width: feedW}), 24, "live side")
	put(sample(Style{Stroke: Wire, Width: leadW}), 24, "switched side")
	put(sample(Style{Stroke: WireEarth, Width: feedW}), 24, "return side")
	if hasControl {
		put(sample(Style{Stroke: WireControl, Width: controlW}), 24, "bypass, feed or relay wire")
	}
	if hasNew {
		put(func(x, y float64) []Item {
			return []Item{Line{x - 12, y, x + 12, y, Style{Stroke: Accent, Width: 5.5}}, Line{x - 12, y, x + 12, y, Style{Stroke: Panel, Width: 2.2}}}
		}, 24, "new wire")
	}
	if hasMissing {
		put(sample(Style{Stroke: Muted, Width: 1.6, Dash: Dashed}), 24, "not connected")
	}
	if d.red != 0 {
		put(func(x, y float64) []Item { return []Item{redRing(x, y, 7)} }, 18, "red lead")
		put(func(x, y float64) []Item { return []Item{blackBox(x, y, 7)} }, 18, "black lead")
	}
	if d.clamp != 0 {
		put(func(x, y float64) []Item {
			return []Item{Circle{X: x, Y: y, R: 7, Style: Style{Stroke: Accent, Width: 3}}}
		}, 18, "clamp")
	}
	return g, y + 8
}

// signsUsed says which origins and states appear in the picture.
func (d *wiringDrawing) signsUsed() (origins [originCount]bool, marks [markCount]bool) {
	for _, n := range d.spec.Nodes {
		if n.Value != "" {
			origins[n.Origin] = true
		}
		marks[n.Mark] = true
	}
	for _, p := range d.spec.Parts {
		if p.Value != "" && p.Kind != Meter {
			origins[p.Origin] = true
		}
	}
	return origins, marks
}
