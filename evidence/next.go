package evidence

import (
	"fmt"
	"math"
	"slices"
)

// A Situation is how the car stands and what may be asked of the person at it.
type Situation struct {
	Setup string   // the set-up the car is in; going over to another costs its minutes
	Skip  []string // channels that are not to be proposed
}

// A Candidate is a reading that could be taken next.
type Candidate struct {
	Channel string
	// Bits is the expected gain about the remedy: the mutual information between
	// reading and remedy set, figures cut into 24 cells. Cutting can only lose,
	// so it is a lower bound of the model's; BitsErr is what cutting half as fine
	// would have lost in addition, which is more than is missing, since the loss
	// falls with the square of the cell.
	Bits, BitsErr float64
	Minutes       float64 // of the reading, with its set-up where the car is not in it
	BitsPerMinute float64 // Bits/Minutes; +Inf for a reading that costs nothing
	// Total is the expected time to the right remedy if this is read and then
	// the car is mended without another reading.
	Total float64
	// Ahead is the same with one more reading where that pays, and Then the
	// reading it would most often be; NaN and "" where it was not looked at.
	Ahead float64
	Then  string
}

// A Step is a remedy to try, when nothing more is read.
type Step struct {
	Remedy  string
	P       float64 // chance that the complaint is gone after it and not before
	Minutes float64
}

// A Choice is what to do next.
type Choice struct {
	// Stop: no reading is worth its time; begin with Steps[0].
	Stop bool
	// Reading is the channel to read next, "" for Stop.
	Reading string
	// Now is the expected time to the right remedy without another reading, Best
	// that with the reading chosen (Now for Stop).
	Now, Best float64
	Steps     []Step
	Ranked    []Candidate // all that may be read, the one chosen first, then by least time
}

// Next says what to do. The same case gives the same answer.
//
// For every channel not read since the last repair it finds the expected gain in
// bits (Lindley 1956) and the expected minutes to the right remedy: those of the
// reading, and for each of its outcomes those of the best order of remedies
// (Breese & Heckerman 1996). One step of that is short-sighted: two readings may
// pay together and neither alone. So the most promising are also looked at with
// a second reading behind them.
func (c *Case) Next(s Situation) (Choice, error) {
	b := c.bank
	open, err := c.offered(s)
	if err != nil {
		return Choice{}, err
	}
	c.spread()
	r := newRanker(c)
	out := Choice{Now: r.fix.minutes(r.prior)}
	out.Best, out.Steps = out.Now, r.steps()
	for _, ch := range open {
		cand := r.rank(ch)
		cand.Minutes = b.minutes(ch, s.Setup)
		cand.BitsPerMinute = cand.Bits / cand.Minutes
		if cand.Minutes == 0 {
			cand.BitsPerMinute = math.Inf(1)
		}
		cand.Total += cand.Minutes
		out.Ranked = append(out.Ranked, cand)
	}
	slices.SortStableFunc(out.Ranked, func(x, y Candidate) int { return falling(y.Total, x.Total) })
	r.lookAhead(&out, s)
	return out, nil
}

// offered lists the channels that may be proposed.
func (c *Case) offered(s Situation) ([]int, error) {
	skip := make([]bool, len(c.last))
	for _, id := range s.Skip {
		ch, ok := c.bank.channelAt[id]
		if !ok {
			return nil, fmt.Errorf("skipped channel %q: %w", id, ErrName)
		}
		skip[ch] = true
	}
	var open []int
	for ch, i := range c.last {
		if i < 0 && !skip[ch] {
			open = append(open, ch)
		}
	}
	return open, nil
}

func (b *Bank) minutes(ch int, setup string) float64 {
	c := &b.channels[ch]
	if c.Setup == "" || c.Setup == setup {
		return c.Minutes
	}
	return c.Minutes + c.SetupMinutes
}

// setupAfter is the set-up the car is in once ch is read.
func (b *Bank) setupAfter(ch int, setup string) string {
	if s := b.channels[ch].Setup; s != "" {
		return s
	}
	return setup
}

// spread writes the draws' weights.
func (c *Case) spread() {
	c.weight = zeros(c.weight, len(c.lw))
	for i, x := range c.lw {
		c.weight[i] = math.Exp(x)
	}
}

type ranker struct {
	c      *Case
	fix    *fixer
	tab    table
	groups []int
	prior  []float64 // p of each set
	col    []float64
	pair   []float64
}

func newRanker(c *Case) *ranker {
	n := len(c.bank.sets)
	r := &ranker{c: c, fix: newFixer(c.bank), prior: make([]float64, n), col: make([]float64, n)}
	for h := range c.work {
		s := c.bank.hyps[h].set
		r.groups = append(r.groups, s)
		r.prior[s] += math.Exp(c.lp[h])
	}
	return r
}

// rank fills in what a reading of ch gains and how long mending takes after it.
func (r *ranker) rank(ch int) Candidate {
	t := &r.tab
	t.build(r.c, ch, r.groups, len(r.prior), figureCells)
	cand := Candidate{Channel: r.c.bank.channels[ch].ID, Bits: t.bits(1), Ahead: math.NaN()}
	if !r.c.bank.channels[ch].YesNo {
		cand.BitsErr = max(0, cand.Bits-t.bits(2))
	}
	for j := range t.cells {
		for s := range r.col {
			r.col[s] = t.p[s*t.cells+j]
		}
		cand.Total += r.fix.minutes(r.col)
	}
	return cand
}

// steps is the order in which the fixer last tried its remedies.
func (r *ranker) steps() []Step {
	b := r.c.bank
	left := slices.Clone(r.fix.need)
	var out []Step
	for _, m := range r.fix.tried {
		st := Step{Remedy: b.remedies[m].ID, Minutes: b.remedies[m].Minutes}
		for _, s := range b.setsWith[m] {
			if left[s]--; left[s] == 0 {
				st.P += r.prior[s]
			}
		}
		out = append(out, st)
	}
	return out
}
