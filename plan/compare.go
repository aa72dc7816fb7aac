package plan

import (
	"errors"
	"math"
	"sort"

	"dwellwright/car"
	"dwellwright/circuit"
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
	Worst  Finding      // the critical cell with the least margin, of those that are not Common
	Score  Score
	Fitted bool // the car is wired so already

	all []Finding // every critical cell
}

// Score ranks choices: fewer critical cells falling short, then fewer
// doubtful, then fewer other cells falling short, then the greater margin up
// to a fifth of the limit, then the less work.
type Score struct {
	Short, Doubt, Minor int
	Margin              float64 // of the worst critical cell, as a part of its limit
	Work                int     // how much there is to change
}

// enough is the margin beyond which more is no better, as a part of a limit.
const enough = 0.2

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
	if a, b := math.Min(s.Margin, enough), math.Min(t.Margin, enough); math.Abs(a-b) > 0.02 {
		return a > b
	}
	return s.Work < t.Work
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
	Choices []Choice  // best first; those that cannot be had last
	Common  []Finding // what falls short or is doubtful whichever is chosen; it does not rank
	Cut     *CutList  // what the best choice with a trigger needs
	CutFor  *Choice   // that choice; nil when none can be had
}

// Compare works out every option in every condition and ranks them, and marks
// the one the car is wired as already.
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
			set.Option, set.Wiring = o.ID, true
			s, err := prove.Compute(bare, set)
			switch {
			case errors.Is(err, circuit.ErrChatter):
				ch.Unfit = "the relay would chatter: " + err.Error()
			case err != nil:
				return nil, err
			default:
				ch.weigh(s)
				ch.Fitted = sameWiring(c, s.Car)
			}
		}
		cmp.Choices = append(cmp.Choices, ch)
	}
	cmp.share()
	sort.SliceStable(cmp.Choices, func(i, j int) bool {
		a, b := &cmp.Choices[i], &cmp.Choices[j]
		if (a.Unfit == "") != (b.Unfit == "") {
			return a.Unfit == ""
		}
		return a.Score.Less(b.Score)
	})
	for i := range cmp.Choices {
		w := &cmp.Choices[i]
		if w.Unfit != "" || !w.Sheet.Car.Switch.Kind.Electronic() {
			continue
		}
		cut, err := cutList(c, w, set.Draws)
		if err != nil {
			return nil, err
		}
		cmp.Cut, cmp.CutFor = cut, w
		break
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

// sameWiring reports whether two states of a car have the same switch, feed,
// ballast, coil and relay.
func sameWiring(a, b *car.Car) bool {
	return a.Switch.Kind == b.Switch.Kind && a.Feed == b.Feed && a.Ballast.Fitted == b.Ballast.Fitted &&
		a.Coil.Class == b.Coil.Class && a.Relay.Fitted == b.Relay.Fitted
}

// Fitted returns the choice that the car is wired as already, nil when it is
// wired in none of these ways.
func (c *Comparison) Fitted() *Choice {
	for i := range c.Choices {
		if c.Choices[i].Fitted {
			return &c.Choices[i]
		}
	}
	return nil
}

// Planned returns the choice that the car's file plans, nil when it plans
// none. A feed at the ignition switch is one before the ballast.
func (c *Comparison) Planned() *Choice {
	if c.Car.Planned == nil {
		return nil
	}
	id := map[car.FeedPoint]string{car.FeedCoil: "feed_behind_ballast", car.FeedBallastSupply: "feed_before_ballast", car.FeedKeySwitch: "feed_before_ballast", car.FeedRelay: "relay_feed"}[c.Car.Planned.Feed]
	for i := range c.Choices {
		if c.Choices[i].Option.ID == id {
			return &c.Choices[i]
		}
	}
	return nil
}

// share moves to Common what falls short, or is doubtful, in the same cell of
// every choice that can be had, and all that is the supply's: no choice of
// wiring is better or worse for it.
func (c *Comparison) share() {
	type cell struct{ row, column string }
	count := map[cell]int{}
	fit := 0
	each := func(ch *Choice) [][]Finding { return [][]Finding{ch.Short, ch.Doubt, ch.Minor} }
	for i := range c.Choices {
		ch := &c.Choices[i]
		if ch.Unfit != "" {
			continue
		}
		fit++
		for _, list := range each(ch) {
			for _, f := range list {
				count[cell{f.Row.ID, f.Column.ID}]++
			}
		}
	}
	first := true
	for i := range c.Choices {
		ch := &c.Choices[i]
		if ch.Unfit != "" {
			continue
		}
		for _, list := range []*[]Finding{&ch.Short, &ch.Doubt, &ch.Minor} {
			var own []Finding
			for _, f := range *list {
				switch {
				case f.Row.Group != prove.SupplyGroup && (fit < 2 || count[cell{f.Row.ID, f.Column.ID}] < fit):
					own = append(own, f)
				case first:
					c.Common = append(c.Common, f)
				}
			}
			*list = own
		}
		first = false
		ch.Score = Score{Short: len(ch.Short), Doubt: len(ch.Doubt), Minor: len(ch.Minor), Margin: math.Inf(1), Work: ch.Option.Work}
		if ch.Fitted {
			ch.Score.Work = 0
		}
		for j := range ch.all {
			f := ch.all[j]
			if fit >= 2 && count[cell{f.Row.ID, f.Column.ID}] == fit || f.Row.Group == prove.SupplyGroup {
				continue // the supply's margin is not the choice's merit
			}
			if f.Margin < ch.Score.Margin {
				ch.Score.Margin, ch.Worst = f.Margin, f
			}
		}
	}
}

// weigh finds what falls short on a sheet.
func (ch *Choice) weigh(s *prove.Sheet) {
	ch.Sheet = s
	for i := range s.Rows {
		r := &s.Rows[i]
		for j := range r.Cells {
			cell := &r.Cells[j]
			if !cell.Shown || !cell.Limit.Exists() {
				continue
			}
			f := Finding{r, s.Columns[j], cell, relative(cell)}
			switch {
			case !r.Weighs:
				if cell.State == prove.FallsShort {
					ch.Minor = append(ch.Minor, f)
				}
				continue
			case cell.State == prove.FallsShort:
				ch.Short = append(ch.Short, f)
			case cell.State == prove.Doubtful:
				ch.Doubt = append(ch.Doubt, f)
			}
			ch.all = append(ch.all, f)
		}
	}
	for _, list := range [][]Finding{ch.Short, ch.Doubt, ch.Minor} {
		sort.SliceStable(list, func(i, j int) bool { return list[i].Margin < list[j].Margin })
	}
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
