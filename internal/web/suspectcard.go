package web

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"dwellwright/draw"
	"dwellwright/evidence"
	"dwellwright/internal/workshop"
	"dwellwright/measure"
	"dwellwright/prove"
	"dwellwright/suspect"
	"dwellwright/units"
)

// cardView is a reading to take: what it is, how, and the form of the answer.
type cardView struct {
	ID, Name   string
	Heading    string // "Next reading", "Read it again"
	Why        string // why this one
	Cautions   []cautionLine
	More       []string // cautions of the state the car is in for it
	Setup      string
	With       string
	Leads      []leadLine
	Where      string // where there are no two leads
	Engine     string
	Time       string
	Wide, Tall html
	Whole      html // all of the tall picture, where Tall is a part of it
	Shows      []showLine
	Trade      string // what the books say that a car in order shows
	YesNo      bool
	Units      []unitChoice
	Sign       string // what a minus means
	Pad        padView
	Text       string
	Wrong      string
	Example    string
	Instrument string // with its half-width
	Asked      bool   // of the owner
	Back       string // address of the reading proposed, where another was chosen
}

// stateHazards are those of what the car must do for a reading.
var stateHazards = map[measure.Need][]prove.Hazard{
	measure.NeedsNothing: {prove.Wiring},
	measure.NeedsKey:     {prove.KeyOn},
	measure.NeedsCrank:   {prove.StarterTurns, prove.EngineRuns},
	measure.NeedsRunning: {prove.EngineRuns},
}

// cautionLine is a hazard with its usual caution.
type cautionLine struct{ Letter, Name, Text string }

// leadLine is where a lead goes.
type leadLine struct{ Sign, Name, Place string }

// showLine is what a reading shows if something is so, with its place on the
// common axis of the card.
type showLine struct {
	Name, Text string
	Healthy    bool
	Strip      bool
	X, W       string // of 100
}

// padView says which keys the pad has.
type padView struct{ Minus, Over bool }

// stopView is to stop and mend.
type stopView struct {
	Kind     string // mend, nothing, unknown
	Heading  string
	Remedy   string // id
	Fault    string // what it is for
	Words    string
	Chance   string
	Time     string
	Parts    []string
	Cautions []string
	Proof    string // reading that proves it
	Shows    string // and what it must show then
	After    []string
	Now      string      // how long mending takes in all
	Bare     bool        // nothing is left to read
	Again    []againLine // what to read again, the strangest first
	Skipped  []againLine // what was left out and may still be read
}

// againLine is a reading that is asked for once more.
type againLine struct{ Name, Read, Ask string }

// cards fills in what is to be done next: a reading, or a repair.
func (a *suspectAsk) cards(v *suspectView) {
	l := a.look
	proposed := l.Choice.Reading
	switch {
	case a.ask != "" && a.measure(a.ask) != nil:
		v.Card = a.card(a.ask, "Reading chosen by you", "")
		if v.Card.ID != proposed || l.Mended {
			v.Card.Back = a.address(a.said, "")
		}
	case l.Mended && a.measure(l.Proof) != nil:
		why := "A complaint that is gone proves nothing: it comes and goes. This reading does."
		if a.stillThere() {
			why = "The complaint is still there. This reading says whether the work is good; if it is, there is a second fault."
		}
		v.Card = a.card(l.Proof, "Prove it: read again what showed the fault", why)
	case l.Choice.Stop && len(l.Choice.Steps) > 0:
		v.Stop = a.stop(l.Choice.Steps)
		a.leftToRead(v.Stop)
	case a.measure(proposed) != nil:
		v.Card = a.card(proposed, "Next reading", fmt.Sprintf("It saves most: about %s to the right remedy with it, %s without.", minutes(l.Choice.Best), minutes(l.Choice.Now)))
	}
}

func (a *suspectAsk) measure(id string) *measure.Measure {
	m, err := a.u.bank.Measure(id)
	if err != nil {
		return nil
	}
	return m
}

// card makes the card of a reading.
func (a *suspectAsk) card(id, heading, why string) *cardView {
	m := a.measure(id)
	k := &cardView{ID: id, Name: capital(m.Name), Heading: heading, Why: why, Engine: capital(m.Engine), With: m.With, Trade: strings.NewReplacer("Mohm", "MΩ", "kohm", "kΩ", " ohm", " Ω").Replace(m.Healthy),
		YesNo: m.Observation, Asked: m.Group == measure.Owner, Text: a.text, Wrong: a.wrong}
	if k.Asked {
		k.Trade = ""
	}
	for _, h := range m.Hazards {
		k.Cautions = append(k.Cautions, cautionLine{h.Letter(), capital(h.String()), h.Caution()})
	}
	if !k.Asked {
		k.More = prove.Cautions(a.c, stateHazards[m.Needs]...)
	}
	for _, s := range measure.Setups() {
		if s.ID == m.Setup {
			k.Setup = capital(s.Name)
		}
	}
	total := m.Minutes
	if m.Setup != a.setup() {
		total += m.SetupMinutes
	}
	k.Time = fmt.Sprintf("%s, estimated", minutes(total))
	k.Leads, k.Where = leadsOf(m.Probes)
	a.pictures(k, m)
	a.shows(k, m)
	if !k.YesNo {
		about := 0.0
		for _, f := range a.look.Foreseen[id] {
			if !math.IsNaN(f.Middle) && math.Abs(f.Middle) > about {
				about = math.Abs(f.Middle)
				break
			}
		}
		k.Units = unitsOf(m.Kind, a.sys, about)
		k.Example = example(m, about, a.sys)
		k.Instrument = capital(strings.NewReplacer(": ", ", good to ", " %", "\u00a0%", " A", "\u00a0A", " V", "\u00a0V").Replace(m.With))
		switch {
		case m.Kind == units.CrankAngle && strings.HasPrefix(id, "timing_") && id != "timing_scatter" && id != "timing_hose":
			k.Sign = "Before top dead centre as it is, after it with a minus."
		case m.Kind == units.Voltage && m.Group != measure.Secondary && m.Group != measure.Supply:
			k.Sign = "A minus where the meter shows one."
		case m.Kind == units.Current && strings.HasPrefix(id, "battery"):
			k.Sign = "A minus where the battery gives."
		}
		k.Pad = padView{Minus: k.Sign != "" || strings.HasPrefix(id, "rotor_phase"), Over: m.Kind == units.Resistance}
	}
	return k
}

// setup is the set-up the car is in.
func (a *suspectAsk) setup() string {
	all := a.said.all()
	for i := len(all) - 1; i >= 0; i-- {
		switch e := all[i]; e.Do {
		case workshop.Done:
			return ""
		case workshop.Figure, workshop.Report, workshop.Not:
			if m := a.measure(e.ID); m != nil {
				return m.Setup
			}
		}
	}
	return ""
}

// leadsOf takes the words of two leads apart.
func leadsOf(probes string) ([]leadLine, string) {
	first, second, ok := strings.Cut(probes, "; ")
	if !ok {
		return nil, capital(probes)
	}
	var list []leadLine
	for _, w := range []string{first, second} {
		colour, place, ok := strings.Cut(w, " lead on ")
		if !ok || colour != "red" && colour != "black" {
			return nil, capital(probes)
		}
		list = append(list, leadLine{colour, capital(colour) + " lead", place})
	}
	return list, ""
}

// example is a figure as it may be typed.
func example(m *measure.Measure, about float64, sys units.System) string {
	if about == 0 {
		return ""
	}
	return minus(units.Format(m.Kind, about, sys) + " or " + units.FormatValue(m.Kind, units.Value{X: about, PM: about / 20, Shape: units.Normal}, sys))
}

// probeDrawing is a wiring picture with the leads on it.
type probeDrawing struct{ wide, tall, whole html }

// pictures draws where the leads go. On a phone only the stretch with the leads
// stands in the card; all of it can be opened.
func (a *suspectAsk) pictures(k *cardView, m *measure.Measure) {
	d, _ := kept(a.shelf, fmt.Sprint("leads ", a.p.N, " ", a.p.Edition, " ", m.ID), func() (probeDrawing, error) {
		var d probeDrawing
		spec, ok := workshop.ProbePicture(a.c, m)
		if !ok {
			return d, nil
		}
		scene, err := draw.Wiring(spec)
		d.wide = picture(scene, err, "leads-wide")
		spec.Tall = true
		scene, err = draw.Wiring(spec)
		d.tall = picture(scene, err, "leads-tall")
		if lo, hi, ok := draw.WiringWindow(spec); ok && err == nil && hi-lo < 0.8*scene.H {
			d.whole = picture(scene, nil, "leads-whole")
			d.tall = window(d.tall, scene.W, scene.H, lo, math.Min(hi, scene.H))
		}
		return d, nil
	})
	k.Wide, k.Tall, k.Whole = d.wide, d.tall, d.whole
}

// window shows a stretch of a picture only.
func window(svg html, w, h, lo, hi float64) html {
	all := fmt.Sprintf(`viewBox="0 0 %s %s"`, plain(w), plain(h))
	return html(strings.Replace(string(svg), all, fmt.Sprintf(`viewBox="0 %s %s %s"`, plain(lo), plain(w), plain(hi-lo)), 1))
}

// shows says what the reading shows on a car in order and with each of the
// suspects in front, on one axis.
func (a *suspectAsk) shows(k *cardView, m *measure.Measure) {
	list := a.look.Foreseen[m.ID]
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, f := range list {
		if !math.IsNaN(f.Low) {
			lo, hi = math.Min(lo, f.Low), math.Max(hi, f.High)
		}
	}
	// Ohms and insulation go over decades.
	scale := func(x float64) float64 { return x }
	if m.Kind == units.Resistance && hi > 50*math.Max(lo, 1e-3) {
		floor := math.Max(lo, 1e-3)
		scale = func(x float64) float64 { return math.Log10(math.Max(x, floor)) }
	}
	from, span := scale(lo), scale(hi)-scale(lo)
	for _, f := range list {
		s := showLine{Name: capital(a.u.bank.Names(f.ID)), Text: expected(m, f.Expected, a.sys), Healthy: f.ID == suspect.HealthyID}
		if s.Healthy {
			s.Name = "A car in order"
		}
		switch {
		case m.Observation && !math.IsNaN(f.Yes):
			s.Strip, s.X, s.W = true, "0", plain(math.Max(100*f.Yes, 1))
		case span > 0 && !math.IsNaN(f.Low) && f.Cannot <= 0.5:
			x := 100 * (scale(f.Low) - from) / span
			w := math.Max(100*(scale(f.High)-from)/span-x, 1.5)
			s.Strip, s.X, s.W = true, plain(math.Min(x, 98.5)), plain(w)
		}
		k.Shows = append(k.Shows, s)
	}
}

// stop makes the card that says to mend.
func (a *suspectAsk) stop(steps []evidence.Step) *stopView {
	first := steps[0]
	v := &stopView{Kind: "mend", Remedy: first.Remedy, Chance: sure(first.P), Time: minutes(first.Minutes) + ", estimated", Now: minutes(a.look.Choice.Now)}
	switch first.Remedy {
	case evidence.ElsewhereID:
		v.Kind, v.Heading = "nothing", "Nothing wrong with the ignition"
		v.Words = "What was read is what a car in order shows. Where there is a complaint, look at what no reading of an ignition shows: fuel first, then air leaks, compression and valves."
		if a.repaired() {
			v.Heading = "Nothing wrong is left"
		}
		v.Cautions = elsewhereCautions
	case evidence.UnknownID:
		v.Kind, v.Heading = "unknown", "Something that is not in the list"
		v.Words = "Nothing in the catalogue, alone or in pairs, explains what was read. Read the strangest figure again, on bare metal and with another meter; then go over the ignition by eye and hand, part by part. No guess is made here."
		v.Cautions = elsewhereCautions
	default:
		r := a.u.bank.Remedy(first.Remedy)
		if r == nil {
			return nil
		}
		v.Heading, v.Words, v.Parts, v.Cautions = "Stop and mend", r.Words, r.Parts, r.Cautions
		for _, m := range a.look.Posterior.Mends {
			if slices.Contains(m.Remedies, first.Remedy) {
				v.Fault = capital(a.mendName(m))
				break
			}
		}
		if m := a.measure(a.look.Proof); m != nil {
			v.Proof = capital(m.Name)
			for _, f := range a.look.Foreseen[m.ID] {
				if f.ID == suspect.HealthyID {
					v.Shows = expected(m, f.Expected, a.sys)
				}
			}
		}
	}
	for _, s := range steps[1:min(len(steps), 4)] {
		if s.P < 0.02 {
			break
		}
		v.After = append(v.After, fmt.Sprintf("%s (%s, %s)", a.remedyWords(s.Remedy), sure(s.P), minutes(s.Minutes)))
	}
	return v
}

// leftToRead says on a card to stop what may be read again, or after all.
func (a *suspectAsk) leftToRead(v *stopView) {
	if v == nil {
		return
	}
	v.Bare = len(a.look.Choice.Ranked) == 0
	switch unsure := a.look.Choice.Steps[0].P < 0.5; {
	case unsure && v.Kind == "mend":
		v.Heading = "Not sure: try this first"
	case unsure && v.Kind == "nothing":
		v.Heading = "Look outside the ignition first"
		v.Words = "It is not sure that the ignition is in order, but what no reading of an ignition shows is soonest looked at: fuel first, then air leaks, compression and valves."
	}
	if v.Kind == "unknown" {
		v.Again = a.strangest(3)
	}
	if v.Bare || v.Kind == "unknown" {
		for _, id := range a.skipped() {
			if m := a.measure(id); m != nil && len(v.Skipped) < mostOthers {
				v.Skipped = append(v.Skipped, againLine{Name: capital(m.Name), Ask: a.address(a.said, id)})
			}
		}
	}
}

// strangest are the readings of an instrument that count, those likeliest to be
// slips first.
func (a *suspectAsk) strangest(most int) []againLine {
	list := slices.DeleteFunc(slices.Clone(a.look.Taken), func(t evidence.Taken) bool {
		m := a.measure(t.Channel)
		return !t.Counts || t.Epoch != a.epoch() || m == nil || m.Observation || t.Kind == evidence.CouldNot
	})
	slices.SortStableFunc(list, func(x, y evidence.Taken) int { return cmp.Compare(y.Slip, x.Slip) })
	var out []againLine
	for _, t := range list[:min(most, len(list))] {
		m := a.measure(t.Channel)
		out = append(out, againLine{capital(m.Name), figureRead(m, &t.Reading, a.sys), a.address(a.said, m.ID)})
	}
	return out
}

// skipped are the readings left out since the last repair and not taken since.
func (a *suspectAsk) skipped() []string {
	var list []string
	for _, e := range a.said.Entries {
		list = slices.DeleteFunc(list, func(id string) bool { return id == e.ID })
		if e.Do == workshop.LeaveOut {
			list = append(list, e.ID)
		}
	}
	return list
}

// elsewhereCautions are those where it is not said what is to be touched.
var elsewhereCautions = []string{
	"Fuel and its vapour burn: engine cold, no spark, no flame, an extinguisher within reach. Battery off before wiring is touched.",
	"Engine only outdoors or with its exhaust piped out; fan and belts turn, and high voltage is on every lead.",
	"It advises; local codes and licensed practice decide.",
}

// remedyWords says in short what a remedy is.
func (a *suspectAsk) remedyWords(id string) string {
	switch id {
	case evidence.ElsewhereID:
		return "Look for a cause outside the ignition"
	case evidence.UnknownID:
		return "Search for what is not in the list"
	}
	if r := a.u.bank.Remedy(id); r != nil {
		first, _, _ := strings.Cut(r.Words, ". ")
		return strings.TrimSuffix(first, ".")
	}
	return id
}
