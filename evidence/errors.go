package evidence

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// What can be wrong with a model or a reading. Errors returned wrap one of these
// and say where.
var (
	ErrEmpty     = errors.New("nothing to choose from")
	ErrName      = errors.New("name not known")
	ErrDuplicate = errors.New("named twice")
	ErrShape     = errors.New("wrong number of figures")
	ErrNumber    = errors.New("figure out of bounds")
	ErrMember    = errors.New("members do not fit")
	ErrRemedy    = errors.New("remedy does not fit")
	ErrKind      = errors.New("reading of the wrong kind")
)

// Bounds that keep arithmetic from overflowing: minutes of any step, half-widths of
// an instrument, figures in such half-widths, factors of a slip, logarithms of weights.
const (
	longest  = 1e6
	finest   = 1e-100
	coarsest = 1e100
	widest   = 1e12
	farthest = 1e12  // by how much a slip changes a figure, or the inverse of it
	heaviest = 100.0 // log weight of a draw
	rarest   = 600.0 // log prior of a hypothesis, of either sign
)

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func (c *Channel) validate(where string) error {
	bad := func(what string, x float64, want string) error {
		return fmt.Errorf("%s: %s is %g, wanted %s: %w", where, what, x, want, ErrNumber)
	}
	if c.ID == "" {
		return fmt.Errorf("%s has no ID: %w", where, ErrName)
	}
	if !(c.Minutes >= 0 && c.Minutes <= longest) {
		return bad("Minutes", c.Minutes, "0 or more")
	}
	if !(c.SetupMinutes >= 0 && c.SetupMinutes <= longest) {
		return bad("SetupMinutes", c.SetupMinutes, "0 or more")
	}
	if !(c.SlipProb >= 0 && c.SlipProb <= 0.5) {
		return bad("SlipProb", c.SlipProb, "0 to 0.5")
	}
	if c.YesNo {
		return nil
	}
	if !(c.Abs >= finest && c.Abs <= coarsest) {
		return bad("Abs", c.Abs, fmt.Sprintf("a half-width of %g to %g", finest, coarsest))
	}
	if !(c.Rel >= 0 && c.Rel <= 1) {
		return bad("Rel", c.Rel, "0 to 1")
	}
	if !(math.Abs(c.Low) <= widest*c.Abs) {
		return bad("Low", c.Low, "a figure of at most 1e12 times Abs")
	}
	if !(c.High > c.Low && c.High <= widest*c.Abs) {
		return bad("High", c.High, fmt.Sprintf("a figure above Low, %g, and at most 1e12 times Abs", c.Low))
	}
	for _, f := range c.SlipFactors {
		if x := math.Abs(f); !(x >= 1/farthest && x <= farthest) || f == 1 {
			return bad("a slip factor", f, fmt.Sprintf("%g to %g, of either sign, and not 1", 1/farthest, farthest))
		}
	}
	return nil
}

// Validate says what is wrong with the model, or returns nil.
func (m *Model) Validate() error {
	if len(m.Channels) == 0 {
		return fmt.Errorf("no channels: %w", ErrEmpty)
	}
	if len(m.Hypotheses) == 0 {
		return fmt.Errorf("no hypotheses: %w", ErrEmpty)
	}
	seen := map[string]bool{}
	for i := range m.Channels {
		c := &m.Channels[i]
		if err := c.validate(fmt.Sprintf("channel %d %q", i, c.ID)); err != nil {
			return err
		}
		if seen[c.ID] {
			return fmt.Errorf("channel %q: %w", c.ID, ErrDuplicate)
		}
		seen[c.ID] = true
	}
	remedies := map[string]bool{UnknownID: true, ElsewhereID: true}
	for _, r := range m.Remedies {
		if r.ID == "" {
			return fmt.Errorf("a remedy has no ID: %w", ErrName)
		}
		if remedies[r.ID] {
			return fmt.Errorf("remedy %q: %w", r.ID, ErrDuplicate)
		}
		if !(r.Minutes > 0 && r.Minutes <= longest) {
			return fmt.Errorf("remedy %q: Minutes is %g, wanted above 0: %w", r.ID, r.Minutes, ErrNumber)
		}
		remedies[r.ID] = true
	}
	if err := m.validateNumbers(); err != nil {
		return err
	}
	return m.validateHypotheses(remedies)
}

func (m *Model) validateNumbers() error {
	if m.StudentDF != 0 && !(m.StudentDF >= 2 && m.StudentDF <= 1000) {
		return fmt.Errorf("StudentDF is %g, wanted 0 or 2 to 1000: %w", m.StudentDF, ErrNumber)
	}
	if !(m.ElsewhereMinutes >= 0 && m.ElsewhereMinutes <= longest) {
		return fmt.Errorf("ElsewhereMinutes is %g, wanted 0 or more: %w", m.ElsewhereMinutes, ErrNumber)
	}
	u := m.Unknown
	switch {
	case !(math.Abs(u.LogPrior) <= rarest):
		return fmt.Errorf("unknown: LogPrior is %g, wanted -%g to %g: %w", u.LogPrior, rarest, rarest, ErrNumber)
	case !(u.Share >= 0 && u.Share <= 1):
		return fmt.Errorf("unknown: Share is %g, wanted 0 to 1: %w", u.Share, ErrNumber)
	case !(u.Minutes >= 0 && u.Minutes <= longest):
		return fmt.Errorf("unknown: Minutes is %g, wanted 0 or more: %w", u.Minutes, ErrNumber)
	}
	return nil
}

func (m *Model) validateHypotheses(remedies map[string]bool) error {
	if !slices.ContainsFunc(m.Hypotheses, func(h Hypothesis) bool { return h.ID == m.Healthy }) {
		return fmt.Errorf("the healthy hypothesis %q: %w", m.Healthy, ErrName)
	}
	if len(m.Common) > 0 {
		if err := m.validateDraws("Common", m.Common); err != nil {
			return err
		}
	}
	single := map[string]bool{}
	ids := map[string]bool{UnknownID: true}
	for i := range m.Hypotheses {
		h := &m.Hypotheses[i]
		where := fmt.Sprintf("hypothesis %d %q", i, h.ID)
		if h.ID == "" {
			return fmt.Errorf("%s has no ID: %w", where, ErrName)
		}
		if ids[h.ID] {
			return fmt.Errorf("%s: %w", where, ErrDuplicate)
		}
		ids[h.ID] = true
		if !(math.Abs(h.LogPrior) <= rarest) {
			return fmt.Errorf("%s: LogPrior is %g, wanted -%g to %g: %w", where, h.LogPrior, rarest, rarest, ErrNumber)
		}
		switch {
		case h.ID == m.Healthy:
			if h.Remedy != "" || len(h.Members) > 0 {
				return fmt.Errorf("%s is the healthy car and has a remedy or members: %w", where, ErrRemedy)
			}
		case len(h.Members) > 0:
			if h.Remedy != "" {
				return fmt.Errorf("%s has members and a remedy of its own, wanted one of the two: %w", where, ErrRemedy)
			}
		case h.Remedy == UnknownID || h.Remedy == ElsewhereID || !remedies[h.Remedy]:
			return fmt.Errorf("%s: remedy %q is not in Remedies: %w", where, h.Remedy, ErrRemedy)
		default:
			single[h.ID] = true
		}
		if err := m.validateDraws(where, h.Draws); err != nil {
			return err
		}
		if h.LogWeights != nil && len(h.LogWeights) != len(h.Draws) {
			return fmt.Errorf("%s has %d weights for %d draws: %w", where, len(h.LogWeights), len(h.Draws), ErrShape)
		}
		if h.Cars != nil && len(h.Cars) != len(h.Draws) {
			return fmt.Errorf("%s has cars for %d draws of %d: %w", where, len(h.Cars), len(h.Draws), ErrShape)
		}
		for k, j := range h.Cars {
			if j < 0 || j >= len(m.Common) {
				return fmt.Errorf("%s, draw %d: car %d of %d: %w", where, k, j, len(m.Common), ErrNumber)
			}
		}
		for k, x := range h.LogWeights {
			if !(math.Abs(x) <= heaviest) {
				return fmt.Errorf("%s, draw %d: log weight is %g, wanted -%g to %g: %w", where, k, x, heaviest, heaviest, ErrNumber)
			}
		}
	}
	sets := map[string]string{}
	for _, h := range m.Hypotheses {
		if len(h.Members) == 0 {
			continue
		}
		if len(h.Members) == 1 {
			return fmt.Errorf("hypothesis %q has one member, wanted none or at least two: %w", h.ID, ErrMember)
		}
		own := map[string]bool{}
		for _, id := range h.Members {
			if !single[id] {
				return fmt.Errorf("hypothesis %q: member %q is no single hypothesis: %w", h.ID, id, ErrMember)
			}
			if own[id] {
				return fmt.Errorf("hypothesis %q: member %q: %w", h.ID, id, ErrDuplicate)
			}
			own[id] = true
		}
		key := memberKey(h.Members)
		if other, dup := sets[key]; dup {
			return fmt.Errorf("hypotheses %q and %q have the same members: %w", other, h.ID, ErrDuplicate)
		}
		sets[key] = h.ID
	}
	return nil
}

func (m *Model) validateDraws(where string, draws [][]float64) error {
	if len(draws) == 0 {
		return fmt.Errorf("%s has no draws: %w", where, ErrEmpty)
	}
	for k, d := range draws {
		if len(d) != len(m.Channels) {
			return fmt.Errorf("%s, draw %d has %d predictions, wanted one for each of %d channels: %w", where, k, len(d), len(m.Channels), ErrShape)
		}
		for c, x := range d {
			if m.Channels[c].YesNo && (x < 0 || x > 1) {
				return fmt.Errorf("%s, draw %d, channel %q: probability of a yes is %g, wanted 0 to 1: %w", where, k, m.Channels[c].ID, x, ErrNumber)
			}
		}
	}
	return nil
}
