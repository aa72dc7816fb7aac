package advance

import (
	"fmt"
	"math"
)

// Mechanism is a centrifugal advance: weights, springs, the cam or linkage
// that makes advance of their swing, and the stop. All angles of advance are
// distributor degrees, all speeds in its methods distributor rpm.
//
// Advance of a swing of p degrees: Ratio p + Bend p^2, up to StopDeg.
type Mechanism struct {
	Weights    Weights
	Springs    []Spring
	Ratio      float64 // distributor degrees of advance for a degree of weight
	Bend       float64 // 1/deg; 0: the ratio stays the same
	StopDeg    float64 // distributor degrees
	FrictionNm float64 // dry friction of everything that rubs, felt at the weights' pivots; taken as the same at all speeds
}

// Validate checks the figures and that the weights can swing as far as the
// stop: errors are *Error.
func (m Mechanism) Validate() error {
	if err := m.Weights.Validate(); err != nil {
		return err
	}
	if len(m.Springs) > 6 {
		return &Error{"Springs", "are " + itoa(len(m.Springs)), "0 to 6 springs", ErrCount}
	}
	for i, s := range m.Springs {
		if err := s.validate(i); err != nil {
			return err
		}
	}
	if err := first(
		within("Ratio", m.Ratio, 1e-2, 100, ""),
		within("Bend", m.Bend, -10, 10, " per degree"),
		within("StopDeg", m.StopDeg, 0.1, 90, " distributor degrees"),
		within("FrictionNm", m.FrictionNm, 0, 100, " N m"),
	); err != nil {
		return err
	}
	if limit := m.bendLimit(); m.StopDeg > limit {
		return &Error{"Bend", fmt.Sprintf("is %g, which turns the advance back at %.3g of %.3g degrees", m.Bend, limit, m.StopDeg),
			fmt.Sprintf("more than %.3g per degree, or a nearer stop", -m.Ratio*m.Ratio/(4*m.StopDeg)), ErrRatio}
	}
	psi := m.swing(m.StopDeg)
	if g := m.Weights.RestRad + psi; !(g <= mostSwingRad) {
		return &Error{"StopDeg", fmt.Sprintf("of %.3g asks for a swing of %.3g degrees, past straight out", m.StopDeg, degrees(psi)),
			fmt.Sprintf("a stop at up to %.3g degrees with these weights and ratio", m.advance(mostSwingRad-m.Weights.RestRad)), ErrReach}
	}
	for i, s := range m.Springs {
		if s.PostM != 0 && s.RestRad+m.turn(s, psi) > math.Pi {
			return &Error{"Springs[" + itoa(i) + "].RestRad", "lets the spring pass over its centre before the stop",
				fmt.Sprintf("less than %.3g rad", math.Pi-m.turn(s, psi)), ErrSpring}
		}
	}
	return nil
}

// bendLimit is the advance (deg) short of where a negative Bend would turn it
// back.
func (m Mechanism) bendLimit() float64 {
	if m.Bend >= 0 {
		return math.Inf(1)
	}
	return 0.98 * m.Ratio * m.Ratio / (-4 * m.Bend)
}

// swing is the weights' swing (rad) at an advance (deg).
func (m Mechanism) swing(deg float64) float64 {
	return radians(2 * deg / (m.Ratio + math.Sqrt(max(0, m.Ratio*m.Ratio+4*m.Bend*deg))))
}

// advance is the advance (deg) at a swing (rad).
func (m Mechanism) advance(psi float64) float64 {
	p := degrees(psi)
	return (m.Ratio + m.Bend*p) * p
}

// gain is d(advance)/d(swing), deg/deg.
func (m Mechanism) gain(psi float64) float64 { return m.Ratio + 2*m.Bend*degrees(psi) }

// turn is how far (rad) the pin of s has turned about its centre at a swing.
func (m Mechanism) turn(s Spring, psi float64) float64 {
	if s.PinOn == OnCam {
		return radians(m.advance(psi))
	}
	return psi
}

// stretch is how much (m) L of spring s has grown from rest, and by how much
// (m/rad) it grows for a radian of swing.
func (m Mechanism) stretch(s Spring, psi float64) (extM, leverM float64) {
	th := m.turn(s, psi)
	lever := s.leverM(th)
	if s.PinOn == OnCam {
		lever *= m.gain(psi)
	}
	if s.PostM == 0 {
		return s.PinRadiusM * th, lever
	}
	return s.lengthM(th) - s.lengthM(0), lever
}

// SlackFor is the slack (m) that lets spring number i take up at an advance of
// deg distributor degrees: for a person who sees where it takes up and has no
// use for millimetres of loop. It is 0 where there is no such spring.
func (m Mechanism) SlackFor(i int, deg float64) float64 {
	if i < 0 || i >= len(m.Springs) {
		return 0
	}
	ext, _ := m.stretch(m.Springs[i], m.swing(deg))
	return max(0, ext)
}

// TakesUpDeg is the advance (distributor degrees) at which spring number i
// takes up: 0 without slack, +Inf where it never does before the stop.
func (m Mechanism) TakesUpDeg(i int) float64 {
	if i < 0 || i >= len(m.Springs) {
		return math.Inf(1)
	}
	psi, ok := m.takesUp(m.Springs[i], m.swing(m.StopDeg))
	if !ok {
		return math.Inf(1)
	}
	return m.advance(psi)
}

// takesUp is the swing (rad) at which s takes up, if it does before end.
func (m Mechanism) takesUp(s Spring, end float64) (psi float64, ok bool) {
	if s.SlackM == 0 {
		return 0, true
	}
	if ext, _ := m.stretch(s, end); !(ext > s.SlackM) {
		return end, false
	}
	lo, hi := 0.0, end
	for range 60 {
		mid := (lo + hi) / 2
		if ext, _ := m.stretch(s, mid); ext > s.SlackM {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}
