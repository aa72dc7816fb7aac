package measure

import (
	"dwellwright/car"
	"dwellwright/twin"
)

// feedEntries are the readings of the way from battery to coil.
func feedEntries() []entry {
	key := how{Feed, "meter", 2, "S", NeedsKey}
	crank := how{Feed, "meter_crank", 2, "RW", NeedsCrank}
	hot := how{Feed, "meter_hot", 2, "RC", NeedsRunning}
	ohm := how{Feed, "ohms", 1, "", NeedsNothing}
	return []entry{
		key.reads("coil_feed_closed", "coil's feed, key on, points closed or trigger conducting", keyClosed, twin.Voltmeter, "coil_feed", "block", 3,
			"with a ballast 5 to 7 V of 12 V; without one the battery's volts less 0.3 V at most [factory manuals]"),
		key.reads("coil_feed_open", "coil's feed, key on, points open or trigger off", keyOpen, twin.Voltmeter, "coil_feed", "block", 2,
			"the battery's volts: no current, no drop [factory manuals]"),
		key.reads("run_drop", "drop of the whole run circuit, battery to coil", keyClosed, twin.Voltmeter, "battery_live", "coil_feed", 4,
			"4.5 to 6.9 V with a ballast [US Navy NAVEDTRA 14329]; 0.3 V at most without one"),
		key.reads("main_feed_drop", "drop from battery to ignition switch", keyClosed, twin.Voltmeter, "battery_live", "switch_in", 5,
			"0.2 V at most [common practice]"),
		key.reads("key_switch_drop", "drop across the ignition switch", keyClosed, twin.Voltmeter, "switch_in", "switch_out", 4,
			"0.1 V at most, and the same each time the key is turned [US Army TM 5-3820-256-24-4]"),
		key.reads("ignition_lead_drop", "drop from ignition switch to ballast or coil", keyClosed, twin.Voltmeter, "switch_out", "ballast_supply", 5,
			"0.1 V at most [US Army TM 5-3820-256-24-4]").unless(func(c *car.Car) string {
			if relayed(c) {
				return "the ignition is fed by a relay, no wire joins the two"
			}
			return ""
		}),
		key.reads("ballast_drop", "drop across the ballast", keyClosed, twin.Voltmeter, "ballast_supply", "ballast_coil_side", 2,
			"4 to 6 V of 12 V with the points closed [US Navy NAVEDTRA 14329]").unless(ballasted),
		key.reads("coil_lead_drop", "drop from ballast to coil", keyClosed, twin.Voltmeter, "ballast_coil_side", "coil_feed", 3,
			"0.1 V at most [US Army TM 5-3820-256-24-4]").unless(ballasted),
		key.reads("relay_drop", "drop from starter stud through fuse and relay", keyClosed, twin.Voltmeter, "starter_stud", "relay_out", 3,
			"0.2 V at most [common practice]"),
		crank.reads("start_drop", "drop from battery to coil while cranking", hotRestart, twin.VoltmeterMax, "battery_live", "coil_feed", 4,
			"with a start bypass 0.1 V and what the starter's own cable drops [US Navy NAVEDTRA 14329]"),
		crank.reads("coil_feed_crank", "coil's feed while cranking, lowest", hotRestart, twin.VoltmeterMin, "coil_feed", "block", 3,
			"with a start bypass within 0.5 V of the battery, 8.5 to 9 V or more of 12 V [common practice]"),
		hot.reads("coil_feed_idle", "coil's feed at hot idle, every load on, mean", hotIdle, twin.Voltmeter, "coil_feed", "block", 3,
			"with a ballast between the closed and the open figure, by the dwell [calculated]"),
		ohm.reads("ballast_ohms", "ballast, cold", keyOff, twin.Ohmmeter, "ballast_supply", "ballast_coil_side", 4,
			"block 1.2 to 1.8 ohm, a compensating one 0.5 ohm or so, wire 1.3 to 2.0 ohm [factory manuals, common practice]").unless(ballasted),
		hotBallast(),
	}
}

func ballasted(c *car.Car) string {
	if !c.Ballast.Fitted {
		return "the car has no ballast"
	}
	return ""
}
