package circuit

import "math"

// A spot is where in the cycle a reading is least or most: which stretch, and
// where in it.
type spot struct {
	leg   int
	place place
	into  float64 // s from the beginning of the stretch, when inside
}

type place uint8

const (
	atBegin place = iota
	atEnd
	inside
)

// run walks one cycle from z0, gathering readings, powers and how the
// difference of its end from its start depends on its start.
func (st *Steady) run() error {
	s, w := st.s, st.w
	s.Stats.Cycles++
	copy(w.z, st.z0)
	for i := range st.Readings {
		st.Readings[i] = Swing{Min: math.Inf(1), Max: math.Inf(-1)}
	}
	clear(st.Power)
	clear(st.mono)
	st.leg, st.reach = 0, 0
	if st.tape != nil {
		st.tape.rewind()
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
		if err := w.advance(t, a.At-t, st.see, st.turn); err != nil {
			return err
		}
		t = a.At
		for i := range st.probes {
			st.Before[k*np+i] = dot(w.cur.probe[i*w.m:i*w.m+w.m], w.z)
		}
		if st.tape != nil {
			st.tape.action(w)
		}
		s.SetClosed(a.Elem, a.Close)
		if k+1 < len(st.cycle.Actions) && st.cycle.Actions[k+1].At == t {
			continue // several at one time: the network between them lasts no time
		}
		if err := st.arrive(k + 1); err != nil {
			return err
		}
	}
	if err := w.advance(t, st.cycle.Period-t, st.see, st.turn); err != nil {
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
		if s.stale {
			s.refresh()
		}
		copy(s.seg, g)
		for _, i := range s.devices { // a changed figure can leave a device fewer pieces
			s.seg[i] = min(s.seg[i], int8(s.shape[i].n-1))
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
		st.Readings[i].Mean += dot(row, st.ints)
		st.extreme(i, dot(row, x.z0), x.t, spot{st.leg, atBegin, 0})
		st.extreme(i, dot(row, x.z1), x.t+x.dur, spot{st.leg, atEnd, 0})
	}
	if n >= 2 && st.fine {
		st.extremesWithin(x)
	}
	if n >= 2 && len(st.Power) > 0 {
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
	for _, z := range x.z1[:n] {
		st.reach = max(st.reach, abs(z))
	}
	if st.tape != nil {
		st.tape.stretch(x)
	}
	st.leg++
	if x.hit != nil && x.hit.move == 0 {
		for i := 0; i < n; i++ {
			st.before[i] = dot(p.f[i*m:i*m+m], x.z1)
		}
		copy(st.edge, x.hit.row[:n])
		st.leapt = true
	}
	return nil
}

// extremesWithin looks for extremes between the ends of a stretch.
func (st *Steady) extremesWithin(x *stretch) {
	w, p := st.w, x.p
	m := w.m
	for i := range st.probes {
		st.rates[i] = dot(p.pull[i*m:i*m+m], x.z0)
	}
	w.march(p, x.dur, func(t, h float64, level int, a, b []float64) bool {
		for i := range st.probes {
			row, pull := p.probe[i*m:i*m+m], p.pull[i*m:i*m+m]
			ra, rb := st.rates[i], dot(pull, b)
			st.rates[i] = rb
			if ra*rb < 0 {
				// Only where twice the first rate could reach beyond.
				r, va := &st.Readings[i], dot(row, a)
				if v := va + 2*h*ra; v <= r.Max && v >= r.Min {
					continue
				}
				var turn [maxStates + 1]float64
				for c, y := range pull {
					turn[c] = math.Copysign(1, ra) * y
				}
				te, z := w.crossing(p, level, h, a, turn[:m], 0)
				st.extreme(i, dot(row, z), x.t+t+te, spot{st.leg, inside, t + te})
			}
		}
		return true
	})
}

// extreme lets a value of a reading count towards its least and most. Of
// places that differ by no more than rounding the first counts.
func (st *Steady) extreme(i int, v, at float64, where spot) {
	r := &st.Readings[i]
	same := 1e-11 * (r.Max - r.Min) // -Inf at first
	if v < r.Min {
		if v < r.Min-same {
			r.MinAt = at
			st.least[i] = where
		}
		r.Min = v
	}
	if v > r.Max {
		if v > r.Max+same {
			r.MaxAt = at
			st.most[i] = where
		}
		r.Max = v
	}
}

// oneState gathers the integrals of a single state in closed form.
func (st *Steady) oneState(x *stretch) {
	f, x0, d := x.p.f[0], x.z0[0], x.dur
	v0 := f*x0 + x.p.f[1]
	y := f * d
	p := st.w.phi(y)
	st.ints[0] = x0*d + v0*d*d*p.p2
	st.ints[1] = d
	st.mono[0] += p.expm1 * (1 + st.mono[0])
	if len(st.Power) == 0 {
		return
	}
	// ∫ x² dt of x = x0 + v0 t φ1(f t), which is a + c e^{ft}
	var sq float64
	if abs(y) <= 0.5 {
		sq = d * (x0*x0 + 2*x0*v0*d*p.p2 + 2*v0*v0*d*d*(2*seriesPhi3(2*y, len(ofPhi3))-p.p3))
	} else {
		c := v0 / f
		a := x0 - c
		sq = a*a*d + (2*a*c*p.expm1+c*c*p.expm1*(p.expm1+2)/2)/f
	}
	st.mom[0], st.mom[1], st.mom[2], st.mom[3] = sq, st.ints[0], st.ints[0], d
}

// chain makes M of I + E times M, both kept as what they differ from I by.
func (st *Steady) chain(e []float64) {
	n, m := st.w.m-1, st.w.m
	for i := 0; i < n; i++ {
		for j := 0; j < n; j++ {
			s := st.mono[i*n+j] + e[i*m+j]
			for k := 0; k < n; k++ {
				s += e[i*m+k] * st.mono[k*n+j]
			}
			st.mtmp[i*n+j] = s
		}
	}
	st.mono, st.mtmp = st.mtmp, st.mono
}

// moved accounts for a switch that has moved because its control said so: a
// start a little off moves the time of the event, and with it everything
// after. dz⁺ = (I + (f⁺ - f⁻) c / (c · f⁻)) dz⁻ [the saltation matrix of
// hybrid systems]. (Pieces of a device join without a step, so for them
// f⁺ = f⁻.)
func (st *Steady) moved() {
	w := st.w
	n, m := w.m-1, w.m
	if st.tape != nil {
		st.tape.moved(w)
	}
	if !st.leapt {
		return
	}
	st.leapt = false
	cf := dot(st.edge, st.before)
	if cf == 0 {
		return
	}
	for i := 0; i < n; i++ {
		st.resid[i] = (dot(w.cur.f[i*m:i*m+m], w.z) - st.before[i]) / cf
	}
	for j := 0; j < n; j++ {
		cm := st.edge[j]
		for k := 0; k < n; k++ {
			cm += st.edge[k] * st.mono[k*n+j]
		}
		for i := 0; i < n; i++ {
			st.mtmp[i*n+j] = st.mono[i*n+j] + st.resid[i]*cm
		}
	}
	st.mono, st.mtmp = st.mtmp, st.mono
}
