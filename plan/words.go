package plan

import (
	"fmt"
	"math"

	"dwellwright/prove"
	"dwellwright/units"
)

// Text writes a finding in words.
func (f *Finding) Text(sys units.System) string {
	v, pm := f.Cell.Shows()
	return fmt.Sprintf("%s, %s: %s %s, limit %s (%s)", f.Row.Name, f.Column.Name, f.Cell.Origin(),
		f.Row.Text(v, pm, sys), f.Row.LimitText(f.Cell, sys), f.Cell.Limit.Source)
}

// State is how a choice stands: by its worst critical cell.
func (ch *Choice) State() prove.State {
	switch {
	case ch.Unfit != "":
		return prove.None
	case len(ch.Short) > 0:
		return prove.FallsShort
	case len(ch.Doubt) > 0:
		return prove.Doubtful
	}
	return prove.NotProven
}

// Verdict is the comparison in a sentence or two.
func (c *Comparison) Verdict() string {
	w := c.Winner()
	if w == nil {
		return "None of the ways can be had on this car."
	}
	text := fmt.Sprintf("Best: %s. ", w.Option.Name)
	switch w.State() {
	case prove.FallsShort:
		text += fmt.Sprintf("Even so it falls short: %s.", w.Short[0].Text(units.Metric))
	case prove.Doubtful:
		text += fmt.Sprintf("Doubtful: %s.", w.Doubt[0].Text(units.Metric))
	default:
		text += fmt.Sprintf("Nothing critical is expected to fall short; closest is %s. Prove it by reading.", w.Worst.Text(units.Metric))
	}
	if note := c.FittedNote(); note != "" {
		text += " " + note
	}
	if p := c.Planned(); p != nil {
		lead := fmt.Sprintf("What the file plans, %s, ", p.Option.Name)
		switch {
		case p == w:
			text += " That is what the file plans."
		case p.Unfit != "":
			text += " " + lead + "cannot be had: " + p.Unfit + "."
		case p.State() == prove.FallsShort:
			text += " " + lead + "FALLS SHORT: " + p.Short[0].Text(units.Metric) + "."
		case p.State() == prove.Doubtful:
			text += " " + lead + "is doubtful: " + p.Doubt[0].Text(units.Metric) + "."
		default:
			text += " " + lead + "is expected to hold too."
		}
	}
	for i := range c.Choices {
		ch := &c.Choices[i]
		if ch.State() == prove.FallsShort && ch != w && ch != c.Planned() {
			text += fmt.Sprintf(" %s FALLS SHORT: %s.", prove.Title(ch.Option.Name), ch.Short[0].Text(units.Metric))
			break
		}
	}
	return text
}

// FittedNote says how the wiring that is there already compares with the
// best, where it is one of the choices and stands no worse in what is
// critical; else "".
func (c *Comparison) FittedNote() string {
	f, w := c.Fitted(), c.Winner()
	switch {
	case f == nil || w == nil || f.Unfit != "":
		return ""
	case f == w:
		return "The car is wired so already: leave it."
	case f.Score.Short == w.Score.Short && f.Score.Doubt == w.Score.Doubt:
		return fmt.Sprintf("As wired now, %s, it stands no worse in what is critical: there is no need to change it for that.", f.Option.Name)
	}
	return ""
}

// Document is a comparison as JSON. Figures are in SI units. Its JSON Schema
// is schema/plan.schema.json.
type Document struct {
	Format  string           `json:"format" jsonschema:"enum=dwellwright-plan-1"`
	Car     string           `json:"car"`
	Verdict string           `json:"verdict"`
	Common  []string         `json:"common" jsonschema_description:"what falls short or is doubtful whichever is chosen; it does not rank"`
	Choices []DocumentChoice `json:"choices" jsonschema_description:"best first"`
	Wires   []DocumentWire   `json:"wires" jsonschema_description:"what the best needs cut"`
	Parts   []string         `json:"parts"`
	Removed []string         `json:"removed"`
	Moved   []string         `json:"moved"`
	Caution []string         `json:"cautions"`
}

// DocumentChoice is one way to wire the car.
type DocumentChoice struct {
	Option     string   `json:"option"`
	Name       string   `json:"name"`
	About      string   `json:"about"`
	Fitted     bool     `json:"fitted" jsonschema_description:"the car is wired so already"`
	Unfit      string   `json:"unfit,omitempty" jsonschema_description:"why it cannot be had on this car"`
	State      string   `json:"state" jsonschema:"enum=none,enum=not_yet_proven,enum=doubtful,enum=falls_short"`
	Margin     *float64 `json:"worst_margin,omitempty" jsonschema_description:"of the worst critical cell, as a part of its limit"`
	FallsShort []string `json:"falls_short"`
	Doubtful   []string `json:"doubtful"`
	Minor      []string `json:"minor"`
}

// DocumentWire is a wire to cut.
type DocumentWire struct {
	From      string   `json:"from"`
	To        string   `json:"to"`
	LengthM   float64  `json:"length_m"`
	AWG       string   `json:"awg"`
	SectionM2 float64  `json:"section_m2"`
	CurrentA  float64  `json:"current_a"`
	PeakA     float64  `json:"peak_a"`
	DropV     float64  `json:"drop_v"`
	FuseA     float64  `json:"fuse_a,omitempty"`
	Protected string   `json:"protected,omitempty" jsonschema_description:"what protects it where it has no fuse of its own"`
	Terminals []string `json:"terminals"`
}

// Document returns the comparison as it is written in JSON.
func (c *Comparison) Document() Document {
	d := Document{Format: "dwellwright-plan-1", Car: c.Car.Name, Verdict: c.Verdict(), Choices: []DocumentChoice{},
		Wires: []DocumentWire{}, Parts: []string{}, Removed: []string{}, Moved: []string{}, Caution: []string{}}
	texts := func(list []Finding) []string {
		out := []string{}
		for i := range list {
			out = append(out, list[i].Text(units.Metric))
		}
		return out
	}
	d.Common = texts(c.Common)
	for i := range c.Choices {
		ch := &c.Choices[i]
		state, _ := ch.State().MarshalText()
		x := DocumentChoice{Option: ch.Option.ID, Name: ch.Option.Name, About: ch.Option.About, Fitted: ch.Fitted, Unfit: ch.Unfit, State: string(state),
			FallsShort: texts(ch.Short), Doubtful: texts(ch.Doubt), Minor: texts(ch.Minor)}
		if m := ch.Score.Margin; ch.Unfit == "" && !math.IsInf(m, 0) {
			x.Margin = &m
		}
		d.Choices = append(d.Choices, x)
	}
	if c.Cut != nil {
		for _, w := range c.Cut.Wires {
			d.Wires = append(d.Wires, DocumentWire{w.From, w.To, w.LengthM, units.AWGName(w.AWG), w.SectionM2, w.CurrentA, w.PeakA, w.DropV, w.FuseA, w.Protected, w.Terminals})
		}
		d.Parts = append(d.Parts, c.Cut.Parts...)
		d.Removed = append(d.Removed, c.Cut.Removed...)
		d.Moved = append(d.Moved, c.Cut.Moved...)
		d.Caution = append(d.Caution, c.Cut.Cautions...)
		d.Caution = append(d.Caution, prove.Cautions(c.CutFor.Sheet.Car, prove.EngineRuns, prove.StarterTurns, prove.KeyOn, prove.Wiring)...)
	}
	return d
}
