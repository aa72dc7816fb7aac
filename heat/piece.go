package heat

import "math"

// piece is one segment solved: every node's temperature as a formula of the
// time since the segment began.
type piece struct {
	name    string
	begin   float64 // s from the start of the run
	seconds float64
	modes   *modes
	a0, to  []float64 // by mode: at the beginning; what drives it for good
	base    []float64 // by node: what follows at once from powers and ToC
	given   []lagging
}

// lagging is a given temperature to + off exp(-rate t).
type lagging struct {
	to, off, rate float64
	drive         []float64 // by mode: of off exp(-rate t)
	direct        []float64 // by node
}

// newPiece solves a segment from the temperatures nodeC and givenC on.
func newPiece(md *modes, g Segment, begin float64, nodeC, givenC []float64) *piece {
	n, m, nc := len(g.Powers), len(g.Given), len(md.rate)
	p := &piece{
		name: g.Name, begin: begin, seconds: g.Seconds, modes: md,
		a0: make([]float64, nc), to: make([]float64, nc), base: make([]float64, n), given: make([]lagging, m),
	}
	force := make([]float64, n+m)
	for i, w := range g.Powers {
		force[i] = w.constant()
	}
	for j, v := range g.Given {
		force[n+j] = v.ToC
		l := lagging{to: v.ToC}
		if v.LagS > 0 {
			l.rate, l.off = 1/v.LagS, givenC[j]-v.ToC
			l.drive, l.direct = make([]float64, nc), make([]float64, n)
			for k := range nc {
				l.drive[k] = md.in.At(k, n+j) * l.off
			}
			for i := range n {
				l.direct[i] = md.direct.At(i, n+j) * l.off
			}
		}
		p.given[j] = l
	}
	for i := range n {
		for c, f := range force {
			p.base[i] += md.direct.At(i, c) * f
		}
	}
	for k := range nc {
		for c, f := range force {
			p.to[k] += md.in.At(k, c) * f
		}
		for i := range n {
			if w := md.start.At(k, i); w != 0 {
				p.a0[k] += w * nodeC[i]
			}
		}
	}
	return p
}

// at returns node i's temperature t seconds into the piece.
func (p *piece) at(i int, t float64) float64 {
	x := p.base[i]
	for _, l := range p.given {
		if l.off != 0 {
			x += l.direct[i] * math.Exp(-l.rate*t)
		}
	}
	for k, r := range p.modes.rate {
		a := p.a0[k]*math.Exp(-r*t) + p.to[k]*rise(r, t)
		for _, l := range p.given {
			if l.off != 0 {
				a += l.drive[k] * both(r, l.rate, t)
			}
		}
		x += p.modes.out.At(i, k) * a
	}
	return x
}

func (p *piece) givenAt(j int, t float64) float64 {
	l := p.given[j]
	return l.to + l.off*math.Exp(-l.rate*t)
}

// slope returns dT/dt of node i as a sum of exponentials.
func (p *piece) slope(i int) []term {
	const apart = 1e-7 // rates nearer than this are moved apart: both() has the two in a difference
	var sum []term
	first := make([]float64, len(p.modes.rate))
	for k, r := range p.modes.rate {
		first[k] = p.to[k] - r*p.a0[k]
	}
	for _, l := range p.given {
		if l.off == 0 {
			continue
		}
		q := l.rate
		for _, r := range p.modes.rate {
			if near := apart * math.Max(math.Abs(r), l.rate); math.Abs(r-q) < near {
				q = r + near
			}
		}
		own := -q * l.direct[i]
		for k, r := range p.modes.rate {
			c := l.drive[k] / (r - q)
			first[k] += c * r
			own -= p.modes.out.At(i, k) * c * q
		}
		sum = append(sum, term{q, own})
	}
	for k, r := range p.modes.rate {
		sum = append(sum, term{r, p.modes.out.At(i, k) * first[k]})
	}
	return sum
}

// turns returns the times, rising, between which node i's temperature only
// rises or only falls: the ends of the piece and every turning point.
func (p *piece) turns(i int) []float64 {
	all := []float64{0}
	for _, z := range zeros(p.slope(i), p.seconds) {
		if z > all[len(all)-1] {
			all = append(all, z)
		}
	}
	if all[len(all)-1] < p.seconds {
		all = append(all, p.seconds)
	}
	return all
}

// beyond reports whether a temperature has left the range of sense.
func (p *piece) beyond(t float64) bool {
	for i := range p.base {
		if !(math.Abs(p.at(i, t)) <= BeyondC) {
			return true
		}
	}
	return false
}
