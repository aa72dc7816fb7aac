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
func (b *Bank) pairPrior(f, g *fault.Fault) float64 {
	total, both := b.weights()
	return math.Log(PairShare * total * f.PriorIn(b.set.Story) * g.PriorIn(b.set.Story) / total / both)
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
// moves is what that one alone makes of it; what both move, or neither alone,
// is read of a car that has both. So a pair costs what its faults have in
// common.
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
	b.set.Each(len(all), func(n int) {
		x := all[n]
		draws, err := b.pair(x.i, x.j, rows)
		errs[n] = err
		f, g := &b.Faults[x.i], &b.Faults[x.j]
		out[n] = evidence.Hypothesis{
			ID: PairID(f.ID, g.ID), Members: []string{f.ID, g.ID}, Draws: draws,
			LogPrior: b.pairPrior(f, g),
		}
		if b.set.Progress != nil {
			b.set.Progress(n+1, len(all))
		}
	})
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// pair reads the drawn cars with faults i and j.
func (b *Bank) pair(i, j int, rows [][][]float64) ([][]float64, error) {
	n := len(b.Measures)
	shared := make([]bool, n)
	any := false
	for m := range n {
		x, y := b.moved(rows, i, m), b.moved(rows, j, m)
		if x && y {
			shared[m], any = true, true
		}
	}
	draws := make([][]float64, b.Draws)
	var r *reader
	if any {
		var err error
		if r, err = b.newReader(); err != nil {
			return nil, err
		}
	}
	for k := range draws {
		row := make([]float64, n)
		for m := range n {
			switch {
			case b.moved(rows, i, m):
				row[m] = rows[1+i][k][m]
			default:
				row[m] = rows[1+j][k][m] // moved by j, or by neither
			}
		}
		if any {
			f, g, s, t := &b.Faults[i], &b.Faults[j], b.severity(i, k), b.severity(j, k)
			r.read(k, func(c *car.Car, in *car.Condition) { f.Apply(c, in, s); g.Apply(c, in, t) }, shared, row)
		}
		draws[k] = row
	}
	return draws, nil
}

// moved reports whether fault f moves measure m in any drawn car.
func (b *Bank) moved(rows [][][]float64, f, m int) bool {
	for k := range b.Draws {
		x, y := rows[0][k][m], rows[1+f][k][m]
		if x != y && !(math.IsNaN(x) && math.IsNaN(y)) {
			return true
		}
	}
	return false
}

// spread is the least, the middle and the greatest of figures, the outermost
// hundredths left out; 0, 0 and 1 where there are none.
func spread(all []float64) (lo, mid, hi float64) {
	if len(all) == 0 {
		return 0, 0, 1
	}
	slices.Sort(all)
	at := func(q float64) float64 { return all[int(q*float64(len(all)-1))] }
	return at(0.01), at(0.5), at(0.99)
}
