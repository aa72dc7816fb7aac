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
	model evidence.Model // the bank's, and what Refine added
	bank  *evidence.Bank
	work  *evidence.Case
	log   []entry
	near  map[string]*nearer // of hypotheses, draws made for this case

	looked int // pairs that Refine added
}

// entry is a reading or a repair, in the order in which they came.
type entry struct {
	reading *evidence.Reading
	repair  *evidence.Repair
	still   *evidence.Reading // the complaint that the repair did not mend
}

// Open starts a diagnosis with nothing read.
func (b *Bank) Open() *Case {
	return &Case{Bank: b, model: b.model, bank: b.bank, work: b.bank.Open(), near: map[string]*nearer{}}
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

// UnknownFaultError is a fault that the car cannot have, or that there is not.
type UnknownFaultError struct{ ID string }

func (e *UnknownFaultError) Error() string {
	return fmt.Sprintf("no fault %q of this car; dwellwright faults lists them", e.ID)
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
	if i := b.faultAt(id); i >= 0 {
		return &b.Faults[i]
	}
	return nil
}

// faultAt is where a fault stands in the bank, -1 where it has none such.
func (b *Bank) faultAt(id string) int {
	return slices.IndexFunc(b.Faults, func(f fault.Fault) bool { return f.ID == id })
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

// Repair notes that remedies were carried out. That something else is wrong
// besides what they mend is thought of now, with whatever it may be: so what was
// read before speaks for or against it, and a car that is no better is no riddle.
// Where one complaint was told and it is still there, it is told of the car as it
// is now; of several, which of them are left has to be said.
func (c *Case) Repair(remedies []string, outcome evidence.Outcome) error {
	r := evidence.Repair{Remedies: remedies, Outcome: outcome}
	for _, id := range remedies {
		if c.Bank.Remedy(id) == nil && id != evidence.ElsewhereID && id != evidence.UnknownID {
			return c.work.Repair(r) // which says what is wrong with it
		}
	}
	if c.addBesides(remedies) {
		c.replay()
	}
	if err := c.work.Repair(r); err != nil {
		return err
	}
	e := entry{repair: &r}
	if told := c.complaints(); outcome == evidence.Still && len(told) == 1 {
		e.still = &told[0]
		if err := c.work.Take(told[0]); err != nil {
			return err
		}
	}
	c.log = append(c.log, e)
	return nil
}

// complaints are the owner's reports since the last repair that are so.
func (c *Case) complaints() []evidence.Reading {
	var list []evidence.Reading
	tell := func(r *evidence.Reading) {
		if m, err := c.Bank.Measure(r.Channel); err != nil || m.Group != measure.Owner {
			return
		}
		list = slices.DeleteFunc(list, func(x evidence.Reading) bool { return x.Channel == r.Channel })
		if r.Kind == evidence.Yes {
			list = append(list, *r)
		}
	}
	for _, e := range c.log {
		if e.repair != nil {
			list = nil
		}
		if e.still != nil {
			tell(e.still)
		}
		if e.reading != nil {
			tell(e.reading)
		}
	}
	return list
}

// replay works the case out anew from its log.
func (c *Case) replay() {
	bank, err := c.bank.Again(c.model)
	if err != nil {
		bank, c.model = c.Bank.bank, c.Bank.model // as it was before anything was added
	}
	c.bank = bank
	c.work = bank.Open()
	for _, e := range c.log {
		if e.reading != nil {
			_ = c.work.Take(*e.reading) // it was taken before
		} else {
			_ = c.work.Repair(*e.repair)
			if e.still != nil {
				_ = c.work.Take(*e.still)
			}
		}
	}
}

// Situation is how the car stands and what cannot be asked.
type Situation = evidence.Situation

// When reading goes on although mending by trial would take no longer: below
// sure, with a reading that says something and does not take too long.
const (
	sure        = 0.95
	worthBits   = 0.05
	worthPace   = 0.008 // bits a minute
	mostMinutes = 45.0
)

// Next says what to read next, or to stop and mend. Parts thrown at a car cost
// more than minutes: as long as the likeliest remedy is not sure, and a reading
// says something about it for its time, it is read.
func (c *Case) Next(s Situation) (evidence.Choice, error) {
	out, err := c.work.Next(s)
	if err != nil || !out.Stop || len(out.Ranked) == 0 {
		return out, err
	}
	if c.Posterior().Remedies[0].P >= sure {
		return out, nil
	}
	best := -1
	for i := range out.Ranked {
		x := &out.Ranked[i]
		if x.Bits < worthBits || x.BitsPerMinute < worthPace || x.Minutes > mostMinutes {
			continue
		}
		if best < 0 || x.BitsPerMinute > out.Ranked[best].BitsPerMinute {
			best = i
		}
	}
	if best < 0 {
		return out, nil
	}
	chosen := out.Ranked[best]
	copy(out.Ranked[1:best+1], out.Ranked[:best])
	out.Ranked[0] = chosen
	out.Stop, out.Reading, out.Best = false, chosen.Channel, chosen.Total
	return out, nil
}

// Posterior sums up what the readings make of the car, hedged by how well that is
// known.
func (c *Case) Posterior() evidence.Posterior { return c.work.Hedged() }

// Taken lists the readings with the chance that each was a slip, without the
// complaint that was told again because a repair left it.
func (c *Case) Taken() []evidence.Taken {
	all := c.work.Taken()
	out := all[:0]
	for _, e := range c.log {
		switch {
		case e.reading != nil:
			out, all = append(out, all[0]), all[1:]
		case e.still != nil:
			all = all[1:]
		}
	}
	return out
}

// Why takes the case for one hypothesis apart.
func (c *Case) Why(id string, s Situation) (evidence.Why, error) { return c.work.Why(id, s) }

// Below is the chance that a measure reads below a figure if a hypothesis is
// true; "" for all as they stand. Near 0 or 1 the figure would be odd.
func (c *Case) Below(measureID, hypothesis string, figure float64) (float64, error) {
	return c.work.Below(measureID, hypothesis, figure)
}

// Expect says what a measure shows if a hypothesis is true; "" for all as they
// stand.
func (c *Case) Expect(measureID, hypothesis string) (evidence.Expected, error) {
	return c.work.Expect(measureID, hypothesis)
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
