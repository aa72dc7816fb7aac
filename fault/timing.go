package fault

import (
	"slices"

	"dwellwright/car"
	"dwellwright/units"
)

func timingFaults() []Fault {
	seen := []Move{moves("timing.before"), moves("timing.after")}
	misread := func(c *car.Car, _ *car.Condition, v figures) { seenEarlier(c, v[0]*v[1]) }
	list := []Fault{
		{
			ID: "timing_early", Name: "timing set too early", Prior: 1.0, Remedy: by("set_timing"),
			Change: "spark {0} early at all speeds", Evidence: CommonPractice, Likelier: JustConverted,
			Sizes: []Size{crank(5, 25)},
			Moves: timingMoves(Rises),
			apply: func(c *car.Car, k *car.Condition, v figures) { earlier(c, k, v[0]) },
		},
		{
			ID: "timing_late", Name: "timing set too late", Prior: 1.3, Remedy: by("set_timing"),
			Change: "spark {0} late at all speeds", Evidence: CommonPractice, Likelier: JustConverted,
			Sizes: []Size{crank(5, 25)},
			Moves: timingMoves(Falls),
			apply: func(c *car.Car, k *car.Condition, v figures) { earlier(c, k, -v[0]) },
		},
		{
			ID: "housing_loose", Name: "hold-down loose, the housing turns", Prior: 1.0, Remedy: by("set_timing"),
			Change: "spark {0} out, {1}", Evidence: CommonPractice, Likelier: JustConverted,
			Sizes: []Size{crank(5, 30), side()}, When: inShare(0.7),
			Moves: timingMoves(EitherWay),
			apply: func(c *car.Car, k *car.Condition, v figures) { earlier(c, k, v[0]*v[1]) },
		},
		{
			ID: "rotor_phase_off", Name: "rotor not at its tower when the spark comes", Prior: 1.2, Remedy: by("correct_phase"),
			Change: "rotor {0} from its tower at the spark, {1}, the timing right", Evidence: CommonPractice, Likelier: JustConverted,
			Sizes: []Size{degrees(7, 15), side()},
			Moves: []Move{moves("distributor.phase")},
			apply: func(c *car.Car, _ *car.Condition, v figures) { c.Distributor.Phase.X += v[0] * v[1] },
		},
		{
			ID: "leads_tower_off", Name: "all plug leads one tower off", Prior: 1.6, Remedy: by("reseat_leads"),
			Change: "each lead one tower on or back: every cylinder fires late or early by the way from one firing to the next", Evidence: CommonPractice, Likelier: JustConverted,
			Sizes: []Size{side()},
			Moves: append([]Move{set("distributor.leads")}, timingMoves(EitherWay)...),
			apply: func(c *car.Car, k *car.Condition, v figures) {
				shiftLeads(c, int(v[0]))
				earlier(c, k, -v[0]*nextFiring(c, v[0] > 0))
			},
		},
		{
			ID: "two_leads_swapped", Name: "two plug leads changed over", Prior: 1.6, Remedy: by("reseat_leads"),
			Change: "two leads that follow one another changed over, not that of No. 1", Evidence: CommonPractice, Likelier: JustConverted,
			Sizes: []Size{{units.Fraction, Uniform, 0, 1}}, // which two
			Moves: []Move{set("distributor.leads")},
			apply: swapLeads,
		},
		{
			ID: "half_turn_out", Name: "distributor or its leads half a turn out", Prior: 1.0, Remedy: by("reseat_leads"),
			Change: "every cylinder fires at the end of its exhaust, a whole turn of the crank out; a light on No. 1 sees the same mark", Evidence: CommonPractice, Likelier: JustConverted,
			Moves: []Move{set("distributor.leads"), falls("timing.before"), falls("timing.after")},
			apply: func(c *car.Car, _ *car.Condition, _ figures) {
				shiftLeads(c, c.Cylinders/2)
				seenEarlier(c, -360)
			},
		},
		{
			ID: "tooth_out", Name: "distributor meshed a tooth out", Prior: 1.0, Remedy: by("remesh_drive"),
			Change: "rotor and cam a tooth of the drive out, {0}, the housing where it was", Evidence: CommonPractice, Likelier: JustConverted, needs: meshes,
			Sizes: []Size{side()},
			Moves: timingMoves(EitherWay),
			apply: func(c *car.Car, k *car.Condition, v figures) { earlier(c, k, v[0]*720/float64(c.Distributor.Teeth)) },
		},
		{
			ID: "damper_slipped", Name: "damper's ring has crept since the timing was set", Prior: 0.6, Remedy: by("renew_damper"),
			Change: "timing reads {0} out, {1}, and is not", Evidence: CommonPractice,
			Sizes: []Size{crank(3, 20), side()},
			Moves: seen,
			apply: misread,
		},
		{
			ID: "set_by_slipped_mark", Name: "timing set by a mark that is wrong", Prior: 0.6, Remedy: by("renew_damper"),
			Change: "spark {0} out, {1}, though a light shows it right", Evidence: CommonPractice, Likelier: JustConverted,
			Unseen: "where the mark stands is no figure of the car; a stop in the plug hole shows it, and what the engine does",
			Sizes:  []Size{crank(3, 20), side()},
			Moves:  []Move{moves("conditions.*.advance")},
			apply:  func(_ *car.Car, k *car.Condition, v figures) { sparksEarlier(k, v[0]*v[1]) },
		},
		{
			ID: "timing_misread", Name: "timing read wrongly: wrong lead, clamp the wrong way round, a light that lags", Prior: 0.6, Remedy: by("read_again"),
			Change: "timing reads {0} out, {1}, and is not", Evidence: CommonPractice, Likelier: JustConverted,
			Sizes: []Size{crank(5, 60), side()},
			Moves: seen,
			apply: misread,
		},
		{
			ID: "hose_on_manifold", Name: "vacuum hose on the manifold instead of the port", Prior: 0.8, Remedy: by("right_hose"),
			Change: "the can pulls at idle too", Evidence: CommonPractice, Likelier: JustConverted, needs: ported,
			Moves: []Move{set("advance.vacuum.source"), rises("conditions.*.advance")},
			apply: func(c *car.Car, k *car.Condition, _ figures) {
				withAdvance(c, k, func() { c.Advance.Source = car.ManifoldVacuum })
			},
		},
		{
			ID: "hose_on_port", Name: "vacuum hose on the port instead of the manifold", Prior: 0.8, Remedy: by("right_hose"),
			Change: "the can does not pull at idle", Evidence: CommonPractice, Likelier: JustConverted, needs: manifold,
			Moves: []Move{set("advance.vacuum.source"), falls("conditions.*.advance")},
			apply: func(c *car.Car, k *car.Condition, _ figures) {
				withAdvance(c, k, func() { c.Advance.Source = car.PortedVacuum })
			},
		},
		{
			ID: "hose_left_off", Name: "vacuum hose left off after timing", Prior: 0.2, Remedy: by("right_hose"),
			Change: "the can does not pull; the open end leaks {0} into the manifold of a running engine", Likelier: JustConverted, needs: vacuum,
			Sizes: []Size{pascals(1e3, 6e3)},
			Moves: []Move{falls("conditions.*.advance"), rises("conditions.*.manifold")},
			apply: func(c *car.Car, k *car.Condition, v figures) {
				sparksEarlier(k, -2*pulled(c, k))
				airLeak(k, v[0])
			},
		},
	}
	return inGroup(Timing, list)
}

// leads are the cylinders by tower, in a list of its own.
func leads(c *car.Car) []int {
	if d := &c.Distributor; len(d.Leads) > 0 {
		return slices.Clone(d.Leads)
	}
	return slices.Clone(c.Distributor.FiringOrder)
}

// shiftLeads puts every lead so many towers on in the direction of rotation.
func shiftLeads(c *car.Car, by int) {
	was := leads(c)
	n := len(was)
	is := make([]int, n)
	for i, cylinder := range was {
		is[((i+by)%n+n)%n] = cylinder
	}
	c.Distributor.Leads = is
}

// nextFiring is how many crank degrees after No. 1 the next cylinder fires, or
// before it the last.
func nextFiring(c *car.Car, next bool) float64 {
	d := &c.Distributor
	switch {
	case len(d.Intervals) != c.Cylinders:
		return 720 / float64(c.Cylinders)
	case next:
		return d.Intervals[0]
	}
	return d.Intervals[c.Cylinders-1]
}

// swapLeads changes over two leads that follow one another, v[0] from 0 to 1
// saying which, but not that of No. 1.
func swapLeads(c *car.Car, _ *car.Condition, v figures) {
	list := leads(c)
	n, pairs := len(list), len(list)-2
	if pairs < 1 {
		return
	}
	first := max(slices.Index(list, 1), 0)
	i := (first + 1 + min(int(v[0]*float64(pairs)), pairs-1)) % n
	j := (i + 1) % n
	list[i], list[j] = list[j], list[i]
	c.Distributor.Leads = list
}
