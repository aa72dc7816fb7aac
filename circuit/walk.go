package circuit

import (
	"fmt"
	"math"
)

// A guard is a condition under which a phase lasts: row · z >= 0. When it
// falls below, the device moves to a neighbouring piece or the switch moves.
type guard struct {
	elem int32
	move int8    // +1 or -1: neighbouring piece; 0: a voltage-controlled switch
	sign float64 // +1: it must not fall below its edge; -1: not rise above
	row  [maxStates + 1]float64
	size [maxStates + 1]float64 // of what the row is the difference of, for its rounding
	pull [maxStates + 1]float64 // row of its rate, with two states and more
}

// guardRows lists the guards of the phase the switches and pieces stand in.
func (w *motion) guardRows(p *phase) {
	s, m := w.s, w.m
	p.guards = p.guards[:0]
	put := func(elem int32, move int8, sign, edge float64, a, b NodeID) {
		g := guard{elem: elem, move: move, sign: sign}
		for c := range g.row[:m] {
			va, vb := rowAt(p.out, a, m, c), rowAt(p.out, b, m, c)
			g.row[c], g.size[c] = sign*(va-vb), abs(va)+abs(vb)
		}
		g.row[m-1] -= sign * edge
		g.size[m-1] += abs(edge)
		if m > 2 {
			w.rateRow(p, g.row[:m], g.pull[:m])
		}
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

// slack is how far outside a guard counts as on its edge: no less than the
// rounding of the voltages it compares, or two pieces of a device could each
// hold that the other's turn has come.
func (w *motion) slack(g *guard, z []float64) float64 {
	var s float64
	for c, u := range g.size[:w.m] {
		s += u * abs(z[c])
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

// advance walks from time t for dur, calling visit for each stretch and, when
// it is not nil, moved after each event that ended one, with the network
// already in what follows.
func (w *motion) advance(t, dur float64, visit func(*stretch) error, moved func()) error {
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
		if moved != nil {
			moved()
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
		w.zn[0] = x0 + (f*x0+p.f[1])*dur*w.phi(f*dur).p1
		w.zn[1] = 1
	default:
		w.k.exp(p.f, w.m-1, dur)
		w.k.apply(w.z, w.zn)
		w.zn[w.m-1] = 1
	}
}

// phi returns the functions of x, which is often asked for again.
func (w *motion) phi(x float64) *phis {
	if w.last.x != x {
		w.last = newPhis(x)
	}
	return &w.last
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
	x1 := x0 + v0*dur*w.phi(f*dur).p1
	best, hit := dur, (*guard)(nil)
	for i := range p.guards {
		g := &p.guards[i]
		r := g.row[0]
		if r*v0 >= 0 { // rising or still
			continue
		}
		edge := g.row[1] + w.slack(g, w.z)
		if r*x1+edge >= 0 {
			continue
		}
		xc := -edge / r
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

// level returns E = Φ - I for a step of fine·2^j, built by doubling as needed.
func (p *phase) level(w *motion, j int) []float64 {
	m := w.m
	for len(p.table) <= j {
		var e []float64
		if cap(p.table) > len(p.table) {
			e = p.table[:len(p.table)+1][len(p.table)]
		}
		if e == nil {
			e = make([]float64, m*m)
		}
		if l := len(p.table); l == 0 {
			p.fine = shortStep / math.Max(p.norm, 1e-300)
			w.k.series(p.f, p.fine)
			copy(e, w.k.e)
		} else {
			last := p.table[l-1]
			mul(e, last, last, m)
			for i := range e {
				e[i] += 2 * last[i]
			}
		}
		p.table = append(p.table, e)
	}
	return p.table[j]
}

// stride writes z + E z.
func stride(e, z, out []float64, m int) {
	for i := 0; i < m; i++ {
		s := z[i]
		for j, x := range e[i*m : i*m+m] {
			s += x * z[j]
		}
		out[i] = s
	}
	out[m-1] = 1
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
	e := p.level(w, 0)
	t, h, j := 0.0, p.fine, 0
	for t < dur {
		for j > 0 && t+h > dur {
			j--
			h /= 2
			e = p.level(w, j)
		}
		if t+h > dur {
			h = dur - t
			w.k.action(p.f, h, a, b)
			b[m-1] = 1
			look(t, h, -1, a, b)
			return
		}
		stride(e, a, b, m)
		if !look(t, h, j, a, b) {
			return
		}
		a, b = b, a
		t += h
		longest := dur / 16
		for _, r := range p.rings {
			if t < r.dies {
				longest = min(longest, r.step)
			}
		}
		if 2*h <= longest {
			j++
			h *= 2
			e = p.level(w, j)
		}
	}
}

// crossing finds when row·z + off, not negative at a, falls below zero in a
// step of the given level starting there, by which it is known to have done so
// at time limit. It returns the time and the state then. The step is halved
// until it is short; there the reading is a Taylor polynomial in time, whose
// root is found by Newton's method.
func (w *motion) crossing(p *phase, level int, limit float64, a, row []float64, off float64) (float64, []float64) {
	m := w.m
	var bufC, bufT [maxStates + 1]float64
	cur, try := bufC[:m], bufT[:m]
	copy(cur, a)
	t, span := 0.0, limit
	for j := level - 1; j >= 0; j-- {
		h := math.Ldexp(p.fine, j)
		if t+h > limit {
			continue
		}
		stride(p.level(w, j), cur, try, m)
		if dot(row, try)+off >= 0 {
			cur, try = try, cur
			t += h
		}
	}
	if level >= 0 {
		span = min(p.fine, limit-t)
	}
	n := w.k.taylor(p.f, span, cur)
	var c [taylorTerms + 3]float64
	for k := range c[:n] {
		c[k] = dot(row, w.k.terms[k*m:k*m+m])
	}
	c[0] += off
	u := fall(c[:n])
	z := w.drag
	copy(z, w.k.terms[(n-1)*m:n*m])
	for k := n - 2; k >= 0; k-- {
		for i, x := range w.k.terms[k*m : k*m+m] {
			z[i] = z[i]*u + x
		}
	}
	z[m-1] = 1
	return t + u*span, z
}

// fall returns where between 0 and 1 the polynomial c[0] + c[1] u + ... falls
// below zero, by Newton's method kept between what is known to lie on either
// side.
func fall(c []float64) float64 {
	if !(c[0] > 0) {
		return 0
	}
	lo, hi := 0.0, 1.0
	u := 0.5
	for range 100 {
		v, d := 0.0, 0.0
		for k := len(c) - 1; k >= 0; k-- {
			d = d*u + v
			v = v*u + c[k]
		}
		if v < 0 {
			hi = u
		} else {
			lo = u
		}
		next := u - v/d
		if abs(next-u) <= 2e-16*u || hi-lo <= 2e-16*hi {
			break
		}
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		u = next
	}
	return u
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

// rateRow writes the row over z of how fast a row's reading changes.
func (w *motion) rateRow(p *phase, row, out []float64) {
	m := w.m
	clear(out[:m])
	for i, r := range row[:m-1] {
		if r != 0 {
			for c, x := range p.f[i*m : i*m+m] {
				out[c] += r * x
			}
		}
	}
}

// firstOfMany marches and locates the first guard to fall. A guard that
// dips and recovers within one step is caught by the sign of its rate.
func (w *motion) firstOfMany(p *phase, dur float64) (float64, *guard) {
	m := w.m
	best, hit := dur, (*guard)(nil)
	at := w.at[:len(p.guards)] // value and rate at the start of the step
	for i := range p.guards {
		g := &p.guards[i]
		at[i] = [2]float64{dot(g.row[:m], w.z), dot(g.pull[:m], w.z)}
	}
	w.march(p, dur, func(t, h float64, level int, a, b []float64) bool {
		for i := range p.guards {
			g := &p.guards[i]
			row, pull := g.row[:m], g.pull[:m]
			va, ra := at[i][0], at[i][1]
			vb, rb := dot(row, b), dot(pull, b)
			at[i] = [2]float64{vb, rb}
			te := -1.0
			switch dips := ra < 0 && rb > 0 && va+2*h*ra < 0; {
			case va >= 0 && vb >= 0 && !dips:
				continue
			case va < -w.slack(g, a):
				te = 0
			case vb < -w.slack(g, a):
				te, _ = w.crossing(p, level, h, a, row, w.slack(g, a))
			case dips:
				// It may dip below: a step is a sixteenth of a swing at most,
				// so it falls by less than twice its first rate says.
				var back [maxStates + 1]float64
				for c, x := range pull {
					back[c] = -x
				}
				sl := w.slack(g, a)
				tl, low := w.crossing(p, level, h, a, back[:m], 0)
				if dot(row, low) < -sl {
					te, _ = w.crossing(p, level, tl, a, row, sl)
				}
			}
			if te >= 0 && (hit == nil || t+te < best) {
				best, hit = t+te, g
			}
		}
		return hit == nil
	})
	return min(best, dur), hit
}
