package advance

import (
	"fmt"
	"math"
)

// Parts are what callipers, scales and a protractor find on a bench.
type Parts struct {
	Count        int
	MassKg       float64 // one weight
	PivotRadiusM float64 // axis to pivot
	ArmM         float64 // pivot to centre of gravity (balance the weight on an edge)
	RestRadiusM  float64 // axis to centre of gravity, weights in
	SwingDeg     float64 // how far a weight swings, in to out
	StopDeg      float64 // how far the cam turns meanwhile, distributor degrees
	Springs      []PartsSpring
	FrictionNm   float64
}

// PartsSpring is one spring of Parts.
type PartsSpring struct {
	RateNPerM  float64
	FreeM      float64 // between the insides of its loops, off its posts
	InitialN   float64 // what it takes to part its coils; 0 where they do not touch
	PinOn      PinOn
	PinRadiusM float64 // moving pin to its centre: the weight's pivot, or the axis
	PostM      float64 // fixed post to the same centre
	HookedM    float64 // outside to outside of post and pin at rest: the length the loops must span
}

// FromParts is the mechanism these parts make. The angles follow from the
// three sides of the triangles centre, pivot or pin, and centre of gravity or
// post.
func FromParts(p Parts) (Mechanism, error) {
	if err := first(
		within("SwingDeg", p.SwingDeg, 0.1, 170, " degrees"),
		within("StopDeg", p.StopDeg, 0.1, 90, " distributor degrees"),
	); err != nil {
		return Mechanism{}, err
	}
	rest, err := corner("RestRadiusM", p.PivotRadiusM, p.ArmM, p.RestRadiusM)
	if err != nil {
		return Mechanism{}, err
	}
	m := Mechanism{
		Weights:    Weights{MassKg: p.MassKg, PivotRadiusM: p.PivotRadiusM, ArmM: p.ArmM, RestRad: rest, Count: p.Count},
		Ratio:      p.StopDeg / p.SwingDeg,
		StopDeg:    p.StopDeg,
		FrictionNm: p.FrictionNm,
	}
	for i, s := range p.Springs {
		at := "Springs[" + itoa(i) + "]"
		angle, err := corner(at+".HookedM", s.PinRadiusM, s.PostM, s.HookedM)
		if err != nil {
			return Mechanism{}, err
		}
		spring := Spring{RateNPerM: s.RateNPerM, PinOn: s.PinOn, PinRadiusM: s.PinRadiusM, PostM: s.PostM, RestRad: angle}
		if spring, err = spring.WithFree(s.FreeM, s.InitialN); err != nil {
			return Mechanism{}, fmt.Errorf("%s: %w", at, err)
		}
		m.Springs = append(m.Springs, spring)
	}
	return m, m.Validate()
}

// corner is the angle between the sides a and b of a triangle whose third side
// is c.
func corner(field string, a, b, c float64) (float64, error) {
	lo, hi := math.Abs(a-b), a+b
	if !(a > 0 && b > 0 && hi < 1e3 && lo < c && c < hi) {
		return 0, &Error{field, fmt.Sprintf("is %g m, which closes no triangle with %g and %g m", c, a, b),
			fmt.Sprintf("between %g and %g m", lo, hi), ErrFigure}
	}
	return math.Acos(min(max((a*a+b*b-c*c)/(2*a*b), -1), 1)), nil
}
