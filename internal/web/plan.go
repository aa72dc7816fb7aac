package web

import (
	"fmt"
	"strings"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/internal/workshop"
	"dwellwright/plan"
	"dwellwright/prove"
	"dwellwright/units"
)

// planView is the stage Plan.
type planView struct {
	Common  []findingView
	Columns []string // conditions of the choices' Feeds
	Choices []choiceView
	Cut     *cutView
}

// choiceView is one way to wire the car.
type choiceView struct {
	Rank            int
	ID, Name, About string
	Mark            html
	State, Word     string
	Fitted          bool // the car is wired so already
	Unfit           string
	Bars            html
	Feeds           []feedView // the trigger's feed by condition; nil for points
	NoFeed          string     // why there are no bars
	Short, Doubt    []findingView
	Closest         string
	Minor           []string
	See             string // address of the car as found, wired this way
	Sheet           string // address of its proof sheet
}

// feedView is the trigger's feed in one condition.
type feedView struct {
	Mark    html
	Word    string
	Mid, PM string
	Bench   bool // in the condition set at the bench
}

// findingView is a cell that does not stand.
type findingView struct {
	Mark  html
	State string
	Word  string
	Text  string
}

// cutView is what the best way with a trigger needs.
type cutView struct {
	For            string
	Nothing        string // why the first of the ranking needs none of it
	Removed, Moved []string
	Parts          []string
	Wires          []wireView
	Cautions       []string
}

type wireView struct{ From, To, Gauge, Length, Fuse, Carries, Drop, Ends, Why string }

// planCar works out the stage Plan.
func planCar(p *page, c *car.Car, b workshop.Bench, workers int) error {
	cmp, err := workshop.Plan(b.Apply(c), settings(b, "", workers))
	if err != nil {
		return err
	}
	p.Verdict = planVerdict(cmp, b.Units)
	v := &planView{}
	for i := range cmp.Common {
		v.Common = append(v.Common, viewFinding(&cmp.Common[i], b.Units))
	}
	for i := range cmp.Choices {
		v.Choices = append(v.Choices, viewChoice(&cmp.Choices[i], i, p.N, b))
		if columns, feeds := viewFeeds(&cmp.Choices[i], b); len(feeds) > 0 {
			v.Columns, v.Choices[i].Feeds = columns, feeds
		}
	}
	if cmp.Cut != nil {
		v.Cut = viewCut(cmp, b.Units)
	}
	p.Plan = v
	return nil
}

// planVerdict says which way is best, how it stands, and which way fails.
func planVerdict(cmp *plan.Comparison, sys units.System) verdict {
	w := cmp.Winner()
	if w == nil {
		return verdict{Head: "None of the ways can be had on this car"}
	}
	v := verdict{Mark: mark(w.State()), State: stateClass(w.State()), Head: "Best: " + w.Option.Name}
	switch w.State() {
	case prove.FallsShort:
		v.Detail = "Even so it falls short: " + finding(&w.Short[0], sys) + "."
	case prove.Doubtful:
		v.Detail = "Doubtful: " + finding(&w.Doubt[0], sys) + "."
	default:
		v.Detail = "Nothing critical is expected to fall short; a reading has to prove it."
	}
	if note := cmp.FittedNote(); note != "" {
		v.Detail += " " + note
	}
	for i := range cmp.Choices {
		if ch := &cmp.Choices[i]; ch != w && len(ch.Short) > 0 {
			v.Detail += fmt.Sprintf(" %s falls short: %s.", prove.Title(ch.Option.Name), finding(&ch.Short[0], sys))
			break
		}
	}
	return v
}

// finding is a finding without where its limit comes from.
func finding(f *plan.Finding, sys units.System) string {
	v, pm := f.Cell.Shows()
	return fmt.Sprintf("%s, %s, %s %s, limit %s", f.Row.Name, f.Column.Name, f.Cell.Origin(), f.Row.Text(v, pm, sys), f.Row.LimitText(f.Cell, sys))
}

func viewFinding(f *plan.Finding, sys units.System) findingView {
	return findingView{sign(f.Cell.State), stateClass(f.Cell.State), f.Cell.State.String(), prove.Title(f.Text(sys))}
}

func viewChoice(ch *plan.Choice, i, n int, b workshop.Bench) choiceView {
	v := choiceView{Rank: i + 1, ID: ch.Option.ID, Name: prove.Title(ch.Option.Name), About: ch.Option.About, Unfit: ch.Unfit, Fitted: ch.Fitted}
	if v.Unfit != "" {
		return v
	}
	state := ch.State()
	v.Mark, v.State, v.Word = sign(state), stateClass(state), state.String()
	b.Option = ch.Option.ID
	q := b.Query().Encode()
	v.See, v.Sheet = fmt.Sprintf("/cars/%d/found?%s", n, q), fmt.Sprintf("/cars/%d/prove?%s", n, q)
	for j := range ch.Short {
		v.Short = append(v.Short, viewFinding(&ch.Short[j], b.Units))
	}
	for j := range ch.Doubt {
		v.Doubt = append(v.Doubt, viewFinding(&ch.Doubt[j], b.Units))
	}
	if len(ch.Short)+len(ch.Doubt) == 0 && ch.Worst.Row != nil {
		v.Closest = ch.Worst.Text(b.Units)
	}
	for j := range ch.Minor {
		v.Minor = append(v.Minor, prove.Title(ch.Minor[j].Text(b.Units)))
	}
	spec := feedBars(ch, b.Units)
	scene, err := draw.Bars(spec)
	v.Bars = picture(scene, err, "bars-"+strings.ReplaceAll(ch.Option.ID, "_", "-"))
	return v
}

// viewFeeds lists the conditions in which a trigger has to be fed, and how
// the choice feeds it there.
func viewFeeds(ch *plan.Choice, b workshop.Bench) (columns []string, feeds []feedView) {
	if ch.Sheet == nil {
		return nil, nil
	}
	for i := range ch.Sheet.Rows {
		r := &ch.Sheet.Rows[i]
		if r.ID != "trigger_feed" {
			continue
		}
		for j, col := range ch.Sheet.Columns {
			c := &r.Cells[j]
			if !c.Shown || !c.Limit.Exists() {
				continue
			}
			columns = append(columns, prove.Title(col.Name))
			mid, pm := parted(r.Text(c.Predicted.Mid, c.Predicted.PM(), b.Units))
			feeds = append(feeds, feedView{sign(c.State), c.State.String(), mid, pm, col.ID == b.Condition})
		}
	}
	return columns, feeds
}

func viewCut(cmp *plan.Comparison, sys units.System) *cutView {
	v := &cutView{For: cmp.CutFor.Option.Name, Removed: cmp.Cut.Removed, Moved: cmp.Cut.Moved, Parts: cmp.Cut.Parts, Cautions: cmp.Cut.Cautions}
	if w := cmp.Winner(); w != cmp.CutFor {
		v.Nothing = fmt.Sprintf("Nothing has to be cut for the first of the ranking, %s. If a trigger goes in:", w.Option.Name)
	}
	for _, x := range cmp.Cut.Wires {
		w := wireView{
			From: prove.Title(x.From), To: x.To, Ends: strings.Join(x.Terminals, "; "), Why: x.WhyThisOne, Fuse: x.Protected,
			Gauge:   fmt.Sprintf("%s (%s)", units.AWGName(x.AWG), units.Format(units.WireSection, x.SectionM2, units.Metric)),
			Carries: fmt.Sprintf("%s, peaks %s", units.Format(units.Current, x.CurrentA, sys), units.Format(units.Current, x.PeakA, sys)),
			Drop:    units.Format(units.Voltage, x.DropV, sys),
		}
		from := "assumed: measure the run"
		if x.Origin != car.Assumed {
			from = x.Origin.String()
		}
		w.Length = fmt.Sprintf("%s (%s)", units.Format(units.Length, x.LengthM, sys), from)
		if x.FuseA > 0 {
			w.Fuse = fmt.Sprintf("%g A at its source", x.FuseA)
		}
		v.Wires = append(v.Wires, w)
	}
	return v
}
