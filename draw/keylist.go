package draw

// Figure is a value as it is to be written, with its plus-or-minus, where it
// comes from and, where something must hold, whether it does. Without a Text
// there is no figure; a Mark may stand by itself.
type Figure struct {
	Text   string // "4.5° ± 1.5°"
	Origin Origin
	Mark   CellMark
}

func (f Figure) check(where string) error {
	if f.Origin >= originCount || f.Mark >= markCount {
		return &SpecError{where, "has a mark or an origin that does not exist"}
	}
	return nil
}

// words is the figure for a sentence.
func (f Figure) words() []string {
	var out []string
	if f.Text != "" {
		out = append(out, f.Text+" "+f.Origin.String())
	}
	if f.Mark != MarkNone {
		out = append(out, f.Mark.String())
	}
	return out
}

// keyRow is one line of the list below a picture: the letter by which a thing
// is known in the picture, its name and its figure.
type keyRow struct {
	id     string
	letter string
	name   string
	value  Figure
}

// keyWord is a row for a sentence.
func (k keyRow) words() string { return sentence(k.name, k.value.words()) }

// draw sets the row between left and right from y down, and gives the y below
// it. The figure stands at the right, on a line of its own where the name
// takes the first one; one that is too long even so is broken into lines.
func (k keyRow) draw(left, right, y float64) (Group, float64) {
	const size = 13.0
	g := Group{Label: k.words()}
	if k.id != "" {
		g.ID = "key-" + k.id
	}
	y += 16
	x := left
	if k.letter != "" {
		g.Items = append(g.Items, badge(k.letter, left+badgeWidth(k.letter)/2, y-4.5))
	}
	x += badgeSize + 7
	has := k.value.Text != "" || k.value.Mark != MarkNone
	items, end := figureEnd(right, y, k.value.Text, size, k.value.Text != "", k.value.Origin, k.value.Mark)
	alone := end < x // too long for one line
	room := right - x
	if has && !alone {
		room = end - x - 10
	}
	lines := Wrap(k.name, size, room, false)
	if has && !alone && (len(lines) > 1 || len(lines) == 1 && TextWidth(lines[0], size, false) > room) {
		lines = Wrap(k.name, size, right-x, false)
	} else if has && !alone {
		g.Items = append(g.Items, items...)
		has = false
	}
	for i, l := range lines {
		if i > 0 {
			y += 16
		}
		g.Items = append(g.Items, Text{X: x, Y: y, S: clip(l, size, right-x, false), Size: size, Tone: Ink})
	}
	switch {
	case has && !alone:
		y += 19
		items, _ = figureEnd(right, y, k.value.Text, size, k.value.Text != "", k.value.Origin, k.value.Mark)
		g.Items = append(g.Items, items...)
	case has:
		y += 19
		g.Items = append(g.Items, chip(k.value.Origin, x+chipSize/2, y-4.5))
		inner := x + chipSize + 6
		if k.value.Mark != MarkNone {
			right -= 24
			g.Items = append(g.Items, Mark(k.value.Mark, right+15, y-4.5, 18))
		}
		for i, l := range Wrap(glue(k.value.Text), size, right-inner, true) {
			if i > 0 {
				y += 16
			}
			g.Items = append(g.Items, Text{X: inner, Y: y, S: clip(l, size, right-inner, true), Size: size, Bold: true, Tone: Ink})
		}
	}
	return g, y + 6
}

// keyList sets rows below a picture from y down, in two columns where there
// is room, and gives the y below them.
func keyList(s *Scene, rows []keyRow, y float64) float64 {
	const between = 30.0
	columns := 1
	if s.W >= 900 {
		columns = 2
	}
	wide := (s.W - 24 - between*float64(columns-1)) / float64(columns)
	each := (len(rows) + columns - 1) / columns
	foot := y
	for c := range columns {
		at, left := y, 12+float64(c)*(wide+between)
		for i := c * each; i < min(len(rows), (c+1)*each); i++ {
			var g Group
			g, at = rows[i].draw(left, left+wide, at)
			s.Items = append(s.Items, g)
		}
		foot = max(foot, at)
	}
	return foot
}

// keyLetter is the sign of the i-th row: A to Z, then A1 and so on.
func keyLetter(i int) string {
	l := string(rune('A' + i%26))
	if i >= 26 {
		l += string(rune('0' + i/26%10))
	}
	return l
}

// heading writes the title from the top down and gives the y below it.
func heading(s *Scene) float64 {
	y := 20.0
	for _, l := range Wrap(s.Title, 14, s.W-24, true) {
		s.Items = append(s.Items, Text{X: 12, Y: y, S: clip(l, 14, s.W-24, true), Size: 14, Bold: true, Tone: Ink})
		y += 18
	}
	return y - 14
}
