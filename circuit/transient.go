package circuit

import (
	"fmt"
	"math"
)

// Transient is the motion of a network through time from a given state, with
// switches moved at given times. Between events the answer is the exact one.
type Transient struct {
	s      *Solver
	w      *motion
	probes []Probe
	t      float64
	vals   []float64
	k      *kernel
	za, zb []float64
}

// NewTransient prepares to follow the readings of probes through time. It
// starts at rest, with all states zero.
func (s *Solver) NewTransient(probes []Probe) (*Transient, error) {
	w, err := s.newMotion(probes, nil)
	if err != nil {
		return nil, err
	}
	return &Transient{
		s: s, w: w, probes: probes, vals: make([]float64, len(probes)),
		k: newKernel(w.m), za: make([]float64, w.m), zb: make([]float64, w.m),
	}, nil
}

// States names the elements whose currents (inductors) and voltages
// (capacitors) make up the state, in its order.
func (s *Solver) States() []ElemID {
	out := make([]ElemID, len(s.states))
	for i, e := range s.states {
		out[i] = ElemID(e)
	}
	return out
}

// Start sets the state and the time, in s, at which it holds.
func (t *Transient) Start(at float64, state []float64) error {
	if len(state) != t.w.m-1 {
		return fmt.Errorf("%w: a state of %d figures; %d are accepted", ErrCycle, len(state), t.w.m-1)
	}
	if err := t.w.renew(nil); err != nil {
		return err
	}
	t.w.weights.weigh(state, t.w.z)
	t.t = at
	return nil
}

// StartFromDC sets the state to the operating point, at time 0, and holds
// self-heating resistors at the temperature they have there.
func (t *Transient) StartFromDC() error {
	s := t.s
	if err := s.DC(); err != nil {
		return err
	}
	state := make([]float64, len(s.states))
	for r, i := range s.states {
		if r < s.inductor {
			state[r] = s.Current(ElemID(i))
		} else {
			state[r] = s.volt(s.x, i)
		}
	}
	for _, i := range s.heaters {
		s.elems[i].hot = s.Heat(ElemID(i))
	}
	s.version++
	return t.Start(0, state)
}

// State returns the present state: the currents of the inductors, then the
// voltages of the capacitors, in the order of Solver.States. It is overwritten
// by the next call.
func (t *Transient) State() []float64 { return t.w.weights.plain(t.w.z) }

// Run goes on to time until, moving switches at the times of actions (in
// order, none before the present time). record, when not nil, is given the
// readings at the start, at every multiple of sample (0: none), just before
// and just after each event, and at the end; the slice is reused.
func (t *Transient) Run(until float64, actions []Action, sample float64, record func(time float64, readings []float64)) error {
	if !(until >= t.t) || math.IsInf(until, 0) {
		return fmt.Errorf("%w: until %g s; a time from %g s on is accepted", ErrCycle, until, t.t)
	}
	if err := checkOrder(t.s, actions, t.t); err != nil {
		return err
	}
	w := t.w
	if err := w.renew(nil); err != nil {
		return err
	}
	if err := w.settle(); err != nil {
		return err
	}
	visit := func(x *stretch) error {
		if record != nil {
			t.sample(x, sample, record)
		}
		return nil
	}
	for _, a := range actions {
		if a.At > until {
			break
		}
		if err := w.advance(t.t, a.At-t.t, visit, nil); err != nil {
			return err
		}
		t.t = a.At
		t.s.SetClosed(a.Elem, a.Close)
		if err := w.settle(); err != nil {
			return err
		}
	}
	if err := w.advance(t.t, until-t.t, visit, nil); err != nil {
		return err
	}
	t.t = until
	return nil
}

// checkOrder says what is wrong with a list of actions.
func checkOrder(s *Solver, actions []Action, from float64) error {
	last := from
	for _, a := range actions {
		if !(a.At >= last) || math.IsInf(a.At, 0) {
			return fmt.Errorf("%w: an action at %g s; times in order from %g s on are accepted", ErrCycle, a.At, from)
		}
		if a.Elem < 0 || int(a.Elem) >= len(s.elems) || !isSwitchable(s.elems[a.Elem].kind) || s.elems[a.Elem].kind == KindVoltageSwitch {
			return fmt.Errorf("%w: an action on something that is not a switch, contact, Darlington or MOSFET", ErrCycle)
		}
		last = a.At
	}
	return nil
}

// sample gives the readings of a stretch to record.
func (t *Transient) sample(x *stretch, every float64, record func(float64, []float64)) {
	w := t.w
	m := w.m
	give := func(at float64, z []float64) {
		for i := range t.probes {
			t.vals[i] = dot(x.p.probe[i*m:i*m+m], z)
		}
		record(at, t.vals)
	}
	give(x.t, x.z0)
	if every > 0 {
		n := math.Floor(x.t/every) + 1
		at := n * every
		if at < x.t+x.dur {
			t.k.exp(x.p.f, m-1, at-x.t)
			t.k.apply(x.z0, t.za)
			t.k.exp(x.p.f, m-1, every)
			for at < x.t+x.dur {
				t.za[m-1] = 1
				give(at, t.za)
				t.k.apply(t.za, t.zb)
				t.za, t.zb = t.zb, t.za
				n++
				at = n * every
			}
		}
	}
	x.z1[m-1] = 1
	give(x.t+x.dur, x.z1)
}

// Trace gives the readings over one cycle of the steady state to record, as
// Transient.Run does. Call after Solve.
func (st *Steady) Trace(sample float64, record func(time float64, readings []float64)) error {
	t := &Transient{s: st.s, w: st.w, probes: st.probes, vals: make([]float64, len(st.probes)),
		k: newKernel(st.w.m), za: make([]float64, st.w.m), zb: make([]float64, st.w.m)}
	copy(st.w.z, st.z0)
	for _, a := range st.cycle.Actions {
		st.s.SetClosed(a.Elem, a.Close)
	}
	return t.Run(st.cycle.Period, st.cycle.Actions, sample, record)
}
