package suspect

import (
	"slices"
	"sync"

	"dwellwright/evidence"
	"dwellwright/fault"
)

// Limits of what Refine adds.
const (
	refinePairs = 24   // pairs added at a time
	mostPairs   = 200  // in all, so that with the bank's a reading still takes under 50 ms and the next under 200
	startled    = 0.10 // chance of what the model does not know from which pairs are looked for
	amongFirst  = 10   // faults whose pairs are looked at
	atOnce      = 6    // hypotheses given further draws at a time, that others may have their turn
	mostExtra   = 1500 // pairs drawn for a case that a bank keeps
)

// extra keeps the pairs that were drawn for one case, since the next case of the
// bank may need them too. What is kept never depends on the case.
type extra struct {
	lock  sync.Mutex
	draws map[string][][]float64
}

func newExtra() *extra { return &extra{draws: map[string][][]float64{}} }

// get finds the draws of a pair, nil where there are none.
func (x *extra) get(id string) [][]float64 {
	x.lock.Lock()
	defer x.lock.Unlock()
	return x.draws[id]
}

func (x *extra) put(id string, draws [][]float64) {
	x.lock.Lock()
	defer x.lock.Unlock()
	if len(x.draws) < mostExtra {
		x.draws[id] = draws
	}
}

// bothKept is [Bank.both] of pairs of which some may have been drawn for a case
// before.
func (b *Bank) bothKept(list []pair) ([][][]float64, error) {
	draws := make([][][]float64, len(list))
	var missing []pair
	var at []int // their places in the list
	id := func(x pair) string { return PairID(b.Faults[x.i].ID, b.Faults[x.j].ID) }
	for n, x := range list {
		if draws[n] = b.extra.get(id(x)); draws[n] == nil {
			missing, at = append(missing, x), append(at, n)
		}
	}
	drawn, err := b.both(missing, nil)
	if err != nil {
		return nil, err
	}
	for m, n := range at {
		draws[n] = drawn[m]
		b.extra.put(id(list[n]), drawn[m])
	}
	return draws, nil
}

// Refine makes the answer better where the readings have left few draws to
// carry it, and looks for pairs of faults where no single one explains what
// was read. It reports whether anything was added; call it after a reading,
// when there is time, until it reports false.
func (c *Case) Refine() (bool, error) {
	p := c.work.Posterior()
	if p.Unknown > startled {
		added, err := c.addPairs(p)
		if err != nil {
			return false, err
		}
		if added {
			c.replay()
			return true, nil
		}
	}
	done := 0
	for _, n := range c.work.NeedsDraws() {
		ok, err := c.addNearer(n.ID)
		if err != nil {
			return done > 0, err
		}
		if ok {
			if done++; done == atOnce {
				break
			}
		}
	}
	if done > 0 {
		c.replay()
	}
	return done > 0, nil
}

// addPairs adds the pairs of the likeliest faults that are not in the model.
func (c *Case) addPairs(p evidence.Posterior) (bool, error) {
	have := map[string]bool{}
	for i := range c.model.Hypotheses {
		have[c.model.Hypotheses[i].ID] = true
	}
	var first []int
	for _, m := range p.Members {
		if i := c.Bank.faultAt(m.ID); i >= 0 && len(first) < amongFirst {
			first = append(first, i)
		}
	}
	var list []pair
	for a, i := range first {
		for _, j := range first[a+1:] {
			x := pair{min(i, j), max(i, j)}
			f, g := &c.Bank.Faults[x.i], &c.Bank.Faults[x.j]
			if have[PairID(f.ID, g.ID)] || !fault.Compatible(f, g) || c.looked+len(list) >= mostPairs || len(list) >= refinePairs {
				continue
			}
			list = append(list, x)
		}
	}
	if len(list) == 0 {
		return false, nil
	}
	draws, err := c.Bank.bothKept(list)
	if err != nil {
		return false, err
	}
	c.looked += len(list)
	c.model.Hypotheses = append(slices.Clip(c.model.Hypotheses), c.Bank.pairsOf(list, draws)...)
	return true, nil
}

// Faults that a repair may have mended, whose company is looked at.
const (
	besideP    = 0.05
	mostBeside = 3
)

// addBesides adds, for the likeliest faults that the remedies mend, the pairs
// with every other fault that are not in the model. They are put together of what
// each of the two shows alone, without a look at the car with both: where both
// move a reading, it shows what the one to be mended makes of it.
func (c *Case) addBesides(remedies []string) bool {
	have := map[string]bool{}
	for i := range c.model.Hypotheses {
		have[c.model.Hypotheses[i].ID] = true
	}
	rows := c.Bank.rows()
	total, both := c.Bank.weights()
	var added []evidence.Hypothesis
	done := 0
	for _, m := range c.work.Posterior().Members {
		i := c.Bank.faultAt(m.ID)
		if m.P < besideP || done == mostBeside {
			break
		}
		if i < 0 || !slices.Contains(remedies, c.Bank.Faults[i].Remedy.ID) {
			continue
		}
		done++
		f, moved := &c.Bank.Faults[i], c.Bank.moves(i, rows)
		for j := range c.Bank.Faults {
			g := &c.Bank.Faults[j]
			id := PairID(f.ID, g.ID)
			if have[id] || !fault.Compatible(f, g) {
				continue
			}
			have[id] = true
			draws := make([][]float64, c.Bank.Draws)
			for k := range draws {
				draws[k] = slices.Clone(rows[1+j][k])
				for n := range moved {
					if moved[n] {
						draws[k][n] = rows[1+i][k][n]
					}
				}
			}
			added = append(added, c.Bank.pairOf(f, g, draws, total, both))
		}
	}
	c.model.Hypotheses = append(slices.Clip(c.model.Hypotheses), added...)
	return len(added) > 0
}

// rows are the draws of the healthy car and of each fault alone.
func (b *Bank) rows() [][][]float64 {
	rows := make([][][]float64, 1+len(b.Faults))
	for i := range rows {
		rows[i] = b.model.Hypotheses[i].Draws
	}
	return rows
}
