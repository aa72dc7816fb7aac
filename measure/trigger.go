package measure

import (
	"dwellwright/heat"
	"dwellwright/twin"
	"dwellwright/units"
)

// triggerEntries are the readings of a trigger in place of points.
func triggerEntries() []entry {
	key := how{Trigger, "meter", 1, "", NeedsKey}
	crank := how{Trigger, "meter_crank", 2, "RW", NeedsCrank}
	hot := how{Trigger, "meter_hot", 1, "RC", NeedsRunning}
	open := how{Trigger, "cap_off", 2, "", NeedsNothing}
	return []entry{
		key.reads("trigger_feed_closed", "trigger's feed, key on, conducting", keyClosed, twin.Voltmeter, "trigger_supply", "breaker_plate", 3,
			"near the battery's volts; half of them means it hangs behind the ballast [common practice]"),
		crank.reads("trigger_feed_crank", "trigger's feed while cranking, lowest", hotRestart, twin.VoltmeterMin, "trigger_supply", "breaker_plate", 3,
			"no less than the kit's sheet asks, often 6 to 8 V [common practice]"),
		hot.reads("trigger_feed_idle", "trigger's feed at hot idle, every load on, lowest", hotIdle, twin.VoltmeterMin, "trigger_supply", "breaker_plate", 5,
			"1 V over what the kit's sheet asks; better 10 V or more [common practice]"),
		open.reads("air_gap", "trigger's air gap", keyOff, twin.FeelerGauge, "air_gap", "", 5,
			"what the kit's sheet asks, commonly 0.5 to 1 mm [common practice]"),
		open.figure("axial_offset", "magnets out of line with the sensor", keyOff, units.Length, "caliper: 0.2 mm", parts(0, 0, 0.2e-3),
			"height of the sensor's middle and of the magnets' middle", 8, "1 mm at most [common practice]",
			func(v *visit) float64 { return v.c.Trigger.AxialOffset.X }).unless(points),
		moduleTemp(),
	}
}

// moduleTemp is the temperature of the housing the trigger hands its heat to.
func moduleTemp() entry {
	e := how{Trigger, "heat", 1, "T", NeedsRunning}.figure("trigger_temp", "distributor housing's temperature at hot idle", hotIdle, units.Temperature,
		"thermocouple: 2 K", parts(0, 0, 2), "thermocouple on the housing, in the shade of the draught", 5, "70 to 95 °C running, 10 to 20 K more after a hot stop [from memory]",
		func(v *visit) float64 {
			if v.spark == nil {
				return nan
			}
			watts := v.spark.SwitchW + v.c.Switch.Supply.X*float64(v.c.NominalV)
			block := max(v.k.BayTemp.X, 88) // as package twin has it of an engine that has run
			return twin.Module(v.c).Ladder(watts, v.k.BayTemp.X, block)[heat.Body]
		}).unless(points)
	e.depth = firingOf
	return e
}
