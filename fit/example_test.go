package fit_test

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/fit"
	"dwellwright/units"
)

// A six whose trigger came out ten crank degrees late: the housing turned five
// degrees against the rotor's rotation brings it back, and the rotor is five
// degrees past its tower, where tip and contact still overlap.
func Example() {
	c, err := car.Parse("six.yaml", []byte(`
format: 1
system: {voltage: 12 V, earth: negative, cylinders: 6}
switch: {kind: darlington}
distributor: {rotation: clockwise, clamp_radius: 30 mm, phase: 0 deg}
timing: {wanted: 8 deg, before: 8 deg, after: -2 deg}
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := fit.Compute(c, fit.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("timing %.0f°, wanted %.0f°; first start: %v\n", f.Timing.Now.Mid, f.Timing.Wanted.Mid, f.Start.Verdict)
	fmt.Printf("rotor %.0f° past its tower: %v\n", f.Phase.AtRest.Mid, f.Phase.Middle.Verdict)
	for _, s := range fit.Moves(&f.Rig, f.Ways[0].Move, units.Metric) {
		fmt.Println(s)
	}
	// Output:
	// timing -2°, wanted 8°; first start: starts late
	// rotor 5° past its tower: in register
	// Turn the housing 5.0° anticlockwise, seen from above (against the rotor's rotation: earlier), 2.6 mm at the clamp. Rotor phase stays as it is.
}
