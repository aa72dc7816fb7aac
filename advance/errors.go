package advance

import (
	"errors"
	"fmt"
	"math"
)

// Errors a caller can tell apart with errors.Is; errors.As with *Error gives
// the field and what would be accepted.
var (
	ErrFigure = errors.New("impossible figure")
	ErrCount  = errors.New("wrong number of pieces")
	ErrReach  = errors.New("weight swings past where it can pull")
	ErrRatio  = errors.New("advance turns back before the stop")
	ErrSpring = errors.New("spring cannot lie so")
	ErrMarks  = errors.New("no springs give this curve")
	ErrPoints = errors.New("readings cannot be used")
	ErrKit    = errors.New("kit cannot be used")
)

// Error is a figure that cannot be used.
type Error struct {
	Field  string // which one: "Springs[1].RateNPerM"
	What   string // what is wrong with it: "is -3"
	Accept string // what would be accepted: "0.001 to 1000000 N/m"
	Kind   error  // one of the errors above
}

// Error says which figure, what is wrong, and what would be accepted.
func (e *Error) Error() string {
	return fmt.Sprintf("%s %s; accepted: %s", e.Field, e.What, e.Accept)
}

// Unwrap gives the kind, so that errors.Is finds it.
func (e *Error) Unwrap() error { return e.Kind }

// within is an *Error where x lies outside lo to hi or is not a number.
func within(field string, x, lo, hi float64, unit string) error {
	if lo <= x && x <= hi {
		return nil
	}
	return &Error{field, fmt.Sprintf("is %g", x), fmt.Sprintf("%g to %g%s", lo, hi, unit), ErrFigure}
}

// first is the first error that is not nil.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func degrees(rad float64) float64 { return rad * 180 / math.Pi }
func radians(deg float64) float64 { return deg * math.Pi / 180 }

// speedSquared is w^2 in (rad/s)^2 of a speed in turns a minute.
func speedSquared(rpm float64) float64 {
	w := rpm * math.Pi / 30
	return w * w
}
