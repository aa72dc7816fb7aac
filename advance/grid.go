package advance

import "math"

// grid is a mechanism's geometry tabulated evenly in advance, so that a change
// of springs, stop, friction or mass costs no trigonometry. Curves from it lie
// within one step of Mechanism.Curve where a spring takes up, and far nearer
// elsewhere.
type grid struct {
	stepDeg float64
	deg     []float64   // distributor degrees
	perPull []float64   // 1/(kg m^2): one over the weights' pull by w^2
	ext     [][]float64 // by spring: growth of its length from rest, m
	lever   [][]float64 // by spring: growth for a radian of swing, m/rad
}

// Steps of the grid, distributor degrees: small against a strobe's reading, and
// against a service tolerance.
const (
	readStepDeg = 0.12
	kitStepDeg  = 0.04
)

// limitDeg is the furthest stop, up to atMost, that m can have.
func (m Mechanism) limitDeg(atMost float64) float64 {
	ok := func(deg float64) bool { m.StopDeg = deg; return m.Validate() == nil }
	if ok(atMost) {
		return atMost
	}
	lo, hi := 0.0, atMost
	for range 40 {
		if mid := (lo + hi) / 2; ok(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// tabulate is the grid of m up to maxDeg, which m must be able to reach, in
// steps of about stepDeg.
func (m Mechanism) tabulate(maxDeg, stepDeg float64) *grid {
	n := min(max(int(math.Ceil(maxDeg/stepDeg)), 60), 900)
	g := &grid{stepDeg: maxDeg / float64(n)}
	g.ext = make([][]float64, len(m.Springs))
	g.lever = make([][]float64, len(m.Springs))
	for k := range n + 1 {
		deg := g.stepDeg * float64(k)
		psi := m.swing(deg)
		g.deg = append(g.deg, deg)
		g.perPull = append(g.perPull, 1/m.Weights.pull(psi))
		for i, s := range m.Springs {
			ext, lever := m.stretch(s, psi)
			g.ext[i] = append(g.ext[i], ext)
			g.lever[i] = append(g.lever[i], lever)
		}
	}
	return g
}

// tension is what can differ between springs in the same place.
type tension struct{ rate, preload, slack float64 }

// curve is w^2 of balance at the grid's joints, see balance.
type curve struct {
	g               *grid
	n               int // joints in use: up to the first at the stop or beyond
	stop            float64
	rise, mid, fall []float64
}

func (g *grid) curve() *curve {
	n := len(g.deg)
	return &curve{g: g, rise: make([]float64, n), mid: make([]float64, n), fall: make([]float64, n)}
}

// set works the curve out. massBy multiplies the weights' mass.
func (c *curve) set(springs []tension, stop, friction, massBy float64) {
	g := c.g
	c.stop = stop
	c.n = min(int(math.Ceil(stop/g.stepDeg-1e-9))+1, len(g.deg))
	n := c.n
	torque := c.mid[:n]
	clear(torque)
	for i, s := range springs {
		ext, lever := g.ext[i][:n], g.lever[i][:n]
		from := 0
		if s.slack > 0 {
			for from < n && ext[from] <= s.slack {
				from++
			}
		}
		base, rate := s.preload-s.rate*s.slack, s.rate
		ext, lever = ext[from:], lever[from:]
		sum := torque[from:]
		for k := range sum {
			sum[k] += (base + rate*ext[k]) * lever[k]
		}
	}
	rise, fall, perPull := c.rise[:n], c.fall[:n], g.perPull[:n]
	by := 1 / massBy
	top, topMid := math.Inf(-1), math.Inf(-1)
	for k, per := range perPull {
		per *= by
		mid, rub := torque[k]*per, friction*per
		if mid > topMid {
			topMid = mid
		}
		if mid+rub > top {
			top = mid + rub
		}
		torque[k], rise[k], fall[k] = topMid, top, mid-rub
	}
	least := math.Inf(1)
	for k := n - 1; k >= 0; k-- {
		if fall[k] < least {
			least = fall[k]
		}
		fall[k] = least
	}
}

// at is the advance (deg) where the sorted list w reaches w2.
func (c *curve) at(w []float64, w2 float64) float64 {
	lo, hi := 0, c.n // first joint with w >= w2
	for lo < hi {
		h := int(uint(lo+hi) >> 1)
		if w[h] < w2 {
			lo = h + 1
		} else {
			hi = h
		}
	}
	switch lo {
	case 0:
		return 0
	case c.n:
		return c.stop
	}
	return min(c.g.deg[lo-1]+c.g.stepDeg*(w2-w[lo-1])/(w[lo]-w[lo-1]), c.stop)
}

func (c *curve) band(w2 float64) Band {
	return Band{Mid: c.at(c.mid, w2), Rising: c.at(c.rise, w2), Falling: c.at(c.fall, w2)}
}
