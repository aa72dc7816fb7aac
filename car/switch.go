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
}

// fillSwitch puts a kind's typical figures into s.
func fillSwitch(f facts, s *Switch) {
	s.Kind = f.switchKind
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
