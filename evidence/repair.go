package evidence

import (
	"fmt"
	"math"
	"slices"
)

// An Outcome is what became of the complaint.
type Outcome int

// What may have become of the complaint after a repair.
const (
	Unsaid Outcome = iota
	Gone
	Still
)

// A Repair is remedies carried out between two readings.
type Repair struct {
	Remedies []string
	Outcome  Outcome
	// Doubt is the chance that the work did not take; 0 is 0.03, at most 0.5.
	Doubt float64
	// Fickle is the chance that the complaint shows the wrong way at the check
	// (gone though a fault is left, still there though none is); 0 is 0.03, at
	// most 0.5.
	Fickle float64
}

// Defaults of a repair, estimates with no published source.
const (
	defaultDoubt  = 0.03
	defaultFickle = 0.03
)

// Repair notes a repair. What a remedy mends is gone: a hypothesis passes its
// probability on, car by car, to the one with the members that are left, or to
// the healthy car (to the unknown one where the model lacks that combination).
// The healthy car's complaint has its cause elsewhere: it is still there after
// any remedy but [ElsewhereID]. So what the readings before taught about the car's other figures is kept: base
// car k keeps its weight. Readings taken before belong to the car as it was;
// every channel may be read anew.
func (c *Case) Repair(r Repair) error {
	if len(r.Remedies) == 0 {
		return fmt.Errorf("repair without a remedy: %w", ErrEmpty)
	}
	for _, id := range r.Remedies {
		if _, ok := c.bank.remedyAt[id]; !ok {
			return fmt.Errorf("repair: remedy %q: %w", id, ErrName)
		}
	}
	if r.Outcome < Unsaid || r.Outcome > Still {
		return fmt.Errorf("repair: outcome %d: %w", r.Outcome, ErrKind)
	}
	for _, x := range []float64{r.Doubt, r.Fickle} {
		if !(x >= 0 && x <= 0.5) {
			return fmt.Errorf("repair: chance %g, wanted 0 to 0.5: %w", x, ErrNumber)
		}
	}
	r.Remedies = slices.Clone(r.Remedies)
	c.events = append(c.events, event{repair: &r})
	c.mend(&r)
	return nil
}

// left is the hypothesis that h is once the remedies are done.
func (b *Bank) left(h int, done []bool) int {
	if h == b.healthy {
		return h
	}
	if h == b.unknown {
		if done[b.remedyAt[UnknownID]] {
			return b.healthy
		}
		return h
	}
	var ids []string
	for _, m := range b.hyps[h].members {
		if !done[b.sets[b.hyps[m].set].remedies[0]] {
			ids = append(ids, b.hyps[m].id)
		}
	}
	if len(ids) == len(b.hyps[h].members) {
		return h
	}
	if to, ok := b.keyAt[memberKey(ids)]; ok {
		return to
	}
	return b.unknown
}

// drawsOf finds the first of n draws that is of a base car.
func drawsOf(cars []int, n int) func(car int) (int, bool) {
	if cars == nil {
		return func(car int) (int, bool) { return car, car < n }
	}
	first := map[int]int{}
	for k := n - 1; k >= 0; k-- {
		first[cars[k]] = k
	}
	return func(car int) (int, bool) { k, ok := first[car]; return k, ok }
}

func (c *Case) mend(r *Repair) {
	b := c.bank
	done := make([]bool, len(b.remedies))
	for _, id := range r.Remedies {
		done[b.remedyAt[id]] = true
	}
	for i := range c.taken {
		t := &c.taken[i]
		t.slip, t.slipped = c.slipOf(t), nil
	}
	doubt, fickle := or(r.Doubt, defaultDoubt), or(r.Fickle, defaultFickle)
	w := make([]float64, len(c.lw))
	own := make([]float64, len(c.lp)) // mass that stays
	got := make([]float64, len(c.lp)) // mass that comes in
	give := make([]float64, 0, 64)
	showed := func(cured bool) float64 {
		switch {
		case r.Outcome == Unsaid:
			return 1
		case cured == (r.Outcome == Gone):
			return 1 - fickle
		}
		return fickle
	}
	for h := range c.work {
		from, n := c.off[h], c.work[h].n
		to := b.left(h, done)
		mended := to != h || h == b.healthy && done[b.remedyAt[ElsewhereID]]
		stay, pass := showed(false), 0.0
		if mended {
			stay, pass = doubt*showed(false), (1-doubt)*showed(to == b.healthy)
		}
		give = give[:0]
		for k := range n {
			x := math.Exp(c.lw[from+k])
			w[from+k] += x * stay
			own[h] += x * stay
			give = append(give, x*pass)
			got[to] += x * pass
		}
		if !mended {
			continue
		}
		// A car goes to the same car; where the other has no such, it is strewn over all.
		m, rest := c.work[to].n, 0.0
		at := drawsOf(b.hyps[to].cars, m)
		for k, x := range give {
			if k, ok := at(carOf(b.hyps[h].cars, k)); ok {
				w[c.off[to]+k] += x
			} else {
				rest += x
			}
		}
		for k := range m {
			w[c.off[to]+k] += rest * math.Exp(b.hyps[to].logShare(k))
		}
	}
	for h := range c.work {
		// Kernels moved by readings of a car with this hypothesis serve no longer
		// where most of the weight came from elsewhere.
		if got[h] > own[h] {
			c.restore(h)
		}
		lw := c.lw[c.off[h]:c.off[h+1]]
		for k := range lw {
			lw[k] = math.Log(math.Max(w[c.off[h]+k], 1e-300))
		}
		c.lp[h] = logSum(lw)
	}
	c.normalise()
	c.epoch++
	c.begin()
}
