package measure

import (
	"math"

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
	return []entry{
		crank.figure("tower_crank", "most volts at the coil's tower while cranking", hotRestart, units.Voltage, "adjustable spark tester: 10 %", parts(0.10, 0, 200),
			"grounded tester on the coil's own tower, cap's lead off; widened until it stops jumping", 5, "13 mm and more, some 15 kV [US Army TM 5-4210-230-14&P-1]",
			func(v *visit) float64 { return v.facts.tower }).firing(),
		crank.reads("lead_crank", "most volts at a plug lead while cranking", hotRestart, twin.AvailableVolts, "coil_tower", "", 6,
			"as at the tower less the rotor's gap; two leads at least"),
		run.reads("available_cruise", "most volts on one lead at cruising speed", cruise, twin.AvailableVolts, "coil_tower", "", 4,
			"points 20 to 25 kV [US Army TM 9-8000], better coils 30 kV and more; 10 s at most"),
		run.reads("available_fast", "most volts on one lead at top speed", topSpeed, twin.AvailableVolts, "coil_tower", "", 4,
			"over what the plugs ask with the throttle open, by a third [common practice]"),
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
		how{Secondary, "plugs_out", 1, "T", NeedsNothing}.figure("plug_gap", "gap of the plugs", keyOff, units.Length, "wire gauge: 0.03 mm", parts(0, 0, 0.03e-3),
			"every plug", 6, "0.7 to 0.8 mm typical, the car's book wins [US Army TM 10-3930-653-14&P]", func(v *visit) float64 { return v.c.Plugs.Gap.X }),
		open.reads("rotor_gap", "gap from rotor's tip to cap", keyOff, twin.Caliper, "rotor_gap", "", 10,
			"0.5 to 1.0 mm [common practice]"),
		open.figure("leak_ohms", "insulation of cap, rotor and leads", keyOff, units.Resistance, "500 V insulation tester: a factor of 1.5", parts(0.5, 0, 0),
			"cap's centre and towers, and rotor's tip, to earth; capacitors discharged after", 6, "over 100 Mohm [from memory]", func(v *visit) float64 {
				if x := v.c.Cap.Shunt.X; x > 0 {
					return x
				}
				return nan
			}),
	}
}
