package suspect

import (
	"math"

	"dwellwright/measure"
)

// unfelt is the share of cars that come in although what is wrong gives their
// owner nothing to report: found at a service, or looked at before a conversion.
// An estimate.
const unfelt = 0.1

// felt are the logarithms of what drawn cars with a fault weigh. Priors count cars
// that come in, and most come because of what their owner notices: how bad a fault
// is on them is what it is on all cars that have it, weighed by the chance that it
// is noticed,
//
//	w = unfelt + (1 - unfelt)(1 - Π(1 - e)),  e = max(0, (p - q)/(1 - q)),
//
// with p the chance of a report with the fault and q of the same car in order: e is
// the chance that the report comes of the fault. Without this a fault that is mild
// on most cars would be held to come in as often as those who have it, and a report
// would tell against it as against a rare one. cars are the base cars of the draws;
// nil is car k for draw k.
func (b *Bank) felt(draws [][]float64, cars []int) []float64 {
	out := make([]float64, len(draws))
	for k, row := range draws {
		inOrder := b.inOrder[k]
		if cars != nil {
			inOrder = b.inOrder[cars[k]]
		}
		silent := 1.0
		for i := range b.Measures {
			if b.Measures[i].Group != measure.Owner || math.IsNaN(row[i]) || math.IsNaN(inOrder[i]) {
				continue
			}
			if p, q := row[i], inOrder[i]; p > q {
				silent *= (1 - p) / (1 - q)
			}
		}
		out[k] = math.Log(unfelt + (1-unfelt)*(1-silent))
	}
	return out
}
