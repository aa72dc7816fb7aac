package lobes

import (
	"errors"
	"fmt"
	"math"
)

// What can be wrong; errors.Is tells them apart, errors.As with *Error gives
// the reading and what would be accepted.
var (
	ErrIdeal    = errors.New("impossible lobe angles")
	ErrAccuracy = errors.New("impossible reading accuracy")
	ErrTurns    = errors.New("too few turns")
	ErrLobes    = errors.New("turns and lobes do not match")
	ErrMissing  = errors.New("a firing is missing")
	ErrNumber   = errors.New("not a number")
	ErrOrder    = errors.New("angles are not in order")
	ErrRadius   = errors.New("impossible radius")
	ErrClamp    = errors.New("the wheel was not turned far enough")
)

// Error is a reading that cannot be used.
type Error struct {
	Field  string // which figure, as it is spelt in Go, counted from 0: "Turns[2][3]"
	What   string // what is wrong with it
	Accept string // what would be accepted
	Kind   error  // one of this package's sentinels
}

// Error says where, what and what would be accepted.
func (e *Error) Error() string {
	return fmt.Sprintf("%s: %s: %s; wanted: %s", e.Field, e.Kind, e.What, e.Accept)
}

// Unwrap gives the sentinel.
func (e *Error) Unwrap() error { return e.Kind }

// checkIdeal looks at the angles at which the lobes ought to fire.
func checkIdeal(ideal []float64) error {
	if len(ideal) < 1 || len(ideal) > mostLobes {
		return &Error{"ideal", fmt.Sprintf("%d lobes", len(ideal)), fmt.Sprintf("1 to %d", mostLobes), ErrIdeal}
	}
	if ideal[0] != 0 {
		return &Error{"ideal[0]", fmt.Sprintf("%g°", ideal[0]), "0: the others are counted from the first lobe", ErrIdeal}
	}
	for j := 1; j < len(ideal); j++ {
		if !(ideal[j]-ideal[j-1] >= leastInterval && ideal[j] <= 360-leastInterval) {
			return &Error{fmt.Sprintf("ideal[%d]", j), fmt.Sprintf("%g°", ideal[j]),
				fmt.Sprintf("at least %g° past the lobe before it, at most %g°", leastInterval, 360-leastInterval), ErrIdeal}
		}
	}
	return nil
}

// checkAccuracy looks at the reader's accuracy, degrees.
func checkAccuracy(a float64) error {
	if !(a >= 0 && a <= 45) {
		return &Error{"accuracy", fmt.Sprintf("%g°", a), "0 to 45 degrees, plus or minus", ErrAccuracy}
	}
	return nil
}

func finite(x float64) bool { return !math.IsNaN(x) && math.Abs(x) <= 1e9 }
