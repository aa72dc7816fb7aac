package firing

import "math"

// Points are breaker contacts driven by a cam of one lobe a cylinder. Over
// the part of a lobe in which they are open the lift is taken as a parabola
//
//	x = Gap (1 - (θ/θh)²),   θh = half of (360/N - Dwell)
//
// the least jerky way from shut to shut through the gap; a real cam has ramps
// at its ends, and parts the contacts somewhat more slowly.
type Points struct {
	Cylinders int
	DwellDeg  float64 // distributor degrees closed
	GapM      float64 // m at full lift
	SpringN   float64 // N of the breaker spring at the contacts
	MassKg    float64 // kg of the arm, as felt at the contacts
}

// ArmKg is the mass of a usual breaker arm as felt at its contacts, kg
// [from memory; with a spring of 5.3 N it puts the float of a V8's points at
// about 5,000 rpm, where the trade has it].
const ArmKg = 1.5e-3

func (p *Points) half() float64 {
	return max(360/float64(max(p.Cylinders, 1))-p.DwellDeg, 0) / 2 * math.Pi / 180
}

// turning is the distributor's speed in rad/s.
func turning(engineRPM float64) float64 { return max(engineRPM, 0) / 2 * 2 * math.Pi / 60 }

// PartingMPS is the speed at which the contacts part, m/s: the slope of the
// lift where it begins, 2 Gap/θh times the distributor's speed.
func (p *Points) PartingMPS(rpm float64) float64 {
	h := p.half()
	if h == 0 {
		return 0
	}
	return 2 * p.GapM / h * turning(rpm)
}

// FloatRPM is the engine speed above which the spring can no longer hold the
// arm on the cam: SpringN = MassKg 2 Gap ω²/θh². +Inf where nothing moves.
func (p *Points) FloatRPM() float64 {
	if !(p.MassKg > 0 && p.GapM > 0) {
		return math.Inf(1)
	}
	w := p.half() * math.Sqrt(max(p.SpringN, 0)/(2*p.MassKg*p.GapM))
	return w / (2 * math.Pi) * 60 * 2
}

// DwellAt is the dwell left at an engine speed, distributor degrees. Above
// the float the arm leaves the lobe with the speed it was given and comes
// back under the spring alone: the open angle grows by (rpm/float)². Bounce
// on landing takes more; that is not counted.
func (p *Points) DwellAt(rpm float64) float64 {
	lobe := 360 / float64(max(p.Cylinders, 1))
	f := p.FloatRPM()
	if !(rpm > f) {
		return p.DwellDeg
	}
	open := (lobe - p.DwellDeg) * (rpm / f) * (rpm / f)
	return max(lobe-open, 0)
}
