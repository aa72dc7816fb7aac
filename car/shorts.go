package car

// ShortPlace is a part through which the coil's switched side can touch earth,
// so that points or trigger have nothing to break.
type ShortPlace int

const (
	ShortInLead      ShortPlace = iota // the lead from coil to distributor, or a tachometer's wire on it
	ShortAtTerminal                    // the distributor's terminal, its insulator, the lead inside
	ShortInCondenser                   // from the condenser's lead to its can
	ShortInModule                      // the output of a trigger that no longer lets go
	ShortPlaces
)

// ShortBy puts so many ohms, above 0, from the switched side to earth: from the
// lead to the block, from the others to the breaker plate. It is a short: what some
// 2 ohm leave is no spark, as a current of 4 A then makes 8 V where the primary of a
// spark asks some hundred.
func (s *Switch) ShortBy(at ShortPlace, ohms float64) { s.Shorts[at] += 1 / ohms }

// Bridged is what all shorts across points or trigger conduct together, S; 0
// where there is none. A short of the lead is ahead of them.
func (s *Switch) Bridged() float64 {
	sum := 0.0
	for at, g := range s.Shorts {
		if ShortPlace(at) != ShortInLead {
			sum += g
		}
	}
	return sum
}

// NeverParts reports whether the points have no gap: they stay closed all the
// way round.
func (s *Switch) NeverParts() bool { return !s.Kind.Electronic() && !(s.Gap.X > 0) }

// NeverOpens reports whether the primary's current is never broken.
func (s *Switch) NeverOpens() bool {
	return s.Bridged() > 0 || s.Shorts[ShortInLead] > 0 || s.NeverParts()
}
