package fault

import (
	"dwellwright/car"
)

func coilFaults() []Fault {
	shorted := func(c *car.Car, _ *car.Condition, v figures) {
		c.Coil.Iron.X = beside(c.Coil.Iron.X, v[0])
		c.Coil.Turns.X *= v[1]
	}
	shortedWords := "turns that touch, a closed winding of their own: as a load across the primary {0}; turns ratio {1} times what it was"
	shortedMoves := []Move{falls("coil.iron"), falls("coil.turns")}
	inKingLead := func(c *car.Car, _ *car.Condition, v figures) {
		c.Coil.Series.X += v[0]
		c.Coil.AtKingLead += v[0]
	}
	list := []Fault{
		{
			ID: "coil_reversed", Name: "coil's primary wires changed over", Prior: 1.2, Remedy: by("swap_coil_wires"),
			Change: "the plug's centre electrode positive: it asks for 15 to 30 % more", Evidence: CommonPractice, Likelier: JustConverted, needs: straight,
			Moves: []Move{set("coil.polarity")},
			apply: func(c *car.Car, _ *car.Condition, _ figures) { c.Coil.Reversed = true },
		},
		{
			ID: "coil_primary_low", Name: "wrong coil: primary too low for this circuit", Prior: 1.2, Remedy: by("fit_right_coil"),
			Change: "primary {0} times the resistance it should have, with the inductance that goes with it", Evidence: CommonPractice, Likelier: JustConverted, needs: highCoil,
			Sizes: []Size{factor(0.6, 0.3)},
			Moves: []Move{falls("coil.primary"), falls("coil.inductance")},
			apply: scaleCoil,
		},
		{
			ID: "coil_primary_high", Name: "wrong coil: primary too high for this circuit", Prior: 1.0, Remedy: by("fit_right_coil"),
			Change: "primary {0} times the resistance it should have, with the inductance that goes with it", Evidence: CommonPractice, needs: lowCoil,
			Sizes: []Size{factor(1.6, 2.6)},
			Moves: []Move{rises("coil.primary"), rises("coil.inductance")},
			apply: scaleCoil,
		},
		{
			ID: "coil_shorted_turns", Name: "shorted turns in the coil", Prior: 0.4, Remedy: by("renew_coil"),
			Change: shortedWords,
			Sizes:  []Size{ohms(150, 20), factor(0.98, 0.85)},
			Moves:  shortedMoves,
			apply:  shorted,
		},
		{
			ID: "coil_shorted_turns_hot", Name: "shorted turns in the coil once it is hot", Prior: 1.3, Remedy: by("renew_coil"),
			Change: shortedWords, Likelier: QuitsHot,
			When:  hot(95, 55), // the winding is 20 to 40 °C over the bay
			Sizes: []Size{ohms(150, 20), factor(0.98, 0.85)},
			Moves: shortedMoves,
			apply: shorted,
		},
		{
			ID: "coil_primary_opens_hot", Name: "coil's primary opens once it is hot", Prior: 0.3, Remedy: by("renew_coil"),
			Change: "primary winding open, {0}", Likelier: QuitsHot,
			When:  hot(95, 60),
			Sizes: []Size{openOhms},
			Moves: []Move{rises("coil.primary")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Coil.Primary }),
		},
		{
			ID: "coil_primary_open", Name: "coil's primary open", Prior: 0.4, Remedy: by("renew_coil"),
			Change: "primary winding open, {0}", Evidence: CommonPractice,
			Sizes: []Size{openOhms},
			Moves: []Move{rises("coil.primary")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Coil.Primary }),
		},
		{
			ID: "coil_secondary_open", Name: "coil's secondary broken, the spark jumps the break", Prior: 0.6, Remedy: by("renew_coil"),
			Change: "resistance of the secondary winding up by {0}; what the break itself asks for is no figure here",
			Sizes:  []Size{ohms(50e3, 5e6)},
			Moves:  []Move{rises("coil.secondary"), rises("coil.series")},
			apply: func(c *car.Car, _ *car.Condition, v figures) {
				c.Coil.Secondary.X += v[0]
				c.Coil.Series.X += v[0]
			},
		},
		{
			ID: "coil_tower_tracking", Name: "coil's tower cracked or tracked", Prior: 0.6, Remedy: by("renew_coil_tower"),
			Change: "a leak of {0} from there to earth", Evidence: CommonPractice,
			Sizes: []Size{ohms(1e6, 10e3)},
			Moves: []Move{falls("cap.shunt"), rises("cap.leaks")},
			apply: leakAt(car.LeakAtCoilTower),
		},
		{
			ID: "coil_lead_corroded", Name: "coil lead's ends or the coil's tower corroded", Prior: 0.5, Remedy: by("renew_king_lead"),
			Change: "resistance between secondary and plugs up by {0}", Likelier: Stored,
			Sizes: []Size{ohms(30e3, 1e6)},
			Moves: []Move{rises("coil.series"), rises("coil.at_king_lead")},
			apply: inKingLead,
		},
	}
	return inGroup(CoilGroup, list)
}
