package car

import (
	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// facts are the few things about a car on which typical values hang.
type facts struct {
	nominalV   int
	cylinders  int
	charging   ChargingKind
	ballast    bool
	coil       string
	switchKind SwitchKind
	leg        LegID
	age        Age
	engine     EngineState
	mounting   Mounting
	electrodes Electrodes
	principle  Principle
	ring       RingKind
}

// v picks a figure by system voltage.
func (f facts) v(six, twelve units.Value) units.Value {
	if f.nominalV == 6 {
		return six
	}
	return twelve
}

// n picks a figure by number of cylinders.
func (f facts) n(four, six, eight units.Value) units.Value {
	switch f.cylinders {
	case 4:
		return four
	case 6:
		return six
	}
	return eight
}

// form is the shape in which an entry is written.
type form uint8

const (
	figureForm   form = iota // "1.5 ± 0.1 ohm" or {value: ..., measured: yes}
	wordForm                 // one of words
	flagForm                 // yes or no
	textForm                 // free text
	idFormat                 // an id
	dateForm                 // 2026-05-02, with a time if wanted
	sectionForm              // name: value pairs of its own
	idMapForm                // sections named by ids of the file's own
	readingsForm             // list of readings
	loadListForm             // all, none or a list of load ids
	formatForm               // the format number
	wholeForm                // one of a few whole numbers
	accuracyForm             // sum of parts of a reading, amounts and digits
	placeForm                // test points or a part
	shownForm                // a figure in the unit of the reading's instrument
	countForm                // a whole number
	amountForm               // a figure without a ± of its own
	orderForm                // the cylinders in some order: 1-3-4-2, or a list
	anglesForm               // list of angles
	pointsForm               // list of [speed, crank angle]
	turnsForm                // list of lists of angles
	listForm                 // list of sections
)

// entry is one line of the field table: everything the package knows about
// one name in a section of the car file. Reading a file, filling in what it
// does not say, listing the figures, the JSON Schema and the reference page
// all walk the same entries. T is the struct the section is read into.
type entry[T any] struct {
	name, doc string
	form      form

	// Figures only. param finds the figure in T. typical is what is taken
	// when the file says nothing. Below low or above high (SI) a figure is
	// impossible, not merely unusual. plain is the half-width taken when one
	// is written without a ± of its own: a part of the figure, or degrees if
	// it is a temperature or an advance, or for an amount so much in SI.
	kind      units.Kind
	low, high float64
	plain     float64
	amount    bool
	param     func(*T) *Param
	typical   func(facts) units.Value

	// Everything else. inner are the entries of a section.
	words []string
	inner []line
	read  func(r *reader, n *yaml.Node, path string, t *T)

	// late marks figures that Params lists behind all others. They came to
	// this package after them; so the others keep their place, and with it
	// their numbers, in a draw.
	late bool

	// unfit says why the entry cannot be given for such a car; "" if it can.
	unfit func(facts) string
}

// line is an entry without the struct it is read into, for what only looks at
// the table.
type line struct {
	name, doc        string
	form             form
	kind             units.Kind
	low, high, plain float64
	amount           bool
	typical          func(facts) units.Value
	words            []string
	inner            []line
}

// lines gives a section's entries without their struct.
func lines[T any](table []entry[T]) []line {
	list := make([]line, len(table))
	for i, e := range table {
		list[i] = line{e.name, e.doc, e.form, e.kind, e.low, e.high, e.plain, e.amount, e.typical, e.words, e.inner}
	}
	return list
}

// allLate marks the figures of a section as late.
func allLate[T any](table []entry[T]) []entry[T] {
	for i := range table {
		table[i].late = true
	}
	return table
}

// about is a typical figure with its spread, 95 % of healthy or usual cars.
func about(x, pm float64) units.Value { return units.Value{X: x, PM: pm, Shape: units.Normal} }

// times is a positive figure known to a factor: 95 % of cars lie between
// x/factor and x*factor.
func times(x, factor float64) units.Value {
	return units.Value{X: x, PM: x * (factor - 1), Shape: units.LogNormal}
}

// between is a typical figure anywhere from lo to hi, none beyond.
func between(lo, hi float64) units.Value {
	return units.Value{X: (lo + hi) / 2, PM: (hi - lo) / 2, Shape: units.Uniform}
}

// exactly is a figure with nothing uncertain about it.
func exactly(x float64) units.Value { return units.Value{X: x} }

// always makes a typical value that depends on nothing.
func always(v units.Value) func(facts) units.Value { return func(facts) units.Value { return v } }

// byVoltage makes a typical value that depends on the system voltage.
func byVoltage(six, twelve units.Value) func(facts) units.Value {
	return func(f facts) units.Value { return f.v(six, twelve) }
}

// fill puts the typical value of every figure of a section into t.
func fill[T any](table []entry[T], f facts, t *T) {
	for i := range table {
		if e := &table[i]; e.param != nil {
			*e.param(t) = Param{Value: e.typical(f), Kind: e.kind}
		}
	}
}

// lookup finds an entry by name.
func lookup[T any](table []entry[T], name string) *entry[T] {
	for i := range table {
		if table[i].name == name {
			return &table[i]
		}
	}
	return nil
}

// names lists a section's names in table order.
func names[T any](table []entry[T]) []string {
	list := make([]string, len(table))
	for i := range table {
		list[i] = table[i].name
	}
	return list
}
