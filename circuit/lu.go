package circuit

// elimination is the sparse LU factorisation of a matrix of fixed pattern,
// turned once into a straight list of multiply-subtract steps. The order of
// pivots is fixed too: first the voltage-defined branches, each paired with a
// node of its own (pivots of exactly ±1), then the remaining nodes on the
// diagonal in order of least degree. What is left after the first part is a
// conductance matrix: off its diagonal are the conductances between nodes, on
// it their sum and what goes to ground. So a pivot need not be had by
// subtracting what has been eliminated: it is the sum of what still goes to
// other nodes and to ground, all of one sign, and every voltage is good to the
// last digits whatever leaks and dead shorts meet in the network [W. K.
// Grassmann, M. I. Taksar, D. P. Heyman, "Regenerative analysis and steady
// state distributions for Markov chains", Operations Research 33, 1985;
// reference from memory]. A pivot of nothing is a node that floats.
type elimination struct {
	n      int
	forced int     // how many pivots belong to branches
	row    []int32 // original row of pivot k
	col    []int32 // original column of pivot k
	pos    []int32 // n*n: where entry (r,c) lies in the value slice, -1 none
	nnz    int
	diag   []int32
	inv    []float64
	lower  []entry // by column k: value index and pivot-order row
	lowerK []int32 // start of column k in lower
	upper  []entry // by row k: value index and pivot-order column
	upperK []int32
	steps  []step // the updates of column entry after entry
	stepK  []int32
	y      []float64
	earth  []float64 // by pivot, conductance to ground
	pivots []pivotPlan
	lows   []lowPlan
}

// entry is a value of a factor and the pivot it belongs to.
type entry struct{ at, ix int32 }

// step is one multiply-subtract: value dst less the multiplier times value u.
type step struct{ dst, u int32 }

// pattern is a dense table of which entries of a matrix can be nonzero.
type pattern struct {
	n  int
	on []bool
}

func newPattern(n int) *pattern { return &pattern{n, make([]bool, n*n)} }

func (p *pattern) set(r, c int) { p.on[r*p.n+c] = true }

// pivot is a forced pivot position.
type pivot struct{ row, col int }

// eliminate works out the order and the steps. forced pivots come first, in
// the order given; the rest are diagonal, fewest operations first.
func eliminate(p *pattern, forced []pivot, wide bool) *elimination {
	n := p.n
	on := append([]bool(nil), p.on...)
	doneR, doneC := make([]bool, n), make([]bool, n)
	e := &elimination{n: n, forced: len(forced)}
	// How many pivots in a row an unknown has to wait for: with wide, of those
	// that cost the same the one that waits least comes first, so that a
	// processor can work on several chains at once.
	depth := make([]int, n)
	fill := func(r, c int) {
		doneR[r], doneC[c] = true, true
		e.row = append(e.row, int32(r))
		e.col = append(e.col, int32(c))
		for i := 0; i < n; i++ {
			if doneR[i] || !on[i*n+c] {
				continue
			}
			depth[i] = max(depth[i], depth[c]+1)
			for j := 0; j < n; j++ {
				if !doneC[j] && on[r*n+j] {
					on[i*n+j] = true
				}
			}
		}
	}
	for _, f := range forced {
		fill(f.row, f.col)
	}
	for len(e.row) < n {
		best, cost := -1, 0
		for k := 0; k < n; k++ {
			if doneR[k] || doneC[k] {
				continue
			}
			r, c := 0, 0
			for j := 0; j < n; j++ {
				if !doneC[j] && on[k*n+j] {
					r++
				}
				if !doneR[j] && on[j*n+k] {
					c++
				}
			}
			if m := (r - 1) * (c - 1); best < 0 || m < cost || wide && m == cost && depth[k] < depth[best] {
				best, cost = k, m
			}
		}
		on[best*n+best] = true
		fill(best, best)
	}
	// Value slots, in pivot order so that factoring walks forward in memory.
	e.pos = make([]int32, n*n)
	for i := range e.pos {
		e.pos[i] = -1
	}
	for k := 0; k < n; k++ {
		r := int(e.row[k])
		for j := 0; j < n; j++ {
			c := int(e.col[j])
			if on[r*n+c] {
				e.pos[r*n+c] = int32(e.nnz)
				e.nnz++
			}
		}
	}
	at := func(kr, kc int) int32 { return e.pos[int(e.row[kr])*n+int(e.col[kc])] }
	e.inv = make([]float64, n)
	e.y, e.earth = make([]float64, n), make([]float64, n)
	for k := 0; k < n; k++ {
		e.diag = append(e.diag, at(k, k))
		e.lowerK = append(e.lowerK, int32(len(e.lower)))
		e.upperK = append(e.upperK, int32(len(e.upper)))
		for j := k + 1; j < n; j++ {
			if a := at(k, j); a >= 0 {
				e.upper = append(e.upper, entry{a, int32(j)})
			}
		}
		for i := k + 1; i < n; i++ {
			l := at(i, k)
			if l < 0 {
				continue
			}
			e.lower = append(e.lower, entry{l, int32(i)})
			e.stepK = append(e.stepK, int32(len(e.steps)))
			for j := k + 1; j < n; j++ {
				if u := at(k, j); u >= 0 && (i != j || i < e.forced) {
					e.steps = append(e.steps, step{at(i, j), u})
				}
			}
		}
	}
	e.lowerK = append(e.lowerK, int32(len(e.lower)))
	e.upperK = append(e.upperK, int32(len(e.upper)))
	e.stepK = append(e.stepK, int32(len(e.steps)))
	e.plan()
	return e
}

// clone shares the steps and owns its scratch.
func (e *elimination) clone() *elimination {
	c := *e
	c.inv = make([]float64, e.n)
	c.y, c.earth = make([]float64, e.n), make([]float64, e.n)
	return &c
}

// factor overwrites v with its factors. It returns the pivot that vanished,
// or -1. earth holds, by original column, the conductance to ground.
func (e *elimination) factor(v, earth []float64) int {
	clear(e.y)
	return e.work(v, earth)
}

// factorSolve is factor and solve at once.
func (e *elimination) factorSolve(v, earth, b, x []float64) int {
	for k, r := range e.row {
		e.y[k] = b[r]
	}
	k := e.work(v, earth)
	if k < 0 {
		e.back(v, x)
	}
	return k
}

// work factors v along the plan and eliminates in y, a right-hand side in
// order of pivots.
func (e *elimination) work(v, earth []float64) int {
	y, h := e.y, e.earth
	steps, lows, upper := e.steps, e.lows, e.upper
	for k, c := range e.col {
		h[k] = earth[c]
	}
	m, at, up := 0, int32(0), int32(0)
	for k := range e.pivots {
		pv := &e.pivots[k]
		hk := h[k] // nothing for a branch
		p := hk
		if k < e.forced {
			p, up = v[pv.diag], pv.upEnd
		} else {
			for ; up < pv.upEnd; up++ {
				p -= v[upper[up].at]
			}
			if !(p > 0) {
				return k
			}
		}
		inv, yk := 1/p, y[k]
		e.inv[k] = inv
		for ; m < int(pv.end); m++ {
			low := &lows[m]
			l := v[low.at] * inv
			v[low.at] = l
			for ; at < low.end; at++ {
				s := &steps[at]
				v[s.dst] -= l * v[s.u]
			}
			y[low.ix] -= l * yk
			h[low.ix] -= l * hk
		}
	}
	return -1
}

// pivotPlan and lowPlan are the same order of work laid out for walking
// straight through: a pivot, and up to where the entries below and beside it
// reach; such an entry, its row, and up to where its steps reach.
type pivotPlan struct{ diag, end, upEnd int32 }

type lowPlan struct{ at, ix, end int32 }

// plan lays the work out.
func (e *elimination) plan() {
	for k := range e.n {
		e.pivots = append(e.pivots, pivotPlan{e.diag[k], e.lowerK[k+1], e.upperK[k+1]})
	}
	for m, low := range e.lower {
		e.lows = append(e.lows, lowPlan{low.at, low.ix, e.stepK[m+1]})
	}
}

// back finishes a solve whose right-hand side has been eliminated in y.
func (e *elimination) back(v, x []float64) {
	y, upper, at := e.y, e.upper, len(e.upper)
	for k := len(e.pivots) - 1; k >= 0; k-- {
		s := y[k]
		for start := int(e.upperK[k]); at > start; {
			at--
			u := &upper[at]
			s -= v[u.at] * y[u.ix]
		}
		s *= e.inv[k]
		y[k] = s
		x[e.col[k]] = s
	}
}

// solve writes x with A x = b; b and x may be the same slice.
func (e *elimination) solve(v, b, x []float64) {
	y := e.y
	for k, r := range e.row {
		y[k] = b[r]
	}
	for k := 0; k < e.n; k++ {
		yk := y[k]
		if yk == 0 {
			continue
		}
		for _, l := range e.lower[e.lowerK[k]:e.lowerK[k+1]] {
			y[l.ix] -= v[l.at] * yk
		}
	}
	e.back(v, x)
}

// solveT writes x with Aᵀ x = b.
func (e *elimination) solveT(v, b, x []float64) {
	y := e.y
	for k, c := range e.col {
		y[k] = b[c]
	}
	for k := 0; k < e.n; k++ {
		y[k] *= e.inv[k]
		yk := y[k]
		for _, u := range e.upper[e.upperK[k]:e.upperK[k+1]] {
			y[u.ix] -= v[u.at] * yk
		}
	}
	for k := e.n - 1; k >= 0; k-- {
		s := y[k]
		for _, l := range e.lower[e.lowerK[k]:e.lowerK[k+1]] {
			s -= v[l.at] * y[l.ix]
		}
		y[k] = s
	}
	for k, r := range e.row {
		x[r] = y[k]
	}
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
