package measure_test

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/measure"
	"dwellwright/units"
)

// A car in order, and the same with a bad pivot wire.
func Example() {
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		fmt.Println(err)
		return
	}
	var list []measure.Measure
	for _, id := range []string{"plate_housing_drop", "coil_amps_key", "available_fast", "hot_joint"} {
		m, err := measure.Find(c, id)
		if err != nil {
			fmt.Println(err)
			return
		}
		list = append(list, m)
	}
	b, err := measure.NewBench(c, list)
	if err != nil {
		fmt.Println(err)
		return
	}
	good, bad := make([]float64, len(list)), make([]float64, len(list))
	if err := b.Read(nil, good); err != nil {
		fmt.Println(err)
	}
	wire := func(c *car.Car, _ *car.Condition) { c.Wiring[car.PivotWire].Resistance.X += 1.0 }
	if err := b.Read(wire, bad); err != nil {
		fmt.Println(err)
	}
	for i, m := range list {
		fmt.Printf("%s: %s, with the bad wire %s\n", m.Name, units.Format(m.Kind, good[i], units.Metric), units.Format(m.Kind, bad[i], units.Metric))
	}
	fmt.Println(list[0].Probes)
	fmt.Println(measure.Why(c, "trigger_feed_idle"))
	// Output:
	// drop from breaker plate to distributor housing: 46.7 mV, with the bad wire 3.26 V
	// coil's current, key on, conducting: 3.89 A, with the bad wire 3.23 A
	// most volts on one lead at top speed: 23.5 kV, with the bad wire 18.44 kV
	// a wire or joint of the ignition feed gets warm, key on for a minute: 3.8 %, with the bad wire 90 %
	// red lead on breaker plate, bare metal beside the points or trigger; black lead on distributor housing
	// the car has points, not a trigger
}
