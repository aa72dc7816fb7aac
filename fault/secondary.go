package fault

import (
	"dwellwright/car"
	"dwellwright/units"
)

// secondaryFaults are those of rotor, cap, leads and plugs. The car's figures
// are those of all cylinders alike, so here are none of one cylinder alone.
func secondaryFaults() []Fault {
	rotorGap := func(c *car.Car) *car.Param { return &c.Cap.RotorGap }
	plugGap := func(c *car.Car) *car.Param { return &c.Plugs.Gap }
	leaks := func(f Fault, at car.LeakPlace, size Size) Fault {
		f.Change, f.Evidence = "a leak of {0} from there to earth", CommonPractice
		f.Sizes, f.Moves, f.apply = []Size{size}, []Move{falls("cap.shunt"), rises("cap.leaks")}, leakAt(at)
		return f
	}
	damp := leaks(Fault{ID: "cap_damp", Name: "moisture or oil in the cap", Prior: 0.8, Remedy: by("dry_cap")}, car.LeakAtCap, ohms(5e6, 0.1e6))
	damp.When = inShare(0.6)
	breaks := func(f Fault, at car.BreakPlace, size Size) Fault {
		f.Change, f.Evidence = "{0} of air that every spark has to jump there", CommonPractice
		f.Sizes, f.Moves = []Size{size}, []Move{rises("cap.breaks")}
		f.apply = func(c *car.Car, _ *car.Condition, v figures) { c.Cap.Breaks[at] += v[0] }
		return f
	}
	hotRotor := leaks(Fault{ID: "rotor_leaks_hot", Name: "rotor leaks to the shaft once it is hot", Prior: 0.5, Remedy: by("renew_rotor"), Likelier: QuitsHot}, car.LeakAtRotor, ohms(1e6, 10e3))
	hotRotor.When = hot(95, 55)
	list := []Fault{
		leaks(Fault{ID: "rotor_burnt_through", Name: "rotor burnt through to the shaft", Prior: 0.9, Remedy: by("renew_rotor")}, car.LeakAtRotor, ohms(0.5e6, 5e3)),
		hotRotor,
		{
			ID: "cap_rotor_eroded", Name: "rotor tip and cap contacts eroded", Prior: 0.6, Remedy: by("renew_cap_rotor"),
			Change: "rotor gap up by {0}", Evidence: CommonPractice, Likelier: LongUntouched,
			Sizes: []Size{metres(0.8e-3, 3e-3)},
			Moves: []Move{rises("cap.rotor_gap")},
			apply: raised(rotorGap),
		},
		{
			ID: "rotor_short", Name: "rotor too short for this cap", Prior: 0.4, Remedy: by("renew_rotor"),
			Change: "rotor gap up by {0}", Evidence: CommonPractice,
			Sizes: []Size{metres(1e-3, 4e-3)},
			Moves: []Move{rises("cap.rotor_gap")},
			apply: raised(rotorGap),
		},
		leaks(Fault{ID: "cap_tracked", Name: "cap cracked or carbon-tracked", Prior: 1.4, Remedy: by("renew_cap_rotor")}, car.LeakAtCap, ohms(1e6, 10e3)),
		damp,
		leaks(Fault{ID: "coil_lead_leaks", Name: "insulation of the coil lead leaks", Prior: 0.2, Remedy: by("renew_king_lead")}, car.LeakAtKingLead, ohms(2e6, 50e3)),
		breaks(Fault{ID: "king_lead_broken", Name: "lead from coil to cap broken inside or off its end", Prior: 0.3, Remedy: by("renew_king_lead"), Likelier: LongUntouched}, car.BreakInKingLead, Size{units.Length, LogUniform, 0.5e-3, 40e-3}),
		breaks(Fault{ID: "brush_gone", Name: "cap's centre brush gone or stuck", Prior: 0.4, Remedy: by("renew_cap_rotor"), Likelier: LongUntouched}, car.BreakAtBrush, metres(2e-3, 6e-3)),
		leaks(Fault{ID: "leads_leak", Name: "insulation of the plug leads leaks", Prior: 0.3, Remedy: by("renew_leads"), Likelier: LongUntouched}, car.LeakAtLeads, ohms(2e6, 50e3)),
		{
			ID: "leads_high", Name: "plug leads of high resistance", Prior: 0.5, Remedy: by("renew_leads"),
			Change: "resistance between secondary and plugs up by {0}", Evidence: CommonPractice, Likelier: LongUntouched | Stored,
			Sizes: []Size{ohms(30e3, 500e3)},
			Moves: []Move{rises("coil.series")},
			apply: raised(func(c *car.Car) *car.Param { return &c.Coil.Series }),
		},
		leaks(Fault{ID: "plugs_fouled", Name: "plugs fouled", Prior: 1.2, Remedy: by("clean_plugs"), Likelier: Stored}, car.LeakAtPlugs, ohms(2e6, 20e3)),
		{
			ID: "plug_gap_wide", Name: "plug gaps too wide", Prior: 0.7, Remedy: by("gap_plugs"),
			Change: "plug gaps up by {0}", Evidence: CommonPractice, Likelier: LongUntouched,
			Sizes: []Size{metres(0.3e-3, 0.7e-3)},
			Moves: []Move{rises("plugs.gap")},
			apply: raised(plugGap),
		},
		{
			ID: "plug_gap_closed", Name: "plug gaps too small", Prior: 0.2, Remedy: by("gap_plugs"),
			Change: "plug gaps {0} times what they should be",
			Sizes:  []Size{factor(0.65, 0.3)},
			Moves:  []Move{falls("plugs.gap")},
			apply:  scaled(plugGap),
		},
		{
			ID: "plugs_worn", Name: "plug electrodes worn round", Prior: 0.5, Remedy: by("gap_plugs"),
			Change: "voltage that the electrodes ask for {0} times what it was", Evidence: CommonPractice, Likelier: LongUntouched,
			Sizes: []Size{factor(1.2, 1.6)},
			Moves: []Move{rises("plugs.wear")},
			apply: scaled(func(c *car.Car) *car.Param { return &c.Plugs.Wear }),
		},
	}
	return inGroup(Secondary, list)
}
