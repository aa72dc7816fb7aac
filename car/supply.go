package car

import (
	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// Typical figures below carry their source: [std] a standard, [pub] a
// published manual or table named beside the figure, [cp] common practice, no
// source, [mem] from memory, [calc] computed from other figures here.

var batteryTable = []entry[Battery]{
	{
		name: "capacity", kind: units.Charge, low: 10, high: 300, plain: 0.1,
		doc:   "rated capacity, as marked on the battery",
		param: func(b *Battery) *Param { return &b.Capacity },
		// [mem] 50 to 75 A·h for a 12 V car, 80 to 120 A·h for a 6 V car.
		typical: byVoltage(about(100, 25), about(60, 15)),
	},
	{
		name: "internal", kind: units.Resistance, low: 0.5e-3, high: 1, plain: 0.2,
		doc:   "internal resistance, full and at 20 °C, posts and clamps included",
		param: func(b *Battery) *Param { return &b.Internal },
		// [mem] 5 to 15 mohm for 12 V with its clamps; half the cells and
		// larger plates make a 6 V battery about a third to a half of that.
		typical: byVoltage(times(4e-3, 1.7), times(9e-3, 1.6)),
	},
}

func isKind(k ChargingKind, f facts) bool { return f.charging == k }

// chargingTable lists the generator or alternator. What does not exist on the
// kind fitted is exactly zero.
var chargingTable = []entry[Charging]{
	{
		name: "kind", form: wordForm, words: chargingWords,
		doc: "what charges the battery; generator when not said",
		read: func(r *reader, n *yaml.Node, path string, c *Charging) {
			if k, ok := readWord[ChargingKind](r, n, path, chargingWords); ok {
				c.Kind, c.KindOrigin = k, Stated
			}
		},
	},
	{
		name: "cut_in", kind: units.Speed, low: 300, high: 3000, plain: 0.1,
		doc:   "engine speed below which a generator gives nothing",
		param: func(c *Charging) *Param { return &c.CutIn },
		// [mem] generators cut in at 900 to 1200 engine rpm.
		typical: func(f facts) units.Value {
			if isKind(DCGenerator, f) {
				return about(1050, 150)
			}
			return exactly(0)
		},
		unfit: func(f facts) string {
			switch f.charging {
			case ACAlternator:
				return "an alternator has no cut-in speed"
			case NoCharging:
				return "nothing charges this car"
			}
			return ""
		},
	},
	{
		name: "full_output", kind: units.Speed, low: 500, high: 6000, plain: 0.1,
		doc:   "engine speed from which the whole rating is available",
		param: func(c *Charging) *Param { return &c.FullOutput },
		// [mem] generators 1800 to 2500 engine rpm; alternators about the same.
		typical: func(f facts) units.Value {
			switch f.charging {
			case DCGenerator:
				return about(2150, 350)
			case ACAlternator:
				return about(2400, 500)
			}
			return exactly(0)
		},
		unfit: nothingCharges,
	},
	{
		name: "rating", kind: units.Current, low: 1, high: 200, plain: 0.1,
		doc:   "most current it can give",
		param: func(c *Charging) *Param { return &c.Rating },
		// [mem] generators 20 to 35 A, 6 V ones 30 to 45 A; alternators of the
		// period 35 to 60 A.
		typical: func(f facts) units.Value {
			switch f.charging {
			case DCGenerator:
				return f.v(about(37, 8), about(27, 7))
			case ACAlternator:
				return about(45, 12)
			}
			return exactly(0)
		},
		unfit: nothingCharges,
	},
	{
		name: "idle_share", kind: units.Fraction, low: 0, high: 1, plain: 0.2,
		doc:   "part of its rating that an alternator gives at idle",
		param: func(c *Charging) *Param { return &c.IdleShare },
		// [mem] 30 to 60 % of rating at idle.
		typical: func(f facts) units.Value {
			if isKind(ACAlternator, f) {
				return about(0.45, 0.15)
			}
			return exactly(0)
		},
		unfit: func(f facts) string {
			switch f.charging {
			case DCGenerator:
				return "a generator gives nothing at idle; only an alternator has an idle share"
			case NoCharging:
				return "nothing charges this car"
			}
			return ""
		},
	},
	{
		name: "regulator", form: sectionForm, inner: lines(regulatorTable),
		doc: "the voltage regulator",
		read: func(r *reader, n *yaml.Node, path string, c *Charging) {
			readSection(r, n, path, regulatorTable, c)
		},
		unfit: nothingCharges,
	},
}

func nothingCharges(f facts) string {
	if f.charging == NoCharging {
		return "nothing charges this car"
	}
	return ""
}

func regulated(six, twelve units.Value) func(facts) units.Value {
	return func(f facts) units.Value {
		if f.charging == NoCharging {
			return exactly(0)
		}
		return f.v(six, twelve)
	}
}

var regulatorTable = []entry[Charging]{
	{
		name: "set_point", kind: units.Voltage, low: 5, high: 17, plain: 0.02,
		doc:   "voltage it holds, regulator at 20 °C",
		param: func(c *Charging) *Param { return &c.SetPoint },
		// [pub] US Army TM 10-3930-621-12, regulator temperature table: 14.1 to
		// 14.9 V at 65 °F, mid value taken with the drift below to 20 °C. 6 V:
		// half of it.
		typical: regulated(about(7.2, 0.2), about(14.4, 0.4)),
	},
	{
		name: "drift", kind: units.VoltagePerKelvin, low: -0.05, high: 0.01, plain: 0.2,
		doc:   "change of the set point for each degree the regulator warms; negative",
		param: func(c *Charging) *Param { return &c.Drift },
		// [calc] from the same table: 14.5 V at 18 °C to 13.8 V at 63 °C.
		typical: regulated(about(-0.008, 0.003), about(-0.016, 0.005)),
	},
	{
		name: "slope", kind: units.Resistance, low: 0, high: 0.5, plain: 0.3,
		doc:   "fall of the held voltage for each ampere given",
		param: func(c *Charging) *Param { return &c.Slope },
		// [mem] a few tenths of a volt from no load to full output.
		typical: regulated(times(7e-3, 2), times(15e-3, 1.8)),
	},
}

var starterTable = []entry[Starter]{
	{
		name: "current", kind: units.Current, low: 20, high: 1000, plain: 0.15,
		doc:   "current while it turns the warm engine steadily",
		param: func(s *Starter) *Param { return &s.Current },
		// [mem] 100 to 250 A with 12 V rising with the engine's size; about
		// twice that with 6 V for the same power.
		typical: func(f facts) units.Value {
			return f.v(
				f.n(times(260, 1.4), times(300, 1.4), times(350, 1.4)),
				f.n(times(130, 1.4), times(160, 1.4), times(190, 1.4)),
			)
		},
	},
	{
		name: "at", kind: units.Voltage, low: 2, high: 13, plain: 0.03,
		doc:   "voltage at the starter at which it takes that current",
		param: func(s *Starter) *Param { return &s.At },
		// [mem] 9.5 to 11 V healthy; [pub] battery makers' tables ask for at
		// least 9.6 V at 21 °C.
		typical: byVoltage(about(5, 0.4), about(10.2, 0.7)),
	},
}

var keySwitchTable = []entry[KeySwitch]{
	{
		name: "contact", kind: units.Resistance, low: 0, high: 10, plain: 0.2,
		doc:   "resistance of the run contact",
		param: func(k *KeySwitch) *Param { return &k.Contact },
		// [pub] US Army TM 5-3820-256-24-4 and period service manuals allow
		// 0.1 V across any one switch: 25 mohm at 4 A is the end of healthy.
		typical: always(times(12e-3, 1.9)),
	},
	{
		name: "run_live_in_start", form: flagForm,
		doc: "the run contact stays live while the key is in start; when not said: yes without a ballast, no with one",
		read: func(r *reader, n *yaml.Node, path string, k *KeySwitch) {
			if yes, ok := r.flag(n, path); ok {
				k.LiveInStart, k.LiveOrigin = yes, Stated
			}
		},
	},
	{
		name: "start_bypass", form: flagForm,
		doc: "a start contact feeds the coil directly while cranking, past the ballast; when not said: yes with a ballast, no without one",
		read: func(r *reader, n *yaml.Node, path string, k *KeySwitch) {
			if yes, ok := r.flag(n, path); ok {
				k.Bypass, k.BypassOrigin = yes, Stated
			}
		},
	},
}
