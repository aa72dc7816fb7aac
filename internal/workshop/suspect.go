package workshop

import (
	"errors"
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/examples"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/suspect"
	"dwellwright/twin"
)

// Faults lists what can go wrong with a car, in the catalogue's order; all of
// it for no car.
func Faults(c *car.Car) []fault.Fault {
	list := fault.Catalogue()
	if c == nil {
		return list
	}
	var fit []fault.Fault
	for i := range list {
		if list[i].Fits(c) {
			fit = append(fit, list[i])
		}
	}
	return fit
}

// Readable is something that can be read, seen or asked.
type Readable struct {
	measure.Measure
	// InOrder is what a car in order shows: the middle and the middle 95 in 100
	// of its figures, or of the chance of a yes. Nil without a car, and where
	// it cannot be worked out.
	InOrder *twin.Interval
}

// Readings lists what can be read, seen and asked of a car, with what it shows
// in order, from so many drawn cars. For no car it is everything there is, put
// as for the first of the built-in demo car's ways of being wired that has it.
func Readings(c *car.Car, draws int, seed uint64) ([]Readable, error) {
	if c == nil {
		return everyReading()
	}
	list := measure.Catalogue(c)
	out := make([]Readable, len(list))
	show, err := measure.Expect(c, list, draws, seed)
	if err != nil {
		return nil, err
	}
	for i := range list {
		out[i].Measure = list[i]
		if !math.IsNaN(show[i].Mid) {
			out[i].InOrder = &show[i]
		}
	}
	return out, nil
}

func everyReading() ([]Readable, error) {
	demo, err := read(examples.DemoName, examples.Demo)
	if err != nil {
		return nil, err
	}
	cars := []*car.Car{demo}
	for _, o := range twin.Options() {
		if d, err := o.Apply(demo); err == nil {
			cars = append(cars, d)
		}
	}
	var out []Readable
	for _, id := range measure.IDs() {
		for _, c := range cars {
			if m, err := measure.Find(c, id); err == nil {
				out = append(out, Readable{Measure: m})
				break
			}
		}
	}
	return out, nil
}

// refineMost is how often a diagnosis is made finer after what was entered.
const refineMost = 16

// Diagnosis is a car under diagnosis: the case, and what was entered.
type Diagnosis struct {
	*suspect.Case
	FromFile int            // readings of the car file that count
	Left     []*car.Reading // those that are of nothing in the catalogue
	Entries  []Entry        // in the order entered, without those undone
}

// Suspect works out what is wrong with a car from the readings of its file and
// what was entered after them. All that is wrong with the entries comes in one
// error, before anything is worked out.
func Suspect(c *car.Car, set suspect.Settings, entries []Entry) (*Diagnosis, error) {
	var errs []error
	for _, e := range entries {
		if _, err := e.read(c); err != nil {
			errs = append(errs, err)
		}
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	b, err := suspect.Prepare(c, set)
	if err != nil {
		return nil, err
	}
	d := &Diagnosis{Case: b.Open()}
	d.FromFile, d.Left = d.OfFile()
	for _, e := range entries {
		if err := d.take(e); err != nil {
			errs = append(errs, err)
		}
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	return d, d.refine()
}

// Enter adds one entry.
func (d *Diagnosis) Enter(e Entry) error {
	if err := d.take(e); err != nil {
		return err
	}
	return d.refine()
}

func (d *Diagnosis) take(e Entry) error {
	x, err := e.read(d.Bank.Car)
	if err != nil {
		return err
	}
	switch {
	case x.answer != nil:
		err = d.Take(*x.answer)
	case x.remedies != nil:
		err = d.Repair(x.remedies, x.outcome)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", e, err)
	}
	d.Entries = append(d.Entries, e)
	return nil
}

func (d *Diagnosis) refine() error {
	for range refineMost {
		more, err := d.Refine()
		if err != nil || !more {
			return err
		}
	}
	return nil
}

// fewToDoubt is how many other answers there have to be before what an owner came
// with is called into doubt.
const fewToDoubt = 3

// Distrusts reports whether answer t of a list, owner saying that it is an owner's
// report, counts and has more than that chance of a slip.
func Distrusts(list []evidence.Taken, t *evidence.Taken, owner bool, chance float64) bool {
	others := -1
	for i := range list {
		if list[i].Counts && list[i].Epoch == t.Epoch {
			others++
		}
	}
	return t.Counts && t.Slip > chance && !(owner && others < fewToDoubt)
}

// Back takes the last entry back; false where nothing was entered. Readings of
// the car file stay.
func (d *Diagnosis) Back() (Entry, bool) {
	n := len(d.Entries) - 1
	if n < 0 {
		return Entry{}, false
	}
	e := d.Entries[n]
	d.Entries = d.Entries[:n]
	if e.Do != LeaveOut {
		d.Undo()
	}
	return e, true
}

// runsNot are the reports that an engine does not run: nothing that needs it
// running is asked for while one of them stands.
var runsNot = map[string]bool{"no_spark_crank": true, "no_start": true, "dies_on_release": true}

// Situation is how the car stands after what was entered: the set-up of the
// last reading, and what is not to be proposed.
func (d *Diagnosis) Situation() evidence.Situation {
	var s evidence.Situation
	still := map[string]bool{} // reports that it does not run
	for _, e := range d.Entries {
		switch e.Do {
		case LeaveOut:
			s.Skip = append(s.Skip, e.ID)
			continue
		case Done:
			s.Setup = ""
			if !e.still() {
				still = map[string]bool{}
			}
			continue
		}
		m, err := d.Bank.Measure(e.ID)
		if err != nil {
			continue
		}
		if e.Do != Cannot {
			s.Setup = m.Setup
		}
		if runsNot[e.ID] {
			still[e.ID] = e.yes()
		}
	}
	for _, so := range still {
		if !so {
			continue
		}
		for i := range d.Bank.Measures {
			if d.Bank.Measures[i].Needs == measure.NeedsRunning {
				s.Skip = append(s.Skip, d.Bank.Measures[i].ID)
			}
		}
		break
	}
	return s
}

// What is the next reading, or to stop and mend.
func (d *Diagnosis) What() (evidence.Choice, error) { return d.Next(d.Situation()) }
