package circuit

// mode is the guise in which a network is solved.
type mode uint8

const (
	atDC       mode = iota // inductors are shorts, capacitors open
	statesHeld             // inductors are current sources, capacitors voltage sources
)

// A system is the modified nodal analysis of the network in one of its two
// guises. Its unknowns are the node voltages, then the currents of the
// voltage-defined branches.
type system struct {
	mode   mode
	n      int
	nodes  int     // unknown node voltages
	branch []int32 // by element: its current's unknown, -1 when it has none
	elim   *elimination
	stamp  []stamps // by element
	root   []int32  // by node, the node that stands for it and those its branches join it to
	earth  []int32  // by element, the unknown whose conductance to ground it adds to

	base   base
	val    []float64 // matrix being factored
	rhs    []float64
	baseR  []float64 // right-hand side of sources
	ground []float64 // by unknown, conductance to ground
}

// stamps holds where a two-terminal conductance between a and b lands.
type stamps struct{ aa, bb, ab, ba, an, bn int32 }

// unk returns the unknown of a node's voltage, -1 for ground.
func unk(n NodeID) int { return int(n) - 1 }

// hasBranch reports whether the element's current is an unknown of its own.
func hasBranch(k Kind, m mode) bool {
	switch k {
	case KindVoltageSource:
		return true
	case KindInductor:
		return m == atDC
	case KindCapacitor:
		return m == statesHeld
	}
	return false
}

// conducts reports whether the element can carry a current that depends on
// its voltage in this mode.
func conducts(k Kind) bool {
	switch k {
	case KindInductor, KindCapacitor, KindVoltageSource, KindCurrentSource:
		return false
	}
	return true
}

// newSystem lays out the unknowns of the network in the given guise and works
// out the order in which they are eliminated.
func newSystem(net *Network, m mode) (*system, error) {
	s := &system{mode: m, nodes: len(net.nodes) - 1}
	s.n = s.nodes
	s.branch = make([]int32, len(net.elems))
	for i := range net.elems {
		s.branch[i] = -1
		if hasBranch(net.elems[i].kind, m) {
			s.branch[i] = int32(s.n)
			s.n++
		}
	}
	forced, root, err := sourceTree(net, s, m)
	if err != nil {
		return nil, err
	}
	s.root = root
	p := newPattern(s.n)
	for i := range net.elems {
		e := &net.elems[i]
		a, b := unk(e.a), unk(e.b)
		if br := int(s.branch[i]); br >= 0 {
			for _, x := range []int{a, b} {
				if x >= 0 {
					p.set(br, x)
					p.set(x, br)
				}
			}
			continue
		}
		if !conducts(e.kind) {
			continue
		}
		for _, x := range []int{a, b} {
			for _, y := range []int{a, b} {
				if x >= 0 && y >= 0 {
					p.set(x, y)
				}
			}
		}
	}
	s.elim = eliminate(p, forced, m == atDC)
	s.alloc(net)
	return s, nil
}

// alloc makes the work space and the stamp table. The slot after the last
// value takes what is stamped on ground.
func (s *system) alloc(net *Network) {
	dump := int32(s.elim.nnz)
	s.val = make([]float64, s.elim.nnz+1)
	s.rhs = make([]float64, s.n+1)
	s.baseR = make([]float64, s.n+1)
	s.ground = make([]float64, s.n+1)
	if s.stamp != nil {
		return
	}
	s.stamp = make([]stamps, len(net.elems))
	s.earth = make([]int32, len(net.elems))
	at := func(r, c int) int32 {
		if r < 0 || c < 0 {
			return dump
		}
		return s.elim.pos[r*s.n+c]
	}
	for i := range net.elems {
		e := &net.elems[i]
		a, b := unk(e.a), unk(e.b)
		t := stamps{dump, dump, dump, dump, int32(s.n), int32(s.n)}
		if a >= 0 {
			t.an = int32(a)
		}
		if b >= 0 {
			t.bn = int32(b)
		}
		switch br := int(s.branch[i]); {
		case br >= 0:
			t.aa, t.ab, t.bb, t.ba = at(br, a), at(a, br), at(br, b), at(b, br)
		case conducts(e.kind):
			t.aa, t.bb, t.ab, t.ba = at(a, a), at(b, b), at(a, b), at(b, a)
		}
		s.stamp[i] = t
		s.earth[i] = int32(s.n)
		switch ra, rb := s.root[e.a], s.root[e.b]; {
		case ra > 0 && rb == 0:
			s.earth[i] = ra - 1
		case rb > 0 && ra == 0:
			s.earth[i] = rb - 1
		}
	}
	s.base = newBase(net, s)
}

func (s *system) clone() *system {
	c := *s
	c.elim = s.elim.clone()
	c.alloc(nil)
	c.base = s.base.clone()
	return &c
}

// sourceTree finds a node of its own for every voltage-defined branch: the
// branches must form a forest. It returns the forced pivots, leaves first.
func sourceTree(net *Network, s *system, m mode) ([]pivot, []int32, error) {
	n := len(net.nodes)
	parent := make([]int, n) // union-find
	for i := range parent {
		parent[i] = i
	}
	var find func(int) int
	find = func(x int) int {
		if parent[x] != x {
			parent[x] = find(parent[x])
		}
		return parent[x]
	}
	adj := make([][]int, n)
	for i := range net.elems {
		if s.branch[i] < 0 {
			continue
		}
		e := &net.elems[i]
		a, b := int(e.a), int(e.b)
		if find(a) == find(b) {
			return nil, nil, &LoopError{Elements: loopOf(net, adj, a, b, i)}
		}
		parent[find(a)] = find(b)
		adj[a] = append(adj[a], i)
		adj[b] = append(adj[b], i)
	}
	root := make([]int32, n)
	seen := make([]bool, n)
	var forced []pivot
	var visit func(node, r int)
	visit = func(node, r int) {
		seen[node] = true
		root[node] = int32(r)
		for _, ei := range adj[node] {
			e := &net.elems[ei]
			other := int(e.a) + int(e.b) - node
			if seen[other] {
				continue
			}
			visit(other, r)
			br := int(s.branch[ei])
			forced = append(forced, pivot{br, other - 1}, pivot{other - 1, br})
		}
	}
	for node := 0; node < n; node++ { // ground first, so that it is a root
		if !seen[node] {
			visit(node, node)
		}
	}
	return forced, root, nil
}

// loopOf names the elements on the path from a to b plus the one closing it.
func loopOf(net *Network, adj [][]int, a, b, closing int) []string {
	from := map[int]int{a: -1}
	queue := []int{a}
	for len(queue) > 0 {
		x := queue[0]
		queue = queue[1:]
		for _, ei := range adj[x] {
			e := &net.elems[ei]
			o := int(e.a) + int(e.b) - x
			if _, ok := from[o]; !ok {
				from[o] = ei
				queue = append(queue, o)
			}
		}
	}
	var names []string
	for x := b; x != a; {
		ei := from[x]
		names = append(names, net.elems[ei].name)
		e := &net.elems[ei]
		x = int(e.a) + int(e.b) - x
	}
	return append(names, net.elems[closing].name)
}

// addG stamps a conductance of element i on the matrix.
func (s *system) addG(i int, g float64) {
	t, v := &s.stamp[i], s.val
	s.ground[s.earth[i]] += g
	v[t.aa] += g
	v[t.bb] += g
	v[t.ab] -= g
	v[t.ba] -= g
}

// diagonal returns the conductance between a node and all others, before the
// matrix is factored.
func (s *system) diagonal(n NodeID) float64 {
	if n == 0 {
		return 0
	}
	at := s.elim.pos[unk(n)*s.n+unk(n)]
	if at < 0 {
		return 0
	}
	return s.val[at]
}

// addI takes a current of element i out of a and puts it into b.
func (s *system) addI(r []float64, i int, amps float64) {
	t := &s.stamp[i]
	r[t.an] -= amps
	r[t.bn] += amps
}
