package wire

import (
	"fmt"
	"math"
)

// Choose returns the smallest of the gauges 20, 18, 16 … 4, 2, 1, 1/0, 2/0,
// 3/0, 4/0 that carries currentA amperes over lengthM metres (one way; double
// it where the return is wire too) with a drop of no more than maxDropV volts
// while its copper stays at or below insulationLimitC degrees Celsius in still
// air of ambientC. The drop in volts is that of the stranded wire at the
// temperature tempC its copper settles at; joints are not in it and come on
// top. See [TempRise] for the heat model and its limits: single wire, free air.
//
// Thinner than 18 gauge breaks under vibration [common practice]: strength
// may ask for more copper than is returned here.
//
// Errors: an [InputError] (ErrInput) for a figure that cannot be, among them
// air as hot as the insulation's limit; a [NoGaugeError] (ErrNoGauge) when 4/0
// does not do.
func Choose(currentA, lengthM, maxDropV, ambientC float64, insulationLimitC float64) (awg int, drop, tempC float64, err error) {
	for _, c := range []struct {
		what string
		got  float64
		ok   bool
		want string
	}{
		{"current", currentA, currentA >= 0 && !math.IsInf(currentA, 0), "zero or more amperes are wanted"},
		{"length", lengthM, lengthM >= 0 && !math.IsInf(lengthM, 0), "zero or more metres are wanted"},
		{"allowed drop", maxDropV, maxDropV > 0, "more than zero volts are wanted"},
		{"ambient temperature", ambientC, ambientC >= -60 && ambientC <= 250, "-60 to 250 °C is wanted"},
		{"insulation limit", insulationLimitC, insulationLimitC > ambientC && insulationLimitC <= 300,
			fmt.Sprintf("more than the ambient %g °C and at most 300 °C is wanted: better insulation or a cooler place", ambientC)},
	} {
		if !c.ok {
			return 0, 0, 0, &InputError{c.what, c.got, c.want}
		}
	}
	for _, awg = range gauges {
		section := AWGSection(awg)
		tempC = ambientC + TempRise(section, currentA, ambientC)
		drop = currentA * Resistance(section, lengthM, tempC, Stranded)
		if drop <= maxDropV && tempC <= insulationLimitC {
			return awg, drop, tempC, nil
		}
	}
	return 0, 0, 0, &NoGaugeError{AWG: awg, DropV: drop, TempC: tempC, MaxDropV: maxDropV, LimitC: insulationLimitC}
}
