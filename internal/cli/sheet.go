package cli

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"dwellwright/prove"
	"dwellwright/units"
)

// marks tell the states apart by shape.
var marks = map[prove.State]string{
	prove.None: " ", prove.Holds: "✔", prove.NotProven: "○", prove.Doubtful: "?", prove.FallsShort: "✘",
}

// legend explains the marks.
var legend = []string{
	"✔ holds", "○ not yet proven: needs a reading", "? doubtful: its ± reaches over the limit", "✘ falls short", "m measured, else predicted",
}

// writeLegend writes the legend, as many to a line as fit.
func writeLegend(w io.Writer, width int) {
	line := ""
	for _, l := range legend {
		if line != "" && utf8.RuneCountInString(line)+3+utf8.RuneCountInString(l) > width {
			fmt.Fprintln(w, line)
			line = ""
		}
		if line != "" {
			line += "   "
		}
		line += l
	}
	fmt.Fprintln(w, line)
}

// writeSheet writes the proof sheet as a text table that fits the width.
func writeSheet(w io.Writer, s *prove.Sheet, width int, sys units.System) {
	writeWrapped(w, "", s.Verdict(), width)
	writeWrapped(w, "", subtitle(s), width)
	fmt.Fprintln(w)
	for _, cols := range fit(s, width) {
		writeColumns(w, s, cols, sys)
	}
	writeLegend(w, width)
	writeFindings(w, s, width, sys)
	writeLoose(w, s, width)
}

func subtitle(s *prove.Sheet) string {
	earth := "negative earth"
	if s.Car.Earth == 1 {
		earth = "positive earth"
	}
	return fmt.Sprintf("%s, %d V, %s. Wired: %s. Each ± is the 95 %% interval of %d draws of the car's uncertain figures (seed %d).",
		s.Car.Name, s.Car.NominalV, earth, s.Option.Name, s.Settings.Draws, s.Settings.Seed)
}

const cellWidth = 14

// fit splits the columns into tables that fit the width.
func fit(s *prove.Sheet, width int) [][]int {
	per := max((width-nameWidth(s))/cellWidth, 1)
	var out [][]int
	for j := range s.Columns {
		if len(out) == 0 || len(out[len(out)-1]) == per {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], j)
	}
	return out
}

func nameWidth(s *prove.Sheet) int {
	n := 0
	for _, r := range s.Rows {
		n = max(n, utf8.RuneCountInString(rowName(&r))+1)
	}
	return n
}

func writeColumns(w io.Writer, s *prove.Sheet, cols []int, sys units.System) {
	nw := nameWidth(s)
	heads := make([][]string, len(cols))
	most := 1
	for i, j := range cols {
		heads[i] = wrap(s.Columns[j].Name, cellWidth-2)
		most = max(most, len(heads[i]))
	}
	for line := range most {
		fmt.Fprint(w, pad("", nw))
		for i := range cols {
			t := ""
			if k := line - (most - len(heads[i])); k >= 0 {
				t = heads[i][k]
			}
			fmt.Fprint(w, pad("  "+t, cellWidth))
		}
		fmt.Fprintln(w)
	}
	group := ""
	for i := range s.Rows {
		r := &s.Rows[i]
		shown := false
		for _, j := range cols {
			shown = shown || r.Cells[j].Shown
		}
		if !shown {
			continue
		}
		if r.Group != group {
			group = r.Group
			fmt.Fprintln(w, strings.ToUpper(group))
		}
		fmt.Fprint(w, pad(rowName(r), nw))
		for _, j := range cols {
			fmt.Fprint(w, pad(cellText(r, &r.Cells[j], sys), cellWidth))
		}
		fmt.Fprintln(w)
	}
	fmt.Fprintln(w, "* critical: only a reading can make it hold")
	fmt.Fprintln(w)
}

// rowName is a row's name with its star and unit.
func rowName(r *prove.Row) string {
	name := r.Name
	if r.Critical {
		name += " *"
	}
	return name + ", " + prove.Unit(r.Kind)
}

// cellText is a cell's mark and figure without its unit, which stands in the
// row's name.
func cellText(r *prove.Row, c *prove.Cell, sys units.System) string {
	if !c.Shown {
		return ""
	}
	v, pm := c.Shows()
	t := marks[c.State] + " " + number(v, pm)
	if c.Reading != nil {
		t += "m"
	}
	return t
}

// number writes a figure with as many decimals as its half-width deserves.
func number(v, pm float64) string {
	if math.Abs(v) < 5e-4 && pm < 5e-4 {
		return "0"
	}
	d := 2
	switch {
	case pm >= 9.5:
		d = 0
	case pm >= 0.95:
		d = 1
	case pm < 0.0095:
		d = 3
	}
	if v >= 1000 {
		d = 0
	}
	return fmt.Sprintf("%.*f±%.*f", d, v, d, pm)
}

// writeFindings says in words what does not stand, one line for the cells of
// a row that share a limit.
func writeFindings(w io.Writer, s *prove.Sheet, width int, sys units.System) {
	for _, st := range []prove.State{prove.FallsShort, prove.Doubtful} {
		lines := findings(s, st, sys)
		if len(lines) == 0 {
			continue
		}
		fmt.Fprintf(w, "\n%s\n", strings.ToUpper(st.String()))
		for _, l := range lines {
			writeWrapped(w, "  "+marks[st]+" ", l, width)
		}
	}
}

func findings(s *prove.Sheet, st prove.State, sys units.System) []string {
	var lines []string
	for i := range s.Rows {
		r := &s.Rows[i]
		var limits []string
		figures := map[string][]string{}
		for j := range r.Cells {
			c := &r.Cells[j]
			if c.State != st {
				continue
			}
			limit := fmt.Sprintf("limit %s (%s)", r.LimitText(c, sys), c.Limit.Source)
			if figures[limit] == nil {
				limits = append(limits, limit)
			}
			v, pm := c.Shows()
			f := fmt.Sprintf("%s %s %s", s.Columns[j].Name, c.Origin(), r.Text(v, pm, sys))
			if c.Note != "" {
				f += " (" + c.Note + ")"
			}
			figures[limit] = append(figures[limit], f)
		}
		for _, l := range limits {
			name := r.Name
			if r.Critical {
				name += " *"
			}
			lines = append(lines, fmt.Sprintf("%s: %s; %s", name, strings.Join(figures[l], "; "), l))
		}
	}
	return lines
}

func writeLoose(w io.Writer, s *prove.Sheet, width int) {
	if len(s.Loose) == 0 {
		return
	}
	fmt.Fprintf(w, "\nREADINGS THAT DECIDE NO CELL\n")
	for _, l := range s.Loose {
		writeWrapped(w, "  ", fmt.Sprintf("%s: %s", l.Reading.Pos, l.Why), width)
	}
}

// pad fills to a width counted in runes.
func pad(s string, n int) string {
	if k := n - utf8.RuneCountInString(s); k > 0 {
		return s + strings.Repeat(" ", k)
	}
	return s
}

// wrap breaks text at spaces into lines of at most n runes where it can.
func wrap(s string, n int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(glued.Replace(s)) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= n:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], glue, " ")
	}
	return lines
}

// glue stands for a space at which a line may not be broken: between a
// figure, its plus-or-minus and its unit.
const glue = "\x00"

var glued = strings.NewReplacer(" ± ", glue+"±"+glue, " V", glue+"V", " mV", glue+"mV", " A", glue+"A", " W", glue+"W", " Ω", glue+"Ω", " mΩ", glue+"mΩ", " °C", glue+"°C", " °F", glue+"°F")
