package heat

import "math"

const (
	boltzmannEV = 8.617333262e-5 // eV/K [CODATA 2018; exact in the SI since 2019]
	kelvin      = 273.15
)

// Acceleration returns how many times faster a process with the activation
// energy eaEV electron volts runs at hotC than at refC, both °C:
//
//	exp(Ea/k (1/Tref - 1/Thot))
//
// the Arrhenius law, as in JESD91 and MIL-HDBK-338 [from memory]. The activation energy is
// the whole of the answer and belongs beside every figure shown: 0.7 eV is a
// common assumption for silicon [from memory], 0.3 to 1.1 eV is the range of
// published mechanisms; solder, glue and seals do not follow it at all. A
// negative eaEV or a temperature at or below absolute zero is outside the
// model: NaN.
func Acceleration(eaEV, refC, hotC float64) float64 {
	ref, hot := refC+kelvin, hotC+kelvin
	if !(eaEV >= 0 && ref > 0 && hot > 0) {
		return math.NaN()
	}
	return math.Exp(eaEV / boltzmannEV * (1/ref - 1/hot))
}

// PiT returns the temperature factor of the failure rate of a low-frequency
// (below 200 MHz) bipolar transistor with its junction at junctionC:
//
//	pi_T = exp(-2114 (1/(Tj + 273) - 1/298))
//
// 1 at 25 °C, 4.2 at 100, 8.1 at 150 [MIL-HDBK-217F section 6.3, which
// tabulates 25 to 175 °C]. The exponent answers to 0.18 eV: far milder than
// the 0.7 eV of a wear-out mechanism. The handbook is of 1991 and compares; it
// does not foretell. At or below -273 °C: NaN.
func PiT(junctionC float64) float64 {
	if !(junctionC > -273) {
		return math.NaN()
	}
	return math.Exp(-2114 * (1/(junctionC+273) - 1.0/298))
}

// MeanAcceleration returns the mean over the run of [Acceleration] of a node
// against refC: how many hours at refC one hour of this run uses up. The
// integral is Gauss-Legendre's of eight points on stretches that double in
// length from the fastest time constant on, good to about 1e-6. NaN as in
// Acceleration, and for an empty history.
func (h *History) MeanAcceleration(node int, eaEV, refC float64) float64 {
	if !(h.Seconds > 0) {
		return math.NaN()
	}
	sum := 0.0
	for _, p := range h.pieces {
		if node < 0 || node >= len(p.base) {
			return math.NaN()
		}
		sum += p.integral(func(t float64) float64 { return Acceleration(eaEV, refC, p.at(node, t)) })
	}
	return sum / h.Seconds
}

// legendre are the points and weights of Gauss-Legendre quadrature of eight
// points on -1 to 1, the half that is positive [Abramowitz and Stegun, table
// 25.4].
var legendre = [...][2]float64{
	{0.1834346424956498, 0.3626837833783620},
	{0.5255324099163290, 0.3137066458778873},
	{0.7966664774136267, 0.2223810344533745},
	{0.9602898564975363, 0.1012285362903763},
}

// integral integrates f over the piece; f may be as quick as its fastest mode.
func (p *piece) integral(f func(t float64) float64) float64 {
	fastest := 1 / p.seconds
	for _, r := range p.modes.rate {
		fastest = max(fastest, math.Abs(r))
	}
	for _, l := range p.given {
		fastest = max(fastest, l.rate)
	}
	sum := 0.0
	for from, step := 0.0, 0.5/fastest; from < p.seconds; {
		to := min(from+step, p.seconds)
		mid, half := (from+to)/2, (to-from)/2
		for _, x := range legendre {
			sum += half * x[1] * (f(mid-half*x[0]) + f(mid+half*x[0]))
		}
		from, step = to, to/2
	}
	return sum
}
