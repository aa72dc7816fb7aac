package evidence

import (
	"fmt"
	"math"
)

// A Kind is what sort of answer a reading is.
type Kind int

// The kinds of answer.
const (
	Figure   Kind = iota // Value was read
	LessThan             // less than Value
	MoreThan             // more than Value, as a meter at the end of its range shows
	Yes
	No
	CouldNot // it was tried and could not be had
)

// A Reading is what came of one channel.
type Reading struct {
	Channel string
	Kind    Kind
	Value   float64 // in the channel's unit, for Figure, LessThan and MoreThan
	// HalfWidth is the 95 % half-width of this very reading; 0 is the channel's.
	HalfWidth float64
}

// Chances of what the figures do not say. Estimates with no published source.
const (
	couldNotAnyway = 0.05 // a reading that can be had is said to be impossible
	couldNotUpset  = 0.2  // the same on a car with an unknown fault, where upset
	hadAnyway      = 0.02 // a reading that cannot be had comes with a figure
	wrongPlace     = 0.4  // share of the slips of a figure that may show anything
	toldApart      = 2.0  // instrument widths by which a slip must change a figure to be one
)

// typed is a reading made ready for weighing.
type typed struct {
	ch    int
	kind  Kind
	z     float64 // as written
	s2    float64 // variance of the instrument in z²
	slip  float64 // chance of a slip
	broad float64 // density, or probability, under the wide range
	slips []slipAt
}

// slipAt is the figure that was meant, had a slip of one kind been made.
type slipAt struct {
	z, weight float64
}

func (b *Bank) read(r Reading) (typed, error) {
	ch, ok := b.channelAt[r.Channel]
	if !ok {
		return typed{}, fmt.Errorf("reading of %q: channel: %w", r.Channel, ErrName)
	}
	c := &b.channels[ch]
	t := typed{ch: ch, kind: r.Kind, s2: 1, slip: c.slip}
	switch {
	case r.Kind < Figure || r.Kind > CouldNot:
		return t, fmt.Errorf("reading of %q: kind %d: %w", r.Channel, r.Kind, ErrKind)
	case r.Kind == CouldNot:
		return t, nil
	case r.Kind == Yes || r.Kind == No:
		if !c.YesNo {
			return t, fmt.Errorf("reading of %q is a yes or no, wanted a figure: %w", r.Channel, ErrKind)
		}
		t.broad = 0.5
		return t, nil
	case c.YesNo:
		return t, fmt.Errorf("reading of %q is a figure, wanted a yes or no: %w", r.Channel, ErrKind)
	case !finite(r.Value):
		return t, fmt.Errorf("reading of %q: Value is %g, wanted a finite figure: %w", r.Channel, r.Value, ErrNumber)
	case !(r.HalfWidth >= 0) || math.IsInf(r.HalfWidth, 1):
		return t, fmt.Errorf("reading of %q: HalfWidth is %g, wanted 0 or more: %w", r.Channel, r.HalfWidth, ErrNumber)
	}
	s := &c.scale
	t.z = s.z(r.Value)
	if r.HalfWidth > 0 {
		// Half of what lies between its ends: the scale bends within a width that
		// is large beside the figure.
		w := (s.free(r.Value+r.HalfWidth) - s.free(r.Value-r.HalfWidth)) / 2 / half95
		t.s2 = math.Max(w*w, 1e-8)
	}
	switch r.Kind {
	case LessThan:
		t.broad = s.broadBelow(t.z)
	case MoreThan:
		t.broad = 1 - s.broadBelow(t.z)
	default:
		t.broad = s.broad(t.z)
		share := (1 - wrongPlace) / float64(max(1, len(c.factors)))
		for _, f := range c.factors {
			meant := r.Value / f
			if math.Abs(meant) > 1e300 {
				continue // nothing reads that
			}
			if math.Abs(s.free(meant)-t.z) < toldApart*math.Sqrt(t.s2) {
				continue // a nought stays a nought, whatever the unit
			}
			weight := share * s.sd(r.Value) / (math.Abs(f) * s.sd(meant))
			t.slips = append(t.slips, slipAt{s.free(meant), weight}) // as it is: held inside what is told apart, it would meet predictions held there
		}
	}
	return t, nil
}
