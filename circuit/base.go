package circuit

// base is the part of a matrix that does not change from one iteration to the
// next: the branches, and the elements of constant conductance. When the
// conductance of one of them changes, only the entries it is part of are
// summed anew, from what they consist of, so that nothing drifts.
type base struct {
	val     []float64 // matrix entries
	ground  []float64 // by unknown, conductance to ground
	g       []float64 // by element, as summed last
	part    []bool    // by element, whether it is one of them
	waiting []int32   // elements to be summed anew
	waits   []bool

	branch          []float64 // by entry, what voltage-defined branches put there
	inVal, inGround shares
}

// shares lists, for each entry, the elements whose conductance is in it.
type shares struct {
	start []int32
	elem  []int32
	sign  []float64
}

// sum adds up an entry.
func (h *shares) sum(k int32, g []float64) float64 {
	var s float64
	for j := h.start[k]; j < h.start[k+1]; j++ {
		s += h.sign[j] * g[h.elem[j]]
	}
	return s
}

// newShares turns lists by entry into one.
func newShares(by [][]share) shares {
	h := shares{start: make([]int32, 0, len(by)+1)}
	for _, list := range by {
		h.start = append(h.start, int32(len(h.elem)))
		for _, x := range list {
			h.elem, h.sign = append(h.elem, x.elem), append(h.sign, x.sign)
		}
	}
	h.start = append(h.start, int32(len(h.elem)))
	return h
}

type share struct {
	elem int32
	sign float64
}

// newBase lists what the base of y consists of. Everything waits.
func newBase(net *Network, y *system) base {
	n := len(net.elems)
	b := base{
		val: make([]float64, y.elim.nnz+1), ground: make([]float64, y.n+1), g: make([]float64, n), part: make([]bool, n),
		waiting: make([]int32, 0, n), waits: make([]bool, n), branch: make([]float64, y.elim.nnz+1),
	}
	dump := int32(y.elim.nnz)
	val, ground := make([][]share, y.elim.nnz+1), make([][]share, y.n+1)
	for i := range net.elems {
		e, t := &net.elems[i], &y.stamp[i]
		if y.branch[i] >= 0 {
			b.branch[t.aa]++
			b.branch[t.ab]++
			b.branch[t.bb]--
			b.branch[t.ba]--
			continue
		}
		if !conducts(e.kind) || isDevice(e.kind) || y.mode == atDC && e.kind == KindResistor && e.p[3] > 0 {
			continue
		}
		b.part[i] = true
		for _, x := range [...]struct {
			at   int32
			sign float64
		}{{t.aa, 1}, {t.bb, 1}, {t.ab, -1}, {t.ba, -1}} {
			if x.at != dump {
				val[x.at] = append(val[x.at], share{int32(i), x.sign})
			}
		}
		if at := y.earth[i]; int(at) < y.n {
			ground[at] = append(ground[at], share{int32(i), 1})
		}
	}
	b.inVal, b.inGround = newShares(val), newShares(ground)
	b.start()
	return b
}

// start sets the entries to the branches alone and lets every element wait.
func (b *base) start() {
	copy(b.val, b.branch)
	clear(b.ground)
	clear(b.g)
	clear(b.waits)
	b.waiting = b.waiting[:0]
	for i := range b.part {
		b.wait(int32(i))
	}
}

// clone shares the lists and owns its entries.
func (b *base) clone() base {
	c := *b
	c.val, c.ground, c.g = make([]float64, len(b.val)), make([]float64, len(b.ground)), make([]float64, len(b.g))
	c.waiting, c.waits = make([]int32, 0, len(b.g)), make([]bool, len(b.g))
	c.start()
	return c
}

// wait notes that the conductance of an element may have changed.
func (b *base) wait(i int32) {
	if b.part[i] && !b.waits[i] {
		b.waits[i] = true
		b.waiting = append(b.waiting, i)
	}
}

// bring brings the base up to date.
func (s *system) bring(elems []element) {
	b := &s.base
	changed := b.waiting[:0]
	for _, i := range b.waiting {
		b.waits[i] = false
		if g := elems[i].conductance(); g != b.g[i] {
			b.g[i] = g
			changed = append(changed, i)
		}
	}
	dump := int32(s.elim.nnz)
	for _, i := range changed {
		t := &s.stamp[i]
		b.entry(t.aa, dump)
		b.entry(t.bb, dump)
		if t.ab != dump { // the two of a pair are one and the same
			b.entry(t.ab, dump)
			b.val[t.ba] = b.val[t.ab]
		}
		if at := s.earth[i]; int(at) < s.n {
			b.ground[at] = b.inGround.sum(at, b.g)
		}
	}
	b.waiting = b.waiting[:0]
}

// entry sums an entry anew.
func (b *base) entry(at, dump int32) {
	if at != dump {
		b.val[at] = b.branch[at] + b.inVal.sum(at, b.g)
	}
}
