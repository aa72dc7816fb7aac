package prove

import (
	"fmt"
	"strings"

	"dwellwright/units"
)

// Worst returns the critical cell that stands worst, with its row and
// column: falling short before doubtful before unproven before holding, and
// of those the one with the least margin. ok is false when there is none.
func (s *Sheet) Worst() (row *Row, col Column, cell *Cell, ok bool) {
	for i := range s.Rows {
		r := &s.Rows[i]
		if !r.Critical {
			continue
		}
		for j := range r.Cells {
			c := &r.Cells[j]
			if c.State == None {
				continue
			}
			if !ok || c.State > cell.State || c.State == cell.State && c.share() < cell.share() {
				row, col, cell, ok = r, s.Columns[j], c, true
			}
		}
	}
	return row, col, cell, ok
}

// share is a cell's margin as a part of what it shows.
func (c *Cell) share() float64 {
	v, _ := c.Shows()
	return c.Limit.Margin(v) / (1e-9 + max(v, -v))
}

// Text writes a figure of a row with its plus-or-minus.
func (r *Row) Text(v, pm float64, sys units.System) string {
	return units.FormatValue(r.Kind, units.Value{X: v, PM: pm, Shape: units.Normal}, sys)
}

// LimitText writes a cell's limit in words.
func (r *Row) LimitText(c *Cell, sys units.System) string {
	return c.Limit.text(func(v float64) string { return units.Format(r.Kind, v, sys) })
}

// Verdict is the sheet in a sentence.
func (s *Sheet) Verdict() string {
	row, col, cell, ok := s.Worst()
	if !ok {
		return "Nothing critical to prove on this car."
	}
	n := s.Count()
	v, pm := cell.Shows()
	figure := fmt.Sprintf("%s, %s: %s %s, limit %s", row.Name, col.Name, cell.Origin(), row.Text(v, pm, units.Metric), row.LimitText(cell, units.Metric))
	switch cell.State {
	case FallsShort:
		return fmt.Sprintf("FALLS SHORT in %s. Worst: %s.", cells(n[FallsShort]), figure)
	case Doubtful:
		return fmt.Sprintf("DOUBTFUL in %s. Worst: %s.", cells(n[Doubtful]), figure)
	case NotProven:
		return fmt.Sprintf("NOT YET PROVEN: %s to read; nothing is expected to fall short. Closest: %s.", cells(n[NotProven]), figure)
	}
	return fmt.Sprintf("PROVEN: all %s hold by reading. Closest: %s.", cells(n[Holds]), figure)
}

func cells(n int) string {
	if n == 1 {
		return "1 critical cell"
	}
	return fmt.Sprintf("%d critical cells", n)
}

// Title returns a name with a capital.
func Title(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
