package wire_test

import (
	"fmt"

	"dwellwright/wire"
)

// A relay feeds coil and trigger, 5 A, over a metre of wire in an engine bay
// of 75 °C; 0.1 V may be lost, its two joints included.
func Example() {
	joints := 2 * wire.JointGoodOhm * 5
	awg, drop, temp, err := wire.Choose(5, 1, 0.1-joints, 75, wire.HeatPVCLimitC)
	if err != nil {
		fmt.Println(err)
		return
	}
	carries := wire.Ampacity(wire.AWGSection(awg), 75, wire.HeatPVCLimitC)
	fuse, err := wire.Fuse(5, carries)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d gauge: %.3f V in the wire, %.3f V in two good joints, copper at %.0f °C\n", awg, drop, joints, temp)
	fmt.Printf("carries %.0f A at 105 °C; fuse %g A\n", carries, fuse)
	// Output:
	// 14 gauge: 0.052 V in the wire, 0.020 V in two good joints, copper at 77 °C
	// carries 23 A at 105 °C; fuse 7.5 A
}

func ExampleResistance() {
	for _, awg := range []int{10, 14, 18} {
		fmt.Printf("%d gauge %.2f mm  %.3f ohm/km\n", awg, 1e3*wire.AWGDiameter(awg), wire.Resistance(wire.AWGSection(awg), 1000, 20, 1))
	}
	// Output:
	// 10 gauge 2.59 mm  3.277 ohm/km
	// 14 gauge 1.63 mm  8.285 ohm/km
	// 18 gauge 1.02 mm  20.948 ohm/km
}

func ExampleFuse() {
	_, err := wire.Fuse(18, 22)
	fmt.Println(err)
	// Output: the load needs a fuse of 25 A, which would not protect a wire that carries 22 A; a thicker wire is wanted
}
