package magnet

import (
	"errors"
	"fmt"
	"math"
)

// What can be wrong; errors.Is tells them apart, errors.As with *Error gives
// the field and what would be accepted.
var (
	ErrRing          = errors.New("impossible ring of magnets")
	ErrSwitch        = errors.New("impossible hall switch")
	ErrPlace         = errors.New("impossible place of the sensor")
	ErrReluctor      = errors.New("impossible reluctor")
	ErrBase          = errors.New("impossible base of the trigger")
	ErrNeverFires    = errors.New("the field never reaches the operate point")
	ErrNeverReleases = errors.New("the field never falls to the release point")
	ErrOutOfReach    = errors.New("the base cannot bring the sensor there")
)

// Error is a figure that cannot be used, or a question without an answer.
type Error struct {
	Field  string // which figure, as it is spelt in Go: "Ring.Poles"
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

// figure is one check of a Validate. ok is written so that NaN fails it.
type figure struct {
	field  string
	got    float64
	ok     bool
	accept string
}

// check returns the first figure that fails, as an error of the kind.
func check(kind error, figures ...figure) error {
	for _, f := range figures {
		if !f.ok || math.IsInf(f.got, 0) {
			return &Error{Field: f.field, What: fmt.Sprintf("%g", f.got), Accept: f.accept, Kind: kind}
		}
	}
	return nil
}

// within says whether lo <= x <= hi; NaN is not.
func within(x, lo, hi float64) bool { return x >= lo && x <= hi }
