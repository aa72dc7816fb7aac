package measure

import (
	"slices"

	"dwellwright/car"
)

// copier makes one car equal to another that has the same lists, without
// making anything new. The car written into keeps its own lists, so that
// whatever a fault does to their entries is undone by the next copy.
type copier struct {
	to    *car.Car
	lists car.Car // the lists as they were made
	conds [][]string
	made  [states]int // where each state's condition stands in to.Conditions
	n     int         // conditions that are of the car itself
}

// newCopier makes a car like c with the made states' conditions added.
func newCopier(c *car.Car) *copier {
	k := &copier{to: c.Clone(), n: len(c.Conditions)}
	for s := range k.made {
		st := state(s)
		k.made[s] = conditionOf(c, st.from())
		if st.condition() == "" && k.made[s] >= 0 {
			cond := k.to.Conditions[k.made[s]]
			cond.Loads = slices.Clone(cond.Loads)
			k.to.Conditions = append(k.to.Conditions, cond)
			k.made[s] = len(k.to.Conditions) - 1
		}
	}
	k.lists = *k.to
	if k.to.Planned != nil {
		k.lists.Planned = k.to.Planned
	}
	for i := range k.to.Conditions {
		k.conds = append(k.conds, k.to.Conditions[i].Loads)
	}
	return k
}

// copy writes from over the car. What only a file's reader needs (readings,
// runs seen, the kit) is not copied entry by entry: no prediction rests on it.
func (k *copier) copy(from *car.Car) {
	own := &k.lists
	*k.to = *from
	k.to.Loads = refill(own.Loads, from.Loads)
	k.to.Conditions = own.Conditions
	for i := range k.to.Conditions[:k.n] {
		k.condition(i, &from.Conditions[i])
	}
	for s := range k.made {
		st := state(s)
		if st.condition() == "" && k.made[s] >= 0 {
			k.condition(k.made[s], &from.Conditions[conditionOf(from, st.from())])
			st.make(&k.to.Conditions[k.made[s]])
		}
	}
	d, o := &k.to.Distributor, &own.Distributor
	d.FiringOrder = refill(o.FiringOrder, from.Distributor.FiringOrder)
	d.Intervals = refill(o.Intervals, from.Distributor.Intervals)
	d.Towers = refill(o.Towers, from.Distributor.Towers)
	d.Leads = refill(o.Leads, from.Distributor.Leads)
	d.Obstacles = refill(o.Obstacles, from.Distributor.Obstacles)
	k.to.Advance.Wanted = refill(own.Advance.Wanted, from.Advance.Wanted)
	if own.Planned != nil && from.Planned != nil {
		*own.Planned = *from.Planned
		k.to.Planned = own.Planned
	}
}

func (k *copier) condition(i int, from *car.Condition) {
	c := &k.to.Conditions[i]
	*c = *from
	c.Loads = refill(k.conds[i], from.Loads)
}

// refill copies a list into one of the same length that is at hand; another
// length gets a list of its own.
func refill[T any](own, from []T) []T {
	if len(own) != len(from) {
		return slices.Clone(from)
	}
	copy(own, from)
	return own
}
