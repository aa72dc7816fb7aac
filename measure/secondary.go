package measure

import (
	"math"

	"dwellwright/car"
	"dwellwright/twin"
	"dwellwright/units"
)

var nan = math.NaN()

// secondaryEntries are the readings of the high-voltage side.
func secondaryEntries() []entry {
	crank := how{Secondary, "tester_crank", 1, "HFR", NeedsCrank}
	run := how{Secondary, "tester_run", 3, "HFR", NeedsRunning}
	scope := how{Secondary, "scope_hot", 2, "RH", NeedsRunning}
	open := how{Secondary, "cap_off", 2, "", NeedsNothing}
	megger := how{Secondary, "cap_off", 2, "H", NeedsNothing}
	plugs := how{Secondary, "plugs_out", 1, "T", NeedsNothing}
	ohms := how{Secondary, "ohms", 1, "", NeedsNothing}
	insulation := func(id, name, probes string, at car.LeakPlace) entry {
		return megger.figure(id, name, keyOff, units.Resistance, "500 V insulation tester: a factor of 1.5", parts(0.5, 0, 0), probes, 2,
			"over 100 Mohm [from memory]", func(v *visit) float64 { return ohmsOrNone(v.c.Cap.LeakThrough(at)) })
	}
	return []entry{
		crank.figure("tower_crank", "most volts at the coil's tower while cranking", hotRestart, units.Voltage, "adjustable spark tester: 10 %", parts(0.10, 0, 200),
			"grounded tester on the coil's own tower, cap's lead off; widened until it stops jumping", 5, "13 mm and more, some 15 kV [US Army TM 5-4210-230-14&P-1]",
			func(v *visit) float64 { return v.facts.tower }).firing(),
		crank.reads("lead_crank", "most volts at a plug lead while cranking", hotRestart, twin.AvailableVolts, "coil_tower", "", 6,
			"as at the tower less the rotor's gap; two leads at least").where(plugLead),
		run.reads("available_cruise", "most volts on one lead at cruising speed", cruise, twin.AvailableVolts, "coil_tower", "", 4,
			"points 20 to 25 kV [US Army TM 9-8000], better coils 30 kV and more; 10 s at most").where(plugLead),
		run.reads("available_fast", "most volts on one lead at top speed", topSpeed, twin.AvailableVolts, "coil_tower", "", 4,
			"over what the plugs ask with the throttle open, by a third [common practice]").where(plugLead),
		scope.reads("plug_kv_idle", "volts the plugs ask at hot idle", hotIdle, twin.AskedVolts, "", "", 5,
			"6 to 12 kV, all within 3 kV [common practice, factory manuals]"),
		scope.reads("plug_kv_snap", "volts the plugs ask as the throttle is snapped open", hotIdle, twin.SnapVolts, "", "", 3,
			"all rise alike, under 15 to 18 kV [common practice]"),
		scope.reads("burn_time", "burning time of the spark at hot idle", hotIdle, twin.BurnTime, "", "", 4,
			"1.0 to 2.0 ms; under 0.8 ms is weak [common practice]"),
		scope.reads("primary_peak", "highest volts at the coil's switched terminal", hotIdle, twin.PrimaryPeak, "", "", 4,
			"what the plug asks over the coil's turns ratio, and the battery's volts [calculated]; 200 to 400 V with nothing that fires [common practice]"),
		scope.figure("rings", "swings of the primary after the spark", hotIdle, units.Count, "scope, by eye: 1 swing", parts(0, 0, 1),
			"coil's switched terminal, the part after the spark line", 3, "three to five clear ones or more [technicians' scope guides, common practice]; some trigger stages damp them",
			(*visit).rings).firing(),
		plugs.figure("plug_gap", "gap of the plugs", keyOff, units.Length, "wire gauge: 0.03 mm", parts(0, 0, 0.03e-3),
			"every plug", 6, "0.7 to 0.8 mm typical, the car's book wins [US Army TM 10-3930-653-14&P]", func(v *visit) float64 { return v.c.Plugs.Gap.X }),
		open.reads("rotor_gap", "gap from rotor's tip to cap", keyOff, twin.Caliper, "rotor_gap", "", 10,
			"0.5 to 1.0 mm [common practice]"),
		insulation("cap_leak_ohms", "insulation of the cap", "cap off its seat: centre contact to each tower, and all to an earthed clip about it; trigger unplugged first, hands off while it reads, discharged after", car.LeakAtCap),
		insulation("rotor_leak_ohms", "insulation of the rotor", "rotor's tip to the shaft, rotor in its place; trigger unplugged first, hands off while it reads, discharged after", car.LeakAtRotor),
		insulation("king_lead_leak_ohms", "insulation of the lead from coil to cap", "lead off at both ends: core to foil wrapped round it; trigger unplugged first, hands off while it reads, discharged after", car.LeakAtKingLead),
		insulation("plug_lead_leak_ohms", "insulation of the worst plug lead", "each lead off at both ends: core to foil wrapped round it; trigger unplugged first, hands off while it reads, discharged after", car.LeakAtLeads),
		insulation("coil_tower_leak_ohms", "insulation of the coil's tower", "coil's primary wires off: from outside the tower, foil round its neck, to the terminals and the can; trigger unplugged first, hands off while it reads, discharged after", car.LeakAtCoilTower),
		ohms.figure("king_lead_ohms", "lead from coil to cap, end to end", keyOff, units.Resistance, "ohmmeter: 1 %; how the leads share is not known, 40 %", parts(0.4, 0, 300),
			"lead off at both ends, flexed; its ends and the coil's tower looked into", 3, "carbon core 10 to 40 kohm for a metre; wire next to nothing [makers' figures, common practice]",
			func(v *visit) float64 {
				if v.c.Cap.Breaks[car.BreakInKingLead] > 0 {
					return pastRange
				}
				return (1-plugLeadShare)*leads(&v.b.drawn.Coil) + v.c.Coil.AtKingLead
			}),
		ohms.figure("plug_lead_ohms", "the worst plug lead, end to end", keyOff, units.Resistance, "ohmmeter: 1 %; how the leads share is not known, 40 %", parts(0.4, 0, 300),
			"each lead off at both ends, flexed", 6, "carbon core 10 to 40 kohm for a metre, 30 kohm at most; wire next to nothing [makers' figures, common practice]",
			func(v *visit) float64 {
				was := leads(&v.b.drawn.Coil)
				return plugLeadShare*was + jumped(math.Max(leads(&v.c.Coil)-was, 0), 0)
			}),
	}
}

// plugLead is where a tester of one lead sits.
const plugLead = "grounded tester on one plug lead, off its plug, the other leads on theirs"

// plugLeadShare is how much of what the winding leaves of the secondary's
// resistance stands in a plug lead and its plug's cap or resistor, the rest in the
// lead from the coil, in a car in order, an estimate. What goes wrong with the plug
// leads is theirs alone, and so with the lead from the coil.
const plugLeadShare = 0.7

// brokenOhms is from what it adds that a winding or a core is taken as burnt apart:
// a spark jumps the break, an ohmmeter's volts do not [an estimate].
const brokenOhms = 100e3

// jumped is what an ohmmeter shows of a resistance that was another in order.
func jumped(ohms, was float64) float64 {
	if ohms-was > brokenOhms {
		return pastRange
	}
	return ohms
}

// leads is the resistance of king lead, rotor and plug lead as they should be, ohm.
func leads(c *car.Coil) float64 { return math.Max(c.Series.X-c.Secondary.X-c.AtKingLead, 0) }

func ohmsOrNone(x float64) float64 {
	if x > 0 {
		return x
	}
	return nan
}

// onLead is what is available on a plug lead with nothing on it but a tester, V: all
// leaks but those of the plugs load it. Of the car at rest and of plugs in order it is
// what the plugs themselves have.
func (v *visit) onLead() float64 {
	if v.c.Cap.Leaks[car.LeakAtPlugs] == 0 || v.spark.Case.Gap.Shunt == 0 {
		return v.spark.Firing.AvailableV
	}
	return v.leaking(car.LeakAtCap, car.LeakAtRotor, car.LeakAtKingLead, car.LeakAtLeads, car.LeakAtCoilTower)
}

// leaking is what is available with leaks at some parts only, V.
func (v *visit) leaking(at ...car.LeakPlace) float64 {
	cs := v.spark.Case
	cs.Gap.Shunt = v.c.Cap.LeakThrough(at...)
	_, volts, err := v.fire.Available(&cs)
	if err != nil {
		return v.spark.Firing.AvailableV
	}
	return volts
}
