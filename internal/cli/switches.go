package cli

import (
	"fmt"
	"io"
	"math"
	"strings"

	"dwellwright/car"
	"dwellwright/internal/workshop"
	"dwellwright/spark"
	"dwellwright/units"
)

// switchesFound is every switch on the car over engine speed, and each against
// clean points in words.
type switchesFound struct {
	contest *spark.Contest
	duels   []duel
	draws   int
}

// duel is a switch against clean points in some conditions of the car, every
// figure at its middle.
type duel struct {
	side   *spark.Side
	rounds []round
	keptV  float64 // V it keeps when closed, in the first condition
	pointV float64 // V that clean points keep
	origin car.Origin
}

// round is a duel in one condition.
type round struct {
	where    string // in words, for a sentence
	from, to float64
	steps    []spark.Step
	arcs     bool // clean points strike again there as they part
}

// compareSwitches compares every switch on the car k, which as wired is d.
func compareSwitches(k, d *car.Car, option string, draws int, seed uint64) (*switchesFound, error) {
	ct, err := workshop.Switches(k, option, spark.CompareSettings{Draws: draws, Seed: seed})
	if err != nil {
		return nil, err
	}
	x := &switchesFound{contest: ct, draws: draws}
	rings := ringside(d)
	arcs := make([]bool, len(rings))
	pointV := 0.0
	for i, r := range rings {
		s, err := spark.Shoot(spark.Fit(d, spark.CleanPoints), r.id, 0, seed)
		if err != nil {
			return nil, err
		}
		v := spark.Parting(spark.Fit(d, spark.CleanPoints), &s.Spark.Firing)
		arcs[i] = v == spark.PartArcs || v == spark.PartStands
		if i == 0 {
			pointV = s.Spark.Case.Break.On * s.Spark.Firing.BreakA
		}
	}
	for i := range ct.Sides {
		side := &ct.Sides[i]
		if side.Fitting == spark.CleanPoints {
			continue
		}
		du := duel{side: side, pointV: pointV}
		fitted := spark.Fit(d, side.Fitting)
		for n, r := range rings {
			start, steps, err := spark.Explain(d, spark.CleanPoints, side.Fitting, r.id)
			if err != nil {
				return nil, err
			}
			du.rounds = append(du.rounds, round{r.where, start, steps[len(steps)-1].KV, steps, arcs[n]})
		}
		if len(rings) > 0 {
			s, err := spark.Shoot(fitted, rings[0].id, 0, seed)
			if err != nil {
				return nil, err
			}
			du.keptV = s.Spark.Case.Break.Drop + s.Spark.Case.Break.On*s.Spark.Firing.BreakA
			if du.origin = fitted.Switch.On.Origin; s.Spark.Case.Break.Drop > 0 {
				du.origin = fitted.Switch.Saturation.Origin
			}
		}
		x.duels = append(x.duels, du)
	}
	return x, nil
}

// ring is a condition in which switches are held against each other.
type ring struct{ id, where string }

// ringside picks the car's slowest cranking and running, its fastest, and one
// between.
func ringside(c *car.Car) []ring {
	var crank, slow, middle, fast *car.Condition
	for i := range c.Conditions {
		k := &c.Conditions[i]
		switch {
		case k.Engine == car.Cranking && (crank == nil || k.Speed.X < crank.Speed.X):
			crank = k
		case k.Engine == car.Running && (slow == nil || k.Speed.X < slow.Speed.X):
			slow = k
		}
		if k.Engine == car.Running && (fast == nil || k.Speed.X > fast.Speed.X) {
			fast = k
		}
	}
	for i := range c.Conditions {
		k := &c.Conditions[i]
		if k.Engine != car.Running || k == slow || k == fast {
			continue
		}
		half := (slow.Speed.X + fast.Speed.X) / 2
		if middle == nil || math.Abs(k.Speed.X-half) < math.Abs(middle.Speed.X-half) {
			middle = k
		}
	}
	var list []ring
	taken := map[*car.Condition]bool{nil: true}
	for _, k := range []*car.Condition{crank, slow, middle, fast} {
		if taken[k] {
			continue
		}
		taken[k] = true
		where := "at " + brief(k.Name)
		if k.Engine == car.Cranking {
			where = "while cranking"
		}
		list = append(list, ring{k.ID, where})
	}
	return list
}

// brief is a condition's name up to its first comma.
func brief(name string) string {
	name, _, _ = strings.Cut(name, ",")
	return strings.TrimSpace(name)
}

// alike is by how much of the other two voltages differ and still count as
// the same.
const alike = 0.03

// title names the switch and what it is to the car.
func title(s *spark.Side) string {
	switch {
	case s.Fitted:
		return s.Fitting.String() + ", fitted"
	case s.Planned:
		return s.Fitting.String() + ", planned"
	}
	return s.Fitting.String()
}

// answer says whether the switch is stronger than clean points and where.
func (d *duel) answer() string {
	var groups [3][]string // stronger, alike, weaker
	for _, r := range d.rounds {
		share := r.to/math.Max(r.from, 1e-9) - 1
		at := 1
		if share > alike {
			at = 0
		} else if share < -alike {
			at = 2
		}
		groups[at] = append(groups[at], fmt.Sprintf("%s by %s (%.1f kV, clean points %.1f kV)", r.where, percent(math.Abs(share)), r.to, r.from))
	}
	var parts []string
	for i, word := range [...]string{"stronger", "as strong", "weaker"} {
		if len(groups[i]) == 0 {
			continue
		}
		text := strings.Join(groups[i], ", ")
		if i == 1 {
			text = strings.ReplaceAll(text, " by ", " within ")
		}
		parts = append(parts, word+" "+text)
	}
	return strings.Join(parts, "; ") + "."
}

// reasons say why, one cause to a sentence.
func (d *duel) reasons() []string {
	var list []string
	gather := func(cause spark.Cause, want func(r *round, share float64) bool) string {
		var parts []string
		for i := range d.rounds {
			r := &d.rounds[i]
			for _, s := range r.steps {
				if s.Cause == cause && math.Abs(s.Share) >= 0.015 && want(r, s.Share) {
					word := "more"
					if s.Share < 0 {
						word = "less"
					}
					parts = append(parts, fmt.Sprintf("%s %s %s", percent(math.Abs(s.Share)), word, r.where))
				}
			}
		}
		return strings.Join(parts, ", ")
	}
	put := func(cause spark.Cause, why string, want func(r *round, share float64) bool) {
		if text := gather(cause, want); text != "" {
			list = append(list, why+": "+text+".")
		}
	}
	every := func(*round, float64) bool { return true }
	costs := func(r *round, share float64) bool { return share < 0 || !r.arcs }
	spares := func(r *round, share float64) bool { return share > 0 && r.arcs }
	volts := func(v float64) string { return units.Format(units.Voltage, math.Round(100*v)/100, units.Metric) }
	kept := fmt.Sprintf("It keeps %s of the supply when closed (%s; clean points %s)", volts(d.keptV), d.origin, volts(d.pointV))
	if d.side.Fitting == spark.WornPoints {
		put(spark.ByDwell, "A weak spring lets them float, closed for less of the turn", every)
		put(spark.ByDrop, strings.Replace(kept, "It keeps", "Burnt, they keep", 1), costs)
		put(spark.ByDrop, "Less current to break, so they arc less as they part", spares)
		put(spark.ByBreak, "They part otherwise", every)
		return list
	}
	put(spark.ByDwell, "It is closed for another part of the turn", every)
	put(spark.ByDrop, kept, costs)
	put(spark.ByDrop, "Less current to break leaves less for an arc", spares)
	put(spark.ByBreak, "It opens without arcing, where clean points strike again as they part", func(r *round, _ float64) bool { return r.arcs })
	put(spark.ByBreak, "It has no condenser that must be charged along with the coil", func(r *round, _ float64) bool { return !r.arcs })
	return list
}

// percent writes a share in whole per cent.
func percent(share float64) string {
	if p := math.Round(100 * share); p >= 1 {
		return fmt.Sprintf("%.0f %%", p)
	}
	return "under 1 %"
}

// shown picks the speeds that stand in the table: all cranking, and five of
// the running ones.
func shown(ct *spark.Contest) []int {
	var crank, run, list []int
	for i := range ct.RPM {
		if ct.Crank[i] {
			crank = append(crank, i)
		} else {
			run = append(run, i)
		}
	}
	list = append(list, crank...)
	n := min(len(run), 5)
	for k := range n {
		list = append(list, run[k*(len(run)-1)/max(n-1, 1)])
	}
	return list
}

// write writes the comparison.
func (x *switchesFound) write(w io.Writer, width int) {
	fmt.Fprintf(w, "\nSWITCHES COMPARED on this coil and wiring\n")
	g := &grid{}
	at := shown(x.contest)
	for _, i := range at {
		how := "running"
		if x.contest.Crank[i] {
			how = "cranking"
		}
		g.heads = append(g.heads, fmt.Sprintf("%s\n%.0f rpm", how, x.contest.RPM[i]))
	}
	for _, t := range []struct {
		name string
		of   func(s *spark.Side) []spark.Interval
	}{
		{"AVAILABLE, kV", func(s *spark.Side) []spark.Interval { return s.KV }},
		{"SPARK IN HAND, throttle wide open", func(s *spark.Side) []spark.Interval { return s.Hand }},
		{"CURRENT AT THE BREAK, A", func(s *spark.Side) []spark.Interval { return s.BreakA }},
		{"INTO THE GAP, mJ", func(s *spark.Side) []spark.Interval { return s.GapMJ }},
	} {
		g.add(t.name)
		for i := range x.contest.Sides {
			s := &x.contest.Sides[i]
			var cells []string
			for _, n := range at {
				cells = append(cells, spread(t.of(s)[n], 1, 0))
			}
			g.add("  "+title(s), cells...)
		}
	}
	g.write(w, width)
	note := "Predicted, with no loads on"
	if x.draws > 0 {
		note += fmt.Sprintf("; each ± is the 95 %% interval of %d draws", x.draws)
	}
	note += ". A switch's own figures are the car file's where it has them, else assumed; worn points are burnt to 0.5 Ω and have lost a third of their spring, assumed."
	writeWrapped(w, "", note, width)
	fmt.Fprintf(w, "\nSTRONGER OR WEAKER than clean points, and why\n")
	for i := range x.duels {
		d := &x.duels[i]
		if len(d.rounds) == 0 {
			continue
		}
		writeWrapped(w, "  ", strings.ToUpper(title(d.side)[:1])+title(d.side)[1:]+": "+together(d.answer()), width)
		for _, r := range d.reasons() {
			writeWrapped(w, "    · ", together(r), width)
		}
	}
	writeWrapped(w, "  ", "Predicted for the car with every figure at its middle, so without ±: theirs stands in the table. Causes are put in one after the other, in this order; the arc of parting points is coarse.", width)
}
