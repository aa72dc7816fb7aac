package car

import (
	"fmt"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// TriggerFit is how the trigger module that is fitted or planned sits on the
// distributor's shaft: its magnets or teeth, the air gap, and what its sleeve
// does to the rotor's seat.
type TriggerFit struct {
	Given           bool // the file has a trigger section
	Principle       Principle
	PrincipleOrigin Origin
	Ring            RingKind
	RingOrigin      Origin
	Poles           int // poles or teeth round the ring; 0: usual for the ring

	RingRadius      Param // m, shaft to the outer face of magnets or teeth
	MagnetHeight    Param // m, along the shaft; 0 for reluctance
	MagnetThickness Param // m, along the radius; 0 for reluctance
	Remanence       Param // T at 20 °C; 0 for reluctance
	FieldFalls      Param // 1/K, part of the remanence lost for each kelvin, above 0; 0 for reluctance
	Operate         Param // T at which a hall switch closes; 0 for reluctance
	Hysteresis      Param // T by which it opens lower; 0 for reluctance
	Gap             Param // m, ring to the sensor's face
	GapWanted       Param // m
	AxialOffset     Param // m, middle of the magnets from the sensor, either way
	Tilt            Param // degrees between sensor and ring, either way
	SlotLength      Param // m the base can be moved in its slot towards the shaft
	PivotToSensor   Param // m, pin on which the base swings to the sensor; 0: the base slides
	PivotToSlot     Param // m, the same pin to the slot's screw
	Threshold       Param // V that a reluctance module needs; 0 for hall

	RotorLift       Param // m the sleeve holds the rotor above its old seat
	Engagement      Param // m of shaft in the rotor's bore before the sleeve was fitted
	EngagementLeast Param // m that are wanted there
	TipBelow        Param // m from the top edge of the tip's blade up to that of the cap's electrode, before
	Headroom        Param // m from the top of the rotor, brush pushed in, to the inside of the cap, before
}

// Principle is how a trigger senses the shaft.
type Principle uint8

const (
	Hall       Principle = iota // a switch that closes in a magnet's field
	Reluctance                  // a coil in which passing teeth make a voltage
)

// RingKind is how the magnets of a sleeve stand.
type RingKind uint8

const (
	AlternatingRing RingKind = iota // north and south in turn
	OnePerLobe                      // one magnet for each lobe, all alike
)

// hallOnly makes a typical value that only a hall trigger has.
func hallOnly(alternating, single units.Value) func(facts) units.Value {
	return func(f facts) units.Value {
		switch {
		case f.principle == Reluctance:
			return exactly(0)
		case f.ring == OnePerLobe:
			return single
		}
		return alternating
	}
}

func noMagnets(f facts) string {
	if f.principle == Reluctance {
		return "a reluctance trigger has teeth and no magnet ring or hall switch"
	}
	return ""
}

var triggerTable = allLate([]entry[TriggerFit]{
	{
		name: "principle", form: wordForm, words: principleWords,
		doc: "how it senses the shaft: a hall switch before magnets, or a coil before teeth; hall when not said",
		read: func(r *reader, n *yaml.Node, path string, t *TriggerFit) {
			if w, ok := readWord[Principle](r, n, path, principleWords); ok {
				t.Principle, t.PrincipleOrigin = w, Stated
			}
		},
	},
	{
		name: "ring", form: wordForm, words: ringWords,
		doc: "how the magnets stand: north and south in turn, or one for each lobe; alternating when not said",
		read: func(r *reader, n *yaml.Node, path string, t *TriggerFit) {
			if w, ok := readWord[RingKind](r, n, path, ringWords); ok {
				t.Ring, t.RingOrigin = w, Stated
			}
		},
		unfit: noMagnets,
	},
	{
		name: "poles", form: countForm,
		doc: "poles or teeth round the ring; when not said two for each lobe of an alternating ring, else one",
		read: func(r *reader, n *yaml.Node, path string, t *TriggerFit) {
			k, ok := r.count(n, path, 1, 200)
			want, why := r.facts.cylinders, "one for each spark of a turn"
			if r.facts.principle == Hall && r.facts.ring == AlternatingRing {
				want, why = 2*want, "a north and a south for each spark of a turn"
			}
			if ok && k != want {
				r.problem(n, path, quote(n.Value)+" would not make a spark for each cylinder", fmt.Sprintf("%d, %s", want, why), "", ErrContradiction)
				return
			}
			if ok {
				t.Poles = k
			}
		},
	},
	{
		name: "ring_radius", kind: units.Length, low: 3e-3, high: 60e-3, plain: 0.02,
		doc:     "from the shaft's middle to the outer face of magnets or teeth",
		param:   func(t *TriggerFit) *Param { return &t.RingRadius },
		typical: always(about(15e-3, 3e-3)), // [mem]
	},
	{
		name: "magnet_height", kind: units.Length, low: 0.5e-3, high: 40e-3, plain: 0.05,
		doc:     "height of the magnets along the shaft",
		param:   func(t *TriggerFit) *Param { return &t.MagnetHeight },
		typical: hallOnly(about(8e-3, 2e-3), about(4e-3, 1e-3)), // [mem]
		unfit:   noMagnets,
	},
	{
		name: "magnet_thickness", kind: units.Length, low: 0.2e-3, high: 20e-3, plain: 0.05,
		doc:     "thickness of the magnets along the radius",
		param:   func(t *TriggerFit) *Param { return &t.MagnetThickness },
		typical: hallOnly(about(3e-3, 1e-3), about(2e-3, 0.5e-3)), // [mem]
		unfit:   noMagnets,
	},
	{
		name: "remanence", kind: units.FluxDensity, low: 0.02, high: 1.5, plain: 0.1,
		doc:   "remanence of the magnets at 20 °C",
		param: func(t *TriggerFit) *Param { return &t.Remanence },
		// [mem] bonded ferrite 0.15 to 0.27 T; small blocks of neodymium 1.0 to 1.2 T.
		typical: hallOnly(about(0.22, 0.05), about(1.1, 0.12)),
		unfit:   noMagnets,
	},
	{
		name: "field_falls", kind: units.TemperatureRate, low: 0, high: 0.01, plain: 0.15,
		doc:   "part of their field that the magnets lose for each degree, as a figure above 0",
		param: func(t *TriggerFit) *Param { return &t.FieldFalls },
		// [cp] magnet sheets: ferrite about 0.2 %, neodymium about 0.12 % a kelvin.
		typical: hallOnly(about(0.0019, 0.0003), about(0.0012, 0.0003)),
		unfit:   noMagnets,
	},
	{
		name: "operate", kind: units.FluxDensity, low: 0.5e-3, high: 0.2, plain: 0.15,
		doc:     "field in which the hall switch closes, from its sheet",
		param:   func(t *TriggerFit) *Param { return &t.Operate },
		typical: hallOnly(about(12e-3, 5e-3), about(12e-3, 5e-3)), // [mem] 5 to 25 mT
		unfit:   noMagnets,
	},
	{
		name: "hysteresis", kind: units.FluxDensity, low: 0.05e-3, high: 0.1, plain: 0.2,
		doc:     "how much lower a field it opens in",
		param:   func(t *TriggerFit) *Param { return &t.Hysteresis },
		typical: hallOnly(about(3e-3, 1e-3), about(3e-3, 1e-3)), // [mem] 1 to 4 mT
		unfit:   noMagnets,
	},
	{
		name: "gap", kind: units.Length, low: 0, high: 10e-3, plain: 0.1,
		doc:   "air gap between ring and sensor, the widest of all lobes; steel feelers are drawn by the magnets",
		param: func(t *TriggerFit) *Param { return &t.Gap },
		// [cp] 0.5 to 1.5 mm before magnets, 0.2 to 0.4 mm before teeth.
		typical: byPrinciple(about(0.8e-3, 0.3e-3), about(0.3e-3, 0.1e-3)),
	},
	{
		name: "gap_wanted", kind: units.Length, low: 0, high: 10e-3,
		doc:     "air gap that its sheet asks for",
		param:   func(t *TriggerFit) *Param { return &t.GapWanted },
		typical: byPrinciple(exactly(0.8e-3), exactly(0.3e-3)), // [cp] a wish; its sheet goes before it
	},
	{
		name: "axial_offset", kind: units.Length, low: 0, high: 20e-3, plain: 0.2,
		doc:     "how far the sensor is above or below the middle of the magnets",
		param:   func(t *TriggerFit) *Param { return &t.AxialOffset },
		typical: always(between(0, 0.8e-3)), // [cp] within a millimetre
	},
	{
		name: "tilt", kind: units.DistributorAngle, low: 0, high: 30, plain: 0.3,
		doc:     "how far the sensor's face leans from the ring's",
		param:   func(t *TriggerFit) *Param { return &t.Tilt },
		typical: always(between(0, 2)), // [mem]
	},
	{
		name: "slot_length", kind: units.Length, low: 0, high: 20e-3, plain: 0.1,
		doc:     "how far the base can be moved in its slot towards the shaft",
		param:   func(t *TriggerFit) *Param { return &t.SlotLength },
		typical: always(about(1e-3, 0.5e-3)), // [mem]
	},
	{
		name: "pivot_to_sensor", kind: units.Length, low: 0, high: 60e-3, plain: 0.05,
		doc:     "from the pin on which the base swings to the sensor; 0, and when not said, if the base slides",
		param:   func(t *TriggerFit) *Param { return &t.PivotToSensor },
		typical: always(exactly(0)),
	},
	{
		name: "pivot_to_slot", kind: units.Length, low: 0, high: 60e-3, plain: 0.05,
		doc:     "from the same pin to the screw in its slot",
		param:   func(t *TriggerFit) *Param { return &t.PivotToSlot },
		typical: always(exactly(0)),
	},
	{
		name: "threshold", kind: units.Voltage, low: 1e-3, high: 50, plain: 0.2,
		doc:     "voltage of its coil that a reluctance module needs to see a tooth",
		param:   func(t *TriggerFit) *Param { return &t.Threshold },
		typical: byPrinciple(exactly(0), about(0.3, 0.1)), // [mem]
		unfit: func(f facts) string {
			if f.principle == Hall {
				return "only a reluctance trigger has a coil before teeth"
			}
			return ""
		},
	},
	{
		name: "rotor_lift", kind: units.Length, low: 0, high: 20e-3, plain: 0.2,
		doc:     "how far the sleeve holds the rotor above its old seat; none if it bottoms as before",
		param:   func(t *TriggerFit) *Param { return &t.RotorLift },
		typical: always(between(0, 0.3e-3)), // [mem] a sleeve that fits lifts nothing
	},
	{
		name: "engagement", kind: units.Length, low: 1e-3, high: 60e-3, plain: 0.05,
		doc:     "length of shaft in the rotor's bore before the sleeve was fitted",
		param:   func(t *TriggerFit) *Param { return &t.Engagement },
		typical: always(about(12e-3, 2e-3)), // [mem]
	},
	{
		name: "engagement_least", kind: units.Length, low: 0, high: 60e-3,
		doc:     "least length that is wanted there",
		param:   func(t *TriggerFit) *Param { return &t.EngagementLeast },
		typical: always(exactly(8e-3)), // [mem] a wish
	},
	{
		name: "tip_below", kind: units.Length, low: 0, high: 20e-3, plain: 0.1,
		doc:     "from the top edge of the rotor tip's blade up to the top edge of the cap's electrode, before the sleeve was fitted",
		param:   func(t *TriggerFit) *Param { return &t.TipBelow },
		typical: always(about(2e-3, 0.7e-3)), // [mem]
	},
	{
		name: "headroom", kind: units.Length, low: 0, high: 30e-3, plain: 0.1,
		doc:     "from the top of the rotor, brush pushed in, to the inside of the cap, before the sleeve was fitted",
		param:   func(t *TriggerFit) *Param { return &t.Headroom },
		typical: always(about(3e-3, 1e-3)), // [mem]
	},
})

// byPrinciple makes a typical value from one for a hall trigger and one for a
// reluctance trigger.
func byPrinciple(hall, reluctance units.Value) func(facts) units.Value {
	return func(f facts) units.Value {
		if f.principle == Reluctance {
			return reluctance
		}
		return hall
	}
}
