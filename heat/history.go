package heat

import "math"

// History is what a run has come to: formulas, not samples, so that every
// moment can be asked for and peaks are found between any samples.
type History struct {
	Seconds float64 // how long it is
	pieces  []*piece
}

// Run follows the temperatures through a cycle of segments from start on.
// The answer is exact: within a segment the network is linear, and each node
// a sum of exponentials (see doc.go), good to about 1e-15 of the ratio of the
// slowest to the fastest time constant.
//
// A segment in which heat runs away is followed until a temperature passes
// [BeyondC]; then the history up to there comes back together with a
// [RunawayError].
func (s *System) Run(start State, cycle []Segment) (*History, error) {
	if err := s.checkRun(start, cycle); err != nil {
		return nil, err
	}
	h := &History{}
	node := append([]float64(nil), start.NodeC...)
	given := append([]float64(nil), start.GivenC...)
	var md *modes
	for _, g := range cycle {
		if md == nil || !sameSlopes(md.slope, g.Powers) {
			var ok bool
			if md, ok = s.newModes(g.Powers); !ok {
				return h, s.ranAway(g, h.Seconds)
			}
		}
		p := newPiece(md, g, h.Seconds, node, given)
		h.pieces = append(h.pieces, p)
		ends := len(md.rate) > 0 && md.rate[0] < 0 && p.beyond(p.seconds)
		if ends {
			p.seconds = bisect(0, p.seconds, func(t float64) bool { return !p.beyond(t) })
		}
		h.Seconds += p.seconds
		if ends {
			return h, s.ranAway(g, h.Seconds)
		}
		for i := range node {
			node[i] = p.at(i, p.seconds)
		}
		for j := range given {
			given[j] = p.givenAt(j, p.seconds)
		}
	}
	return h, nil
}

func (s *System) ranAway(g Segment, after float64) *RunawayError {
	e := s.runaway(g.Powers)
	e.Segment, e.AfterS = g.Name, after
	return e
}

// find returns the piece of time t and the seconds into it; of two that meet
// at t the later.
func (h *History) find(t float64) (*piece, float64) {
	if len(h.pieces) == 0 || !between(0, t, h.Seconds) {
		return nil, 0
	}
	p := h.pieces[0]
	for _, next := range h.pieces[1:] {
		if next.begin > t {
			break
		}
		p = next
	}
	return p, min(t-p.begin, p.seconds)
}

// At returns the temperature of a node in °C, t seconds from the start of the
// run; NaN outside the run. Where a segment begins with a jump (of a node
// without capacity) it is the temperature after it.
func (h *History) At(node int, t float64) float64 {
	p, into := h.find(t)
	if p == nil || node < 0 || node >= len(p.base) {
		return math.NaN()
	}
	return p.at(node, into)
}

// GivenAt returns a given temperature in °C, as [History.At] does a node's.
func (h *History) GivenAt(given int, t float64) float64 {
	p, into := h.find(t)
	if p == nil || given < 0 || given >= len(p.given) {
		return math.NaN()
	}
	return p.givenAt(given, into)
}

// Sample returns the temperatures of a node at the times asked for, in
// seconds from the start: a line for a picture.
func (h *History) Sample(node int, times []float64) []float64 {
	c := make([]float64, len(times))
	for i, t := range times {
		c[i] = h.At(node, t)
	}
	return c
}

// End returns the temperatures at the end, for a next run to start from.
func (h *History) End() State {
	if len(h.pieces) == 0 {
		return State{}
	}
	p := h.pieces[len(h.pieces)-1]
	at := State{make([]float64, len(p.base)), make([]float64, len(p.given))}
	for i := range at.NodeC {
		at.NodeC[i] = p.at(i, p.seconds)
	}
	for j := range at.GivenC {
		at.GivenC[j] = p.givenAt(j, p.seconds)
	}
	return at
}

// Peak is the hottest moment of a node.
type Peak struct {
	TempC   float64
	AtS     float64 // seconds from the start of the run
	Segment string  // name of the segment it falls into
}

// Peak returns the hottest moment of a node in the whole run, the first of
// equal ones (within a millionth of a kelvin). It is found from where the
// formula turns, not from samples. An empty history has none: NaN.
func (h *History) Peak(node int) Peak {
	best := Peak{TempC: math.NaN(), AtS: math.NaN()}
	for _, p := range h.pieces {
		if node < 0 || node >= len(p.base) {
			return best
		}
		for _, t := range p.turns(node) {
			if c := p.at(node, t); math.IsNaN(best.TempC) || c > best.TempC+1e-6 {
				best = Peak{TempC: c, AtS: p.begin + t, Segment: p.name}
			}
		}
	}
	return best
}

// TimeAbove returns for how many seconds of the run a node is hotter than
// limitC.
func (h *History) TimeAbove(node int, limitC float64) float64 {
	sum := 0.0
	h.stretches(node, limitC, func(from, to float64, above bool) bool {
		if above {
			sum += to - from
		}
		return true
	})
	return sum
}

// TimeTo returns after how many seconds a node first is at limitC or above;
// false where it is not in the whole run. With one segment of steady power it
// answers how long a key may be left on.
func (h *History) TimeTo(node int, limitC float64) (seconds float64, reached bool) {
	h.stretches(node, limitC, func(from, _ float64, above bool) bool {
		seconds, reached = from, above
		return !above
	})
	if !reached {
		return 0, false
	}
	return seconds, true
}

// stretches calls each, in order, with stretches of time in which a node is
// all at or above, or all below, limitC, until each returns false.
func (h *History) stretches(node int, limitC float64, each func(from, to float64, above bool) bool) {
	for _, p := range h.pieces {
		if node < 0 || node >= len(p.base) {
			return
		}
		hot := func(t float64) bool { return p.at(node, t) >= limitC }
		turns := p.turns(node)
		from, above := 0.0, hot(0)
		for k, to := range turns {
			if hot(to) == above {
				continue
			}
			cross := bisect(turns[max(k-1, 0)], to, func(t float64) bool { return hot(t) == above })
			if !each(p.begin+from, p.begin+cross, above) {
				return
			}
			from, above = cross, !above
		}
		if (p.seconds > from || above) && !each(p.begin+from, p.begin+p.seconds, above) {
			return
		}
	}
}
