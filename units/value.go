package units

import "math"

// Shape says what a [Value]'s half-width means.
type Shape uint8

const (
	Exact     Shape = iota // PM is 0
	Normal                 // 95 % lie within X ± PM: PM is 1.96 standard deviations
	Uniform                // all lie within X ± PM, every place alike
	LogNormal              // 95 % lie between X/f and X·f, with f = 1 + PM/X; X is the median and above 0
)

// Value is a figure with its uncertainty, in the unit of its [Kind]. The zero
// Value is exactly nothing.
type Value struct {
	X     float64 // centre; the median if LogNormal
	PM    float64 // half-width upwards, 0 or more
	Shape Shape
}

const (
	// z95 is the 97.5 % point of the normal distribution.
	z95 = 1.959963984540054
	// cut is where Sample cuts the normal distribution off, in standard
	// deviations.
	cut = 3
)

// factor gives f of a LogNormal value; 1, no spread, if X is not above 0.
func (v Value) factor() float64 {
	if v.X > 0 {
		return 1 + v.PM/v.X
	}
	return 1
}

// Lo is the lower end of what the value may be: X − PM, or X/f if LogNormal.
// For Normal and LogNormal 2.5 % lie below it.
func (v Value) Lo() float64 {
	switch v.Shape {
	case Normal, Uniform:
		return v.X - v.PM
	case LogNormal:
		return v.X / v.factor()
	}
	return v.X
}

// Hi is the upper end of what the value may be: X + PM, or X·f if LogNormal.
// For Normal and LogNormal 2.5 % lie above it.
func (v Value) Hi() float64 {
	switch v.Shape {
	case Normal, Uniform:
		return v.X + v.PM
	case LogNormal:
		return v.X * v.factor()
	}
	return v.X
}

// Sigma is the standard deviation: PM/1.96 if Normal, PM/√3 if Uniform. If
// LogNormal, with s = ln f/1.96, it is X exp(s²/2) sqrt(exp(s²) − 1). The cut
// that [Value.Sample] makes at three standard deviations, which takes 1.3 %
// off the Normal one, is left out.
func (v Value) Sigma() float64 {
	switch v.Shape {
	case Normal:
		return v.PM / z95
	case Uniform:
		return v.PM / math.Sqrt(3)
	case LogNormal:
		s := math.Log(v.factor()) / z95
		return v.X * math.Exp(s*s/2) * math.Sqrt(math.Expm1(s*s))
	}
	return 0
}

// Sample turns u, uniform between 0 and 1, into one possible figure: the place
// below which the part u of all figures lies (inverse of the distribution).
// Normal and LogNormal are cut at three standard deviations either side, so
// that no draw is absurd. u outside 0 to 1 is taken as the nearer end, and a u
// that is not a number as 0.5.
func (v Value) Sample(u float64) float64 {
	if math.IsNaN(u) {
		u = 0.5
	}
	u = min(max(u, 0), 1)
	switch v.Shape {
	case Normal:
		return v.X + v.PM/z95*cutNormal(u)
	case Uniform:
		return v.X + v.PM*(2*u-1)
	case LogNormal:
		return v.X * math.Exp(math.Log(v.factor())/z95*cutNormal(u))
	}
	return v.X
}

// withinCut is the part of a normal distribution that lies within ± cut.
var withinCut = math.Erf(cut / math.Sqrt2)

// cutNormal is the inverse of the standard normal distribution cut off at
// ± cut: with F the error function of z/√2, F = (2u−1) F(cut).
func cutNormal(u float64) float64 {
	f := (2*u - 1) * withinCut
	return min(max(math.Sqrt2*math.Erfinv(f), -cut), cut)
}
