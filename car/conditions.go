package car

import (
	"slices"
	"strings"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// builtIn is one condition every car is asked about.
type builtIn struct {
	id, name string
	engine   EngineState
	loads    []string // nil none, {"all"} every load
	speed    func(facts) units.Value
	charge   units.Value // part of full
	battery  units.Value // °C
	bay      units.Value // °C
	reg      units.Value // °C
	breath   breath
}

func perCylinders(four, six, eight units.Value) func(facts) units.Value {
	return func(f facts) units.Value { return f.n(four, six, eight) }
}

// builtIns are the conditions of the proof sheet and the two in which a car
// is measured at the kerb. Speeds: cranking 150 to 250 rpm warm [cp], about
// two thirds of that cold [mem]; idle in gear for a V8 [cp]. Bay air 60 to
// 90 °C running and 90 to 120 °C after a hot stop [mem]. Regulators soak to
// 63 °C [pub: US Army TM 10-3930-621-12 tables them to 145 °F]. A battery in
// daily use is charged to about 85 % [mem].
var builtIns = []builtIn{
	{"cold_crank", "cold crank", Cranking, nil,
		perCylinders(about(120, 30), about(120, 30), about(120, 30)),
		about(0.85, 0.08), about(-5, 8), about(-5, 8), about(-5, 8),
		breath{about(97e3, 3e3), about(10, 8), about(8, 4)}},
	{"hot_restart", "hot restart", Cranking, nil,
		perCylinders(about(200, 40), about(190, 40), about(180, 40)),
		about(0.85, 0.08), about(40, 8), about(105, 12), about(60, 10),
		breath{about(97e3, 3e3), about(60, 15), about(8, 4)}},
	{"hot_idle", "hot idle, every load on", Running, []string{"all"},
		perCylinders(about(750, 75), about(600, 60), about(550, 50)),
		about(0.85, 0.08), about(40, 8), about(75, 12), about(63, 8),
		breath{about(38e3, 6e3), about(60, 12), about(10, 4)}},
	{"cruise", "cruise", Running, []string{"headlamps", "tail_lamps"},
		perCylinders(about(3000, 250), about(2500, 200), about(2200, 200)),
		about(0.9, 0.06), about(35, 8), about(65, 10), about(58, 8),
		breath{about(55e3, 8e3), about(50, 12), about(36, 5)}},
	{"top_speed", "top speed", Running, nil,
		perCylinders(about(5000, 250), about(4400, 250), about(4500, 250)),
		about(0.9, 0.06), about(35, 8), about(75, 12), about(60, 8),
		breath{about(93e3, 4e3), about(50, 12), about(32, 4)}},
	{"key_on_closed", "key on, points closed", StoppedClosed, nil,
		perCylinders(exactly(0), exactly(0), exactly(0)),
		about(0.9, 0.06), about(20, 5), about(20, 5), about(20, 5),
		breath{outside, about(20, 5), exactly(0)}},
	{"key_on_open", "key on, points open", StoppedOpen, nil,
		perCylinders(exactly(0), exactly(0), exactly(0)),
		about(0.9, 0.06), about(20, 5), about(20, 5), about(20, 5),
		breath{outside, about(20, 5), exactly(0)}},
}

// BuiltInConditions are the ids of the conditions every car has.
func BuiltInConditions() []string {
	list := make([]string, len(builtIns))
	for i, b := range builtIns {
		list[i] = b.id
	}
	return list
}

func typicalConditions(f facts) []Condition {
	list := make([]Condition, len(builtIns))
	for i, b := range builtIns {
		list[i] = Condition{
			ID: b.id, Name: b.name, Engine: b.engine, Loads: slices.Clone(b.loads), BuiltIn: true,
			Speed:         Param{Value: b.speed(f), Kind: units.Speed},
			StateOfCharge: Param{Value: b.charge, Kind: units.Fraction},
			BatteryTemp:   Param{Value: b.battery, Kind: units.Temperature},
			BayTemp:       Param{Value: b.bay, Kind: units.Temperature},
			RegulatorTemp: Param{Value: b.reg, Kind: units.Temperature},
			Manifold:      Param{Value: b.breath.manifold, Kind: units.Pressure},
			Charge:        Param{Value: b.breath.mixture, Kind: units.Temperature},
			Advance:       Param{Value: b.breath.advance, Kind: units.CrankAngle},
		}
	}
	return list
}

// likeBuiltIn makes the typical value of an added condition: that of the
// built-in condition with the same engine state.
func likeBuiltIn(pick func(*builtIn, facts) units.Value) func(facts) units.Value {
	return func(f facts) units.Value {
		id := map[EngineState]string{
			Running: "hot_idle", Cranking: "hot_restart", StoppedClosed: "key_on_closed", StoppedOpen: "key_on_open",
		}[f.engine]
		return pick(builtInByID(id), f)
	}
}

// builtInByID finds a built-in condition; the first if there is none.
func builtInByID(id string) *builtIn {
	i := slices.IndexFunc(builtIns, func(b builtIn) bool { return b.id == id })
	return &builtIns[max(i, 0)]
}

var conditionTable = []entry[Condition]{
	{
		name: "name", form: textForm, doc: "in words",
		read: func(r *reader, n *yaml.Node, path string, c *Condition) {
			if s, ok := r.text(n, path); ok {
				c.Name = s
			}
		},
	},
	{
		name: "engine", form: wordForm, words: engineWords,
		doc: "what engine and key are doing; running when not said",
		read: func(r *reader, n *yaml.Node, path string, c *Condition) {
			if e, ok := readWord[EngineState](r, n, path, engineWords); ok {
				c.Engine = e
			}
		},
	},
	{
		name: "speed", kind: units.Speed, low: 0, high: 12000, plain: 0.05,
		doc:     "engine speed",
		param:   func(c *Condition) *Param { return &c.Speed },
		typical: likeBuiltIn(func(b *builtIn, f facts) units.Value { return b.speed(f) }),
	},
	{
		name: "loads", form: loadListForm,
		doc: "loads that are on: a list of their ids, or the word all or none",
		read: func(r *reader, n *yaml.Node, path string, c *Condition) {
			if list, ok := r.loadList(n, path); ok {
				c.Loads = list
			}
		},
	},
	{
		name: "state_of_charge", kind: units.Fraction, low: 0, high: 1, plain: 0.1,
		doc:     "how full the battery is",
		param:   func(c *Condition) *Param { return &c.StateOfCharge },
		typical: likeBuiltIn(func(b *builtIn, _ facts) units.Value { return b.charge }),
	},
	{
		name: "battery_temp", kind: units.Temperature, low: -45, high: 75, plain: 3, // well inside what supply.Battery takes
		doc:     "temperature of the battery; with the engine not running it is also that of all else not said, but for hot_restart",
		param:   func(c *Condition) *Param { return &c.BatteryTemp },
		typical: likeBuiltIn(func(b *builtIn, _ facts) units.Value { return b.battery }),
	},
	{
		name: "bay_temp", kind: units.Temperature, low: -50, high: 200, plain: 5,
		doc:     "temperature of the air round coil, ballast, wiring and distributor",
		param:   func(c *Condition) *Param { return &c.BayTemp },
		typical: likeBuiltIn(func(b *builtIn, _ facts) units.Value { return b.bay }),
	},
	{
		name: "regulator_temp", kind: units.Temperature, low: -50, high: 150, plain: 5,
		doc:     "temperature of the voltage regulator",
		param:   func(c *Condition) *Param { return &c.RegulatorTemp },
		typical: likeBuiltIn(func(b *builtIn, _ facts) units.Value { return b.reg }),
	},
	{
		name: "manifold", kind: units.Pressure, low: 5e3, high: 110e3, plain: 0.05, late: true,
		doc:     "absolute pressure in the inlet manifold: that of the air outside less the vacuum; in a condition of your own it follows engine and speed when not said",
		param:   func(c *Condition) *Param { return &c.Manifold },
		typical: likeBuiltIn(func(b *builtIn, _ facts) units.Value { return b.breath.manifold }),
	},
	{
		name: "charge_temp", kind: units.Temperature, low: -50, high: 200, plain: 8, late: true,
		doc:     "temperature of the mixture in the cylinder as the inlet valve closes; when not said: that of the bay with the engine stopped, 15 °C over a battery_temp that is said while cranking (but for hot_restart), and in a condition of your own after its speed",
		param:   func(c *Condition) *Param { return &c.Charge },
		typical: likeBuiltIn(func(b *builtIn, _ facts) units.Value { return b.breath.mixture }),
	},
	{
		name: "advance", kind: units.CrankAngle, low: -60, high: 80, plain: 1.5, late: true,
		doc:     "crank degrees before top dead centre at which the plug fires, all advance together; below 0 after it; in a condition of your own it follows engine and speed when not said",
		param:   func(c *Condition) *Param { return &c.Advance },
		typical: likeBuiltIn(func(b *builtIn, _ facts) units.Value { return b.breath.advance }),
	},
}

// readConditions reads the conditions section: each entry changes fields of
// a built-in condition or adds one.
func readConditions(r *reader, n *yaml.Node, path string, c *Car) {
	r.idMap(n, path, func(id string, key, v *yaml.Node, path string) {
		engine, said := find[EngineState](engineWords, r.word1(v, "engine"))
		f := r.facts
		f.engine = engine
		i := slices.IndexFunc(c.Conditions, func(k Condition) bool { return k.ID == id })
		if i < 0 {
			k := Condition{ID: id, Name: inWords(id), Engine: engine}
			fill(conditionTable, f, &k)
			i = len(c.Conditions)
			c.Conditions = append(c.Conditions, k)
		}
		k := &c.Conditions[i]
		changed := said && engine != k.Engine
		if changed {
			k.Speed.Value = lookup(conditionTable, "speed").typical(f)
		}
		readSection(r, v, path, conditionTable, k)
		soak(k)
		breathe(f, k, k.BuiltIn && !changed)
		r.checkCondition(v, path, k)
	})
}

// soak gives a stopped or cranking car that has long stood the battery's
// temperature throughout, if that is said and the others are not. Only the
// hot restart has not long stood.
func soak(k *Condition) {
	if k.Engine == Running || k.ID == "hot_restart" || k.BatteryTemp.Origin == Assumed {
		return
	}
	for _, p := range []*Param{&k.BayTemp, &k.RegulatorTemp} {
		if p.Origin == Assumed {
			p.Value = k.BatteryTemp.Value
		}
	}
}

// checkCondition refuses speeds and breath that do not go with the engine's
// state.
func (r *reader) checkCondition(n *yaml.Node, path string, k *Condition) {
	const highPass = 60e3 // Pa, the air at some 4,000 m: no car is worked on higher
	if k.Engine >= StoppedClosed {
		if p := k.Manifold; p.Origin != Assumed && p.X < highPass {
			r.at(p.Pos, path+".manifold", "the engine is stopped, so its manifold is as full as the air outside", "0.6 bar or more, or another engine state")
		}
		if p := k.Advance; p.Origin != Assumed && p.X != 0 {
			r.at(p.Pos, path+".advance", "the engine is stopped, so no plug fires", "0 deg, or another engine state")
		}
	}
	at := r.lookup(n, "speed")
	if at == nil {
		at = r.lookup(n, "engine")
	}
	if at == nil {
		return
	}
	const fastestCrank, slowestRun = 600, 150 // rpm
	switch s := k.Speed.X; {
	case k.Engine == Running && s < slowestRun:
		r.problem(at, path+".speed", "a running engine turns faster than "+units.Format(units.Speed, k.Speed.X, units.Metric),
			"150 rpm or more, or another engine state", "", ErrContradiction)
	case k.Engine == Cranking && (s <= 0 || s > fastestCrank):
		r.problem(at, path+".speed", "a starter does not turn an engine at "+units.Format(units.Speed, k.Speed.X, units.Metric),
			"up to 600 rpm, or another engine state", "", ErrContradiction)
	case k.Engine >= StoppedClosed && s != 0:
		r.problem(at, path+".speed", "the engine is stopped, so it has no speed", "0 rpm, or another engine state", "", ErrContradiction)
	}
}

// settleLoads puts the ids of every load in place of "all" and takes out
// loads the car does not have from the built-in conditions.
func settleLoads(c *Car) {
	all := loadIDs(c)
	for i := range c.Conditions {
		k := &c.Conditions[i]
		if len(k.Loads) == 1 && k.Loads[0] == "all" {
			k.Loads = slices.Clone(all)
			continue
		}
		k.Loads = slices.DeleteFunc(k.Loads, func(id string) bool { return !slices.Contains(all, id) })
	}
}

// inWords turns an id into a name: wet_night becomes "wet night".
func inWords(id string) string { return strings.ReplaceAll(id, "_", " ") }
