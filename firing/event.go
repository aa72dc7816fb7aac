package firing

import "math"

// first finds the first event of a step on the cubic through its ends, and
// when it is in truth; then is set to the state there. It is not sure of one
// that it can't place.
func (w *walk) first(ph *phase, extra *[2]guard, x0, d0, x1, d1, then *vec, since, h float64) (at float64, what event, sure bool) {
	at, sure = h, true
	for i := -2; i < ph.n; i++ {
		var g *guard
		if i < 0 {
			g = &extra[i+2]
		} else {
			g = &ph.guard[i]
		}
		if g.what == none || g.what == breakdown && w.blind {
			continue
		}
		if g.what == breakdown && w.hot() {
			hot := *g
			hot.d = -(relight*w.Gap.Burn + w.Gap.Series*w.Gap.Extinct)
			g = &hot
		}
		if g.what == extinction && !math.IsInf(w.dim, 1) {
			last := *g // what burns so low goes out for want of current altogether
			last.d = w.Gap.Burn
			g = &last
		}
		g0, g1 := g.at(x0, since), g.at(x1, since+h)
		if s := g.slope(d0); g1 < 0 && s <= 0 {
			continue
		} else if u, ok := rises(g0, s*h, g1, g.slope(d1)*h, 1e-9*g.scale); ok && u*h <= at {
			tau, x, good := w.refine(ph, g, x0, since, u*h, h)
			if what == none || tau < at {
				at, what, *then = tau, g.what, x
			}
			sure = sure && good
		}
	}
	return at, what, sure
}

// away is how far the cubic through both ends is from the middle.
func away(y0, s0, y1, s1, ym, h float64) float64 {
	return math.Abs(ym - (y0+y1)/2 - h*(s0-s1)/8)
}

// refine moves an event found on the cubic to where the guard itself is 0,
// the state there, and reports whether it got there.
func (w *walk) refine(ph *phase, g *guard, x0 *vec, since, tau, h float64) (float64, vec, bool) {
	x := ph.after(x0, tau)
	for i := 0; ; i++ {
		d := ph.rate(&x)
		v, s := g.at(&x, since+tau), g.slope(&d)
		if math.Abs(v) < 1e-8*g.scale {
			return tau, x, true
		}
		next := tau - v/s
		if i == 4 || !(next >= 0 && next <= h) || math.Abs(next-tau) > h/4 {
			return tau, x, false
		}
		x = ph.moved(x0, &x, tau, next)
		tau = next
	}
}

// edge is how far within its threshold the switch's voltage is left when
// conduction ends, V, so that what is left of the current, a rounding error,
// does not start it again.
const edge = 1e-6

// turn changes the network over at an event.
func (w *walk) turn(ph *phase, what event) {
	defer func() {
		// About the same step in the phase that follows; after a breakdown
		// it will be the discharge of the leads that counts.
		_, e := math.Frexp(ph.h / w.phase().h)
		w.rung = max(0, w.rung+e-2)
		if what == breakdown {
			w.rung = 1
		}
	}()
	switch what {
	case toClamp:
		w.pose = clamped
	case toBack:
		w.pose = backed
	case toOpen:
		w.hold(ph.volts - math.Copysign(edge, ph.volts))
		w.pose = open
		if w.on {
			w.pose = blocked
		}
	case toBlock:
		w.hold(ph.volts - edge)
		w.pose = blocked
	case toClose:
		w.hold(0)
		w.pose = closed
	case breakdown:
		again := w.hot()
		if !w.on && w.broke < 0 {
			w.broke = w.t - w.from
		}
		w.burn, w.dim, w.crest = math.Copysign(1, w.x[v2]), math.Inf(1), 0
		if !again {
			w.strikes++
		}
	case extinction:
		switch {
		case w.Gap.Linger == 0:
			w.burn, w.out, w.swings = 0, math.Inf(-1), 0
		case math.IsInf(w.dim, 1):
			w.dim = w.t
		default:
			w.burn, w.out, w.dim, w.swings = 0, w.dim, math.Inf(1), 0
		}
	case brightens:
		w.dim = math.Inf(1)
	case restrike:
		w.restrikes++
		left := 0.0
		if w.restrikes >= restrikes && ph.primary(&w.x) > arcAmps {
			w.pose, w.stood, left = arcing, true, arcVolts
		}
		w.contactJ += w.c1 * (w.x[v1]*w.x[v1] - left*left) / 2
		w.x[v1] = left
	case bend:
		if w.bent != 0 {
			w.bent = 0
		} else {
			w.bent = math.Copysign(1, w.magnetising(&w.x))
		}
	}
}
