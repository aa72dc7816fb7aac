package fault

import (
	"dwellwright/car"
)

// feedWireFaults are those of switch, wires and joints on the live side, of
// coil and trigger.
func feedWireFaults() []Fault {
	contact := func(c *car.Car) *car.Param { return &c.KeySwitch.Contact }
	list := []Fault{
		{
			ID: "switch_contact_worn", Name: "ignition switch contact worn", Prior: 0.8, Remedy: by("renew_switch"),
			Change: "resistance of the run contact up by {0}", Evidence: CommonPractice, Likelier: SwitchWork,
			Sizes: []Size{ohms(0.2, 2)},
			Moves: []Move{rises("key_switch.contact")},
			apply: raised(contact),
		},
		{
			ID: "switch_contact_intermittent", Name: "ignition switch makes poor contact by spells", Prior: 0.8, Remedy: by("renew_switch"),
			Change: "resistance of the run contact up by {0}", Evidence: CommonPractice, Likelier: SwitchWork,
			Sizes: []Size{ohms(0.5, 50)}, When: inShare(0.4),
			Moves: []Move{rises("key_switch.contact")},
			apply: raised(contact),
		},
		{
			ID: "switch_contact_open", Name: "ignition switch dead: its run contact does not close", Prior: 0.4, Remedy: by("renew_switch"),
			Change: "run contact open, {0}", Evidence: CommonPractice, Likelier: SwitchWork,
			Sizes: []Size{openOhms},
			Moves: []Move{rises("key_switch.contact")},
			apply: raised(contact),
		},
		inOneLeg(Fault{ID: "main_feed_high", Name: "poor joint between battery and feed junction", Prior: 0.3, Remedy: by("renew_feed_joints"), Likelier: Stored},
			car.MainFeed, ohms(0.05, 0.5)),
		inOneLeg(Fault{ID: "switch_feed_high", Name: "bulkhead plug or splice ahead of the ignition switch hot and corroded", Prior: 0.7, Remedy: by("renew_feed_joints"), Likelier: Stored},
			car.SwitchFeed, ohms(0.2, 2)),
		inOneLeg(Fault{ID: "ignition_lead_high", Name: "poor joint between ignition switch and ballast or coil", Prior: 0.6, Remedy: by("repair_ignition_lead"), Likelier: Stored},
			car.IgnitionLead, ohms(0.2, 2)),
		func() Fault {
			f := inOneLeg(Fault{ID: "ignition_lead_few_strands", Name: "crimp in the ignition lead that hangs on a few strands", Prior: 1.0, Remedy: by("repair_ignition_lead")},
				car.IgnitionLead, ohms(0.2, 5))
			f.When = inShare(0.5)
			return f
		}(),
		func() Fault {
			f := openLeg(Fault{ID: "ignition_lead_breaks", Name: "ignition lead open by spells: chafed or broken inside", Prior: 0.6, Remedy: by("repair_ignition_lead")}, car.IgnitionLead)
			f.When = inShare(0.35)
			return f
		}(),
		openLeg(Fault{ID: "ignition_lead_open", Name: "ignition lead broken or off", Prior: 0.4, Remedy: by("repair_ignition_lead"), Likelier: JustConverted}, car.IgnitionLead),
		{
			ID: "series_tachometer", Name: "tachometer in series with the coil's feed has gone high", Prior: 0.6, Remedy: by("repair_ignition_lead"),
			Change: "resistance of the ignition lead up by {0}", Evidence: CommonPractice, Likelier: JustConverted,
			Sizes: []Size{ohms(0.1, 1)},
			Moves: []Move{rises(leg(car.IgnitionLead))},
			apply: inLeg(car.IgnitionLead),
		},
		inOneLeg(Fault{ID: "coil_feed_lead_high", Name: "poor joint at the coil's feed terminal", Prior: 0.2, Remedy: by("renew_coil_leads")},
			car.CoilLead, ohms(0.2, 2)),
		openLeg(Fault{ID: "coil_feed_lead_off", Name: "lead to the coil's feed terminal broken or off", Prior: 0.3, Remedy: by("renew_coil_leads"), Likelier: JustConverted},
			car.CoilLead),
		inOneLeg(Fault{ID: "switched_lead_high", Name: "poor joint in the lead from coil to distributor", Prior: 0.3, Remedy: by("renew_coil_leads")},
			car.TriggerLead, ohms(0.2, 3)),
		openLeg(Fault{ID: "switched_lead_off", Name: "lead from coil to distributor broken or off", Prior: 0.5, Remedy: by("renew_coil_leads"), Likelier: JustConverted},
			car.TriggerLead),
		shorted(Fault{ID: "switched_lead_shorted", Name: "lead from coil to distributor, or a tachometer's wire on it, chafed through to earth", Prior: 0.6, Remedy: by("insulate_switched_lead")}, car.ShortInLead),
		{
			ID: "trigger_feed_behind_ballast", Name: "trigger fed from behind the ballast", Prior: 2.3, Remedy: by("move_trigger_feed"),
			Change: "the trigger's supply wire joined to the coil's feed terminal instead", Evidence: CommonPractice,
			Likelier: JustConverted, Rewires: true, needs: feedAhead | ballast,
			Moves: []Move{set("feed")},
			apply: func(c *car.Car, _ *car.Condition, _ figures) { c.Feed = car.FeedCoil },
		},
		func() Fault {
			f := unfed(Fault{
				ID: "trigger_feed_dead_in_start", Name: "trigger's supply dead while cranking", Prior: 0.9,
				Remedy: by("feed_in_both_positions"), Likelier: JustConverted | SwitchWork, needs: module,
			})
			f.When = When{Kind: InStart}
			return f
		}(),
		func() Fault {
			f := unfed(Fault{
				ID: "trigger_feed_dead_in_run", Name: "trigger's supply live in start only", Prior: 0.5,
				Remedy: by("feed_in_both_positions"), Likelier: JustConverted | SwitchWork, needs: module,
			})
			f.When = When{Kind: NotInStart}
			return f
		}(),
		inOneLeg(Fault{ID: "trigger_fuse_poor", Name: "fuse holder or crimp in the trigger's supply wire poor", Prior: 0.5, Remedy: by("renew_feed_wire"), Likelier: JustConverted, needs: module},
			car.FeedWire, ohms(5, 200)),
		func() Fault {
			f := unfed(Fault{ID: "trigger_feed_breaks", Name: "trigger's supply wire open by spells", Prior: 0.3, Remedy: by("renew_feed_wire"), Likelier: JustConverted, needs: module})
			f.When = inShare(0.35)
			return f
		}(),
		unfed(Fault{ID: "trigger_feed_open", Name: "trigger's supply wire broken, or its fuse blown", Prior: 0.3, Remedy: by("renew_feed_wire"), Likelier: JustConverted, needs: module}),
		{
			ID: "relay_contact_poor", Name: "relay contact burnt", Prior: 0.3, Remedy: by("renew_relay"),
			Change: "resistance of the relay's contact up by {0}", needs: relay,
			Sizes: []Size{ohms(0.1, 2)},
			Moves: []Move{rises("relay.contact")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Relay.Contact }),
		},
		{
			ID: "relay_fuse_poor", Name: "fuse or holder ahead of the relay poor", Prior: 0.3, Remedy: by("renew_relay_fuse"),
			Change: "resistance of fuse and holder up by {0}", needs: relay,
			Sizes: []Size{ohms(0.1, 1)},
			Moves: []Move{rises("relay.fuse")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Relay.Fuse }),
		},
	}
	return inGroup(Feed, list)
}

// unfed is a fault that leaves a trigger without supply: it does not conduct.
func unfed(f Fault) Fault {
	f = openLeg(f, car.FeedWire)
	f.Change += ", and a trigger without supply does not conduct"
	f.Moves = append(f.Moves, set("switch.contact"))
	f.apply = func(c *car.Car, _ *car.Condition, v figures) {
		addOhms(c, car.FeedWire, v[0])
		c.Switch.On.X = offOhms
	}
	return f
}
