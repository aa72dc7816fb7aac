package fault

import (
	"dwellwright/car"
	"dwellwright/units"
)

func supplyFaults() []Fault {
	rating := func(c *car.Car) *car.Param { return &c.Charging.Rating }
	regulator := func(sign float64) change {
		return func(c *car.Car, _ *car.Condition, v figures) {
			c.Charging.SetPoint.X += sign * v[0] * float64(c.NominalV) / 12
		}
	}
	list := []Fault{
		{
			ID: "battery_discharged", Name: "battery discharged", Prior: 1.1, Remedy: by("charge_battery"),
			Change: "charge of the battery down to {0}", Evidence: CommonPractice, Likelier: Stored,
			Sizes: []Size{{units.Fraction, Uniform, 0.5, 0.08}},
			Moves: []Move{falls("conditions.*.state_of_charge")},
			apply: func(_ *car.Car, k *car.Condition, v figures) {
				k.StateOfCharge.X = min(k.StateOfCharge.X, v[0])
			},
		},
		{
			ID: "battery_sulphated", Name: "battery worn out or sulphated", Prior: 0.8, Remedy: by("replace_battery"),
			Change: "internal resistance of the battery {0} times, capacity {1} times what it was", Likelier: Stored,
			Sizes: []Size{factor(2, 5), factor(0.7, 0.3)},
			Moves: []Move{rises("battery.internal"), falls("battery.capacity")},
			apply: func(c *car.Car, _ *car.Condition, v figures) {
				c.Battery.Internal.X *= v[0]
				c.Battery.Capacity.X *= v[1]
			},
		},
		inOneLeg(Fault{ID: "live_post_corroded", Name: "live battery post or clamp corroded", Prior: 0.8, Remedy: by("clean_posts"), Likelier: Stored},
			car.BatteryCable, ohms(0.01, 0.05)),
		inOneLeg(Fault{ID: "earth_post_corroded", Name: "earthed battery post or clamp corroded", Prior: 0.8, Remedy: by("clean_posts"), Likelier: Stored},
			car.EarthCable, ohms(0.01, 0.05)),
		inOneLeg(Fault{ID: "engine_strap_bad", Name: "ground strap from engine to body bad or left off", Prior: 0.7, Remedy: by("renew_ground_strap")},
			car.EngineStrap, ohms(0.02, 0.5)),
		inOneLeg(Fault{ID: "earth_cable_frayed", Name: "earth cable frayed, or paint under its lug", Prior: 0.5, Remedy: by("renew_earth_cable")},
			car.EarthCable, ohms(0.008, 0.06)),
		{
			ID: "generator_gives_nothing", Name: "generator gives little or nothing", Prior: 0.4, Remedy: by("overhaul_generator"),
			Change: "most current of the generator {0} of its rating", Likelier: Stored, needs: generator,
			Sizes: []Size{{units.Fraction, Uniform, 0.3, 0}},
			Moves: []Move{falls("charging.rating")},
			apply: scaled(rating),
		},
		{
			ID: "generator_cuts_in_late", Name: "generator cuts in late", Prior: 0.8, Remedy: by("overhaul_generator"),
			Change: "engine speeds at which the generator cuts in and is full up by {0}", needs: generator,
			Sizes: []Size{{units.Speed, Uniform, 250, 900}},
			Moves: []Move{rises("charging.cut_in"), rises("charging.full_output")},
			apply: func(c *car.Car, _ *car.Condition, v figures) {
				c.Charging.CutIn.X += v[0]
				c.Charging.FullOutput.X += v[0]
			},
		},
		{
			ID: "alternator_diode", Name: "alternator diode open or shorted", Prior: 0.4, Remedy: by("overhaul_alternator"),
			Change: "most current of the alternator {0} of its rating; its ripple is no figure here", Evidence: FromMemory, needs: alternator,
			Sizes: []Size{{units.Fraction, Uniform, 0.67, 0.33}},
			Moves: []Move{falls("charging.rating")},
			apply: scaled(rating),
		},
		{
			ID: "belt_slips", Name: "generator belt slips", Prior: 0.5, Remedy: by("tension_belt"),
			Change: "most current of the charging {0} of its rating", Evidence: CommonPractice, needs: charged,
			Sizes: []Size{{units.Fraction, Uniform, 0.65, 0.35}},
			Moves: []Move{falls("charging.rating")},
			apply: scaled(rating),
		},
		{
			ID: "regulator_low", Name: "regulator set or drifted low", Prior: 1.0, Remedy: by("adjust_regulator"),
			Change: "voltage that the regulator holds down by {0}, half of that in a 6 V car", Evidence: CommonPractice, needs: charged,
			Sizes: []Size{volts(0.8, 1.6)},
			Moves: []Move{falls("charging.regulator.set_point")},
			apply: regulator(-1),
		},
		{
			ID: "regulator_high", Name: "regulator high: its base badly earthed, or stuck", Prior: 0.6, Remedy: by("ground_regulator"),
			Change: "voltage that the regulator holds up by {0}, half of that in a 6 V car", Evidence: CommonPractice, needs: charged,
			Sizes: []Size{volts(0.8, 2.6)},
			Moves: []Move{rises("charging.regulator.set_point")},
			apply: regulator(1),
		},
		inOneLeg(Fault{ID: "charge_lead_high", Name: "charge lead loose or corroded", Prior: 0.2, Remedy: by("renew_charge_lead"), needs: charged},
			car.ChargeLead, ohms(0.03, 0.3)),
		{
			ID: "starter_drags", Name: "starter drags and draws too much", Prior: 0.3, Remedy: by("overhaul_starter"),
			Change: "current of the starter {0} times what it was", Evidence: FromMemory,
			Sizes: []Size{factor(1.4, 2.2)},
			Moves: []Move{rises("starter.current")},
			apply: scaled(func(c *car.Car) *car.Param { return &c.Starter.Current }),
		},
	}
	return inGroup(Supply, list)
}

// inGroup puts all of a list into a group.
func inGroup(g Group, list []Fault) []Fault {
	for i := range list {
		list[i].Group = g
	}
	return list
}
