package spike_test

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/pulse"
	"dwellwright/spike"
)

// A suppression capacitor against the slowest spike and the fastest, on a car
// of which nothing is known but that it has 12 V, eight cylinders and a trigger.
func Example() {
	c := car.Defaults(12, car.NegativeEarth, 8)
	c.Switch = car.SwitchDefaults(car.Darlington, 12, 8)
	c.Feed = car.FeedBallastSupply

	dump, _ := pulse.Find("5a")
	chatter, _ := pulse.Find("3b")
	cases := []spike.Case{
		{ID: "dump", Kind: spike.TestPulse, Pulse: &dump, At: spike.GeneratorOutput, BatteryOff: true},
		{ID: "chatter", Kind: spike.TestPulse, Pulse: &chatter, At: spike.IgnitionLine},
	}
	capacitor := spike.Protection{Capacitor: spike.Capacitor{Farads: 0.5e-6}}
	results, err := spike.Apply(c, "cruise", cases, spike.Options{}, capacitor)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range results {
		for _, line := range spike.Words(&results[i]) {
			fmt.Println(line)
		}
		fmt.Println()
	}
	// Output:
	// Test pulse 5a (load dump: battery off a charging alternator): +87 V through 0.5 ohm, 200 ms long, counted from the supply, at the generator's output, battery off.
	// Predicted between the trigger's supply terminal and the breaker plate, with nothing fitted against it: from 13.6 V it goes to 66.3 V at most and 13.6 V at least.
	// That is above the limit of -16 V to 40 V (assumed; typical: 40 V as in published data sheets of car semiconductors; -16 V from memory; the module's own sheet goes before it) for 69 ms.
	// A 0.5 µF capacitor without lead does nothing against it: 66.3 V at most, 13.6 V at least, still beyond the limit.
	// Never take a battery terminal off with the engine running: that is what makes this spike.
	// A capacitor can hold its charge: with the power off, discharge it through a resistor before touching its terminals.
	//
	// Test pulse 3b (switch chattering, positive): +100 V through 50 ohm, 100 ns long, counted from the supply, on the ignition line, battery joined.
	// Predicted between the trigger's supply terminal and the breaker plate, with nothing fitted against it: from 13.6 V it goes to 84.3 V at most and -1 V at least.
	// That is above the limit of -16 V to 40 V (assumed; typical: 40 V as in published data sheets of car semiconductors; -16 V from memory; the module's own sheet goes before it) for 33.1 ns.
	// A 0.5 µF capacitor without lead takes almost all of it (99 %): 13.7 V at most, 13.5 V at least, within the limit.
	// These are test levels for a laboratory's generator; do not try to make them on the car.
	// A capacitor can hold its charge: with the power off, discharge it through a resistor before touching its terminals.
}
