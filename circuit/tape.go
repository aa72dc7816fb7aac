package circuit

import "slices"

// tape records the walk through one cycle, so that it can be gone through
// again with small disturbances.
type tape struct {
	phases []*phase // those met; only seg and shut are filled in
	legs   []leg
	marks  []mark
}

// leg is a stretch that was walked: phase and guard by their number.
type leg struct {
	p      int
	dur    float64
	z0, z1 []float64
	hit    int // number of the guard that ended it, -1 at its appointed end
	relay  bool
	next   int // phase after the event that ended it
}

// mark is an action: it was taken after so many legs, in this state.
type mark struct {
	legs, p int
	z       []float64
}

// rewind forgets what was recorded.
func (t *tape) rewind() { t.legs, t.marks = t.legs[:0], t.marks[:0] }

// number returns the number of a phase, new if it was not met before.
func (t *tape) number(p *phase) int {
	for i, q := range t.phases {
		if slices.Equal(q.seg, p.seg) && slices.Equal(q.shut, p.shut) {
			return i
		}
	}
	t.phases = append(t.phases, &phase{seg: slices.Clone(p.seg), shut: slices.Clone(p.shut)})
	return len(t.phases) - 1
}

// stretch records a stretch that has been walked.
func (t *tape) stretch(x *stretch) {
	l := leg{p: t.number(x.p), dur: x.dur, z0: slices.Clone(x.z0), z1: slices.Clone(x.z1), hit: -1}
	l.z1[len(l.z1)-1] = 1
	for i := range x.p.guards {
		if &x.p.guards[i] == x.hit {
			l.hit, l.relay = i, x.hit.move == 0
		}
	}
	l.next = l.p
	t.legs = append(t.legs, l)
}

// moved records what followed the event that ended the last stretch.
func (t *tape) moved(w *motion) { t.legs[len(t.legs)-1].next = t.number(w.cur) }

// action records that an action is about to be taken.
func (t *tape) action(w *motion) {
	t.marks = append(t.marks, mark{legs: len(t.legs), p: t.number(w.cur), z: slices.Clone(w.z)})
}
