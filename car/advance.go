package car

import (
	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// Advance is the distributor's advance: flyweights, springs, stop and vacuum
// can as far as they are known, what is wanted of the curve, what was seen,
// and the springs, stops and weights at hand to change it.
type Advance struct {
	Given bool // the file has an advance section

	// Two flyweights, alike.
	Mass        Param // kg of one
	PivotRadius Param // m, shaft to a weight's pivot
	Arm         Param // m, pivot to the weight's centre of gravity
	Rest        Param // degrees at rest between the lines from the pivot to the shaft and to the centre of gravity

	Light, Heavy Spring
	SpringRadius Param // m, a weight's pivot to the pin its spring hangs on
	Ratio        Param // degrees of advance at the distributor for each degree that a weight swings
	Stop         Param // distributor degrees, the most centrifugal advance
	Friction     Param // N m that holds the weights back either way

	Source       VacuumSource
	SourceOrigin Origin
	Start        Param // Pa below the air outside at which the can begins to pull
	Full         Param // Pa below the air outside at which it has pulled all the way
	Travel       Param // distributor degrees that it gives then
	Altitude     Param // m above the sea at which the car is used

	Wanted     []CurvePoint // rising in speed
	Runs       []CurveRun
	SafeLeast  Param  // crank degrees at full load, all advance that the throttle leaves; Assumed: not said
	SafeMost   Param  // crank degrees at full load; Assumed: not said
	SafeSource string // who says so

	Kit Kit
}

// Spring is one advance spring as it is hooked up.
type Spring struct {
	Rate    Param // N/m
	Preload Param // N it pulls with as it takes up
	Slack   Param // distributor degrees of advance before it takes up
}

// VacuumSource is where the can's hose is joined.
type VacuumSource uint8

const (
	PortedVacuum   VacuumSource = iota // just above the closed throttle: none at idle
	ManifoldVacuum                     // the inlet manifold: full at idle
	NoVacuum                           // no can
)

// Kit is what is at hand to change a curve with.
type Kit struct {
	Springs []KitSpring
	Stops   []KitStop
	Weights []KitWeight
}

// KitSpring is one spring of a kit.
type KitSpring struct {
	ID string
	Spring
}

// KitStop is one stop or slot bush of a kit.
type KitStop struct {
	ID    string
	Limit Param // distributor degrees of centrifugal advance that it allows
}

// KitWeight is one pair of weights of a kit.
type KitWeight struct {
	ID   string
	Mass Param // kg of one
}

// The typical mechanism begins at some 450 distributor rpm and is all in at
// 1500, within the 400 to 600 and 1200 to 2000 rpm that are common [mem].
var weightTable = allLate([]entry[Advance]{
	{
		name: "mass", kind: units.Mass, low: 1e-3, high: 0.5, plain: 0.03,
		doc:     "mass of one weight",
		param:   func(a *Advance) *Param { return &a.Mass },
		typical: always(about(0.040, 0.012)), // [mem]
	},
	{
		name: "pivot_radius", kind: units.Length, low: 3e-3, high: 60e-3, plain: 0.02,
		doc:     "from the shaft to a weight's pivot",
		param:   func(a *Advance) *Param { return &a.PivotRadius },
		typical: always(about(20e-3, 3e-3)), // [mem]
	},
	{
		name: "arm", kind: units.Length, low: 1e-3, high: 50e-3, plain: 0.05,
		doc:     "from the pivot to the weight's centre of gravity",
		param:   func(a *Advance) *Param { return &a.Arm },
		typical: always(about(12e-3, 3e-3)), // [mem]
	},
	{
		name: "rest", kind: units.DistributorAngle, low: 1, high: 150, plain: 3, amount: true,
		doc:     "at rest, the angle at the pivot between shaft and centre of gravity",
		param:   func(a *Advance) *Param { return &a.Rest },
		typical: always(about(52, 10)), // [mem]
	},
})

// springTable is that of the light spring; the heavy one has the same names.
func springTableOf(rate, preload, slack units.Value, which string) []entry[Spring] {
	return allLate([]entry[Spring]{
		{
			name: "rate", kind: units.SpringRate, low: 10, high: 1e6, plain: 0.05,
			doc:     "force for each length that it is stretched",
			param:   func(s *Spring) *Param { return &s.Rate },
			typical: always(rate),
		},
		{
			name: "preload", kind: units.Force, low: 0, high: 300, plain: 0.1,
			doc:     "force it pulls with as it takes up: at rest, or where its slack ends",
			param:   func(s *Spring) *Param { return &s.Preload },
			typical: always(preload),
		},
		{
			name: "slack", kind: units.DistributorAngle, low: 0, high: 30, plain: 0.5, amount: true,
			doc:     "advance at the distributor that comes before " + which + " takes up",
			param:   func(s *Spring) *Param { return &s.Slack },
			typical: always(slack),
		},
	})
}

var (
	// [mem] chosen together, see weightTable.
	lightTable     = springTableOf(times(2.5e3, 1.4), about(4.2, 1.2), exactly(0), "it")
	heavyTable     = springTableOf(times(14e3, 1.4), exactly(0), about(5.5, 1.5), "it")
	kitSpringTable = springTableOf(exactly(0), exactly(0), exactly(0), "it")
)

var vacuumTable = allLate([]entry[Advance]{
	{
		name: "source", form: wordForm, words: vacuumWords,
		doc: "where the can's hose is joined: ported just above the throttle, manifold, or none without a can; ported when not said",
		read: func(r *reader, n *yaml.Node, path string, a *Advance) {
			if w, ok := readWord[VacuumSource](r, n, path, vacuumWords); ok {
				a.Source, a.SourceOrigin = w, Stated
			}
		},
	},
	{
		name: "start", kind: units.Vacuum, low: 0, high: 90e3, plain: 0.1,
		doc:   "vacuum, counted down from the air outside, at which the can begins to pull",
		param: func(a *Advance) *Param { return &a.Start },
		// [cp] 4 to 8 inHg; [mem] 100 to 170 mbar.
		typical: always(about(17e3, 6e3)),
	},
	{
		name: "full", kind: units.Vacuum, low: 1e3, high: 100e3, plain: 0.05,
		doc:   "vacuum at which it has pulled all the way",
		param: func(a *Advance) *Param { return &a.Full },
		// [cp] 12 to 16 inHg; [mem] 330 to 500 mbar.
		typical: always(about(45e3, 8e3)),
	},
	{
		name: "travel", kind: units.DistributorAngle, low: 0, high: 30, plain: 0.5, amount: true,
		doc:     "advance at the distributor that it gives then",
		param:   func(a *Advance) *Param { return &a.Travel },
		typical: always(about(8, 3)), // [mem] 5 to 12 degrees; [cp] 10 to 20 at the crank
	},
})

var safeTable = allLate([]entry[Advance]{
	{
		name: "least", kind: units.CrankAngle, low: 0, high: 60,
		doc:     "least timing at full load, where more is only dull and hot",
		param:   func(a *Advance) *Param { return &a.SafeLeast },
		typical: always(exactly(0)), // none but what is said
	},
	{
		name: "most", kind: units.CrankAngle, low: 0, high: 60,
		doc:     "most timing at full load that this engine stands on this fuel",
		param:   func(a *Advance) *Param { return &a.SafeMost },
		typical: always(exactly(0)), // none but what is said
	},
	{
		name: "source", form: textForm, doc: "who says so: manual, builder, rolling road",
		read: func(r *reader, n *yaml.Node, path string, a *Advance) {
			if s, ok := r.text(n, path); ok {
				a.SafeSource = s
			}
		},
	},
})

var advanceTable = allLate([]entry[Advance]{
	part("weights", "the two flyweights, which are alike", weightTable, func(a *Advance) *Advance { return a }),
	part("light", "the light spring, which works from rest", lightTable, func(a *Advance) *Spring { return &a.Light }),
	part("heavy", "the heavy spring, which takes up later", heavyTable, func(a *Advance) *Spring { return &a.Heavy }),
	{
		name: "spring_radius", kind: units.Length, low: 1e-3, high: 60e-3, plain: 0.05,
		doc:     "from a weight's pivot to the pin its spring hangs on",
		param:   func(a *Advance) *Param { return &a.SpringRadius },
		typical: always(about(10e-3, 2e-3)), // [mem]
	},
	{
		name: "ratio", kind: units.Ratio, low: 0.05, high: 3, plain: 0.05,
		doc:     "degrees that the cam is advanced for each degree that a weight swings",
		param:   func(a *Advance) *Param { return &a.Ratio },
		typical: always(about(0.44, 0.06)), // [mem]
	},
	{
		name: "stop", kind: units.DistributorAngle, low: 0.5, high: 30, plain: 0.5, amount: true,
		doc:     "most centrifugal advance at the distributor; half of what it is at the crank",
		param:   func(a *Advance) *Param { return &a.Stop },
		typical: always(about(11, 3)), // [mem] 8 to 14 degrees
	},
	{
		name: "friction", kind: units.Torque, low: 0, high: 0.1, plain: 0.3,
		doc:     "torque by which pivots and cam hold the weights back, rising or falling",
		param:   func(a *Advance) *Param { return &a.Friction },
		typical: always(times(1e-3, 2.5)), // [mem] up and down within 2 crank degrees in order
	},
	part("vacuum", "the vacuum can and its hose", vacuumTable, func(a *Advance) *Advance { return a }),
	{
		name: "altitude", kind: units.Length, low: 0, high: 5000, plain: 0.1,
		doc:     "height above the sea at which the car is used",
		param:   func(a *Advance) *Param { return &a.Altitude },
		typical: always(between(0, 300)), // as the air of the built-in conditions
	},
	{
		name: "wanted", form: pointsForm,
		doc:  "the curve that is wanted, vacuum hose off, initial timing included: a list of [engine speed, crank degrees], rising in speed; a ± is what it may be off, timing.tolerance when not said",
		read: readWanted,
	},
	{
		name: "runs", form: listForm, inner: lines(curveRunTable),
		doc:  "what was seen with a timing light, vacuum hose off: a list of runs up or down through the speeds",
		read: readCurveRuns,
	},
	part("safe", "timing at full load that is known to be safe for this engine", safeTable, func(a *Advance) *Advance { return a }),
	part("kit", "springs, stops and weights at hand", kitTable, func(a *Advance) *Kit { return &a.Kit }),
})

// part is a section within a section.
func part[T, U any](name, doc string, table []entry[U], field func(*T) *U) entry[T] {
	return entry[T]{name: name, doc: doc, form: sectionForm, inner: lines(table), read: func(r *reader, n *yaml.Node, path string, t *T) {
		readSection(r, n, path, table, field(t))
	}}
}

// fillAdvance puts typical figures into an advance.
func fillAdvance(f facts, a *Advance) {
	fill(weightTable, f, a)
	fill(lightTable, f, &a.Light)
	fill(heavyTable, f, &a.Heavy)
	fill(vacuumTable, f, a)
	fill(safeTable, f, a)
	fill(advanceTable, f, a)
}
