package measure

import (
	"math"
	"slices"

	"dwellwright/car"
	"dwellwright/twin"
	"dwellwright/units"
)

// Measure is one thing that can be read, looked at or asked of a car.
type Measure struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Group Group  `json:"group"`

	// Observation marks an owner's report or a look: what Bench.Read gives is
	// the chance, 0 to 1, that it is so. Otherwise it gives the figure read.
	Observation bool       `json:"observation,omitempty"`
	Kind        units.Kind `json:"kind"` // of the figure; units.Fraction for an observation

	Setup        string   `json:"setup"`         // id of the set-up group, see Setups
	SetupMinutes float64  `json:"setup_minutes"` // once for all readings of the group
	Minutes      float64  `json:"minutes"`       // for this reading, set up
	Skill        int      `json:"skill"`         // 1 a careful owner, 2 a mechanic, 3 an ignition specialist
	Hazards      []Hazard `json:"hazards,omitempty"`

	Probes  string `json:"probes"`  // where each lead goes, or where to look
	Engine  string `json:"engine"`  // what engine and key are doing
	Healthy string `json:"healthy"` // what a car in order shows, in words, and who says so
	With    string `json:"with"`    // the instrument in words

	// Needs is what the car must be able to do for it. The figures of Read are
	// those of a car that does; whether it does is a matter of the
	// observations about starting and running.
	Needs Need `json:"needs"`

	// Condition is the id of the car's condition it is taken in; empty with the
	// key off, or in a state made out of one of those (Engine says which).
	Condition string `json:"condition,omitempty"`
	// Spec is the reading as package twin knows it, in Condition or, where that
	// is empty, with the key off; nil for what twin has none for.
	Spec *twin.Spec `json:"spec,omitempty"`

	// Accuracy is the half-width, 95 in 100, of the instrument at a figure
	// read, in the figure's unit. Nil for an observation.
	Accuracy func(figure float64) float64 `json:"-"`
}

// Need is what the car must do for a measure.
type Need uint8

// The needs, from least to most.
const (
	NeedsNothing Need = iota // key off
	NeedsKey                 // key on, engine stopped
	NeedsCrank               // the starter turns the engine
	NeedsRunning             // the engine runs
)

var needWords = [...]string{"nothing", "key", "crank", "running"}

func (n Need) String() string { return wordOf(needWords[:], int(n)) }

// MarshalText writes the need as a word.
func (n Need) MarshalText() ([]byte, error) { return []byte(n.String()), nil }

// UnmarshalText reads it again.
func (n *Need) UnmarshalText(text []byte) error {
	i, err := wordAt("need", needWords[:], string(text))
	*n = Need(i)
	return err
}

// Group sorts measures by what they are about.
type Group uint8

// The groups.
const (
	Supply Group = iota
	Feed
	Ground
	Primary
	Trigger
	Secondary
	Timing
	Advance
	Look
	Owner
)

var groupWords = [...]string{"supply", "feed", "ground", "primary", "trigger", "secondary", "timing", "advance", "look", "owner"}

func (g Group) String() string { return wordOf(groupWords[:], int(g)) }

// MarshalText writes the group as a word.
func (g Group) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// UnmarshalText reads it again.
func (g *Group) UnmarshalText(text []byte) error {
	i, err := wordAt("group", groupWords[:], string(text))
	*g = Group(i)
	return err
}

// entry is a measure with the way it is predicted.
type entry struct {
	Measure
	red, black string // test points or part of a Spec, to word Probes by

	// why says why a car cannot have it; nil when any can.
	why func(c *car.Car) string

	at    state
	depth depth
	spec  *twin.Spec
	here  func(v *visit) float64
	// over works it out of the facts of several states.
	over  func(f *[states]facts) float64
	wants [states]depth
}

// table is every measure there is, in the order of the trade's own work: from
// the battery to the plugs, then timing, looks and what the owner says.
var table = func() []entry {
	var t []entry
	for _, part := range [][]entry{supplyEntries(), feedEntries(), groundEntries(), primaryEntries(), triggerEntries(),
		secondaryEntries(), timingEntries(), advanceEntries(), lookEntries(), startEntries(), runEntries(), driveEntries()} {
		t = append(t, part...)
	}
	for i := range t {
		t[i].settle()
	}
	return t
}()

var places = func() map[string]int {
	m := make(map[string]int, len(table))
	for i := range table {
		m[table[i].ID] = i
	}
	return m
}()

// settle fills in what follows from the rest of an entry.
func (e *entry) settle() {
	g := setupByID(e.Setup)
	e.SetupMinutes = g.Minutes
	if e.over != nil {
		return
	}
	e.Condition = e.at.condition()
	if e.spec != nil {
		e.red, e.black = e.spec.Red, e.spec.Black
		e.Kind = e.spec.Kind()
		e.Spec = e.spec
		if e.Condition == "" && e.at != keyOff {
			e.Spec = nil // a state that no condition of the car's is
		}
	}
	e.depth |= network
	e.wants[e.at] |= e.depth
}

// IDs are the ids of every measure there is, in order.
func IDs() []string {
	ids := make([]string, len(table))
	for i := range table {
		ids[i] = table[i].ID
	}
	return ids
}

// Catalogue lists what can be read, seen and asked of a car. What the car
// cannot have is left out; Why says why.
func Catalogue(c *car.Car) []Measure {
	var list []Measure
	for i := range table {
		if table[i].lacks(c) == "" {
			list = append(list, table[i].on(c))
		}
	}
	return list
}

// Why says why a car cannot have a measure: "" where it can.
func Why(c *car.Car, id string) string {
	i, ok := places[id]
	if !ok {
		return (&UnknownError{ID: id}).Error()
	}
	return table[i].lacks(c)
}

// Find returns a measure of a car by its id: an *UnknownError for an id there
// is not, a *LacksError for one this car cannot have.
func Find(c *car.Car, id string) (Measure, error) {
	i, ok := places[id]
	if !ok {
		return Measure{}, &UnknownError{ID: id}
	}
	if why := table[i].lacks(c); why != "" {
		return Measure{}, &LacksError{ID: id, Why: why}
	}
	return table[i].on(c), nil
}

// on is the measure as it is put for one car.
func (e *entry) on(c *car.Car) Measure {
	m := e.Measure
	m.Hazards = slices.Clone(m.Hazards)
	if m.Spec != nil {
		s := *m.Spec
		m.Spec = &s
	}
	if m.Probes == "" {
		m.Probes = probeWords(c, e.spec)
	}
	if m.Engine == "" {
		m.Engine = e.at.engine()
	}
	return m
}

// lacks says why a car cannot have it, "" where it can.
func (e *entry) lacks(c *car.Car) string {
	for s := range e.wants {
		if e.wants[s] == 0 {
			continue
		}
		if id := state(s).from(); conditionOf(c, id) < 0 {
			return "the car has no condition " + id
		}
	}
	if e.spec != nil {
		for _, p := range []string{e.spec.Red, e.spec.Black} {
			if why := noPoint(c, p); why != "" {
				return why
			}
		}
	}
	if e.why != nil {
		return e.why(c)
	}
	return ""
}

// noPoint says why a car has not a test point or part; "" where it has, and
// for what is no test point.
func noPoint(c *car.Car, id string) string {
	switch id {
	case "generator_output", "generator", "charge_lead":
		if c.Charging.Kind == car.NoCharging {
			return "the car has no generator or alternator"
		}
	case "relay_out", "relay_feed":
		if !relayed(c) {
			return "the ignition is not fed by a relay"
		}
	case "trigger_supply", "feed_wire", "air_gap":
		return points(c)
	}
	return ""
}

func relayed(c *car.Car) bool { return c.Feed == car.FeedRelay && c.Relay.Fitted }

// points says that the car has points and no trigger, "" where it has one.
func points(c *car.Car) string {
	if !c.Switch.Kind.Electronic() {
		return "the car has points, not a trigger"
	}
	return ""
}

// electronic says that the car has a trigger and no points.
func electronic(c *car.Car) string {
	if c.Switch.Kind.Electronic() {
		return "the car has a trigger, not points"
	}
	return ""
}

func conditionOf(c *car.Car, id string) int {
	for i := range c.Conditions {
		if c.Conditions[i].ID == id {
			return i
		}
	}
	return -1
}

// Expect is what a car in order shows of each measure in the list: the middle
// and the middle 95 in 100 of so many cars drawn from the spreads of its
// figures; of an observation, of its chance. A measure that cannot be read has
// NaN. Same seed, same answer. Draws that cannot be solved are left out.
func Expect(c *car.Car, list []Measure, draws int, seed uint64) ([]twin.Interval, error) {
	b, err := NewBench(c, list)
	if err != nil {
		return nil, err
	}
	mid := make([]float64, len(list))
	if err := b.Read(nil, mid); err != nil {
		return nil, err
	}
	s := twin.NewSampler(c, seed)
	got := make([][]float64, len(list))
	row := make([]float64, len(list))
	for k := 1; k <= draws; k++ {
		s.Draw(k)
		b.Take(s)
		if b.Read(nil, row) != nil {
			continue
		}
		for i, x := range row {
			if !math.IsNaN(x) {
				got[i] = append(got[i], x)
			}
		}
	}
	out := make([]twin.Interval, len(list))
	for i := range out {
		out[i] = twin.Middle95(mid[i], got[i])
	}
	return out, nil
}
