package prove

import (
	"math"

	"dwellwright/car"
	"dwellwright/gas"
	"dwellwright/twin"
	"dwellwright/units"
)

// SupplyGroup is the group of the rows about battery and charging.
const SupplyGroup = "supply"

// SparkGroup is the group of the rows about the spark.
const SparkGroup = "spark"

// TriggerFeed is what the sheet's first row reads.
var TriggerFeed = twin.Spec{Instrument: twin.ScopeMin, Red: "trigger_supply", Black: "breaker_plate"}

// TriggerFeedState says how a predicted trigger feed stands in a condition, as
// the sheet has it.
func TriggerFeedState(c *car.Car, k *car.Condition, e twin.Estimate) State {
	for _, r := range rows(c) {
		if r.spec == TriggerFeed {
			if l, applies := r.limit(c, k); applies {
				return predicted(l, e, r.critical)
			}
		}
	}
	return None
}

// AtRest is the column of what is read with the key off.
const AtRest = "at_rest"

// row is one thing that must hold: what is read for it, and its limit in
// each condition.
type row struct {
	id, name string
	kind     units.Kind
	critical bool
	weighs   bool   // a plan weighs it although no reading is needed to prove it
	group    string // "trigger and coil", "supply", "wiring drops"
	only     bool   // shown only where its limit applies
	spec     twin.Spec
	accepts  []car.InstrumentKind // instruments whose reading settles the cell
	still    []car.InstrumentKind // more that settle it while nothing switches
	rest     bool                 // read with the key off instead of in the conditions
	limit    func(c *car.Car, k *car.Condition) (Limit, bool)
	wanted   func(c *car.Car, k *car.Condition) (lo, hi float64, source string, ok bool)
}

// Where limits come from. Common practice has no source.
const (
	fromSheet     = "the trigger's sheet plus 1 V (common practice)"
	fromSheetOnly = "the trigger's sheet"
	fromPractice  = "common practice"
	fromNavy      = "points to ground, US Navy NAVEDTRA 14329"
	fromStarter   = "starter circuit tests, US Army TM 10-3930-671-24"
	fromControl   = "control circuit test, US Army TM 5-3820-256-24-4"
	fromRegulator = "regulator temperature table, US Army TM 10-3930-621-12"
	fromStartTest = "start circuit test, US Navy NAVEDTRA 14329"
	fromCranking  = "battery makers' cranking tables"
)

func running(k *car.Condition) bool { return k.Engine == car.Running }

func switching(k *car.Condition) bool { return k.Engine == car.Running || k.Engine == car.Cranking }

func stopped(k *car.Condition) bool { return !switching(k) }

// volts scales a 12 V car's limit to the car: half on 6 V.
func volts(c *car.Car, v float64) float64 { return v * float64(c.NominalV) / 12 }

// charging reports whether the engine runs fast enough for the regulator to
// set the voltage.
func charging(c *car.Car, k *car.Condition) bool {
	return running(k) && c.Charging.Kind != car.NoCharging && !idling(c, k)
}

// idling reports whether the engine runs near its idle or below where a
// generator cuts in.
func idling(c *car.Car, k *car.Condition) bool {
	if !running(k) || c.Charging.Kind == car.NoCharging {
		return false
	}
	return twin.Idling(c, k) || c.Charging.Kind == car.DCGenerator && k.Speed.X <= c.Charging.CutIn.X
}

// overdrawn reports whether the loads rated on are more than an alternator
// gives at idle, so that the battery has to carry the rest.
func overdrawn(c *car.Car, k *car.Condition) bool {
	return ratedLoad(c, k) > c.Charging.Rating.X*c.Charging.IdleShare.X
}

// ratedLoad is the sum of the rated currents of the loads switched on, A.
func ratedLoad(c *car.Car, k *car.Condition) float64 {
	var amps float64
	for _, id := range k.Loads {
		for i := range c.Loads {
			if c.Loads[i].ID == id {
				amps += c.Loads[i].Current.X
			}
		}
	}
	return amps
}

var lowest = []car.InstrumentKind{car.VoltmeterMin, car.ScopeMin}
var average = []car.InstrumentKind{car.Voltmeter}
var highest = []car.InstrumentKind{car.VoltmeterMax, car.ScopeMax}

// rows lists the proof sheet's rows for a car.
func rows(c *car.Car) []row {
	list := []row{
		{
			id: "trigger_feed", name: "trigger feed, lowest instant", kind: units.Voltage, critical: true, group: "trigger and coil",
			spec:    TriggerFeed,
			accepts: lowest, still: average,
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				if !c.Switch.Kind.Electronic() || k.Engine == car.StoppedOpen {
					return NoLimit(), false
				}
				min := c.Switch.MinFeed
				if running(k) {
					return Atleast(min.X+volts(c, 1), min.PM, fromSheet), true
				}
				return Atleast(min.X, min.PM, fromSheetOnly), true
			},
			wanted: func(c *car.Car, k *car.Condition) (float64, float64, string, bool) {
				return volts(c, 12), volts(c, 14), fromPractice, running(k) && c.Switch.Kind.Electronic()
			},
		},
		{
			id: "ground_path", name: "ground path, breaker plate to battery", kind: units.Resistance, critical: true, group: "trigger and coil",
			spec:    twin.Spec{Instrument: twin.Ohmmeter, Red: "breaker_plate", Black: "battery_earth"},
			accepts: []car.InstrumentKind{car.Ohmmeter}, rest: true,
			limit: func(*car.Car, *car.Condition) (Limit, bool) { return Atmost(0.2, 0, fromPractice), true },
			wanted: func(*car.Car, *car.Condition) (float64, float64, string, bool) {
				return 0, 0.05, fromPractice, true
			},
		},
		{
			id: "ground_drop", name: "ground path drop, plate to block", kind: units.Voltage, group: "trigger and coil",
			spec:    twin.Spec{Instrument: twin.LargestDrop, Red: "breaker_plate", Black: "block"},
			accepts: highest, still: average,
			limit: func(_ *car.Car, k *car.Condition) (Limit, bool) {
				return Atmost(0.1, 0, fromNavy), k.Engine != car.StoppedOpen
			},
		},
		{
			id: "coil_current", name: "coil current at the break", kind: units.Current, critical: true, group: "trigger and coil",
			spec:    twin.Spec{Instrument: twin.ClampPeak, Red: "coil"},
			accepts: []car.InstrumentKind{car.ClampPeak},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				most := c.Switch.MaxCurrent
				if c.Switch.Kind.Electronic() {
					return Atmost(most.X, most.PM, fromSheetOnly), k.Engine != car.StoppedOpen
				}
				// Points burn by what they carry for hours, not for seconds.
				return Atmost(most.X, most.PM, "long life of points (common practice)"), running(k)
			},
		},
		{
			id: "coil_energy", name: "energy stored in the coil at the break", kind: units.Energy, group: "trigger and coil", only: true,
			spec: twin.Spec{Instrument: twin.StoredEnergy, Red: "coil"},
			limit: func(_ *car.Car, k *car.Condition) (Limit, bool) {
				return Atleast(0.015, 0, "a healthy spark takes 15 to 60 mJ (from memory)"), switching(k)
			},
		},
		{
			id: "junction", name: "trigger junction temperature", kind: units.Temperature, group: "trigger and coil", only: true, weighs: true,
			spec: twin.Spec{Instrument: twin.JunctionHeat},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				most := c.Switch.MaxJunction
				return Atmost(most.X, most.PM, fromSheetOnly), running(k) && c.Switch.Kind.Electronic()
			},
		},
		{
			id: "coil_heat", name: "coil winding heat, average", kind: units.Power, group: "trigger and coil", only: true,
			spec: twin.Spec{Instrument: twin.Wattmeter, Red: "coil"},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				most := c.Coil.MaxWatts
				return Atmost(most.X, most.PM, "what the can gives off in the engine bay (common practice)"), running(k)
			},
		},
		{
			id: "coil_temperature", name: "coil winding temperature", kind: units.Temperature, group: "trigger and coil", only: true,
			spec: twin.Spec{Instrument: twin.Thermometer, Red: "coil"},
			limit: func(_ *car.Car, k *car.Condition) (Limit, bool) {
				return Atmost(130, 10, "enamel and oil filling, class B of IEC 60085"), running(k)
			},
		},
		{
			id: "ballast_temperature", name: "ballast temperature", kind: units.Temperature, group: "trigger and coil", only: true,
			spec: twin.Spec{Instrument: twin.Thermometer, Red: "ballast"}, accepts: []car.InstrumentKind{car.Thermometer},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				return Atmost(300, 30, "resistance wire on ceramic (from memory)"), running(k) || k.Engine == car.StoppedClosed
			},
		},
		{
			id: "spark_in_hand", name: "spark in hand, available over asked", kind: units.Ratio, group: SparkGroup, only: true, weighs: true,
			spec: twin.Spec{Instrument: twin.SparkInHand},
			limit: func(_ *car.Car, k *car.Condition) (Limit, bool) {
				return Atleast(1, 0, "the plug fires"), switching(k)
			},
			wanted: func(_ *car.Car, k *car.Condition) (float64, float64, string, bool) {
				return 1.4, math.Inf(1), "for wear, damp and a tired battery (common practice)", switching(k)
			},
		},
		{
			id: "snap_in_hand", name: "spark in hand, throttle snapped open", kind: units.Ratio, group: SparkGroup, only: true, weighs: true,
			spec: twin.Spec{Instrument: twin.SnapInHand},
			limit: func(_ *car.Car, k *car.Condition) (Limit, bool) {
				return Atleast(1, 0, "the plug fires"), running(k)
			},
		},
		{
			id: "available", name: "available at the coil tower", kind: units.Voltage, critical: true, group: SparkGroup, only: true,
			spec:    twin.Spec{Instrument: twin.AvailableVolts, Red: "coil_tower"},
			accepts: []car.InstrumentKind{car.SparkTester},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				// At road speeds nobody measures it; there the row of what is
				// in hand has to do.
				now, snap := twin.Demand(c, k, 1)
				asked := now.TotalV
				if running(k) {
					asked = math.Max(asked, snap.TotalV)
				}
				return Atleast(asked, gas.DemandSpread*asked, "what plug and rotor gap ask with the throttle open, predicted"),
					k.Engine == car.Cranking || running(k) && k.Speed.X <= 1500
			},
		},
		{
			id: "burn_time", name: "burning time of the spark", kind: units.Time, group: SparkGroup, only: true,
			spec: twin.Spec{Instrument: twin.BurnTime},
			limit: func(_ *car.Car, k *car.Condition) (Limit, bool) {
				return Atleast(0.6e-3, 0, "under 0.8 ms is weak at idle and part load (common practice), less at full speed"), running(k)
			},
		},
		{
			id: "points_arc", name: "energy lost in arcs at the points", kind: units.Energy, group: SparkGroup, only: true,
			spec: twin.Spec{Instrument: twin.ContactEnergy},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				return Atmost(0.5e-3, 0, "more pits points (from memory)"), running(k) && !c.Switch.Kind.Electronic()
			},
		},
		{
			id: "charging_voltage", name: "charging voltage at the battery", kind: units.Voltage, critical: true, group: SupplyGroup, only: true,
			spec:    twin.Spec{Instrument: twin.Voltmeter, Red: "battery_live", Black: "battery_earth"},
			accepts: []car.InstrumentKind{car.Voltmeter},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				lo, hi := regulated(k.RegulatorTemp.X)
				switch {
				case charging(c, k):
				case idling(c, k) && c.Charging.Kind == car.ACAlternator && !overdrawn(c, k):
					return Limit{Lo: volts(c, 12.8), Hi: volts(c, hi), Source: fromPractice}, true
				case idling(c, k):
					return Limit{Lo: volts(c, 11.8), Hi: volts(c, hi), Source: "the battery carries the loads at idle (common practice)"}, true
				default:
					return NoLimit(), false
				}
				return Limit{Lo: volts(c, lo), Hi: volts(c, hi), Source: fromRegulator}, true
			},
		},
		{
			id: "cranking_voltage", name: "battery voltage while cranking", kind: units.Voltage, group: SupplyGroup, only: true,
			spec:    twin.Spec{Instrument: twin.Voltmeter, Red: "battery_live", Black: "battery_earth"},
			accepts: []car.InstrumentKind{car.Voltmeter, car.VoltmeterMin, car.ScopeMin},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				// 9.6 V at 21 °C, 9.2 at 10 °C, 8.8 at -1 °C.
				return Atleast(volts(c, 9.6+0.8/22*min(k.BatteryTemp.X-21, 0)), 0, fromCranking), k.Engine == car.Cranking
			},
		},
		{
			id: "battery_balance", name: "battery balance, charging positive", kind: units.Current, group: SupplyGroup,
			spec:    twin.Spec{Instrument: twin.ClampAmmeter, Red: "battery"},
			accepts: []car.InstrumentKind{car.ClampAmmeter},
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				return Atleast(0, 0, "the battery must not run down on the road (common practice)"), charging(c, k)
			},
		},
	}
	list = append(list, fitting(c)...)
	return append(list, drops(c)...)
}

// regulated is the band of a 12 V car's charging voltage with the regulator
// at that temperature: 14.1 to 14.9 V at 18 °C, 13.7 to 14.5 at 41 °C, 13.4
// to 14.2 at 63 °C, straight lines between, held at the ends.
func regulated(tempC float64) (lo, hi float64) {
	t := math.Min(math.Max(tempC, 18), 63)
	if t <= 41 {
		fall := 0.4 * (t - 18) / 23
		return 14.1 - fall, 14.9 - fall
	}
	fall := 0.3 * (t - 41) / 22
	return 13.7 - fall, 14.5 - fall
}

// drop describes the voltage lost in one leg or joint.
type drop struct {
	id, name, red, black string
	most                 func(k *car.Condition) (float64, string)
	when                 func(k *car.Condition) bool
}

func always(*car.Condition) bool { return true }

func flat(v float64, source string) func(*car.Condition) (float64, string) {
	return func(*car.Condition) (float64, string) { return v, source }
}

// cable gives the limit of a battery cable: more while the starter turns.
func cable(cranking float64) func(*car.Condition) (float64, string) {
	return func(k *car.Condition) (float64, string) {
		if k.Engine == car.Cranking {
			return cranking, fromStarter
		}
		return 0.1, fromControl
	}
}

// mainFeed gives the limit of the main feed: 0.2 V with the lamps on, about
// 15 A, and in proportion with more.
func mainFeed(c *car.Car) func(*car.Condition) (float64, string) {
	return func(k *car.Condition) (float64, string) {
		return 0.2 * math.Max(1, ratedLoad(c, k)/15), "0.2 V at 15 A (common practice), in proportion to the load"
	}
}

// drops lists the rows of voltage lost along the wiring. Each is the highest
// instant, live side positive.
func drops(c *car.Car) []row {
	notOpen := func(k *car.Condition) bool { return k.Engine != car.StoppedOpen }
	cranking := func(k *car.Condition) bool { return k.Engine == car.Cranking }
	notCranking := func(k *car.Condition) bool { return k.Engine != car.Cranking && k.Engine != car.StoppedOpen }
	old := func(k *car.Condition) bool {
		return notOpen(k) && (c.KeySwitch.LiveInStart || k.Engine != car.Cranking)
	}
	list := []drop{
		{"battery_cable", "battery cable", "battery_live", "starter_stud", cable(0.5), always},
		{"earth_cable", "earth cable, block to battery", "block", "battery_earth", cable(0.3), always},
		{"engine_strap", "engine strap, body to block", "body", "block", flat(0.1, fromPractice), always},
		{"main_feed", "main feed, stud to junction", "starter_stud", "feed_junction", mainFeed(c), always},
		{"switch_feed", "junction to ignition switch", "feed_junction", "switch_in", flat(0.1, fromControl), notOpen},
		{"key_switch", "across the ignition switch", "switch_in", "switch_out", flat(0.1, fromControl), old},
		{"ignition_lead", "switch to ballast", "switch_out", "ballast_supply", flat(0.1, fromControl), old},
		{"coil_lead", "ballast to coil", "ballast_coil_side", "coil_feed", flat(0.1, fromControl), notOpen},
		{"start_bypass", "start circuit, stud to coil", "starter_stud", "coil_feed", flat(0.1, fromStartTest), cranking},
		{"trigger_lead", "coil to distributor", "coil_switched", "breaker_terminal", flat(0.1, fromControl), notOpen},
		{"feed_wire", "trigger feed wire", feedName(c), "trigger_supply", flat(0.1, fromControl), notCranking},
		{"pivot_wire", "pivot wire, plate to housing", "breaker_plate", "housing", flat(0.05, fromNavy+", shared over its joints"), notOpen},
		{"housing_clamp", "housing to block", "housing", "block", flat(0.05, fromNavy+", shared over its joints"), notOpen},
	}
	if c.Charging.Kind != car.NoCharging {
		list = append(list, drop{"charge_lead", "charge lead, output to junction", "generator_output", "feed_junction", flat(0.2, fromPractice), running})
	}
	if c.Feed == car.FeedRelay {
		list = append(list, drop{"relay_feed", "battery to relay output", "starter_stud", "relay_out", flat(0.3, fromPractice), notOpen})
	}
	var out []row
	for _, d := range list {
		switch d.id {
		case "ignition_lead":
			if c.Feed == car.FeedRelay {
				continue // it works the relay only
			}
			if !c.Ballast.Fitted {
				d.name, d.black = "switch to coil", "coil_feed"
			}
		case "coil_lead":
			if !c.Ballast.Fitted && c.Feed != car.FeedRelay {
				continue // part of the row before
			}
		case "start_bypass":
			if !c.KeySwitch.Bypass {
				continue
			}
		case "feed_wire":
			if d.red == "" {
				continue
			}
		}
		out = append(out, row{
			id: "drop_" + d.id, name: d.name, kind: units.Voltage, group: "wiring drops", only: true,
			spec:    twin.Spec{Instrument: twin.LargestDrop, Red: d.red, Black: d.black},
			accepts: highest, still: average,
			limit: func(c *car.Car, k *car.Condition) (Limit, bool) {
				most, source := d.most(k)
				return Atmost(most, 0, source), d.when(k)
			},
		})
	}
	return out
}

func feedName(c *car.Car) string {
	if !c.Switch.Kind.Electronic() {
		return ""
	}
	switch c.Feed {
	case car.FeedCoil:
		return "coil_feed"
	case car.FeedBallastSupply:
		return "ballast_supply"
	case car.FeedKeySwitch:
		return "switch_out"
	case car.FeedRelay:
		return "relay_out"
	}
	return ""
}

// finite turns an infinite bound into nil, for JSON.
func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}
