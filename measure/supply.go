package measure

import (
	"dwellwright/car"
	"dwellwright/supply"
	"dwellwright/twin"
	"dwellwright/units"
)

// how is what is the same for a row of readings.
type how struct {
	group   Group
	setup   string
	skill   int
	hazards string
	needs   Need
}

// reads makes a reading that package twin has a Spec for.
func (h how) reads(id, name string, at state, i twin.Instrument, red, black string, minutes float64, healthy string) entry {
	acc, with := accuracyOf(i)
	e := entry{at: at, spec: &twin.Spec{Instrument: i, Red: red, Black: black}}
	e.Measure = Measure{ID: id, Name: name, Group: h.group, Setup: h.setup, Minutes: minutes, Skill: h.skill,
		Hazards: by(h.hazards), Healthy: healthy, Needs: h.needs, With: with, Accuracy: acc}
	if i.OfFiring() {
		e.depth = firingOf
	}
	return e
}

// where says where the probes go, in better words than those of the test points.
func (e entry) where(probes string) entry {
	e.Probes = probes
	return e
}

// figure makes a reading that is worked out here.
func (h how) figure(id, name string, at state, kind units.Kind, with string, acc func(float64) float64, probes string, minutes float64, healthy string, here func(v *visit) float64) entry {
	e := entry{at: at, here: here}
	e.Measure = Measure{ID: id, Name: name, Group: h.group, Kind: kind, Setup: h.setup, Minutes: minutes, Skill: h.skill,
		Hazards: by(h.hazards), Healthy: healthy, Needs: h.needs, With: with, Accuracy: acc, Probes: probes}
	return e
}

// seen makes an observation.
func (h how) seen(id, name, probes, engine string, minutes float64, healthy string, wants [states]depth, chance func(f *[states]facts) float64) entry {
	e := entry{over: chance, wants: wants}
	e.Measure = Measure{ID: id, Name: name, Group: h.group, Observation: true, Kind: units.Fraction, Setup: h.setup, Minutes: minutes, Skill: h.skill,
		Hazards: by(h.hazards), Healthy: healthy, Needs: h.needs, With: "eyes, ears and what is remembered", Probes: probes, Engine: engine}
	return e
}

// seenHere makes an observation of one state.
func (h how) seenHere(id, name string, at state, d depth, probes string, minutes float64, healthy string, chance func(v *visit) float64) entry {
	e := entry{at: at, depth: d, here: chance}
	e.Measure = Measure{ID: id, Name: name, Group: h.group, Observation: true, Kind: units.Fraction, Setup: h.setup, Minutes: minutes, Skill: h.skill,
		Hazards: by(h.hazards), Healthy: healthy, Needs: h.needs, With: "eyes and hands", Probes: probes}
	return e
}

// unless adds why a car cannot have it.
func (e entry) unless(why func(c *car.Car) string) entry {
	e.why = why
	return e
}

// supplyEntries are the readings of battery, cables and charging.
func supplyEntries() []entry {
	rest := how{Supply, "meter", 1, "S", NeedsKey}
	crank := how{Supply, "meter_crank", 1, "RW", NeedsCrank}
	fast := how{Supply, "meter_start", 1, "RC", NeedsRunning}
	hot := how{Supply, "meter_hot", 1, "RC", NeedsRunning}
	hotClamp := how{Supply, "clamp_hot", 2, "RTC", NeedsRunning}
	return []entry{
		rest.reads("battery_rest", "battery at rest", keyOpen, twin.Voltmeter, "battery_live", "battery_earth", 3,
			"12.65 V full, 12.45 V at 75 %, 12.24 V half, of a 12 V battery at 27 °C [battery makers' tables]; half of it on 6 V"),
		how{Supply, "eyes", 2, "G", NeedsNothing}.figure("battery_gravity", "specific gravity of the battery's acid", keyOff, units.Ratio,
			"hydrometer and thermometer: 0.005", parts(0, 0, 0.005), "every cell; none more than 0.025 from the rest", 10,
			"1.265 to 1.280 full [US Army TM 9-6140-200-14]", gravity),
		crank.reads("battery_crank", "battery while cranking", hotRestart, twin.Voltmeter, "battery_live", "battery_earth", 3,
			"9.6 V or more at 21 °C [battery makers' tables]; half of it on 6 V"),
		crank.reads("starter_crank", "starter while cranking", hotRestart, twin.Voltmeter, "starter_stud", "block", 3,
			"within 0.5 V of the battery [common practice]"),
		crank.reads("live_cable_crank", "drop of the live cable while cranking", hotRestart, twin.Voltmeter, "battery_live", "starter_stud", 3,
			"0.4 to 0.5 V at most [US Army TM 10-3930-671-24, TM 5-3820-254-14&P]"),
		crank.reads("earth_cable_crank", "drop of the earth cable while cranking", hotRestart, twin.Voltmeter, "block", "battery_earth", 3,
			"0.2 to 0.3 V at most, 0.2 V for each 100 A [US Army TM 10-3930-671-24]"),
		fast.reads("charging_cold", "charging, regulator cold", coldFast, twin.Voltmeter, "battery_live", "battery_earth", 4,
			"alternator 14.1 to 14.9 V at 18 °C [US Army TM 10-3930-621-12]; generator 13.9 to 14.9 V [TM 5-3820-233-35/1]; half of it on 6 V; lower while the battery is low").unless(charged),
		hot.reads("charging_cruise", "charging at cruise, regulator hot", cruise, twin.Voltmeter, "battery_live", "battery_earth", 4,
			"13.4 to 14.2 V with the regulator at 63 °C [US Army TM 10-3930-621-12]; half of it on 6 V").unless(charged),
		hot.reads("battery_idle_loads", "battery at hot idle, every load on", hotIdle, twin.Voltmeter, "battery_live", "battery_earth", 4,
			"alternator 12.8 V or more; with a generator, which gives nothing below its cut-in speed, 11.8 to 12.4 V is its way [common practice]"),
		hot.reads("battery_idle", "battery at hot idle, nothing on", lampsOff, twin.Voltmeter, "battery_live", "battery_earth", 3,
			"alternator over 13 V; generator near the battery's own volts [common practice]"),
		hotClamp.reads("generator_amps", "current of the generator or alternator at cruise", cruise, twin.ClampAmmeter, "generator", "", 4,
			"what lamps and ignition take, and what the battery still takes").unless(charged),
		hotClamp.reads("battery_amps_idle", "current into the battery at hot idle, every load on", hotIdle, twin.ClampAmmeter, "battery", "", 4,
			"above 0 it charges; a generator car gives the battery's at idle [common practice]"),
		hot.reads("charge_lead_drop", "drop from charging output to battery at cruise", cruise, twin.Voltmeter, "generator_output", "battery_live", 4,
			"0.3 V at most [common practice]").unless(charged),
		hot.reads("body_block_drop", "drop between bodywork and block, every load on", hotIdle, twin.Voltmeter, "body", "block", 2,
			"under 0.1 V [common practice]"),
	}
}

func charged(c *car.Car) string { return noPoint(c, "generator_output") }

// gravity is what a hydrometer shows: a cell's volts at rest are its specific
// gravity and 0.84 [handbook rule of lead-acid cells].
func gravity(v *visit) float64 {
	b := supply.Battery{NominalV: float64(v.c.NominalV), SOC: min(max(v.k.StateOfCharge.X, 0), 1), TempC: min(max(v.k.BatteryTemp.X, -50), 80),
		CapacityAh: v.c.Battery.Capacity.X, InternalOhm20: v.c.Battery.Internal.X}
	return b.EMF()/float64(v.c.NominalV/2) - 0.84
}
