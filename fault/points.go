package fault

import (
	"dwellwright/car"
	"dwellwright/units"
)

func pointsFaults() []Fault {
	on := func(c *car.Car) *car.Param { return &c.Switch.On }
	condenser := func(c *car.Car) *car.Param { return &c.Switch.Condenser }
	gapMoves := func(dwell, gap How, timing How) []Move {
		m := []Move{{"switch.dwell", dwell}, {"distributor.dwell_each", dwell}, {"switch.gap", gap}, {"distributor.phase", dwell}}
		return append(m, Move{"timing.before", timing}, Move{"conditions.*.advance", timing})
	}
	list := []Fault{
		{
			ID: "points_burnt", Name: "points burnt or pitted", Prior: 2.3, Remedy: by("renew_points"),
			Change: "resistance of the closed contacts up by {0}", Evidence: CommonPractice, Likelier: LongUntouched | Stored, needs: points,
			Sizes: []Size{ohms(0.1, 2)},
			Moves: []Move{rises("switch.contact")},
			apply: raised(on),
		},
		{
			ID: "points_closed_up", Name: "points closed up: block worn or screw loose", Prior: 2.4, Remedy: by("set_points"),
			Change: "dwell up by {0}, as far as the lobe allows; the spark half of that later", Evidence: CommonPractice, Likelier: LongUntouched, needs: points,
			Sizes: []Size{degrees(4, 15)},
			Moves: gapMoves(Rises, Falls, Falls),
			apply: func(c *car.Car, k *car.Condition, v figures) { dwellBy(c, k, v[0]) },
		},
		{
			ID: "points_never_open", Name: "points never open: block worn away or screw loose", Prior: 0.4, Remedy: by("set_points"),
			Change: "no gap at the lobe's highest: the contacts stay closed all the way round", Evidence: CommonPractice, Likelier: LongUntouched, needs: points,
			Moves: []Move{set("switch.gap")},
			apply: func(c *car.Car, _ *car.Condition, _ figures) { c.Switch.Gap.X = 0 },
		},
		{
			ID: "points_gap_wide", Name: "points set too wide", Prior: 0.8, Remedy: by("set_points"),
			Change: "dwell down by {0}; the spark half of that earlier", Evidence: CommonPractice, needs: points,
			Sizes: []Size{degrees(4, 13)},
			Moves: gapMoves(Falls, Rises, Rises),
			apply: func(c *car.Car, k *car.Condition, v figures) { dwellBy(c, k, -v[0]) },
		},
		{
			ID: "points_oily", Name: "oil, grease or oxide on the points", Prior: 0.8, Remedy: by("clean_points"),
			Change: "resistance of the closed contacts up by {0}", Evidence: CommonPractice, Likelier: Stored, needs: points,
			Sizes: []Size{ohms(0.3, 1e3)}, When: inShare(0.7),
			Moves: []Move{rises("switch.contact")},
			apply: raised(on),
		},
		{
			ID: "points_spring_weak", Name: "breaker spring weak or wrong", Prior: 0.4, Remedy: by("renew_points"),
			Change: "force of the breaker spring {0} times what it was", Evidence: CommonPractice, needs: points,
			Sizes: []Size{factor(0.7, 0.3)},
			Moves: []Move{falls("switch.spring")},
			apply: scaled(func(c *car.Car) *car.Param { return &c.Switch.Spring }),
		},
		{
			ID: "dual_points_out_of_step", Name: "dual points out of step", Prior: 0.4, Remedy: by("set_both_sets"),
			Change: "the second set opens {0} later, as far as the lobe allows", Evidence: CommonPractice, needs: dualPoints,
			Sizes: []Size{degrees(2, 7)},
			Moves: []Move{rises("distributor.sets_apart"), rises("switch.dwell"), rises("distributor.phase"), falls("timing.before"), falls("conditions.*.advance")},
			apply: func(c *car.Car, k *car.Condition, v figures) {
				d, lobe := &c.Distributor, 360/float64(c.Cylinders)
				deg := max(min(v[0], lobe-2-d.DwellEach.X-d.SetsApart.X, lobe-2-c.Switch.Dwell.X), 0)
				d.SetsApart.X += deg
				c.Switch.Dwell.X += deg
				later(c, k, deg)
			},
		},
		{
			ID: "condenser_open", Name: "condenser open or its lead off", Prior: 1.0, Remedy: by("renew_condenser"),
			Change: "what is left across the points {0}", Evidence: CommonPractice, needs: points,
			Sizes: []Size{{units.Capacitance, LogUniform, 2e-9, 0.2e-9}},
			Moves: []Move{falls("switch.condenser")},
			apply: func(c *car.Car, _ *car.Condition, v figures) {
				c.Switch.Condenser.X = min(c.Switch.Condenser.X, v[0])
			},
		},
		shorted(Fault{ID: "condenser_shorted", Name: "condenser shorted through", Prior: 0.4, Remedy: by("renew_condenser"), Likelier: LongUntouched, needs: points},
			car.ShortInCondenser),
		{
			ID: "condenser_leaks_hot", Name: "condenser leaks or breaks down hot", Prior: 1.4, Remedy: by("renew_condenser"),
			Change: "a breakdown at the voltage of a spark, as a leak of {0} that loads the coil like its iron; an insulation tester sees less of it", Likelier: LongUntouched | QuitsHot, needs: points,
			When:  hot(80, 50),
			Sizes: []Size{ohms(300, 15)},
			Moves: []Move{falls("coil.iron")},
			apply: func(c *car.Car, _ *car.Condition, v figures) { c.Coil.Iron.X = beside(c.Coil.Iron.X, v[0]) },
		},
		{
			ID: "condenser_too_small", Name: "condenser of too small a value", Prior: 0.2, Remedy: by("renew_condenser"),
			Change: "condenser {0} times the value it should have", Evidence: CommonPractice, needs: points,
			Sizes: []Size{factor(0.6, 0.3)},
			Moves: []Move{falls("switch.condenser")},
			apply: scaled(condenser),
		},
		{
			ID: "condenser_too_large", Name: "condenser of too large a value", Prior: 0.2, Remedy: by("renew_condenser"),
			Change: "condenser {0} times the value it should have", Evidence: CommonPractice, needs: points,
			Sizes: []Size{factor(1.5, 3)},
			Moves: []Move{rises("switch.condenser")},
			apply: scaled(condenser),
		},
		{
			ID: "condenser_joint_poor", Name: "condenser's can or lead loose", Prior: 0.5, Remedy: by("renew_condenser"),
			Change: "resistance in series with the condenser up by {0}", needs: points,
			Sizes: []Size{ohms(3, 30)},
			Moves: []Move{rises("switch.condenser_series")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Switch.CondenserSeries }),
		},
		func() Fault {
			f := openLeg(Fault{ID: "breaker_lead_breaks_moved", Name: "lead inside the distributor opens when vacuum moves the plate", Prior: 0.4, Remedy: by("renew_breaker_lead"), needs: vacuum},
				car.TriggerLead)
			f.When = When{Kind: PlateMoved}
			return f
		}(),
		shorted(Fault{ID: "breaker_terminal_shorted", Name: "insulator of the distributor's terminal left out, or the lead inside chafed through to earth", Prior: 0.4,
			Remedy: by("renew_breaker_lead"), needs: points}, car.ShortAtTerminal),
	}
	return inGroup(Points, list)
}
