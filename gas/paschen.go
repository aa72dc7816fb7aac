package gas

import "math"

// Range says whether an answer comes from inside the range its formula was
// measured in. Density times gap rises from Below through Inside to Above.
type Range uint8

const (
	Inside Range = iota
	Below        // gap too short or gas too thin for the formula
	Above        // gap too long or gas too dense for the formula
)

func (r Range) String() string {
	switch r {
	case Inside:
		return "inside the measured range"
	case Below:
		return "gas thinner or gap shorter than measured"
	case Above:
		return "gas denser or gap longer than measured"
	}
	return "no range"
}

const (
	torrCm = 133.322368 * 0.01 // Pa m in a torr cm; 101325/760 [definition]

	// AirA and AirB are the two figures of air's first ionisation coefficient,
	// α/p = A exp(-B p/E): 15 /(cm torr) and 365 V/(cm torr), here per Pa m,
	// at 20 °C, for E/p from 100 to 800 V/(cm torr) [gas-discharge handbooks].
	AirA = 15 / torrCm  // 11.25 /(Pa m)
	AirB = 365 / torrCm // 273.8 V/(Pa m)

	// AirGamma is how many electrons the negative electrode gives for each
	// positive ion that strikes it. From 0.001 to 0.1 by metal and surface;
	// 0.01 is the handbooks' usual figure.
	AirGamma = 0.01

	paschenLeast = 100 / torrCm // E/p in V/(Pa m) from where AirA, AirB hold
	paschenMost  = 800 / torrCm // and up to where
)

// Paschen returns the volts at which air of pressure times gap pd (Pa m, at
// 20 °C) breaks down between parallel plates,
//
//	V = B pd / (ln(A pd) - ln ln(1 + 1/γ))
//
// with [AirA], [AirB] and the γ given (see [AirGamma]; it must be over 0). At
// another temperature what counts is density: use pd times 293 K / T.
//
// The range is Inside where E/p = V/pd is within the 100 to 800 V/(cm torr)
// that A and B were measured in: with γ = 0.01, pd from 0.49 to 11.8 torr cm,
// which in open air are gaps of 0.006 to 0.16 mm. Below that the formula soon
// has a pole, at pd = ln(1+1/γ)/A = 0.31 torr cm: electrons meet too few
// molecules to multiply, whatever the voltage. There and left of it the
// answer is +Inf, Below. A pd less than 0, or a γ of 0 or less, or NaN: NaN,
// Below.
func Paschen(pd, gamma float64) (volts float64, r Range) {
	if !(pd >= 0) || !(gamma > 0) {
		return math.NaN(), Below
	}
	return paschen(pd, math.Log(math.Log1p(1/gamma)))
}

// paschen is Paschen with lnln = ln ln(1+1/γ).
func paschen(pd, lnln float64) (volts float64, r Range) {
	below := math.Log(AirA*pd) - lnln
	if !(below > 0) {
		return math.Inf(1), Below
	}
	field := AirB / below // E/p
	switch {
	case field > paschenMost:
		r = Below
	case field < paschenLeast:
		r = Above
	}
	return field * pd, r
}

// PaschenMinimum returns the least voltage that breaks down any gap in air, by
// [Paschen]'s law, and the pressure times gap (Pa m) where it lies:
//
//	pd = e ln(1+1/γ) / A        V = B pd
//
// With γ = 0.01: 305 V at 0.836 torr cm. Measured are about 327 V at 0.567
// torr cm [gas-discharge handbooks; encyclopaedias give 327 V at 7.5 µm in
// open air, the same]: A and B come from a wide range and miss its
// lower end by 7 % in volts. A γ of 0 or less gives NaN.
func PaschenMinimum(gamma float64) (pd, volts float64) {
	if !(gamma > 0) {
		return math.NaN(), math.NaN()
	}
	pd = math.E * math.Log1p(1/gamma) / AirA
	return pd, AirB * pd
}
