package heat

import "math"

// Power is heat put into a node: W watts while the node is at AtC degrees
// Celsius, and WPerK more for each kelvin above that. The zero value is no
// heat; a plain constant power is Power{W: 5}.
type Power struct {
	W     float64
	AtC   float64
	WPerK float64
}

// Validate reports the first figure that can't be, as an [InputError].
func (p Power) Validate() error { return p.check("power") }

func (p Power) check(where string) error {
	return firstBad(where,
		figure{"W", p.W, between(0, p.W, mostW), "0 to 100000 W"},
		temperature("AtC", p.AtC),
		figure{"WPerK", p.WPerK, between(-mostWPerK, p.WPerK, mostWPerK), "-10000 to 10000 W/K"},
	)
}

// At returns the power in watts while the node is at tempC. A straight line
// with a slope leaves the range of sense at some temperature; it is not cut
// off there.
func (p Power) At(tempC float64) float64 { return p.W + p.WPerK*(tempC-p.AtC) }

// CopperPerK is the temperature coefficient of the resistance of annealed
// copper, referred to 20 °C, 1/K [IEC 60028].
const CopperPerK = 0.00393

// Copper returns the heat of a copper winding that makes w watts at atC, the
// current staying the same whatever its temperature:
//
//	P = w (1 + a (T - 20)) / (1 + a (atC - 20)),  a = CopperPerK
//
// So it is with a ballast far larger than the winding, or a switch that limits
// the current. Left on a plain supply the current falls as the copper warms;
// [Fed] is for that.
func Copper(w, atC float64) Power {
	return Power{W: w, AtC: atC, WPerK: w * CopperPerK / (1 + CopperPerK*(atC-20))}
}

// Fed returns the heat of a copper winding of ohm20 ohms (at 20 °C) fed by
// volts through seriesOhm ohms, as the tangent at nearC to
//
//	P = volts² R / (R + seriesOhm)²,  R = ohm20 (1 + a (T - 20)),  a = CopperPerK
//
// With no resistance in series the power falls as the winding warms; with as
// much in series as the winding has it does not change at first. The tangent
// is within 4 % of the curve over ±60 K, and within 1.5 % behind a third of the
// winding's resistance or more; where that is not enough, solve and take the
// tangent again at the answer. Sources: Ohm's law; IEC 60028.
func Fed(volts, seriesOhm, ohm20, nearC float64) Power {
	r := ohm20 * (1 + CopperPerK*(nearC-20))
	amps := volts / (r + seriesOhm)
	return Power{
		W:     amps * amps * r,
		AtC:   nearC,
		WPerK: amps * amps * (seriesOhm - r) / (seriesOhm + r) * ohm20 * CopperPerK,
	}
}

// constant is the part of p that doesn't depend on the node's temperature
// when the rest is taken as WPerK times the temperature in °C.
func (p Power) constant() float64 { return p.W - p.WPerK*p.AtC }

// steepest returns the node where heat grows fastest with temperature.
func steepest(powers []Power) int {
	at, most := 0, math.Inf(-1)
	for i, p := range powers {
		if p.WPerK > most {
			at, most = i, p.WPerK
		}
	}
	return at
}
