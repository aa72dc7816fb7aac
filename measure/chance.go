package measure

import "math"

// below is the chance that a figure spread normally round 0 with a standard
// deviation of 1 is below z: Φ(z) = erfc(-z/√2)/2.
func below(z float64) float64 {
	if math.IsNaN(z) {
		return z
	}
	return 0.5 * math.Erfc(-z/math.Sqrt2)
}

// over is the chance that something that comes to x is over a limit that is
// known to ± sd (one standard deviation).
func over(x, limit, sd float64) float64 { return below((x - limit) / sd) }

// under is the chance that it is under the limit.
func under(x, limit, sd float64) float64 { return below((limit - x) / sd) }

// either is the chance that at least one of independent things is so.
func either(p ...float64) float64 {
	none := 1.0
	for _, x := range p {
		none *= 1 - x
	}
	return 1 - none
}

// told is what is reported of something that is so with chance p: people
// leave out some of what is so, and report some of what is not. Both shares
// are estimates.
func told(p, whenSo, whenNot float64) float64 { return whenNot + (whenSo-whenNot)*p }
