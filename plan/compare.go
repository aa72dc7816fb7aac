package plan

import (
	"math"
	"sort"

	"dwellwright/car"
	"dwellwright/prove"
	"dwellwright/twin"
)

// Choice is one way to wire the car, worked out in every condition.
type Choice struct {
	Option twin.Option
	Unfit  string       // why it cannot be had on this car; nothing else is set then
	Sheet  *prove.Sheet // predictions only: readings were taken on other wiring
	Short  []Finding    // critical cells that fall short, worst first
	Doubt  []Finding    // critical cells that are doubtful, worst first
	Minor  []Finding    // other cells that fall short
	Worst  Finding      // the critical cell with the least margin
	Score  Score
}

// Score ranks choices: fewer critical cells falling short, then fewer
// doubtful, then fewer other cells falling short, then the greater margin.
type Score struct {
	Short, Doubt, Minor int
	Margin              float64 // of the worst critical cell, as a part of its limit
}

// Less reports whether s ranks before t.
func (s Score) Less(t Score) bool {
	switch {
	case s.Short != t.Short:
		return s.Short < t.Short
	case s.Doubt != t.Doubt:
		return s.Doubt < t.Doubt
	case s.Minor != t.Minor:
		return s.Minor < t.Minor
	}
	return s.Margin > t.Margin
}

// Finding points at a cell of a choice's sheet.
type Finding struct {
	Row    *prove.Row
	Column prove.Column
	Cell   *prove.Cell
	Margin float64 // as a part of the limit; negative falls short
}

// Comparison is all the choices, ranked.
type Comparison struct {
	Car     *car.Car
	Choices []Choice // best first; those that cannot be had last
	Cut     *CutList // what the winner needs
}

// Compare works out every option in every condition and ranks them. The car
// as fitted is compared too unless it is the same as one of the others.
func Compare(c *car.Car, set prove.Settings) (*Comparison, error) {
	bare := c.Clone()
	bare.Readings = nil
	cmp := &Comparison{Car: c}
	for _, o := range twin.Options() {
		if o.ID == twin.AsFitted {
			continue
		}
		ch := Choice{Option: o, Unfit: o.Unfit(c)}
		if ch.Unfit == "" {
			set.Option = o.ID
			s, err := prove.Compute(bare, set)
			if err != nil {
				return nil, err
			}
			ch.weigh(s)
		}
		cmp.Choices = append(cmp.Choices, ch)
	}
	sort.SliceStable(cmp.Choices, func(i, j int) bool {
		a, b := &cmp.Choices[i], &cmp.Choices[j]
		if (a.Unfit == "") != (b.Unfit == "") {
			return a.Unfit == ""
		}
		return a.Score.Less(b.Score)
	})
	if w := cmp.Winner(); w != nil {
		cut, err := cutList(c, w)
		if err != nil {
			return nil, err
		}
		cmp.Cut = cut
	}
	return cmp, nil
}

// Winner returns the best choice that can be had, nil when none can.
func (c *Comparison) Winner() *Choice {
	if len(c.Choices) == 0 || c.Choices[0].Unfit != "" {
		return nil
	}
	return &c.Choices[0]
}

// weigh finds what falls short on a sheet.
func (ch *Choice) weigh(s *prove.Sheet) {
	ch.Sheet = s
	ch.Score.Margin = math.Inf(1)
	for i := range s.Rows {
		r := &s.Rows[i]
		for j := range r.Cells {
			cell := &r.Cells[j]
			if !cell.Shown || !cell.Limit.Exists() {
				continue
			}
			f := Finding{r, s.Columns[j], cell, relative(cell)}
			switch {
			case !r.Critical:
				if cell.State == prove.FallsShort {
					ch.Minor = append(ch.Minor, f)
				}
				continue
			case cell.State == prove.FallsShort:
				ch.Short = append(ch.Short, f)
			case cell.State == prove.Doubtful:
				ch.Doubt = append(ch.Doubt, f)
			}
			if f.Margin < ch.Score.Margin {
				ch.Score.Margin, ch.Worst = f.Margin, f
			}
		}
	}
	for _, list := range [][]Finding{ch.Short, ch.Doubt, ch.Minor} {
		sort.SliceStable(list, func(i, j int) bool { return list[i].Margin < list[j].Margin })
	}
	ch.Score.Short, ch.Score.Doubt, ch.Score.Minor = len(ch.Short), len(ch.Doubt), len(ch.Minor)
}

// relative is a cell's margin as a part of the limit it is nearest to.
func relative(c *prove.Cell) float64 {
	lo, hi := c.Predicted.Mid-c.Limit.Lo, c.Limit.Hi-c.Predicted.Mid
	limit := c.Limit.Lo
	m := lo
	if hi < lo {
		m, limit = hi, c.Limit.Hi
	}
	return m / math.Max(math.Abs(limit), 1e-3)
}
