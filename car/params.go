package car

// ParamRef is one figure of a car and its dotted path, as in the car file:
// "coil.primary", "wiring.main_feed.joint", "conditions.hot_idle.speed".
type ParamRef struct {
	Path string
	P    *Param
}

// Params lists every figure of a car, always in the same order: battery,
// charging, starter, key switch, the wiring legs in the order of their ids,
// ballast, coil, switch, relay, loads, the planned switch if there is one,
// conditions; and behind all these, in the same order of sections, what
// shapes the spark: the rest of coil, switch and planned switch, plugs, cap,
// engine, and the rest of the conditions; and last the distributor with its
// obstacles, timing, trigger, advance with its kit, bench. The pointers are into c, so that
// writing through them changes c. Figures that play no part (a ballast that is
// not fitted, the resistance of a leg that is given by its length) are listed
// too, so that the list of two cars with the same loads, plan and conditions
// has the same paths.
func Params(c *Car) []ParamRef {
	list := make([]ParamRef, 0, 384)
	for _, late := range []bool{false, true} {
		list = params(list, late, "battery", batteryTable, &c.Battery)
		list = params(list, late, "charging", chargingTable, &c.Charging)
		list = params(list, late, "charging.regulator", regulatorTable, &c.Charging)
		list = params(list, late, "starter", starterTable, &c.Starter)
		list = params(list, late, "key_switch", keySwitchTable, &c.KeySwitch)
		for id := range LegCount {
			list = params(list, late, legPaths[id], legTable, &c.Wiring[id])
		}
		list = params(list, late, "ballast", ballastTable, &c.Ballast)
		list = params(list, late, "coil", coilTable, &c.Coil)
		list = params(list, late, "switch", switchTable, &c.Switch)
		list = params(list, late, "relay", relayTable, &c.Relay)
		for i := range c.Loads {
			list = params(list, late, "loads."+c.Loads[i].ID, loadTable, &c.Loads[i])
		}
		if c.Planned != nil {
			list = params(list, late, "planned.switch", switchTable, &c.Planned.Switch)
		}
		list = params(list, late, "plugs", plugTable, &c.Plugs)
		list = params(list, late, "cap", capTable, &c.Cap)
		list = params(list, late, "engine", engineTable, &c.Engine)
		for i := range c.Conditions {
			list = params(list, late, "conditions."+c.Conditions[i].ID, conditionTable, &c.Conditions[i])
		}
	}
	return distributorParams(list, c)
}

func params[T any](list []ParamRef, late bool, path string, table []entry[T], t *T) []ParamRef {
	for i := range table {
		if e := &table[i]; e.param != nil && e.late == late {
			list = append(list, ParamRef{path + "." + e.name, e.param(t)})
		}
	}
	return list
}

var legPaths = func() (paths [LegCount]string) {
	for id, name := range LegNames {
		paths[id] = "wiring." + name
	}
	return paths
}()

// distributorParams lists the figures of the distributor and what belongs to
// it. They came last to this package and are listed last.
func distributorParams(list []ParamRef, c *Car) []ParamRef {
	list = params(list, true, "distributor", distributorTable, &c.Distributor)
	for i := range c.Distributor.Obstacles {
		o := &c.Distributor.Obstacles[i]
		list = params(list, true, "distributor.obstacles."+o.ID, obstacleTable, o)
	}
	list = params(list, true, "timing", timingTable, &c.Timing)
	list = params(list, true, "trigger", triggerTable, &c.Trigger)
	a := &c.Advance
	list = params(list, true, "advance.weights", weightTable, a)
	list = params(list, true, "advance.light", lightTable, &a.Light)
	list = params(list, true, "advance.heavy", heavyTable, &a.Heavy)
	list = params(list, true, "advance", advanceTable, a)
	list = params(list, true, "advance.vacuum", vacuumTable, a)
	list = params(list, true, "advance.safe", safeTable, a)
	for i := range a.Kit.Springs {
		list = params(list, true, "advance.kit.springs."+a.Kit.Springs[i].ID, kitSpringTable, &a.Kit.Springs[i].Spring)
	}
	for i := range a.Kit.Stops {
		list = params(list, true, "advance.kit.stops."+a.Kit.Stops[i].ID, kitStopTable, &a.Kit.Stops[i])
	}
	for i := range a.Kit.Weights {
		list = params(list, true, "advance.kit.weights."+a.Kit.Weights[i].ID, kitWeightTable, &a.Kit.Weights[i])
	}
	return params(list, true, "bench", benchTable, &c.Bench)
}
