package web

import (
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/internal/workshop"
	"dwellwright/plan"
	"dwellwright/prove"
	"dwellwright/twin"
	"dwellwright/units"
)

// cycleView is one switching cycle: from one make of the points or trigger
// to the next.
type cycleView struct {
	Feed, Current html
	FeedName      string
	Caption       string
}

// cycle is what is sampled over one cycle.
type cycle struct {
	ms, volts, amps []float64
	trigger         bool // the trigger's feed, else the coil's
}

// samples of a cycle, besides those at each event.
const samples = 240

// trace samples a cycle of the middle car; nil when nothing switches.
func trace(f *workshop.Found) (*cycle, error) {
	m, err := twin.Build(f.Car, f.Condition.ID)
	if err != nil || !m.Switched() {
		return nil, err
	}
	x := &cycle{trigger: true}
	red := "trigger_supply"
	if _, ok := m.Point(red); !ok {
		red, x.trigger = "coil_feed", false
	}
	specs := []twin.Spec{
		{Instrument: twin.Voltmeter, Red: red, Black: "breaker_plate"},
		{Instrument: twin.ClampAmmeter, Red: "coil"},
	}
	err = m.Trace(specs, samples, func(t float64, v []float64) {
		x.ms = append(x.ms, 1000*t)
		x.volts = append(x.volts, v[0])
		x.amps = append(x.amps, v[1])
	})
	return x, err
}

// viewCycle draws a cycle with the limits of the proof sheet.
func viewCycle(x *cycle, s *prove.Sheet, k *car.Condition, sys units.System) *cycleView {
	v := &cycleView{FeedName: "coil feed"}
	if x.trigger {
		v.FeedName = "trigger feed"
	}
	v.Caption = fmt.Sprintf("One lobe at %s, every figure of the car at its middle: predicted.", units.Format(units.Speed, k.Speed.X, sys))
	most := 0.0
	for _, u := range x.volts {
		most = math.Max(most, u)
	}
	volts := draw.CurveSpec{
		Title: prove.Title(v.FeedName) + " to breaker plate", W: 380, H: 250,
		X: draw.Axis{Label: "time", Unit: "ms"}, Y: draw.Axis{Label: "voltage", Unit: "V", Hi: math.Ceil(most/2+0.5) * 2},
		Series: []draw.Series{{Name: v.FeedName, X: x.ms, Y: x.volts, Origin: draw.Predicted}},
	}
	if x.trigger {
		volts.Limits = lineOf(s, "trigger_feed", k.ID, "lowest allowed")
	}
	scene, err := draw.Curve(volts)
	v.Feed = picture(scene, err, "feed")
	amps := draw.CurveSpec{
		Title: "Coil current", W: 380, H: 250,
		X: draw.Axis{Label: "time", Unit: "ms"}, Y: draw.Axis{Label: "current", Unit: "A"},
		Series: []draw.Series{{Name: "coil current", X: x.ms, Y: x.amps, Origin: draw.Predicted}},
		Limits: lineOf(s, "coil_current", k.ID, "most at the break"),
	}
	scene, err = draw.Curve(amps)
	v.Current = picture(scene, err, "current")
	return v
}

// lineOf is the limit of a cell of the sheet as a line in a chart.
func lineOf(s *prove.Sheet, row, column, name string) []draw.CurveLimit {
	for i := range s.Rows {
		if s.Rows[i].ID != row {
			continue
		}
		for j, col := range s.Columns {
			if l, ok := drawLimit(s.Rows[i].Cells[j].Limit); ok && col.ID == column {
				return []draw.CurveLimit{{Name: name, Limit: l}}
			}
		}
	}
	return nil
}

// drawLimit is a one-sided limit as a picture has it.
func drawLimit(l prove.Limit) (draw.Limit, bool) {
	switch {
	case !l.Exists():
		return draw.Limit{}, false
	case math.IsInf(l.Hi, 1):
		return draw.Limit{Side: draw.AtLeast, At: l.Lo}, true
	}
	return draw.Limit{Side: draw.AtMost, At: l.Hi}, true
}

// feedBars is the trigger's feed in every condition, or the coil current of
// points, which need no feed. All choices get the same axis, so that they can
// be read side by side.
func feedBars(ch *plan.Choice, sys units.System) draw.BarsSpec {
	scale := float64(ch.Sheet.Car.NominalV) / 12
	spec := draw.BarsSpec{Title: "Trigger feed, lowest instant", Unit: "V", Width: 360, Lo: 4 * scale, Hi: 16 * scale}
	row := "trigger_feed"
	if !ch.Sheet.Car.Switch.Kind.Electronic() {
		spec.Title, spec.Unit, spec.Lo, spec.Hi = "Points need no feed; coil current at the break", "A", 0, 8
		row = "coil_current"
	}
	for i := range ch.Sheet.Rows {
		r := &ch.Sheet.Rows[i]
		if r.ID != row {
			continue
		}
		for j := range r.Cells {
			c := &r.Cells[j]
			if !c.Shown || !c.Limit.Exists() {
				continue
			}
			bar := draw.BarRow{
				Label: prove.Title(ch.Sheet.Columns[j].Name), Value: c.Predicted.Mid, PlusMinus: c.Predicted.PM(),
				Text: r.Text(c.Predicted.Mid, c.Predicted.PM(), sys), Origin: draw.Predicted, Mark: marks[c.State],
			}
			bar.Limit, _ = drawLimit(c.Limit)
			if c.Wanted != nil {
				bar.Wanted = draw.Range{On: true, Lo: c.Wanted.Lo, Hi: c.Wanted.Hi}
			}
			spec.Rows = append(spec.Rows, bar)
		}
	}
	return spec
}
