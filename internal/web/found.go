package web

import (
	"sync"

	"dwellwright/car"
	"dwellwright/draw"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/units"
)

// foundView is the stage As found.
type foundView struct {
	Heading    string
	Wide, Tall html // the wiring picture for a laptop and for a phone
	Cycle      *cycleView
	Still      string // why there is no cycle to show
	Points     []pointRow
	Assumed    []workshop.FigureView
	Stated     int
}

// pointRow is a test point in words.
type pointRow struct{ Name, Mean, Low, High string }

// lookAtCar works out the stage As found. The verdict is that of the proof
// sheet, on the condition looked at and what is read with the key off.
func lookAtCar(p *page, c *car.Car, b workshop.Bench, workers int) error {
	var (
		f       *workshop.Found
		turn    *cycle
		sheet   *prove.Sheet
		errF    error
		errS    error
		waiting sync.WaitGroup
	)
	waiting.Go(func() {
		if f, errF = workshop.Look(c, b); errF == nil {
			turn, errF = trace(f)
		}
	})
	waiting.Go(func() {
		sheet, errS = workshop.Prove(oneCondition(b.Apply(c), b.Condition), settings(b, b.Option, workers))
	})
	waiting.Wait()
	for _, err := range []error{errF, errS} {
		if err != nil {
			return err
		}
	}
	p.Verdict = sheetVerdict(sheet)
	v := &foundView{
		Heading: "wired: " + f.Option.Name,
		Assumed: f.Assumed, Stated: f.Stated,
	}
	if turn != nil {
		v.Cycle = viewCycle(turn, sheet, f.Condition, b.Units)
	} else {
		v.Still = "The engine is stopped in this condition, so nothing switches: each voltage stands still."
	}
	f.Wiring.Title = prove.Title(f.Condition.Name)
	if p.Layout != "tall" {
		scene, err := draw.Wiring(f.Wiring)
		v.Wide = picture(scene, err, "wide")
	}
	if p.Layout != "wide" {
		f.Wiring.Tall = true
		scene, err := draw.Wiring(f.Wiring)
		v.Tall = picture(scene, err, "tall")
	}
	for _, x := range f.Points {
		row := pointRow{Name: x.Name, Mean: "0 V"}
		if x.ID != "battery_earth" {
			row.Mean = estimate(units.Voltage, x.Mean.Mid, x.Mean.PM(), b.Units)
			if f.Condition.Engine == car.Running || f.Condition.Engine == car.Cranking {
				row.Low = estimate(units.Voltage, x.Low.Mid, x.Low.PM(), b.Units)
				row.High = estimate(units.Voltage, x.High.Mid, x.High.PM(), b.Units)
			}
		}
		v.Points = append(v.Points, row)
	}
	p.Found = v
	return nil
}

// oneCondition is the car asked about one condition only, besides the key
// being off.
func oneCondition(c *car.Car, id string) *car.Car {
	d := *c
	d.Conditions = nil
	for _, k := range c.Conditions {
		if k.ID == id || k.Engine == car.StoppedOpen {
			d.Conditions = append(d.Conditions, k)
		}
	}
	return &d
}

// settings are those of a sheet for the bench.
func settings(b workshop.Bench, option string, workers int) prove.Settings {
	return prove.Settings{Option: option, Draws: b.Draws, Seed: 1, Each: workshop.Parallel(workers)}
}

// sheetVerdict is a sheet's verdict with the mark of its worst cell.
func sheetVerdict(s *prove.Sheet) verdict {
	state := prove.None
	if _, _, cell, ok := s.Worst(); ok {
		state = cell.State
	}
	return speak(state, s.Verdict())
}

// estimate writes a predicted figure; what is nothing but rounding is
// nothing.
func estimate(k units.Kind, mid, pm float64, sys units.System) string {
	if mid < 5e-4 && mid > -5e-4 && pm < 5e-4 {
		return "0 V"
	}
	return units.FormatValue(k, units.Value{X: mid, PM: pm, Shape: units.Normal}, sys)
}
