package cli

import (
	"fmt"
	"io"
	"math"
	"strconv"
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

// writeLegend writes a legend, as much to a line as fits.
func writeLegend(w io.Writer, legend []string, width int) {
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
	for _, cols := range columnsIn(s, width) {
		writeColumns(w, s, cols, sys)
	}
	writeLegend(w, legend, width)
	writeFindings(w, s, width, sys)
	writeNotes(w, s, width)
	writeLoose(w, s, width)
	writeCautions(w, prove.Cautions(s.Car, prove.EngineRuns, prove.StarterTurns, prove.KeyOn), width)
}

func subtitle(s *prove.Sheet) string {
	earth := "negative earth"
	if s.Car.Earth == 1 {
		earth = "positive earth"
	}
	text := fmt.Sprintf("%s, %d V, %s. Wired: %s. ", s.Car.Name, s.Car.NominalV, earth, s.Option.Name)
	if s.Settings.Draws == 0 {
		return text + "Every figure at its middle: no draws, no ±."
	}
	return text + fmt.Sprintf("Each ± is the 95 %% interval of %d draws of the car's uncertain figures (seed %d).", s.Settings.Draws, s.Settings.Seed)
}

const cellWidth = 15

// columnsIn splits the columns into tables that fit the width.
func columnsIn(s *prove.Sheet, width int) [][]int {
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
	_, unit := column(r)
	return strings.TrimSuffix(name+", "+unit, ", ")
}

// column is the unit of a row's figures in the table, and how many of it make
// one of the SI unit.
func column(r *prove.Row) (scale float64, unit string) {
	switch {
	case r.Kind == units.Energy:
		return 1e3, "mJ"
	case r.Kind == units.Time:
		return 1e3, "ms"
	case r.Kind == units.Voltage && r.Group == prove.SparkGroup:
		return 1e-3, "kV"
	case r.Kind == units.Length:
		return 1e3, "mm"
	case r.Kind == units.Ratio:
		return 1, ""
	}
	return 1, prove.Unit(r.Kind)
}

// cellText is a cell's mark and figure without its unit, which stands in the
// row's name.
func cellText(r *prove.Row, c *prove.Cell, sys units.System) string {
	if !c.Shown {
		return ""
	}
	v, pm := c.Shows()
	scale, _ := column(r)
	v, pm = scale*v, scale*pm
	t := marks[c.State] + " " + number(v, pm)
	if c.Reading != nil {
		t += "m"
	}
	return t
}

// number writes a figure with as many decimals as its half-width deserves;
// without one, as a figure nobody drew a spread for, to three digits.
func number(v, pm float64) string {
	if math.Abs(v) < 1e-3 && pm < 1e-3 {
		return "0"
	}
	if pm == 0 {
		return strconv.FormatFloat(v, 'g', 3, 64)
	}
	d := 2
	switch {
	case pm >= 9.5 || v >= 1000:
		d = 0
	case pm >= 0.95:
		d = 1
	case pm < 0.0095:
		d = 3
	}
	t := fmt.Sprintf("%.*f±%.*f", d, v, d, pm)
	if d == 3 && pm < 0.0005 {
		t = fmt.Sprintf("%.3f±<.001", v)
	}
	return t
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
		r := l.Reading
		at := r.Red
		if r.Black != "" {
			at += " to " + r.Black
		}
		writeWrapped(w, "  ", fmt.Sprintf("%s: %s, %s, %s, %s: %s", r.Pos, r.Instrument, at, orRest(r.Condition),
			units.FormatValue(r.Kind, r.Value, units.Metric), l.Why), width)
	}
}

func orRest(condition string) string {
	if condition == "" {
		return "key off"
	}
	return condition
}

// writeNotes prints what is noted at cells that neither fall short nor are
// doubtful; at those it stands with the finding.
func writeNotes(w io.Writer, s *prove.Sheet, width int) {
	first := true
	for i := range s.Rows {
		for j := range s.Rows[i].Cells {
			c := &s.Rows[i].Cells[j]
			if c.Note == "" || c.State == prove.FallsShort || c.State == prove.Doubtful {
				continue
			}
			if first {
				fmt.Fprintf(w, "\nNOTES\n")
				first = false
			}
			v, pm := c.Shows()
			writeWrapped(w, "  ", fmt.Sprintf("%s, %s, %s %s (predicted %s): %s", s.Rows[i].Name, s.Columns[j].Name, c.Origin(),
				s.Rows[i].Text(v, pm, units.Metric), s.Rows[i].Text(c.Predicted.Mid, c.Predicted.PM(), units.Metric), c.Note), width)
		}
	}
}

// writeCautions prints what can hurt.
func writeCautions(w io.Writer, list []string, width int) {
	fmt.Fprintf(w, "\nBEFORE YOU READ OR TOUCH\n")
	for _, c := range list {
		writeWrapped(w, "  ! ", c, width)
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
