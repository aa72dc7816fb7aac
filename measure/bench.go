package measure

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"dwellwright/car"
	"dwellwright/firing"
	"dwellwright/twin"
)

// Bench reads a list of measures on one drawn car after another. The networks
// of all the states that the list needs are built once. It is for one
// goroutine.
type Bench struct {
	// Demand is what the drawn engine's plugs ask over what the formula says, 1
	// in the middle: twin.Sampler.Demand. Take sets it.
	Demand float64

	// OnlyIfRuns makes a reading that needs the engine running NaN on a drawn
	// car whose engine will certainly not run, hot or cold, with nothing on.
	// Otherwise its figures are those it would have if it were turned at that
	// speed.
	OnlyIfRuns bool

	list                      []Measure
	entry                     []*entry
	drawn                     *car.Car
	refs                      []car.ParamRef
	work                      *copier
	rigs                      [states][]*rig // of each state, one for each wiring met
	needs, wants              [states]depth  // what the list asks of each state, and with OnlyIfRuns
	place, base               place          // of the changed car, of the drawn one
	workFigures, drawnFigures []*car.Param
	visit                     visit
	fire                      firing.Solver
	here                      [states][]int // of each state, the measures that are read in it
	facts                     [states]facts
	memos                     [states]memo
	gaps                      [states]gapMemo
	started                   start
	source                    []car.ParamRef // of the sampler last taken from
	from                      *car.Car
}

// NewBench prepares to read the measures of the list, in its order. A measure
// that is none, or that the car cannot have, is an error.
func NewBench(c *car.Car, list []Measure) (*Bench, error) {
	b := &Bench{Demand: 1, list: list, drawn: c.Clone()}
	var errs []error
	for i := range list {
		at, ok := places[list[i].ID]
		if !ok {
			errs = append(errs, &UnknownError{ID: list[i].ID})
			continue
		}
		if why := table[at].lacks(c); why != "" {
			errs = append(errs, &LacksError{ID: list[i].ID, Why: why})
			continue
		}
		b.entry = append(b.entry, &table[at])
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	b.refs = car.Params(b.drawn)
	b.work = newCopier(c)
	b.workFigures, b.drawnFigures = placeFigures(b.work.to), placeFigures(b.drawn)
	b.started.advance = math.NaN()
	for i, e := range b.entry {
		if e.over == nil {
			b.here[e.at] = append(b.here[e.at], i)
		}
		for s, d := range e.wants {
			b.needs[s] |= d
		}
	}
	return b, nil
}

// Car is the drawn car: its figures are to be written here before Read, which
// does not change it. Its lists (loads, conditions, leads) keep their lengths.
func (b *Bench) Car() *car.Car { return b.drawn }

// List is the measures that Read gives, in its order.
func (b *Bench) List() []Measure { return b.list }

// Take writes the figures of a sampler's draw, which must be of the same car.
func (b *Bench) Take(s *twin.Sampler) {
	b.Demand = s.Demand
	if b.from != s.Car {
		b.from, b.source = s.Car, car.Params(s.Car)
	}
	for i := range min(len(b.refs), len(b.source)) {
		b.refs[i].P.X = b.source[i].P.X
	}
}

// Read works out every measure of the list for the drawn car. change, which
// may be nil, is called for each state on a fresh copy of the drawn car and
// its condition in it, and may change any figure of either and how the car is
// wired; nothing of it stays. out has a place for every measure: the figure
// read, or the chance that an observation is so. NaN is what cannot be read on
// that car. The error joins an *UnsolvedError for each state that has no
// solution; whatever hangs on it is NaN, the rest is read.
func (b *Bench) Read(change func(c *car.Car, k *car.Condition), out []float64) error {
	if len(out) != len(b.list) {
		return fmt.Errorf("measure: %d measures, but %d places for them", len(b.list), len(out))
	}
	for i := range out {
		out[i] = math.NaN()
	}
	b.wants = b.needs
	if b.OnlyIfRuns {
		b.wants[coldFast] |= works
		b.wants[lampsOff] |= works
	}
	var errs []error
	for s := range b.wants {
		b.facts[s] = facts{}
		if b.wants[s] == 0 {
			continue
		}
		if err := b.at(state(s), change, out); err != nil {
			b.facts[s] = unsolved()
			errs = append(errs, &UnsolvedError{State: stateTable[s].name, Err: err})
		}
	}
	stuck := b.OnlyIfRuns && runs(&b.facts[coldFast]) < never && runs(&b.facts[lampsOff]) < never
	for i, e := range b.entry {
		if e.over != nil {
			out[i] = e.over(&b.facts)
		}
		if stuck && e.Needs == NeedsRunning {
			out[i] = math.NaN()
		}
		if e.Observation && !math.IsNaN(out[i]) {
			out[i] = math.Min(math.Max(out[i], 0), 1)
		}
		if math.IsInf(out[i], 0) {
			out[i] = math.NaN()
		}
	}
	return errors.Join(errs...)
}

// drawnPlace is the distributor of the car as it was drawn.
func (b *Bench) drawnPlace() *place {
	return b.base.of(b.drawn, b.drawnFigures, nil)
}

// never is a chance of running so small that nothing is read of an engine that
// runs.
const never = 0.01

// at works out one state and what is read in it.
func (b *Bench) at(s state, change func(c *car.Car, k *car.Condition), out []float64) error {
	v := &b.visit
	b.work.copy(b.drawn)
	c := b.work.to
	k := &c.Conditions[b.work.made[s]]
	*v = visit{b: b, s: s, c: c, k: k, facts: &b.facts[s], fire: &b.fire}
	if change != nil {
		if b.wants[s]&geometry != 0 {
			v.changed, v.before = true, before{k.Speed.X, k.Advance.X, v.canSwing()}
		}
		change(c, k)
	}
	if m := &b.memos[s]; s.solved() && m.holds(c, k, b.wants[s], b.Demand) {
		m.recall(v)
	} else if s.solved() {
		var err error
		if v.rig, err = b.rig(s); err != nil {
			return err
		}
		if err = v.rig.solve(b.Demand); err != nil {
			// A solution far from the last one may be found from the start.
			b.rigs[s] = slices.DeleteFunc(b.rigs[s], func(r *rig) bool { return r == v.rig })
			if v.rig, err = b.rig(s); err != nil {
				return err
			}
			if err = v.rig.solve(b.Demand); err != nil {
				b.rigs[s] = slices.DeleteFunc(b.rigs[s], func(r *rig) bool { return r == v.rig })
				return err
			}
		}
		if b.wants[s]&firingOf != 0 && v.rig.model.Switched() {
			var err error
			if v.spark, err = v.rig.model.Spark(); err != nil {
				return err
			}
		}
		if change == nil {
			m.keep(v, b.wants[s], b.Demand)
		}
	}
	v.work(b.wants[s])
	for _, i := range b.here[s] {
		e := b.entry[i]
		if e.spec != nil {
			out[i] = v.read(e)
		} else {
			out[i] = e.here(v)
		}
	}
	return nil
}
