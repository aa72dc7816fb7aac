package fault_test

import (
	"math"
	"testing"

	"dwellwright/car"
	"dwellwright/fault"
	"dwellwright/twin"
)

// Every fault, mild, middling and bad, in every condition of every car gives a
// car that can be solved, fires or does not, and has a distributor that can be.
func TestEveryFaultSolves(t *testing.T) {
	list := fault.Catalogue()
	fitted := make([]bool, len(list))
	solved := 0
	for n, c := range fleet(t) {
		for k := range c.Conditions {
			id := c.Conditions[k].ID
			work := c.Clone()
			m, err := twin.Build(work, id)
			if err != nil {
				t.Fatalf("%s, %s: %v", c.Name, id, err)
			}
			for i := range list {
				f := &list[i]
				if !f.Fits(c) {
					continue
				}
				fitted[i] = true
				for _, u := range severities(n, i) {
					restore(work, c)
					f.Apply(work, &work.Conditions[k], all(u))
					live := m
					if f.Rewires {
						live, err = twin.Build(work, id)
					} else {
						err = m.Refresh()
					}
					if err == nil {
						err = live.Solve()
					}
					if err == nil && live.Switched() {
						var s *twin.Spark
						if s, err = live.Spark(); err == nil && !(s.Firing.AvailableV >= 0 && s.Asked.TotalV > 0 && !math.IsInf(s.Asked.TotalV, 0)) {
							t.Errorf("%s of %s, %s, severity %g: %g V available, %g asked", f.ID, c.Name, id, u, s.Firing.AvailableV, s.Asked.TotalV)
						}
					}
					if err == nil {
						err = twin.Mechanics(work)
					}
					if err != nil {
						t.Errorf("%s of %s, %s, severity %g: %v", f.ID, c.Name, id, u, err)
					}
					solved++
				}
			}
		}
	}
	for i := range list {
		if !fitted[i] && thin == 1 {
			t.Errorf("no car has %s", list[i].ID)
		}
	}
	t.Log(solved, "cars solved")
}

// severities are all three for the example cars, and one after the other for
// those drawn at random.
func severities(n, i int) []float64 {
	three := []float64{0, 0.5, 1}
	if n < 6 && thin == 1 {
		return three
	}
	return three[(n+i)%3:][:1]
}

// restore makes work the car c again, without moving it: a network that was
// built on it holds pointers into it.
func restore(work, c *car.Car) {
	conditions, loads := work.Conditions, work.Loads
	copy(conditions, c.Conditions)
	copy(loads, c.Loads)
	*work = *c
	work.Conditions, work.Loads = conditions, loads
}
