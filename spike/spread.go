package spike

import (
	"math"

	"dwellwright/car"
	"dwellwright/twin"
)

// moments adds up one reading over the draws.
type moments struct{ n, sum, square float64 }

func (m *moments) add(v float64) { m.n++; m.sum += v; m.square += v * v }

// pm is 1.96 standard deviations, the half-width of 95 % of a normal spread;
// 0 of fewer than two draws.
func (m *moments) pm() float64 {
	if m.n < 2 {
		return 0
	}
	mean := m.sum / m.n
	return 1.96 * math.Sqrt(math.Max((m.square-m.n*mean*mean)/(m.n-1), 0))
}

// spread fills in the plus-or-minus of the results from drawn cars. A draw in
// which a case does not fit (a generator that does not charge at that speed)
// does not count for it.
func spread(c *car.Car, condition string, cases []Case, o Options, protections []Protection, results []Result) error {
	draws := twin.NewSampler(c, o.Seed)
	type pair struct{ peak, lowest moments }
	sums := make([][]pair, len(results))
	for i := range sums {
		sums[i] = make([]pair, 1+len(protections))
	}
	for k := range o.Draws {
		draws.Draw(k + 1) // 0 is the middle
		some, err := apply(draws.Car, condition, cases, o, protections)
		if err != nil {
			return err
		}
		for i := range some {
			if some[i].Refused != "" {
				continue
			}
			take := func(j int, s *Seen) {
				sums[i][j].peak.add(s.PeakV)
				sums[i][j].lowest.add(s.LowestV)
			}
			take(0, &some[i].Without)
			for j := range some[i].With {
				take(1+j, &some[i].With[j].Seen)
			}
		}
	}
	for i := range results {
		r := &results[i]
		r.Without.PeakPM, r.Without.LowestPM = sums[i][0].peak.pm(), sums[i][0].lowest.pm()
		for j := range r.With {
			r.With[j].PeakPM, r.With[j].LowestPM = sums[i][1+j].peak.pm(), sums[i][1+j].lowest.pm()
		}
	}
	return nil
}
