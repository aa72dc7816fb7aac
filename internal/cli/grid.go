package cli

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// grid is a table of text whose columns stand under heads. A row without
// cells is a heading among the rows.
type grid struct {
	heads []string
	rows  []gridRow
}

type gridRow struct {
	name  string
	cells []string
}

func (g *grid) add(name string, cells ...string) { g.rows = append(g.rows, gridRow{name, cells}) }

// write writes the grid, in as many tables one below the other as the width
// asks for. Heads are broken at spaces, and where they say so.
func (g *grid) write(w io.Writer, width int) {
	names := 0
	for _, r := range g.rows {
		if len(r.cells) > 0 {
			names = max(names, utf8.RuneCountInString(r.name))
		}
	}
	wide := make([]int, len(g.heads))
	for j := range g.heads {
		for _, word := range strings.Fields(g.heads[j]) {
			wide[j] = max(wide[j], utf8.RuneCountInString(word))
		}
		for _, part := range strings.Split(g.heads[j], "\n") {
			wide[j] = max(wide[j], min(utf8.RuneCountInString(part), 13))
		}
		for _, r := range g.rows {
			if j < len(r.cells) {
				wide[j] = max(wide[j], utf8.RuneCountInString(r.cells[j]))
			}
		}
	}
	for from := 0; from < len(g.heads); {
		to, used := from, names
		for to < len(g.heads) && (to == from || used+2+wide[to] <= width) {
			used += 2 + wide[to]
			to++
		}
		if from > 0 {
			fmt.Fprintln(w)
		}
		g.table(w, from, to, names, wide)
		from = to
	}
}

// table writes the columns from up to to.
func (g *grid) table(w io.Writer, from, to, names int, wide []int) {
	line := func(name string, cell func(j int) string) {
		text := pad(name, names)
		for j := from; j < to; j++ {
			text += "  " + pad(cell(j), wide[j])
		}
		fmt.Fprintln(w, strings.TrimRight(text, " "))
	}
	high := 0
	heads := make([][]string, len(g.heads))
	for j := from; j < to; j++ {
		for _, part := range strings.Split(g.heads[j], "\n") {
			heads[j] = append(heads[j], wrap(part, wide[j])...)
		}
		high = max(high, len(heads[j]))
	}
	for n := range high {
		line("", func(j int) string {
			if k := n - (high - len(heads[j])); k >= 0 {
				return heads[j][k]
			}
			return ""
		})
	}
	for i, r := range g.rows {
		if len(r.cells) == 0 {
			if g.anyUnder(i, from, to) {
				fmt.Fprintln(w, r.name)
			}
			continue
		}
		if !filled(r, from, to) {
			continue
		}
		line(r.name, func(j int) string {
			if j < len(r.cells) {
				return r.cells[j]
			}
			return ""
		})
	}
}

// filled reports whether a row has a cell to show.
func filled(r gridRow, from, to int) bool {
	for j := from; j < min(to, len(r.cells)); j++ {
		if r.cells[j] != "" {
			return true
		}
	}
	return false
}

// anyUnder reports whether a row under the heading i has a cell to show.
func (g *grid) anyUnder(i, from, to int) bool {
	for _, r := range g.rows[i+1:] {
		if len(r.cells) == 0 {
			return false
		}
		if filled(r, from, to) {
			return true
		}
	}
	return false
}

// contains reports whether any cell has the text in it.
func (g *grid) contains(text string) bool {
	for _, r := range g.rows {
		for _, c := range r.cells {
			if strings.Contains(c, text) {
				return true
			}
		}
	}
	return false
}

// together keeps figures and their units on one line, beyond those that wrap
// itself keeps.
func together(text string) string { return unitsGlued.Replace(text) }

var unitsGlued = strings.NewReplacer(" %", glue+"%", " kV", glue+"kV", " mJ", glue+"mJ", " rpm", glue+"rpm", " min", glue+"min", " h at", glue+"h at")
