package heat

import (
	"errors"
	"fmt"
)

// Errors a caller can tell apart with errors.Is; errors.As gives the figures.
var (
	ErrInput    = errors.New("impossible figure")       // see InputError
	ErrFloating = errors.New("floating node")           // see FloatingError
	ErrRunaway  = errors.New("no steady temperature")   // see RunawayError
	ErrNetwork  = errors.New("network is not sensible") // see NetworkError
)

// InputError is a figure that cannot be.
type InputError struct {
	Where string  // of what: `node "base"`, "module", `segment 2 "idle"`
	What  string  // which figure: "JPerK"
	Got   float64 // its value
	Want  string  // what would be accepted
}

// Error says where, what, and what would be accepted.
func (e *InputError) Error() string {
	return fmt.Sprintf("%s: %s %g: %s is wanted", e.Where, e.What, e.Got, e.Want)
}

// Is reports true for ErrInput.
func (e *InputError) Is(target error) bool { return target == ErrInput }

// FloatingError is a node that no path joins to a given temperature: its heat
// can't leave, so it has no steady temperature.
type FloatingError struct{ Node string }

// Error names the node.
func (e *FloatingError) Error() string {
	return fmt.Sprintf("node %q floats: a path from it to a given temperature is wanted", e.Node)
}

// Is reports true for ErrFloating.
func (e *FloatingError) Is(target error) bool { return target == ErrFloating }

// NetworkError is a network that can't be read: a name used twice, a path to
// a node that is not there, no node at all or too many.
type NetworkError struct{ Where, What string }

// Error says where and what.
func (e *NetworkError) Error() string { return e.Where + ": " + e.What }

// Is reports true for ErrNetwork.
func (e *NetworkError) Is(target error) bool { return target == ErrNetwork }

// RunawayError is heat that grows with temperature faster than it can leave.
type RunawayError struct {
	Node    string  // where the heat grows fastest with temperature
	WPerK   float64 // by how much
	Segment string  // in a run: name of the segment; else empty
	AfterS  float64 // in a run: seconds from its start until BeyondC was passed
}

// Error names the node and what would help.
func (e *RunawayError) Error() string {
	s := fmt.Sprintf("no steady temperature: the heat made in %q grows by %.3g W for each kelvin, faster than it can leave; less power or fewer K/W are wanted", e.Node, e.WPerK)
	if e.Segment != "" {
		s = fmt.Sprintf("in %q, past %g °C after %.4g s: ", e.Segment, BeyondC, e.AfterS) + s
	}
	return s
}

// Is reports true for ErrRunaway.
func (e *RunawayError) Is(target error) bool { return target == ErrRunaway }

// figure is one check of a Validate. ok is written so that NaN fails it.
type figure struct {
	name string
	got  float64
	ok   bool
	want string
}

// firstBad returns an InputError for the first figure that is not ok, or nil.
func firstBad(where string, figures ...figure) error {
	for _, f := range figures {
		if !f.ok {
			return &InputError{Where: where, What: f.name, Got: f.got, Want: f.want}
		}
	}
	return nil
}

func between(low, x, high float64) bool { return low <= x && x <= high }

// Limits of what is accepted. They lie far outside any car, and near enough
// for sixteen digits to do.
const (
	leastKPerW, mostKPerW = 1e-3, 1e5
	leastJPerK, mostJPerK = 1e-3, 1e6
	mostW                 = 1e5
	mostWPerK             = 1e4
	leastC                = -100.0
	mostSeconds           = 1e7
	leastLagS             = 1e-2
)

// BeyondC is the highest temperature accepted and the one at which a runaway
// is cut off, °C: copper and iron are long molten.
const BeyondC = 3000.0

func resistance(name string, x float64) figure {
	return figure{name, x, between(leastKPerW, x, mostKPerW), "0.001 to 100000 K/W"}
}

// touch is a resistance that 0 leaves out.
func touch(name string, x float64) figure {
	return figure{name, x, x == 0 || between(leastKPerW, x, mostKPerW), "0.001 to 100000 K/W, or 0 where nothing touches,"}
}

func capacity(name string, x float64) figure {
	return figure{name, x, x == 0 || between(leastJPerK, x, mostJPerK), "0.001 to 1000000 J/K, or 0 to follow at once,"}
}

func temperature(name string, x float64) figure {
	return figure{name, x, between(leastC, x, BeyondC), "-100 to 3000 °C"}
}

func lag(name string, x float64) figure {
	return figure{name, x, x == 0 || between(leastLagS, x, mostSeconds), "0.01 to 10000000 s, or 0 for at once,"}
}
