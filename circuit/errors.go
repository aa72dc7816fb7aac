package circuit

import (
	"errors"
	"fmt"
	"strings"
)

// Errors a caller can tell apart with errors.Is. Those returned carry where:
// see ElementError, FloatingError, LoopError, CutsetError and ChatterError.
var (
	ErrElement   = errors.New("impossible element")             // a figure out of range; see ElementError
	ErrFloating  = errors.New("floating node")                  // see FloatingError
	ErrLoop      = errors.New("loop of sources")                // see LoopError
	ErrCutset    = errors.New("current with nowhere to go")     // see CutsetError
	ErrChatter   = errors.New("switch without a resting state") // see ChatterError
	ErrNoConverg = errors.New("no solution found")              // the iteration did not come to rest
	ErrCycle     = errors.New("impossible cycle")               // a schedule that can't be followed, or a network that can't settle into it
	ErrEvents    = errors.New("too many switching events")      // devices or relays switch to and fro without end
)

// ElementError is an element that cannot be: a figure out of range, a node
// that is not there, a name used twice.
type ElementError struct{ Element, What string }

// Error names the element and what is wrong with it.
func (e *ElementError) Error() string { return fmt.Sprintf("%q: %s", e.Element, e.What) }

// Is reports true for ErrElement.
func (e *ElementError) Is(target error) bool { return target == ErrElement }

// FloatingError is a node whose voltage nothing decides.
type FloatingError struct{ Node string }

// Error names the node.
func (e *FloatingError) Error() string {
	return fmt.Sprintf("node %q floats: nothing that conducts joins it to ground", e.Node)
}

// Is reports true for ErrFloating.
func (e *FloatingError) Is(target error) bool { return target == ErrFloating }

// LoopError is a closed loop of elements that each insist on a voltage
// (sources; shorted inductors at DC; capacitors in a transient).
type LoopError struct{ Elements []string }

// Error names the elements of the loop.
func (e *LoopError) Error() string {
	return "loop of nothing but sources: " + strings.Join(quoted(e.Elements), ", ") + "; a resistance in the loop is wanted"
}

// Is reports true for ErrLoop.
func (e *LoopError) Is(target error) bool { return target == ErrLoop }

// CutsetError is a node where only elements meet that each insist on a
// current (current sources; inductors in a transient).
type CutsetError struct{ Node string }

// Error names the node.
func (e *CutsetError) Error() string {
	return fmt.Sprintf("node %q: the current of an inductor or source has nowhere to go; a conducting path is wanted", e.Node)
}

// Is reports true for ErrCutset.
func (e *CutsetError) Is(target error) bool { return target == ErrCutset }

// ChatterError is a voltage-controlled switch that opens itself by closing
// and closes itself by opening.
type ChatterError struct{ Element string }

// Error names the switch.
func (e *ChatterError) Error() string {
	return fmt.Sprintf("%q chatters: closing it opens it and opening it closes it", e.Element)
}

// Is reports true for ErrChatter.
func (e *ChatterError) Is(target error) bool { return target == ErrChatter }

// quoted puts each name in quotation marks.
func quoted(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = fmt.Sprintf("%q", n)
	}
	return out
}
