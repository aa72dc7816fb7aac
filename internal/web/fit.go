package web

import (
	"fmt"
	"math"
	"strings"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/fit"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/twin"
	"dwellwright/units"
)

// fitCar works out the stage Fit and time.
func fitCar(p *page, c *car.Car, b workshop.Bench, _ int) error {
	option := fitOption(c, b, p.picks)
	tried := p.picks.Fit.Apply(b.Apply(c))
	f, anew, err := rested(p, fitKey(p, c, option), func(draws int) (*fit.Fit, error) {
		return workshop.Fit(tried, fit.Settings{Option: option, Draws: draws, Seed: 1})
	})
	if err != nil {
		return err
	}
	p.Draws = f.Draws
	t := f.Try(p.picks.Fit.Move, p.picks.Fit.Drawn)
	p.Verdict = fitVerdict(f, t, b.Units)
	p.Fit = viewFit(p, f, t, anew)
	return nil
}

// rank puts states in order, good to bad.
var rank = map[prove.State]int{prove.None: 0, prove.Holds: 1, prove.NotProven: 2, prove.Doubtful: 3, prove.FallsShort: 4}

func worse(list ...prove.State) prove.State {
	out := prove.None
	for _, s := range list {
		if rank[s] > rank[out] {
			out = s
		}
	}
	return out
}

// timingState is where a timing stands against the one wanted: only a light
// proves it.
func timingState(f *fit.Fit, t fit.Trial) prove.State {
	off, pm, tol := math.Abs(t.Timing.Mid-f.Timing.Wanted.Mid), f.Timing.Off.PM(), f.Timing.Tolerance
	switch {
	case off-pm > tol:
		return prove.FallsShort
	case off+pm > tol:
		return prove.Doubtful
	}
	return prove.NotProven
}

// registerState is where a rotor's register stands.
func registerState(v distributor.RegisterVerdict) prove.State {
	switch v {
	case distributor.InRegister:
		return prove.NotProven
	case distributor.OnEdge:
		return prove.Doubtful
	}
	return prove.FallsShort
}

// crankWords says in a few words whether an engine may be cranked so, and how
// that stands. A spark in the wrong cylinder is no better for coming in time.
func crankWords(t fit.Trial) (string, prove.State) {
	switch {
	case t.Blocked != "":
		return "no room to stand so", prove.FallsShort
	case t.Register.Verdict == distributor.WrongTower:
		return "do not crank", prove.FallsShort
	case t.Register.Verdict == distributor.Jumps && t.Start.Verdict <= distributor.StartsLate:
		return "set it before you crank", prove.FallsShort
	}
	switch t.Start.Verdict {
	case distributor.StartsWell:
		return "may be cranked", prove.NotProven
	case distributor.StartsLate:
		return "may be cranked, starts late", prove.Doubtful
	case distributor.HardToStart:
		return "set it before you crank", prove.Doubtful
	}
	return "do not crank", prove.FallsShort
}

// offWords says how far a timing is off the one wanted.
func offWords(f *fit.Fit, t fit.Trial) string {
	off := t.Timing.Mid - f.Timing.Wanted.Mid
	pm := f.Timing.Off.PM()
	if math.Abs(off) <= f.Timing.Tolerance {
		return fmt.Sprintf("timing as wanted, %s", advanceWords(t.Timing))
	}
	way := "early"
	if off < 0 {
		way = "late"
	}
	return fmt.Sprintf("timing %s %s", plusMinus(math.Abs(off), pm, "°"), way)
}

// plusMinus writes a figure with its half-width, if that is more than nothing.
func plusMinus(x, pm float64, unit string) string {
	if pm < 0.05 {
		return fmt.Sprintf("%.1f%s", x, unit)
	}
	return fmt.Sprintf("%.1f ± %.1f%s", x, pm, unit)
}

// advanceWords writes a timing as it is read on the damper.
func advanceWords(i twin.Interval) string {
	if i.Mid < 0 {
		return plusMinus(-i.Mid, i.PM(), "°") + " after top dead centre"
	}
	return plusMinus(i.Mid, i.PM(), "°") + " before top dead centre"
}

// fitVerdict says whether the timing is off, whether the engine may be
// cranked so, and how the rotor stands.
func fitVerdict(f *fit.Fit, t fit.Trial, sys units.System) verdict {
	crank, crankState := crankWords(t)
	word, sentence := fit.VerdictWords(t.Register.Verdict)
	state := worse(timingState(f, t), registerState(t.Register.Verdict), crankState)
	if t.Blocked != "" {
		state = prove.FallsShort
	}
	v := verdict{Mark: mark(state), State: stateClass(state)}
	v.Head = prove.Title(offWords(f, t)) + "; " + crank + "; rotor " + word
	var say []string
	if t.Blocked != "" {
		say = append(say, "Turned so the housing "+t.Blocked+".")
	}
	if t.Move == (distributor.Move{}) {
		where := "worked out"
		if f.Timing.Seen {
			where = "seen with a light"
		}
		say = append(say, fmt.Sprintf("Nothing turned: %s at %s, %s; wanted %s.", advanceWords(t.Timing), units.Format(units.Speed, f.Timing.SeenRPM, sys), where, advanceWords(f.Timing.Wanted)))
	} else {
		say = append(say, fmt.Sprintf("With %s: %s, predicted. Put a light to it.", fit.Brief(t.Move), advanceWords(t.Timing)))
	}
	v.Detail = strings.Join(say, " ") + " " + saysOf(t) + sentence
	return v
}

// saysOf says what a first start would be like, where the spark comes to its
// own cylinder.
func saysOf(t fit.Trial) string {
	if t.Blocked != "" || t.Register.Verdict == distributor.WrongTower {
		return ""
	}
	return t.Start.Words + " "
}

// fitBench fills the bench of the stage Fit and time.
func fitBench(v *benchView, c *car.Car, b workshop.Bench, look picks) {
	t := look.Fit
	option := fitOption(c, b, look)
	usual := fit.Usual(c)
	for i := range v.Options {
		o := &v.Options[i]
		o.On = o.ID == option
		if o.ID == usual {
			o.ID = "" // what is looked at where nothing is said
		}
	}
	if t.Move != (distributor.Move{}) {
		v.Tried = append(v.Tried, fit.Brief(t.Move))
	}
	v.Tried = append(v.Tried, t.Tried(b.Units)...)
	wired := c
	if o, err := twin.OptionByID(option); err == nil {
		if d, err := o.Apply(c); err == nil {
			wired = d
		}
	}
	trigger := wired.Switch.Kind.Electronic()
	points := "points are fitted in this wiring"
	add := func(name, brief, label, filed, back, off string, d dial, at, from float64) {
		x := control{Name: name, Brief: brief, Label: label, Filed: filed, Back: back, Off: off, Text: t.Text(name, b.Units)}
		x.Tried = x.Text != ""
		x.Slider = d.slider(from, at)
		v.Controls = append(v.Controls, x)
	}
	degrees := func(name string) dial {
		lo, hi := workshop.FitSpan(c, name)
		return dial{math.Max(lo, -180), math.Min(hi, 180), 0.5, "°", false, same}
	}
	move := func(name, brief, label, hint, off string) {
		add(name, brief, label, hint, "put back", off, degrees(name), t.At(name, 0), 0)
		v.Controls[len(v.Controls)-1].Still = "0°"
	}
	steps := func(name, brief, label, hint, off string) {
		lo, hi := workshop.FitSpan(c, name)
		add(name, brief, label, hint, "put back", off, dial{lo, hi, 1, "", false, same}, t.At(name, 0), 0)
		x := &v.Controls[len(v.Controls)-1]
		x.Steps, x.Still = true, "0"
	}
	move("turn", "Housing", "Housing turned", "clockwise; anticlockwise below 0", "")
	move("trigger", "Trigger", "Trigger moved", slotHint(c.Distributor.TriggerSlot, "its slot gives"), map[bool]string{false: points}[trigger])
	steps("leads", "Leads", "Leads moved on", "towers, the way the rotor turns", "")
	off := ""
	if c.Distributor.Teeth < 2 {
		off = "this drive goes in one way only"
	}
	steps("teeth", "Teeth", "Drive moved on", fmt.Sprintf("teeth of %d; it has to come out", c.Distributor.Teeth), off)
	move("sleeve", "Sleeve", "Sleeve turned", slotHint(c.Distributor.SleeveTurn, "it can be turned by"), map[bool]string{false: points}[trigger])
	off = ""
	if _, most := workshop.FitSpan(c, "drawn"); most <= 0 {
		off = "no vacuum can is fitted"
	}
	move("drawn", "Vacuum", "Vacuum plate drawn", "by the can", off)
	length := func(name, brief, label string, p *car.Param, lo, hi float64, off string) {
		d := dial{lo * 1e3, hi * 1e3, 0.05, " mm", false, func(x float64) float64 { return 1e3 * x }}
		if b.Units == units.Inch {
			per := 1 / 25.4e-6
			d = dial{math.Round(lo * per), math.Round(hi * per), 1, " mil", false, func(x float64) float64 { return per * x }}
		}
		add(name, brief, label, units.FormatValue(p.Kind, p.Value, b.Units)+", "+p.Origin.String(), "as filed", off, d, t.At(name, p.X), p.X)
		v.Controls[len(v.Controls)-1].Still = "as filed"
	}
	length("gap", "Air gap", "Air gap", &c.Trigger.Gap, 0.1e-3, 3e-3, map[bool]string{false: points}[trigger])
	length("axial", "In line", "Magnets above the sensor", &c.Trigger.AxialOffset, -3e-3, 3e-3, map[bool]string{false: points}[trigger])
	length("lift", "Lift", "Sleeve holds the rotor up by", &c.Trigger.RotorLift, 0, 4e-3, map[bool]string{false: points}[trigger])
	length("play", "End play", "End play of the shaft", &c.Distributor.EndPlay, 0, 2e-3, "")
	for i := range v.Controls {
		switch v.Controls[i].Name {
		case "turn":
			v.Controls[i].Group = "Moved, seen from above"
		case "gap":
			v.Controls[i].Group = "Gap and heights"
		}
	}
}

// slotHint says how far a thing can be moved as it is.
func slotHint(p car.Param, what string) string {
	if p.X <= 0 {
		return "can't be moved as it is (" + p.Origin.String() + ")"
	}
	return fmt.Sprintf("%s %s either way (%s)", what, units.Format(units.DistributorAngle, p.X, units.Metric), p.Origin)
}
