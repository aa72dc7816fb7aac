package pulse

import "math"

// MostRise is the largest share of its 10 % to 10 % duration that a double
// exponential can take to rise from 10 to 90 %: that of t exp(-t), its limit
// when both time constants are equal, less a hair, so that it can be solved.
const MostRise = 0.1174

// leastRise is the smallest share of its duration a pulse may take to rise.
const leastRise = 1e-6

// Wave is the double exponential
//
//	v(t) = ScaleV (exp(-t/FallTauS) - exp(-t/RiseTauS)),  t >= 0
//
// in V from what the line stands at, open circuit.
type Wave struct {
	PeakV    float64 `json:"peak_v"`
	ScaleV   float64 `json:"scale_v"`
	RiseTauS float64 `json:"rise_tau_s"`
	FallTauS float64 `json:"fall_tau_s"`
}

// At returns the voltage at time t, in s from the pulse's start; 0 before it.
func (w Wave) At(t float64) float64 {
	if !(t > 0) {
		return 0
	}
	// exp(-t/f) - exp(-t/r) = -exp(-t/f) expm1(t/f - t/r): no digits cancel.
	return -w.ScaleV * math.Exp(-t/w.FallTauS) * math.Expm1(t/w.FallTauS-t/w.RiseTauS)
}

// PeakAt returns when the peak is reached, in s.
func (w Wave) PeakAt() float64 {
	return w.FallTauS * peakTime(w.RiseTauS/w.FallTauS)
}

// Crossings returns when the waveform passes the given share of its peak,
// 0 < share < 1, on its way up and on its way down, in s.
func (w Wave) Crossings(share float64) (up, down float64) {
	r := w.RiseTauS / w.FallTauS
	up, down = crossings(r, share)
	return up * w.FallTauS, down * w.FallTauS
}

// EnergyJ returns what the pulse alone puts into a matched load, a resistor
// equal to its source resistance, from nothing: ∫ v²/(4 ohm) dt, in J.
func (w Wave) EnergyJ(ohm float64) float64 {
	f, r := w.FallTauS, w.RiseTauS
	return w.ScaleV * w.ScaleV / (4 * ohm) * (f/2 + r/2 - 2*f*r/(f+r))
}

// Wave solves the two time constants so that the rise from 10 to 90 % and the
// duration from 10 % to 10 % are those of the pulse, to nine digits.
func (p Pulse) Wave() (Wave, error) {
	if err := p.Validate(); err != nil {
		return Wave{}, err
	}
	// With the fall's time constant as the unit of time the shape has one
	// figure, r = RiseTau/FallTau, and rise/duration grows with it.
	want := p.RiseS / p.DurationS
	lo, hi := math.Log(1e-9), math.Log(0.9999)
	for range 60 {
		mid := (lo + hi) / 2
		if rise, dur := shape(math.Exp(mid)); rise < want*dur {
			lo = mid
		} else {
			hi = mid
		}
		if hi-lo < 1e-13 {
			break
		}
	}
	r := math.Exp((lo + hi) / 2)
	_, dur := shape(r)
	f := p.DurationS / dur
	return Wave{PeakV: p.PeakV, ScaleV: p.PeakV / unit(r, peakTime(r)), RiseTauS: r * f, FallTauS: f}, nil
}

// unit is exp(-t) - exp(-t/r).
func unit(r, t float64) float64 { return -math.Exp(-t) * math.Expm1(t-t/r) }

// peakTime is where unit is greatest: ln(1/r)/(1/r - 1).
func peakTime(r float64) float64 { return -math.Log(r) / (1/r - 1) }

// shape returns the 10 to 90 % rise and the 10 to 10 % duration of unit.
func shape(r float64) (rise, dur float64) {
	up10, down10 := crossings(r, 0.1)
	up90, _ := crossings(r, 0.9)
	return up90 - up10, down10 - up10
}

// crossings finds where unit passes a share of its peak, on either side of it.
func crossings(r, share float64) (up, down float64) {
	tp := peakTime(r)
	level := share * unit(r, tp)
	up = between(r, level, 0, tp)
	// Past the peak it falls no faster than exp(-t), and no later than that
	// from the height it would have had at 0.
	down = between(r, level, -math.Log(level)+1e-12, tp)
	return up, down
}

// between finds where unit is level, given a time where it is below and one
// where it is above, by Newton's method kept between the two.
func between(r, level, below, above float64) float64 {
	t := (below + above) / 2
	for range 200 {
		v := unit(r, t) - level
		if v < 0 {
			below = t
		} else {
			above = t
		}
		slope := math.Exp(-t/r)/r - math.Exp(-t)
		next := t - v/slope
		if lo, hi := math.Min(below, above), math.Max(below, above); !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-t) <= 1e-15*t {
			return next
		}
		t = next
	}
	return t
}
