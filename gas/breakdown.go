package gas

import "math"

const (
	// ReferencePa and ReferenceK are the air that density is relative to.
	ReferencePa = 101325.0
	ReferenceK  = 293.0

	// Where Breakdown goes over from Paschen's law to the fit: density times
	// gap in metres, 3.0 to 4.6 torr cm.
	joinLow  = 40e-6
	joinHigh = 60e-6

	gapMost     = 0.1  // m of density times gap: fits were made up to some 10 cm [from memory]
	densityMost = 10.0 // above, fields over 20 MV/m draw electrons from the metal [from memory]

	airLnLn = 1.5293379817722996 // ln ln(1 + 1/AirGamma)
)

// Density returns the density of a gas of pascal and kelvin relative to air at
// [ReferencePa] and [ReferenceK], as ideal gas (air at 20 bar and 600 K is
// within 1 % of it).
func Density(pascal, kelvin float64) float64 {
	return pascal / ReferencePa * (ReferenceK / kelvin)
}

// LongGap returns the volts at which air breaks down between parallel plates
// (a uniform field) by the fit
//
//	V[kV] = 24.22 s + 6.08 √s
//
// with s the relative density times the gap, in cm in the formula and in
// metres as the argument [high-voltage engineering handbooks, with
// s = 293 pd/(760 T), p in torr, d in cm]. The first term is the field at which
// electrons multiply at all in a long gap, the second what a short gap needs
// beyond it. The sphere gaps of IEC 60052, 0.5 to 5 cm apart, lie 1 to 6 %
// above it; at 0.1 cm that grows to 8 % (from memory). A negative s gives NaN.
func LongGap(s float64) float64 {
	return 24.22e5*s + 6.08e4*math.Sqrt(s) // V/m, V/√m
}

// Breakdown returns the volts at which air of a relative density (see
// [Density]) breaks down between parallel plates gapM metres apart.
//
// Which curve: with s = density·gapM, [LongGap] for s above 0.06 mm and
// [Paschen]'s law with [AirGamma] below 0.04 mm, a straight blend between. The
// fit has no minimum and goes to nothing with the gap, so it cannot hold at
// the short end, where Paschen's law has its measured figures (E/p from 800
// down to 100 V/(cm torr): s from 0.0064 to 0.156 mm). Beyond that the law's two
// figures no longer describe air: it overtakes the fit by 4 % at
// 0.16 mm, 16 % at 1 mm and 17 % at 1 cm, where the fit agrees with measured
// gaps. The two curves do not cross, they all but touch: nearest at
// s = 0.054 mm, where the law is 0.11 % above, so they are joined there. In
// all of the blend they differ by less than 0.7 %.
//
// The range is Below where E/p is above what Paschen's law was measured for,
// and Above where s is over 10 cm, or the density over 10: in gas that dense
// the field at the metal passes some 20 MV/m, its roughness begins to give
// electrons and the true volts fall behind. Left of the minimum (s less than
// 0.011 mm) volts rise again as the gap shrinks, and are +Inf from 0.004 mm
// down; a real gap sparks by a longer way round. A density or gap less than 0,
// or NaN: NaN, Below.
func Breakdown(density, gapM float64) (volts float64, r Range) {
	s := density * gapM
	switch {
	case !(density >= 0) || !(gapM >= 0):
		return math.NaN(), Below
	case s >= joinHigh:
		volts = LongGap(s)
	default:
		volts, r = paschen(s*ReferencePa, airLnLn)
		if s > joinLow {
			w := (s - joinLow) / (joinHigh - joinLow)
			volts += w * (LongGap(s) - volts)
		}
	}
	if density > densityMost || s > gapMost {
		r = Above
	}
	return volts, r
}
