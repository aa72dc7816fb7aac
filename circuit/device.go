package circuit

import "math"

// maxSegments is the most straight pieces one device has in one state.
const maxSegments = 3

// pieces is the curve of a piecewise-linear device in one of its states:
// straight pieces i = g v + i0 joined at rising breakpoints. Slopes are never
// negative, so that a network of them has one solution.
type pieces struct {
	n  int                      // how many
	at [maxSegments - 1]float64 // breakpoints: piece k holds from at[k-1] to at[k]
	g  [maxSegments]float64
	i0 [maxSegments]float64
}

// from builds the pieces from slopes and breakpoints so that they join; the
// piece holding v = 0 (index zero) goes through the origin.
func (p *pieces) from(zero int) {
	p.i0[zero] = 0
	for k := zero + 1; k < p.n; k++ {
		p.i0[k] = p.i0[k-1] + (p.g[k-1]-p.g[k])*p.at[k-1]
	}
	for k := zero - 1; k >= 0; k-- {
		p.i0[k] = p.i0[k+1] + (p.g[k+1]-p.g[k])*p.at[k]
	}
}

// segment returns the piece that holds v.
func (p *pieces) segment(v float64) int {
	for k := 0; k < p.n-1; k++ {
		if v <= p.at[k] {
			return k
		}
	}
	return p.n - 1
}

// lo and hi return where piece k begins and ends.
func (p *pieces) lo(k int) float64 {
	if k == 0 {
		return math.Inf(-1)
	}
	return p.at[k-1]
}

func (p *pieces) hi(k int) float64 {
	if k == p.n-1 {
		return math.Inf(1)
	}
	return p.at[k]
}

// isDevice reports whether the element is piecewise linear with breakpoints.
func isDevice(k Kind) bool {
	switch k {
	case KindDiode, KindClamp, KindDarlington, KindMOSFET, KindLimitedSource:
		return true
	}
	return false
}

// isSwitchable reports whether the element has a closed state.
func isSwitchable(k Kind) bool {
	switch k {
	case KindSwitch, KindVoltageSwitch, KindDarlington, KindMOSFET, KindContact:
		return true
	}
	return false
}

// conductance of an element that is linear in its present state; of a
// self-heating resistor at the temperature it has in time.
func (e *element) conductance() float64 {
	switch e.kind {
	case KindResistor:
		t := e.p[2]
		if e.p[3] > 0 {
			t = e.hot
		}
		return 1 / (e.p[0] * (1 + e.p[1]*(t-20)))
	case KindSwitch, KindVoltageSwitch, KindContact:
		if e.closed {
			return 1 / e.p[0]
		}
		return e.p[1]
	}
	return 0
}

// shape writes the pieces of a device in its present state.
func (e *element) shape(p *pieces) {
	switch e.kind {
	case KindDiode:
		off := e.p[2]
		p.n, p.at[0] = 2, e.p[0]
		p.g[0], p.g[1] = off, off+1/e.p[1]
		p.from(0)
	case KindClamp:
		off, on := e.p[3], 1/e.p[2]
		p.n, p.at[0], p.at[1] = 3, -e.p[1], e.p[0]
		p.g[0], p.g[1], p.g[2] = off+on, off, off+on
		p.from(1)
	case KindDarlington:
		off, on := e.p[3], 1/e.p[1]
		p.n = 2
		p.g[0], p.g[1] = off, off+on
		switch {
		case e.closed:
			p.at[0] = e.p[0]
		case e.p[2] > 0:
			p.at[0] = e.p[2]
		default:
			p.n = 1
		}
		p.from(0)
	case KindMOSFET:
		on, off := 1/e.p[0], e.p[3]
		switch {
		case e.closed:
			p.n, p.g[0] = 1, on
			p.from(0)
		case e.p[1] > 0:
			p.n, p.at[0], p.at[1] = 3, -e.p[2], e.p[1]
			p.g[0], p.g[1], p.g[2] = off+on, off, off+on
			p.from(1)
		default:
			p.n, p.at[0] = 2, -e.p[2]
			p.g[0], p.g[1] = off+on, off
			p.from(1)
		}
	case KindLimitedSource:
		// i counts from a through the element, so delivering is negative.
		volts, g, limit, off := e.p[0], 1/e.p[1], e.p[2], e.p[3]
		p.n = 3
		p.at[0], p.at[1] = volts-limit/g, volts
		p.g[0], p.g[1], p.g[2] = off, off+g, off
		p.i0[2] = 0
		p.i0[1] = -g * volts
		p.i0[0] = -limit
	}
}

// heating returns R' and κ of a self-heating resistor (see Resistance).
func (e *element) heating() (r, kappa float64) {
	return e.p[0] * (1 + e.p[1]*(e.p[2]-20)), e.p[0] * e.p[1] * e.p[3]
}

// heated returns current and slope of a self-heating resistor at voltage v:
// κ v i² + R' i - v = 0, so i = 2v / (R' + sqrt(R'² + 4 κ v²)).
func heated(r, kappa, v float64) (i, g float64) {
	q := math.Sqrt(r*r + 4*kappa*v*v)
	i = 2 * v / (r + q)
	// Differentiate κ v i² + R' i - v = 0: (1 - κ i²) / (R' + 2 κ v i), and
	// R' + 2 κ v i = q.
	g = (1 - kappa*i*i) / q
	return i, g
}
