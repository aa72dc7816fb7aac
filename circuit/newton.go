package circuit

const (
	maxNewton  = 200
	newtonTol  = 1e-13
	undamped   = 6 // full steps before the line search watches
	pieceSlack = 1e-12
)

// newton solves the resistive network of y (with what drives it already in
// baseR) starting from the pieces and voltages in x. The network's devices
// have rising characteristics, so its solution minimises a convex function
// (the co-content); full Newton steps nearly always do, and a line search on
// that function makes sure.
func (s *Solver) newton(y *system, x []float64) error {
	xn := s.xn
	if y.n+1 > len(xn) {
		xn = make([]float64, y.n+1)
		s.xn = xn
	}
	if len(s.devices) == 0 && (len(s.heaters) == 0 || y.mode == statesHeld) {
		return s.straight(y, x)
	}
	for it := 0; it < maxNewton; it++ {
		s.Stats.Iterations++
		s.loadAt(y, x)
		if k := y.elim.factorSolve(y.val, y.ground, y.rhs, xn); k >= 0 {
			return s.singular(y, k)
		}
		done, near := true, true
		for _, i := range s.devices {
			v := s.volt(xn, i)
			p, k := &s.shape[i], int(s.seg[i])
			slack := pieceSlack * (1 + abs(v))
			if v < p.lo(k)-slack || v > p.hi(k)+slack {
				done, near = false, false
				break
			}
		}
		if done && y.mode == atDC {
			for _, i := range s.heaters {
				v0, v1 := s.volt(x, i), s.volt(xn, i)
				// The tangent errs by the curvature times the square of the
				// step: a relative step of 1e-7 leaves an error of 1e-14.
				// Beside high voltages to ground a small one is not so exact.
				least := 1e-3 + 1e-7*abs(nodeVolt(xn, s.elems[i].a))
				if d := abs(v1 - v0); d > 1e-7*(least+abs(v1)) {
					done = false
					// Within a hundredth Newton's method needs no watching,
					// and what there is to watch sinks in rounding.
					near = near && d <= 1e-2*(least+abs(v1))
				}
			}
		}
		t := 1.0
		if !near && it >= undamped {
			t = s.lineSearch(x, xn, y)
		}
		if t == 1 {
			copy(x, xn)
		} else {
			for j := range x[:y.n] {
				x[j] += t * (xn[j] - x[j])
			}
		}
		if done {
			return nil
		}
		for _, i := range s.devices {
			s.seg[i] = int8(s.shape[i].segment(s.volt(x, i)))
		}
	}
	return ErrNoConverg
}

// straight solves a network that has nothing but constant conductances.
func (s *Solver) straight(y *system, x []float64) error {
	s.Stats.Iterations++
	s.Stats.Factorizations++
	if len(y.base.waiting) > 0 {
		y.bring(s.elems)
	}
	copy(y.val, y.base.val)
	if k := y.elim.factorSolve(y.val, y.base.ground, y.baseR, x); k >= 0 {
		return s.singular(y, k)
	}
	return nil
}

// lineSearch returns how far to go from x towards xn: where the derivative
// of the co-content along the way passes zero, at most 1.
func (s *Solver) lineSearch(x, xn []float64, y *system) float64 {
	slope := func(t float64) float64 {
		var d float64
		for _, i := range s.linear {
			v, dv := s.volt(x, i), s.volt(xn, i)-s.volt(x, i)
			d += s.elems[i].conductance() * (v + t*dv) * dv
		}
		for _, i := range s.devices {
			v, dv := s.volt(x, i), s.volt(xn, i)-s.volt(x, i)
			p := &s.shape[i]
			u := v + t*dv
			k := p.segment(u)
			d += (p.g[k]*u + p.i0[k]) * dv
		}
		for _, i := range s.heaters {
			v, dv := s.volt(x, i), s.volt(xn, i)-s.volt(x, i)
			if y.mode == statesHeld {
				d += s.elems[i].conductance() * (v + t*dv) * dv
				continue
			}
			r, kappa := s.elems[i].heating()
			c, _ := heated(r, kappa, v+t*dv)
			d += c * dv
		}
		// Sources of current: what baseR feeds into the nodes.
		for j := 0; j < y.nodes; j++ {
			d -= y.baseR[j] * (xn[j] - x[j])
		}
		return d
	}
	if slope(1) <= 0 {
		return 1
	}
	lo, hi := 0.0, 1.0
	for k := 0; k < 40; k++ {
		mid := (lo + hi) / 2
		if slope(mid) > 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	if lo == 0 {
		return hi
	}
	return lo
}
