package car

import (
	"slices"
	"strings"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// Format is the version of the car file this package reads.
const Format = 1

// Parse reads a car file. file is the name used in messages. What the file
// does not say is filled in with typical figures. The error, if any, is of
// type Errors and lists everything that is wrong, in file order; no car is
// returned with it.
func Parse(file string, data []byte) (*Car, error) {
	root, refused, errs := document(file, data)
	if root == nil {
		return nil, errs
	}
	r := &reader{file: file, refused: refused, errs: errs}
	c := r.car(root)
	if len(r.errs) > 0 {
		r.errs.inFileOrder()
		return nil, r.errs
	}
	return c, nil
}

// carTable is the whole file. Entries are read in this order, whatever the
// order in the file, so that conditions know the loads and readings know the
// conditions.
var carTable = []entry[Car]{
	{name: "format", form: formatForm, doc: "version of this file format, 1", read: func(r *reader, n *yaml.Node, path string, _ *Car) {
		if r.is(n, path, yaml.ScalarNode, "1") && n.Value != "1" {
			r.problem(n, path, "format "+quote(n.Value)+" is not known here", "1", "", ErrValue)
		}
	}},
	{name: "name", form: textForm, doc: "what the car is called", read: carText(func(c *Car) *string { return &c.Name })},
	{name: "notes", form: textForm, doc: "anything worth knowing", read: carText(func(c *Car) *string { return &c.Notes })},
	section("system", "what decides everything else; all three must be said", systemTable, func(c *Car) *Car { return c }),
	section("battery", "the battery", batteryTable, func(c *Car) *Battery { return &c.Battery }),
	section("charging", "the generator or alternator", chargingTable, func(c *Car) *Charging { return &c.Charging }),
	section("starter", "the starter motor", starterTable, func(c *Car) *Starter { return &c.Starter }),
	section("key_switch", "the ignition switch", keySwitchTable, func(c *Car) *KeySwitch { return &c.KeySwitch }),
	section("wiring", "the wires and their joints", wiringTable, func(c *Car) *Car { return c }),
	{name: "ballast", form: sectionForm, words: fittedWords, inner: lines(ballastTable), doc: "the ballast resistor or resistance wire; none, fitted or its figures; fitted in a 12 V car when not said, unless the coil is of a class without", read: readBallast},
	section("coil", "the ignition coil", coilTable, func(c *Car) *Coil { return &c.Coil }),
	section("switch", "points or trigger module", switchTable, func(c *Car) *Switch { return &c.Switch }),
	{name: "relay", form: sectionForm, words: fittedWords, inner: lines(relayTable), doc: "a relay from the battery, worked by the old ignition wire; none, fitted or its figures; none when not said", read: readRelay},
	{name: "feed", form: wordForm, words: feedWords, doc: "where the trigger's supply wire is joined; none for points; upstream of the ballast when not said", read: func(r *reader, n *yaml.Node, path string, c *Car) {
		if w, ok := readWord[FeedPoint](r, n, path, feedWords); ok {
			c.Feed, c.FeedOrigin = w, Stated
		}
	}},
	{name: "loads", form: idMapForm, inner: lines(loadTable), doc: "consumers other than the ignition, by id: a current, a section, or none for one the car has not", read: func(r *reader, n *yaml.Node, path string, c *Car) {
		readLoads(r, n, path, c)
	}},
	{name: "planned", form: sectionForm, inner: lines(plannedTable), doc: "a conversion that is being thought of", read: readPlanned},
	section("plugs", "the sparking plugs", plugTable, func(c *Car) *Plugs { return &c.Plugs }),
	section("cap", "the distributor's cap and rotor, and what leaks on the high-voltage side", capTable, func(c *Car) *Cap { return &c.Cap }),
	section("engine", "what of the engine bears on the voltage a plug asks for", engineTable, func(c *Car) *Engine { return &c.Engine }),
	given("distributor", "how the distributor stands, how its cap is wired and how far its parts can be moved; angles are distributor degrees, clockwise seen from above", distributorTable, func(c *Car) *Distributor { return &c.Distributor }, func(c *Car) *bool { return &c.Distributor.Given }),
	given("timing", "timing seen and wanted at the damper, vacuum hose off, in crank degrees before top dead centre", timingTable, func(c *Car) *Timing { return &c.Timing }, func(c *Car) *bool { return &c.Timing.Given }),
	given("trigger", "how the trigger module that is fitted or planned sits on the shaft; its electrical figures are those of the switch", triggerTable, func(c *Car) *TriggerFit { return &c.Trigger }, func(c *Car) *bool { return &c.Trigger.Given }),
	given("advance", "centrifugal and vacuum advance: its parts, the curve that is wanted, what was seen, and what there is to change it", advanceTable, func(c *Car) *Advance { return &c.Advance }, func(c *Car) *bool { return &c.Advance.Given }),
	given("bench", "at which angle each lobe switched, the distributor turning on a bench", benchTable, func(c *Car) *Bench { return &c.Bench }, func(c *Car) *bool { return &c.Bench.Given }),
	{name: "conditions", form: idMapForm, inner: lines(conditionTable), doc: "changes to the built-in conditions, and more conditions, by id", read: func(r *reader, n *yaml.Node, path string, c *Car) {
		readConditions(r, n, path, c)
	}},
	{name: "readings", form: readingsForm, inner: lines(readingTable), doc: "what was measured on the car", read: func(r *reader, n *yaml.Node, path string, c *Car) {
		readReadings(r, n, path, c)
	}},
}

func section[T any](name, doc string, table []entry[T], field func(*Car) *T) entry[Car] {
	return entry[Car]{name: name, doc: doc, form: sectionForm, inner: lines(table), read: func(r *reader, n *yaml.Node, path string, c *Car) {
		readSection(r, n, path, table, field(c))
	}}
}

// given is a section whose being there is noted.
func given[T any](name, doc string, table []entry[T], field func(*Car) *T, there func(*Car) *bool) entry[Car] {
	e := section(name, doc, table, field)
	read := e.read
	e.read = func(r *reader, n *yaml.Node, path string, c *Car) {
		*there(c) = true
		read(r, n, path, c)
	}
	return e
}

func carText(field func(*Car) *string) func(*reader, *yaml.Node, string, *Car) {
	return func(r *reader, n *yaml.Node, path string, c *Car) {
		if s, ok := r.text(n, path); ok {
			*field(c) = s
		}
	}
}

var (
	voltages       = []int{6, 12}
	cylinderCounts = []int{4, 6, 8}
)

var systemTable = []entry[Car]{
	{name: "voltage", form: wholeForm, words: []string{"6 V", "12 V"}, doc: "6 V or 12 V", read: func(r *reader, n *yaml.Node, path string, c *Car) {
		if v, ok := r.value(n, path, units.Voltage, nil); ok && !isOneOf(v, voltages) {
			r.problem(n, path, quote(n.Value)+" is not a system voltage known here", "6 V or 12 V", "", ErrValue)
		}
	}},
	{name: "earth", form: wordForm, words: earthWords, doc: "which battery post is joined to engine and body", read: func(r *reader, n *yaml.Node, path string, c *Car) {
		if e, ok := readWord[Earth](r, n, path, earthWords); ok {
			c.Earth = e
		}
	}},
	{name: "cylinders", form: wholeForm, words: []string{"4", "6", "8"}, doc: "4, 6 or 8, four-stroke, one coil", read: func(r *reader, n *yaml.Node, path string, c *Car) {
		if v, ok := r.value(n, path, units.Count, nil); ok && !isOneOf(v, cylinderCounts) {
			r.problem(n, path, quote(n.Value)+" cylinders are not known here", "4, 6 or 8", "", ErrValue)
		}
	}},
}

func isOneOf(v units.Value, list []int) bool {
	return v.PM == 0 && slices.ContainsFunc(list, func(i int) bool { return v.X == float64(i) })
}

// car reads the root of a file.
func (r *reader) car(root *yaml.Node) *Car {
	if root.Kind != yaml.MappingNode {
		r.is(root, "", yaml.MappingNode, "\"name: value\" lines, first of them format: 1")
		return nil
	}
	if !r.mentions(root, "format") {
		r.problem(root, "format", "missing", "format: 1", "", ErrField)
	}
	system := r.lookup(root, "system")
	if system == nil && !r.mentions(root, "system") {
		r.problem(root, "system", "missing", "system: {voltage: 12 V, earth: negative, cylinders: 8}", "", ErrField)
	} else if system != nil && system.Kind == yaml.MappingNode {
		for _, name := range names(systemTable) {
			if !r.mentions(system, name) {
				r.problem(system, "system."+name, "missing", strings.Join(lookup(systemTable, name).words, ", "), "", ErrField)
			}
		}
	}
	c := r.typical(root)
	readSection(r, root, "", carTable, c)
	settleLoads(c)
	settleGenerator(c)
	settleSecondary(&c.Coil)
	settleTiming(c)
	settlePhase(c)
	settleWanted(c)
	r.contradictions(root, c)
	settleDwell(&c.Switch, c.Cylinders)
	if c.Planned != nil {
		settleDwell(&c.Planned.Switch, c.Cylinders)
	}
	if strings.TrimSpace(c.Name) == "" {
		c.Name = unnamed
	}
	return c
}

// unnamed is what a car is called whose file gives it no name.
const unnamed = "unnamed car"

// typical builds the car that the few deciding words of the file call for,
// all else typical. Words that cannot be read are complained of later.
func (r *reader) typical(root *yaml.Node) *Car {
	whole := func(kind units.Kind, name string) int {
		v, err := units.Parse(kind, r.word1(root, "system", name))
		if err != nil || v.X < 0 || v.X > 100 {
			return 0
		}
		return int(v.X)
	}
	f := newFacts(whole(units.Voltage, "voltage"), whole(units.Count, "cylinders"))
	f.charging = deciding(r, root, "charging", chargingWords, DCGenerator)
	f.switchKind = deciding(r, root, "switch", switchWords, SinglePoints)
	f.mounting, _ = find[Mounting](mountingWords, r.word1(root, "switch", "mounting"))
	f.electrodes, _ = find[Electrodes](electrodeWords, r.word1(root, "plugs", "electrodes"))
	f.principle, _ = find[Principle](principleWords, r.word1(root, "trigger", "principle"))
	f.ring, _ = find[RingKind](ringWords, r.word1(root, "trigger", "ring"))

	class := r.word1(root, "coil", "class")
	known := slices.Contains(coilClassIDs(), class)
	switch n := r.lookup(root, "ballast"); {
	case n != nil:
		f.ballast = n.Kind != yaml.ScalarNode || n.Value != "none" && !isNo(n.Value)
	case known:
		f.ballast = class == "ballasted"
	default:
		f.ballast = f.nominalV == 12
	}
	if f.coil = class; !known {
		f.coil = usualCoil(f)
	}

	every, _ := find[Age](ageWords, r.word1(root, "wiring", "age"))
	c := build(f, NegativeEarth, func(id LegID) Age {
		if a, ok := find[Age](ageWords, r.word1(root, "wiring", LegNames[id], "age")); ok {
			return a
		}
		return every
	})
	r.facts, r.positive = f, r.word1(root, "system", "earth") == earthWords[PositiveEarth]
	r.loads = loadIDs(c)
	return c
}

var fittedWords = []string{"none", "fitted"}

// settleGenerator moves the typical one of the two speeds of a generator along
// with the one that is said: gearing moves both alike.
func settleGenerator(c *Car) {
	in, full := &c.Charging.CutIn, &c.Charging.FullOutput
	usual := ChargingDefaults(DCGenerator, c.NominalV)
	switch {
	case c.Charging.Kind != DCGenerator || (in.Origin == Assumed) == (full.Origin == Assumed):
	case full.Origin == Assumed:
		full.Value = scaled(usual.FullOutput.Value, in.X/usual.CutIn.X)
	default:
		in.Value = scaled(usual.CutIn.Value, full.X/usual.FullOutput.X)
	}
}

// settleSecondary keeps the typical one of winding and whole path of the
// secondary in step with the one that is said: the rest, which is lead, rotor
// and resistors, is the usual one, and a whole path that leaves little room
// has less of a winding in it.
func settleSecondary(c *Coil) {
	usual := typicalCoil(c.Class)
	const most = 0.9 // of the whole path in the winding; leads and rotor are never nothing
	switch {
	case (c.Secondary.Origin == Assumed) == (c.Series.Origin == Assumed):
	case c.Series.Origin == Assumed:
		whole := usual.Series.X - usual.Secondary.X + c.Secondary.X
		c.Series.Value = scaled(usual.Series.Value, whole/usual.Series.X)
	case c.Secondary.Hi() > most*c.Series.X:
		c.Secondary.Value = scaled(c.Secondary.Value, most*c.Series.X/c.Secondary.Hi())
	}
}

func scaled(v units.Value, by float64) units.Value {
	v.X *= by
	v.PM *= by
	return v
}

// settleDwell keeps the spread of a dwell below the lobe, beyond which the
// points would never open.
func settleDwell(s *Switch, cylinders int) {
	v, lobe := &s.Dwell.Value, 360/float64(cylinders)
	if v.X < lobe && v.Sample(1) >= lobe {
		lo, hi := v.Lo(), min(v.Hi(), (v.X+lobe)/2)
		*v = units.Value{X: (lo + hi) / 2, PM: (hi - lo) / 2, Shape: units.Uniform}
	}
}

// unreadable stands for the constant of a word that is in the file but is
// none of those known, so that nothing is said to contradict it.
const unreadable = 0xff

// deciding peeks at the kind of a section; usual when the file does not say.
func deciding[E ~uint8](r *reader, n *yaml.Node, section string, words []string, usual E) E {
	s := r.lookup(n, section)
	switch {
	case s == nil && !r.mentions(n, section):
		return usual
	case s == nil || s.Kind != yaml.MappingNode:
		return unreadable
	case !r.mentions(s, "kind"):
		return usual
	}
	if k, ok := find[E](words, r.word1(n, section, "kind")); ok {
		return k
	}
	return unreadable
}

// fitted reads the word none or fitted, or no or yes for them; anything else
// is a section.
func (r *reader) fitted(n *yaml.Node, path string) (fitted, word bool) {
	if n.Kind != yaml.ScalarNode || r.refused[n] {
		return true, false
	}
	if isYes(n.Value) || isNo(n.Value) {
		return isYes(n.Value), true
	}
	w, ok := r.word(n, path, fittedWords)
	return ok && w == "fitted", true
}

func readBallast(r *reader, n *yaml.Node, path string, c *Car) {
	fitted, word := r.fitted(n, path)
	c.Ballast.Fitted, c.Ballast.FittedOrigin = fitted, Stated
	if !word {
		readSection(r, n, path, ballastTable, &c.Ballast)
	}
}

func readRelay(r *reader, n *yaml.Node, path string, c *Car) {
	fitted, word := r.fitted(n, path)
	c.Relay.Fitted = fitted
	if !word {
		readSection(r, n, path, relayTable, &c.Relay)
	}
}

func readPlanned(r *reader, n *yaml.Node, path string, c *Car) {
	f := r.facts
	k := deciding(r, n, "switch", switchWords, SwitchKind(unreadable))
	if s := r.lookup(n, "switch"); n.Kind == yaml.MappingNode && (s == nil && !r.mentions(n, "switch") || s != nil && s.Kind == yaml.MappingNode && !r.mentions(s, "kind")) {
		r.problem(n, path+".switch.kind", "missing", "switch: {kind: darlington}, or another of the kinds", "", ErrField)
	}
	f.switchKind = k
	f.mounting, _ = find[Mounting](mountingWords, r.word1(n, "switch", "mounting"))
	p := &Planned{Feed: upstream(k, f.ballast)}
	fillSwitch(f, &p.Switch)
	c.Planned = p
	readSection(r, n, path, plannedTable, p)
}
