package suspect

import (
	"cmp"
	"math"
	"slices"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/measure"
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

// pairs works out the likeliest pairs of faults. What only one of two faults
// touches is what that one alone makes of it; what both touch is read of a car that
// has both. So a pair costs what its faults have in common.
func (b *Bank) pairs(rows [][][]float64) ([]evidence.Hypothesis, error) {
	type pair struct {
		i, j int
		p    float64
	}
	var all []pair
	for i := range b.Faults {
		for j := i + 1; j < len(b.Faults); j++ {
			x, y := &b.Faults[i], &b.Faults[j]
			if !fault.Compatible(x, y) {
				continue
			}
			all = append(all, pair{i, j, x.PriorIn(b.set.Story) * y.PriorIn(b.set.Story)})
		}
	}
	slices.SortStableFunc(all, func(x, y pair) int { return cmp.Compare(y.p, x.p) })
	all = all[:min(len(all), b.set.Pairs)]
	out := make([]evidence.Hypothesis, len(all))
	errs := make([]error, len(all))
	total, both := b.weights()
	batches := (len(all) + pairBatch - 1) / pairBatch // whose pairs share one set of networks
	b.set.Each(batches, func(batch int) {
		r, err := b.newReader()
		for n := batch * pairBatch; n < min((batch+1)*pairBatch, len(all)); n++ {
			if errs[n] = err; err != nil {
				continue
			}
			x := all[n]
			f, g := &b.Faults[x.i], &b.Faults[x.j]
			out[n] = b.pairOf(f, g, b.pair(r, x.i, x.j, rows), total, both)
			if b.set.Progress != nil {
				b.set.Progress(n+1, len(all))
			}
		}
	})
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// pairBatch is how many pairs are worked out with one set of networks.
const pairBatch = 10

// pair reads the drawn cars with faults i and j.
func (b *Bank) pair(r *reader, i, j int, rows [][][]float64) [][]float64 {
	n := len(b.Measures)
	shared, any := make([]bool, n), false
	for m := range n {
		shared[m] = b.touched[i][m] && b.touched[j][m]
		any = any || shared[m]
	}
	draws := make([][]float64, b.Draws)
	for k := range draws {
		row := make([]float64, n)
		for m := range n {
			row[m] = rows[1+j][k][m] // moved by j, or by neither
			if b.moved[i][m] {
				row[m] = rows[1+i][k][m]
			}
		}
		if any {
			f, g, s, t := &b.Faults[i], &b.Faults[j], b.severity(i, k), b.severity(j, k)
			r.read(k, func(c *car.Car, in *car.Condition) { fault.ApplyBoth(c, in, f, s, g, t) }, shared, row)
			for m := range row {
				if r.bench.Stuck() && b.Measures[m].Needs == measure.NeedsRunning {
					row[m] = math.NaN() // it runs with either alone
				}
			}
		}
		draws[k] = row
	}
	return draws
}

// How far a figure may move, in half-widths of its instrument, and a chance, and be
// taken as left alone: a solver that starts elsewhere ends a little elsewhere.
const (
	still       = 1e-4
	stillChance = 1e-10
)

// movedBy says which measures each fault moves in any drawn car: [fault][measure].
func (b *Bank) movedBy(rows [][][]float64) [][]bool {
	list := make([][]bool, len(b.Faults))
	for f := range list {
		list[f] = make([]bool, len(b.Measures))
		for m := range list[f] {
			for k := range b.Draws {
				x, y := rows[0][k][m], rows[1+f][k][m]
				if math.Abs(x-y) > b.still(m, x) || math.IsNaN(x) != math.IsNaN(y) {
					list[f][m] = true
					break
				}
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
