package wire

import (
	"errors"
	"fmt"
)

// Errors a caller can tell apart with errors.Is; errors.As gives the figures.
var (
	ErrInput   = errors.New("impossible figure")
	ErrNoGauge = errors.New("no gauge is thick enough")
	ErrNoFuse  = errors.New("no standard fuse fits")
)

// InputError is a figure that cannot be.
type InputError struct {
	What string  // which figure
	Got  float64 // its value
	Want string  // what would be accepted
}

func (e *InputError) Error() string { return fmt.Sprintf("%s %g: %s", e.What, e.Got, e.Want) }

// Is reports true for ErrInput.
func (e *InputError) Is(target error) bool { return target == ErrInput }

// NoGaugeError says what the thickest gauge would do where none satisfies.
type NoGaugeError struct {
	AWG          int     // thickest gauge tried
	DropV, TempC float64 // what it would drop and how hot its copper would be
	MaxDropV     float64 // what was asked for
	LimitC       float64
}

func (e *NoGaugeError) Error() string {
	return fmt.Sprintf("even %s gauge drops %.3g V of the %.3g V allowed and reaches %.0f °C of %.0f °C; a shorter run, a smaller current or two wires side by side are wanted",
		gaugeName(e.AWG), e.DropV, e.MaxDropV, e.TempC, e.LimitC)
}

// Is reports true for ErrNoGauge.
func (e *NoGaugeError) Is(target error) bool { return target == ErrNoGauge }

// NoFuseError says why no fuse fits: RatingA is the smallest standard rating
// that carries the load for good, 0 where there is none so large.
type NoFuseError struct {
	NeedA    float64 // continuous current times the margin
	RatingA  float64
	CarriesA float64 // what the wire carries
}

func (e *NoFuseError) Error() string {
	if e.RatingA == 0 {
		return fmt.Sprintf("a fuse of at least %.3g A is needed and standard ones end at %g A; the load is to be split over several fuses", e.NeedA, fuseRatings[len(fuseRatings)-1])
	}
	return fmt.Sprintf("the load needs a fuse of %g A, which would not protect a wire that carries %.3g A; a thicker wire is wanted", e.RatingA, e.CarriesA)
}

// Is reports true for ErrNoFuse.
func (e *NoFuseError) Is(target error) bool { return target == ErrNoFuse }
