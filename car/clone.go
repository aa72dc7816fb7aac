package car

import "slices"

// Clone is a car of its own: nothing that is changed in it changes c.
func (c *Car) Clone() *Car {
	if c == nil {
		return nil
	}
	d := *c
	d.Loads = slices.Clone(c.Loads)
	d.Conditions = slices.Clone(c.Conditions)
	for i := range d.Conditions {
		d.Conditions[i].Loads = slices.Clone(d.Conditions[i].Loads)
	}
	d.Readings = slices.Clone(c.Readings)
	d.Distributor.FiringOrder = slices.Clone(c.Distributor.FiringOrder)
	d.Distributor.Intervals = slices.Clone(c.Distributor.Intervals)
	d.Distributor.Towers = slices.Clone(c.Distributor.Towers)
	d.Distributor.Leads = slices.Clone(c.Distributor.Leads)
	d.Distributor.Obstacles = slices.Clone(c.Distributor.Obstacles)
	d.Advance.Wanted = slices.Clone(c.Advance.Wanted)
	d.Advance.Runs = slices.Clone(c.Advance.Runs)
	for i := range d.Advance.Runs {
		d.Advance.Runs[i].Points = slices.Clone(d.Advance.Runs[i].Points)
	}
	d.Advance.Kit.Springs = slices.Clone(c.Advance.Kit.Springs)
	d.Advance.Kit.Stops = slices.Clone(c.Advance.Kit.Stops)
	d.Advance.Kit.Weights = slices.Clone(c.Advance.Kit.Weights)
	d.Bench.Runs = slices.Clone(c.Bench.Runs)
	for i := range d.Bench.Runs {
		turns := slices.Clone(d.Bench.Runs[i].Turns)
		for j := range turns {
			turns[j] = slices.Clone(turns[j])
		}
		d.Bench.Runs[i].Turns = turns
	}
	if c.Planned != nil {
		p := *c.Planned
		d.Planned = &p
	}
	return &d
}
