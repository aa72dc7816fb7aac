package measure

import (
	"math"

	"dwellwright/car"
	"dwellwright/twin"
	"dwellwright/units"
)

// primaryEntries are the readings of coil, points and condenser.
func primaryEntries() []entry {
	key := how{Primary, "meter", 2, "", NeedsKey}
	clamp := how{Primary, "clamp", 2, "T", NeedsKey}
	hot := how{Primary, "clamp_hot", 2, "RT", NeedsRunning}
	ohm := how{Primary, "ohms", 1, "", NeedsNothing}
	eyes := how{Primary, "cap_off", 1, "", NeedsNothing}
	dwell := how{Primary, "dwell", 1, "R", NeedsRunning}
	return []entry{
		key.reads("switch_drop", "drop across points or trigger, conducting", keyClosed, twin.Voltmeter, "breaker_terminal", "breaker_plate", 3,
			"points 0.1 V at most [US Navy NAVEDTRA 14329]; trigger 0.2 to 1.5 V by its kind [common practice]"),
		key.reads("trigger_lead_drop", "drop from coil to distributor terminal", keyClosed, twin.Voltmeter, "coil_switched", "breaker_terminal", 3,
			"0.1 V at most [US Army TM 5-3820-256-24-4]"),
		key.reads("coil_switched_open", "coil's switched terminal, points open or trigger off", keyOpen, twin.Voltmeter, "coil_switched", "block", 2,
			"the battery's volts [common practice]"),
		key.seenHere("switched_lead_live", "the lead, taken off the distributor, is live with the key on", keyOpen, network,
			"voltmeter from the lead's bare end to the block, the end held clear of everything", 3, "the battery's volts: nothing beyond the coil draws [common practice]",
			func(v *visit) float64 { return sure(leadLive(v)) }),
		clamp.reads("coil_amps_key", "coil's current, key on, conducting", keyClosed, twin.ClampAmmeter, "coil", "", 2,
			"3 to 5 A of 12 V [calculated]; 0 is an open circuit, over 6 A a coil without its ballast"),
		hot.reads("coil_peak_idle", "coil's highest current at hot idle", hotIdle, twin.ClampPeak, "coil", "", 4,
			"3 to 4.5 A of 12 V [common practice]"),
		hot.reads("coil_peak_cruise", "coil's highest current at cruise", cruise, twin.ClampPeak, "coil", "", 4,
			"less than at idle, by the time there is between sparks [calculated]"),
		hot.reads("coil_peak_fast", "coil's highest current at top speed", topSpeed, twin.ClampPeak, "coil", "", 4,
			"less again: of an eight on points some 60 % of that at idle [calculated]"),
		ohm.reads("coil_ohms", "coil's primary winding, cold", keyOff, twin.Ohmmeter, "coil_feed", "coil_switched", 4,
			"ballasted coil 1.2 to 1.8 ohm, coil for full voltage 2.8 to 4.0 ohm [common practice]"),
		hotCoil(),
		ohm.figure("secondary_ohms", "coil's secondary winding, cold", keyOff, units.Resistance, "ohmmeter: 1 % + 2 digits", parts(0.01, 2, 0),
			"coil's tower to either primary terminal", 3, "6 to 30 kohm, commonly 8 to 12 [factory manuals]; shorted turns move it by less than 5 %",
			func(v *visit) float64 { return jumped(v.c.Coil.Secondary.X, v.b.drawn.Coil.Secondary.X) }),
		how{Primary, "heat", 2, "T", NeedsRunning}.reads("coil_temp", "coil's temperature at cruise", cruise, twin.Thermometer, "coil", "", 3,
			"70 to 80 °C, too hot to hold, can be normal [common practice]").firing(),
		dwell.figure("dwell_idle", "dwell at hot idle", hotIdle, units.DistributorAngle, "dwell meter: 1 degree", parts(0, 0, 1),
			"red lead on the coil's switched terminal, black on the block", 4, "eight 28 to 32, six 36 to 42, four 49 to 55 degrees, points [NAVEDTRA 14273, TM 10-3930-653-14&P]", dwellOf),
		dwell.figure("dwell_fast", "dwell at top speed", topSpeed, units.DistributorAngle, "dwell meter: 1 degree", parts(0, 0, 1),
			"as at idle, hose off", 4, "within 3 degrees of that at idle [common practice]", dwellOf),
		eyes.figure("points_gap", "gap of the points", keyOff, units.Length, "feeler gauge: 0.03 mm", parts(0, 0, 0.03e-3),
			"feeler at the lobe's highest; on used points trust the dwell", 6, "0.38 to 0.46 mm of an eight, some 0.5 to 0.65 mm of fours and sixes [NAVEDTRA 14273, factory manuals]",
			func(v *visit) float64 { return v.c.Switch.Gap.X }).unless(electronic),
		eyes.seenHere("points_part", "the points part at every lobe as the engine is turned by hand", keyOff, network,
			"contacts, with a lamp behind them; plugs out or in, out of gear", 4, "they do, all by the same gap [common practice]",
			func(v *visit) float64 { return sure(over(v.c.Switch.Gap.X, partsM, partsM/2)) }).unless(electronic),
		eyes.figure("points_spring", "force of the breaker spring", keyOff, units.Force, "spring scale: 5 % + 0.2 N", parts(0.05, 0, 0.2),
			"spring scale at the contact, square to the arm", 4, "17 to 20 oz, 4.7 to 5.6 N [factory manuals]",
			func(v *visit) float64 { return v.c.Switch.Spring.X }).unless(electronic),
		ohm.figure("condenser_farads", "condenser", keyOff, units.Capacitance, "capacitance meter: 2 % + 2 nF", parts(0.02, 0, 2e-9),
			"lead to can, its lead off", 3, "0.18 to 0.25 µF [common practice]; a low voltage meter passes one that breaks down hot at 250 V",
			func(v *visit) float64 {
				if v.c.Switch.Shorts[car.ShortInCondenser] > 0 {
					return 0 // a meter that charges it finds nothing
				}
				return v.c.Switch.Condenser.X
			}).unless(electronic),
		ohm.seenHere("condenser_kicks", "an ohmmeter on the condenser kicks and goes back to open", keyOff, network,
			"lead to can, its lead off, highest range; shorted with a wire before", 3, "it does; one that breaks down only at a spark's volts does too [common practice]",
			func(v *visit) float64 {
				if v.c.Switch.Shorts[car.ShortInCondenser] > 0 {
					return sure(0)
				}
				return sure(below(math.Log(math.Max(v.c.Switch.Condenser.X, 1e-12)/kicksFarads) / 0.5))
			}).unless(electronic),
		ohm.seenHere("breaker_terminal_insulated", "the distributor's terminal is open to earth", keyOff, network,
			"terminal to housing, its lead and the condenser's off, a strip of card between the points", 6, "it is, with the plate moved through its whole travel too [common practice]",
			func(v *visit) float64 { return sure(unlessSo(v.c.Switch.Shorts[car.ShortAtTerminal])) }).unless(electronic),
		ohm.figure("condenser_series", "resistance in series with the condenser", keyOff, units.Resistance, "ESR meter: 5 % + 0.05 ohm", parts(0.05, 0, 0.05),
			"lead to can, and can to plate", 3, "under 0.5 ohm, mount clean and tight [from memory]",
			func(v *visit) float64 { return v.c.Switch.CondenserSeries.X }).unless(electronic),
	}
}

// Figures that looks at the primary turn on.
const (
	seenSure    = 0.99  // share of answers that are right where there are two and hardly a doubt, an estimate
	flowsA      = 0.2   // A from which a current flows as it should, or into a short
	deadOhms    = 5e6   // ohm in series from which a voltmeter of 10 megohm no longer shows the battery's volts
	kicksFarads = 20e-9 // F from which an ohmmeter's hand or figures are seen to move, an estimate
	partsM      = 50e-6 // m of gap from which contacts are seen to part, an estimate
)

// sure is what is reported of something that is so with chance p and hardly
// mistaken.
func sure(p float64) float64 { return told(p, seenSure, 1-seenSure) }

// unlessSo is 1, and 0 where there is something of what should not be there.
func unlessSo(figure float64) float64 {
	if figure > 0 {
		return 0
	}
	return 1
}

// leadLive is the chance that the lead from the coil has the battery's volts
// once it is off the distributor: not where it is shorted or broken itself, and not
// where the way to it is open. That is whole where volts stand at its other end, or
// a current flows through it into a short beyond.
func leadLive(v *visit) float64 {
	if v.c.Switch.Shorts[car.ShortInLead] > 0 || twin.LegOhms(&v.c.Wiring[car.TriggerLead], v.k.BayTemp.X) > deadOhms {
		return 0
	}
	f := v.facts
	return math.Max(over(f.switched, 0.4*float64(v.c.NominalV), 0.5), over(f.coil, flowsA, flowsA/4))
}

// firing says that a reading hangs on the firing of the state.
func (e entry) firing() entry {
	e.depth |= firingOf
	return e
}

// hotCoil is the coil just after running.
func hotCoil() entry {
	acc, with := accuracyOf(twin.Ohmmeter)
	e := how{Primary, "ohms_hot", 1, "T", NeedsRunning}.figure("coil_ohms_hot", "coil's primary winding, just after running", cruise, units.Resistance, with, acc,
		"across the primary terminals, wires off", 4, "the cold figure and 0.39 % for each kelvin [handbook, copper]",
		func(v *visit) float64 {
			if v.spark == nil {
				return math.NaN()
			}
			return math.Min(v.spark.Primary.Winding, pastRange)
		})
	e.depth = firingOf
	e.Engine = "just stopped after ten minutes' running"
	return e
}

// dwellOf is what a dwell meter shows: the share of the time the switch is
// closed, as distributor degrees of a lobe.
func dwellOf(v *visit) float64 {
	r := twin.Dwell(v.c, math.Max(v.k.Speed.X, 1))
	return r.Dwell / r.Period * 360 / float64(v.c.Cylinders)
}

func hasCan(c *car.Car) string {
	if c.Advance.Source == car.NoVacuum {
		return "the car has no vacuum can"
	}
	return ""
}
