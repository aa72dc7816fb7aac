package evidence

import (
	"math"
	"math/rand/v2"
	"sync"
)

// How well the evidence of a hypothesis is known. A figure adds so much to the
// variance of its logarithm, in nats², for what kernels between a few dozen draws
// blur, up to a limit: in a world of straight lines and Gaussians one reading was
// off by 0.23, four by 1.1 (see the package comment); both are estimates for any
// other world.
const (
	blurEach = 0.05
	blurMost = 0.5
	hedges   = 64 // weights that are averaged over
	tooFew   = 16 // nats behind the likeliest from which a hypothesis is let be
)

// deviates are standard normal figures, the same in every run.
var deviates = sync.OnceValue(func() []float64 {
	rng := rand.New(rand.NewPCG(1763, 1812))
	z := make([]float64, 1<<16)
	for i := 0; i < len(z); i += 2 {
		z[i] = rng.NormFloat64()
		z[i+1] = -z[i]
	}
	return z
})

// Hedged is the posterior with regard to how well the evidence itself is known: a
// sum over draws has the relative variance 1/ESS (Kong, Liu & Wong 1994), and the
// kernels add theirs. What is said is the average over evidence as far off as that,
// its logarithm being normal, each hypothesis for itself: a lead that a few draws
// carry is said less surely.
func (c *Case) Hedged() Posterior {
	figures := 0
	for _, t := range c.taken {
		if t.counts && t.epoch == c.epoch && t.Kind == Figure {
			figures++
		}
	}
	if len(c.taken) == 0 {
		return c.Posterior()
	}
	blur := math.Min(blurMost, blurEach*float64(figures))
	top := c.lp[0]
	for _, x := range c.lp {
		top = math.Max(top, x)
	}
	var near []int
	var sd []float64
	for h, x := range c.lp {
		if x < top-tooFew {
			continue
		}
		p, before := math.Exp(x), 0.0
		for k := range c.work[h].n {
			before += math.Exp(2 * c.bank.hyps[h].logShare(k))
		}
		sums := math.Max(0, c.squares(h)/(p*p)-before)
		near = append(near, h)
		sd = append(sd, math.Sqrt(math.Min(sums, 1)+blur))
	}
	share := make([]float64, len(near))
	w := make([]float64, len(near))
	z := deviates()
	for s := range hedges {
		sum := 0.0
		for i, h := range near {
			// A stride that is odd goes through all of the table.
			w[i] = math.Exp(c.lp[h] - top + sd[i]*z[(s*1021+h*7919)&(len(z)-1)])
			sum += w[i]
		}
		for i := range w {
			share[i] += w[i] / sum / hedges
		}
	}
	rest, have := 0.0, 0.0
	for _, x := range c.lp {
		rest += math.Exp(x)
	}
	for _, h := range near {
		have += math.Exp(c.lp[h])
	}
	lp := append([]float64(nil), c.lp...)
	for i, h := range near {
		lp[h] = math.Log(share[i] * have / rest)
	}
	return c.sumUp(lp)
}
