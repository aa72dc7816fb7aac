package car

import (
	"slices"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// CoilClass is a family of ignition coils with its typical figures.
type CoilClass struct {
	ID, Name string
	typical  Coil
}

// CoilClasses are the families of coils a car file can name. Primary
// resistance, inductance and turns are from memory, agreeing with period
// manuals (1.2 to 1.8 ohm with a ballast, 2.8 to 4.0 ohm without); the
// secondary path is a winding of 6 to 13 kohm with lead, rotor and plug; the
// spark burns at 0.5 to 1 kV in the plug and some more in the rotor gap
// [mem]. The thermal resistance is computed: a can of about 0.02 m² loses 10
// to 15 W/(m² K) in still air, 4 K/W, and about half of that with its bracket
// and the fan's draught. A coil's lasting power is what its usual circuit
// gives it at a hot idle with something in hand [calc].
//
// Of the figures that shape the spark, the coupling is 0.95 to 0.995 [mem]:
// oil-filled cans with their open iron in the lower part of that, the iron of
// a high-energy coil, closed or nearly so, in the upper. Iron loss is a few
// hundred ohm to some kilohm across the primary, and 40 to 120 pF hang on the
// secondary with leads, cap and plug [mem]. The iron is taken to bend at
// about 1.5 times the current of the usual circuit, at the least 1.3 times
// [mem: a maker wastes no iron, but a cold start behind a bypass must still
// spark]: 4.2 A with a ballast, 4.1 A without, 6.5 A under a module's limit,
// 4.8 A from 6 V [calc].
var CoilClasses = []CoilClass{
	{"ballasted", "12 V coil for a ballast", coilFigures(about(1.5, 0.25), about(7e-3, 2e-3), about(90, 20), about(30, 8), between(0.955, 0.99), about(6.3, 0.8))},
	{"full_voltage", "12 V coil without ballast", coilFigures(about(3.15, 0.35), about(11e-3, 3e-3), about(90, 20), about(45, 10), between(0.955, 0.99), about(6.1, 0.75))},
	{"low_resistance", "high-energy coil for an electronic module", coilFigures(about(0.6, 0.2), about(3.5e-3, 1.5e-3), about(85, 20), about(30, 10), between(0.97, 0.995), about(9.8, 1.3))},
	{"six_volt", "6 V coil", coilFigures(about(1.25, 0.35), about(5e-3, 1.5e-3), about(100, 20), about(30, 8), between(0.95, 0.985), about(7.2, 0.9))},
}

func coilFigures(primary, inductance, turns, watts, coupling, knee units.Value) Coil {
	var c Coil
	c.Primary.Value = primary
	c.Inductance.Value = inductance
	c.Turns.Value = turns
	c.Burn.Value = about(1000, 300)
	c.Series.Value = times(20e3, 1.5)
	c.Thermal.Value = times(2.2, 1.4)
	c.MaxWatts.Value = watts
	c.Secondary.Value = about(9.5e3, 3e3) // [mem] 6 to 13 kohm
	c.Coupling.Value = coupling
	c.Iron.Value = times(500, 1.8) // at the low end: coils in use come to 20 to 25 kV behind points [cp], and 55 to 75 % of what no loss would give [mem]
	c.Stray.Value = times(70e-12, 1.65)
	c.Knee.Value = knee
	c.BeyondKnee.Value = about(0.4, 0.12)
	return c
}

func coilClassIDs() []string {
	list := make([]string, len(CoilClasses))
	for i, c := range CoilClasses {
		list[i] = c.ID
	}
	return list
}

func typicalCoil(class string) *Coil {
	i := slices.IndexFunc(CoilClasses, func(c CoilClass) bool { return c.ID == class })
	return &CoilClasses[max(i, 0)].typical
}

// ofClass makes the typical value of a coil's figure: that of its class.
func ofClass(param func(*Coil) *Param) func(facts) units.Value {
	return func(f facts) units.Value { return param(typicalCoil(f.coil)).Value }
}

var coilTable = func() []entry[Coil] {
	figure := func(name string, kind units.Kind, low, high, plain float64, param func(*Coil) *Param, doc string) entry[Coil] {
		return entry[Coil]{name: name, doc: doc, kind: kind, low: low, high: high, plain: plain, param: param, typical: ofClass(param)}
	}
	late := func(e entry[Coil]) entry[Coil] { e.late = true; return e }
	return []entry[Coil]{
		{
			name: "class", form: wordForm, words: coilClassIDs(),
			doc: "family of the coil; when not said: six_volt in a 6 V car, else ballasted, or full_voltage where there is no ballast",
			read: func(r *reader, n *yaml.Node, path string, c *Coil) {
				if w, ok := r.word(n, path, coilClassIDs()); ok {
					c.Class, c.ClassOrigin = w, Stated
				}
			},
		},
		figure("primary", units.Resistance, 0.1, 20, 0.05, func(c *Coil) *Param { return &c.Primary },
			"resistance of the primary winding at 20 °C"),
		figure("inductance", units.Inductance, 0.1e-3, 0.1, 0.1, func(c *Coil) *Param { return &c.Inductance },
			"inductance of the primary winding"),
		figure("turns", units.Ratio, 20, 300, 0.1, func(c *Coil) *Param { return &c.Turns },
			"turns of the secondary for each turn of the primary"),
		figure("burn", units.Voltage, 200, 5000, 0.2, func(c *Coil) *Param { return &c.Burn },
			"voltage on the secondary while the spark burns"),
		figure("series", units.Resistance, 100, 500e3, 0.2, func(c *Coil) *Param { return &c.Series },
			"resistance of secondary winding, plug lead and rotor together"),
		figure("thermal", units.ThermalResistance, 0.1, 30, 0.3, func(c *Coil) *Param { return &c.Thermal },
			"rise of the winding over the air round it for each watt"),
		figure("max_watts", units.Power, 1, 500, 0.2, func(c *Coil) *Param { return &c.MaxWatts },
			"power the coil stands for good"),
		late(figure("secondary", units.Resistance, 10, 100e3, 0.1, func(c *Coil) *Param { return &c.Secondary },
			"resistance of the secondary winding alone at 20 °C, a part of series")),
		late(figure("coupling", units.Fraction, 0.5, 0.999, 0.005, func(c *Coil) *Param { return &c.Coupling },
			"magnetic coupling of the two windings: 100 % if each saw the whole field of the other")),
		late(figure("iron", units.Resistance, 20, 100e3, 0.3, func(c *Coil) *Param { return &c.Iron },
			"resistance across the primary that loses as much as the iron does")),
		late(figure("stray", units.Capacitance, 5e-12, 2e-9, 0.2, func(c *Coil) *Param { return &c.Stray },
			"capacitance of the high-voltage side to earth: secondary winding, leads, cap and plug")),
		late(figure("knee", units.Current, 0.5, 100, 0.1, func(c *Coil) *Param { return &c.Knee },
			"primary current from which on the iron saturates")),
		late(figure("beyond_knee", units.Fraction, 0.02, 1, 0.2, func(c *Coil) *Param { return &c.BeyondKnee },
			"share of the inductance that is left beyond that current")),
		{
			name: "polarity", form: wordForm, words: polarityWords,
			doc: "reversed if the plug's centre electrode is positive, as with the two primary wires changed over; normal when not said",
			read: func(r *reader, n *yaml.Node, path string, c *Coil) {
				if w, ok := r.word(n, path, polarityWords); ok {
					c.Reversed, c.ReversedOrigin = w == polarityWords[1], Stated
				}
			},
		},
	}
}()

var ballastTable = []entry[Ballast]{
	{
		name: "cold", kind: units.Resistance, low: 0.05, high: 10, plain: 0.1,
		doc:   "resistance at 20 °C",
		param: func(b *Ballast) *Param { return &b.Cold },
		// [cp] 0.6 to 1.3 ohm cold in a 12 V car; 6 V cars rarely have one.
		typical: byVoltage(times(0.35, 1.5), times(0.9, 1.4)),
	},
	{
		name: "tempco", kind: units.TemperatureRate, low: -0.001, high: 0.01, plain: 0.2,
		doc:   "rise of its resistance for each degree, as a part of that at 20 °C",
		param: func(b *Ballast) *Param { return &b.TempCo },
		// [mem] 0.003 to 0.005 /K for iron-nickel wire.
		typical: always(about(0.004, 0.001)),
	},
	{
		name: "thermal", kind: units.ThermalResistance, low: 0.05, high: 100, plain: 0.3,
		doc:   "rise over the air round it for each watt",
		param: func(b *Ballast) *Param { return &b.Thermal },
		// [calc] chosen so that 0.9 ohm cold is 1.2 to 1.8 ohm hot [cp] at the
		// 10 to 14 W of a hot idle.
		typical: always(times(9, 1.5)),
	},
}
