package suspect

import (
	"math"

	"dwellwright/car"
	"dwellwright/fault"
)

// OfMost takes no more than so many faults.
func (s Settings) OfMost(faults int) Settings {
	s.most = faults
	return s
}

// PairIDs are the pairs of the bank.
func (b *Bank) PairIDs() []string {
	var ids []string
	for _, h := range b.model.Hypotheses {
		if h.Members != nil {
			ids = append(ids, h.ID)
		}
	}
	return ids
}

// CheckPair gives draw k of a pair as the bank has it, and as a reader that has
// read nothing before finds it.
func (b *Bank) CheckPair(id string, k int) (got, whole []float64, err error) {
	for _, h := range b.model.Hypotheses {
		if h.ID != id {
			continue
		}
		var who []int
		for _, m := range h.Members {
			for i := range b.Faults {
				if b.Faults[i].ID == m {
					who = append(who, i)
				}
			}
		}
		r, err := b.newReader()
		if err != nil {
			return nil, nil, err
		}
		whole = make([]float64, len(b.Measures))
		r.read(k, func(c *car.Car, in *car.Condition) {
			fault.ApplyBoth(c, in, &b.Faults[who[0]], b.severity(who[0], k), &b.Faults[who[1]], b.severity(who[1], k))
		}, whole)
		return h.Draws[k], whole, nil
	}
	return nil, nil, &UnknownError{ID: id}
}

// Within says how far two figures of measure i may lie apart and be one to its
// instrument.
func (b *Bank) Within(i int, x float64) float64 {
	if m := &b.Measures[i]; m.Accuracy != nil {
		return m.Accuracy(math.Abs(x))
	}
	return 0.1
}
