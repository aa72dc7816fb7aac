package fault

import (
	"fmt"
	"math"
	"slices"

	"dwellwright/car"
	"dwellwright/units"
)

// When is in which conditions a fault is there.
type When struct {
	Kind  Times
	Above Size    // °C of the bay from which on, with OnlyHot
	Share float64 // of the conditions, with ComesAndGoes
}

// Times is a way of being there or not.
type Times uint8

const (
	Always       Times = iota
	OnlyHot            // from a temperature of the bay on, which differs from case to case
	ComesAndGoes       // in a share of conditions, by chance
	PlateMoved         // while the vacuum can has the breaker plate drawn over by a third of its travel
	InStart            // key in start
	NotInStart         // key in run
)

// String says when in words; empty for always.
func (w When) String() string {
	switch w.Kind {
	case OnlyHot:
		return "only with the engine bay hotter than " + w.Above.String()
	case ComesAndGoes:
		return fmt.Sprintf("it comes and goes, there in about %.0f %% of readings", 100*w.Share)
	case PlateMoved:
		return "only while vacuum has drawn the breaker plate over"
	case InStart:
		return "only with the key in start"
	case NotInStart:
		return "only with the key in run"
	}
	return ""
}

// Present reports whether a fault of this severity is there in a condition of
// the car. What comes and goes is there or not for all readings of a condition
// alike, by U[3] and the place of the condition in the car's list; over many
// severities in the share that When says.
func (f *Fault) Present(c *car.Car, k *car.Condition, s Severity) bool {
	if c == nil || k == nil {
		return false
	}
	switch f.When.Kind {
	case OnlyHot:
		return k.BayTemp.X >= f.When.Above.At(s.U[3])
	case ComesAndGoes:
		i := slices.IndexFunc(c.Conditions, func(x car.Condition) bool { return x.ID == k.ID })
		const golden = 0.6180339887498949 // spreads the conditions evenly, whatever their number
		u := min(max(s.U[3], 0), 1)
		_, turn := math.Modf(u + golden*float64(i+1))
		return turn < f.When.Share
	case PlateMoved:
		return pulled(c, k) >= c.Advance.Travel.X/3 && c.Advance.Travel.X > 0
	case InStart:
		return k.Engine == car.Cranking
	case NotInStart:
		return k.Engine != car.Cranking
	}
	return true
}

// hot is a fault of the heat: there from a temperature between the two on,
// drawn alike. The first is the mildest case.
func hot(mildC, worstC float64) When {
	return When{Kind: OnlyHot, Above: Size{units.Temperature, Uniform, mildC, worstC}}
}

func inShare(share float64) When { return When{Kind: ComesAndGoes, Share: share} }
