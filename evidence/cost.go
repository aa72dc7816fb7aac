package evidence

import "slices"

// A fixer works out how long it takes to put the car right when nothing more is
// read: the remedies are tried one after the other, each checked, in falling
// order of probability per minute, which is the best order for single faults
// (Heckerman, Breese & Rommelse 1995; Kadane & Simon 1977). A pair's remedies
// stand where the pair stands; one already done costs nothing again, and a pair
// is mended as soon as both its remedies are done.
type fixer struct {
	bank  *Bank
	order []ranked
	left  []int  // per set, remedies still to do
	need  []int  // left before anything is done
	done  []bool // per remedy
	tried []int  // remedies in the order tried
}

type ranked struct {
	ratio float64
	set   int
}

// rare is the probability below which a set of remedies is not placed in the
// order by itself; what is left of such sets at the end costs their mean minutes.
const rare = 1e-4

func newFixer(b *Bank) *fixer {
	f := &fixer{bank: b, left: make([]int, len(b.sets)), need: make([]int, len(b.sets)), done: make([]bool, len(b.remedies))}
	for s := range b.sets {
		f.need[s] = len(b.sets[s].remedies)
	}
	return f
}

// minutes is the expected time to the right remedy for probabilities p of the
// sets, which need not sum to 1: the result is in minutes times their sum.
func (f *fixer) minutes(p []float64) float64 {
	b := f.bank
	total, mean := 0.0, 0.0
	for s, x := range p {
		total += x
		mean += x * b.sets[s].minutes
	}
	f.tried = f.tried[:0]
	if total <= 0 {
		return 0
	}
	f.order = f.order[:0]
	for s, x := range p {
		if x > rare*total {
			f.order = append(f.order, ranked{x / b.sets[s].minutes, s})
		}
	}
	slices.SortFunc(f.order, func(x, y ranked) int {
		switch {
		case x.ratio > y.ratio:
			return -1
		case x.ratio < y.ratio:
			return 1
		}
		return x.set - y.set
	})
	copy(f.left, f.need)
	clear(f.done)
	cost, open := 0.0, total
	for _, o := range f.order {
		for _, r := range b.sets[o.set].remedies {
			if f.done[r] {
				continue
			}
			f.done[r] = true
			f.tried = append(f.tried, r)
			cost += open * b.remedies[r].Minutes
			for _, s := range b.setsWith[r] {
				if f.left[s]--; f.left[s] == 0 {
					open -= p[s]
				}
			}
		}
	}
	if open > 0 {
		cost += open * mean / total
	}
	return cost
}

// floor is the expected time were the right remedy known at once: no reading can
// bring minutes below it.
func (f *fixer) floor(p []float64) float64 {
	sum := 0.0
	for s, x := range p {
		sum += x * f.bank.sets[s].minutes
	}
	return sum
}
