package supply

import "math"

// Starter is a starter motor turning its engine steadily.
type Starter struct {
	CurrentA float64 // A at AtV, oil at 20 °C or warmer
	AtV      float64 // V at the starter's own terminal
}

// Validate reports the first field that cannot be, as a [FieldError].
func (s Starter) Validate() error {
	return firstBad("starter",
		field{"CurrentA", s.CurrentA, between(1, s.CurrentA, 3000), "1 to 3000 A"},
		field{"AtV", s.AtV, between(0.5, s.AtV, 20), "0.5 to 20 V"},
	)
}

// Ohms returns the resistance the motor shows while it cranks at tempC, the
// temperature of oil and engine: AtV/CurrentA, and less in the cold, where
// stiff oil holds the motor to a lower speed and more current:
//
//	R = AtV/CurrentA / 1.5^((20-tempC)/38)   below 20 °C
//
// 1.5 times the current at -18 °C is common practice, no source, for oil of
// the right grade; with the summer's oil it is twice and more. Battery makers'
// tables put the power for one and the same cranking speed at 155 % at 0 °C
// and 210 % at -18 °C of that at 27 °C: the cold engine turns more slowly.
//
// Simplification: a series motor is taken as a resistance at its working
// point. It draws two to three times as much for the instant of breaking
// away, and the current swings with each compression; this is the mean. Away
// from AtV the current follows the voltage, where a real motor under the same
// torque keeps its current and loses speed instead: in a weak battery's favour.
func (s Starter) Ohms(tempC float64) float64 {
	const coldFactor, coldKelvin = 1.5, 38
	return s.AtV / s.CurrentA * math.Pow(coldFactor, -max(20-tempC, 0)/coldKelvin)
}
