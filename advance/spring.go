package advance

import (
	"math"
	"strconv"
)

func itoa(n int) string { return strconv.Itoa(n) }

// PinOn says what carries a spring's moving end.
type PinOn uint8

// The moving end sits on a weight and circles its pivot, or on the cam plate
// and circles the axis.
const (
	OnWeight PinOn = iota
	OnCam
)

// Spring is one spring between a post fixed on the plate that turns with the
// shaft and a pin that moves.
//
// The pin circles a centre (the weight's pivot, or the axis) at radius R, the
// post stands at distance D from that centre, and b is the angle between the
// two seen from the centre. Then, exactly,
//
//	length    L = sqrt(D^2 + R^2 - 2 D R cos b)
//	lever     dL/db = D R sin b / L
//	pull      0 while L - L(rest) <= SlackM, then PreloadN + RateNPerM (L - L(rest) - SlackM)
//
// With PostM zero the post counts as far away: the spring stays square to its
// lever, L grows by R times the angle.
type Spring struct {
	RateNPerM  float64
	PreloadN   float64 // pull at the moment it takes up: at rest where SlackM is 0
	SlackM     float64 // growth of L before it takes up: a loop longer than its post
	PinOn      PinOn
	PinRadiusM float64 // R: centre to pin
	PostM      float64 // D: centre to post; 0: far away
	RestRad    float64 // angle b at rest, 0 to pi; it grows as the advance grows. Not used where PostM is 0
}

// Validate checks the figures of spring number i.
func (s Spring) validate(i int) error {
	at := "Springs[" + itoa(i) + "]."
	if s.PinOn > OnCam {
		return &Error{at + "PinOn", "is " + itoa(int(s.PinOn)), "OnWeight or OnCam", ErrFigure}
	}
	err := first(
		within(at+"RateNPerM", s.RateNPerM, 1e-3, 1e6, " N/m"),
		within(at+"PreloadN", s.PreloadN, 0, 1e4, " N"),
		within(at+"SlackM", s.SlackM, 0, 1, " m"),
		within(at+"PinRadiusM", s.PinRadiusM, 1e-4, 1, " m"),
	)
	if err != nil || s.PostM == 0 {
		return err
	}
	return first(
		within(at+"PostM", s.PostM, 1e-4, 100, " m, or 0 for a post far away"),
		within(at+"RestRad", s.RestRad, 0.01, math.Pi, " rad"),
	)
}

// lengthM is L with the pin turned by theta about its centre.
func (s Spring) lengthM(theta float64) float64 {
	if s.PostM == 0 {
		return s.PinRadiusM * theta
	}
	d, r := s.PostM, s.PinRadiusM
	// (D-R)^2 + 4DR sin^2(b/2) keeps its digits where D and R are alike.
	h := math.Sin((s.RestRad + theta) / 2)
	return math.Sqrt((d-r)*(d-r) + 4*d*r*h*h)
}

// leverM is dL/dtheta.
func (s Spring) leverM(theta float64) float64 {
	if s.PostM == 0 {
		return s.PinRadiusM
	}
	return s.PostM * s.PinRadiusM * math.Sin(s.RestRad+theta) / s.lengthM(theta)
}

// LengthM is the distance from post to pin at rest, 0 where the post counts as
// far away.
func (s Spring) LengthM() float64 { return s.lengthM(0) }

// WithFree is the spring with preload and slack from its own free length
// between the insides of its loops: shorter than the distance from post to pin
// at rest and it is stretched from the start, longer and it has slack.
// initialN is what it takes to part its coils (0 where they do not touch).
// The place of the post must be known.
func (s Spring) WithFree(freeM, initialN float64) (Spring, error) {
	if s.PostM == 0 {
		return s, &Error{"PostM", "is 0", "the distance from the pin's centre to the post, to know the length at rest", ErrSpring}
	}
	if err := first(s.validate(0), within("free length", freeM, 1e-4, 1, " m"), within("initial pull", initialN, 0, 1e4, " N")); err != nil {
		return s, err
	}
	if long := s.LengthM() - freeM; long >= 0 {
		s.PreloadN, s.SlackM = initialN+s.RateNPerM*long, 0
	} else {
		s.PreloadN, s.SlackM = initialN, -long
	}
	return s, nil
}
