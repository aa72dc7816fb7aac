package evidence

import "math"

// A table is the joint probability of a group of hypotheses and of what a
// channel may show, in cells. The last cell is that it cannot be had.
type table struct {
	cells int
	edges []float64 // upper edges of all figure cells but the last
	p     []float64 // p[g·cells+j]
	group []float64 // p of the group
	col   []float64 // p of the cell

	wide []float64 // per group, weight that may show anything

	lo, unit float64 // bins begin at lo, unit to each z
	bins     []float64
	at       []int // per bin, the first edge beyond its left end
}

// figureCells is into how many cells a figure's outcomes are cut for ranking,
// lookCells for the look-ahead, whyCells for weighing what would refute: decibans
// hang on what one side finds rare.
const (
	figureCells = 24
	lookCells   = 8
	whyCells    = 48
	binCount    = 512
	faint       = 1e-9 // draws of less weight do not count
	edgeReach   = 4.0  // standard deviations beyond which a cell is not looked at
)

// build fills the table for channel ch; groups[h] is the group of hypothesis h.
func (t *table) build(c *Case, ch int, groups []int, n, figures int) {
	b := c.bank
	t.cells = figures + 1
	if b.channels[ch].YesNo {
		t.cells = 3
	}
	t.p, t.col = zeros(t.p, n*t.cells), zeros(t.col, t.cells)
	t.group, t.wide = zeros(t.group, n), zeros(t.wide, n)
	for h := range c.work {
		t.group[groups[h]] += math.Exp(c.lp[h])
	}
	if b.channels[ch].YesNo {
		t.fillYesNo(c, ch, groups)
	} else {
		t.cut(c, ch, groups)
		t.fill(c, ch, groups)
	}
	for g := range n {
		for j := range t.cells {
			t.col[j] += t.p[g*t.cells+j]
		}
	}
}

func zeros(x []float64, n int) []float64 {
	if cap(x) < n {
		return make([]float64, n)
	}
	x = x[:n]
	clear(x)
	return x
}

// cut places the edges where the predictions are densest, a group counting as
// the root of its probability so that a rare one is resolved too.
func (t *table) cut(c *Case, ch int, groups []int) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for h := range c.work {
		v := &c.work[h]
		pcc, d := v.v[ch], v.d[ch*v.n:(ch+1)*v.n]
		w := c.weight[c.off[h]:c.off[h+1]]
		for k, f := range v.f[ch*v.n : (ch+1)*v.n] {
			if w[k] > faint && !math.IsNaN(f) {
				sd := math.Sqrt(1 + pcc*d[k]*d[k])
				lo, hi = min(lo, f-4*sd), max(hi, f+4*sd)
			}
		}
	}
	t.edges = t.edges[:0]
	if !(hi > lo) {
		lo, hi = -3, 3
	}
	t.bins = zeros(t.bins, binCount)
	unit := (binCount - 2) / (hi - lo)
	t.lo, t.unit = lo, unit
	for h := range c.work {
		v := &c.work[h]
		g := t.group[groups[h]]
		if g <= faint {
			continue
		}
		flat := 1 / math.Sqrt(g)
		pcc, d := v.v[ch], v.d[ch*v.n:(ch+1)*v.n]
		w := c.weight[c.off[h]:c.off[h+1]]
		for k, f := range v.f[ch*v.n : (ch+1)*v.n] {
			if !(w[k] > faint) || math.IsNaN(f) {
				continue
			}
			// A kernel counts as two boxes, one over the other: its density is
			// added where a box begins and taken off where it ends.
			x, sd := flat*w[k], math.Sqrt(1+pcc*d[k]*d[k])
			t.box(f-2*sd, f+2*sd, 2*x)
			t.box(f-4*sd, f+4*sd, x)
		}
	}
	sum, x := 0.0, 0.0
	for i, d := range t.bins {
		x += d
		t.bins[i] = max(0, x)
		sum += t.bins[i]
	}
	figures := t.cells - 1
	run, j := 0.0, 1
	for i, x := range t.bins {
		for j < figures && x > 0 && run+x >= sum*float64(j)/float64(figures) {
			t.edges = append(t.edges, lo+(float64(i)+(sum*float64(j)/float64(figures)-run)/x)/unit)
			j++
		}
		run += x
	}
	for len(t.edges) < figures-1 {
		t.edges = append(t.edges, hi)
	}
	if len(t.at) != binCount {
		t.at = make([]int, binCount)
	}
	e := 0
	for i := range t.at {
		for e < len(t.edges) && t.edges[e] <= lo+float64(i)/unit {
			e++
		}
		t.at[i] = e
	}
}

// box adds the steps of a box of area x to bins.
func (t *table) box(from, to, x float64) {
	i, j := int((from-t.lo)*t.unit), int((to-t.lo)*t.unit)+1
	x /= float64(j - i)
	t.bins[i] += x
	t.bins[j] -= x
}

// first is an edge at or below which nothing of a kernel reaching down to z lies.
func (t *table) first(z float64) int {
	i := (z - t.lo) * t.unit
	if !(i > 0) {
		return 0
	}
	return t.at[min(int(i), binCount-1)]
}

func (t *table) fill(c *Case, ch int, groups []int) {
	b := c.bank
	last := t.cells - 1
	slip := b.channels[ch].slip
	for h := range c.work {
		g := groups[h]
		if t.group[g] <= faint {
			continue
		}
		v, upset := &c.work[h], b.hyps[h].upset
		pcc, width := v.v[ch], v.d[ch*v.n:(ch+1)*v.n]
		right := (1 - upset) * (1 - couldNotAnyway) * (1 - slip)
		row := t.p[g*t.cells : (g+1)*t.cells]
		w := c.weight[c.off[h]:c.off[h+1]]
		for k, f := range v.f[ch*v.n : (ch+1)*v.n] {
			x := w[k]
			if x <= faint {
				continue
			}
			if math.IsNaN(f) {
				cannot := x * ((1-upset)*(1-hadAnyway) + upset*couldNotUpset)
				row[last] += cannot
				t.wide[g] += x - cannot
				continue
			}
			cannot := x * ((1-upset)*couldNotAnyway + upset*couldNotUpset)
			row[last] += cannot
			y := x * right
			t.wide[g] += x - cannot - y
			sd := math.Sqrt(1 + pcc*width[k]*width[k])
			inv := 1 / sd
			e, before := t.first(f-edgeReach*sd), 0.0
			for ; e < len(t.edges); e++ {
				d := (t.edges[e] - f) * inv
				if d > edgeReach {
					break
				}
				below := b.noise.below(d)
				row[e] += y * (below - before)
				before = below
			}
			row[e] += y * (1 - before)
		}
	}
	s := &b.channels[ch].scale
	for g, x := range t.wide {
		if x <= 0 {
			continue
		}
		before := 0.0
		for e, z := range t.edges {
			below := s.broadBelow(z)
			t.p[g*t.cells+e] += x * (below - before)
			before = below
		}
		t.p[g*t.cells+len(t.edges)] += x * (1 - before)
	}
}

func (t *table) fillYesNo(c *Case, ch int, groups []int) {
	b := c.bank
	slip := b.channels[ch].slip
	for h := range c.work {
		v, upset := &c.work[h], b.hyps[h].upset
		row := t.p[groups[h]*3 : groups[h]*3+3]
		w := c.weight[c.off[h]:c.off[h+1]]
		for k, q := range v.f[ch*v.n : (ch+1)*v.n] {
			cannot := (1-upset)*couldNotAnyway + upset*couldNotUpset
			yes := (1-upset)*(1-couldNotAnyway)*((1-slip)*q+slip*(1-q)) + upset*(1-couldNotUpset)/2
			if math.IsNaN(q) {
				cannot = (1-upset)*(1-hadAnyway) + upset*couldNotUpset
				yes = (1 - cannot) / 2
			}
			row[0] += w[k] * (1 - cannot - yes)
			row[1] += w[k] * yes
			row[2] += w[k] * cannot
		}
	}
}

// bits is the mutual information between group and cell, cells taken as many
// together as step says.
func (t *table) bits(step int) float64 {
	sum := 0.0
	for g, pg := range t.group {
		if pg <= faint {
			continue
		}
		row := t.p[g*t.cells : (g+1)*t.cells]
		for j := 0; j < t.cells; j += step {
			p, q := row[j], t.col[j]
			if step > 1 && t.cells > 3 {
				for i := j + 1; i < min(j+step, t.cells-1); i++ {
					p += row[i]
					q += t.col[i]
				}
			}
			if p > 0 {
				sum += p * math.Log2(p/(pg*q))
			}
		}
	}
	return max(0, sum)
}
