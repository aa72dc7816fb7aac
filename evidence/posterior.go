package evidence

import (
	"math"
	"slices"
)

// A Standing is how a hypothesis stands.
type Standing struct {
	ID string
	P  float64
	// ESS is how many equally weighted draws the weighted ones are worth,
	// (Σw)²/Σw² (Kong, Liu & Wong 1994).
	ESS   float64
	Draws int
}

// A Share is the probability of something named.
type Share struct {
	ID string
	P  float64
}

// A Mend is a set of remedies that together put the car right.
type Mend struct {
	Remedies []string // quickest first; ElsewhereID or UnknownID alone for the healthy and the unknown car
	Minutes  float64
	P        float64
}

// A Posterior is what the readings so far make of the car.
type Posterior struct {
	Hypotheses []Standing // likeliest first; they exclude each other
	Mends      []Mend     // likeliest first; they exclude each other
	Members    []Share    // chance that this single fault is there, alone or with others; likeliest first
	Remedies   []Share    // chance that this remedy is needed, alone or with others; likeliest first
	Healthy    float64
	Unknown    float64
	Bits       float64 // entropy of Mends
	ESS        float64 // over all draws of all hypotheses
}

// Posterior sums up the case. Equal probabilities stand in the model's order.
func (c *Case) Posterior() Posterior { return c.sumUp(c.lp) }

// sumUp sums up the case with the logarithms of the hypotheses' probabilities.
func (c *Case) sumUp(lp []float64) Posterior {
	b := c.bank
	post := Posterior{Healthy: math.Exp(lp[b.healthy]), Unknown: math.Exp(lp[b.unknown])}
	mends := make([]Mend, len(b.sets))
	for s := range mends {
		for _, r := range b.sets[s].remedies {
			mends[s].Remedies = append(mends[s].Remedies, b.remedies[r].ID)
		}
		mends[s].Minutes = b.sets[s].minutes
	}
	member := make([]float64, len(b.hyps))
	remedy := make([]float64, len(b.remedies))
	square := 0.0
	for h := range b.hyps {
		p := math.Exp(lp[h])
		two := c.squares(h)
		square += two
		ess := 0.0
		if two > 0 {
			ess = min(math.Exp(2*c.lp[h])/two, float64(c.work[h].n))
		}
		post.Hypotheses = append(post.Hypotheses, Standing{b.hyps[h].id, p, ess, c.work[h].n})
		mends[b.hyps[h].set].P += p
		for _, m := range b.hyps[h].members {
			member[m] += p
		}
		for _, r := range b.sets[b.hyps[h].set].remedies {
			remedy[r] += p
		}
	}
	post.ESS = 1 / square
	post.Mends = mends
	for _, m := range mends {
		post.Bits -= plog2(m.P)
	}
	for h := range b.hyps {
		if len(b.hyps[h].members) == 1 && h != b.unknown {
			post.Members = append(post.Members, Share{b.hyps[h].id, member[h]})
		}
	}
	for r := range b.remedies {
		post.Remedies = append(post.Remedies, Share{b.remedies[r].ID, remedy[r]})
	}
	slices.SortStableFunc(post.Hypotheses, func(x, y Standing) int { return falling(x.P, y.P) })
	slices.SortStableFunc(post.Mends, func(x, y Mend) int { return falling(x.P, y.P) })
	slices.SortStableFunc(post.Members, func(x, y Share) int { return falling(x.P, y.P) })
	slices.SortStableFunc(post.Remedies, func(x, y Share) int { return falling(x.P, y.P) })
	return post
}

// squares is Σw² over the draws of hypothesis h.
func (c *Case) squares(h int) float64 {
	sum := 0.0
	for _, x := range c.lw[c.off[h]:c.off[h+1]] {
		sum += math.Exp(2 * x)
	}
	return sum
}

func falling(x, y float64) int {
	switch {
	case x > y:
		return -1
	case x < y:
		return 1
	}
	return 0
}

// plog2 is p·log2 p, 0 at 0.
func plog2(p float64) float64 {
	if p <= 0 {
		return 0
	}
	return p * math.Log2(p)
}

// A Taken is a reading with what is thought of it now.
type Taken struct {
	Reading
	Epoch  int  // repairs done before it
	Counts bool // no later reading of the same channel stands in for it
	// Slip is the chance, after everything read since, that it was a slip. Above
	// a half it is worth asking again.
	Slip float64
}

// Taken lists the readings in the order in which they were taken.
func (c *Case) Taken() []Taken {
	out := make([]Taken, len(c.taken))
	for i, t := range c.taken {
		out[i] = Taken{Reading: t.Reading, Epoch: t.epoch, Counts: t.counts}
		out[i].Slip = c.slipOf(&t)
	}
	return out
}

func (c *Case) slipOf(t *taken) float64 {
	sum := t.slip
	for j, s := range t.slipped {
		if s > 0 {
			sum += float64(s) * math.Exp(c.lw[j])
		}
	}
	return sum
}
