package gas_test

import (
	"fmt"

	"dwellwright/gas"
)

// An invented engine of ratio 8.5, plugs at 0.9 mm: at idle, and snapped open.
func Example() {
	c := gas.Cylinder{
		Mixture:     gas.Mixture{ManifoldPa: 37e3, ChargeK: 350, Polytropic: gas.PolytropicTypical},
		Chamber:     gas.Chamber{CompressionRatio: 8.5, RodRatio: 3.5, InletCloseDeg: 50},
		Plug:        gas.Plug{GapM: 0.9e-3, Shape: gas.ShapeTypical, Hot: gas.HotTypical},
		Rotor:       gas.Rotor{GapM: 0.6e-3, AirPa: 101325, AirK: 340},
		IgnitionDeg: 10,
	}
	show := func(when string) {
		if err := c.Validate(); err != nil {
			fmt.Println(err)
			return
		}
		d := gas.Demand(c)
		fmt.Printf("%s: %.1f bar, %.0f K; plug %.1f kV + rotor %.1f kV = %.1f kV ±%.0f %%, predicted\n",
			when, d.PressurePa/1e5, d.TempK, d.PlugV/1e3, d.RotorV/1e3, d.TotalV/1e3, 100*gas.DemandSpread)
	}
	show("idle")
	c.Mixture.ManifoldPa, c.Mixture.ChargeK = 90e3, 325
	show("snap")
	c.Plug.Reversed = gas.ReversedTypical
	show("snap, coil leads swapped")
	c.Plug.GapM = 0.9
	show("gap in millimetres")
	// Output:
	// idle: 4.8 bar, 651 K; plug 5.8 kV + rotor 2.2 kV = 8.1 kV ±25 %, predicted
	// snap: 11.7 bar, 605 K; plug 13.2 kV + rotor 2.2 kV = 15.4 kV ±25 %, predicted
	// snap, coil leads swapped: 11.7 bar, 605 K; plug 16.5 kV + rotor 2.2 kV = 18.7 kV ±25 %, predicted
	// plug: GapM 0.9: 0.0002 to 0.003 m (0.2 to 3 mm) is wanted
}

func ExampleBreakdown() {
	for _, mm := range []float64{0.005, 0.05, 0.9, 200} {
		v, r := gas.Breakdown(1, mm*1e-3)
		fmt.Printf("%g mm: %.2f kV, %v\n", mm, v/1e3, r)
	}
	// Output:
	// 0.005 mm: 0.66 kV, gas thinner or gap shorter than measured
	// 0.05 mm: 0.55 kV, inside the measured range
	// 0.9 mm: 4.00 kV, inside the measured range
	// 200 mm: 511.59 kV, gas denser or gap longer than measured
}
