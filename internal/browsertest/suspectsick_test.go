package browsertest

import (
	"slices"
	"testing"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/twin"
)

// sick is a car with one fault or two, and what every reading shows of it with
// all of them and once it is mended.
type sick struct {
	list        []measure.Measure
	ill, mended []float64
	remedy      string   // of the first
	hear        []string // what the owner complains of
	faults      []*fault.Fault
	how         fault.Severity
	bench       *measure.Bench
}

// sicken draws a car of the demo car's file and gives it a fault, and further
// ones as severe.
func sicken(t *testing.T, id string, severity float64, seed uint64, more ...string) sick {
	t.Helper()
	s := wellCar(t, seed)
	s.how = fault.Severity{U: [4]float64{severity, severity, severity, severity}}
	for _, x := range append([]string{id}, more...) {
		f, err := fault.ByID(x)
		if err != nil || !f.Fits(s.bench.Car()) {
			t.Fatalf("%s: %v", x, err)
		}
		s.faults = append(s.faults, f)
	}
	s.remedy = s.faults[0].Remedy.ID
	s.ill = s.with(t, s.faults)
	for i := range s.list {
		if s.list[i].Group == measure.Owner && s.ill[i] > 0.6 && len(s.hear) < 3 {
			s.hear = append(s.hear, s.list[i].ID)
		}
	}
	return s
}

// wellCar is a drawn car in order.
func wellCar(t *testing.T, seed uint64) sick {
	t.Helper()
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		t.Fatal(err)
	}
	s := sick{list: measure.Catalogue(c)}
	if s.bench, err = measure.NewBench(c, s.list); err != nil {
		t.Fatal(err)
	}
	s.bench.OnlyIfRuns = true
	draw := twin.NewSampler(c, seed)
	draw.Draw(1)
	s.bench.Take(draw)
	s.mended = s.with(t, nil)
	return s
}

// with is what the car shows with some of its faults, two at most.
func (s *sick) with(t *testing.T, faults []*fault.Fault) []float64 {
	t.Helper()
	var change func(c *car.Car, k *car.Condition)
	switch len(faults) {
	case 1:
		change = func(c *car.Car, k *car.Condition) { faults[0].Apply(c, k, s.how) }
	case 2:
		change = func(c *car.Car, k *car.Condition) { fault.ApplyBoth(c, k, faults[0], s.how, faults[1], s.how) }
	}
	out := make([]float64, len(s.list))
	if err := s.bench.Read(change, out); err != nil {
		t.Fatal(err)
	}
	return out
}

// cured are the faults that a remedy leaves.
func (s *sick) cured(faults []*fault.Fault, remedy string) []*fault.Fault {
	return slices.DeleteFunc(slices.Clone(faults), func(f *fault.Fault) bool { return f.Remedy.ID == remedy })
}
