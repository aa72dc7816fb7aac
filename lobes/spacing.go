package lobes

import "math"

// SpacingLimit is how far firings may be from even, distributor degrees either
// way: "evenly spaced within ±2 degrees at 45 degree intervals on 8-cylinder
// distributors or 90 degree intervals on 4-cylinder distributors", read on a
// test stand at 300 rpm (US Army TM 5-4210-230-14&P-1, distributor operation
// test).
const SpacingLimit = 2.0

// SpacingVerdict is an interval's error held against SpacingLimit.
type SpacingVerdict uint8

// The verdicts. CannotTell: the limit lies within the plus-or-minus.
const (
	CannotTell SpacingVerdict = iota
	Even
	Uneven
)

// Spacing is the intervals between firings as the stand would show them, wobble
// included: actual less ideal, distributor degrees. They sum to zero.
type Spacing struct {
	Intervals []Fig // from lobe j to the next
	// Worst is the interval that is furthest off, from lobe From to the next.
	// The worst of several is off by chance too: its plus-or-minus is the one
	// that holds for all of them at once (Bonferroni).
	Worst   Fig
	From    int
	Verdict SpacingVerdict
}

func (f fit) spacing() Spacing {
	l := len(f.ideal)
	t := f.student95()
	var s Spacing
	worst := 0.0
	for j := range l {
		row := make([]float64, l)
		row[(j+1)%l]++
		row[j]--
		e := dot(row, f.m)
		se := f.se(row)
		s.Intervals = append(s.Intervals, around(e, t*se))
		if math.Abs(e) >= math.Abs(s.Worst.Mid) {
			s.Worst.Mid, s.From, worst = e, j, se
		}
	}
	s.Worst = around(s.Worst.Mid, student(1-0.025/float64(l), f.nu)*worst)
	size := math.Abs(s.Worst.Mid)
	switch {
	case size+s.Worst.PM <= SpacingLimit:
		s.Verdict = Even
	case size-s.Worst.PM > SpacingLimit:
		s.Verdict = Uneven
	}
	return s
}
