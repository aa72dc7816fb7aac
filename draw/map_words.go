package draw

import (
	"fmt"
	"math"
	"strings"
)

// key explains the figure, the bands and the patterns above the map.
func (m *mapDrawing) key(y float64) (Group, float64) {
	g := Group{Label: "Legend"}
	right := m.W - 12
	head := m.Value
	if w := m.Limit.words(m.Unit); w != "" {
		head = strings.TrimPrefix(head+"; limit "+strings.ReplaceAll(w, " ", "\u00a0"), "; ")
	}
	lines := Wrap(head, 12, right-12-chipSize-6, false)
	for i, l := range lines {
		g.Items = append(g.Items, Text{X: 12, Y: y, S: l, Size: 12, Tone: Ink})
		if i == len(lines)-1 {
			g.Items = append(g.Items, chip(m.Origin, 12+TextWidth(l, 12, false)+6+chipSize/2.0, y-4))
		}
		y += 18
	}
	y += 2
	x := 12.0
	const sw, sh = 30.0, 15.0
	put := func(fill Tone, word string, over func(x, y float64) []Item) {
		w := sw + 6 + TextWidth(word, 12, false)
		if x > 12 && x+w > right {
			x = 12
			y += 21
		}
		g.Items = append(g.Items, Rect{X: x, Y: y - 12, W: sw, H: sh, Style: Style{Stroke: Muted, Fill: fill}})
		if over != nil {
			g.Items = append(g.Items, over(x, y-12)...)
		}
		g.Items = append(g.Items, Text{X: x + sw + 6, Y: y, S: word, Size: 12, Tone: Ink})
		x += w + 16
	}
	slant := func(x, y float64) []Item {
		p := Path{Style: Style{Stroke: Short}}
		for _, c := range scan([][]Point{{{x, y}, {x + sw, y}, {x + sw, y + sh}, {x, y + sh}}}, Point{math.Sqrt2 / 2, -math.Sqrt2 / 2}, 7, 1.5) {
			p.MoveTo(c[0].X, c[0].Y)
			p.LineTo(c[1].X, c[1].Y)
		}
		return []Item{p}
	}
	for b := 0; b <= len(m.levels); b++ {
		word, over := m.bandWords(b), (func(x, y float64) []Item)(nil)
		if m.short(b) {
			word += ", falls short"
			over = slant
		}
		put(m.tone(b), word, over)
	}
	if m.Limit.Side != NoLimit && m.PM != nil {
		put(Panel, "doubtful: the limit lies within plus-or-minus", func(x, y float64) []Item {
			p := Path{Style: Style{Stroke: Doubtful, Width: 2.4}}
			for _, d := range [][2]float64{{5, 4}, {13, 4}, {21, 4}, {9, 11}, {17, 11}, {25, 11}} {
				p.MoveTo(x+d[0]-1.2, y+d[1])
				p.LineTo(x+d[0]+1.2, y+d[1])
			}
			return []Item{p}
		})
	}
	if m.unanswered() > 0 {
		put(Back, "no answer", func(x, y float64) []Item {
			p := Path{Style: Style{Stroke: Muted}}
			for _, c := range []float64{8, 22} {
				for _, d := range []float64{-2.5, 2.5} {
					p.MoveTo(x+c-2.5, y+sh/2-d)
					p.LineTo(x+c+2.5, y+sh/2+d)
				}
			}
			return []Item{p}
		})
	}
	return g, y + 12
}

// unanswered is the part of the grid that has no answer.
func (m *mapDrawing) unanswered() float64 {
	n := 0
	for _, row := range m.known {
		for _, k := range row {
			if !k {
				n++
			}
		}
	}
	return float64(n) / float64(len(m.Xs)*len(m.Ys))
}

// words is the map in sentences.
func (m *mapDrawing) words() string {
	var out []string
	name := m.Value
	if name == "" {
		name = "figure"
	}
	facts := []string{m.Origin.String(),
		fmt.Sprintf("over %s from %s to %s and %s from %s to %s", orWord(m.h.Label, "x"), figure(m.h.Lo, ""), figure(m.h.Hi, m.h.Unit),
			orWord(m.v.Label, "y"), figure(m.v.Lo, ""), figure(m.v.Hi, m.v.Unit))}
	lo, hi := [2]int{-1, 0}, [2]int{-1, 0}
	short, counted := 0, 0
	for j := range m.Ys {
		for i := range m.Xs {
			if !m.known[j][i] {
				continue
			}
			v := m.Z[j][i]
			if lo[0] < 0 || v < m.Z[lo[1]][lo[0]] {
				lo = [2]int{i, j}
			}
			if hi[0] < 0 || v > m.Z[hi[1]][hi[0]] {
				hi = [2]int{i, j}
			}
			counted++
			if m.Limit.Side == AtLeast && v < m.Limit.At || m.Limit.Side == AtMost && v > m.Limit.At {
				short++
			}
		}
	}
	if counted == 0 {
		return sentence(name, append(facts, "no answer anywhere"))
	}
	place := func(at [2]int) string {
		v := figure(m.Z[at[1]][at[0]], m.Unit)
		if m.PM != nil {
			v = plusMinus(m.Z[at[1]][at[0]], m.PM[at[1]][at[0]], m.Unit)
		}
		return v + " at " + figure(m.Xs[at[0]], m.h.Unit) + " and " + figure(m.Ys[at[1]], m.v.Unit)
	}
	facts = append(facts, "lowest "+place(lo), "highest "+place(hi))
	if m.unanswered() > 0 {
		facts = append(facts, fmt.Sprintf("no answer in %.0f %% of the map", 100*m.unanswered()))
	}
	out = append(out, sentence(name, facts))
	if w := m.Limit.words(m.Unit); w != "" {
		out = append(out, fmt.Sprintf("Limit %s; falls short in %.0f %% of the map.", w, 100*float64(short)/float64(counted)))
		over := m.h // as many columns whatever the width of the picture
		for _, t := range over.settle(0, 0, 5, false) {
			out = append(out, fmt.Sprintf("At %s: %s.", figure(t.at, m.h.Unit), m.column(t.at)))
		}
	}
	for i, p := range m.Points {
		out = append(out, "Point "+mapLetter(i)+": "+m.pointWords(p))
	}
	return strings.Join(out, " ")
}

// column says where along y the limit is kept at one x.
func (m *mapDrawing) column(x float64) string {
	px := m.at(x, m.v.Lo).X
	keeps := func(v float64) bool {
		if m.Limit.Side == AtMost {
			return v <= m.Limit.At
		}
		return v >= m.Limit.At
	}
	i, u := bracket(m.values.xs, px)
	z := make([]float64, len(m.Ys))
	for j := range z {
		if !m.known[j][i] || u > 0 && !m.known[j][i+1] {
			return "not answered throughout"
		}
		z[j] = (1-u)*m.values.z[j][i] + u*m.values.z[j][i+1]
	}
	var runs []string
	from, open := "", keeps(z[0])
	for j := 1; j < len(z); j++ {
		if keeps(z[j]) == keeps(z[j-1]) {
			continue
		}
		part := (m.Limit.At - z[j-1]) / (z[j] - z[j-1])
		at := figure(roundTo(m.Ys[j-1]+part*(m.Ys[j]-m.Ys[j-1]), 3), m.v.Unit)
		if !open {
			from, open = "from "+at, true
		} else {
			runs = append(runs, strings.TrimPrefix(from+" to "+at, " "))
			from, open = "", false
		}
	}
	if open {
		switch {
		case from == "" && len(runs) == 0:
			return "kept throughout"
		default:
			runs = append(runs, from+" up")
		}
	}
	if len(runs) == 0 {
		return "kept nowhere"
	}
	return "kept " + strings.Join(runs, " and ")
}

func (m *mapDrawing) pointWords(p MapPoint) string {
	facts := []string{"at " + figure(p.X, m.h.Unit) + " and " + figure(p.Y, m.v.Unit)}
	if !m.holds(p) {
		facts = append(facts, "off the map")
	}
	if p.Text != "" {
		facts = append(facts, p.Text+" "+p.Origin.String())
	}
	if p.Mark != MarkNone {
		facts = append(facts, p.Mark.String())
	}
	return sentence(orWord(p.Name, "unnamed"), facts)
}

func orWord(s, or string) string {
	if s == "" {
		return or
	}
	return s
}
