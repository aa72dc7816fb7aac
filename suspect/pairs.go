package suspect

import (
	"cmp"
	"math"
	"slices"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/fault"
)

// PairID is the id of the hypothesis that two faults are there at once.
func PairID(a, b string) string {
	if b < a {
		a, b = b, a
	}
	return a + " + " + b
}

// pairPrior is the log weight of a pair.
func (b *Bank) pairPrior(f, g *fault.Fault, total, both float64) float64 {
	return math.Log(PairShare * total * f.PriorIn(b.set.Story) * g.PriorIn(b.set.Story) / total / both)
}

// pairOf is the hypothesis that both faults are there, with what such cars show.
func (b *Bank) pairOf(f, g *fault.Fault, draws [][]float64, total, both float64) evidence.Hypothesis {
	return evidence.Hypothesis{
		ID: PairID(f.ID, g.ID), Members: []string{f.ID, g.ID}, Draws: draws,
		LogWeights: b.felt(draws, nil), LogPrior: b.pairPrior(f, g, total, both),
	}
}

// weights are the cases of all faults together, and of all pairs before they
// are brought to their share.
func (b *Bank) weights() (total, both float64) {
	for i := range b.Faults {
		total += b.Faults[i].PriorIn(b.set.Story)
	}
	for i := range b.Faults {
		for j := i + 1; j < len(b.Faults); j++ {
			if fault.Compatible(&b.Faults[i], &b.Faults[j]) {
				both += b.Faults[i].PriorIn(b.set.Story) * b.Faults[j].PriorIn(b.set.Story) / total
			}
		}
	}
	return total, both
}

// pair is two faults, by their places in the bank.
type pair struct{ i, j int }

// pairs works out the likeliest pairs of faults.
func (b *Bank) pairs() ([]evidence.Hypothesis, error) {
	var all []pair
	for i := range b.Faults {
		for j := i + 1; j < len(b.Faults); j++ {
			if fault.Compatible(&b.Faults[i], &b.Faults[j]) {
				all = append(all, pair{i, j})
			}
		}
	}
	likely := func(x pair) float64 { return b.Faults[x.i].PriorIn(b.set.Story) * b.Faults[x.j].PriorIn(b.set.Story) }
	slices.SortStableFunc(all, func(x, y pair) int { return cmp.Compare(likely(y), likely(x)) })
	all = all[:min(len(all), b.set.Pairs)]
	draws, err := b.both(all, b.set.Progress)
	if err != nil {
		return nil, err
	}
	return b.pairsOf(all, draws), nil
}

// pairsOf are the hypotheses that both faults of a pair are there.
func (b *Bank) pairsOf(list []pair, draws [][][]float64) []evidence.Hypothesis {
	total, both := b.weights()
	out := make([]evidence.Hypothesis, len(list))
	for n, x := range list {
		out[n] = b.pairOf(&b.Faults[x.i], &b.Faults[x.j], draws[n], total, both)
	}
	return out
}

// both reads the drawn cars with both faults of each pair: [pair][draw][measure].
// All of every car is solved: what neither fault moves, or one alone, the two may
// move together, as where a chance comes to its edge, an arc stands between the
// points or a current flows only with both.
func (b *Bank) both(list []pair, progress func(done, of int)) ([][][]float64, error) {
	return b.readAll(len(list), func(n, k int) func(c *car.Car, in *car.Condition) {
		i, j := list[n].i, list[n].j
		f, g, s, t := &b.Faults[i], &b.Faults[j], b.severity(i, k), b.severity(j, k)
		return func(c *car.Car, in *car.Condition) { fault.ApplyBoth(c, in, f, s, g, t) }
	}, progress)
}

// How far a figure may move, in half-widths of its instrument, and a chance, and be
// taken as left alone: a solver that starts elsewhere ends a little elsewhere.
const (
	still       = 1e-4
	stillChance = 1e-10
)

// moves says which measures fault i moves in any drawn car.
func (b *Bank) moves(i int, rows [][][]float64) []bool {
	list := make([]bool, len(b.Measures))
	for m := range list {
		for k := range b.Draws {
			x, y := rows[0][k][m], rows[1+i][k][m]
			if math.Abs(x-y) > b.still(m, x) || math.IsNaN(x) != math.IsNaN(y) {
				list[m] = true
				break
			}
		}
	}
	return list
}

// still is how far measure m may move from x and be taken as left alone.
func (b *Bank) still(m int, x float64) float64 {
	if f := &b.Measures[m]; !f.Observation && !math.IsNaN(x) {
		return still * f.Accuracy(x)
	}
	return stillChance
}

// spread is the least, the middle and the greatest of figures; 0, 0 and 1 where
// there are none.
func spread(all []float64) (lo, mid, hi float64) {
	if len(all) == 0 {
		return 0, 0, 1
	}
	slices.Sort(all)
	return all[0], all[len(all)/2], all[len(all)-1]
}
