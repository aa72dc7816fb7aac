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
	if c.Planned != nil {
		p := *c.Planned
		d.Planned = &p
	}
	return &d
}
