package circuit

import (
	"fmt"
	"math"
)

// A guard is a condition under which a phase lasts: row · z >= 0. When it
// falls below, the device moves to a neighbouring piece or the switch moves.
type guard struct {
	elem int32
	move int8 // +1 or -1: neighbouring piece; 0: a voltage-controlled switch
	row  [maxStates + 1]float64
}

// guardRows lists the guards of the phase the switches and pieces stand in.
func (w *motion) guardRows(p *phase) {
	s, m := w.s, w.m
	p.guards = p.guards[:0]
	put := func(elem int32, move int8, sign, edge float64, a, b NodeID) {
		g := guard{elem: elem, move: move}
		w.rowVolt(p, a, b, g.row[:m])
		for c := range g.row[:m] {
			g.row[c] *= sign
		}
		g.row[m-1] -= sign * edge
		p.guards = append(p.guards, g)
	}
	for _, i := range s.devices {
		e, d, k := &s.elems[i], &s.shape[i], int(s.seg[i])
		if k > 0 {
			put(i, -1, 1, d.lo(k), e.a, e.b)
		}
		if k < d.n-1 {
			put(i, +1, -1, d.hi(k), e.a, e.b)
		}
	}
	for _, i := range s.relays {
		e := &s.elems[i]
		if e.closed {
			put(i, 0, 1, e.p[3], e.c, e.d)
		} else {
			put(i, 0, -1, e.p[2], e.c, e.d)
		}
	}
}

func dot(a, b []float64) float64 {
	var s float64
	for i, x := range a {
		s += x * b[i]
	}
	return s
}

// slack is how far outside a guard counts as on its edge.
func (w *motion) slack(g *guard, z []float64) float64 {
	var s float64
	for c := 0; c < w.m; c++ {
		s += abs(g.row[c] * z[c])
	}
	return 1e-13 * s
}

// content reports whether all guards of the phase hold at z.
func (w *motion) content(p *phase, z []float64) bool {
	for i := range p.guards {
		g := &p.guards[i]
		if dot(g.row[:w.m], z) < -w.slack(g, z) {
			return false
		}
	}
	return true
}

// stretch is a piece of time spent in one phase.
type stretch struct {
	p   *phase
	t   float64 // when it begins
	dur float64
	z0  []float64
	z1  []float64
	hit *guard // what ended it, nil at its appointed end
}

// maxEvents bounds the state-dependent events between two appointed times.
const maxEvents = 100000

// advance walks from time t for dur, calling visit for each stretch.
func (w *motion) advance(t, dur float64, visit func(*stretch) error) error {
	s := w.s
	idle := 0
	for events := 0; dur > 0; events++ {
		if events > maxEvents || idle > 4*(len(s.devices)+len(s.relays))+8 {
			return fmt.Errorf("%w between appointed times, at %g s", ErrEvents, t)
		}
		p := w.cur
		step, hit := w.firstEvent(p, dur)
		w.propagate(p, step)
		w.st = stretch{p: p, t: t, dur: step, z0: w.z, z1: w.zn, hit: hit}
		if err := visit(&w.st); err != nil {
			return err
		}
		w.z, w.zn = w.zn, w.z
		t += step
		dur -= step
		if hit == nil {
			break
		}
		s.Stats.Events++
		if step == 0 {
			idle++
		} else {
			idle = 0
		}
		if err := w.cross(hit); err != nil {
			return err
		}
	}
	return nil
}

// cross does what the guard calls for.
func (w *motion) cross(g *guard) error {
	s := w.s
	if s.stale {
		s.refresh()
	}
	if g.move == 0 {
		s.SetClosed(ElemID(g.elem), !s.elems[g.elem].closed)
		return w.settle()
	}
	copy(s.seg, w.cur.seg)
	s.seg[g.elem] += g.move
	return w.enter()
}

// propagate writes zn = exp(F dur) z.
func (w *motion) propagate(p *phase, dur float64) {
	switch w.m {
	case 1:
		w.zn[0] = 1
	case 2:
		f, x0 := p.f[0], w.z[0]
		p1, _ := phis(f * dur)
		w.zn[0] = x0 + (f*x0+p.f[1])*dur*p1
		w.zn[1] = 1
	default:
		w.k.exp(p.f, w.m-1, dur)
		w.k.apply(w.z, w.zn)
		w.zn[w.m-1] = 1
	}
}

// firstEvent finds the first guard to fall within dur, and when.
func (w *motion) firstEvent(p *phase, dur float64) (float64, *guard) {
	switch {
	case len(p.guards) == 0 || w.m == 1:
		return dur, nil
	case w.m == 2:
		return w.firstOfOne(p, dur)
	}
	return w.firstOfMany(p, dur)
}

// firstOfOne: with a single state every voltage is a + b exp(f t), so a
// guard falls at most once and the time is a logarithm.
func (w *motion) firstOfOne(p *phase, dur float64) (float64, *guard) {
	f, x0 := p.f[0], w.z[0]
	v0 := f*x0 + p.f[1]
	p1, _ := phis(f * dur)
	x1 := x0 + v0*dur*p1
	best, hit := dur, (*guard)(nil)
	for i := range p.guards {
		g := &p.guards[i]
		r := g.row[0]
		if r*v0 >= 0 { // rising or still
			continue
		}
		h1 := r*x1 + g.row[1]
		if h1 >= 0 {
			continue
		}
		xc := -g.row[1] / r
		t := 0.0
		if q := (xc - x0) / v0; q > 0 {
			t = q
			if f != 0 {
				t = math.Log1p(f*q) / f
			}
		}
		if !(t < best) && hit != nil {
			continue
		}
		if !(t <= dur) { // rounding at the very end
			t = dur
		}
		best, hit = t, g
	}
	return best, hit
}

// level returns Φ for a step of fine·2^j, built by squaring as needed.
func (p *phase) level(w *motion, j int) []float64 {
	m := w.m
	for len(p.table) <= j {
		var phi []float64
		if cap(p.table) > len(p.table) {
			phi = p.table[:len(p.table)+1][len(p.table)]
		}
		if phi == nil {
			phi = make([]float64, m*m)
		}
		if l := len(p.table); l == 0 {
			p.fine = shortStep / math.Max(p.norm, 1e-300)
			w.k.series(p.f, p.fine)
			copy(phi, w.k.e)
			for i := 0; i < m; i++ {
				phi[i*m+i]++
			}
		} else {
			mul(phi, p.table[l-1], p.table[l-1], m)
		}
		p.table = append(p.table, phi)
	}
	return p.table[j]
}

func matvec(a, z, out []float64, m int) {
	for i := 0; i < m; i++ {
		var s float64
		for j := 0; j < m; j++ {
			s += a[i*m+j] * z[j]
		}
		out[i] = s
	}
}

// march walks through dur in steps short against any swing of the phase,
// longer and longer after the fast transients at its beginning, and calls
// look with each step's ends. look returns false to stop.
func (w *motion) march(p *phase, dur float64, look func(t, h float64, level int, a, b []float64) bool) {
	m := w.m
	var bufA, bufB [maxStates + 1]float64
	a, b := bufA[:m], bufB[:m]
	copy(a, w.z)
	if p.norm == 0 {
		copy(b, a)
		for i := 0; i < m-1; i++ {
			b[i] += p.f[i*m+m-1] * dur
		}
		look(0, dur, -1, a, b)
		return
	}
	p.level(w, 0)
	t, j := 0.0, 0
	for t < dur {
		h := math.Ldexp(p.fine, j)
		for j > 0 && t+h > dur {
			j--
			h = math.Ldexp(p.fine, j)
		}
		lvl := j
		if t+h > dur {
			h, lvl = dur-t, -1
			w.k.action(p.f, h, a, b)
		} else {
			matvec(p.level(w, j), a, b, m)
		}
		b[m-1] = 1
		if !look(t, h, lvl, a, b) || lvl < 0 {
			return
		}
		a, b = b, a
		t += h
		longest := dur / 16
		for _, r := range p.rings {
			if r.decay*t < 36 { // else it has sunk below rounding
				longest = math.Min(longest, math.Pi/(8*r.speed))
			}
		}
		if 2*h <= longest {
			j++
		}
	}
}

// locate finds, in a step of size h at the given level starting from a, the
// last time at which past is still false, to the last digit.
func (w *motion) locate(p *phase, h float64, level int, a []float64, past func([]float64) bool) (float64, []float64) {
	m := w.m
	var bufC, bufT [maxStates + 1]float64
	cur, try := bufC[:m], bufT[:m]
	copy(cur, a)
	t := 0.0
	for j := level - 1; j >= 0; j-- {
		matvec(p.level(w, j), cur, try, m)
		try[m-1] = 1
		if !past(try) {
			cur, try = try, cur
			t += math.Ldexp(p.fine, j)
		}
	}
	span := h
	if level >= 0 {
		span = p.fine
	}
	lo, hi := 0.0, span
	for k := 0; k < 60 && t+lo < t+hi; k++ {
		mid := (lo + hi) / 2
		w.k.action(p.f, mid, cur, try)
		if past(try) {
			hi = mid
		} else {
			lo = mid
		}
	}
	w.k.action(p.f, hi, cur, try)
	copy(w.drag, try)
	return t + hi, w.drag
}

// rate returns row · F z, how fast a row's reading changes at z.
func (w *motion) rate(p *phase, row, z []float64) float64 {
	var sum float64
	m := w.m
	for i, r := range row[:m-1] {
		if r != 0 {
			sum += r * dot(p.f[i*m:i*m+m], z)
		}
	}
	return sum
}

// firstOfMany marches and locates the first guard to fall. A guard that
// dips and recovers within one step is caught by the sign of its rate.
func (w *motion) firstOfMany(p *phase, dur float64) (float64, *guard) {
	m := w.m
	best, hit := dur, (*guard)(nil)
	w.march(p, dur, func(t, h float64, level int, a, b []float64) bool {
		for i := range p.guards {
			g := &p.guards[i]
			row := g.row[:m]
			sl := w.slack(g, a)
			te := -1.0
			switch {
			case dot(row, a) < -sl:
				te = 0
			case dot(row, b) < -sl:
				te, _ = w.locate(p, h, level, a, func(z []float64) bool { return dot(row, z) < -sl })
			case w.rate(p, row, a) < 0 && w.rate(p, row, b) > 0 && dot(row, a)+2*h*w.rate(p, row, a) < 0:
				// It may dip below: a step is a sixteenth of a swing at most,
				// so it falls by less than twice its first rate says.
				_, low := w.locate(p, h, level, a, func(z []float64) bool { return w.rate(p, row, z) > 0 })
				if dot(row, low) < -sl {
					te, _ = w.locate(p, h, level, a, func(z []float64) bool {
						return dot(row, z) < -sl || w.rate(p, row, z) > 0
					})
				}
			}
			if te >= 0 && (hit == nil || t+te < best) {
				best, hit = t+te, g
			}
		}
		return hit == nil
	})
	return math.Min(best, dur), hit
}
