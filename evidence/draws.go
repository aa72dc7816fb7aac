package evidence

import (
	"fmt"
	"math"
	"slices"
)

// A Need names a hypothesis whose draws no longer carry its probability.
type Need struct {
	ID   string
	P    float64
	ESS  float64
	More int // draws to add
}

// Which hypotheses need more draws: those that lead with fewer than needESS draws'
// worth, and those that hardly stand but on so few draws that they may yet lead.
const (
	leadP   = 0.02
	needESS = 12.0
	needP   = 0.002
	loneESS = 4.0
	needCap = 1024
)

// NeedsDraws lists hypotheses that matter and whose probability hangs on a few
// draws, likeliest first. Add draws with [Case.Redraw].
func (c *Case) NeedsDraws() []Need {
	var out []Need
	for h := range c.work {
		p := math.Exp(c.lp[h])
		if p < needP || h == c.bank.unknown {
			continue
		}
		ess := p * p / c.squares(h)
		if ess >= needESS || p < leadP && ess >= loneESS || c.work[h].n >= needCap {
			continue
		}
		n := float64(c.work[h].n)
		more := int(math.Ceil(n * math.Min(8, 1.5*needESS/ess-1)))
		out = append(out, Need{c.bank.hyps[h].id, p, ess, min(max(more, 8), needCap-c.work[h].n)})
	}
	slices.SortStableFunc(out, func(x, y Need) int { return falling(x.P, y.P) })
	return out
}

// Weights are the shares of a hypothesis' draws in its probability as it stands.
func (c *Case) Weights(id string) ([]float64, error) {
	h, ok := c.bank.hypAt[id]
	if !ok {
		return nil, fmt.Errorf("weights of %q: %w", id, ErrName)
	}
	out := make([]float64, c.work[h].n)
	for k := range out {
		out[k] = math.Exp(c.lw[c.off[h]+k] - c.lp[h])
	}
	return out, nil
}

// Redraw gives hypothesis id the draws that it is to have from now on, all of
// them: the old ones, in their places, and further ones. The case is worked out
// anew. The bank and other cases keep theirs.
func (c *Case) Redraw(id string, draws [][]float64) error {
	h, ok := c.bank.hypAt[id]
	if !ok || h == c.bank.unknown {
		return fmt.Errorf("draws for %q: %w", id, ErrName)
	}
	if len(draws) < c.bank.hyps[h].cloud.n {
		return fmt.Errorf("draws for %q: %d, wanted at least the %d it has: %w", id, len(draws), c.bank.hyps[h].cloud.n, ErrShape)
	}
	m := Model{Channels: make([]Channel, len(c.bank.channels))}
	for i := range m.Channels {
		m.Channels[i] = c.bank.channels[i].Channel
	}
	if err := m.validateDraws(fmt.Sprintf("hypothesis %q", id), draws); err != nil {
		return err
	}
	b := *c.bank
	b.hyps = slices.Clone(b.hyps)
	b.hyps[h].cloud = newCloud(b.channels, draws, nil, b.common)
	b.hyps[h].draws, b.hyps[h].share, b.hyps[h].cars = draws, nil, nil
	if h == b.healthy {
		b.hyps[b.unknown].cloud, b.hyps[b.unknown].share, b.hyps[b.unknown].cars = b.hyps[h].cloud, nil, nil
	}
	c.bank = &b
	c.replay()
	return nil
}
