package advance

import "strconv"

// Source is where the hose of the can is joined.
type Source uint8

// No hose (or plugged); a port just above the closed throttle; the manifold.
const (
	NoVacuum Source = iota
	Ported
	Manifold
)

// String is the source in the trade's words.
func (s Source) String() string {
	switch s {
	case NoVacuum:
		return "no vacuum"
	case Ported:
		return "ported"
	case Manifold:
		return "manifold"
	}
	return "Source(" + strconv.Itoa(int(s)) + ")"
}

// PortUncovered is the throttle opening, as a share of the way from the idle
// stop to wide open, from which the edge of the plate has passed a port: an
// assumed figure, ports differ.
const PortUncovered = 0.04

// Depression is what the can feels (Pa below ambient, never less than 0).
// throttle is 0 at the idle stop and 1 wide open.
//
// The manifold source gives ambient less manifold pressure. A ported source
// gives nothing with the throttle at its stop, as the port is on the air side;
// the edge of the plate uncovers it in the first PortUncovered of its way, and
// from there on it feels the manifold. In between it is taken in proportion,
// a simplification.
func Depression(src Source, ambientPa, manifoldPa, throttle float64) float64 {
	p := max(0, ambientPa-manifoldPa)
	switch src {
	case Manifold:
		return p
	case Ported:
		return p * min(max(throttle/PortUncovered, 0), 1)
	}
	return 0
}
