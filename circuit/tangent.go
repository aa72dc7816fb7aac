package circuit

import "math"

// direction is one way of disturbing the motion: a state at the start of the
// cycle, the temperature of a resistor that heats itself, or a figure.
type direction struct {
	state int // of a state, else -1
	elem  ElemID
	param Param
	warm  bool // the temperature elem has in time
	pair  int  // of the figure Coupling, the coupling
}

// directions lists the states, then the temperatures, then the figures.
func (st *Steady) directions(to []ParamRef) ([]direction, error) {
	var dirs []direction
	for r := 0; r < st.w.m-1; r++ {
		dirs = append(dirs, direction{state: r})
	}
	for _, i := range st.s.heaters {
		dirs = append(dirs, direction{state: -1, elem: ElemID(i), warm: true})
	}
	for _, q := range to {
		if err := st.s.checkRef(q); err != nil {
			return nil, err
		}
		d := direction{state: -1, elem: q.Elem, param: q.Param}
		if q.Param == Coupling {
			d.pair, _ = st.s.onlyCoupling(q.Elem)
		}
		dirs = append(dirs, d)
	}
	return dirs, nil
}

// effect is what a disturbance of size 1 does: to the end of the cycle, to
// the mean power of the resistors that heat themselves, and to what is asked.
type effect struct {
	end, power, asked []float64
}

// bend is how a phase changes with a direction: its rates, the rows of its
// probes and of the voltages and currents of its heaters, and its guards, all
// over z.
type bend struct {
	f, probe, pv, pi, guard []float64
}

// tangent carries disturbances round a recorded cycle.
type tangent struct {
	st    *Steady
	t     *tape
	asked []Asked
	spots []*spot // by asked, where the reading is least or most
	dirs  []direction
	full  []phase  // by number, with rows
	bends [][]bend // by number of phase, by direction
	none  bend     // of a direction that bends nothing

	// the lifted system over (states, scaled disturbance, 1)
	k              *kernel
	f              []float64
	x0, x1, xi     []float64 // at the beginning and end of a leg, and its integral
	mom, mscr      []float64
	va, vb, ia, ib []float64
}

func newTangent(st *Steady, t *tape, asked []Asked, dirs []direction) *tangent {
	w := st.w
	n := w.m - 1
	g := &tangent{st: st, t: t, asked: asked, dirs: dirs}
	for _, a := range asked {
		var sp *spot
		switch a.What {
		case Min:
			sp = &st.least[a.Probe]
		case Max:
			sp = &st.most[a.Probe]
		}
		g.spots = append(g.spots, sp)
	}
	g.none = g.newBend(2*len(st.s.devices) + len(st.s.relays))
	z := 2*n + 1
	g.k = newKernel(z)
	g.f, g.mom, g.mscr = make([]float64, z*z), make([]float64, z*z), make([]float64, z*z)
	for _, p := range []*[]float64{&g.x0, &g.x1, &g.xi, &g.va, &g.vb, &g.ia, &g.ib} {
		*p = make([]float64, z)
	}
	return g
}

// newBend makes the room for a bend of a phase of so many guards.
func (g *tangent) newBend(guards int) bend {
	w := g.st.w
	m, h := w.m, len(g.st.s.heaters)
	return bend{
		f: make([]float64, (m-1)*m), probe: make([]float64, len(w.probes)*m),
		pv: make([]float64, h*m), pi: make([]float64, h*m), guard: make([]float64, guards*m),
	}
}

// phases builds every phase of the tape again, with its rows and how they
// bend in each direction. The solver is left as it was.
func (g *tangent) phases() error {
	s, w := g.st.s, g.st.w
	seg := append([]int8(nil), s.seg...)
	closed := make([]bool, len(s.elems))
	for i := range s.elems {
		closed[i] = s.elems[i].closed
	}
	put := func(seg []int8, closed []bool) {
		for i := range s.elems {
			if isSwitchable(s.elems[i].kind) {
				s.SetClosed(ElemID(i), closed[i])
			}
		}
		s.refresh()
		copy(s.seg, seg)
	}
	defer put(seg, closed)
	g.full = make([]phase, len(g.t.phases))
	g.bends = make([][]bend, len(g.t.phases))
	for k, p := range g.t.phases {
		put(p.seg, p.shut)
		g.full[k] = w.newPhase()
		if err := w.build(&g.full[k]); err != nil {
			return err
		}
		g.bends[k] = make([]bend, len(g.dirs))
		for d := range g.dirs {
			if g.dirs[d].state < 0 {
				g.bends[k][d] = g.bend(&g.full[k], &g.dirs[d])
			}
		}
	}
	return nil
}

// bend differentiates the held solves of a phase, whose factors the held
// system still has. A figure of an element adds to its current
//
//	δi = δg · v + δi0,
//
// a row over z; what that current, put in at the element's terminals, makes of
// every unknown is one solve, so all rows change by a multiple of δi.
func (g *tangent) bend(p *phase, d *direction) bend {
	s, w := g.st.s, g.st.w
	y, m, n := s.held, w.m, w.m-1
	b := g.newBend(len(p.guards))
	e := &s.elems[d.elem]
	if d.param == Coupling || s.place[d.elem] >= 0 {
		g.reweigh(p, d, &b)
		return b
	}
	row := make([]float64, m) // δi
	clear(y.rhs)
	if e.kind == KindVoltageSource {
		row[n] = 1
		y.rhs[y.branch[d.elem]] = 1
	} else {
		dg, di0 := s.heldDerivative(int32(d.elem), d.param, d.warm)
		w.rowVolt(p, e.a, e.b, row)
		for c := range row {
			row[c] *= dg
		}
		row[n] += di0
		y.addI(y.rhs, int(d.elem), 1)
	}
	x := make([]float64, y.n)
	y.elim.solve(y.val, y.rhs, x)

	times := func(out []float64, by float64) {
		for c := range row {
			out[c] += by * row[c]
		}
	}
	// Rates: the rows of rates with x in place of the rows of the unknowns.
	over := func(a, b NodeID) float64 { return nodeVolt(x, a) - nodeVolt(x, b) }
	for r := 0; r < n; r++ {
		sum := 0.0
		if nl := s.inductor; r < nl {
			for q, i := range s.states[:r+1] {
				l := &s.elems[i]
				sum += w.weights.w[r*nl+q] * over(l.a, l.b)
			}
		} else {
			sum = x[y.branch[s.states[r]]] / w.weights.root[r-nl]
		}
		times(b.f[r*m:r*m+m], sum)
	}
	current := func(out []float64, id ElemID) {
		q := &s.elems[id]
		switch {
		case y.branch[id] >= 0:
			times(out, x[y.branch[id]])
		case q.kind == KindInductor:
		default:
			times(out, s.heldSlope(int32(id))*over(q.a, q.b))
			if id == d.elem {
				times(out, 1)
			}
		}
	}
	for i, pr := range w.probes {
		out := b.probe[i*m : i*m+m]
		if pr.Current {
			current(out, pr.Elem)
		} else {
			times(out, over(pr.A, pr.B))
		}
	}
	for h, i := range s.heaters {
		q := &s.elems[i]
		times(b.pv[h*m:h*m+m], over(q.a, q.b))
		current(b.pi[h*m:h*m+m], ElemID(i))
	}
	for i := range p.guards {
		gd := &p.guards[i]
		q := &s.elems[gd.elem]
		out := b.guard[i*m : i*m+m]
		na, nb := q.a, q.b
		if gd.move == 0 {
			na, nb = q.c, q.d
		}
		times(out, gd.sign*over(na, nb))
		if ElemID(gd.elem) == d.elem && !d.warm {
			out[n] -= gd.sign * s.edgeDerivative(gd, int(s.seg[gd.elem]), d.param)
		}
	}
	return b
}

// reweigh bends a phase for a change of an inductance, a coupling or a
// capacitance, which changes nothing but the weights of the states. With
// W = G⁻¹ and S = W δL Wᵀ, of which H is the lower half and half the diagonal
// [derivative of the Cholesky factor], δW = -H W; and for a capacitance
// likewise H = δC / 2C. Rates and rows over z follow:
//
//	δF = -H F - F Hᵀ,   δrow = -row Hᵀ
func (g *tangent) reweigh(p *phase, d *direction, b *bend) {
	s, w := g.st.s, g.st.w
	m, n, nl := w.m, w.m-1, s.inductor
	h := make([]float64, n*n)
	if s.elems[d.elem].kind == KindCapacitor {
		r := int(s.place[d.elem])
		h[r*n+r] = 1 / (2 * s.elems[d.elem].p[0])
	} else {
		dl := make([]float64, nl*nl)
		if d.param == Henries {
			r := int(s.place[d.elem])
			dl[r*nl+r] = 1
		}
		for i, c := range s.couplings {
			l1, l2 := s.elems[c.l1].p[0], s.elems[c.l2].p[0]
			dm := 0.0
			switch {
			case d.param == Coupling:
				if i == d.pair {
					dm = math.Sqrt(l1 * l2)
				}
			case d.elem == c.l1:
				dm = c.k / 2 * math.Sqrt(l2/l1)
			case d.elem == c.l2:
				dm = c.k / 2 * math.Sqrt(l1/l2)
			}
			r, q := int(s.place[c.l1]), int(s.place[c.l2])
			dl[r*nl+q] += dm
			dl[q*nl+r] += dm
		}
		for r := range nl {
			for c := range r + 1 {
				for i := range nl {
					for j := range nl {
						h[r*n+c] += w.weights.w[r*nl+i] * dl[i*nl+j] * w.weights.w[c*nl+j]
					}
				}
			}
			h[r*n+r] /= 2
		}
	}
	rows := func(from, to []float64) {
		for i := 0; i+m <= len(from); i += m {
			for c := range n {
				for k := range n {
					to[i+c] -= from[i+k] * h[c*n+k]
				}
			}
		}
	}
	rows(p.f[:n*m], b.f)
	for r := range n {
		for k := range n {
			for c := range m {
				b.f[r*m+c] -= h[r*n+k] * p.f[k*m+c]
			}
		}
	}
	rows(p.probe, b.probe)
	rows(p.pv[:len(b.pv)], b.pv)
	rows(p.pi[:len(b.pi)], b.pi)
	for i := range p.guards {
		rows(p.guards[i].row[:m], b.guard[i*m:i*m+m])
	}
}

// carry takes a disturbance of size 1 in a direction round the cycle.
func (g *tangent) carry(d int) effect {
	st, t := g.st, g.t
	w := st.w
	m, n := w.m, w.m-1
	out := effect{end: make([]float64, n), power: make([]float64, len(st.s.heaters)), asked: make([]float64, len(g.asked))}
	dz := out.end
	if r := g.dirs[d].state; r >= 0 {
		dz[r] = 1
	}
	bendOf := func(p int) *bend {
		if g.dirs[d].state >= 0 {
			return &g.none
		}
		return &g.bends[p][d]
	}
	// change is how the value of a row changes in state z.
	change := func(row, drow, z []float64) float64 { return dot(row[:n], dz) + dot(drow, z) }
	taken := 0 // actions
	act := func(legs int) (acted bool) {
		for ; taken < len(t.marks) && t.marks[taken].legs <= legs; taken++ {
			mk := &t.marks[taken]
			for i, a := range g.asked {
				if a.What == Before(taken) {
					at := a.Probe * m
					out.asked[i] = change(g.full[mk.p].probe[at:at+m], bendOf(mk.p).probe[at:at+m], mk.z)
				}
			}
			acted = true
		}
		return acted
	}
	shift := 0.0 // of the event at which the present leg begins
	for j := range t.legs {
		l := &t.legs[j]
		p, b := &g.full[l.p], bendOf(l.p)
		if act(j) {
			shift = 0
		}
		extreme := func(where place, z []float64) {
			for i, sp := range g.spots {
				if sp != nil && sp.leg == j && sp.place == where {
					at := g.asked[i].Probe * m
					row := p.probe[at : at+m]
					out.asked[i] = change(row, b.probe[at:at+m], z) + w.rate(p, row, z)*shift
				}
			}
		}
		extreme(atBegin, l.z0)
		scale := g.lift(p, b, l.z0, dz)
		for i, sp := range g.spots {
			if sp != nil && sp.leg == j && sp.place == inside {
				at := g.asked[i].Probe * m
				out.asked[i] = g.within(p.probe[at:at+m], b.probe[at:at+m], sp.into, scale)
			}
		}
		g.integrate(p, b, l.dur, scale, &out)
		for r := range dz {
			dz[r] = g.x1[n+r] / scale
		}
		if l.hit < 0 {
			shift = 0
		} else if l.dur > 0 { // else it comes with the event before
			shift = 0
			row := p.guards[l.hit].row[:m]
			if c := w.rate(p, row, l.z1); c != 0 {
				shift = -change(row, b.guard[l.hit*m:l.hit*m+m], l.z1) / c
			}
		}
		extreme(atEnd, l.z1)
		if l.relay {
			g.leap(p, &g.full[l.next], l.z1, shift, &out)
		}
	}
	act(len(t.legs))
	for i := range out.power {
		out.power[i] /= st.cycle.Period
	}
	for i, a := range g.asked {
		if a.What == Mean {
			out.asked[i] /= st.cycle.Period
		}
	}
	return out
}

// lift sets up the system over (z, scale·δz, 1) of a leg. The scale keeps what
// couples the two of the size of the rest, whatever unit the figure has.
func (g *tangent) lift(p *phase, b *bend, z0, dz []float64) (scale float64) {
	m := g.st.w.m
	n := m - 1
	size := 2*n + 1
	scale = 1
	if x := rateNorm(b.f, m, n); x > 0 && p.norm > 0 {
		scale = p.norm / x
	}
	clear(g.f)
	for r := 0; r < n; r++ {
		for c := 0; c < n; c++ {
			g.f[r*size+c] = p.f[r*m+c]
			g.f[(n+r)*size+n+c] = p.f[r*m+c]
			g.f[(n+r)*size+c] = b.f[r*m+c] * scale
		}
		g.f[r*size+2*n] = p.f[r*m+n]
		g.f[(n+r)*size+2*n] = b.f[r*m+n] * scale
		g.x0[r], g.x0[n+r] = z0[r], dz[r]*scale
	}
	g.x0[2*n] = 1
	return scale
}

// bent writes a row over z as the row over the lifted state that gives how
// its value changes.
func (g *tangent) bent(row, drow []float64, scale float64, out []float64) []float64 {
	n := len(row) - 1
	for c := 0; c < n; c++ {
		out[c], out[n+c] = drow[c], row[c]/scale
	}
	out[2*n] = drow[n]
	return out
}

// plain writes a row over z as the row over the lifted state that gives it.
func (g *tangent) plain(row []float64, out []float64) []float64 {
	n := len(row) - 1
	for c := 0; c < n; c++ {
		out[c], out[n+c] = row[c], 0
	}
	out[2*n] = row[n]
	return out
}

// within returns how the value of a row changes at a time inside a leg. An
// extreme stands still there, so that its own shift in time does not count.
func (g *tangent) within(row, drow []float64, into, scale float64) float64 {
	g.k.exp(g.f, len(g.x0)-1, into)
	g.k.apply(g.x0, g.x1)
	g.x1[len(g.x1)-1] = 1
	return dot(g.bent(row, drow, scale, g.va), g.x1)
}

// integrate goes through a leg: x1 at its end, and what the disturbance does
// to means and powers.
func (g *tangent) integrate(p *phase, b *bend, dur, scale float64, out *effect) {
	m, size := g.st.w.m, len(g.x0)
	g.k.exp(g.f, size-1, dur)
	g.k.apply(g.x0, g.x1)
	for r := 0; r < size; r++ {
		g.xi[r] = dot(g.k.s[r*size:r*size+size], g.x0)
	}
	for i, a := range g.asked {
		if a.What == Mean {
			at := a.Probe * m
			out.asked[i] += dot(g.bent(p.probe[at:at+m], b.probe[at:at+m], scale, g.va), g.xi)
		}
	}
	if len(out.power) == 0 {
		return
	}
	clear(g.mom)
	g.k.moments(g.f, size-1, dur, g.x0, g.mom, g.mscr)
	for h := range out.power { // δ∫ v i = ∫ (δv i + v δi)
		at := h * m
		v, i := p.pv[at:at+m], p.pi[at:at+m]
		g.bent(v, b.pv[at:at+m], scale, g.va)
		g.plain(i, g.ia)
		g.plain(v, g.vb)
		g.bent(i, b.pi[at:at+m], scale, g.ib)
		for r := 0; r < size; r++ {
			row := g.mom[r*size : r*size+size]
			out.power[h] += g.va[r]*dot(row, g.ia) + g.vb[r]*dot(row, g.ib)
		}
	}
}

// leap accounts for an event at which the network itself changes, from phase
// p to q, coming later by shift.
func (g *tangent) leap(p, q *phase, z []float64, shift float64, out *effect) {
	w := g.st.w
	m := w.m
	for i, a := range g.asked {
		if a.What == Mean {
			at := a.Probe * m
			out.asked[i] += (dot(p.probe[at:at+m], z) - dot(q.probe[at:at+m], z)) * shift
		}
	}
	for h := range out.power {
		at := h * m
		before := dot(p.pv[at:at+m], z) * dot(p.pi[at:at+m], z)
		after := dot(q.pv[at:at+m], z) * dot(q.pi[at:at+m], z)
		out.power[h] += (before - after) * shift
	}
	for r := range out.end {
		out.end[r] += (dot(p.f[r*m:r*m+m], z) - dot(q.f[r*m:r*m+m], z)) * shift
	}
}
