package fault

import (
	"dwellwright/car"
)

// feedFaults are those of the ballast, of the start circuit, and of the way
// back to the battery.
func feedFaults() []Fault {
	cold := func(c *car.Car) *car.Param { return &c.Ballast.Cold }
	broken := func(c *car.Car, _ *car.Condition, v figures) { c.Ballast.Cold.X = v[0] }
	list := []Fault{
		{
			ID: "ballast_open", Name: "ballast burnt through", Prior: 1.9, Remedy: by("renew_ballast"),
			Change: "ballast open, {0}", Evidence: CommonPractice, needs: ballast,
			Sizes: []Size{openOhms},
			Moves: []Move{set("ballast.cold")},
			apply: broken,
		},
		{
			ID: "ballast_opens_hot", Name: "ballast opens when hot", Prior: 0.8, Remedy: by("renew_ballast"),
			Change: "ballast open, {0}", Evidence: CommonPractice, Likelier: QuitsHot, needs: ballast,
			When:  hot(90, 50), // the wire itself is 60 °C and more over the bay
			Sizes: []Size{openOhms},
			Moves: []Move{set("ballast.cold")},
			apply: broken,
		},
		{
			ID: "ballast_high", Name: "ballast too high: aged, the wrong one, or two of them", Prior: 0.4, Remedy: by("renew_ballast"),
			Change: "resistance of the ballast {0} times what it was", needs: ballast,
			Sizes: []Size{factor(1.4, 2.2)},
			Moves: []Move{rises("ballast.cold")},
			apply: scaled(cold),
		},
		{
			ID: "ballast_low", Name: "ballast too low: turns touching, or the wrong one", Prior: 0.2, Remedy: by("renew_ballast"),
			Change: "resistance of the ballast {0} times what it was", needs: ballast,
			Sizes: []Size{factor(0.65, 0.3)},
			Moves: []Move{falls("ballast.cold")},
			apply: scaled(cold),
		},
		{
			ID: "ballast_bypassed", Name: "ballast bypassed: full voltage on a ballasted coil", Prior: 1.2, Remedy: by("restore_ballast"),
			Change: "a wire of {0} across the ballast", Evidence: CommonPractice, Likelier: JustConverted | SwitchWork, needs: ballast,
			Sizes: []Size{ohms(0.03, 0.005)},
			Moves: []Move{falls("ballast.cold")},
			apply: func(c *car.Car, _ *car.Condition, v figures) { c.Ballast.Cold.X = beside(c.Ballast.Cold.X, v[0]) },
		},
		inOneLeg(Fault{ID: "plate_ground_high", Name: "ground wire of the breaker plate high: frayed, or its screws loose or dirty", Prior: 1.7, Remedy: by("renew_plate_wire"), Likelier: JustConverted},
			car.PivotWire, ohms(0.2, 5)),
		openLeg(Fault{ID: "plate_ground_open", Name: "ground wire of the breaker plate broken or left off", Prior: 0.5, Remedy: by("renew_plate_wire"), Likelier: JustConverted},
			car.PivotWire),
		func() Fault {
			f := inOneLeg(Fault{
				ID: "plate_ground_breaks_moved", Name: "ground wire of the breaker plate breaks when vacuum moves the plate", Prior: 0.9,
				Remedy: by("renew_plate_wire"), Likelier: JustConverted, needs: vacuum,
			}, car.PivotWire, ohms(0.5, 20))
			f.When = When{Kind: PlateMoved}
			return f
		}(),
		inOneLeg(Fault{ID: "housing_ground_poor", Name: "distributor housing poorly earthed to the block: paint or a gasket", Prior: 1.0, Remedy: by("ground_housing")},
			car.HousingClamp, ohms(0.15, 2)),
		openLeg(Fault{ID: "bypass_open", Name: "start bypass open or missing", Prior: 1.1, Remedy: by("restore_bypass"), Likelier: SwitchWork, needs: bypass},
			car.BypassLead),
		inOneLeg(Fault{ID: "bypass_high", Name: "start bypass with a poor contact", Prior: 0.3, Remedy: by("restore_bypass"), Likelier: SwitchWork, needs: bypass},
			car.BypassLead, ohms(0.3, 5)),
		{
			ID: "run_feed_dead_in_start", Name: "ignition feed dead in start, with no bypass to take its place", Prior: 0.2, Remedy: by("renew_switch"),
			Change: "run contact of the ignition switch open, {0}", Likelier: SwitchWork, needs: noBypass | liveRun,
			When:  When{Kind: InStart},
			Sizes: []Size{openOhms},
			Moves: []Move{rises("key_switch.contact")},
			apply: raised(func(c *car.Car) *car.Param { return &c.KeySwitch.Contact }),
		},
	}
	return inGroup(Feed, list)
}
