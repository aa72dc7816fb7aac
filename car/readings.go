package car

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// instrument is what is known about a kind of meter before it is said.
type instrument struct {
	kind     units.Kind // what it shows
	accuracy string     // taken when none is stated
	low      float64    // of what it can show, SI
	high     float64
	what     string      // what it is held to, if not two probes
	parts    []TestPoint // where that can be
	atRest   bool        // read with the key off, in no condition
}

// instruments, indexed by InstrumentKind. Accuracies are common practice
// [cp]: half a percent and two digits for a hand-held digital voltmeter,
// a percent for its minimum and maximum hold, 3 % for a scope, 2 % and 0.1 A
// of drift for a Hall-effect clamp, a tenth for a spark tester; a degree of
// the crank for a timing light, two of the distributor through a window in the
// cap, a leaf of a feeler gauge, and a tenth of a millimetre where a caliper
// has to be read off clay or a cut cap.
var instruments = [...]instrument{
	Voltmeter:    {kind: units.Voltage, accuracy: "0.5 % + 2 digits", low: -100, high: 100},
	VoltmeterMin: {kind: units.Voltage, accuracy: "1 % + 3 digits", low: -100, high: 100},
	VoltmeterMax: {kind: units.Voltage, accuracy: "1 % + 3 digits", low: -500, high: 500},
	ScopeMin:     {kind: units.Voltage, accuracy: "3 % + 0.1 V", low: -500, high: 500},
	ScopeMax:     {kind: units.Voltage, accuracy: "3 % + 0.1 V", low: -500, high: 500},
	Ohmmeter:     {kind: units.Resistance, accuracy: "1 % + 2 digits", low: 0, high: 1e9, atRest: true},
	ClampAmmeter: {kind: units.Current, accuracy: "2 % + 0.1 A", low: -1000, high: 1000, what: "wire or part for a current clamp", parts: clampPlaces},
	ClampPeak:    {kind: units.Current, accuracy: "3 % + 0.2 A", low: -1000, high: 1000, what: "wire or part for a current clamp", parts: clampPlaces},
	Thermometer:  {kind: units.Temperature, accuracy: "2 K", low: -50, high: 400, what: "part for a thermometer", parts: HeatParts},
	SparkTester:  {kind: units.Voltage, accuracy: "10 %", low: 0, high: 100e3, what: "place for a spark tester", parts: HighParts},
	TimingLight:  {kind: units.CrankAngle, accuracy: "1 deg", low: -60, high: 80, what: "place for a timing light", parts: LightParts},
	WindowedCap:  {kind: units.DistributorAngle, accuracy: "2 deg", low: -90, high: 90, what: "place for a windowed cap", parts: WindowParts},
	FeelerGauge:  {kind: units.Length, accuracy: "0.05 mm", low: 0, high: 10e-3, what: "place for a feeler gauge", parts: FeelerParts, atRest: true},
	Caliper:      {kind: units.Length, accuracy: "0.1 mm", low: 0, high: 0.1, what: "place for a caliper", parts: CaliperParts, atRest: true},
}

// clampPlaces are the wiring legs and the parts a clamp goes round.
var clampPlaces = func() []TestPoint {
	var list []TestPoint
	for id, name := range LegNames {
		list = append(list, TestPoint{name, LegTitles[id]})
	}
	return append(list, ClampParts...)
}()

// twoProbes reports whether the instrument is held to two test points.
func (k InstrumentKind) twoProbes() bool { return k <= Ohmmeter }

// Shows gives the kind of figure an instrument shows.
func (k InstrumentKind) Shows() units.Kind {
	if int(k) < len(instruments) {
		return instruments[k].kind
	}
	return units.Voltage
}

// usualLeads is the resistance of a pair of meter leads that was not nulled
// [cp: 0.1 to 0.5 ohm], and what is left after nulling [cp].
var (
	usualLeads  = times(0.22, 2.2)
	nulledLeads = about(0, 0.02)
)

// mostLeads is more than any pair of leads in working order has, in ohm.
const mostLeads = 10

// Options are the ways a car can have been wired when a reading was taken, by
// the ids under which they are predicted: as fitted (also when nothing is
// said), or with one of the conversions already tried on the car.
var Options = []string{
	"as_fitted", "points_kept", "feed_behind_ballast", "feed_before_ballast", "full_voltage_coil", "relay_feed",
}

var readingTable = []entry[Reading]{
	{name: "id", form: idFormat, doc: "short name for the reading; its number in the list when not said, reading_1 and so on", read: (*reader).readingID},
	{name: "at", form: placeForm, doc: "the two test points, red lead first; for what has no probes the wire, part or place it is held to", read: (*reader).readingAt},
	{name: "condition", form: idFormat, doc: "id of the condition the car was in; none for an ohmmeter, feeler gauge or caliper, the key is off", read: readingText(func(d *Reading) *string { return &d.Condition })},
	{name: "instrument", form: wordForm, words: instrumentWords, doc: "what it was measured with, and which instant of a changing voltage that shows",
		read: func(r *reader, n *yaml.Node, path string, d *Reading) {
			if k, ok := readWord[InstrumentKind](r, n, path, instrumentWords); ok {
				d.Instrument = k
			}
		}},
	{name: "value", form: shownForm, doc: "what it showed", read: (*reader).readingValue},
	{name: "accuracy", form: accuracyForm, doc: "of the instrument: a part of the reading, an amount, digits of the display, or a sum of them; usual for the instrument when not said", read: (*reader).readingAccuracy},
	{name: "leads", form: figureForm, kind: units.Resistance, low: 0, high: mostLeads, plain: 0.2, doc: "resistance of both ohmmeter leads together, still in the reading", read: (*reader).readingLeads},
	{name: "leads_nulled", form: flagForm, doc: "the ohmmeter's leads were zeroed out before", read: func(r *reader, n *yaml.Node, path string, d *Reading) {
		if yes, ok := r.flag(n, path); ok {
			d.LeadsNulled = yes
		}
	}},
	{name: "option", form: wordForm, words: Options, doc: "how the car was wired at the time; as_fitted when not said", read: (*reader).readingOption},
	{name: "when", form: dateForm, doc: "date, with the time if wanted", read: (*reader).readingWhen},
	{name: "by", form: textForm, doc: "who took it", read: readingText(func(d *Reading) *string { return &d.By })},
	{name: "note", form: textForm, doc: "anything else", read: readingText(func(d *Reading) *string { return &d.Note })},
}

func readingText(field func(*Reading) *string) func(*reader, *yaml.Node, string, *Reading) {
	return func(r *reader, n *yaml.Node, path string, d *Reading) {
		if s, ok := r.text(n, path); ok {
			*field(d) = s
		}
	}
}

// readReadings reads the list of readings. Each needs at, instrument and
// value, and a condition unless it is read with the key off.
func readReadings(r *reader, n *yaml.Node, path string, c *Car) {
	if !r.is(n, path, yaml.SequenceNode, "a list, each reading on a line that starts with a dash") {
		return
	}
	taken := map[string]int{}
	for i, item := range n.Content {
		at := fmt.Sprintf("%s[%d]", path, i+1)
		if r.refused[item] {
			continue
		}
		d := Reading{ID: fmt.Sprintf("reading_%d", i+1), Pos: r.pos(item)}
		d.Instrument, _ = find[InstrumentKind](instrumentWords, r.word1(item, "instrument"))
		d.LeadsNulled = isYes(r.word1(item, "leads_nulled"))
		r.valueRead = false
		if !readSection(r, item, at, readingTable, &d) {
			continue
		}
		var lacks []string
		for _, name := range []string{"at", "instrument", "value"} {
			if !r.mentions(item, name) {
				lacks = append(lacks, name)
			}
		}
		if len(lacks) > 0 {
			r.problem(item, at, "not said: "+strings.Join(lacks, ", "), readingNeeds, "", ErrField)
		}
		r.checkReading(item, at, &d, c)
		if line, again := taken[d.ID]; again {
			r.problem(item, at+".id", fmt.Sprintf("%s is already the id of the reading on line %d", quote(d.ID), line), "an id of its own", "", ErrContradiction)
		}
		taken[d.ID] = item.Line
		c.Readings = append(c.Readings, d)
	}
}

const readingNeeds = "at, instrument, value and, unless it is read with the key off, condition"

// checkReading checks what hangs on more than one field of a reading.
func (r *reader) checkReading(n *yaml.Node, path string, d *Reading, c *Car) {
	if r.lookup(n, "instrument") == nil {
		return
	}
	ohms, rest := d.Instrument == Ohmmeter, instruments[d.Instrument].atRest
	condition := r.lookup(n, "condition")
	switch {
	case condition == nil && r.mentions(n, "condition"):
	case condition == nil && !rest:
		r.problem(n, path, "condition is missing", "the id of one of the car's conditions", "", ErrField)
	case condition != nil && rest && !r.refused[condition]:
		r.problem(condition, path+".condition", article(d.Instrument)+" is used with the key off, never in a condition", "a reading without condition", "", ErrContradiction)
	case condition != nil && d.Condition != "" && !slices.ContainsFunc(c.Conditions, func(k Condition) bool { return k.ID == d.Condition }):
		list := make([]string, len(c.Conditions))
		for i, k := range c.Conditions {
			list[i] = k.ID
		}
		r.unknown(condition, path+".condition", "condition", d.Condition, list)
	}
	for _, name := range []string{"leads", "leads_nulled"} {
		if at := r.lookup(n, name); at != nil && !ohms {
			r.problem(at, path+"."+name, "only an ohmmeter's leads count", "", "", ErrContradiction)
		}
	}
	if at := r.lookup(n, "leads"); at != nil && ohms && d.LeadsNulled {
		r.problem(at, path+".leads", "leads were nulled, so there is nothing left to say of them", "either leads or leads_nulled: yes", "", ErrContradiction)
	}
	if ohms && d.Leads == (units.Value{}) {
		if d.Leads = usualLeads; d.LeadsNulled {
			d.Leads = nulledLeads
		}
	}
	if at := r.lookup(n, "at"); at != nil && d.Option == "" {
		for _, place := range []string{d.Red, d.Black} {
			if why := lacks(c, place); why != "" {
				r.problem(at, path+".at", fmt.Sprintf("no %s on this car: %s", place, why), "another place, or the option the car was wired as", "", ErrContradiction)
			}
		}
	}
	r.settleAccuracy(n, path, d)
}

// lacks says why a car as fitted has no such test point, leg or part; "" if
// it has.
func lacks(c *Car, place string) string {
	switch place {
	case "trigger_supply", "feed_wire":
		if !c.Switch.Kind.Electronic() {
			return "points have no supply wire"
		}
	case "air_gap":
		if !c.Switch.Kind.Electronic() && (c.Planned == nil || !c.Planned.Switch.Kind.Electronic()) {
			return "points have a gap of their own, which is the switch's"
		}
	case "rotor_tip_full_vacuum":
		if c.Advance.Source == NoVacuum {
			return "it has no vacuum can"
		}
	case "relay_out", "relay_feed":
		if !c.Relay.Fitted || c.Feed != FeedRelay {
			return "nothing is fed by a relay"
		}
	case "generator_output", "generator", "charge_lead":
		if c.Charging.Kind == NoCharging {
			return "nothing charges it"
		}
	case "bypass_lead":
		if !c.KeySwitch.Bypass {
			return "none is fitted"
		}
	case "ballast":
		if !c.Ballast.Fitted {
			return "none is fitted"
		}
	}
	return ""
}

// article gives an instrument with its article, in words.
func article(k InstrumentKind) string {
	name := inWords(k.String())
	if strings.ContainsRune("aeiou", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}

func (r *reader) readingID(n *yaml.Node, path string, d *Reading) {
	if s, ok := r.text(n, path); ok && r.goodID(n, path, s) {
		d.ID = s
	}
}

// readingAt reads where the probes or the clamp were.
func (r *reader) readingAt(n *yaml.Node, path string, d *Reading) {
	if !d.Instrument.twoProbes() {
		places, what := ids(instruments[d.Instrument].parts), instruments[d.Instrument].what
		if n.Kind == yaml.SequenceNode && len(n.Content) == 1 {
			n = n.Content[0]
		}
		if !r.is(n, path, yaml.ScalarNode, "one "+what+": "+strings.Join(places, ", ")) {
			return
		}
		if !slices.Contains(places, n.Value) {
			r.unknown(n, path, what, n.Value, places)
			return
		}
		d.Red = n.Value
		return
	}
	if !r.is(n, path, yaml.SequenceNode, "two test points, [red, black]") {
		return
	}
	if len(n.Content) != 2 {
		r.problem(n, path, fmt.Sprintf("%d instead of two test points", len(n.Content)), "[red, black]", "", ErrField)
		return
	}
	points := ids(TestPoints)
	for i, p := range n.Content {
		if !r.is(p, path, yaml.ScalarNode, "the name of a test point") {
			continue
		}
		if !slices.Contains(points, p.Value) {
			r.unknown(p, path, "test point", p.Value, points)
			continue
		}
		if i == 0 {
			d.Red = p.Value
		} else if d.Black = p.Value; d.Black == d.Red {
			r.problem(p, path, "both probes on "+d.Red, "two different test points", "", ErrContradiction)
		}
	}
}

// readingValue reads the figure shown, in the unit of the instrument.
func (r *reader) readingValue(n *yaml.Node, path string, d *Reading) {
	m := instruments[d.Instrument]
	d.Kind = m.kind
	v, ok := r.value(n, path, m.kind, func(text string) string {
		if strings.Trim(text, "0123456789.,±+- ") == "" {
			return "" // no unit at all
		}
		for _, other := range instruments {
			if _, err := units.Parse(other.kind, text); err == nil && other.kind != m.kind {
				return fmt.Sprintf("%s does not show %s", d.Instrument, quote(text))
			}
		}
		return ""
	})
	if !ok {
		return
	}
	if v.X < m.low || v.X > m.high {
		r.impossible(n, path, m.kind, v, m.low, m.high)
		return
	}
	d.Value, r.valueRead = v, true
}

// readingAccuracy only looks at the shape; settleAccuracy reads it when the
// value is known.
func (r *reader) readingAccuracy(n *yaml.Node, path string, d *Reading) { r.text(n, path) }

// settleAccuracy finds the half-width of a reading: what the file says, the
// value's own ±, or what is usual for the instrument.
func (r *reader) settleAccuracy(n *yaml.Node, path string, d *Reading) {
	shown, said := r.lookup(n, "value"), r.lookup(n, "accuracy")
	if !r.valueRead {
		return
	}
	text, path := instruments[d.Instrument].accuracy, path+".accuracy"
	switch {
	case said != nil && d.Value.PM > 0:
		r.problem(said, path, "the value has a ± of its own already", "one of the two", "", ErrContradiction)
		return
	case said != nil && said.Kind == yaml.ScalarNode && !r.refused[said]:
		text = said.Value
	case d.Value.PM > 0:
		d.Accuracy.X = d.Value.PM
		return
	}
	half, err := accuracy(text, d.Kind, d.Value.X, shown.Value)
	if err != nil {
		r.problem(said, path, err.Error(), accuracyForms, "", ErrValue)
		return
	}
	d.Accuracy.X = half
}

func (r *reader) readingLeads(n *yaml.Node, path string, d *Reading) {
	v, ok := r.value(n, path, units.Resistance, nil)
	if !ok {
		return
	}
	if v, ok = r.possible(n, path, units.Resistance, v, 0, mostLeads, 0.2, false); !ok {
		return
	}
	d.Leads = v
}

func (r *reader) readingOption(n *yaml.Node, path string, d *Reading) {
	if w, ok := r.word(n, path, Options); ok && w != Options[0] {
		d.Option = w
	}
}

// dateForms are ISO 8601 dates, with or without a time of day.
var dateForms = []string{"2006-01-02", "2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02T15:04:05", time.RFC3339}

func (r *reader) readingWhen(n *yaml.Node, path string, d *Reading) {
	if s, ok := r.date(n, path); ok {
		d.When = s
	}
}

// date reads a date.
func (r *reader) date(n *yaml.Node, path string) (string, bool) {
	s, ok := r.text(n, path)
	if !ok {
		return "", false
	}
	for _, form := range dateForms {
		if _, err := time.Parse(form, s); err == nil {
			return s, true
		}
	}
	r.problem(n, path, quote(s)+" is not a date", "a date as 2026-05-02, with a time as 2026-05-02 14:30", "", ErrValue)
	return "", false
}
