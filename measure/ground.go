package measure

import (
	"math"

	"dwellwright/twin"
	"dwellwright/units"
)

// hotBallast is the ballast just after running: what it had settled at.
func hotBallast() entry {
	acc, with := accuracyOf(twin.Ohmmeter)
	h := how{Feed, "ohms_hot", 2, "T", NeedsRunning}
	e := h.figure("ballast_ohms_hot", "ballast, within 20 s of running", hotIdle, units.Resistance, with, acc,
		"across the ballast, one wire off", 5, "1.3 to 2.5 times the cold figure where its wire gains with heat, 5 to 10 % more where not [common practice]",
		func(v *visit) float64 {
			if v.spark == nil || !v.c.Ballast.Fitted {
				return math.NaN()
			}
			return math.Min(v.spark.Primary.Ballast, pastRange)
		}).unless(ballasted)
	e.depth = firingOf
	e.Engine = "just stopped after ten minutes' running"
	return e
}

// groundEntries are the readings of the way from breaker plate to battery.
func groundEntries() []entry {
	key := how{Ground, "meter", 2, "", NeedsKey}
	crank := how{Ground, "meter_crank", 2, "RW", NeedsCrank}
	return []entry{
		key.reads("plate_earth_drop", "drop from breaker plate to earthed post", keyClosed, twin.Voltmeter, "breaker_plate", "battery_earth", 3,
			"0.1 V at most [US Navy NAVEDTRA 14329]"),
		key.reads("plate_housing_drop", "drop from breaker plate to distributor housing", keyClosed, twin.Voltmeter, "breaker_plate", "housing", 2,
			"0.02 to 0.05 V at most [US Navy NAVEDTRA 14329, shared out by common practice]"),
		key.reads("housing_block_drop", "drop from distributor housing to block", keyClosed, twin.Voltmeter, "housing", "block", 2,
			"0.02 to 0.05 V at most [as before]"),
		key.reads("block_earth_drop", "drop from block to earthed post", keyClosed, twin.Voltmeter, "block", "battery_earth", 2,
			"0.02 to 0.05 V at most [as before]"),
		key.reads("plate_drop_pulled", "drop from breaker plate to housing with the can pumped to full travel", pulled, twin.Voltmeter, "breaker_plate", "housing", 4,
			"as without the pump: 0.02 to 0.05 V at most").unless(hasCan),
		crank.reads("plate_earth_crank", "drop from breaker plate to earthed post while cranking", hotRestart, twin.VoltmeterMax, "breaker_plate", "battery_earth", 3,
			"what the earth cable drops and 0.1 V [common practice]"),
		how{Ground, "ohms", 2, "", NeedsNothing}.reads("plate_ohms", "resistance from breaker plate to earthed post", keyOff, twin.Ohmmeter, "breaker_plate", "battery_earth", 4,
			"0.05 ohm at most; 0.2 ohm is suspect, 1 to 5 ohm a fault [common practice]"),
	}
}
