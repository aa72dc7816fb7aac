package circuit

import "math"

// run walks one cycle from z0, gathering readings, powers and the derivative
// of its end to its start.
func (st *Steady) run() error {
	s, w := st.s, st.w
	s.Stats.Cycles++
	n := w.m - 1
	copy(w.z, st.z0)
	for i := range st.Readings {
		st.Readings[i] = Swing{Min: math.Inf(1), Max: math.Inf(-1)}
	}
	clear(st.Power)
	clear(st.mono)
	for i := 0; i < n; i++ {
		st.mono[i*n+i] = 1
	}
	// The cycle begins with every switch where its last action left it.
	for _, a := range st.cycle.Actions {
		s.SetClosed(a.Elem, a.Close)
	}
	if err := st.arrive(0); err != nil {
		return err
	}
	t := 0.0
	np := len(st.probes)
	for k, a := range st.cycle.Actions {
		if err := w.advance(t, a.At-t, st.see); err != nil {
			return err
		}
		t = a.At
		for i := range st.probes {
			st.Before[k*np+i] = dot(w.cur.probe[i*w.m:i*w.m+w.m], w.z)
		}
		s.SetClosed(a.Elem, a.Close)
		if k+1 < len(st.cycle.Actions) && st.cycle.Actions[k+1].At == t {
			continue // several at one time: the network between them lasts no time
		}
		if err := st.arrive(k + 1); err != nil {
			return err
		}
	}
	if err := w.advance(t, st.cycle.Period-t, st.see); err != nil {
		return err
	}
	for i := range st.Readings {
		st.Readings[i].Mean /= st.cycle.Period
	}
	for i := range st.Power {
		st.Power[i] /= st.cycle.Period
	}
	return nil
}

// arrive finds the phase that follows an action: the one that followed it
// last time if its guards hold, else by solving for the pieces.
func (st *Steady) arrive(k int) error {
	s, w := st.s, st.w
	ne := len(s.elems)
	g := st.guess[k*ne : k*ne+ne]
	if st.known[k] && len(s.relays) == 0 {
		copy(s.seg, g)
		if s.stale {
			s.refresh()
		}
		if err := w.enter(); err == nil && w.content(w.cur, w.z) {
			return nil
		}
	}
	if err := w.settle(); err != nil {
		return err
	}
	copy(g, s.seg)
	st.known[k] = true
	return nil
}

// visit gathers what happens in one stretch.
func (st *Steady) visit(x *stretch) error {
	w := st.w
	m, n := w.m, w.m-1
	p := x.p
	// ∫ z dt and ∫ z zᵀ dt
	switch {
	case n == 0:
		st.ints[0] = x.dur
		st.mom[0] = x.dur
	case n == 1:
		st.oneState(x)
	default:
		for i := 0; i < m; i++ { // kernel holds E and S of this stretch
			st.ints[i] = dot(w.k.s[i*m:i*m+m], x.z0)
		}
		st.chain(w.k.e)
	}
	for i := range st.probes {
		row := p.probe[i*m : i*m+m]
		r := &st.Readings[i]
		r.Mean += dot(row, st.ints)
		st.extreme(r, dot(row, x.z0), x.t)
		st.extreme(r, dot(row, x.z1), x.t+x.dur)
	}
	if n >= 2 && st.fine {
		w.march(p, x.dur, func(t, h float64, level int, a, b []float64) bool {
			for i := range st.probes {
				row := p.probe[i*m : i*m+m]
				ra, rb := w.rate(p, row, a), w.rate(p, row, b)
				if ra*rb < 0 {
					// Only where twice the first rate could reach beyond.
					r, va := &st.Readings[i], dot(row, a)
					if v := va + 2*h*ra; v <= r.Max && v >= r.Min {
						continue
					}
					te, z := w.locate(p, h, level, a, func(z []float64) bool { return w.rate(p, row, z)*ra <= 0 })
					st.extreme(&st.Readings[i], dot(row, z), x.t+t+te)
				}
			}
			return true
		})
	}
	if n >= 2 {
		clear(st.mom)
		w.k.moments(p.f, n, x.dur, x.z0, st.mom, st.mscr)
	}
	for i := range st.Power {
		v, c := p.pv[i*m:i*m+m], p.pi[i*m:i*m+m]
		var sum float64
		for a := 0; a < m; a++ {
			sum += v[a] * dot(st.mom[a*m:a*m+m], c)
		}
		st.Power[i] += sum
	}
	if x.hit != nil && x.hit.move == 0 {
		return st.saltation(x)
	}
	return nil
}

func (st *Steady) extreme(r *Swing, v, at float64) {
	if v < r.Min {
		r.Min, r.MinAt = v, at
	}
	if v > r.Max {
		r.Max, r.MaxAt = v, at
	}
}

// oneState gathers the integrals of a single state in closed form.
func (st *Steady) oneState(x *stretch) {
	f, x0, d := x.p.f[0], x.z0[0], x.dur
	v0 := f*x0 + x.p.f[1]
	y := f * d
	_, p2 := phis(y)
	st.ints[0] = x0*d + v0*d*d*p2
	st.ints[1] = d
	// ∫ x² dt, x = x0 + v0 t φ1(f t)
	var sq float64
	if abs(y) < 0.5 {
		for _, q := range gauss {
			p1, _ := phis(y * q[0])
			v := x0 + v0*d*q[0]*p1
			sq += q[1] * d * v * v
		}
	} else {
		a := v0 / f
		c := x0 - a
		a, c = c, a // x = a + c e^{ft}
		sq = a*a*d + 2*a*c*math.Expm1(y)/f + c*c*math.Expm1(2*y)/(2*f)
	}
	st.mom[0], st.mom[1], st.mom[2], st.mom[3] = sq, st.ints[0], st.ints[0], d
	st.mono[0] *= math.Exp(y)
}

// chain multiplies the derivative of end to start by I + E.
func (st *Steady) chain(e []float64) {
	n, m := st.w.m-1, st.w.m
	for i := 0; i < n; i++ {
		for j := 0; j < n; j++ {
			s := st.mono[i*n+j]
			for k := 0; k < n; k++ {
				s += e[i*m+k] * st.mono[k*n+j]
			}
			st.mtmp[i*n+j] = s
		}
	}
	st.mono, st.mtmp = st.mtmp, st.mono
}

// saltation accounts for a switch that moves when its control says so: a
// start a little off moves the time of the event, and with it everything
// after. dz⁺ = (I + (f⁺ - f⁻) c / (c · f⁻)) dz⁻. (Pieces of a device join
// without a step, so for them f⁺ = f⁻.)
func (st *Steady) saltation(x *stretch) error {
	w := st.w
	n, m := w.m-1, w.m
	var before, after [maxStates]float64
	for i := 0; i < n; i++ {
		before[i] = dot(x.p.f[i*m:i*m+m], x.z1)
	}
	// The phase after it: look ahead without disturbing the walk.
	s := w.s
	s.SetClosed(ElemID(x.hit.elem), !s.elems[x.hit.elem].closed)
	w.z, w.zn = w.zn, w.z
	err := w.settle()
	w.z, w.zn = w.zn, w.z
	if err != nil {
		return err
	}
	for i := 0; i < n; i++ {
		after[i] = dot(w.cur.f[i*m:i*m+m], x.z1)
	}
	s.SetClosed(ElemID(x.hit.elem), !s.elems[x.hit.elem].closed)
	copy(s.seg, x.p.seg)
	if s.stale {
		s.refresh()
	}
	if err := w.enter(); err != nil {
		return err
	}
	c := x.hit.row[:n]
	cf := dot(c, before[:n])
	if cf == 0 {
		return nil
	}
	for j := 0; j < n; j++ {
		var cm float64
		for k := 0; k < n; k++ {
			cm += c[k] * st.mono[k*n+j]
		}
		for i := 0; i < n; i++ {
			st.mtmp[i*n+j] = st.mono[i*n+j] + (after[i]-before[i])*cm/cf
		}
	}
	st.mono, st.mtmp = st.mtmp, st.mono
	return nil
}
