package supply

import "math"

// Battery is a lead-acid battery with flooded cells.
type Battery struct {
	NominalV      float64 // 6 (three cells) or 12 (six)
	SOC           float64 // state of charge, 0 empty to 1 full
	TempC         float64 // of the electrolyte, °C
	CapacityAh    float64 // rated, ampere hours
	InternalOhm20 float64 // ohms while giving current, full and at 20 °C, posts included
}

// Validate reports the first field that cannot be, as a [FieldError].
func (b Battery) Validate() error {
	return firstBad("battery",
		field{"NominalV", b.NominalV, b.NominalV == 6 || b.NominalV == 12, "6 or 12 V"},
		field{"SOC", b.SOC, between(0, b.SOC, 1), "a state of charge from 0 (empty) to 1 (full)"},
		field{"TempC", b.TempC, between(-50, b.TempC, 80), "-50 to 80 °C"},
		field{"CapacityAh", b.CapacityAh, between(1, b.CapacityAh, 1000), "1 to 1000 A·h"},
		field{"InternalOhm20", b.InternalOhm20, b.InternalOhm20 > 0 && b.InternalOhm20 <= 10, "more than 0 and at most 10 ohm"},
	)
}

// restV is the rested voltage of six cells at 27 °C in steps of a quarter of
// the charge, V [battery makers' tables: 12.65 full, 12.45, 12.24, 12.06,
// about 11.9 empty].
var restV = [...]float64{11.89, 12.06, 12.24, 12.45, 12.65}

const (
	restC      = 27.0   // °C of that table (80 °F)
	emfPerCell = 0.2e-3 // V/K, see EMF
)

func (b Battery) cells() float64 { return b.NominalV / 2 }

// EMF returns the open-circuit voltage in volts of a rested battery: makers'
// tables of voltage against charge, straight between their points (six cells
// at 27 °C: 12.65 V full, 12.45 at 3/4, 12.24 at half, 12.06 at 1/4, 11.89
// empty), and +0.2 mV/K for each cell. A SOC outside 0 to 1 counts as the end.
//
// The sign is plus: acid of working strength gives slightly more when warm
// (0.2 mV/K at a gravity of 1.28, some 0.3 at 1.15) [electrochemistry
// handbooks, from memory], 0.05 V less for 12 V at -18 °C. Not to be confused
// with the -3 mV/K a cell by which charging voltage is set. Surface charge
// within hours of charging reads up to some tenths higher [common practice].
func (b Battery) EMF() float64 {
	x := min(max(b.SOC, 0), 1) * float64(len(restV)-1)
	if math.IsNaN(x) {
		return x
	}
	i := min(int(x), len(restV)-2)
	rest := restV[i] + (x-float64(i))*(restV[i+1]-restV[i])
	return b.cells() * (rest/6 + emfPerCell*(b.TempC-restC))
}

// Internal returns the ohms behind EMF while the battery gives current for
// seconds to minutes:
//
//	R = InternalOhm20 · exp(1600 K · (1/T - 1/293.15 K)) · (1 + (1-SOC)²)
//
// The factor for temperature is 2.25 at -18 °C and 0.71 at 40 °C: ions move
// sluggishly in cold acid. With it the power a battery can give, EMF²/4R,
// falls from 27 °C to 59 % at 0 °C and 39 % at -18 °C; battery makers' tables
// say 65 and 40 %. The factor for charge, 1.25 at half and 2 when empty, is
// from memory, between the 1.4 an alternating-current meter finds when empty
// and the several times of heavy cranking. A milliohm meter working with
// alternating current also shows less rise in the cold (about 1.5 times), as
// it misses the plates' part. Good to a third, from -30 to 60 °C; an empty
// battery freezes near -10 °C.
func (b Battery) Internal() float64 {
	const activation = 1600 // K
	cold := math.Exp(activation * (1/(b.TempC+273.15) - 1/293.15))
	missing := 1 - min(max(b.SOC, 0), 1)
	return b.InternalOhm20 * cold * (1 + missing*missing)
}

// ChargeInternal returns the ohms behind EMF while the bus is above it and the
// battery takes current for minutes. EMF and Internal alone would let in many
// times too much, hundreds of amperes: a charging cell raises a
// counter-voltage (overpotential) of its own. That is put here into a second
// resistance in series with Internal, of a size that gives the usual
// acceptance at 2.40 V a cell (14.4 V for 12 V):
//
//	I = CapacityAh · (0.015 + 0.5 (1-SOC)) · 2^((TempC-25)/20)
//	R = Internal + cells · (2.40 V - EMF of a cell) / I
//
// A full battery of 60 A·h takes 0.9 A at 25 °C, a half empty one 16 A, and in
// the cold each 20 K halve it [orders of size from memory: 1/100 to 1/50 of
// the capacity when full; up to the missing ampere hours in amperes when
// deeply discharged; a third to a half at freezing point].
//
// Simplification: the true curve is more nearly logarithmic, so away from
// 2.40 V a cell the straight line takes too much below (a full battery at
// 13.5 V) and too little above. In the first seconds of charge, before the
// plates polarise, the truth lies nearer to Internal.
func (b Battery) ChargeInternal() float64 {
	const gassing = 2.40 // V a cell
	missing := 1 - min(max(b.SOC, 0), 1)
	takes := b.CapacityAh * (0.015 + 0.5*missing) * math.Exp2((b.TempC-25)/20)
	return b.Internal() + (b.cells()*gassing-b.EMF())/takes
}
