package fault

import (
	"math"

	"dwellwright/units"
)

// Spread is how a size is spread between its mildest and its worst.
type Spread uint8

const (
	// LogUniform: each doubling alike likely, so small is commoner than large;
	// for resistances and leaks, which go over decades.
	LogUniform Spread = iota
	// Uniform: every place alike likely.
	Uniform
	// Normal: 95 % lie between Mild and Worst, cut at three standard deviations.
	Normal
	// EitherSide: Mild for the lower half of the uniforms, Worst for the upper;
	// for a sign.
	EitherSide
)

// Size is one figure of a fault's severity and how it is spread. Mild may be
// above Worst: a spring is the worse the weaker it is.
type Size struct {
	Kind        units.Kind
	Spread      Spread
	Mild, Worst float64 // SI; LogUniform: both above 0
}

// At is the size below which the share u of all cases is as mild: the quantile
// of the spread. It goes from Mild to Worst with u and never back. u outside 0
// to 1 is taken as the nearer end, and one that is no number as a half.
func (s Size) At(u float64) float64 {
	if math.IsNaN(u) {
		u = 0.5
	}
	u = min(max(u, 0), 1)
	switch s.Spread {
	case LogUniform:
		return s.Mild * math.Pow(s.Worst/s.Mild, u)
	case Normal:
		v := units.Value{X: (s.Mild + s.Worst) / 2, PM: math.Abs(s.Worst-s.Mild) / 2, Shape: units.Normal}
		if s.Worst < s.Mild {
			u = 1 - u
		}
		return v.Sample(u)
	case EitherSide:
		if u < 0.5 {
			return s.Mild
		}
		return s.Worst
	}
	return s.Mild + (s.Worst-s.Mild)*u
}

// String is the size in words: "1 Ω to 5 Ω, low ones commoner".
func (s Size) String() string {
	lo, hi := min(s.Mild, s.Worst), max(s.Mild, s.Worst)
	text := units.Format(s.Kind, lo, units.Metric) + " to " + units.Format(s.Kind, hi, units.Metric)
	switch s.Spread {
	case LogUniform:
		if s.Mild > s.Worst {
			return text + " (each halving alike likely)"
		}
		return text + " (each doubling alike likely)"
	case Normal:
		return text + " (95 % of them)"
	case EitherSide:
		return "either way"
	}
	return text
}

func ohms(mild, worst float64) Size { return Size{units.Resistance, LogUniform, mild, worst} }
func factor(mild, worst float64) Size {
	return Size{units.Ratio, Uniform, mild, worst}
}
func metres(mild, worst float64) Size { return Size{units.Length, Uniform, mild, worst} }
func crank(mild, worst float64) Size  { return Size{units.CrankAngle, Uniform, mild, worst} }
func degrees(mild, worst float64) Size {
	return Size{units.DistributorAngle, Uniform, mild, worst}
}
func volts(mild, worst float64) Size { return Size{units.Voltage, Uniform, mild, worst} }

// side is the sign of a change that goes either way.
func side() Size { return Size{units.Ratio, EitherSide, -1, 1} }
