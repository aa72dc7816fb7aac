package distributor

import "errors"

// What can be wrong with a distributor, a wish, heights or breaker sets. Every
// error of this package is an [*Error] that wraps one of these.
var (
	ErrNumber        = errors.New("not a usable number")
	ErrRotation      = errors.New("direction of rotation not given")
	ErrCount         = errors.New("counts do not match")
	ErrRising        = errors.New("angles not rising")
	ErrPermutation   = errors.New("cylinders not named once each")
	ErrTowersOverlap = errors.New("cap contacts overlap")
	ErrRotorTooLong  = errors.New("rotor too long for the cap")
	ErrNoRoom        = errors.New("no room")
	ErrArc           = errors.New("arc is none")
	ErrFouled        = errors.New("housing stands in an obstacle")
	ErrPlate         = errors.New("plate does not advance")
	ErrRange         = errors.New("range does not hold the present place")
	ErrWish          = errors.New("wish cannot be")
	ErrHeights       = errors.New("heights cannot be")
	ErrEngagement    = errors.New("rotor not far enough on the shaft")
	ErrRoof          = errors.New("rotor strikes the cap")
	ErrBrush         = errors.New("carbon brush out of its travel")
	ErrContacts      = errors.New("tip misses the cap contacts in height")
	ErrBreakers      = errors.New("breaker set cannot be")
	ErrNeverOpen     = errors.New("the sets are never open together")
	ErrOpenTwice     = errors.New("the sets open together more than once per lobe")
)

// Error says what is wrong, where, and what would be accepted. errors.Is finds
// the sentinel it wraps.
type Error struct {
	Field  string // the field: "Towers[3]"
	What   string // what is wrong with it
	Accept string // what would be accepted
	Err    error  // one of the sentinels
}

func (e *Error) Error() string {
	return "distributor: " + e.Field + ": " + e.What + ": " + e.Accept + " is wanted"
}

func (e *Error) Unwrap() error { return e.Err }
