package fault

import (
	"fmt"
	"slices"
	"strings"

	"dwellwright/car"
)

// Fault is one way in which an ignition goes wrong, as a change of a car's
// figures.
type Fault struct {
	ID, Name string
	Group    Group
	Change   string   // the physical change in words, its figures with units
	Evidence Evidence // how far the figures of the change can be trusted
	Prior    float64  // cases per 100 ignition complaints: always an estimate, no survey was found
	Likelier Context  // what in a car's story makes it likelier
	Remedy   Remedy
	When     When
	Sizes    []Size // how bad it is: Sizes[i] is drawn by Severity.U[i]
	Moves    []Move // every figure that it changes, and which way
	Rewires  bool   // it changes what is joined to what: a network built for the healthy car does not serve
	Unseen   string // why no reading of the car's figures shows it; empty where one does

	needs need
	apply change
}

// figures are what Sizes came to: as many as there are, then 0.
type figures [3]float64

// change makes a car have a fault in condition k.
type change func(c *car.Car, k *car.Condition, v figures)

// Group is the part of the car that a fault is in.
type Group string

// The groups.
const (
	Supply    Group = "supply"    // battery, charging, starter and their cables
	Feed      Group = "feed"      // the way of the current to coil and trigger and back to the battery
	CoilGroup Group = "coil"      // the coil itself
	Points    Group = "points"    // breaker points and condenser
	Trigger   Group = "trigger"   // a trigger module and how it sits
	Timing    Group = "timing"    // how the distributor stands and its leads sit
	Advance   Group = "advance"   // weights, springs, can, and the wear of the drive
	Secondary Group = "secondary" // rotor, cap, leads, plugs
	Elsewhere Group = "elsewhere" // not ignition, but it looks like it
)

// Evidence is where the figures of a change come from.
type Evidence string

// Common practice has no source; from memory was printed somewhere and not
// read again; an estimate is nobody's figure but ours.
const (
	CommonPractice Evidence = "common practice"
	FromMemory     Evidence = "from memory"
	Estimate       Evidence = "estimate"
)

// Severity is how bad a fault is: uniforms between 0 and 1 that its caller
// draws. U[0] to U[2] go to the fault's Sizes, 0 the mildest and 1 the worst;
// U[3] decides when it is there.
type Severity struct{ U [4]float64 }

// Move is a figure that a fault changes. Path is that of car.Params, with
// "conditions.*." for the condition at hand, "wiring.<leg>" for what a leg's
// joints add up to, and for what is no figure the name in the car file.
type Move struct {
	Path string
	How  How
}

// How a figure moves.
type How uint8

// Either way depends on the severity; a figure that is set had another worth
// before, or none.
const (
	Rises How = iota
	Falls
	EitherWay
	IsSet
)

func rises(path string) Move { return Move{path, Rises} }
func falls(path string) Move { return Move{path, Falls} }
func moves(path string) Move { return Move{path, EitherWay} }
func set(path string) Move   { return Move{path, IsSet} }

// Fits reports whether the car can have this fault: a car without points has
// none that are burnt.
func (f *Fault) Fits(c *car.Car) bool { return c != nil && f.needs.met(c) }

// Apply makes the car have the fault as it is in condition k, which is one of
// c's own. Only figures that Moves names change, and none where the fault does
// not fit or is not there in that condition. The same car, condition and
// severity always give the same. Apply it once to a car.
func (f *Fault) Apply(c *car.Car, k *car.Condition, s Severity) {
	if k == nil || !f.Fits(c) || !f.Present(c, k, s) {
		return
	}
	f.apply(c, k, f.figures(s))
}

// ApplyBoth makes the car have two faults, each of its own severity. Whichever
// is named first, they go in the same order: what is there only while the plate
// is moved goes last, as the other may be what moves it, or no longer does.
func ApplyBoth(c *car.Car, k *car.Condition, a *Fault, s Severity, b *Fault, t Severity) {
	aLast, bLast := a.When.Kind == PlateMoved, b.When.Kind == PlateMoved
	if aLast && !bLast || aLast == bLast && a.ID > b.ID {
		a, b, s, t = b, a, t, s
	}
	a.Apply(c, k, s)
	b.Apply(c, k, t)
}

// figures are what the severity makes of the fault's sizes.
func (f *Fault) figures(s Severity) (v figures) {
	for i := range f.Sizes {
		v[i] = f.Sizes[i].At(s.U[i])
	}
	return v
}

// Compatible reports whether a car can have both faults at once: not one twice,
// not one of points and one of a trigger, not two that set the same figure or
// draw it opposite ways.
func Compatible(a, b *Fault) bool {
	if a.ID == b.ID || a.needs.against(b.needs) {
		return false
	}
	for _, m := range a.Moves {
		for _, n := range b.Moves {
			if m.Path != n.Path {
				continue
			}
			if m.How == IsSet || n.How == IsSet || m.How == Rises && n.How == Falls || m.How == Falls && n.How == Rises {
				return false
			}
		}
	}
	return true
}

// Catalogue lists every fault, group by group, in an order that stays. Each
// call makes a list of the caller's own.
func Catalogue() []Fault {
	list := slices.Concat(supplyFaults(), feedFaults(), feedWireFaults(), coilFaults(), pointsFaults(), triggerFaults(), sleeveFaults(),
		timingFaults(), advanceFaults(), secondaryFaults(), elsewhereFaults())
	for i := range list {
		list[i].settle()
	}
	return list
}

// UnknownError is an id that no fault has.
type UnknownError struct {
	ID   string
	Have []string
}

func (e *UnknownError) Error() string {
	return fmt.Sprintf("no fault %q; accepted: %s", e.ID, strings.Join(e.Have, ", "))
}

// ByID finds a fault; the error is an *UnknownError.
func ByID(id string) (*Fault, error) {
	list := Catalogue()
	have := make([]string, len(list))
	for i := range list {
		if have[i] = list[i].ID; have[i] == id {
			return &list[i], nil
		}
	}
	return nil, &UnknownError{id, have}
}

// settle puts the remedy's words in, and the figures of Sizes for the {0},
// {1} and {2} of Change. Evidence that is not said is an estimate.
func (f *Fault) settle() {
	if f.Evidence == "" {
		f.Evidence = Estimate
	}
	f.Remedy = remedyOf(f.Remedy.ID)
	for i, s := range f.Sizes {
		f.Change = strings.ReplaceAll(f.Change, fmt.Sprintf("{%d}", i), s.String())
	}
	if w := f.When.String(); w != "" {
		f.Change += "; " + w
	}
}
