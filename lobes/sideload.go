package lobes

import (
	"fmt"
	"math"
)

// Play is the side play of the shaft from two runs, pushed one way and the
// other. Distributor degrees, right less left: positive fires later with the
// shaft pushed to the right.
type Play struct {
	Angle   Fig
	PerLobe []Fig // the same for each lobe: unequal where shaft or cam is bent
	// PlayM is how far the centre moved, metres, from end to end: the angle
	// times the radius at which the trigger switches.
	PlayM Fig
	// CrankDeg is the timing between the two ends, crank degrees at the plug.
	CrankDeg Fig
}

// SideLoad takes the side play from a run with the shaft pushed to the left
// and one with it pushed to the right, looking from the shaft to the rubbing
// block or sensor: at right angles to that line. Wheel, pointer and their
// zero must stay as they are between the two. radiusM is the radius of the cam
// or ring where it switches.
//
// A centre that moves by x along the tangent brings the switching edge x/r
// earlier or later, r the radius: 0.1 mm on 10 mm is 0.57 distributor degrees.
// A push that is off the tangent by an angle q shows cos q of it. The shaft
// moves the wheel too, against a pointer at radius P: with the pointer on the
// trigger's side the figure is short by r/P of itself, on the other side that
// much over. Keep P large, or the pointer a quarter turn away.
func SideLoad(left, right Run, ideal []float64, accuracy, radiusM float64) (Play, error) {
	if !(radiusM >= 1e-3 && radiusM <= 0.2) {
		return Play{}, &Error{"radiusM", fmt.Sprintf("%g m", radiusM), "0.001 to 0.2 m", ErrRadius}
	}
	a, b, err := pair(left, right, ideal, accuracy)
	if err != nil {
		return Play{}, err
	}
	t := student(0.975, min(a.nu, b.nu))
	moved := wrap(b.late.ref - a.late.ref)
	between := func(w []float64) Fig {
		return around(wrap(moved+dot(w, b.m)-dot(w, a.m)), t*math.Hypot(a.se(w), b.se(w)))
	}
	var p Play
	p.Angle = between(a.centre())
	for j := range ideal {
		w := make([]float64, len(ideal))
		w[j] = 1
		p.PerLobe = append(p.PerLobe, between(w))
	}
	p.PlayM = p.Angle.magnitude().times(radiusM * math.Pi / 180)
	p.CrankDeg = p.Angle.magnitude().times(crank)
	return p, nil
}

// pair fits two runs on the same wheel.
func pair(first, second Run, ideal []float64, accuracy float64) (a, b fit, err error) {
	if a, err = fitRun(first, ideal, accuracy); err != nil {
		return a, b, err
	}
	if b, err = fitRun(second, ideal, accuracy); err != nil {
		return a, b, err
	}
	if a.late.sign != b.late.sign {
		err = &Error{"second run", "the wheel reads the other way round", "both runs turned the same way, on the same wheel", ErrOrder}
	}
	return a, b, err
}
