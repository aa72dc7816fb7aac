package fault

import (
	"dwellwright/car"
	"dwellwright/units"
)

// advanceFaults are those of weights, springs and can, and the wear of what
// turns the distributor.
func advanceFaults() []Fault {
	// ofCurve changes the mechanism, and lets the plugs fire by it.
	ofCurve := func(do func(a *car.Advance, v figures)) change {
		return func(c *car.Car, k *car.Condition, v figures) {
			withAdvance(c, k, func() { do(&c.Advance, v) })
		}
	}
	list := []Fault{
		{
			ID: "weights_seized", Name: "centrifugal weights seized", Prior: 1.2, Remedy: by("free_weights"),
			Change: "what is left of the centrifugal advance {0}", Evidence: CommonPractice, Likelier: LongUntouched | Stored,
			Sizes: []Size{degrees(2.5, 0.1)},
			Moves: []Move{falls("advance.stop"), falls("conditions.*.advance"), falls("timing.before"), falls("timing.after")},
			apply: ofCurve(func(a *car.Advance, v figures) { a.Stop.X = min(a.Stop.X, v[0]) }),
		},
		{
			ID: "weights_sticky", Name: "centrifugal weights stick", Prior: 0.5, Remedy: by("free_weights"),
			Change: "friction of the weights {0} times what it was: the curve hangs back going up and hangs on coming down", Likelier: LongUntouched | Stored,
			Sizes: []Size{{units.Ratio, LogUniform, 15, 100}},
			Moves: []Move{rises("advance.friction")},
			apply: scaled(func(c *car.Car) *car.Param { return &c.Advance.Friction }),
		},
		{
			ID: "advance_spring_weak", Name: "light advance spring weak or the wrong one", Prior: 0.7, Remedy: by("fit_right_springs"),
			Change: "rate of the light spring {0}, its preload {1} times what it was", Evidence: CommonPractice,
			Sizes: []Size{factor(0.8, 0.4), factor(0.7, 0.25)},
			Moves: []Move{falls("advance.light.rate"), falls("advance.light.preload"), moves("conditions.*.advance"), moves("timing.before"), moves("timing.after")},
			apply: ofCurve(func(a *car.Advance, v figures) {
				a.Light.Rate.X *= v[0]
				a.Light.Preload.X *= v[1]
			}),
		},
		{
			ID: "advance_spring_lost", Name: "light advance spring broken or off its post", Prior: 0.5, Remedy: by("fit_right_springs"),
			Change: "light spring gone: all that holds the weights back is the heavy one, after its slack", Evidence: CommonPractice,
			Moves: []Move{set("advance.light.rate"), set("advance.light.preload"), moves("conditions.*.advance"), moves("timing.before"), moves("timing.after")},
			apply: ofCurve(func(a *car.Advance, _ figures) { a.Light.Rate.X, a.Light.Preload.X = 1, 0 }),
		},
		{
			ID: "advance_springs_heavy", Name: "advance springs too heavy", Prior: 0.8, Remedy: by("fit_right_springs"),
			Change: "rate and preload of the light spring {0} times what they should be", Evidence: CommonPractice,
			Sizes: []Size{factor(1.5, 3)},
			Moves: []Move{rises("advance.light.rate"), rises("advance.light.preload"), falls("conditions.*.advance"), falls("timing.before"), falls("timing.after")},
			apply: ofCurve(func(a *car.Advance, v figures) {
				a.Light.Rate.X *= v[0]
				a.Light.Preload.X *= v[0]
			}),
		},
		{
			ID: "advance_stop_short", Name: "stop bush too large: the weights' way too short", Prior: 0.2, Remedy: by("fit_stop_bush"),
			Change: "most centrifugal advance {0} times what it should be",
			Sizes:  []Size{factor(0.75, 0.4)},
			Moves:  []Move{falls("advance.stop"), falls("conditions.*.advance"), falls("timing.before"), falls("timing.after")},
			apply:  ofCurve(func(a *car.Advance, v figures) { a.Stop.X *= v[0] }),
		},
		{
			ID: "stop_bush_lost", Name: "stop bush lost", Prior: 0.4, Remedy: by("fit_stop_bush"),
			Change: "most centrifugal advance up by {0}", Evidence: CommonPractice,
			Sizes: []Size{degrees(3, 6)},
			Moves: []Move{rises("advance.stop"), rises("conditions.*.advance"), rises("timing.before"), rises("timing.after")},
			apply: ofCurve(func(a *car.Advance, v figures) { a.Stop.X += v[0] }),
		},
		{
			ID: "diaphragm_torn", Name: "vacuum can's diaphragm torn", Prior: 1.6, Remedy: by("renew_can"),
			Change: "travel of the can {0} times what it was; the leak raises the manifold of a running engine by {1}", Evidence: CommonPractice, needs: vacuum,
			Sizes: []Size{factor(0.2, 0), pascals(300, 3e3)},
			Moves: []Move{falls("advance.vacuum.travel"), falls("conditions.*.advance"), rises("conditions.*.manifold")},
			apply: func(c *car.Car, k *car.Condition, v figures) {
				withAdvance(c, k, func() { c.Advance.Travel.X *= v[0] })
				airLeak(k, v[1])
			},
		},
		{
			ID: "wrong_can", Name: "vacuum can with too much travel", Prior: 0.2, Remedy: by("renew_can"),
			Change: "travel of the can up by {0}", needs: vacuum,
			Sizes: []Size{degrees(4, 9)},
			Moves: []Move{rises("advance.vacuum.travel"), rises("conditions.*.advance")},
			apply: ofCurve(func(a *car.Advance, v figures) { a.Travel.X += v[0] }),
		},
		{
			ID: "plate_seized", Name: "breaker plate seized", Prior: 1.0, Remedy: by("free_plate"),
			Change: "plate stuck, {0} of its travel drawn over, and the spark early by that", Evidence: CommonPractice, Likelier: LongUntouched | Stored, needs: vacuum,
			Sizes: []Size{{Kind: units.Fraction, Spread: Uniform, Mild: 0, Worst: 1}},
			Moves: append([]Move{falls("advance.vacuum.travel"), falls("distributor.phase")}, timingMoves(EitherWay)...),
			apply: func(c *car.Car, k *car.Condition, v figures) {
				stuck := v[0] * c.Advance.Travel.X
				withAdvance(c, k, func() { c.Advance.Travel.X = 0 })
				later(c, k, -stuck)
			},
		},
		{
			ID: "bushing_worn", Name: "distributor's bushes worn", Prior: 1.7, Remedy: by("rebush"),
			Change: "side play of the shaft up by {0}", Evidence: CommonPractice,
			Sizes: []Size{metres(0.12e-3, 0.45e-3)},
			Moves: []Move{rises("distributor.side_play")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Distributor.SidePlay }),
		},
		{
			ID: "end_play_large", Name: "end play of the shaft too large: thrust washer left out", Prior: 0.6, Remedy: by("shim_shaft"),
			Change: "end play of the shaft up by {0}", Evidence: CommonPractice,
			Sizes: []Size{metres(1.2e-3, 3e-3)},
			Moves: []Move{rises("distributor.end_play")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Distributor.EndPlay }),
		},
		{
			ID: "drive_gear_worn", Name: "drive gear worn or its pin loose", Prior: 0.6, Remedy: by("renew_drive"),
			Change: "rotor strays {0} more at the spark", Evidence: CommonPractice,
			Sizes: []Size{degrees(2, 7)},
			Moves: []Move{rises("distributor.scatter")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Distributor.Scatter }),
		},
		{
			ID: "timing_chain_slack", Name: "timing chain slack", Prior: 1.0, Remedy: by("renew_chain"),
			Change: "spark {0} late, and rotor strays {1} more", Evidence: CommonPractice,
			Sizes: []Size{crank(3, 8), degrees(1, 3)},
			Moves: append([]Move{rises("distributor.scatter")}, timingMoves(Falls)...),
			apply: func(c *car.Car, k *car.Condition, v figures) {
				earlier(c, k, -v[0])
				c.Distributor.Scatter.X += v[1]
			},
		},
	}
	return inGroup(Advance, list)
}
