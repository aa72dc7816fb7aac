package circuit

import (
	"fmt"
	"math"
)

// Action is a switch being moved at a time of the cycle, in s from its start.
type Action struct {
	At    float64
	Elem  ElemID
	Close bool
}

// Cycle is a schedule that repeats: its period in s and its actions in order
// of time, 0 <= At < Period.
type Cycle struct {
	Period  float64
	Actions []Action
}

// check says what is wrong with the cycle for the network of s.
func (c Cycle) check(s *Solver) error {
	if !(c.Period > 0) || math.IsInf(c.Period, 0) {
		return fmt.Errorf("%w: its period is %g s; a finite time above 0 is accepted", ErrCycle, c.Period)
	}
	for _, a := range c.Actions {
		if !(a.At < c.Period) {
			return fmt.Errorf("%w: an action at %g s; times from 0 to below the period of %g s are accepted", ErrCycle, a.At, c.Period)
		}
	}
	return checkOrder(s, c.Actions, 0)
}

// Swing is what a reading does over one cycle, in V or A. Where it steps, both
// ends of the step count towards the least and the most.
type Swing struct {
	Mean     float64 // average over the period
	Min, Max float64 // least and most
	MinAt    float64 // when it is least, s from the start of the cycle
	MaxAt    float64 // when it is most
}

// Steady is the periodic steady state of a switched network: the motion that
// repeats itself from cycle to cycle, found by Newton's method on the state at
// the start of the cycle (the derivative of the cycle's end to its start is
// the product of the exact propagators), not by running cycles until they
// settle. Resistors that heat themselves are taken at the temperature of
// their average power, found together with the motion; that is right where
// their thermal time constant is long against the period. Results are read
// from the fields after Solve; they stay until the next.
type Steady struct {
	Readings []Swing   // by probe, in the order given
	Before   []float64 // probe readings just before each action: [action*len(probes) + probe]; of actions at one time, before the first
	Power    []float64 // average W: of the resistors that heat themselves, then of the watched elements (see MeanPower)

	s      *Solver
	w      *motion
	cycle  Cycle
	probes []Probe
	watch  []ElemID

	z0    []float64 // state at the start of the cycle
	mono  []float64 // n*n derivative M of end to start, less I
	mtmp  []float64
	lin   []float64
	resid []float64
	mom   []float64
	mscr  []float64
	ints  []float64
	guess []int8 // pieces after each action, by action*len(elems)
	known []bool
	relay []bool // voltage-controlled switches at the start of the cycle

	leg         int       // stretches so far in this cycle
	from, step  []float64 // the step of Newton's method last taken
	gap         []float64 // of the cycle's end from its start
	reach       float64   // the largest of any state at the end of any of them
	least, most []spot    // by probe, where it is so
	rates       []float64
	before      []float64
	edge        []float64 // rates and guard of the event that is being met
	leapt       bool      // it moves a switch
	tape        *tape     // records the walk, when not nil

	hot, hotF, hotOld, hotFOld []float64 // temperatures and how far off they are
	jac                        []float64 // Broyden's approximation of d(off)/d(temperature)
	see                        func(*stretch) error
	turn                       func()
	learnt                     bool    // jac is of use
	fine                       bool    // look for extremes within stretches too
	tol, heatTol               float64 // see steadyTol, heatTol
}

// NewSteady prepares the steady state of a cycle: probes are read, and the
// average power of the watched elements is kept (self-heating resistors
// always are). The Steady shares the Solver's figures and belongs to the
// same goroutine.
func (s *Solver) NewSteady(c Cycle, probes []Probe, watch []ElemID) (*Steady, error) {
	if err := c.check(s); err != nil {
		return nil, err
	}
	// Heaters first, so that their power is at hand.
	all := make([]ElemID, 0, len(s.heaters)+len(watch))
	for _, h := range s.heaters {
		all = append(all, ElemID(h))
	}
	all = append(all, watch...)
	w, err := s.newMotion(probes, all)
	if err != nil {
		return nil, err
	}
	n, m, h := w.m-1, w.m, len(s.heaters)
	st := &Steady{s: s, w: w, cycle: c, probes: probes, watch: watch, tol: steadyTol, heatTol: heatTol}
	st.cycle.Actions = append([]Action(nil), c.Actions...)
	st.Readings = make([]Swing, len(probes))
	st.Before = make([]float64, len(probes)*len(c.Actions))
	st.Power = make([]float64, len(all))
	st.z0 = make([]float64, m)
	st.z0[n] = 1
	st.mono, st.mtmp, st.lin = make([]float64, n*n), make([]float64, n*n), make([]float64, n*n)
	st.resid = make([]float64, m)
	st.mom, st.mscr, st.ints = make([]float64, m*m), make([]float64, m*m), make([]float64, m)
	st.guess = make([]int8, (len(c.Actions)+1)*len(s.elems))
	st.known = make([]bool, len(c.Actions)+1)
	st.hot, st.hotF = make([]float64, h), make([]float64, h)
	st.hotOld, st.hotFOld = make([]float64, h), make([]float64, h)
	st.jac = make([]float64, h*h)
	st.from, st.step, st.gap = make([]float64, n), make([]float64, n), make([]float64, n)
	st.relay = make([]bool, len(s.relays))
	st.least, st.most = make([]spot, len(probes)), make([]spot, len(probes))
	st.rates = make([]float64, len(probes))
	st.before, st.edge = make([]float64, n), make([]float64, n)
	st.see, st.turn = st.visit, st.moved
	return st, nil
}

// SetCycle changes period and times of the cycle; the actions must be as
// many, on the same elements.
func (st *Steady) SetCycle(c Cycle) error {
	if err := c.check(st.s); err != nil {
		return err
	}
	if len(c.Actions) != len(st.cycle.Actions) {
		return fmt.Errorf("%w: %d actions; %d are accepted", ErrCycle, len(c.Actions), len(st.cycle.Actions))
	}
	st.cycle.Period = c.Period
	copy(st.cycle.Actions, c.Actions)
	return nil
}

const (
	maxSteady = 300
	steadyTol = 1e-11 // of the largest state, by the measure of weights
	least     = 1e-4  // a state smaller than this (1 mA in 8 mH, say) is as good as none
	heatTol   = 1e-7  // K

	boldSteps   = 15  // iterations before each step is watched
	runOn       = 40  // cycles
	secantSteps = 15  // iterations in which temperatures are moved by secants
	longestHeat = 150 // K, the most a temperature is moved at once
)

// Solve finds the steady state, starting from the last one found. Each step of
// Newton's method is taken whole; where they lead in circles, as the pieces of
// a device or the events of a relay can make them, only as much of each is
// taken as brings the ends of the cycle closer, and where none does, because a
// relay comes to move once more or less, cycles are run on for a while. A
// network that would never settle into the cycle, because nothing damps it or
// because a small disturbance grows in it, is refused with ErrCycle; one for
// which no cycle is found to repeat itself, as there need not be one where
// voltage-controlled switches move by themselves, with ErrNoConverg.
func (st *Steady) Solve() error {
	s := st.s
	for h, i := range s.heaters {
		e := &s.elems[i]
		if e.hot < e.p[2] {
			e.hot = e.p[2]
		}
		st.hot[h] = e.hot
	}
	s.solved = false
	st.fine = false
	if err := st.w.renew(st.z0); err != nil {
		return err
	}
	last, stalled := math.Inf(1), 0
	running, nudged := 0, false
	// How much of the step being watched is taken, between which bounds, and
	// how far the cycle's ends were apart along it before.
	part, lo, hi, gap := 0.0, 0.0, 0.0, 0.0
	for it := 0; it < maxSteady; it++ {
		if it > 0 && len(s.heaters) > 0 {
			st.w.forget()
		}
		for k, i := range s.relays {
			st.relay[k] = s.elems[i].closed
		}
		if err := st.run(); err != nil {
			return err
		}
		// How far the cycle's end is from its start, how far its start is
		// from where the two would meet, and the heat from itself.
		n := st.w.m - 1
		off, scale := 0.0, math.Max(st.reach, least)
		for i := 0; i < n; i++ {
			st.resid[i] = st.w.z[i] - st.z0[i]
			off = math.Max(off, abs(st.resid[i]))
			scale = math.Max(scale, abs(st.z0[i]))
		}
		along := dot(st.step, st.resid)
		copy(st.gap, st.resid)
		far, err := st.newton()
		if err != nil {
			return err
		}
		heatOff := st.heat()
		if math.IsNaN(far) || math.IsNaN(heatOff) {
			return ErrNoConverg
		}
		if far < last/2 {
			stalled = 0
		} else if off <= steadyTol*scale { // rounding allows no better
			stalled++
		}
		last = far
		if (far <= st.tol*scale || stalled >= 2) && heatOff <= st.heatTol && st.relaysBack() {
			if n >= 2 && !st.fine {
				st.fine = true
				continue
			}
			if err = st.damped(); err != errUnstable || nudged {
				return err
			}
			// Off the motion that won't last, to one that does.
			nudged, st.fine, running = true, false, runOn
			for i := 0; i < n; i++ {
				st.z0[i] *= 1.001
			}
			continue
		}
		watched := it >= boldSteps
		switch {
		case running > 0:
			running--
			copy(st.z0, st.w.z)
			part = 0
		case watched && part > 0 && !(abs(along) <= gap/2) && !(part == 1 && along > 0):
			// Between the cycles of two starts the distance never grows in a
			// network without relays, so along falls steadily on the way.
			if along > 0 {
				lo = part
			} else {
				hi = part
			}
			if part = (lo + hi) / 2; hi-lo < 1e-12 {
				running, part = runOn, 0
				copy(st.z0, st.w.z)
				continue
			}
			for i, d := range st.step {
				st.z0[i] = st.from[i] + part*d
			}
			continue
		case far > st.tol*scale*1e-3:
			copy(st.from, st.z0)
			copy(st.step, st.resid)
			part, lo, hi, gap = 1, 0, 1, 0
			for i, d := range st.step {
				st.z0[i] += d
				gap += d * st.gap[i]
			}
		}
		if heatOff > st.heatTol*1e-2 && (!watched || far <= 1e-6*scale || running > 0) {
			st.broyden(it)
			part = 0 // what follows is not to be compared
		}
	}
	return fmt.Errorf("%w: the cycle does not repeat itself", ErrNoConverg)
}

// relaysBack reports whether every voltage-controlled switch ends the cycle
// as it began it.
func (st *Steady) relaysBack() bool {
	for k, i := range st.s.relays {
		if st.s.elems[i].closed != st.relay[k] {
			return false
		}
	}
	return true
}

// heat works out how far each self-heating resistor's temperature is from
// what its average power makes it; it returns the largest, in K.
func (st *Steady) heat() float64 {
	most := 0.0
	for h, i := range st.s.heaters {
		e := &st.s.elems[i]
		st.hotF[h] = e.p[2] + e.p[3]*st.Power[h] - st.hot[h]
		most = math.Max(most, abs(st.hotF[h]))
	}
	return most
}

// broyden moves the temperatures by the secant approximation of their
// dependence on each other, learnt in this Solve and those before. When it
// does not get there soon it is learnt afresh.
func (st *Steady) broyden(it int) {
	n := len(st.hot)
	if n == 0 {
		return
	}
	switch {
	case it == 0 && !st.learnt || it == secantSteps/2 || it == secantSteps:
		clear(st.jac)
		for i := 0; i < n; i++ {
			st.jac[i*n+i] = 1 // inverse of -d(off)/dT: near 1 where heating is mild
		}
		st.learnt = it < secantSteps
	case it > 0:
		// Broyden's second update of the inverse G: x changes by dx, off by df.
		var ff float64
		for i := range st.hot {
			d := st.hotF[i] - st.hotFOld[i]
			ff += d * d
		}
		if ff > 0 {
			for i := 0; i < n; i++ {
				r := st.hot[i] - st.hotOld[i] // dx + G df, with x moved by +G off
				for j := 0; j < n; j++ {
					r += st.jac[i*n+j] * (st.hotF[j] - st.hotFOld[j])
				}
				for j := 0; j < n; j++ {
					st.jac[i*n+j] -= r * (st.hotF[j] - st.hotFOld[j]) / ff
				}
			}
		}
	}
	copy(st.hotOld, st.hot)
	copy(st.hotFOld, st.hotF)
	for h, i := range st.s.heaters {
		e := &st.s.elems[i]
		var d float64
		if it < secantSteps {
			for j := 0; j < n; j++ {
				d += st.jac[h*n+j] * st.hotF[j]
			}
		} else { // the secants lead nowhere: half the way each time does
			d = st.hotF[h] / 2
		}
		d = math.Min(math.Max(d, -longestHeat), longestHeat)
		t := st.hot[h] + d
		if !(t > e.p[2]) { // power is never negative
			t = e.p[2]
		}
		st.hot[h] = t
		e.hot = t
	}
}

// newton turns resid into the way from the start of the cycle to the start
// at which its end would meet it, (I - M) d = end - start, and returns the
// largest of it.
func (st *Steady) newton() (float64, error) {
	n := st.w.m - 1
	for i, d := range st.mono {
		st.lin[i] = -d
	}
	if !solveDense(st.lin, st.resid[:n], n) {
		return 0, errUndamped
	}
	far := 0.0
	for _, d := range st.resid[:n] {
		far = math.Max(far, abs(d))
	}
	return far, nil
}

var (
	errUndamped = fmt.Errorf("%w: nothing damps it, so it has no single steady state", ErrCycle)
	errUnstable = fmt.Errorf("%w: it never settles into it, a small disturbance grows from cycle to cycle", ErrCycle)
)

// undampedCycles is the power of two of cycles after which a disturbance has
// to have died down for the cycle to count as one that is settled into.
const undampedCycles = 36

// damped makes sure that a small disturbance dies: the powers of M vanish.
// Those of a passive network never grow.
func (st *Steady) damped() error {
	n := st.w.m - 1
	a, b := st.lin, st.mtmp
	copy(a, st.mono)
	for i := range n {
		a[i*n+i]++
	}
	for k := 0; ; k++ {
		if norm := rateNorm(a, n, n); norm < 0.5 {
			return nil
		} else if !(norm < 1e6) {
			return errUnstable
		}
		if k == undampedCycles {
			return errUndamped
		}
		mul(b, a, a, n)
		a, b = b, a
	}
}

// solveDense solves a x = b in place by elimination with row pivoting.
func solveDense(a, b []float64, n int) bool {
	for k := 0; k < n; k++ {
		p := k
		for i := k + 1; i < n; i++ {
			if abs(a[i*n+k]) > abs(a[p*n+k]) {
				p = i
			}
		}
		if !(abs(a[p*n+k]) > 1e-15) {
			return false
		}
		if p != k {
			for j := 0; j < n; j++ {
				a[k*n+j], a[p*n+j] = a[p*n+j], a[k*n+j]
			}
			b[k], b[p] = b[p], b[k]
		}
		for i := k + 1; i < n; i++ {
			l := a[i*n+k] / a[k*n+k]
			for j := k; j < n; j++ {
				a[i*n+j] -= l * a[k*n+j]
			}
			b[i] -= l * b[k]
		}
	}
	for i := n - 1; i >= 0; i-- {
		for j := i + 1; j < n; j++ {
			b[i] -= a[i*n+j] * b[j]
		}
		b[i] /= a[i*n+i]
	}
	return true
}

// State returns the state at the start of the cycle: the currents of the
// inductors, then the voltages of the capacitors, in the order they were
// added. It is overwritten by the next call.
func (st *Steady) State() []float64 { return st.w.weights.plain(st.z0) }

// MeanPower returns the average power of the i-th watched element, in W.
func (st *Steady) MeanPower(i int) float64 { return st.Power[len(st.s.heaters)+i] }

// Heat returns the temperature in °C of a resistor that heats itself, NaN
// for any other element.
func (st *Steady) Heat(e ElemID) float64 {
	for h, i := range st.s.heaters {
		if i == int32(e) {
			return st.hot[h]
		}
	}
	return math.NaN()
}
