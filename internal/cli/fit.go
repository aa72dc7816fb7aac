package cli

import (
	"fmt"
	"io"
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

type fitCmd struct {
	Car    string `arg:"" help:"Car file, 'demo', or - for standard input."`
	Option string `short:"o" help:"How the car is wired: as_fitted or an option of plan. Left out: the conversion the file plans, else as fitted."`
	All    bool   `help:"Every way back to the wanted timing, and those refused with the reason."`
	JSON   bool   `name:"json" help:"Write JSON (its schema: dwellwright schema fit)."`
	drawing
}

// fewWays is how many ways are written unless all are asked for.
const fewWays = 5

// fitSheet is a fit as it is written.
type fitSheet struct {
	*fit.Fit
	all bool
}

// Run prints where everything of the distributor goes.
func (c *fitCmd) Run(s *session) error {
	if err := c.check(); err != nil {
		return err
	}
	k, err := workshop.Open(c.Car, s.In)
	if err != nil {
		return err
	}
	f, err := workshop.Fit(k, fit.Settings{Option: c.Option, Draws: c.Draws, Seed: c.Seed})
	if err != nil {
		return err
	}
	sh := &fitSheet{f, c.All}
	if c.JSON {
		return writeJSON(s, sh.document())
	}
	sh.write(s.Out, s.Width, c.system())
	return nil
}

// timingStand says where the timing stands against what is wanted.
type timingStand uint8

const (
	timingRight timingStand = iota
	timingDoubtful
	timingOff
)

var timingIDs = [...]string{timingRight: "right", timingDoubtful: "doubtful", timingOff: "off"}

// timingState holds the timing against its tolerance; no prediction is right
// while its interval reaches beyond.
func (sh *fitSheet) timingState() timingStand {
	off, tol := sh.Timing.Off, sh.Timing.Tolerance
	switch {
	case off.Lo > tol || off.Hi < -tol:
		return timingOff
	case off.Lo >= -tol && off.Hi <= tol:
		return timingRight
	}
	return timingDoubtful
}

// mayCrank says whether the engine may be cranked with such a start.
type mayCrank uint8

const (
	crankIt mayCrank = iota
	crankSurer
	crankSetFirst
	crankNever
)

// crankChance is the chance of a kick back, a backfire or the wrong tower from
// which on timing and rotor have to be made surer before anybody cranks.
const crankChance = 0.05

var mayCranks = [...]struct{ id, words string }{
	crankIt:       {"may_be_cranked", "may be cranked as it is"},
	crankSurer:    {"make_surer", "not to be cranked before it is surer"},
	crankSetFirst: {"set_first", "to be set before it is cranked"},
	crankNever:    {"not_to_be_cranked", "not to be cranked as it is"},
}

// violence is the chance that a first start kicks back or backfires by its
// timing.
func violence(s *distributor.Start) float64 {
	return s.Chances[distributor.KicksBack] + s.Chances[distributor.Backfires] + s.Chances[distributor.FiresOnOverlap]
}

// cranked judges a first start by its timing and by the tower that the rotor
// gives the spark to: the wrong one lights a charge with its inlet valve open.
func cranked(s *distributor.Start, p *fit.Phase) mayCrank {
	switch {
	case s.Verdict >= distributor.KicksBack || p.Middle.Verdict == distributor.WrongTower:
		return crankNever
	case s.Verdict == distributor.HardToStart:
		return crankSetFirst
	case violence(s) >= crankChance || p.Chance[distributor.WrongTower] >= crankChance:
		return crankSurer
	}
	return crankIt
}

// verdict is the sheet in a few sentences.
func (sh *fitSheet) verdict() string {
	t := &sh.Timing
	head := "TIMING RIGHT"
	switch sh.timingState() {
	case timingDoubtful:
		head = "TIMING DOUBTFUL"
	case timingOff:
		head = fmt.Sprintf("TIMING %.0f° CRANK %s", math.Abs(t.Off.Mid), map[bool]string{true: "EARLY", false: "LATE"}[t.Off.Mid > 0])
	}
	_, means := fit.VerdictWords(sh.Phase.Middle.Verdict)
	head += "; " + strings.ToUpper(mayCranks[cranked(&sh.Start, &sh.Phase)].words) + "; ROTOR " + registerMarks[sh.Phase.Middle.Verdict].head + "."
	fires := "It fires"
	if sh.notYet() {
		fires = "Put in with nothing else turned, it would fire"
	}
	text := fmt.Sprintf("%s %s %s (%s); wanted is %s (%s), ± %.0f° allowed. ", head, fires, btdc(sh.now()), sh.nowOrigin(), btdc(t.Wanted), originOf(&sh.Car.Timing.Wanted), t.Tolerance)
	text += "Cranked like this: " + sh.Start.Words + " "
	text += fmt.Sprintf("Rotor%s: %s", sh.chanceOf(&sh.Phase), means)
	if sh.Phase.Middle.Verdict != distributor.InRegister {
		text += " No turn of the housing mends it: trigger or sleeve has to move."
	}
	return text
}

// notYet reports whether the trigger is planned and not in the car yet.
func (sh *fitSheet) notYet() bool { return sh.Car.Planned != nil && sh.Car.Switch.Kind.Electronic() }

// chanceOf says how many of the drawn cars share the verdict on the rotor.
func (sh *fitSheet) chanceOf(p *fit.Phase) string {
	if p.Chance == nil {
		return " (predicted)"
	}
	return fmt.Sprintf(" (predicted, so in %s of the drawn cars)", percent(p.Chance[p.Middle.Verdict]))
}

// subtitle says what was looked at.
func (sh *fitSheet) subtitle() string {
	c := sh.Car
	trigger := "Points: " + strings.ReplaceAll(c.Switch.Kind.String(), "_", " ")
	if c.Switch.Kind.Electronic() {
		trigger = "Trigger: hall switch and magnets"
		if c.Trigger.Principle == car.Reluctance {
			trigger = "Trigger: coil and toothed wheel"
		}
	}
	text := fmt.Sprintf("%s. Wired: %s. %s. The rotor turns %s (%s), seen from above, as all angles here. ", c.Name, sh.Option.Name, trigger, sh.turning(), c.Distributor.RotationOrigin)
	if !c.Distributor.Given {
		text += "The car file has no section distributor: its geometry is assumed throughout. "
	}
	if sh.Draws == 0 {
		return text + "Every figure at its middle: no draws, no ±."
	}
	return text + fmt.Sprintf("Each ± is the 95 %% interval of %d draws of the car's uncertain figures (seed %d).", sh.Draws, sh.Seed)
}

// turning is which way the rotor turns, in a word.
func (sh *fitSheet) turning() string {
	if sh.Rig.Rotation == distributor.Clockwise {
		return "clockwise"
	}
	return "anticlockwise"
}

// seen is the figure of the car file that says the timing as it is; nil where
// it is worked out.
func (sh *fitSheet) seen() *car.Param {
	t := &sh.Car.Timing
	switch {
	case !sh.Timing.Seen:
		return nil
	case sh.Car.Switch.Kind.Electronic() && t.After.Origin != car.Assumed:
		return &t.After
	}
	return &t.Before
}

// now is the timing as it is: as it was seen where it was.
func (sh *fitSheet) now() twin.Interval {
	if p := sh.seen(); p != nil {
		return sh.given(p)
	}
	return sh.Timing.Now
}

// given is the interval of a figure of the car file; without draws nothing has
// a plus-or-minus.
func (sh *fitSheet) given(p *car.Param) twin.Interval {
	if sh.Draws == 0 {
		return alone(p.X)
	}
	return given(p)
}

// nowOrigin is where the timing comes from.
func (sh *fitSheet) nowOrigin() string {
	if p := sh.seen(); p != nil {
		return originOf(p)
	}
	return workedFrom(&sh.Car.Timing.Before, &sh.Car.Timing.TriggerLater)
}

// laterOrigin is where the trigger's lateness comes from.
func (sh *fitSheet) laterOrigin() string {
	t := &sh.Car.Timing
	if t.After.Origin != car.Assumed {
		if t.After.Origin == car.Measured && t.Before.Origin == car.Measured {
			return car.Measured.String()
		}
		return predicted
	}
	return originOf(&t.TriggerLater)
}

// timing lists the figures of the timing.
func (sh *fitSheet) timing() []figure {
	t, c := &sh.Timing, sh.Car
	now := sh.now()
	list := []figure{
		{id: "now", name: map[bool]string{true: "it would fire", false: "it fires"}[sh.notYet()], kind: units.CrankAngle, of: now, origin: sh.nowOrigin(), text: btdc(now)},
		{id: "wanted", name: "wanted", kind: units.CrankAngle, of: t.Wanted, origin: originOf(&c.Timing.Wanted), text: btdc(t.Wanted)},
		{id: "off", name: "off by", kind: units.CrankAngle, of: t.Off, origin: predicted, text: lateEarly(t.Off), note: fmt.Sprintf("up to %.0f° is right (%s)", t.Tolerance, originOf(&c.Timing.Tolerance))},
	}
	if c.Switch.Kind.Electronic() {
		found := t.Later
		if c.Timing.After.Origin == car.Assumed && c.Timing.TriggerLater.Origin != car.Assumed {
			found = sh.given(&c.Timing.TriggerLater)
		}
		later, which, rotor := found, "later", "past its tower"
		if found.Mid < 0 {
			rotor = "short of its tower"
			later, which = twin.Interval{Mid: -later.Mid, Lo: -later.Hi, Hi: -later.Lo}, "earlier"
		}
		list = append(list, figure{id: "later", name: "trigger against points", kind: units.DistributorAngle, of: found, origin: sh.laterOrigin(),
			text: ofInterval(units.DistributorAngle, later, units.Metric) + " " + which + " at the distributor", note: "twice that at the crank, and the rotor as much " + rotor})
	}
	if t.Centrifugal > 0.05 {
		list = append(list, figure{id: "centrifugal", name: "of it centrifugal", kind: units.CrankAngle, of: alone(t.Centrifugal), origin: predicted,
			note: fmt.Sprintf("at rest and cranking it fires %s", btdc(twin.Interval{Mid: t.Now.Mid - t.Centrifugal, Lo: t.Now.Lo - t.Centrifugal, Hi: t.Now.Hi - t.Centrifugal}))})
	}
	return list
}

// registerMarks tell the verdicts on the rotor apart by shape.
var registerMarks = [...]struct{ mark, id, head string }{
	distributor.InRegister: {"○", "in_register", "IN REGISTER"}, distributor.OnEdge: {"?", "on_edge", "ON THE EDGE"},
	distributor.Jumps: {"✘", "jumps", "JUMPS"}, distributor.WrongTower: {"✘", "wrong_tower", "AT THE WRONG TOWER"},
}

// rotor lists the figures of the rotor's phase.
func (sh *fitSheet) rotor() []figure {
	p, m := &sh.Phase, &sh.Phase.Middle
	list := []figure{{id: "at_rest", name: "vacuum off", kind: units.DistributorAngle, of: p.AtRest, origin: predicted, note: pastWord(p.AtRest.Mid)}}
	if sh.Rig.VacuumTravel > 0 {
		list = append(list, figure{id: "at_full", name: "full vacuum", kind: units.DistributorAngle, of: p.AtFull, origin: predicted, note: pastWord(p.AtFull.Mid)})
	}
	scatter := &sh.Car.Distributor.Scatter
	list = append(list,
		figure{id: "overlap", name: "tip and contact overlap", kind: units.DistributorAngle, of: alone(p.Window.OverlapDeg), origin: workedFrom(&sh.Car.Distributor.TipWidth, &sh.Car.Distributor.ElectrodeWidth, &sh.Car.Distributor.TipRadius),
			text: fmt.Sprintf("to %.1f° either way", p.Window.OverlapDeg), note: fmt.Sprintf("of which the drive's scatter takes %.1f° (%s)", scatter.X, originOf(scatter))},
		figure{id: "jump", name: "the coil can pay for", kind: units.DistributorAngle, of: alone(p.Window.JumpDeg), origin: predicted,
			text: fmt.Sprintf("to %.1f° either way", p.Window.JumpDeg), note: sh.spareWords()},
		figure{id: "worst", name: "worst, scatter included", kind: units.DistributorAngle, of: alone(m.Worst), origin: predicted, text: fmt.Sprintf("%.1f°", m.Worst), note: sh.worstWords(m)},
		figure{id: "neighbour", name: "the neighbour takes it", kind: units.DistributorAngle, of: alone(m.WrongTowerAt), origin: predicted,
			text: fmt.Sprintf("from %.1f° before or %.1f° past the tower", math.Abs(m.CrossAt[0]), math.Abs(m.CrossAt[1])), note: fmt.Sprintf("towers stand %.0f° apart", p.Window.Pitch)},
	)
	return list
}

// pastWord says a phase's sign in words.
func pastWord(deg float64) string {
	switch {
	case deg > 0.5:
		return "the tip has gone past its tower"
	case deg < -0.5:
		return "the tip has not come to its tower yet"
	}
	return "the tip faces its tower"
}

func (sh *fitSheet) spareWords() string {
	if sh.Spare.In == "" {
		return "what the coil has in hand could not be worked out"
	}
	return fmt.Sprintf("%.1f kV in hand at %s, %d kV for each mm of air (common practice)", sh.Spare.Volts/1e3, sh.Spare.In, fit.KVPerMM)
}

func (sh *fitSheet) worstWords(m *distributor.Register) string {
	if m.ExtraGapM <= 0 {
		return fmt.Sprintf("%.1f° of overlap left", m.OverlapLeftDeg)
	}
	return fmt.Sprintf("%.1f mm more of air, about %.1f kV more to jump", 1e3*m.ExtraGapM, m.ExtraKV)
}

// chances writes the chance of each verdict on the rotor.
func chances(p *fit.Phase) string {
	var list []string
	for v := distributor.InRegister; v <= distributor.WrongTower; v++ {
		word, _ := fit.VerdictWords(v)
		if p.Chance[v] > 0 {
			list = append(list, word+" "+percent(p.Chance[v]))
		}
	}
	return strings.Join(list, ", ")
}

// write writes the sheet as text.
func (sh *fitSheet) write(w io.Writer, width int, sys units.System) {
	first, rest := sh.cautions()
	writeWrapped(w, "! ", first, width)
	fmt.Fprintln(w)
	writeWrapped(w, "", together(sh.verdict()), width)
	writeWrapped(w, "", together(sh.subtitle()), width)
	heading(w, fmt.Sprintf("TIMING, vacuum hose off and plugged, at %s (%s)", units.Format(units.Speed, sh.Timing.SeenRPM, sys), originOf(&sh.Car.Timing.SeenAt)), width)
	writeList(w, sh.timing(), width, sys)
	heading(w, "ROTOR AT THE SPARK, degrees at the distributor past its tower in the direction it turns, worst lobe", width)
	writeList(w, sh.rotor(), width, sys)
	if sh.Phase.Chance != nil {
		writeWrapped(w, "  ", "Of the drawn cars: "+together(chances(&sh.Phase))+".", width)
	}
	sh.writeWays(w, width, sys)
	sh.writeSteps(w, width, sys)
	sh.writeSets(w, width, sys)
	sh.writeGap(w, width, sys)
	sh.writeSeat(w, width, sys)
	sh.writeLobes(w, width)
	sh.writeAssumed(w, width, sys)
	writeCautions(w, rest, width)
}

// heading begins a section.
func heading(w io.Writer, text string, width int) {
	fmt.Fprintln(w)
	writeWrapped(w, "", text, width)
}

// writeWays writes the ways back, best first.
func (sh *fitSheet) writeWays(w io.Writer, width int, sys units.System) {
	shown := len(sh.Ways)
	switch {
	case sh.all:
	case shown > 0 && len(fit.Moves(&sh.Rig, sh.Ways[0].Move, sys)) == 0:
		shown = 1 // nothing has to be turned: the rest is for the curious
	default:
		shown = min(shown, fewWays)
	}
	head := fmt.Sprintf("WAYS BACK TO %s, best first", btdc(alone(sh.Timing.Wanted.Mid)))
	switch {
	case shown < len(sh.Ways):
		head += fmt.Sprintf("; %d of %d, --all lists every one and those refused", shown, len(sh.Ways))
	case !sh.all && len(sh.Refused) > 0:
		head += fmt.Sprintf("; --all lists the %d refused", len(sh.Refused))
	}
	heading(w, together(head), width)
	if len(sh.Ways) == 0 {
		writeWrapped(w, "  ", "None: nothing that may be moved brings it there. What was looked at:", width)
	}
	for n := range sh.Ways[:shown] {
		sh.writeWay(w, n, width, sys)
	}
	if shown > 0 {
		writeLegend(w, []string{"○ in register, predicted: only a windowed cap proves it", "? on the edge of it", "✘ jumps, or the wrong tower"}, width)
	}
	if len(sh.Refused) > 0 && (sh.all || len(sh.Ways) == 0) {
		writeWrapped(w, "  ", "Refused:", width)
		for _, r := range sh.Refused {
			writeWrapped(w, "    – ", fit.Brief(r.Move)+": "+r.Why, width)
		}
	}
}

func (sh *fitSheet) writeWay(w io.Writer, n, width int, sys units.System) {
	x := &sh.Ways[n]
	writeWrapped(w, fmt.Sprintf("%2d. %s ", n+1, registerMarks[x.Phase.Middle.Verdict].mark), strings.ToUpper(fit.Brief(x.Move)), width)
	const lead = "      "
	var what []string
	for _, m := range fit.Moves(&sh.Rig, x.Move, sys) {
		// What it does to the rotor stands in the next line.
		m = strings.TrimSuffix(strings.TrimSuffix(m, " Rotor phase stays as it is."), " This moves rotor phase and timing.")
		what = append(what, m)
	}
	writeWrapped(w, lead, together(strings.Join(what, " ")), width)
	writeWrapped(w, lead, together("Then "+btdc(x.Timing)+", rotor "+sh.rotorAfter(x)), width)
	writeWrapped(w, lead, together(fmt.Sprintf("%s About %.0f min [estimate].", roomWords(x), x.Minutes)), width)
}

// rotorAfter says where the rotor stands after a way.
func (sh *fitSheet) rotorAfter(x *fit.Way) string {
	word, _ := fit.VerdictWords(x.Phase.Middle.Verdict)
	text := word + ", " + pastOrBefore(x.Phase.AtRest) + " its tower"
	if sh.Rig.VacuumTravel > 0 {
		text += ", " + pastOrBefore(x.Phase.AtFull) + " it at full vacuum"
	}
	if x.Phase.Chance == nil {
		return text + " (predicted)."
	}
	return text + fmt.Sprintf(" (predicted; of the drawn cars %s).", chances(&x.Phase))
}

// pastOrBefore writes a phase, its sign in words.
func pastOrBefore(i twin.Interval) string {
	side := "past"
	if i.Mid <= -0.05 {
		side, i = "before", twin.Interval{Mid: -i.Mid, Lo: -i.Hi, Hi: -i.Lo}
	}
	return ofInterval(units.DistributorAngle, i, units.Metric) + " " + side
}

// tightRoom is the room, degrees, below which a housing cannot be set by a
// light any more: two crank degrees for each.
const tightRoom = 3

// roomWords says how much room the housing has left.
func roomWords(x *fit.Way) string {
	if x.Free >= 180 {
		return "Nothing stands in the housing's way."
	}
	text := fmt.Sprintf("Room left: %.0f° anticlockwise, %.0f° clockwise.", x.Room[0], x.Room[1])
	if x.Free < tightRoom {
		text += " Tight: hardly anything is left to set it by the light."
	}
	return text
}

// best is the way the steps are for.
func (sh *fitSheet) best() *fit.Way {
	if len(sh.Ways) == 0 {
		return nil
	}
	return &sh.Ways[0]
}

// writeSteps writes the steps to a first start for the best way.
func (sh *fitSheet) writeSteps(w io.Writer, width int, sys units.System) {
	way := sh.best()
	if way == nil {
		heading(w, "No steps to a first start: no way back was found. Do not crank it.", width)
		return
	}
	heading(w, fmt.Sprintf("STEPS TO A SAFE FIRST START, for way 1 (%s); ! is a caution", fit.Brief(way.Move)), width)
	n := 0
	for _, s := range sh.Steps(way, sys) {
		if s.Caution {
			writeWrapped(w, "   ! ", together(s.Text), width)
			continue
		}
		n++
		writeWrapped(w, fmt.Sprintf("%2d.  ", n), together(s.Text), width)
	}
}

// cautions are what can hurt: the first stands before everything else.
func (sh *fitSheet) cautions() (first string, rest []string) {
	const voltage = "Secondary voltage"
	for _, t := range prove.Cautions(sh.Car, prove.EngineRuns, prove.StarterTurns, prove.KeyOn, prove.Wiring) {
		if first == "" && strings.HasPrefix(t, voltage) {
			first = t
			continue
		}
		rest = append(rest, t)
	}
	return first, rest
}
