package web

import (
	"fmt"
	"math"
	"strings"

	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/units"
)

// proveView is the stage Prove: the proof sheet.
type proveView struct {
	Caption string
	Columns []columnView
	Groups  []groupView
	Counts  []countView
	Loose   []looseView
	Assumed int
	Quick   bool // leave out what stands behind the cells
}

type columnView struct {
	Name  string
	Bench bool // the condition set at the bench
}

type groupView struct {
	Name string
	Fine bool
	Rows []rowView
}

type rowView struct {
	ID, Name, How string
	Critical      bool
	Fine          bool   // all that has a limit is held
	Limit         string // where all its cells hold to the same one
	Cells         []cellView
}

// cellView is a cell of the sheet.
type cellView struct {
	Shown        bool
	ID           string
	Column       string
	Bench        bool
	Mark         html
	State, Word  string
	Mid, PM      string // "7.50" and "± 0.38 V"
	Limit        string // where it is not the row's
	Origin       string
	Full         string // the figure in full
	LimitFull    string
	LimitFrom    string
	Between      string // the 95 % interval of the prediction
	Expected     string // the prediction, where a reading stands in the cell
	Wanted, Note string
	ReadingAt    string
	Draws        int
}

// countView is how many critical cells are in a state.
type countView struct {
	Mark html
	Word string
	N    int
}

type looseView struct{ Place, What, Why string }

// proveCar works out the stage Prove.
func proveCar(p *page, c *car.Car, b workshop.Bench, workers int) error {
	s, err := workshop.Prove(b.Apply(c), settings(b, b.Option, workers))
	if err != nil {
		return err
	}
	p.Verdict = sheetVerdict(s)
	v := &proveView{
		Caption: fmt.Sprintf("Proof sheet of %s (%s), wired: %s", s.Car.Name, facts(s.Car), s.Option.Name),
		Assumed: len(prove.Assumed(s.Car)), Quick: p.Quick,
	}
	for _, col := range s.Columns {
		v.Columns = append(v.Columns, columnView{prove.Title(col.Name), col.ID == b.Condition})
	}
	for i := range s.Rows {
		r := &s.Rows[i]
		if len(v.Groups) == 0 || v.Groups[len(v.Groups)-1].Name != prove.Title(r.Group) {
			v.Groups = append(v.Groups, groupView{Name: prove.Title(r.Group), Fine: true})
		}
		g := &v.Groups[len(v.Groups)-1]
		row := viewRow(s, r, b)
		g.Rows = append(g.Rows, row)
		g.Fine = g.Fine && row.Fine
	}
	n := s.Count()
	for _, st := range []prove.State{prove.FallsShort, prove.Doubtful, prove.NotProven, prove.Holds} {
		v.Counts = append(v.Counts, countView{sign(st), st.String(), n[st]})
	}
	for _, l := range s.Loose {
		rd := l.Reading
		what := fmt.Sprintf("%s, %s", rd.Instrument, rd.Red)
		if rd.Black != "" {
			what += " to " + rd.Black
		}
		v.Loose = append(v.Loose, looseView{rd.Pos.String(), strings.ReplaceAll(what, "_", " ") + ": " + units.FormatValue(rd.Kind, rd.Value, b.Units), l.Why})
	}
	p.Prove = v
	return nil
}

func viewRow(s *prove.Sheet, r *prove.Row, b workshop.Bench) rowView {
	v := rowView{ID: r.ID, Name: prove.Title(r.Name), How: strings.ReplaceAll(r.How, "_", " "), Critical: r.Critical, Fine: true}
	v.Limit = commonLimit(r, b.Units)
	for j := range r.Cells {
		v.Cells = append(v.Cells, viewCell(s, r, j, v.Limit, b))
		st := r.Cells[j].State
		v.Fine = v.Fine && (st == prove.None || st == prove.Holds)
	}
	return v
}

// commonLimit is the limit of a row's cells where they all have the same, ""
// where they differ.
func commonLimit(r *prove.Row, sys units.System) string {
	limit := ""
	for j := range r.Cells {
		c := &r.Cells[j]
		if !c.Shown || !c.Limit.Exists() {
			continue
		}
		t := r.LimitText(c, sys)
		if limit != "" && t != limit {
			return ""
		}
		limit = t
	}
	return limit
}

func viewCell(s *prove.Sheet, r *prove.Row, j int, rowLimit string, b workshop.Bench) cellView {
	c, col := &r.Cells[j], s.Columns[j]
	v := cellView{Shown: c.Shown, ID: fmt.Sprintf("cell-%s-%s", r.ID, col.ID), Column: prove.Title(col.Name), Bench: col.ID == b.Condition}
	if !c.Shown {
		return v
	}
	mid, pm := c.Shows()
	v.Mark, v.State, v.Word = sign(c.State), stateClass(c.State), c.State.String()
	v.Full = figure(r, mid, pm, b.Units)
	v.Mid, v.PM = parted(v.Full)
	v.Origin, v.Note, v.Draws = c.Origin(), c.Note, c.Predicted.Draws
	if c.Limit.Exists() {
		v.LimitFull, v.LimitFrom = r.LimitText(c, b.Units), c.Limit.Source
		if c.Limit.PM > 0 {
			v.LimitFull += ", itself ± " + difference(r.Kind, c.Limit.PM)
		}
		if rowLimit == "" {
			v.Limit = r.LimitText(c, b.Units)
		}
	}
	one := func(x float64) string { return figure(r, x, 0, b.Units) }
	v.Between = fmt.Sprintf("%s to %s", one(c.Predicted.Lo), one(c.Predicted.Hi))
	if c.Wanted != nil {
		v.Wanted = fmt.Sprintf("%s to %s (%s)", one(c.Wanted.Lo), one(c.Wanted.Hi), c.Wanted.Source)
	}
	if c.Reading != nil {
		v.ReadingAt = c.Reading.Reading.Pos.String()
		v.Expected = figure(r, c.Predicted.Mid, c.Predicted.PM(), b.Units)
	}
	return v
}

// figure writes a figure of a row; what is nothing but the rounding of the
// solution is nothing.
func figure(r *prove.Row, mid, pm float64, sys units.System) string {
	const least = 5e-4
	electric := r.Kind == units.Voltage || r.Kind == units.Current || r.Kind == units.Power
	if electric && math.Abs(mid) < least && pm < least {
		return units.Format(r.Kind, 0, sys)
	}
	return r.Text(mid, pm, sys)
}
