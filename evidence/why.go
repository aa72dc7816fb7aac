package evidence

import (
	"fmt"
	"math"
)

// A Reason is what one reading says for a hypothesis. Decibans are 10·log10 of
// the factor by which it moved the odds: 10 is tenfold, 0 says nothing.
type Reason struct {
	Reading
	Index      int     // as counted by [Case.Taken]
	VsHealthy  float64 // decibans against the healthy car
	VsRunnerUp float64 // decibans against the likeliest other hypothesis
	Healthy    Expected
	Own        Expected
}

// A Refuter is a reading not yet taken that would tell most against a hypothesis
// if it is wrong.
type Refuter struct {
	Channel string
	// Decibans is the weight of evidence against the hypothesis to be expected if
	// it is wrong (Good 1950).
	Decibans float64
	Minutes  float64
	Expect   Expected // what would speak for it
	Else     Expected // what is expected if it is wrong
}

// Why is the case for and against one hypothesis.
type Why struct {
	ID       string
	P        float64
	RunnerUp string
	// Log odds in decibans at the last repair, or before any reading. With the
	// sum over Reasons they make the odds as they stand: the readings are taken
	// in order, each given those before it.
	StartVsHealthy, StartVsRunnerUp float64
	Reasons                         []Reason // readings since the last repair that count
	Refuter                         *Refuter // nil when nothing is left to read or it is as good as refuted
}

var deciban = 10 / math.Ln10

// Why takes the case for a hypothesis apart. Expectations of a reading taken are
// those before any reading, of the car that the hypothesis describes.
func (c *Case) Why(id string, s Situation) (Why, error) {
	b := c.bank
	h, ok := b.hypAt[id]
	if !ok {
		return Why{}, fmt.Errorf("hypothesis %q: %w", id, ErrName)
	}
	open, err := c.offered(s)
	if err != nil {
		return Why{}, err
	}
	other := -1
	for i := range c.lp {
		if i != h && (other < 0 || c.lp[i] > c.lp[other]) {
			other = i
		}
	}
	w := Why{ID: id, P: math.Exp(c.lp[h]), RunnerUp: b.hyps[other].id,
		StartVsHealthy:  deciban * (c.start[h] - c.start[b.healthy]),
		StartVsRunnerUp: deciban * (c.start[h] - c.start[other])}
	for i, t := range c.taken {
		if !t.counts || t.epoch != c.epoch {
			continue
		}
		ch := b.channelAt[t.Channel]
		w.Reasons = append(w.Reasons, Reason{
			Reading: t.Reading, Index: i,
			VsHealthy:  deciban * (t.gain[h] - t.gain[b.healthy]),
			VsRunnerUp: deciban * (t.gain[h] - t.gain[other]),
			Healthy:    c.unread(ch, b.healthy), Own: c.unread(ch, h),
		})
	}
	w.Refuter = c.refuter(h, open, s.Setup)
	return w, nil
}

// refuter maximises Σ q ln(q/p) over channels, p and q being the chances of the
// cells if h is true and if it is not. Both count alike in where the cells are cut
// and in which draws are too faint to count, however sure h is.
func (c *Case) refuter(h int, open []int, setup string) *Refuter {
	b := c.bank
	if c.lp[h] < math.Log(1e-6) {
		return nil
	}
	var rest []float64
	for _, i := range c.others(h) {
		rest = append(rest, c.lp[i])
	}
	was, all := c.lp, logSum(rest)
	defer func() { c.lp = was }()
	c.lp, c.weight = make([]float64, len(was)), zeros(c.weight, len(c.lw))
	for i := range was {
		lost := all + math.Ln2 // half of the weight to either side
		if i == h {
			lost = was[h] + math.Ln2
		}
		c.lp[i] = was[i] - lost
		for k := c.off[i]; k < c.off[i+1]; k++ {
			c.weight[k] = math.Exp(c.lw[k] - lost)
		}
	}
	groups := make([]int, len(c.work))
	groups[h] = 1
	var t table
	best, most := -1, math.Inf(-1)
	for _, ch := range open {
		t.build(c, ch, groups, 2, whyCells)
		sum := 0.0
		for j := range t.cells {
			q, p := t.p[j]/t.group[0], t.p[t.cells+j]/t.group[1]
			if q > 0 && p > 0 {
				sum += q * math.Log(q/p)
			}
		}
		if sum > most {
			best, most = ch, sum
		}
	}
	if best < 0 {
		return nil
	}
	own, other := c.mixture(best, h), c.mixture(best, c.others(h)...)
	return &Refuter{
		Channel: b.channels[best].ID, Decibans: deciban * most, Minutes: b.minutes(best, setup),
		Expect: own.expected(&b.channels[best]), Else: other.expected(&b.channels[best]),
	}
}

// others are all hypotheses but h.
func (c *Case) others(h int) []int {
	var out []int
	for i := range c.work {
		if i != h {
			out = append(out, i)
		}
	}
	return out
}
