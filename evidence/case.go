package evidence

import (
	"fmt"
	"math"
	"slices"
)

// A Case is a car under diagnosis: the readings taken, the repairs done, and
// what they make of every draw. One goroutine at a time.
type Case struct {
	bank   *Bank
	work   []view
	off    []int     // hypothesis h owns lw[off[h]:off[h+1]]
	lw     []float64 // log weight of each draw; all weights sum to 1
	lp     []float64 // log probability of each hypothesis
	start  []float64 // lp as the last repair left it
	weight []float64 // exp(lw), for ranking
	taken  []taken
	events []event
	last   []int // per channel, the reading that counts, or -1
	epoch  int
	pad    scratch
}

// A view is a cloud as the readings have left it. Its kernel's covariance, in
// widths d, is the bank's correlation less what each reading took off: few readings
// are taken, so that is little to keep and little to work out.
type view struct {
	n    int
	f    []float64
	v    []float64 // variance of each channel, the covariance's diagonal
	less []taking
	d, p []float64 // always the bank's
	own  bool      // f and v are the case's own, not the bank's
}

// A taking is by how much a reading lessened a covariance: share·row·rowᵀ.
type taking struct {
	share float64
	row   []float64
}

// spareRow is a row of noughts: that of a taking that was taken back, if there is one.
func (v *view) spareRow(n int) []float64 {
	if len(v.less) < cap(v.less) {
		return zeros(v.less[:len(v.less)+1][len(v.less)].row, n)
	}
	return make([]float64, n)
}

// covariance is that of channels a and b, which are not one.
func (v *view) covariance(a, b int) float64 {
	x := v.p[half(a, b)]
	for i := range v.less {
		t := &v.less[i]
		x -= t.share * t.row[a] * t.row[b]
	}
	return x
}

type taken struct {
	Reading
	epoch   int
	counts  bool      // no later reading stands in for it
	gain    []float64 // per hypothesis, log predictive density in z
	slipped []float32 // per draw, chance that it was a slip; nil once a repair has closed its epoch
	slip    float64   // the chance overall, as the repair left it
}

// An event is a reading or a repair, kept so that a case can be worked out anew.
type event struct {
	reading Reading
	repair  *Repair
}

type scratch struct {
	ll, move []float64
}

// Open starts a case with no reading taken.
func (b *Bank) Open() *Case {
	c := &Case{bank: b, last: make([]int, len(b.channels))}
	c.reset()
	return c
}

// reset puts the case before its first event; buffers are kept.
func (c *Case) reset() {
	b := c.bank
	if len(c.work) != len(b.hyps) {
		c.work = make([]view, len(b.hyps))
		c.off = make([]int, len(b.hyps)+1)
		c.lp, c.start = make([]float64, len(b.hyps)), make([]float64, len(b.hyps))
	}
	for h := range b.hyps {
		c.restore(h)
		c.off[h+1] = c.off[h] + b.hyps[h].cloud.n
	}
	total := c.off[len(b.hyps)]
	if cap(c.lw) < total {
		c.lw = make([]float64, total)
		c.pad.ll, c.pad.move = make([]float64, total), make([]float64, total)
	}
	c.lw = c.lw[:total]
	for h := range b.hyps {
		c.lp[h] = b.hyps[h].prior
		for k := range b.hyps[h].cloud.n {
			c.lw[c.off[h]+k] = c.lp[h] + b.hyps[h].logShare(k)
		}
	}
	c.taken, c.epoch = c.taken[:0], 0
	c.begin()
}

// begin starts an epoch: every channel may be read.
func (c *Case) begin() {
	copy(c.start, c.lp)
	for i := range c.last {
		c.last[i] = -1
	}
}

// restore gives hypothesis h the predictions of the bank again.
func (c *Case) restore(h int) {
	v, cl := &c.work[h], c.bank.hyps[h].cloud
	if v.own && v.n == cl.n {
		copy(v.f, cl.f)
		copy(v.v, cl.v)
		v.d, v.p, v.less = cl.d, cl.p, v.less[:0]
		return
	}
	*v = view{n: cl.n, f: cl.f, v: cl.v, d: cl.d, p: cl.p}
}

// ownView makes the view of hypothesis h one that may be written to.
func (c *Case) ownView(h int) *view {
	v := &c.work[h]
	if !v.own {
		v.f, v.v, v.own = slices.Clone(v.f), slices.Clone(v.v), true
	}
	return v
}

// Take adds a reading. A channel read again since the last repair stands in for
// the earlier reading; where both agree within their half-widths a slip in it is
// as unlikely as the same slip twice.
func (c *Case) Take(r Reading) error {
	t, err := c.bank.read(r)
	if err != nil {
		return err
	}
	c.events = append(c.events, event{reading: r})
	if c.last[t.ch] >= 0 {
		c.replay()
		return nil
	}
	c.taken = append(c.taken, taken{Reading: r, epoch: c.epoch})
	c.take(len(c.taken)-1, t)
	return nil
}

// Forget takes back reading i, as counted by [Case.Taken].
func (c *Case) Forget(i int) error {
	if i < 0 || i >= len(c.taken) {
		return fmt.Errorf("reading %d of %d: %w", i, len(c.taken), ErrName)
	}
	seen := 0
	for j, e := range c.events {
		if e.repair != nil {
			continue
		}
		if seen == i {
			c.events = append(c.events[:j:j], c.events[j+1:]...)
			break
		}
		seen++
	}
	c.replay()
	return nil
}

// replay works the case out anew from its events. Of several readings of one
// channel between two repairs the last counts, weighed in the place of the first.
func (c *Case) replay() {
	c.reset()
	epoch := 0
	at := make([]int, len(c.events)) // index in taken
	for i, e := range c.events {
		at[i] = len(c.taken)
		if e.repair != nil {
			epoch++
			continue
		}
		c.taken = append(c.taken, taken{Reading: e.reading, epoch: epoch})
	}
	for i, e := range c.events {
		if e.repair != nil {
			c.mend(e.repair)
			continue
		}
		if t, _ := c.bank.read(e.reading); c.last[t.ch] >= 0 {
			continue
		}
		last := i
		for j := i + 1; j < len(c.events) && c.events[j].repair == nil; j++ {
			if c.events[j].reading.Channel == e.reading.Channel {
				last = j
			}
		}
		t, _ := c.bank.read(c.events[last].reading)
		for j := i; j < last; j++ {
			if c.events[j].reading.Channel != e.reading.Channel {
				continue
			}
			if earlier, _ := c.bank.read(c.events[j].reading); alike(&t, &earlier) {
				t.slip *= t.slip
				break
			}
		}
		c.take(at[last], t)
	}
}

// alike tells whether two readings of one channel say the same.
func alike(a, b *typed) bool {
	return a.kind == b.kind && (a.kind != Figure || math.Abs(a.z-b.z) <= half95*(math.Sqrt(a.s2)+math.Sqrt(b.s2)))
}

// take weighs reading i, which counts, and notes what it did.
func (c *Case) take(i int, t typed) {
	n := &c.taken[i]
	n.counts, n.gain, n.slipped = true, make([]float64, len(c.lp)), make([]float32, len(c.lw))
	c.weigh(&t, n.gain, n.slipped)
	c.last[t.ch] = i
}
