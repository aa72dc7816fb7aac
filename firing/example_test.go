package firing_test

import (
	"fmt"
	"math"

	"dwellwright/firing"
)

// A ballasted coil on the points of a V8 at 2,000 rpm.
func v8() *firing.Case {
	return &firing.Case{
		Coil:   firing.Coil{L1: 8e-3, L2: 8e-3 * 100 * 100, Coupling: 0.97, R2: 9000, Iron: 1500},
		Source: firing.Source{Volts: 13.5, Ohms: 2.9},
		Break:  firing.Break{On: 0.02, Farads: 0.22e-6, Series: 0.1},
		Gap:    firing.Gap{Farads: 80e-12, Series: 11e3, Required: 10e3, Burn: 1000, Extinct: 3e-3, Linger: 50e-6},
		Rhythm: firing.Turning(8, 2000, 30),
	}
}

func ExampleSolver_Solve() {
	var s firing.Solver
	f, err := s.Solve(v8())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("breaks %.2f A of %.2f A, could give %.1f kV, burns %.2f ms, %.0f mJ in the gap\n",
		f.BreakA, f.StillA, f.AvailableV/1e3, f.BurnS*1e3, f.GapJ*1e3)

	c := v8()
	c.Gap.Shunt = 200e3 // a fouled plug
	f, _ = s.Solve(c)
	fmt.Printf("with a fouled plug it could give %.1f kV\n", f.AvailableV/1e3)
	// Output:
	// breaks 3.90 A of 4.62 A, could give 33.4 kV, burns 2.01 ms, 37 mJ in the gap
	// with a fouled plug it could give 8.3 kV
}

func ExampleSolver_Trace() {
	var s firing.Solver
	top, n := 0.0, 0
	_, moments, err := s.Trace(v8(), func(p firing.Point) {
		top = math.Max(top, p.SecondaryV)
		n++
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d moments, the secondary came to %.1f kV; thousands of points: %v\n", len(moments), top/1e3, n > 2000)
	// Output:
	// 3 moments, the secondary came to 10.0 kV; thousands of points: true
}

func ExamplePoints() {
	p := firing.Points{Cylinders: 8, DwellDeg: 30, GapM: 0.43e-3, SpringN: 5.3, MassKg: firing.ArmKg}
	fmt.Printf("part at %.0f mm/s at 600 rpm, float above %.0f rpm, keep %.0f degrees at 6,000\n",
		1e3*p.PartingMPS(600), p.FloatRPM(), p.DwellAt(6000))
	// Output:
	// part at 206 mm/s at 600 rpm, float above 5067 rpm, keep 24 degrees at 6,000
}
