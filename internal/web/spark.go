package web

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/spark"
	"dwellwright/twin"
	"dwellwright/units"
)

// sparkView is the stage Spark.
type sparkView struct {
	Condition string // in words
	Still     string // why nothing fires in the condition looked at
	Facts     []factView
	Why       []string // what the plug asks, in sentences
	Rows      []shotRow
	Firing    *firingView

	PickFitting, PickRival, PickSpike pick

	working       sync.WaitGroup
	parts         []part
	views         []any
	errs          []error
	before, after func()
}

// factView is one figure of the firing.
type factView struct {
	Name, Mid, PM, Note string
	Mark                html
	Word                string
}

// shotRow is a condition's firing in the table.
type shotRow struct {
	Name, RPM                                        string
	Here                                             bool
	Mark                                             html
	Word                                             string
	Hand, Snap, Gives, Asks, Burn, Gap, Peak, Points string
}

// wantedInHand is what the spark in hand should come to, available over
// asked, for wear, damp and a tired battery [common practice, no source].
const wantedInHand = 1.4

// sparkCar works out the stage Spark.
func sparkCar(p *page, c *car.Car, b workshop.Bench, workers int) error {
	a := &sparkAsk{c: b.Apply(c), b: b, picks: p.picks, layout: p.Layout, edition: fmt.Sprint(p.N, " ", p.Edition), shelf: p.shelf}
	v := &sparkView{Condition: p.Bench.CondName}
	p.Spark = v
	if !p.Live { // the page is whole without a script
		v.views, v.errs = make([]any, len(sparkParts)), make([]error, len(sparkParts))
		v.working.Go(func() {
			for i, x := range sparkParts {
				v.views[i], v.errs[i] = x.work(a)
			}
		})
	}
	err := v.first(p, a)
	draws := partDraws(b.Draws, quickDraws/2, 1000) // so that few drawn more or less make no other address
	for _, x := range sparkParts {
		v.parts = append(v.parts, part{ID: "spark-" + x.name, Later: p.Live,
			Address: fmt.Sprintf("/cars/%d/spark/%s?%s&draws=%d", p.N, x.name, p.query(), draws)})
	}
	return err
}

// first works out what stands at the top of the page.
func (v *sparkView) first(p *page, a *sparkAsk) error {
	d, shots, err := shotsOf(a, a.b.Draws)
	if err != nil {
		return err
	}
	p.Verdict = sparkVerdict(d, shots, a)
	v.fill(d, shots, a.b)
	if v.Firing, err = viewFiring(a, p.Live && a.b.Draws <= quickDraws/4); err != nil && !errors.Is(err, twin.ErrNoFiring) {
		return err
	}
	if v.Firing != nil {
		v.Firing.Address = fmt.Sprintf("/cars/%d/spark/trace.json?%s", p.N, p.query())
	}
	v.PickFitting = pick{"fitting", "Switch on the map", fittings(spark.Of(d), a.picks.Fitting)}
	v.PickRival = pick{"rival", "One more to compare", fittings(spark.Fittings, rival(d, a.picks).ID())}
	v.PickSpike = pick{"spike", "Spike drawn", spikeChoices(a)}
	return nil
}

// Wait is called by the template where the parts begin: what stands before
// them is sent, then they are waited for.
func (v *sparkView) Wait() string {
	if v.before != nil {
		v.before()
	}
	v.working.Wait()
	for i := range v.views {
		v.parts[i].View = v.views[i]
		if v.errs[i] != nil {
			v.parts[i].Failed = plainly(v.errs[i])
		}
	}
	if v.after != nil {
		v.after()
	}
	return ""
}

// Part gives a part by its name to the template.
func (v *sparkView) Part(name string) part {
	for _, p := range v.parts {
		if p.ID == "spark-"+name {
			return p
		}
	}
	return part{}
}

// shots are the firings of a wired car.
type shots struct {
	car  *car.Car
	list []spark.Shot
}

// shotsOf works out the firings of the car as it is wired at the bench.
func shotsOf(a *sparkAsk, draws int) (*car.Car, []spark.Shot, error) {
	s, err := kept(a.keep(draws), a.key("shots", false, draws), func() (shots, error) {
		d, list, err := workshop.Shots(a.c, prove.Settings{Option: a.b.Option, Draws: draws, Seed: 1})
		return shots{d, list}, err
	})
	return s.car, s.list, err
}

// state is where a predicted figure stands that should be no less than one.
func state(i spark.Interval) prove.State {
	switch {
	case i.Lo >= 1:
		return prove.NotProven // only a spark tester proves it
	case i.Hi < 1:
		return prove.FallsShort
	}
	return prove.Doubtful
}

// hardest is the least a condition has in hand: with the throttle snapped
// open where that is harder.
func hardest(s *spark.Shot) (spark.Interval, bool) {
	hand, snap := s.Figure("spark_in_hand"), s.Figure("snap_in_hand")
	switch {
	case hand == nil:
		return spark.Interval{}, false
	case snap != nil && snap.Interval.Mid < hand.Interval.Mid:
		return snap.Interval, true
	}
	return hand.Interval, false
}

// sparkVerdict says what is in hand in the condition looked at and in the
// worst one.
func sparkVerdict(d *car.Car, list []spark.Shot, a *sparkAsk) verdict {
	b := a.b
	var here, worst *spark.Shot
	var least spark.Interval
	snapped := false
	for i := range list {
		s := &list[i]
		if s.Figure("spark_in_hand") == nil {
			continue
		}
		if s.Condition == b.Condition {
			here = s
		}
		if x, snap := hardest(s); worst == nil || x.Mid < least.Mid {
			worst, least, snapped = s, x, snap
		}
	}
	if worst == nil {
		return verdict{Head: "Nothing fires: no condition of this car has the engine turning", Detail: "Add a cranking or running condition to the car file, and its spark is worked out here."}
	}
	st := state(least)
	v := verdict{Mark: mark(st), State: stateClass(st)}
	if here != nil {
		v.Head = fmt.Sprintf("Spark in hand: %s in %s", times(here.Figure("spark_in_hand").Interval), lower(here.Name))
	} else {
		v.Head = fmt.Sprintf("Nothing fires in %s", lower(condition(d, b.Condition).Name))
	}
	where := lower(worst.Name)
	if snapped {
		where += " with the throttle snapped open"
	}
	v.Head += fmt.Sprintf("; least %s, %s", times(least), where)
	means := "more than the plug asks throughout"
	switch {
	case st == prove.FallsShort:
		means = "that is less than the plug asks: it misfires there"
	case st == prove.Doubtful:
		means = "it may miss there"
	case least.Mid < wantedInHand:
		means = fmt.Sprintf("it fires, with less in hand than the %g times that are wanted for wear and damp", wantedInHand)
	}
	v.Detail = fmt.Sprintf("Predicted, what the coil gives over what plug and rotor gap ask: 1 just fires; %s.", means)
	if here != nil {
		head, _ := partingWords(d, here)
		v.Detail += fmt.Sprintf(" Here it burns %s and puts %s into the gap", told(here, "burn_time", b.Units), told(here, "gap_energy", b.Units))
		if !d.Switch.Kind.Electronic() {
			v.Detail += "; at the points: " + head
		}
		v.Detail += "."
	}
	return v
}

// lower writes a condition's name for the middle of a sentence.
func lower(s string) string {
	if s == "" || len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// times writes a ratio: "2.7 ± 1.1 times".
func times(i spark.Interval) string { return of(units.Ratio, i, units.Metric) + " times" }

// of writes an interval with unit and plus-or-minus.
func of(k units.Kind, i spark.Interval, sys units.System) string {
	v := units.Value{X: i.Mid, PM: i.PM(), Shape: units.Normal}
	if math.IsNaN(i.Mid) {
		return "none"
	}
	if v.PM < 1e-3*math.Abs(v.X) { // nothing drawn, or nothing uncertain
		return minus(units.Format(k, i.Mid, sys))
	}
	return minus(units.FormatValue(k, v, sys))
}

// figureKinds are the kinds of a firing's figures by ID.
var figureKinds = map[string]units.Kind{
	"spark_in_hand": units.Ratio, "snap_in_hand": units.Ratio, "available": units.Voltage, "asked": units.Voltage, "snap_asked": units.Voltage,
	"burn_time": units.Time, "gap_energy": units.Energy, "primary_peak": units.Voltage, "contact_energy": units.Energy, "junction": units.Temperature,
}

// told writes a figure of a shot, "" where there is none.
func told(s *spark.Shot, id string, sys units.System) string {
	f := s.Figure(id)
	if f == nil {
		return ""
	}
	if f.Interval.Hi < 5e-6 && figureKinds[id] == units.Energy {
		return "none"
	}
	return of(figureKinds[id], f.Interval, sys)
}

func (v *sparkView) fill(d *car.Car, list []spark.Shot, b workshop.Bench) {
	var here *spark.Shot
	for i := range list {
		s := &list[i]
		if s.Condition == b.Condition {
			here = s
		}
		least, _ := hardest(s)
		cell := func(id string) string { return tight(told(s, id, b.Units)) }
		row := shotRow{
			Name: prove.Title(s.Name), RPM: units.Format(units.Speed, s.RPM, b.Units), Here: s.Condition == b.Condition,
			Hand: cell("spark_in_hand"), Snap: cell("snap_in_hand"), Gives: cell("available"), Asks: cell("asked"),
			Burn: cell("burn_time"), Gap: cell("gap_energy"), Peak: cell("primary_peak"), Points: partingBrief(d, s),
		}
		if s.Figure("spark_in_hand") != nil {
			st := state(least)
			row.Mark, row.Word = sign(st), st.String()
		}
		v.Rows = append(v.Rows, row)
	}
	if here == nil || here.Figure("spark_in_hand") == nil {
		v.Still = "The engine is stopped in this condition, so nothing fires. The figures of the conditions in which it turns are below."
		if here != nil {
			v.Still = "The switch does not open in this condition, so nothing fires: the dwell or the circuit leaves no current to break."
		}
		return
	}
	v.Facts = sparkFacts(d, here, b.Units)
	v.Why = asks(d, here, b.Units)
}

// sparkFacts are the figures of one firing.
func sparkFacts(d *car.Car, s *spark.Shot, sys units.System) []factView {
	var list []factView
	add := func(id, name, note string, judged bool) {
		t := told(s, id, sys)
		if t == "" {
			return
		}
		f := factView{Name: name, Note: note}
		f.Mid, f.PM = parted(t)
		if judged {
			st := state(s.Figure(id).Interval)
			f.Mark, f.Word = sign(st), st.String()
			f.Mid += " times"
			if f.PM != "" {
				f.Mid = strings.TrimSuffix(f.Mid, " times")
				f.PM += " times"
			}
		}
		list = append(list, f)
	}
	add("spark_in_hand", "Spark in hand", "available over asked; at least 1", true)
	add("snap_in_hand", "Throttle snapped open", "the hardest moment at this speed", true)
	add("available", "The coil gives", "at its tower, no gap firing", false)
	add("asked", "The plug asks", "with the rotor gap", false)
	add("burn_time", "Burning time", "under 0.8 ms is weak at idle and part load (common practice)", false)
	add("gap_energy", "Into the gap", "of the energy in the coil", false)
	add("primary_peak", "Primary peak", "across the switch as it opens", false)
	if !d.Switch.Kind.Electronic() {
		head, _ := partingWords(d, s)
		list = append(list, factView{Name: "At the points", Mid: head, Note: "arcs lose " + told(s, "contact_energy", sys)})
	} else {
		add("junction", "Module's junction", "kept at this for good", false)
	}
	return list
}

// partingBrief is the verdict on the break in a word.
func partingBrief(d *car.Car, s *spark.Shot) string {
	head, _ := partingWords(d, s)
	return head
}

// partingWords is the verdict on the break: in a word, and why.
func partingWords(d *car.Car, s *spark.Shot) (head, why string) {
	switch spark.Parting(d, &s.Spark.Firing) {
	case spark.PartClean:
		return "clean", "The points part clean: the condenser keeps their voltage below what the opening gap stands."
	case spark.PartArcs:
		return "they arc", fmt.Sprintf("The points strike again while they part (%d times): that pits them, and the spark pays for it.", max(s.Spark.Firing.Restrikes, 1))
	case spark.PartStands:
		return "an arc stands", "An arc stands between the points: the condenser is missing, or far too small."
	}
	return "no contacts", "No contacts part here: the trigger's transistor opens, and its clamp bounds the primary voltage."
}

// asks says what the plug asks and why, in sentences.
func asks(d *car.Car, s *spark.Shot, sys units.System) []string {
	r := s.Asked
	kv := func(v float64) string { return units.Format(units.Voltage, v, sys) }
	asked := s.Figure("asked")
	out := []string{fmt.Sprintf("In %s, at %s, the plug asks for %s (predicted): %s to break down its gap of %s, where the gas stands at %s and %s when it fires, and %s for the rotor gap of %s.",
		lower(s.Name), units.Format(units.Speed, s.RPM, sys), of(units.Voltage, asked.Interval, sys), kv(r.PlugV), lengthOf(&d.Plugs.Gap, sys),
		units.Format(units.Pressure, r.PressurePa, sys), units.Format(units.Temperature, r.TempK-273.15, sys), kv(r.RotorV), lengthOf(&d.Cap.RotorGap, sys))}
	if f := s.Figure("snap_asked"); f != nil {
		out = append(out, fmt.Sprintf("With the throttle snapped open the cylinder fills, and it asks for %s (predicted).", of(units.Voltage, f.Interval, sys)))
	}
	if more := spark.WrongPolarity(d, s); more > 0 {
		out = append(out, fmt.Sprintf("The coil's primary leads are reversed: the plug's hot electrode is positive, which asks %s of that (15 to 40 %% more, common practice). Swap the two leads.", kv(more)))
	}
	_, why := partingWords(d, s)
	return append(out, why)
}

// lengthOf writes a gap with where it comes from.
func lengthOf(p *car.Param, sys units.System) string {
	return units.Format(units.Length, p.X, sys) + " (" + p.Origin.String() + ")"
}

// fittings lists the switches that can be looked at; wired is the one fitted,
// which "" stands for, or spark.Fittings for none.
func fittings(wired spark.Fitting, picked string) []choice {
	var list []choice
	if wired < spark.Fittings {
		list = append(list, choice{ID: "", Name: "as wired at the bench (" + wired.String() + ")", On: picked == ""})
	}
	for f := spark.Fitting(0); f < spark.Fittings; f++ {
		list = append(list, choice{ID: f.ID(), Name: f.String(), On: picked == f.ID()})
	}
	return list
}

// plainly writes an error for a person.
func plainly(err error) string {
	if errors.Is(err, twin.ErrNoFiring) {
		return "the engine stands still, nothing fires"
	}
	t := err.Error()
	for _, pre := range []string{"spark: ", "twin: ", "spike: ", "circuit: ", "firing: "} {
		t = strings.TrimPrefix(t, pre)
	}
	return t
}
