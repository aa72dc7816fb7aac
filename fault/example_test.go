package fault_test

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/fault"
	"dwellwright/twin"
)

// A car of which little is known, with its breaker plate's ground wire bad: what
// a voltmeter shows between plate and housing, points closed.
func Example() {
	c := car.Defaults(12, car.NegativeEarth, 8)
	f, err := fault.ByID("plate_ground_high")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Change)
	drop := []twin.Spec{{Instrument: twin.Voltmeter, Red: "breaker_plate", Black: "housing"}}
	for _, u := range []float64{0, 0.5, 1} {
		d := c.Clone()
		for i := range d.Conditions {
			if k := &d.Conditions[i]; k.ID == "key_on_closed" {
				f.Apply(d, k, fault.Severity{U: [4]float64{u}})
			}
		}
		e, err := twin.Predict(d, "key_on_closed", drop, 200, 1)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("severity %.1f: %.1f ± %.1f V predicted\n", u, e[0].Mid, e[0].PM())
	}
	fmt.Println(f.Remedy.Words)
	fmt.Println(f.Remedy.Cautions[0])
	// Output:
	// breaker plate to distributor housing: resistance up by 0.2 Ω to 5 Ω (each doubling alike likely)
	// severity 0.0: 0.8 ± 0.1 V predicted
	// severity 0.5: 3.1 ± 0.4 V predicted
	// severity 1.0: 8.2 ± 0.4 V predicted
	// New flexible wire from breaker plate to housing, long enough for the plate's whole travel; screws clean.
	// Battery disconnected for all wiring work, connected for tests only. Every new wire fused at its source; never a larger fuse to stop one from blowing.
}

// A story shifts what is likely before anything is measured.
func ExampleFault_PriorIn() {
	for _, id := range []string{"timing_late", "coil_shorted_turns_hot"} {
		f, err := fault.ByID(id)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %.3g of 100, just converted %.3g, quits hot %.3g (estimates)\n", f.Name, f.Prior, f.PriorIn(fault.JustConverted), f.PriorIn(fault.QuitsHot))
	}
	// Output:
	// timing set too late: 1.3 of 100, just converted 4.55, quits hot 0.13 (estimates)
	// shorted turns in the coil once it is hot: 1.3 of 100, just converted 1.3, quits hot 1.3 (estimates)
}
