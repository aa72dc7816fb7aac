package fault

import (
	"dwellwright/car"
)

// sleeveFaults are those of the trigger's magnets or teeth and of how they sit
// before the sensor.
func sleeveFaults() []Fault {
	list := []Fault{
		{
			ID: "trigger_gap_wide", Name: "trigger's air gap too wide", Prior: 1.4, Remedy: by("set_air_gap"),
			Change: "air gap up by {0}, before teeth by a third of that", Evidence: CommonPractice, Likelier: JustConverted, needs: module,
			Sizes: []Size{metres(0.4e-3, 1.4e-3)},
			Moves: []Move{rises("trigger.gap")},
			apply: func(c *car.Car, _ *car.Condition, v figures) {
				if c.Trigger.Principle == car.Reluctance {
					v[0] /= 3
				}
				c.Trigger.Gap.X += v[0]
			},
		},
		{
			ID: "trigger_rubs", Name: "trigger touches its ring", Prior: 0.6, Remedy: by("set_air_gap"),
			Change: "air gap {0}", Evidence: CommonPractice, Likelier: JustConverted, needs: module,
			Sizes: []Size{metres(0.1e-3, 0)},
			Moves: []Move{falls("trigger.gap")},
			apply: func(c *car.Car, _ *car.Condition, v figures) { c.Trigger.Gap.X = min(c.Trigger.Gap.X, v[0]) },
		},
		{
			ID: "sleeve_high", Name: "magnets not level with the sensor", Prior: 0.6, Remedy: by("shim_sleeve"),
			Change: "magnets {0} further from level", Evidence: CommonPractice, Likelier: JustConverted, needs: hall,
			Sizes: []Size{metres(1.5e-3, 3e-3)},
			Moves: []Move{rises("trigger.axial_offset")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Trigger.AxialOffset }),
		},
		{
			ID: "sleeve_loose", Name: "sleeve loose on the shaft or the cam", Prior: 0.8, Remedy: by("renew_sleeve"),
			Change: "sleeve turned {0} on the shaft, {1}, and the spark with it", Evidence: CommonPractice, Likelier: JustConverted, needs: module,
			Sizes: []Size{degrees(3, 15), side()}, When: inShare(0.7),
			Moves: append([]Move{moves("distributor.phase")}, timingMoves(EitherWay)...),
			apply: func(c *car.Car, k *car.Condition, v figures) { later(c, k, v[0]*v[1]) },
		},
		{
			ID: "magnets_weak", Name: "magnets weakened by heat", Prior: 0.4, Remedy: by("renew_sleeve"),
			Change: "field of the magnets {0} times what it was", Evidence: FromMemory, Likelier: QuitsHot, needs: hall,
			Sizes: []Size{factor(0.85, 0.45)},
			Moves: []Move{falls("trigger.remanence")},
			apply: scaled(func(c *car.Car) *car.Param { return &c.Trigger.Remanence }),
		},
		{
			ID: "sensor_insensitive", Name: "trigger's sensor needs too strong a field", Prior: 0.2, Remedy: by("replace_trigger"),
			Change: "field in which the sensor switches {0} times what it was", Likelier: QuitsHot, needs: hall,
			Sizes: []Size{factor(1.5, 3)},
			Moves: []Move{rises("trigger.operate")},
			apply: scaled(func(c *car.Car) *car.Param { return &c.Trigger.Operate }),
		},
		{
			ID: "rotor_not_seated", Name: "sleeve holds the rotor up", Prior: 0.3, Remedy: by("seat_rotor"),
			Change: "rotor {0} higher than its old seat", Likelier: JustConverted, needs: module,
			Sizes: []Size{metres(1e-3, 5e-3)},
			Moves: []Move{rises("trigger.rotor_lift")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Trigger.RotorLift }),
		},
	}
	return inGroup(Trigger, list)
}
