package car

import (
	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// run is the usual make of one wiring leg.
type run struct {
	awg6, awg12 int     // American wire gauge, 0 is 1/0
	length      float64 // m
	joints      float64
	joint       float64 // ohm, one used joint in good order
}

// Joints, used and in good order: a crimp, blade or screw terminal 2 mohm
// [mem: 1 to 5 mohm good]; a battery post or cable lug 0.3 mohm [pub: US Army
// TM 10-3930-671-24 allows 0.2 V in 100 A for a whole cable]; a strap's lug
// on bare metal 0.8 mohm and the moving or painted joints of the distributor
// 5 to 8 mohm, so that the whole way from breaker plate to battery is 0.02 to
// 0.03 ohm [pub: NAVEDTRA 14329 allows 0.1 V there, which is 25 mohm at 4 A].
const (
	lug      = 0.3e-3
	terminal = 2e-3
)

// usualRun is common practice [cp] for gauges and lengths of a car with the
// battery under the bonnet; the sum from the battery's live post to the
// ballast is 0.05 to 0.10 ohm with the key switch, as period manuals' limits
// of 0.1 V for each wire and switch imply.
var usualRun = [LegCount]run{
	BatteryCable: {1, 2, 1.0, 2, lug},
	MainFeed:     {10, 12, 2.0, 3, terminal},
	ChargeLead:   {8, 10, 1.5, 2, terminal},
	SwitchFeed:   {12, 14, 0.8, 2, terminal},
	IgnitionLead: {14, 16, 1.5, 3, terminal},
	CoilLead:     {14, 16, 0.5, 2, terminal},
	TriggerLead:  {14, 16, 0.4, 2, terminal},
	BypassLead:   {12, 14, 1.2, 2, terminal},
	FeedWire:     {16, 16, 1.0, 3, terminal},
	RelayFeed:    {12, 12, 0.8, 3, terminal},
	PivotWire:    {18, 18, 0.08, 2, 5e-3},
	HousingClamp: {4, 4, 0, 1, 8e-3},
	EngineStrap:  {4, 4, 0.3, 2, 0.8e-3},
	EarthCable:   {1, 2, 0.6, 2, lug},
}

// ageing multiplies a used joint [cp]: new ones are about half, old ones
// three times, and a corroded crimp of 2 mohm becomes 60 mohm, towards the
// 50 to 500 mohm of a bad one [mem].
var ageing = [...]struct{ factor, spread float64 }{
	Used:     {1, 1.8},
	New:      {0.6, 1.5},
	Old:      {3, 2},
	Corroded: {30, 3},
}

var legTable = []entry[Leg]{
	{
		name: "gauge", kind: units.WireSection, low: 0.05e-6, high: 200e-6, plain: 0.03,
		doc:   "wire size, as a gauge or as copper area",
		param: func(l *Leg) *Param { return &l.Section },
		typical: func(f facts) units.Value {
			u := usualRun[f.leg]
			if f.nominalV == 6 {
				return times(units.AWGSection(u.awg6), 1.3) // about one gauge number either way
			}
			return times(units.AWGSection(u.awg12), 1.3)
		},
	},
	{
		name: "length", kind: units.Length, low: 0, high: 15, plain: 0.05,
		doc:   "length of the wire",
		param: func(l *Leg) *Param { return &l.Length },
		typical: func(f facts) units.Value {
			if u := usualRun[f.leg]; u.length > 0 {
				return times(u.length, 1.5)
			}
			return exactly(0) // metal on metal, no wire
		},
	},
	{
		name: "connections", kind: units.Count, low: 0, high: 30,
		doc:   "how many joints the run has: terminals, plugs, bulkhead connectors",
		param: func(l *Leg) *Param { return &l.Connections },
		typical: func(f facts) units.Value {
			return exactly(usualRun[f.leg].joints) // its spread is in the joint's
		},
	},
	{
		name: "joint", kind: units.Resistance, low: 0, high: 100, plain: 0.3,
		doc:   "resistance of each joint; follows the age when not said",
		param: func(l *Leg) *Param { return &l.Joint },
		typical: func(f facts) units.Value {
			a := ageing[f.age]
			return times(usualRun[f.leg].joint*a.factor, a.spread)
		},
	},
	{
		name: "stranding", kind: units.Ratio, low: 1, high: 1.2, plain: 0.01,
		doc:   "how much longer the strands are than the wire, for their lay",
		param: func(l *Leg) *Param { return &l.Stranding },
		// [cp] stranding adds 2 to 5 % to the resistance.
		typical: always(units.Value{X: 1.035, PM: 0.015, Shape: units.Uniform}),
	},
	{
		name: "age", form: wordForm, words: ageWords,
		doc: "state of the joints; used when not said",
		read: func(r *reader, n *yaml.Node, path string, l *Leg) {
			if a, ok := readWord[Age](r, n, path, ageWords); ok {
				l.Age = a
			}
		},
	},
	{
		name: "resistance", kind: units.Resistance, low: 0, high: 10e3, plain: 0.2,
		doc:     "resistance of the whole leg at 20 °C; takes the place of gauge, length and joints",
		param:   func(l *Leg) *Param { return &l.Resistance },
		typical: func(facts) units.Value { return exactly(0) }, // not used until given
	},
}

// wiringTable is one section for each leg, and one word for all of them.
var wiringTable = func() []entry[Car] {
	table := []entry[Car]{{
		name: "age", form: wordForm, words: ageWords,
		doc: "state of the joints of every leg that does not say its own",
		read: func(r *reader, n *yaml.Node, path string, _ *Car) {
			readWord[Age](r, n, path, ageWords) // taken by fillLegs
		},
	}}
	for id := range LegCount {
		table = append(table, entry[Car]{
			name: LegNames[id], doc: LegTitles[id], form: sectionForm, inner: lines(legTable),
			read: func(r *reader, n *yaml.Node, path string, c *Car) {
				leg := &c.Wiring[id]
				readSection(r, n, path, legTable, leg)
				leg.Given = leg.Resistance.Origin != Assumed
			},
		})
	}
	return table
}()

// fillLegs puts typical figures into every leg; age says how tired each is.
func fillLegs(f facts, c *Car, age func(LegID) Age) {
	for id := range LegCount {
		f.leg, f.age = id, age(id)
		c.Wiring[id].Age = f.age
		fill(legTable, f, &c.Wiring[id])
	}
}
