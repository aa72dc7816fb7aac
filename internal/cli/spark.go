package cli

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/spark"
	"dwellwright/spike"
	"dwellwright/twin"
	"dwellwright/units"
)

type sparkCmd struct {
	Car       string `arg:"" help:"Car file, 'demo', or - for standard input."`
	Option    string `short:"o" default:"as_fitted" help:"How the car is wired: as_fitted or an option of plan."`
	Switches  bool   `help:"Also compare points and triggers on this car over engine speed: which is stronger, where, and why."`
	Map       bool   `help:"Also map the spark in hand over engine speed and supply voltage."`
	Heat      bool   `help:"Also follow the heat of switch and coil through a drive with a hot soak, and with the key left on."`
	Spikes    bool   `help:"Also put spikes on the supply and say what helps against them."`
	Condition string `short:"c" default:"cruise" help:"Condition of the car in which the spikes come."`
	JSON      bool   `name:"json" help:"Write JSON (its schema: dwellwright schema spark)."`
	drawing
}

// Most cars drawn for the sections that solve many firings for each.
const (
	switchDraws = 100
	mapDraws    = 60
	heatDraws   = 100
	spikeDraws  = 24
)

// sparkSheet is all that the command was asked for.
type sparkSheet struct {
	car      *car.Car // as wired
	option   twin.Option
	draws    int
	seed     uint64
	shots    []shot
	switches *switchesFound
	chart    *spark.Chart
	heat     *heatFound
	spikes   []spike.Result
	in       *car.Condition // of the spikes
	drivers  []twin.Driver  // of the least spark in hand
}

// shot is a firing with its particulars.
type shot struct {
	spark.Shot
	more *workshop.Particulars
}

// Run prints one firing in each condition.
func (c *sparkCmd) Run(s *session) error {
	if err := c.check(); err != nil {
		return err
	}
	k, err := workshop.Open(c.Car, s.In)
	if err != nil {
		return err
	}
	sheet, err := c.work(k)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s, sheet.document())
	}
	sheet.write(s.Out, s.Width, c.system())
	return nil
}

// work does all that was asked for.
func (c *sparkCmd) work(k *car.Car) (*sparkSheet, error) {
	sh := &sparkSheet{draws: c.Draws, seed: c.Seed}
	var err error
	if sh.option, err = twin.OptionByID(c.Option); err != nil {
		return nil, err
	}
	d, shots, err := workshop.Shots(k, c.settings(c.Option))
	if err != nil {
		return nil, err
	}
	sh.car = d
	if c.Spikes || c.Condition != "cruise" {
		m, err := twin.Build(d, c.Condition)
		if err != nil {
			return nil, err
		}
		sh.in = m.Condition()
	}
	for _, x := range shots {
		more, err := workshop.Detail(d, x.Condition, c.Draws, c.Seed)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", x.Condition, err)
		}
		sh.shots = append(sh.shots, shot{x, more})
	}
	if n, _, snapped := sh.least(); n >= 0 && c.Draws >= 100 {
		spec := twin.Spec{Instrument: twin.SparkInHand}
		if snapped {
			spec.Instrument = twin.SnapInHand
		}
		if sh.drivers, err = workshop.Drivers(k, c.Option, sh.shots[n].Condition, spec, min(c.Draws, 1000), c.Seed); err != nil {
			return nil, err
		}
	}
	if c.Switches {
		if sh.switches, err = compareSwitches(k, d, c.Option, min(c.Draws, switchDraws), c.Seed); err != nil {
			return nil, err
		}
	}
	if c.Map {
		set := spark.ChartSettings{Fitting: spark.Of(d), Draws: min(c.Draws, mapDraws), Seed: c.Seed}
		if sh.chart, err = workshop.SparkMap(k, c.Option, set); err != nil {
			return nil, err
		}
	}
	if c.Heat {
		if sh.heat, err = followHeat(k, d, c.Option, min(c.Draws, heatDraws), c.Seed); err != nil {
			return nil, err
		}
	}
	if c.Spikes {
		set := spike.Options{Draws: min(c.Draws, spikeDraws), Seed: c.Seed}
		if sh.spikes, err = workshop.Spikes(k, c.Option, c.Condition, nil, set); err != nil {
			return nil, err
		}
	}
	return sh, nil
}

// handState says where a predicted figure that has to be at least 1 stands. No
// prediction holds: the best it can be is above.
func handState(i spark.Interval) handStand {
	switch {
	case !(i.Hi >= 1):
		return fallsShort
	case i.Lo <= 1:
		return inDoubt
	}
	return above
}

// handStand is where spark in hand stands.
type handStand uint8

const (
	above handStand = iota
	inDoubt
	fallsShort
)

var handStands = [...]struct{ mark, id, word string }{
	above: {"○", "above", "above"}, inDoubt: {"?", "doubtful", "doubtful"}, fallsShort: {"✘", "falls_short", "falls short"},
}

// write writes the sheet as text.
func (sh *sparkSheet) write(w io.Writer, width int, sys units.System) {
	first, rest := sparkCautions(sh.car)
	writeWrapped(w, "! ", first, width)
	fmt.Fprintln(w)
	writeWrapped(w, "", sh.verdict(sys), width)
	writeWrapped(w, "", sh.subtitle(), width)
	fmt.Fprintln(w)
	if len(sh.shots) > 0 {
		g := sh.firings(sys)
		g.write(w, width)
		fmt.Fprintln(w)
		sh.legend(w, g.contains("+"), width)
		writeFigures(w, sh.assumed(), len(sh.drivers) > 0, width, sys, 12)
	}
	if sh.switches != nil {
		sh.switches.write(w, width)
	}
	if sh.chart != nil {
		writeChart(w, sh.chart, sh.shots, width)
	}
	if sh.heat != nil {
		sh.heat.write(w, width, sys)
	}
	if len(sh.spikes) > 0 {
		last := len(rest) - 1
		rest = append(append(rest[:last:last], writeSpikes(w, sh.spikes, sh.in, width)...), rest[last])
	}
	writeCautions(w, rest, width)
}

// subtitle says whose spark it is.
func (sh *sparkSheet) subtitle() string {
	text := fmt.Sprintf("%s. Wired: %s. Switch: %s. Every figure is predicted", sh.car.Name, sh.option.Name, strings.ReplaceAll(sh.car.Switch.Kind.String(), "_", " "))
	if sh.draws == 0 {
		return text + ", each figure of the car at its middle: no draws, no ±."
	}
	return text + fmt.Sprintf("; each ± is the 95 %% interval of %d draws of the car's uncertain figures (seed %d).", sh.draws, sh.seed)
}

// least finds the condition with the least in hand, with the throttle snapped
// open where that is harder; -1 when nothing fires.
func (sh *sparkSheet) least() (at int, i spark.Interval, snapped bool) {
	at = -1
	for n := range sh.shots {
		for k, id := range [...]string{"spark_in_hand", "snap_in_hand"} {
			f := sh.shots[n].Figure(id)
			if f != nil && (at < 0 || f.Interval.Mid < i.Mid) {
				at, i, snapped = n, f.Interval, k == 1
			}
		}
	}
	return at, i, snapped
}

// verdict is the sheet in a sentence.
func (sh *sparkSheet) verdict(sys units.System) string {
	n, i, snapped := sh.least()
	if n < 0 {
		return "Nothing fires: this car has no condition in which the engine turns."
	}
	where := sh.shots[n].Name
	if snapped {
		where += " with the throttle snapped open"
	}
	st := handState(i)
	head := strings.ToUpper(handStands[st].word)
	if st == above {
		head += " 1"
	}
	text := fmt.Sprintf("%s: the least spark in hand is %s times what plug and rotor gap ask, at %s (predicted). ", head, ofInterval(units.Ratio, i, sys), where)
	switch {
	case st == fallsShort:
		return text + "Below 1 the plug misses."
	case st == inDoubt:
		return text + "At 1 the plug just fires, and the ± reaches down to it: it may miss there."
	case i.Mid < 1.4:
		return text + "It fires, with less than the 1.4 that are wanted for wear, damp and a tired battery (common practice)."
	}
	return text + "It fires in every condition; measure the available kV with a spark tester to prove it."
}

// sparkLine is a row of the table of firings.
type sparkLine struct {
	name  string
	unit  string // of the sheet's figures, "" for a bare number
	scale float64
	zero  float64
	of    func(s *shot) (spark.Interval, bool)
	hand  bool
}

// figureOf takes a figure of a shot by its ID.
func figureOf(id string) func(s *shot) (spark.Interval, bool) {
	return func(s *shot) (spark.Interval, bool) {
		f := s.Figure(id)
		if f == nil || math.IsNaN(f.Interval.Mid) {
			return spark.Interval{}, false
		}
		return f.Interval, true
	}
}

// moreOf takes one of the particulars.
func moreOf(get func(p *workshop.Particulars) spark.Interval) func(s *shot) (spark.Interval, bool) {
	return func(s *shot) (spark.Interval, bool) { return get(s.more), true }
}

// sparkLines are the rows, those without a figure headings.
func sparkLines(sys units.System) []sparkLine {
	pressure, perPa := "bar absolute", 1e-5
	if sys == units.Inch {
		pressure, perPa = "psi absolute", 1/6894.757
	}
	degrees, perK, zero := degrees(sys)
	return []sparkLine{
		{name: "SPARK IN HAND"},
		{name: "available over asked", scale: 1, of: figureOf("spark_in_hand"), hand: true},
		{name: "throttle snapped open", scale: 1, of: figureOf("snap_in_hand"), hand: true},
		{name: "WHAT THE COIL GIVES"},
		{name: "current at the break", unit: "A", scale: 1, of: moreOf(func(p *workshop.Particulars) spark.Interval { return p.BreakA })},
		{name: "available at the tower", unit: "kV", scale: 1e-3, of: figureOf("available")},
		{name: "WHAT THE PLUG ASKS"},
		{name: "asked in all", unit: "kV", scale: 1e-3, of: figureOf("asked")},
		{name: "  for the plug's gap", unit: "kV", scale: 1e-3, of: moreOf(func(p *workshop.Particulars) spark.Interval { return p.PlugV })},
		{name: "  for the rotor gap", unit: "kV", scale: 1e-3, of: moreOf(func(p *workshop.Particulars) spark.Interval { return p.RotorV })},
		{name: "gas as it fires", unit: pressure, scale: perPa, of: moreOf(func(p *workshop.Particulars) spark.Interval { return p.Pressure })},
		{name: "gas as it fires", unit: degrees, scale: perK, zero: zero, of: moreOf(func(p *workshop.Particulars) spark.Interval { return p.ChargeC })},
		{name: "throttle snapped open", unit: "kV", scale: 1e-3, of: figureOf("snap_asked")},
		{name: "THE SPARK"},
		{name: "burning time", unit: "ms", scale: 1e3, of: figureOf("burn_time")},
		{name: "energy into the gap", unit: "mJ", scale: 1e3, of: figureOf("gap_energy")},
		{name: "THE SWITCH"},
		{name: "highest primary voltage", unit: "V", scale: 1, of: figureOf("primary_peak")},
		{name: "rings after the spark", scale: 1, of: moreOf(func(p *workshop.Particulars) spark.Interval { return p.Rings })},
		{name: "lost in arcs at the points", unit: "mJ", scale: 1e3, of: figureOf("contact_energy")},
		{name: "module's junction", unit: degrees, scale: perK, zero: zero, of: figureOf("junction")},
	}
}

// degrees is how °C are written: the unit, how many of it make a kelvin, and
// what 0 °C is.
func degrees(sys units.System) (unit string, perK, zero float64) {
	if sys == units.Inch {
		return "°F", 1.8, 32
	}
	return "°C", 1, 0
}

// firings is the table of firings.
func (sh *sparkSheet) firings(sys units.System) *grid {
	g := &grid{}
	for i := range sh.shots {
		g.heads = append(g.heads, sh.shots[i].Name+"\n"+units.Format(units.Speed, sh.shots[i].RPM, sys))
	}
	for _, l := range sparkLines(sys) {
		if l.of == nil {
			g.add(l.name)
			continue
		}
		var cells, words []string
		for i := range sh.shots {
			x, ok := l.of(&sh.shots[i])
			text, word := "", ""
			if ok {
				text = "  " + spread(x, l.scale, l.zero)
				if l.hand {
					st := handStands[handState(x)]
					text, word = st.mark+" "+text[2:], "  "+st.word
				}
			}
			cells, words = append(cells, text), append(words, word)
		}
		name := l.name
		if l.unit != "" {
			name += ", " + l.unit
		}
		g.add(name, cells...)
		if l.hand {
			g.add("  (1 just fires)", words...)
		}
	}
	var cells []string
	for i := range sh.shots {
		cells = append(cells, "  "+partingWord(sh.car, &sh.shots[i]))
	}
	if !sh.car.Switch.Kind.Electronic() {
		g.add("the points", cells...)
	}
	return g
}

// spread writes an interval scaled, without its unit: with a plus-or-minus
// or, where that would promise less than nothing of what can't be negative,
// with how far it goes up and down.
func spread(x spark.Interval, scale, zero float64) string {
	mid, lo, hi := scale*x.Mid+zero, scale*x.Lo+zero, scale*x.Hi+zero
	if pm := (hi - lo) / 2; x.Lo < 0 || mid-pm >= 0 || zero != 0 {
		if pm < 1e-4*math.Abs(mid) {
			pm = 0
		}
		return number(mid, pm)
	}
	d := 2
	if hi-mid >= 9.5 {
		d = 0
	} else if hi-mid >= 0.95 {
		d = 1
	}
	short := func(v float64) string { return strconv.FormatFloat(v, 'f', d, 64) }
	if short(hi) == short(0) {
		return "0"
	}
	text := short(mid) + "+" + short(hi-mid)
	if short(mid-lo) != short(0) {
		text += "−" + short(mid-lo)
	}
	return text
}

// ofInterval writes an interval with its unit.
func ofInterval(k units.Kind, i spark.Interval, sys units.System) string {
	v := units.Value{X: i.Mid, PM: i.PM(), Shape: units.Normal}
	if v.PM < 1e-3*math.Abs(v.X) {
		return units.Format(k, v.X, sys)
	}
	return units.FormatValue(k, v, sys)
}

// partingWord is the verdict on the break in a word or two.
func partingWord(c *car.Car, s *shot) string {
	f := &s.Spark.Firing
	if !f.Opens {
		return "don't open"
	}
	switch spark.Parting(c, f) {
	case spark.PartArcs:
		return "they arc"
	case spark.PartStands:
		return "arc stands"
	case spark.PartClean:
		return "part clean"
	}
	return "no contacts"
}

// partingTexts say what the words for the break mean.
func (sh *sparkSheet) partingTexts() []string {
	seen := map[spark.PartingVerdict]bool{}
	for i := range sh.shots {
		if f := &sh.shots[i].Spark.Firing; f.Opens {
			seen[spark.Parting(sh.car, f)] = true
		}
	}
	var list []string
	for _, x := range []struct {
		v    spark.PartingVerdict
		text string
	}{
		{spark.PartClean, "part clean: the condenser keeps the voltage below what the opening gap stands."},
		{spark.PartArcs, "they arc: the points strike again while they part. It pits them, and the spark pays for it."},
		{spark.PartStands, "arc stands: an arc burns between the points and there is hardly a spark. The condenser is missing, open or far too small."},
		{spark.Electronic, "The trigger has no contacts to arc; its clamp bounds the primary voltage."},
	} {
		if seen[x.v] {
			list = append(list, x.text)
		}
	}
	return list
}

// wrongPolarity is the most that reversed leads add to what is asked, V.
func (sh *sparkSheet) wrongPolarity() (most float64) {
	for i := range sh.shots {
		most = max(most, spark.WrongPolarity(sh.car, &sh.shots[i].Shot))
	}
	return most
}

// legend says what the table's words and marks mean.
func (sh *sparkSheet) legend(w io.Writer, lopsided bool, width int) {
	writeLegend(w, []string{"○ above 1, predicted: only a reading proves it", "? doubtful: its ± reaches down to 1", "✘ falls short of 1"}, width)
	for _, t := range sh.partingTexts() {
		writeWrapped(w, "", t, width)
	}
	if most := sh.wrongPolarity(); most > 0 {
		writeWrapped(w, "", fmt.Sprintf("The coil's primary leads are reversed: the plug's hot electrode is positive and asks up to %.1f kV more here (15 to 40 %% more, common practice). Swap the two leads.", most/1e3), width)
	}
	if sh.car.Switch.Kind.Electronic() {
		writeWrapped(w, "", "The junction is what it comes to when the condition lasts; --heat follows it through a drive.", width)
	}
	if lopsided {
		writeWrapped(w, "", "1.2+2.3−1.1 is 1.2, and in 95 of 100 cars not more than 2.3 above nor 1.1 below it.", width)
	}
}

// assumed lists the assumed figures that shape the spark, those first that
// have the largest share in the plus-or-minus of the least spark in hand.
func (sh *sparkSheet) assumed() []car.ParamRef {
	list := slices.DeleteFunc(prove.Assumed(sh.car), func(r car.ParamRef) bool {
		for _, of := range []string{"coil.", "switch.", "plugs.", "cap.", "engine.", "ballast."} {
			if strings.HasPrefix(r.Path, of) {
				return false
			}
		}
		return true
	})
	share := map[string]float64{}
	for _, d := range sh.drivers {
		share[d.Path] = d.Share
	}
	slices.SortStableFunc(list, func(a, b car.ParamRef) int { return cmp.Compare(share[b.Path], share[a.Path]) })
	return list
}

// writeFigures lists the assumed figures of the spark, at most that many.
func writeFigures(w io.Writer, list []car.ParamRef, ranked bool, width int, sys units.System, most int) {
	head := fmt.Sprintf("ASSUMED: %d figures of coil, ballast, switch, plugs, cap and engine that the file does not say, taken at typical values", len(list))
	if ranked {
		head += ", those first on which the least spark in hand hangs most"
	}
	writeParams(w, head, list, width, sys, most)
}

// sparkCautions are what can hurt: the first stands before everything else.
func sparkCautions(c *car.Car) (first string, rest []string) {
	const voltage, condenser = "Secondary voltage", "A charged condenser"
	for _, t := range prove.Cautions(c, prove.EngineRuns, prove.StarterTurns, prove.KeyOn) {
		if strings.HasPrefix(t, voltage) {
			first = t
			continue
		}
		rest = append(rest, t)
	}
	last := rest[len(rest)-1]
	rest = append(rest[:len(rest)-1],
		"Never run or crank the engine with a plug lead or the coil's lead hanging free: with no gap to fire, the whole voltage goes through coil, cap, rotor or module, or through whoever is nearest.",
		"Never take the battery off with the engine running, not to test the generator either: the voltage it leaves destroys modules and coils, and battery gas can catch from the spark.",
	)
	for _, t := range prove.Cautions(c, prove.Wiring) {
		if strings.HasPrefix(t, condenser) {
			rest = append(rest, t)
		}
	}
	return first, append(rest, last)
}
