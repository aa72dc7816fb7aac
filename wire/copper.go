package wire

import "math"

const (
	// CopperOhmM is the resistivity of annealed copper at 20 °C, ohm metre:
	// the international annealed copper standard [IEC 60028].
	CopperOhmM = 1.7241e-8

	// CopperPerK is the temperature coefficient of its resistance, referred to
	// 20 °C, 1/K [IEC 60028].
	CopperPerK = 0.00393

	// Stranded is the resistance of a stranded wire over that of a solid one
	// of the same copper area: the outer strands lie in a helix. 1.02 to 1.05
	// [common practice]; ASTM B8 allows 2 % for concentric lay [from memory].
	Stranded = 1.03
)

// copperMeltC is where copper melts, °C [handbook value 1084.6, from memory].
const copperMeltC = 1084.6

// Resistance returns the resistance in ohms of a copper wire of sectionM2
// square metres of copper, lengthM metres long, at tempC degrees Celsius:
//
//	R = ρ20 · strandingFactor · l/A · (1 + α20 (T - 20))
//
// strandingFactor is 1 for a solid wire and [Stranded] for a usual stranded
// one. The straight line is good to about 0.1 % from -50 to 200 °C. No length
// has no resistance; no copper (a section of 0) over some length is +Inf.
// A section or length below 0 or a strandingFactor below 1 cannot be: NaN.
// Source: IEC 60028.
func Resistance(sectionM2, lengthM, tempC, strandingFactor float64) float64 {
	if !(sectionM2 >= 0 && lengthM >= 0 && strandingFactor >= 1) {
		return math.NaN()
	}
	if lengthM == 0 {
		return 0
	}
	return CopperOhmM * strandingFactor * lengthM / sectionM2 * (1 + CopperPerK*(tempC-20))
}
