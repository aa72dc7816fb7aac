package circuit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// maxStates bounds the inductors and capacitors of a network that is solved
// in time.
const maxStates = 16

// phase is the network with every switch and piece fixed: linear, with state
// equations z' = F z over z = (weighed inductor currents, weighed capacitor
// voltages, 1), see weights, and every unknown of the held system a row of out.
type phase struct {
	f      []float64 // m*m, last row zero
	out    []float64 // unknowns * m
	norm   float64   // of the state block
	rings  []ring    // the modes that swing
	used   bool
	seg    []int8
	shut   []bool
	guards []guard
	fine   float64     // shortest step of the table
	table  [][]float64 // Φ of fine, 2 fine, 4 fine, ...
	probe  []float64   // rows of the readings being watched
	pull   []float64   // rows of their rates, with two states and more
	pv, pi []float64   // rows of voltage and current of the elements whose power is watched
}

// motion walks a network through time: its state, the phase it is in, and
// work space. It belongs to one solver.
type motion struct {
	s       *Solver
	m       int // states + 1
	z       []float64
	zn      []float64
	held    []float64 // unknowns of the held system
	phases  []phase
	next    int
	cur     *phase
	k       *kernel
	drag    []float64
	at      [][2]float64 // by guard
	last    phis
	noise   []float64 // by capacitor, rounding of its rate, for each volt of another √C
	st      stretch
	version int
	weights weights
	probes  []Probe
	powers  []ElemID
}

// newMotion makes the work space for solving in time.
func (s *Solver) newMotion(probes []Probe, powers []ElemID) (*motion, error) {
	if s.heldErr != nil {
		return nil, s.heldErr
	}
	if len(s.states) > maxStates {
		return nil, fmt.Errorf("%w: %d inductors and capacitors; at most %d are accepted", ErrCycle, len(s.states), maxStates)
	}
	m := len(s.states) + 1
	w := &motion{s: s, m: m, k: newKernel(m), probes: probes, powers: powers, weights: newWeights(s)}
	w.z, w.zn = make([]float64, m), make([]float64, m)
	w.drag = make([]float64, m)
	w.at = make([][2]float64, 2*len(s.devices)+len(s.relays))
	w.z[m-1] = 1
	w.last = newPhis(0)
	w.noise = make([]float64, m-1-s.inductor)
	w.held = make([]float64, s.held.n+1)
	w.phases = make([]phase, 8)
	for i := range w.phases {
		w.phases[i] = w.newPhase()
	}
	return w, nil
}

// newPhase makes the room for a phase.
func (w *motion) newPhase() phase {
	s, m := w.s, w.m
	return phase{
		f: make([]float64, m*m), out: make([]float64, s.held.n*m),
		seg: make([]int8, len(s.elems)), shut: make([]bool, len(s.elems)),
		guards: make([]guard, 0, 2*len(s.devices)+len(s.relays)),
		probe:  make([]float64, len(w.probes)*m), pull: make([]float64, len(w.probes)*m), pv: make([]float64, len(w.powers)*m), pi: make([]float64, len(w.powers)*m),
	}
}

// forget drops the remembered phases, after a figure has changed.
func (w *motion) forget() {
	for i := range w.phases {
		w.phases[i].used = false
	}
	w.cur = nil
	for _, i := range w.s.heaters {
		w.s.held.base.wait(i)
	}
}

// same reports whether the switches and pieces stand as in phase p.
func (w *motion) same(p *phase) bool {
	s := w.s
	for _, i := range s.devices {
		if p.seg[i] != s.seg[i] {
			return false
		}
	}
	for i := range s.elems {
		if isSwitchable(s.elems[i].kind) && p.shut[i] != s.elems[i].closed {
			return false
		}
	}
	return true
}

// enter makes cur the phase in which the switches and pieces now stand.
func (w *motion) enter() error {
	for i := range w.phases {
		if p := &w.phases[i]; p.used && w.same(p) {
			w.cur = p
			return nil
		}
	}
	p := &w.phases[w.next]
	w.next = (w.next + 1) % len(w.phases)
	if err := w.build(p); err != nil {
		return err
	}
	w.cur = p
	return nil
}

// build solves the held network once for the sources and once for each
// state, which gives every voltage and current as a row over z, and from
// those of the states' own elements the rates.
func (w *motion) build(p *phase) error {
	s, y, m, nl := w.s, w.s.held, w.m, w.s.inductor
	p.used = false
	s.begin(y)
	for _, i := range s.devices {
		d, k := &s.shape[i], s.seg[i]
		y.addG(int(i), d.g[k])
	}
	for r, i := range s.states[nl:] {
		e := &s.elems[i]
		w.noise[r] = 1e-15 * max(y.diagonal(e.a), y.diagonal(e.b)) / w.weights.root[r]
	}
	s.Stats.Factorizations++
	if k := y.elim.factor(y.val, y.ground); k >= 0 {
		return s.singular(y, k)
	}
	for c := 0; c < m; c++ {
		clear(y.rhs)
		switch {
		case c == m-1:
			s.loadSources(y)
			copy(y.rhs, y.baseR)
			for _, i := range s.devices {
				y.addI(y.rhs, int(i), s.shape[i].i0[s.seg[i]])
			}
		case c < nl:
			for q, i := range s.states[:c+1] {
				y.addI(y.rhs, int(i), w.weights.w[c*nl+q])
			}
		default:
			y.rhs[y.branch[s.states[c]]] = 1 / w.weights.root[c-nl]
		}
		y.elim.solve(y.val, y.rhs, w.held)
		for u := 0; u < y.n; u++ {
			p.out[u*m+c] = w.held[u]
		}
	}
	clear(p.f)
	w.rates(p.out, p.f)
	p.norm = rateNorm(p.f, m, m-1)
	p.rings = w.ringing(p.f, p.rings[:0])
	copy(p.seg, s.seg)
	for i := range s.elems {
		p.shut[i] = s.elems[i].closed
	}
	w.guardRows(p)
	for i, pr := range w.probes {
		w.rowProbe(p, pr, p.probe[i*m:i*m+m])
		if m > 2 {
			w.rateRow(p, p.probe[i*m:i*m+m], p.pull[i*m:i*m+m])
		}
	}
	for i, e := range w.powers {
		el := &s.elems[e]
		w.rowVolt(p, el.a, el.b, p.pv[i*m:i*m+m])
		w.rowProbe(p, CurrentProbe(e), p.pi[i*m:i*m+m])
	}
	p.table = p.table[:0]
	p.used = true
	return nil
}

// rates writes the rows of F from the rows of the held unknowns.
func (w *motion) rates(out, f []float64) {
	s, m := w.s, w.m
	nl := s.inductor
	for r := 0; r < nl; r++ {
		for q, i := range s.states[:r+1] {
			by := w.weights.w[r*nl+q]
			if by == 0 {
				continue
			}
			e := &s.elems[i]
			for c := 0; c < m; c++ {
				f[r*m+c] += by * (rowAt(out, e.a, m, c) - rowAt(out, e.b, m, c))
			}
		}
	}
	for r := nl; r < m-1; r++ {
		i := s.states[r]
		br := int(s.held.branch[i])
		for c := 0; c < m; c++ {
			f[r*m+c] = out[br*m+c] / w.weights.root[r-nl]
		}
		// What is left of currents that cancel is rounding: a capacitor that
		// nothing discharges is to stay charged.
		for c := nl; c < m-1; c++ {
			if abs(f[r*m+c]) < w.noise[r-nl]/w.weights.root[c-nl] {
				f[r*m+c] = 0
			}
		}
	}
}

func rowAt(out []float64, n NodeID, m, c int) float64 {
	if n == 0 {
		return 0
	}
	return out[int(n-1)*m+c]
}

// ring is a mode that swings: the longest step that is short against its
// swing, a sixteenth, and when it has died below rounding, both in s.
type ring struct{ step, dies float64 }

// swing makes the ring of an eigenvalue.
func swing(re, im float64) ring {
	dies := math.Inf(1)
	if re < 0 {
		dies = 36 / -re
	}
	return ring{math.Pi / (8 * im), dies}
}

// ringing lists the modes of a phase that swing, which set how short the
// steps are in which events are looked for. Inductors only, or capacitors
// only, cannot swing.
func (w *motion) ringing(f []float64, out []ring) []ring {
	m, n := w.m, w.m-1
	if w.s.inductor == 0 || w.s.inductor == n {
		return out
	}
	if n == 2 { // eigenvalues of a 2 by 2 matrix
		h := (f[0] - f[m+1]) / 2
		if d := h*h + f[1]*f[m]; d < 0 {
			out = append(out, swing((f[0]+f[m+1])/2, math.Sqrt(-d)))
		}
		return out
	}
	a := mat.NewDense(n, n, nil)
	for i := 0; i < n; i++ {
		for j := 0; j < n; j++ {
			a.Set(i, j, f[i*m+j])
		}
	}
	var e mat.Eigen
	if !e.Factorize(a, mat.EigenNone) {
		return append(out, swing(0, rateNorm(f, m, n)))
	}
	for _, v := range e.Values(nil) {
		if imag(v) > 0 {
			out = append(out, swing(real(v), imag(v)))
		}
	}
	return out
}

// rowVolt writes the row over z of V(a) - V(b).
func (w *motion) rowVolt(p *phase, a, b NodeID, row []float64) {
	for c := 0; c < w.m; c++ {
		row[c] = rowAt(p.out, a, w.m, c) - rowAt(p.out, b, w.m, c)
	}
}

// rowProbe writes the row over z of a reading.
func (w *motion) rowProbe(p *phase, pr Probe, row []float64) {
	if !pr.Current {
		w.rowVolt(p, pr.A, pr.B, row)
		return
	}
	s, m := w.s, w.m
	e := &s.elems[pr.Elem]
	if br := int(s.held.branch[pr.Elem]); br >= 0 {
		copy(row, p.out[br*m:br*m+m])
		return
	}
	switch e.kind {
	case KindInductor:
		clear(row)
		nl, q := s.inductor, int(s.place[pr.Elem])
		for c := q; c < nl; c++ {
			row[c] = w.weights.w[c*nl+q]
		}
		return
	case KindCurrentSource:
		clear(row)
		row[m-1] = e.p[0]
		return
	}
	w.rowVolt(p, e.a, e.b, row)
	g, i0 := 0.0, 0.0
	if isDevice(e.kind) {
		g, i0 = s.shape[pr.Elem].g[p.seg[pr.Elem]], s.shape[pr.Elem].i0[p.seg[pr.Elem]]
	} else {
		was := e.closed
		e.closed = p.shut[pr.Elem]
		g = e.conductance()
		e.closed = was
	}
	for c := range row[:m] {
		row[c] *= g
	}
	row[m-1] += i0
}

// settle finds, with the states as they are, on which piece every device is
// and where every voltage-controlled switch stands.
func (w *motion) settle() error {
	s, y := w.s, w.s.held
	if s.stale {
		s.refresh()
	}
	if err := s.checkThresholds(); err != nil {
		return err
	}
	for round := 0; ; round++ {
		s.loadSources(y)
		for r, x := range w.weights.plain(w.z) {
			if i := s.states[r]; r < s.inductor {
				y.addI(y.baseR, int(i), x)
			} else {
				y.baseR[y.branch[i]] += x
			}
		}
		if err := s.newton(y, w.held); err != nil {
			return err
		}
		moved := s.moveRelays(w.held)
		if moved < 0 {
			return w.enter()
		}
		if round > 2*len(s.relays)+2 {
			return &ChatterError{Element: s.elems[moved].name}
		}
	}
}
