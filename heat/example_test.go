package heat_test

import (
	"fmt"

	"dwellwright/heat"
)

// A module making 5 W in air of 75 °C and on a block of 88 °C: with paste under
// it, and dry on paint.
func Example() {
	for _, under := range []float64{0.4, 3.4} {
		m := heat.TypicalModule()
		m.BasePlateKPerW = under
		s, err := m.Network().Compile()
		if err != nil {
			fmt.Println(err)
			return
		}
		c, err := s.Steady(nil, []heat.Power{{W: 5}, {}, {}, {}}, []float64{75, 88})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.1f K/W under the module: junction %.0f °C, base %.0f, plate %.0f, housing %.0f; pi_T %.1f\n",
			under, c[heat.Junction], c[heat.Base], c[heat.Plate], c[heat.Body], heat.PiT(c[heat.Junction]))
	}
	// Output:
	// 0.4 K/W under the module: junction 114 °C, base 106, plate 104, housing 92; pi_T 5.1
	// 3.4 K/W under the module: junction 129 °C, base 122, plate 105, housing 92; pi_T 6.3
}

// Three quarters of an hour on the road, then three hours parked: the hottest
// moment comes after the stop.
func ExampleBay_Cycle() {
	s, err := heat.TypicalModule().Network().Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	bay := heat.TypicalBay()
	drive := []heat.Leg{{Name: "road", Seconds: 2700, Powers: []heat.Power{{W: 2}, {}, {}, {}}}}
	h, err := s.Run(s.Even(bay.OutsideC), bay.Cycle(drive, 3*3600, make([]heat.Power, 4)))
	if err != nil {
		fmt.Println(err)
		return
	}
	p := h.Peak(heat.Base)
	fmt.Printf("base %.0f °C at the stop, %.0f °C %.0f minutes after it; above 90 °C for %.0f minutes\n",
		h.At(heat.Base, 2700), p.TempC, (p.AtS-2700)/60, h.TimeAbove(heat.Base, 90)/60)
	fmt.Printf("ages %.2f times as fast as at 85 °C (0.7 eV assumed)\n", h.MeanAcceleration(heat.Base, 0.7, 85))
	// Output:
	// base 89 °C at the stop, 94 °C 27 minutes after it; above 90 °C for 28 minutes
	// ages 0.57 times as fast as at 85 °C (0.7 eV assumed)
}

// The key left on with the points closed: a coil of 1.5 ohm behind a ballast of
// 1.5 ohm at 12.4 V. How long until the winding is at 130 °C?
func ExampleHistory_TimeTo() {
	for _, ballast := range []float64{1.5, 0} {
		s, err := heat.TypicalCoil().Network().Compile()
		if err != nil {
			fmt.Println(err)
			return
		}
		keyOn := heat.Segment{Name: "key on", Seconds: 3 * 3600,
			Powers: []heat.Power{heat.Fed(12.4, ballast, 1.5, 90), {}},
			Given:  []heat.Given{heat.Held(25), heat.Held(25)}}
		h, err := s.Run(s.Even(25), []heat.Segment{keyOn})
		if err != nil {
			fmt.Println(err)
			return
		}
		if t, ok := h.TimeTo(heat.Winding, 130); ok {
			fmt.Printf("ballast %.1f ohm: 130 °C after %.0f minutes\n", ballast, t/60)
		} else {
			fmt.Printf("ballast %.1f ohm: never; at most %.0f °C\n", ballast, h.Peak(heat.Winding).TempC)
		}
	}
	// Output:
	// ballast 1.5 ohm: never; at most 100 °C
	// ballast 0.0 ohm: 130 °C after 10 minutes
}
