package fault

import (
	"dwellwright/car"
	"dwellwright/units"
)

// triggerFaults are those of a trigger module's electrics and heat.
func triggerFaults() []Fault {
	dead := func(c *car.Car, _ *car.Condition, _ figures) { c.Switch.On.X = offOhms }
	deadMoves := []Move{set("switch.contact")}
	list := []Fault{
		{
			ID: "trigger_dead", Name: "trigger dead: it never conducts", Prior: 1.2, Remedy: by("replace_trigger"),
			Change: "the trigger's output stays open", Evidence: CommonPractice, Likelier: JustConverted, needs: module,
			Moves: deadMoves,
			apply: dead,
		},
		shorted(Fault{ID: "trigger_shorted", Name: "trigger dead: it never lets go", Prior: 0.4, Remedy: by("replace_trigger"), Likelier: JustConverted, needs: module}, car.ShortInModule),
		{
			ID: "trigger_wires_reversed", Name: "trigger destroyed: joined the wrong way round", Prior: 0.6, Remedy: by("replace_trigger"),
			Change: "the trigger's output stays open", Evidence: CommonPractice, Likelier: JustConverted, needs: module,
			Moves: deadMoves,
			apply: dead,
		},
		{
			ID: "trigger_drops_out_hot", Name: "trigger drops out when hot", Prior: 1.7, Remedy: by("replace_trigger"),
			Change: "the trigger's output stays open", Evidence: CommonPractice, Likelier: QuitsHot, needs: module,
			When:  hot(100, 60), // 75 to 95 °C of the module, which is 10 to 20 °C over the bay
			Moves: deadMoves,
			apply: dead,
		},
		{
			ID: "trigger_overheated", Name: "trigger weakened: key left on with the coil conducting", Prior: 0.7, Remedy: by("replace_trigger"),
			Change: "voltage across the conducting trigger up by {0} (a MOSFET's resistance by as many tenths of an ohm)", Likelier: QuitsHot, needs: module,
			Sizes: []Size{volts(0.7, 3)},
			Moves: []Move{rises("switch.saturation"), rises("switch.contact")},
			apply: func(c *car.Car, _ *car.Condition, v figures) {
				if c.Switch.Kind == car.MOSFET {
					c.Switch.On.X += v[0] / 10
					return
				}
				c.Switch.Saturation.X += v[0]
			},
		},
		{
			ID: "trigger_needs_more_feed", Name: "trigger gives up at too high a feed voltage", Prior: 0.4, Remedy: by("replace_trigger"),
			Change: "least voltage the trigger works at {0} times what its sheet says", needs: module,
			Sizes: []Size{factor(1.15, 1.6)},
			Moves: []Move{rises("switch.minimum_feed")},
			apply: scaled(func(c *car.Car) *car.Param { return &c.Switch.MinFeed }),
		},
		{
			ID: "trigger_badly_cooled", Name: "trigger on paint, dry or on a warped plate", Prior: 0.4, Remedy: by("cool_trigger"),
			Change: "thermal resistance from the trigger's base to the plate up by {0}", Evidence: FromMemory, Likelier: JustConverted | QuitsHot, needs: module,
			Sizes: []Size{{units.ThermalResistance, LogUniform, 1.5, 8}},
			Moves: []Move{rises("switch.base_to_plate")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Switch.BasePlate }),
		},
		{
			ID: "trigger_dwell_long", Name: "trigger keeps this coil closed too long", Prior: 0.4, Remedy: by("fit_right_coil"),
			Change: "the trigger closes {0} earlier, as far as the lobe allows", Likelier: JustConverted, needs: module,
			Sizes: []Size{degrees(3, 12)},
			Moves: []Move{rises("switch.dwell")},
			apply: func(c *car.Car, _ *car.Condition, v figures) {
				lobe := 360 / float64(c.Cylinders)
				c.Switch.Dwell.X += max(min(v[0], lobe-2-c.Switch.Dwell.X), 0)
			},
		},
		{
			ID: "condenser_left_on", Name: "old condenser left on the trigger's output", Prior: 0.4, Remedy: by("remove_condenser"),
			Change: "{0} across the trigger", Evidence: FromMemory, Likelier: JustConverted, needs: module,
			Sizes: []Size{{units.Capacitance, Normal, 0.18e-6, 0.26e-6}},
			Moves: []Move{rises("switch.condenser")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Switch.Condenser }),
		},
		{
			ID: "solid_core_leads", Name: "solid-core leads on a car with a trigger", Prior: 1.0, Remedy: by("fit_suppression_leads"),
			Change: "leads and rotor {0} in all; the false triggering that follows is no figure here", Evidence: CommonPractice, Likelier: JustConverted, needs: module,
			Sizes: []Size{ohms(1000, 5)},
			Moves: []Move{falls("coil.series")},
			apply: func(c *car.Car, _ *car.Condition, v figures) {
				c.Coil.Series.X = min(c.Coil.Series.X, c.Coil.Secondary.X+v[0])
			},
		},
	}
	return inGroup(Trigger, list)
}
