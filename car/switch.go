package car

import (
	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// byKind makes a typical value from one for points and one for each kind of
// trigger module.
func byKind(points, darlington, mosfet, igbt units.Value) func(facts) units.Value {
	return func(f facts) units.Value {
		switch f.switchKind {
		case Darlington:
			return darlington
		case MOSFET:
			return mosfet
		case IGBT:
			return igbt
		}
		return points
	}
}

func pointsHaveNone(what string) func(facts) string {
	return func(f facts) string {
		if f.switchKind.Electronic() {
			return ""
		}
		return "points have no " + what
	}
}

// modulesOnly makes a typical value that only trigger modules have.
func modulesOnly(v units.Value) func(facts) units.Value { return byKind(exactly(0), v, v, v) }

// modulesHaveNone says what only points have.
func modulesHaveNone(why string) func(facts) string {
	return func(f facts) string {
		if f.switchKind.Electronic() && f.switchKind != unreadable {
			return why
		}
		return ""
	}
}

// mountings is the way from a module's base to the breaker plate [mem]: paste
// 0.2 to 0.5 K/W, bare dry metal 1.5 to 4, paint or a gasket between 3 to 7, a
// base or plate that is not flat 4 to 10.
var mountings = [...]units.Value{
	DryMounting:     times(2.4, 1.65),
	PasteMounting:   times(0.32, 1.55),
	PaintedMounting: times(4.6, 1.5),
	WarpedMounting:  times(6.3, 1.55),
}

var switchTable = []entry[Switch]{
	{
		name: "kind", form: wordForm, words: switchWords,
		doc: "what interrupts the primary current; single_points when not said",
		read: func(r *reader, n *yaml.Node, path string, s *Switch) {
			if k, ok := readWord[SwitchKind](r, n, path, switchWords); ok {
				s.Kind, s.KindOrigin = k, Stated
			}
		},
	},
	{
		name: "dwell", kind: units.DistributorAngle, low: 1, high: 90, plain: 0.03,
		doc:   "distributor degrees closed for each lobe",
		param: func(s *Switch) *Param { return &s.Dwell },
		typical: func(f facts) units.Value {
			switch {
			case f.switchKind.Electronic():
				// [cp] triggers conduct for a half to three quarters of the lobe.
				return about(0.65*360/float64(f.cylinders), 0.1*360/float64(f.cylinders))
			case f.switchKind == DualPoints:
				// [mem] combined: V8 36 to 40, six about 45, four about 63 degrees.
				return f.n(about(63, 4), about(45, 3), about(38, 2))
			}
			// [pub] four 49 to 55 degrees, US Army TM 10-3930-653-14&P; V8 28 to
			// 32, US Navy NAVEDTRA 14273; six 36 to 42 [mem].
			return f.n(about(52, 4), about(39, 3), about(30, 2.5))
		},
	},
	{
		name: "contact", kind: units.Resistance, low: 0, high: 5, plain: 0.2,
		doc:   "resistance while closed: contacts of points, channel of a MOSFET, slope of a saturated transistor",
		param: func(s *Switch) *Param { return &s.On },
		// [mem] points 5 to 50 mohm clean, agreeing with the 0.1 V at 4 A of
		// NAVEDTRA 14329; MOSFET 20 to 150 mohm.
		typical: byKind(times(20e-3, 1.8), times(70e-3, 1.7), times(60e-3, 2), times(70e-3, 1.6)),
	},
	{
		name: "saturation", kind: units.Voltage, low: 0, high: 4, plain: 0.1,
		doc:   "voltage while closed at hardly any current: Darlington and IGBT",
		param: func(s *Switch) *Param { return &s.Saturation },
		// [cp] with the slope above: Darlington 0.9 to 1.6 V, IGBT 1.2 to 1.8 V
		// at 3 to 6 A.
		typical: byKind(exactly(0), about(0.95, 0.2), exactly(0), about(1.15, 0.2)),
		unfit: func(f facts) string {
			if !f.switchKind.Electronic() || f.switchKind == MOSFET {
				return "only a Darlington or IGBT saturates; give its contact resistance"
			}
			return ""
		},
	},
	{
		name: "max_current", kind: units.Current, low: 0.5, high: 100, plain: 0.1,
		doc:   "current the contacts or the module stand for good",
		param: func(s *Switch) *Param { return &s.MaxCurrent },
		typical: func(f facts) units.Value {
			if f.switchKind == DualPoints {
				return about(5, 0.8) // [mem]
			}
			// [cp] points live with 3 to 4 A; modules: their sheet, this is [mem].
			return byKind(about(4, 0.5), about(8, 2), about(9, 2.5), about(10, 2.5))(f)
		},
	},
	{
		name: "minimum_feed", kind: units.Voltage, low: 0, high: 14, plain: 0.02,
		doc:   "lowest voltage between its supply and the breaker plate at which a trigger module works, from its sheet",
		param: func(s *Switch) *Param { return &s.MinFeed },
		// [cp] 6 to 8 V for 12 V modules; 6 V modules 4 V [mem].
		typical: func(f facts) units.Value {
			if !f.switchKind.Electronic() {
				return exactly(0)
			}
			return f.v(about(4, 0.7), about(7, 1))
		},
		unfit: pointsHaveNone("feed"),
	},
	{
		name: "supply", kind: units.Current, low: 0, high: 5, plain: 0.2,
		doc:   "current the electronics of a trigger module draw",
		param: func(s *Switch) *Param { return &s.Supply },
		// [mem] 15 to 60 mA.
		typical: func(f facts) units.Value {
			if !f.switchKind.Electronic() {
				return exactly(0)
			}
			return times(30e-3, 1.8)
		},
		unfit: pointsHaveNone("electronics"),
	},
	{
		name: "condenser", kind: units.Capacitance, low: 0, high: 5e-6, plain: 0.1, late: true,
		doc:   "condenser across the points, 0 if there is none; across a trigger module it is an old one that was left on",
		param: func(s *Switch) *Param { return &s.Condenser },
		// [mem] 0.18 to 0.25 µF.
		typical: func(f facts) units.Value {
			if f.switchKind.Electronic() {
				return exactly(0)
			}
			return about(0.22e-6, 0.035e-6)
		},
	},
	{
		name: "condenser_series", kind: units.Resistance, low: 0, high: 1e6, plain: 0.3, late: true,
		doc:   "resistance in series with the condenser: its foil, lead and joints",
		param: func(s *Switch) *Param { return &s.CondenserSeries },
		// [mem] about a tenth of an ohm in order; ohms with a bad joint.
		typical: always(times(0.1, 2)),
	},
	{
		name: "clamp", kind: units.Voltage, low: 50, high: 1500, plain: 0.05, late: true,
		doc:     "voltage at which a trigger module conducts of itself to save its transistor",
		param:   func(s *Switch) *Param { return &s.Clamp },
		typical: modulesOnly(about(375, 25)), // [mem] 350 to 400 V
		unfit:   pointsHaveNone("clamp"),
	},
	{
		name: "longest_dwell", kind: units.Time, low: 0.1e-3, high: 1, plain: 0.05, late: true,
		doc:     "longest time for each spark that a trigger module keeps the coil closed, whatever the angle; none when not said",
		param:   func(s *Switch) *Param { return &s.LongestDwell },
		typical: always(exactly(0)),
		unfit:   pointsHaveNone("rule for their dwell but the cam"),
	},
	{
		name: "gap", kind: units.Length, low: 0.05e-3, high: 2e-3, plain: 0.08, late: true,
		doc:   "gap of the points at full lift",
		param: func(s *Switch) *Param { return &s.Gap },
		// [mem] 0.4 to 0.46 mm (16 to 18 mil) with eight lobes, 0.4 to 0.6 mm
		// with four or six.
		typical: func(f facts) units.Value {
			if f.switchKind.Electronic() {
				return exactly(0)
			}
			return f.n(about(0.5e-3, 0.08e-3), about(0.5e-3, 0.08e-3), about(0.43e-3, 0.05e-3))
		},
		unfit: modulesHaveNone("a trigger module has no points, so no gap of theirs; its own air gap is on its sheet"),
	},
	{
		name: "spring", kind: units.Force, low: 0.5, high: 30, plain: 0.08, late: true,
		doc:   "force that just opens the points, pulled at the contact",
		param: func(s *Switch) *Param { return &s.Spring },
		// [mem] 17 to 21 ozf as set, a little more either way in use.
		typical: func(f facts) units.Value {
			if f.switchKind.Electronic() {
				return exactly(0)
			}
			return about(5.3, 0.7)
		},
		unfit: modulesHaveNone("a trigger module has no breaker spring"),
	},
	{
		name: "mounting", form: wordForm, words: mountingWords,
		doc: "what is between a trigger module and the breaker plate: bare dry metal, paste, paint, or a warped face; dry when not said",
		read: func(r *reader, n *yaml.Node, path string, s *Switch) {
			if m, ok := readWord[Mounting](r, n, path, mountingWords); ok {
				s.Mounting, s.MountingOrigin = m, Stated
			}
		},
		unfit: pointsHaveNone("module to mount"),
	},
	{
		name: "junction_to_base", kind: units.ThermalResistance, low: 0.05, high: 50, plain: 0.2, late: true,
		doc:     "rise of a trigger module's chip over its base for each watt, from its sheet",
		param:   func(s *Switch) *Param { return &s.JunctionBase },
		typical: modulesOnly(times(1.75, 1.7)), // [mem] 1 to 3 K/W
		unfit:   pointsHaveNone("module that warms"),
	},
	{
		name: "base_to_plate", kind: units.ThermalResistance, low: 0.01, high: 50, plain: 0.3, late: true,
		doc:     "rise of the module's base over the breaker plate for each watt; follows mounting when not said",
		param:   func(s *Switch) *Param { return &s.BasePlate },
		typical: func(f facts) units.Value { return modulesOnly(mountings[f.mounting])(f) },
		unfit:   pointsHaveNone("module that warms"),
	},
	{
		name: "plate_to_housing", kind: units.ThermalResistance, low: 0.05, high: 50, plain: 0.3, late: true,
		doc:     "rise of the breaker plate over the distributor's housing for each watt, through its balls and pivot",
		param:   func(s *Switch) *Param { return &s.PlateBody },
		typical: modulesOnly(times(2, 1.9)), // [mem] 1 to 4 K/W
		unfit:   pointsHaveNone("module that warms"),
	},
	{
		name: "housing_to_air", kind: units.ThermalResistance, low: 0.1, high: 50, plain: 0.3, late: true,
		doc:     "rise of the housing over the air round it for each watt",
		param:   func(s *Switch) *Param { return &s.BodyAir },
		typical: modulesOnly(times(4.9, 1.6)), // [mem] 3 to 8 K/W
		unfit:   pointsHaveNone("module that warms"),
	},
	{
		name: "max_junction", kind: units.Temperature, low: 60, high: 250, late: true,
		doc:   "hottest a trigger module's chip may get, from its sheet; a limit, so without a spread",
		param: func(s *Switch) *Param { return &s.MaxJunction },
		// [mem] 150 °C for most power transistors of its kind, some 175 °C.
		typical: modulesOnly(exactly(150)),
		unfit:   pointsHaveNone("module that warms"),
	},
}

// fillSwitch puts a kind's typical figures into s.
func fillSwitch(f facts, s *Switch) {
	s.Kind, s.Mounting = f.switchKind, f.mounting
	fill(switchTable, f, s)
}

var relayTable = []entry[Relay]{
	{
		name: "winding", kind: units.Resistance, low: 5, high: 2000, plain: 0.1,
		doc:   "resistance of the relay's winding",
		param: func(l *Relay) *Param { return &l.Winding },
		// [cp] 70 to 100 ohm for the usual 12 V car relay; 6 V a quarter [calc].
		typical: byVoltage(about(21, 4), about(85, 15)),
	},
	{
		name: "contact", kind: units.Resistance, low: 0, high: 5, plain: 0.3,
		doc:     "resistance of the relay's contact",
		param:   func(l *Relay) *Param { return &l.Contact },
		typical: always(times(5e-3, 1.8)), // [mem]
	},
	{
		name: "fuse", kind: units.Resistance, low: 0, high: 5, plain: 0.3,
		doc:     "resistance of the fuse and its holder",
		param:   func(l *Relay) *Param { return &l.Fuse },
		typical: always(times(10e-3, 1.7)), // [mem] 7.5 A blade fuse 8 to 10 mohm
	},
}

var plannedTable = []entry[Planned]{
	{
		name: "switch", form: sectionForm, inner: lines(switchTable),
		doc: "the points or trigger module that would be fitted",
		read: func(r *reader, n *yaml.Node, path string, p *Planned) {
			kept := r.facts
			r.facts.switchKind = p.Switch.Kind
			readSection(r, n, path, switchTable, &p.Switch)
			r.facts = kept
		},
	},
	{
		name: "feed", form: wordForm, words: feedWords,
		doc: "where its supply wire would be joined; when not said: upstream of the ballast",
		read: func(r *reader, n *yaml.Node, path string, p *Planned) {
			if w, ok := readWord[FeedPoint](r, n, path, feedWords); ok {
				p.Feed, p.FeedOrigin = w, Stated
			}
		},
	},
}
