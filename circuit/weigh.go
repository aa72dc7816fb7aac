package circuit

import "math"

// weights measure the states of a network by the energy they carry. With
// L = G Gᵀ the inductances and C the capacitances, the currents i and voltages
// v are kept as
//
//	z = (Gᵀ i, √C v),   ½ zᵀz = ½ iᵀ L i + ½ vᵀ C v
//
// so that amps and volts compare, and that no motion of a passive network
// left to itself makes z longer: what is computed from it stays as exact as
// it can be, however fast its fastest swing and however tight its couplings.
type weights struct {
	ready bool
	g, w  []float64 // Cholesky factor G of the inductances, and its inverse, by row
	root  []float64 // √C
	of    []float64 // figures they were made of: by state, then by coupling
	phys  []float64
}

func newWeights(s *Solver) weights {
	nl, n := s.inductor, len(s.states)
	return weights{
		g: make([]float64, nl*nl), w: make([]float64, nl*nl), root: make([]float64, n-nl),
		of: make([]float64, n+len(s.couplings)), phys: make([]float64, n),
	}
}

// stale reports whether the figures are other than those the weights were
// made of.
func (h *weights) stale(s *Solver) bool {
	if !h.ready {
		return true
	}
	for r, i := range s.states {
		if h.of[r] != s.elems[i].p[0] {
			return true
		}
	}
	for i := range s.couplings {
		if h.of[len(s.states)+i] != s.couplings[i].k {
			return true
		}
	}
	return false
}

// set makes the weights of the present figures. The inductances together must
// be such as inductors can have, which couplings below 1 of every pair do not
// ensure for three and more.
func (h *weights) set(s *Solver) error {
	n := s.inductor
	g, w := h.g, h.w
	h.ready = false
	clear(g)
	for r, i := range s.states[:n] {
		g[r*n+r] = s.elems[i].p[0]
	}
	for _, c := range s.couplings {
		i, j := int(s.place[c.l1]), int(s.place[c.l2])
		g[max(i, j)*n+min(i, j)] += c.k * math.Sqrt(s.elems[c.l1].p[0]*s.elems[c.l2].p[0])
	}
	for i := range n {
		for j := range i + 1 {
			sum := g[i*n+j]
			for k := range j {
				sum -= g[i*n+k] * g[j*n+k]
			}
			if i > j {
				g[i*n+j] = sum / g[j*n+j]
				continue
			}
			if !(sum > 0) {
				return &ElementError{Element: s.couplings[0].name, What: "the couplings together are more than inductors can have"}
			}
			g[i*n+i] = math.Sqrt(sum)
		}
	}
	clear(w)
	for j := range n {
		w[j*n+j] = 1 / g[j*n+j]
		for i := j + 1; i < n; i++ {
			sum := 0.0
			for k := j; k < i; k++ {
				sum -= g[i*n+k] * w[k*n+j]
			}
			w[i*n+j] = sum / g[i*n+i]
		}
	}
	for r, i := range s.states {
		h.of[r] = s.elems[i].p[0]
		if r >= n {
			h.root[r-n] = math.Sqrt(s.elems[i].p[0])
		}
	}
	for i := range s.couplings {
		h.of[len(s.states)+i] = s.couplings[i].k
	}
	h.ready = true
	return nil
}

// plain returns the currents of the inductors and voltages of the capacitors
// in state z; they are overwritten by the next call.
func (h *weights) plain(z []float64) []float64 {
	n := len(h.phys) - len(h.root)
	for q := range n {
		sum := 0.0
		for c := q; c < n; c++ {
			sum += h.w[c*n+q] * z[c]
		}
		h.phys[q] = sum
	}
	for k, r := range h.root {
		h.phys[n+k] = z[n+k] / r
	}
	return h.phys
}

// weigh writes the state z of currents and voltages.
func (h *weights) weigh(phys, z []float64) {
	n := len(h.phys) - len(h.root)
	for c := range n {
		sum := 0.0
		for q := c; q < n; q++ {
			sum += h.g[q*n+c] * phys[q]
		}
		z[c] = sum
	}
	for k, r := range h.root {
		z[n+k] = phys[n+k] * r
	}
}

// renew takes up changed figures: phases are forgotten, and the state of the
// motion and another, when not nil, stand for the same currents and voltages
// as before.
func (w *motion) renew(other []float64) error {
	s := w.s
	if w.version == s.version && w.weights.ready {
		return nil
	}
	w.forget()
	w.version = s.version
	if !w.weights.stale(s) {
		return nil
	}
	if !w.weights.ready { // nothing has moved yet
		return w.weights.set(s)
	}
	old := w.weights
	w.weights = newWeights(s)
	if err := w.weights.set(s); err != nil {
		w.weights = old
		w.version--
		return err
	}
	w.weights.weigh(old.plain(w.z), w.z)
	if other != nil {
		w.weights.weigh(old.plain(other), other)
	}
	return nil
}
