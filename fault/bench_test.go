package fault_test

import (
	"testing"

	"dwellwright/car"
	"dwellwright/fault"
)

// Every fault that the car can have, applied in turn to a fresh copy of its
// figures: what drawing a hypothesis costs beside reading it.
func BenchmarkApply(b *testing.B) {
	c := example(b, "harrowmere-eight", "feed_before_ballast")
	d, list := c.Clone(), fault.Catalogue()
	k := 0
	for i := range d.Conditions {
		if d.Conditions[i].ID == "cruise" {
			k = i
		}
	}
	var fit []*fault.Fault
	for i := range list {
		if list[i].Fits(c) {
			fit = append(fit, &list[i])
		}
	}
	b.ReportAllocs()
	conditions := append([]car.Condition(nil), c.Conditions...)
	for i := 0; b.Loop(); i++ {
		copy(conditions, c.Conditions)
		*d = *c
		d.Conditions = conditions
		fit[i%len(fit)].Apply(d, &conditions[k], all(0.5))
	}
}
