package supply_test

import (
	"fmt"

	"dwellwright/supply"
)

// A 12 V car cranked warm and at -18 °C: volts at the battery's posts.
func Example() {
	starter := supply.Starter{CurrentA: 160, AtV: 10.2}
	for _, tempC := range []float64{20, -18} {
		b := supply.Battery{NominalV: 12, SOC: 0.85, TempC: tempC, CapacityAh: 60, InternalOhm20: 9e-3}
		if err := b.Validate(); err != nil {
			fmt.Println(err)
			return
		}
		r := starter.Ohms(tempC)
		amps := b.EMF() / (b.Internal() + r)
		fmt.Printf("%3.0f °C: at rest %.2f V, cranking %.1f V at %.0f A\n", tempC, b.EMF(), amps*r, amps)
	}
	// Output:
	//  20 °C: at rest 12.52 V, cranking 10.9 V at 172 A
	// -18 °C: at rest 12.48 V, cranking 8.4 V at 197 A
}

// The same battery on charge takes little of what its resistance alone would
// let in.
func ExampleBattery_ChargeInternal() {
	regulator := supply.Regulator{SetPointV: 14.5, AtC: 18, DriftVPerK: -0.016}
	bus := regulator.SetPoint(63)
	for _, soc := range []float64{0.5, 0.85, 1} {
		b := supply.Battery{NominalV: 12, SOC: soc, TempC: 35, CapacityAh: 60, InternalOhm20: 9e-3}
		fmt.Printf("charge %.2f: %.1f A at %.1f V\n", soc, (bus-b.EMF())/b.ChargeInternal(), bus)
	}
	// Output:
	// charge 0.50: 14.7 A at 13.8 V
	// charge 0.85: 4.9 A at 13.8 V
	// charge 1.00: 0.8 A at 13.8 V
}

// What a generator and an alternator can give as the engine speeds up.
func ExampleAlternator_Limit() {
	g := supply.Generator{CutInRPM: 1050, FullRPM: 2150, RatingA: 27}
	a := supply.Alternator{RatingA: 45, IdleShare: 0.45, FullRPM: 2400}
	for _, rpm := range []float64{600, 1000, 1500, 2500} {
		fmt.Printf("%4.0f rpm: generator %.0f A, alternator %.0f A\n", rpm, g.Limit(rpm), a.Limit(rpm))
	}
	// Output:
	//  600 rpm: generator 0 A, alternator 20 A
	// 1000 rpm: generator 0 A, alternator 35 A
	// 1500 rpm: generator 11 A, alternator 41 A
	// 2500 rpm: generator 27 A, alternator 45 A
}

func ExampleBattery_Validate() {
	err := supply.Battery{NominalV: 12, SOC: 85, TempC: 20, CapacityAh: 60, InternalOhm20: 9e-3}.Validate()
	fmt.Println(err)
	// Output: battery: SOC 85: a state of charge from 0 (empty) to 1 (full) is wanted
}
