package car

import (
	"slices"

	"dwellwright/units"
)

// Defaults is a car of which nothing is known but its system voltage (6 or
// 12), which battery post is earthed and its number of cylinders (4, 6 or 8):
// every figure typical, with its spread. Any other voltage is taken as 12,
// any other number of cylinders as 8.
//
// A 12 V car is given a ballast, a ballasted coil and a start bypass, a 6 V
// car none of them; either has single points and a generator.
func Defaults(nominalV int, earth Earth, cylinders int) *Car {
	f := newFacts(nominalV, cylinders)
	f.ballast = f.nominalV == 12
	f.charging = DCGenerator
	f.coil = usualCoil(f)
	return build(f, earth, func(LegID) Age { return Used })
}

func newFacts(nominalV, cylinders int) facts {
	f := facts{nominalV: nominalV, cylinders: cylinders}
	if nominalV != 6 {
		f.nominalV = 12
	}
	if cylinders != 4 && cylinders != 6 {
		f.cylinders = 8
	}
	return f
}

func usualCoil(f facts) string {
	switch {
	case f.nominalV == 6:
		return "six_volt"
	case f.ballast:
		return "ballasted"
	}
	return "full_voltage"
}

// upstream is where a trigger is fed when nothing is said: ahead of the
// ballast, as the trade wants it.
func upstream(k SwitchKind, ballast bool) FeedPoint {
	switch {
	case !k.Electronic():
		return FeedNone
	case ballast:
		return FeedBallastSupply
	}
	return FeedCoil
}

// build makes the typical car for the facts.
func build(f facts, earth Earth, age func(LegID) Age) *Car {
	c := &Car{NominalV: f.nominalV, Earth: earth, Cylinders: f.cylinders}
	fill(batteryTable, f, &c.Battery)
	c.Charging.Kind = f.charging
	fill(chargingTable, f, &c.Charging)
	fill(regulatorTable, f, &c.Charging)
	fill(starterTable, f, &c.Starter)
	fill(keySwitchTable, f, &c.KeySwitch)
	c.KeySwitch.LiveInStart, c.KeySwitch.Bypass = !f.ballast, f.ballast
	fillLegs(f, c, age)
	c.Ballast.Fitted = f.ballast
	fill(ballastTable, f, &c.Ballast)
	c.Coil.Class = f.coil
	fill(coilTable, f, &c.Coil)
	fillSwitch(f, &c.Switch)
	c.Feed = upstream(f.switchKind, f.ballast)
	fill(relayTable, f, &c.Relay)
	c.Loads = typicalLoads(f)
	c.Plugs.Electrodes = f.electrodes
	fill(plugTable, f, &c.Plugs)
	fill(capTable, f, &c.Cap)
	fill(engineTable, f, &c.Engine)
	fillDistributor(f, &c.Distributor)
	fill(timingTable, f, &c.Timing)
	fill(triggerTable, f, &c.Trigger)
	fillAdvance(f, &c.Advance)
	fill(benchTable, f, &c.Bench)
	c.Conditions = typicalConditions(f)
	settleLoads(c)
	settlePhase(c)
	return c
}

// SwitchDefaults is a breaker or trigger module of which only the kind is
// known, for a car of that voltage and number of cylinders.
func SwitchDefaults(kind SwitchKind, nominalV, cylinders int) Switch {
	f := newFacts(nominalV, cylinders)
	f.switchKind = kind
	var s Switch
	fillSwitch(f, &s)
	return s
}

// UsualMounting is the usual way from a module's base to the breaker plate
// with what is between them, K/W.
func UsualMounting(m Mounting) units.Value { return mountings[m] }

// CoilDefaults is a coil of which only the class is known; an unknown class
// is taken as the usual one for the voltage.
func CoilDefaults(class string, nominalV int) Coil {
	f := newFacts(nominalV, 8)
	f.ballast = true
	if f.coil = class; !slices.Contains(coilClassIDs(), class) {
		f.coil = usualCoil(f)
	}
	c := Coil{Class: f.coil}
	fill(coilTable, f, &c)
	return c
}

// ChargingDefaults is a generator or alternator of which only the kind is
// known.
func ChargingDefaults(kind ChargingKind, nominalV int) Charging {
	f := newFacts(nominalV, 8)
	f.charging = kind
	c := Charging{Kind: kind}
	fill(chargingTable, f, &c)
	fill(regulatorTable, f, &c)
	return c
}

// LegDefaults is a wiring leg of which only its age is known.
func LegDefaults(id LegID, age Age, nominalV int) Leg {
	f := newFacts(nominalV, 8)
	f.leg, f.age = id, age
	l := Leg{Age: age}
	if id >= 0 && id < LegCount && int(age) < len(ageing) {
		fill(legTable, f, &l)
	}
	return l
}
