package car_test

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/units"
)

func ExampleParse() {
	c, err := car.Parse("saloon.yaml", []byte(`
format: 1
name: Grey saloon
system: {voltage: 12 V, earth: negative, cylinders: 8}
coil: {class: ballasted, primary: {value: 1.5 ± 0.1 ohm, measured: yes}}
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range car.Params(c) {
		switch r.Path {
		case "coil.primary", "coil.inductance", "switch.dwell":
			fmt.Printf("%s = %s, %v\n", r.Path, units.FormatValue(r.P.Kind, r.P.Value, units.Metric), r.P.Origin)
		}
	}
	// Output:
	// coil.primary = 1.50 ± 0.10 Ω, measured
	// coil.inductance = 7.0 ± 2.0 mH, assumed
	// switch.dwell = 30.0 ± 2.5°, assumed
}

// Everything that is wrong is said at once, with what would be right.
func ExampleParse_errors() {
	_, err := car.Parse("saloon.yaml", []byte(`format: 1
system: {voltage: 12 V, earth: negative, cylinders: 8}
batery: {capacity: 60 Ah}
switch: {kind: dual_points, dwell: 50 deg}
feed: coil_feed
`))
	fmt.Println(err)
	// Output:
	// saloon.yaml:3:1: batery: unknown field; accepted: format, name, notes, system, battery, charging, starter, key_switch, wiring, ballast, coil, switch, relay, feed, loads, planned, plugs, cap, engine, distributor, timing, trigger, advance, bench, conditions, readings (did you mean "battery")
	// saloon.yaml:4:36: switch.dwell: with 8 cylinders a lobe is only 45 distributor degrees, so they would never open; accepted: less than 45 deg
	// saloon.yaml:5:7: feed: points need no feed; accepted: none, or a switch that is a trigger module
}

// A what-if is a clone with a part changed.
func ExampleCar_Clone() {
	asFound := car.Defaults(12, car.NegativeEarth, 8)
	converted := asFound.Clone()
	converted.Switch = car.SwitchDefaults(car.Darlington, 12, 8)
	converted.Feed = car.FeedBallastSupply
	fmt.Println(asFound.Switch.Kind, "needs", units.Format(units.Voltage, asFound.Switch.MinFeed.X, units.Metric))
	fmt.Println(converted.Switch.Kind, "needs", units.FormatValue(units.Voltage, converted.Switch.MinFeed.Value, units.Metric))
	// Output:
	// single_points needs 0 V
	// darlington needs 7.0 ± 1.0 V
}
