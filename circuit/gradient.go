package circuit

import (
	"fmt"
	"math"
)

// Of says which figure of a reading's cycle is meant: Mean, Min, Max, or
// Before(action).
type Of int

// The figures of a reading's cycle, as in Swing.
const (
	Mean Of = iota // average over the period
	Min            // least
	Max            // most
	beforeFirst
)

// Before means the value just before the action of that number.
func Before(action int) Of { return beforeFirst + Of(action) }

// String returns the figure in words.
func (o Of) String() string {
	switch {
	case o == Mean:
		return "mean"
	case o == Min:
		return "least"
	case o == Max:
		return "most"
	case o >= beforeFirst:
		return fmt.Sprintf("before action %d", int(o-beforeFirst))
	}
	return fmt.Sprintf("figure %d", int(o))
}

// Asked is one figure of one probe's cycle.
type Asked struct {
	Probe int // number of the probe
	What  Of
}

// Read returns a figure of a probe's cycle as the last Solve found it, NaN
// when there is no such probe or figure.
func (st *Steady) Read(a Asked) float64 {
	if st.checkAsked(a) != nil {
		return math.NaN()
	}
	r := &st.Readings[a.Probe]
	switch a.What {
	case Mean:
		return r.Mean
	case Min:
		return r.Min
	case Max:
		return r.Max
	}
	return st.Before[int(a.What-beforeFirst)*len(st.probes)+a.Probe]
}

func (st *Steady) checkAsked(a Asked) error {
	if a.Probe < 0 || a.Probe >= len(st.probes) {
		return fmt.Errorf("%w: probe %d; the %d probes are numbered from 0", ErrCycle, a.Probe, len(st.probes))
	}
	if n := len(st.cycle.Actions); a.What < 0 || a.What >= beforeFirst+Of(n) {
		return fmt.Errorf("%w: %s; Mean, Min, Max and Before of the %d actions are accepted", ErrCycle, a.What, n)
	}
	return nil
}

// Gradient writes into out the derivative of a figure of a probe's cycle to
// each of the figures of elements, exactly: self-heating, the times at which
// diodes and relays switch, and the state in which the cycle begins all move
// with the figure. out must be as long as to.
//
// Each disturbance δ of the steady motion is carried round the cycle by the
// equations it obeys between events, and across the events it shifts:
//
//	δz' = F δz + δF z
//	δτ = -(c·δz + δc·z) / (c·F z)           shift of an event on guard c·z = 0
//	δz⁺ = δz⁻ + (F⁻z - F⁺z) δτ
//
// with the same exponential that found the motion itself, closed by
// (I - M) δz(0) = δz(T) and δT = δ(TempC + HeatKPerW · P) for every resistor
// that heats itself. Least and most are followed at the place where they are;
// where two places tie, or the order of events is about to change, there is
// no single derivative and that of the present order is given. To TempCo,
// TempC and HeatKPerW of a resistor built without HeatKPerW the derivative is
// that at fixed temperature. The Steady is solved first, so that figures Set
// since the last Solve count. Unlike Solve, it allocates.
func (st *Steady) Gradient(probe int, what Of, to []ParamRef, out []float64) error {
	return st.Gradients([]Asked{{probe, what}}, to, out)
}

// Gradients is Gradient of several figures at once, for little more than the
// work of one: out holds a row of len(to) derivatives for each of asked.
func (st *Steady) Gradients(asked []Asked, to []ParamRef, out []float64) error {
	for _, a := range asked {
		if err := st.checkAsked(a); err != nil {
			return err
		}
	}
	if len(out) != len(asked)*len(to) {
		return fmt.Errorf("%w: room for %d derivatives; %d are accepted", ErrCycle, len(out), len(asked)*len(to))
	}
	dirs, err := st.directions(to)
	if err != nil {
		return err
	}
	t := &tape{}
	st.tape = t
	err = st.Solve()
	st.tape = nil
	if err != nil {
		return err
	}
	g := newTangent(st, t, asked, dirs)
	if err := g.phases(); err != nil {
		return err
	}
	n, nh := st.w.m-1, len(st.s.heaters)
	u := n + nh
	res := make([]effect, len(dirs))
	for d := range dirs {
		res[d] = g.carry(d)
	}
	// The state and the temperatures move so that the cycle closes and every
	// temperature is that of its power.
	for q := range to {
		own := &res[u+q]
		a, b := make([]float64, u*u), make([]float64, u)
		for r := 0; r < n; r++ {
			for c := 0; c < u; c++ {
				a[r*u+c] = -res[c].end[r]
			}
			a[r*u+r]++
			b[r] = own.end[r]
		}
		for h, i := range st.s.heaters {
			e := &st.s.elems[i]
			r := n + h
			for c := 0; c < u; c++ {
				a[r*u+c] = -e.p[3] * res[c].power[h]
			}
			a[r*u+r]++
			b[r] = e.p[3] * own.power[h]
			if to[q].Elem == ElemID(i) {
				switch to[q].Param {
				case TempC:
					b[r]++
				case HeatKPerW:
					b[r] += st.Power[h]
				}
			}
		}
		if !solveDense(a, b, u) {
			return errUndamped
		}
		for i := range asked {
			sum := own.asked[i]
			for c := 0; c < u; c++ {
				sum += res[c].asked[i] * b[c]
			}
			out[i*len(to)+q] = sum
		}
	}
	return nil
}
