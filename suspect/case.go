package suspect

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/measure"
)

// Case is a car under diagnosis: the bank of what can be wrong, the readings
// taken and the repairs done. It is for one goroutine.
type Case struct {
	Bank  *Bank
	model evidence.Model
	work  *evidence.Case
	log   []entry
	drawn map[string]int // draws of hypotheses that were given more
}

// entry is a reading or a repair, in the order in which they came.
type entry struct {
	reading *evidence.Reading
	repair  *evidence.Repair
}

// Open starts a diagnosis with nothing read.
func (b *Bank) Open() *Case {
	return &Case{Bank: b, model: b.model, work: b.bank.Open(), drawn: map[string]int{}}
}

// Answer is what came of a measure: a figure in SI with its own half-width (0:
// the instrument's), a yes or no, or that it could not be had.
type Answer struct {
	Measure   string
	Kind      evidence.Kind
	Value     float64
	HalfWidth float64
}

// UnknownError is a measure that the car has not.
type UnknownError struct{ ID, Why string }

func (e *UnknownError) Error() string {
	if e.Why != "" {
		return fmt.Sprintf("%s cannot be read on this car: %s", e.ID, e.Why)
	}
	return fmt.Sprintf("no reading %q; dwellwright readings lists them", e.ID)
}

// Measure finds a measure of the bank.
func (b *Bank) Measure(id string) (*measure.Measure, error) {
	for i := range b.Measures {
		if b.Measures[i].ID == id {
			return &b.Measures[i], nil
		}
	}
	return nil, &UnknownError{id, measure.Why(b.Car, id)}
}

// Fault finds a fault of the bank.
func (b *Bank) Fault(id string) *fault.Fault {
	for i := range b.Faults {
		if b.Faults[i].ID == id {
			return &b.Faults[i]
		}
	}
	return nil
}

// Take adds what came of a measure. Read again, it stands in for the earlier.
func (c *Case) Take(a Answer) error {
	if _, err := c.Bank.Measure(a.Measure); err != nil {
		return err
	}
	r := evidence.Reading{Channel: a.Measure, Kind: a.Kind, Value: a.Value, HalfWidth: a.HalfWidth}
	if err := c.work.Take(r); err != nil {
		return err
	}
	c.log = append(c.log, entry{reading: &r})
	return nil
}

// Undo takes back the last reading or repair; false where there is none.
func (c *Case) Undo() bool {
	if len(c.log) == 0 {
		return false
	}
	c.log = c.log[:len(c.log)-1]
	c.replay()
	return true
}

// Repair notes that remedies were carried out.
func (c *Case) Repair(remedies []string, outcome evidence.Outcome) error {
	r := evidence.Repair{Remedies: remedies, Outcome: outcome}
	if err := c.work.Repair(r); err != nil {
		return err
	}
	c.log = append(c.log, entry{repair: &r})
	return nil
}

// replay works the case out anew from its log.
func (c *Case) replay() {
	bank := c.Bank.bank
	if len(c.model.Hypotheses) != len(c.Bank.model.Hypotheses) || len(c.drawn) > 0 {
		var err error
		if bank, err = evidence.Prepare(c.model); err != nil {
			bank, c.model = c.Bank.bank, c.Bank.model // as it was before anything was added
		}
	}
	c.work = bank.Open()
	for _, e := range c.log {
		if e.reading != nil {
			_ = c.work.Take(*e.reading) // it was taken before
		} else {
			_ = c.work.Repair(*e.repair)
		}
	}
}

// Situation is how the car stands and what cannot be asked.
type Situation = evidence.Situation

// Next says what to read next, or to stop and mend.
func (c *Case) Next(s Situation) (evidence.Choice, error) { return c.work.Next(s) }

// Posterior sums up what the readings make of the car.
func (c *Case) Posterior() evidence.Posterior { return c.work.Posterior() }

// Taken lists the readings with the chance that each was a slip.
func (c *Case) Taken() []evidence.Taken { return c.work.Taken() }

// Why takes the case for one hypothesis apart.
func (c *Case) Why(id string, s Situation) (evidence.Why, error) { return c.work.Why(id, s) }

// Expect says what a measure shows if a hypothesis is true; "" for all as they
// stand.
func (c *Case) Expect(measureID, hypothesis string) (evidence.Expected, error) {
	return c.work.Expect(measureID, hypothesis)
}

// Limits of what Refine adds.
const (
	refineDraws = 96   // most draws that a hypothesis is given
	refinePairs = 24   // pairs added at a time
	mostPairs   = 600  // in all
	startled    = 0.10 // chance of what the model does not know from which pairs are looked for
	amongFirst  = 10   // faults whose pairs are looked at
)

// Refine makes the answer better where the readings have left few draws to
// carry it, and looks for pairs of faults where no single one explains what
// was read. It reports whether anything was added; call it after a reading,
// when there is time, until it reports false.
func (c *Case) Refine() (bool, error) {
	p := c.work.Posterior()
	if p.Unknown > startled && c.addPairs(p) {
		c.replay()
		return true, nil
	}
	more := false
	for _, n := range c.work.NeedsDraws() {
		ok, err := c.addDraws(n.ID, n.More)
		if err != nil {
			return more, err
		}
		more = more || ok
	}
	if more {
		c.replay()
	}
	return more, nil
}

// addPairs adds the pairs of the likeliest faults that are not in the model.
func (c *Case) addPairs(p evidence.Posterior) bool {
	have, pairs := map[string]bool{}, 0
	for i := range c.model.Hypotheses {
		have[c.model.Hypotheses[i].ID] = true
		if c.model.Hypotheses[i].Members != nil {
			pairs++
		}
	}
	index := map[string]int{}
	for i := range c.Bank.Faults {
		index[c.Bank.Faults[i].ID] = i
	}
	var first []int
	for _, m := range p.Members {
		if i, ok := index[m.ID]; ok && len(first) < amongFirst {
			first = append(first, i)
		}
	}
	r, err := c.Bank.newReader()
	if err != nil {
		return false
	}
	rows := c.Bank.rows()
	moved := c.Bank.movedBy(rows)
	total, both := c.Bank.weights()
	var added []evidence.Hypothesis
	for a, i := range first {
		for _, j := range first[a+1:] {
			f, g := &c.Bank.Faults[i], &c.Bank.Faults[j]
			id := PairID(f.ID, g.ID)
			if have[id] || !fault.Compatible(f, g) || pairs+len(added) >= mostPairs || len(added) >= refinePairs {
				continue
			}
			added = append(added, evidence.Hypothesis{ID: id, Members: []string{f.ID, g.ID},
				Draws: c.Bank.pair(r, min(i, j), max(i, j), rows, moved), LogPrior: c.Bank.pairPrior(f, g, total, both)})
		}
	}
	if len(added) == 0 {
		return false
	}
	c.model.Hypotheses = append(slices.Clip(c.model.Hypotheses), added...)
	return true
}

// addDraws gives a hypothesis more draws.
func (c *Case) addDraws(id string, more int) (bool, error) {
	at := slices.IndexFunc(c.model.Hypotheses, func(h evidence.Hypothesis) bool { return h.ID == id })
	if at < 0 || id == evidence.UnknownID {
		return false, nil
	}
	h := c.model.Hypotheses[at]
	from, to := len(h.Draws), min(len(h.Draws)+max(more, 8), refineDraws)
	if to <= from {
		return false, nil
	}
	members := h.Members
	if members == nil && id != HealthyID {
		members = []string{id}
	}
	var who []int
	for _, m := range members {
		i := slices.IndexFunc(c.Bank.Faults, func(f fault.Fault) bool { return f.ID == m })
		if i < 0 {
			return false, nil
		}
		who = append(who, i)
	}
	r, err := c.Bank.newReader()
	if err != nil {
		return false, err
	}
	h.Draws = slices.Clone(h.Draws)
	for k := from; k < to; k++ {
		row := make([]float64, len(c.Bank.Measures))
		r.read(k, func(d *car.Car, in *car.Condition) {
			switch len(who) {
			case 1:
				c.Bank.Faults[who[0]].Apply(d, in, c.Bank.severity(who[0], k))
			case 2:
				fault.ApplyBoth(d, in, &c.Bank.Faults[who[0]], c.Bank.severity(who[0], k), &c.Bank.Faults[who[1]], c.Bank.severity(who[1], k))
			}
		}, nil, row)
		h.Draws = append(h.Draws, row)
	}
	c.model.Hypotheses = slices.Clone(c.model.Hypotheses)
	c.model.Hypotheses[at] = h
	c.drawn[id] = to
	return true, nil
}

// rows are the draws of the healthy car and of each fault alone.
func (b *Bank) rows() [][][]float64 {
	rows := make([][][]float64, 1+len(b.Faults))
	for i := range rows {
		rows[i] = b.model.Hypotheses[i].Draws
	}
	return rows
}

// Names are the faults of a hypothesis in words.
func (b *Bank) Names(id string) string {
	switch id {
	case HealthyID:
		return "nothing wrong with the ignition"
	case evidence.UnknownID:
		return "something this tool does not know"
	}
	var list []string
	for _, x := range strings.Split(id, " + ") {
		if f := b.Fault(x); f != nil {
			list = append(list, f.Name)
		}
	}
	return strings.Join(list, ", and ")
}

// Remedy finds a remedy by its id.
func (b *Bank) Remedy(id string) *fault.Remedy {
	for i := range b.Faults {
		if b.Faults[i].Remedy.ID == id {
			return &b.Faults[i].Remedy
		}
	}
	return nil
}

// OfFile takes the readings that stand in the car file and are of a measure
// here: same instrument, points and condition, with the car as it is. Those
// that are of none are returned.
func (c *Case) OfFile() (taken int, left []*car.Reading) {
	for i := range c.Bank.Car.Readings {
		r := &c.Bank.Car.Readings[i]
		m := c.Bank.of(r)
		if m == nil {
			left = append(left, r)
			continue
		}
		v := r.Value.X
		if r.Instrument == car.Ohmmeter && !r.LeadsNulled {
			v -= r.Leads.X
		}
		if r.Black != "" && r.Instrument != car.Ohmmeter && m.Spec.Red == r.Black {
			v = -v // the leads the other way round
		}
		pm := math.Hypot(r.Value.PM, r.Accuracy.X)
		if c.Take(Answer{Measure: m.ID, Kind: evidence.Figure, Value: v, HalfWidth: pm}) != nil {
			left = append(left, r)
			continue
		}
		taken++
	}
	return taken, left
}

// of finds the measure that a reading of the car file is of, nil where there
// is none.
func (b *Bank) of(r *car.Reading) *measure.Measure {
	if r.Option != "" && r.Option != "as_fitted" {
		return nil
	}
	for i := range b.Measures {
		m := &b.Measures[i]
		if m.Spec == nil || m.Condition != r.Condition || uint8(m.Spec.Instrument) != uint8(r.Instrument) {
			continue
		}
		if m.Spec.Red == r.Red && m.Spec.Black == r.Black || r.Black != "" && m.Spec.Red == r.Black && m.Spec.Black == r.Red {
			return m
		}
	}
	return nil
}
