package measure

import "math"

// list is every fact, in one order.
func (f *facts) list() [39]float64 {
	return [...]float64{f.battery, f.lamps, f.starter, f.feed, f.least, f.coil, f.legs, f.coilC, f.coilOver, f.switchLoad, f.out, f.switched,
		f.alive, f.available, f.asked, f.snap, f.tower, f.lead, f.burn, f.contact, f.primary, f.right, f.snapped, f.damp,
		f.timing, f.total, f.mark, f.scatter, f.chances[0], f.chances[1], f.chances[2], f.chances[3], f.chances[4], f.chances[5],
		f.steep, f.turns, f.cranks, f.early, f.late}
}

// touchShare is by what share of itself a fact moves before it counts as touched:
// of a chance's spread, some hundredths at the most.
const touchShare = 1e-3

// touched reports whether facts are others than those of the car in order.
func (f *facts) touched(inOrder *facts) bool {
	if f.solved != inOrder.solved {
		return true
	}
	was := inOrder.list()
	for i, x := range f.list() {
		y := was[i]
		if math.IsNaN(x) != math.IsNaN(y) || math.Abs(x-y) > touchShare*math.Max(math.Abs(x), math.Abs(y)) {
			return true
		}
	}
	return false
}

// Touched marks the observations and the figures of a firing in the list of which the last Read with a change
// moved what they are made of, against the last Read without one. A chance that is
// as good as 0 or 1 stays there although what it is a chance of has come nearer to
// its limit, so that a second fault may push it over where neither does alone; and whether an arc
// stands between parting points may hang on what two faults move together.
func (b *Bench) Touched(marks []bool) {
	var moved [states]bool
	for s := range moved {
		moved[s] = b.facts[s].touched(&b.inOrder[s])
	}
	for i, e := range b.entry {
		if !e.Observation && e.depth&firingOf == 0 {
			continue
		}
		for s, d := range e.wants {
			marks[i] = marks[i] || d != 0 && moved[s]
		}
	}
}
