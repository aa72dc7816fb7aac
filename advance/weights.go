package advance

import "math"

// Weights are the flyweights, all alike and linked through the cam, so that
// one angle tells where all of them stand.
//
// Each turns about a pivot fixed to the plate that the shaft drives. With the
// axis at the origin and the pivot at distance a from it, the centre of
// gravity at distance b from the pivot, and g the angle between the line from
// pivot to axis and the line from pivot to centre of gravity, the centre of
// gravity is at radius r with r^2 = a^2 + b^2 - 2ab cos g. In the turning frame
// the centrifugal field has the potential -m w^2 r^2/2, so the torque about the
// pivot that opens one weight is exactly
//
//	m w^2 a b sin g        (N m)
//
// The weight's own moment of inertia drops out: it does not depend on g.
type Weights struct {
	MassKg       float64 // of one weight
	PivotRadiusM float64 // axis to pivot
	ArmM         float64 // pivot to centre of gravity
	RestRad      float64 // angle g at rest, 0 to pi; the weight opens towards larger g
	Count        int     // how many weights
}

// Validate checks the figures; limits lie far outside any distributor.
func (w Weights) Validate() error {
	if w.Count < 1 || w.Count > 8 {
		return &Error{"Weights.Count", "is " + itoa(w.Count), "1 to 8 weights", ErrCount}
	}
	return first(
		within("Weights.MassKg", w.MassKg, 1e-4, 5, " kg"),
		within("Weights.PivotRadiusM", w.PivotRadiusM, 1e-3, 1, " m"),
		within("Weights.ArmM", w.ArmM, 1e-4, 1, " m"),
		within("Weights.RestRad", w.RestRad, 0.01, mostSwingRad, " rad"),
	)
}

// mostSwingRad is the largest angle g allowed: a little before the weight
// points straight out and the field can open it no further.
const mostSwingRad = 3.0

// pull is the opening torque of all weights together, divided by w^2 (kg m^2),
// with the weights swung psi from rest.
func (w Weights) pull(psi float64) float64 {
	return float64(w.Count) * w.MassKg * w.PivotRadiusM * w.ArmM * math.Sin(w.RestRad+psi)
}

// TorqueNm is the opening torque of all weights together at a distributor
// speed (rpm), swung by swingRad from rest.
func (w Weights) TorqueNm(distRPM, swingRad float64) float64 {
	return speedSquared(distRPM) * w.pull(swingRad)
}

// RadiusM is how far the centre of gravity stands from the axis when the
// weight has swung by swingRad from rest.
func (w Weights) RadiusM(swingRad float64) float64 {
	a, b := w.PivotRadiusM, w.ArmM
	return math.Sqrt(max(0, a*a+b*b-2*a*b*math.Cos(w.RestRad+swingRad)))
}
