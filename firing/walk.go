package firing

import (
	"errors"
	"math"
)

// ErrEvents is a case in which clamp, gap or contact change over without end.
var ErrEvents = errors.New("firing: no end of events or of ringing in one cycle")

// How often the network may change over, and how many steps a case may take:
// a coil without losses rings for ever.
const (
	mostEvents = 4000      // in one cycle
	mostSteps  = 2_000_000 // in all: a few tenths of a second
)

// How far the cubic through a step may be from the exact middle of it, as a
// part of what the signal is measured against. Events and peaks are found on
// the cubic and then made exact; so this is only how small a touch can be
// overlooked.
const (
	rough = 3e-3
	fine  = 1e-4
	loose = 1e-2 // where only the state at the end, or one peak, is wanted
)

// A walk is one passage through the cycle. It holds the phases that were
// made, so that a second passage costs no new ones.
type walk struct {
	plant
	phases [int(poses) * 9]phase

	// State.
	x    vec
	t    float64 // s since the switch closed
	pose pose
	burn float64
	bent float64 // sign of the current that saturates the iron
	dim  float64 // s, since when the spark burns with less than it can live on; after all time if it does not
	out  float64 // s, since when a gap that does not burn cools; before all time if it is cold
	from float64 // s, when the switch opened
	on   bool    // the switch is told to be closed
	// Which piece of the contacts' strength they have come to.
	piece int
	rung  int
	steps int // taken for this case

	rate    vec // of x, if the last step was in phase ratedBy
	ratedBy *phase

	// What to look at.
	thorough bool // step through everything: losses, ringing, the make of the switch
	mute     bool // only the state at the end is wanted
	blind    bool // the gap does not break down
	half     bool // stop after the first half swing of the secondary
	record   func(t float64, x, d, y, e vec, h float64, ph *phase)

	seen
}

// seen is what a passage has shown.
type seen struct {
	top, bottom        float64 // V, the secondary's highest and lowest
	primary            float64 // V, the switch's highest
	broke              float64 // s after opening at which the gap first broke down or was lit again; -1: not yet
	strikes, restrikes int
	stood              bool       // an arc stood at the contacts
	burnS              float64    // s in which the gap conducted
	charge             float64    // C through the gap
	swing              [2]float64 // V, the first and the last swing of the primary above the supply
	crest              float64    // V, of the swing that is under way
	swings, events     int
	lost               Losses
	contactJ, clampJ   float64
}

// relight is the voltage at which a hot gap lights again, over that at which
// it burns [a glow's, from memory].
const relight = 1.5

// hot reports whether the gap burned so lately that it lights again at its
// burning voltage.
func (w *walk) hot() bool { return w.burn == 0 && w.t < w.out+w.Gap.Linger }

func (w *walk) reset() {
	for i := range w.phases {
		w.phases[i].set = false
	}
	w.pose, w.burn, w.bent, w.rung, w.out, w.dim = closed, 0, 0, 0, math.Inf(-1), math.Inf(1)
}

// phase returns the phase of the present state.
func (w *walk) phase() *phase {
	k := int(w.pose)*9 + int(w.burn+1)*3 + int(w.bent+1)
	ph := &w.phases[k]
	if !ph.set {
		w.plant.make(ph, w.pose, w.burn, w.bent)
	}
	return ph
}

// close lets the switch close now; what is in the condenser goes into the
// contact.
func (w *walk) close() {
	w.on = true
	w.hold(0)
	w.out -= w.t
	w.dim -= w.t
	w.pose, w.t, w.rung, w.ratedBy = closed, 0, 0, nil
	w.settleBent()
}

// hold puts the capacitance across the switch at v; what that takes comes
// out of the switch, or goes into it.
func (w *walk) hold(v float64) {
	w.lost.Switch += w.c1 * (w.x[v1]*w.x[v1] - v*v) / 2
	w.x[v1] = v
}

// open lets the switch open now.
func (w *walk) open() {
	w.on = false
	if ph := w.phase(); w.pose != blocked {
		w.hold(ph.volts + ph.ohms*ph.primary(&w.x))
	}
	w.top, w.bottom, w.primary, w.strikes, w.broke = 0, 0, w.x[v1], 0, -1
	w.pose, w.from, w.rung, w.piece, w.ratedBy = open, w.t, 0, 0, nil
}

func (w *walk) settleBent() {
	w.bent = 0
	if z := w.Coil.KneeA; z > 0 && !math.IsInf(z, 1) {
		if m := w.magnetising(&w.x); math.Abs(m) > z {
			w.bent = math.Copysign(1, m)
		}
	}
}

// primary is the current into the primary.
func (ph *phase) primary(x *vec) float64 {
	return ph.cur[0]*x[0] + ph.cur[1]*x[1] + ph.cur[2]*x[2] + ph.cur[3]*x[3] + ph.cur0
}

// strength is the voltage at which contacts that have parted for t s strike
// again, at0 + rise t, in three pieces, and the t at which a piece ends.
func (b *Break) strength(piece int) (at0, rise, ends float64) {
	field, air := fieldVPM*b.Parting, airVPM*b.Parting
	switch piece {
	case 0:
		return arcLeast, 0, arcLeast / field
	case 1:
		return 0, field, airVolts / (field - air)
	}
	return airVolts, air, math.Inf(1)
}

// advance walks until t = until.
func (w *walk) advance(until float64) error {
	for w.t < until {
		ph := w.phase()
		horizon := until
		var extra [2]guard
		switch {
		case w.hot():
			horizon = min(horizon, w.out+w.Gap.Linger)
		case w.burn != 0 && !math.IsInf(w.dim, 1):
			if w.t >= w.dim+w.Gap.Linger {
				w.burn, w.out, w.dim, w.swings, w.ratedBy = 0, math.Inf(-1), math.Inf(1), 0, nil
				continue
			}
			horizon = min(horizon, w.dim+w.Gap.Linger)
			z := w.Gap.Burn + w.Gap.Series*w.Gap.Extinct
			extra[1] = guard{c: vec{v2: w.burn}, d: -z, scale: z, what: brightens}
		}
		pieceEnds := math.Inf(1)
		if w.pose == open && w.Break.Parting > 0 {
			at0, rise, ends := w.Break.strength(w.piece)
			pieceEnds = w.from + ends
			if w.t >= pieceEnds {
				w.piece++
				continue
			}
			horizon = min(horizon, pieceEnds)
			extra[0] = guard{c: vec{v1: 1}, d: -at0, e: -rise, scale: 100, what: restrike}
		}
		if w.skip(ph, horizon-w.t) {
			w.t, w.ratedBy = horizon, nil
			continue
		}
		done, err := w.pace(ph, horizon, &extra)
		if err != nil || done {
			return err
		}
	}
	return nil
}

// skip passes to the horizon in one step where nothing can happen on the way.
func (w *walk) skip(ph *phase, h float64) bool {
	if w.thorough || w.burn != 0 || w.half || w.hot() {
		return false
	}
	switch w.pose {
	case closed:
		// The make of the switch raises about twice the turns ratio times
		// the supply, mostly far from what a plug asks.
		slow, ring, made := w.making()
		if w.Break.Drop > 0 && slow <= 1.2*ring || !w.gapOff && 1.2*made >= w.Gap.Required {
			return false
		}
		x := ph.after(&w.x, h)
		if z := w.Coil.KneeA; z > 0 && (w.bent != 0 || math.Abs(w.magnetising(&x)) >= z) {
			return false
		}
		w.x = x
		return true
	case open:
		// The network is passive: the energy of what is away from rest never
		// grows, and bounds what either voltage can come to.
		if w.broke < 0 && w.t-w.from < w.swing180 {
			return false // the first swing is what is wanted
		}
		e := w.away()
		room := w.Source.Volts + math.Sqrt(2*e/w.c1)
		if !w.gapOff && 2*e/w.Gap.Farads >= w.Gap.Required*w.Gap.Required || w.bent != 0 {
			return false
		}
		if z := w.Break.Clamp; z > 0 && room >= z {
			return false
		}
		if z := w.Break.Back; z > 0 && room >= z+2*w.Source.Volts {
			return false
		}
		if z := w.Coil.KneeA; z > 0 && 2*e >= w.Coil.Coupling*w.Coil.L1*z*z {
			return false
		}
		if w.Break.Parting > 0 {
			at0, rise, _ := w.Break.strength(w.piece)
			if room >= at0+rise*(w.t-w.from) {
				return false
			}
		}
		w.x = ph.after(&w.x, h)
		return true
	}
	return false
}

// making gives what a closed switch has before it: the part of its current
// that follows the flux of the primary, the most that the secondary's ringing
// takes from it, both in A, by the energy that rings in leakage and leads, and
// the most that the secondary comes to by it, V.
func (w *walk) making() (slow, ring, made float64) {
	c := &w.Coil
	m := c.Coupling * math.Sqrt(c.L1*c.L2)
	slow = w.x[i1] + m/c.L1*w.x[i2]
	rest := -m / c.L1 * (w.Source.Volts - w.Break.Drop - slow*(w.Source.Ohms+w.Break.On))
	dv := w.x[v2] - rest
	lead := w.Gap.Farads / (c.L2 * (1 - c.Coupling*c.Coupling))
	amps := math.Sqrt(w.x[i2]*w.x[i2] + lead*dv*dv)
	return slow, m / c.L1 * amps, math.Abs(rest) + amps/math.Sqrt(lead)
}

// away is the energy by which the open network differs from rest, J.
func (w *walk) away() float64 {
	c := &w.Coil
	m := c.Coupling * math.Sqrt(c.L1*c.L2)
	dv := w.x[v1] - w.Source.Volts
	return (c.L1*w.x[i1]*w.x[i1]+c.L2*w.x[i2]*w.x[i2]+w.c1*dv*dv+w.Gap.Farads*w.x[v2]*w.x[v2])/2 + m*w.x[i1]*w.x[i2]
}

// A coil coupled less than tight, or without loss in its iron, may give its
// most later than in the first swing: within so many.
const (
	tight  = 0.9
	swings = 25
)

// pace takes one step, up to the next event in it. It reports whether the
// walk is over early.
func (w *walk) pace(ph *phase, horizon float64, extra *[2]guard) (bool, error) {
	if w.steps++; w.steps > mostSteps {
		return true, ErrEvents
	}
	tol := rough
	switch {
	case w.thorough:
		tol = fine
	case w.mute, w.half:
		tol = loose
	}
	x0 := w.x
	since := w.t - w.from
	d0 := w.rate
	if w.ratedBy != ph {
		d0 = ph.rate(&x0)
	}
	scale2 := w.scale2
	// Nothing hangs on the switch's voltage.
	free := (w.half || w.mute) && w.Break.Clamp == 0 && w.Break.Back == 0 && w.Break.Parting == 0
	var x1, xm, d1 vec
	var h float64
	at, what := 0.0, none
	var then vec // the state at the event
	for {
		h = ph.long(w.rung)
		if rem := horizon - w.t; h >= rem {
			h = rem
			xm = ph.after(&x0, h/2)
			x1 = ph.after(&xm, h/2)
		} else if w.rung == 0 {
			xm = ph.nudged(&x0, h/2)
			x1 = ph.step(0, &x0)
		} else {
			k := ph.rung(w.rung - 1)
			xm = ph.step(k, &x0)
			x1 = ph.step(k, &xm)
		}
		d1 = ph.rate(&x1)
		bad := 0.0
		if ph.burn == 0 || w.thorough {
			bad = away(x0[v2], d0[v2], x1[v2], d1[v2], xm[v2], h) / scale2
		}
		if w.pose == open && (w.broke < 0 && !free || w.thorough) {
			bad = max(bad, away(x0[v1], d0[v1], x1[v1], d1[v1], xm[v1], h)/300)
		}
		for i := 0; i < ph.n; i++ {
			g := &ph.guard[i]
			if g.what == breakdown || g.what == toClamp {
				continue // already looked at
			}
			g0, g1 := g.at(&x0, since), g.at(&x1, since+h)
			scale := g.scale
			if !w.thorough {
				scale = max(scale, 30*min(math.Abs(g0), math.Abs(g1)))
			}
			if e := away(g0, g.slope(&d0), g1, g.slope(&d1), g.at(&xm, since+h/2), h); e > bad*scale {
				bad = e / scale
			}
		}
		if bad > tol && w.rung > 0 && h > ph.h {
			for w.rung > 0 && ph.long(w.rung) >= h {
				w.rung--
			}
			continue
		}
		var sure bool
		if at, what, sure = w.first(ph, extra, &x0, &d0, &x1, &d1, &then, since, h); !sure && w.rung > 0 && h > ph.h {
			for w.rung > 0 && ph.long(w.rung) > h/4 {
				w.rung--
			}
			continue
		}
		if bad < tol/20 && w.rung < levels-2 && h == ph.long(w.rung) {
			w.rung++
		}
		break
	}
	if what != none {
		h, x1 = at, then
		d1 = ph.rate(&x1)
	}
	if w.record != nil {
		w.record(w.t, x0, d0, x1, d1, h, ph)
	}
	if !w.mute {
		if what != none {
			xm = ph.after(&x0, h/2)
		}
		w.look(ph, &x0, &d0, &xm, &x1, &d1, h)
	}
	if w.thorough {
		w.lost.add(w, ph, &x0, &xm, &x1, h)
	}
	w.x = x1
	if what == none && h == horizon-w.t {
		w.t = horizon // to the last bit, so that the next piece begins
	} else {
		w.t += h
	}
	w.rate, w.ratedBy = d1, ph
	if what != none {
		w.ratedBy = nil
		w.events++
		if w.events > mostEvents {
			return true, ErrEvents
		}
		w.turn(ph, what)
	}
	if w.half {
		since := w.t - w.from
		switch {
		case w.Coil.Coupling < tight || w.iron == 0:
			// The secondary fills over several swings; no longer than its
			// energy can still come to more.
			top := max(w.top, -w.bottom)
			return since >= swings*w.swing180 || since >= w.swing180 && w.bent == 0 && 2*w.away() <= w.Gap.Farads*top*top, nil
		case since >= w.swing180:
			return d1[v2] <= 0 || since >= swings*w.swing180, nil // a fouled plug's comes later
		}
		return since > w.swing180/2 && w.x[v2] < 0.3*w.top && d1[v2] < 0, nil
	}
	return false, nil
}

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

// look keeps peaks, charge through the gap and ringing of one step.
func (w *walk) look(ph *phase, x0, d0, xm, x1, d1 *vec, h float64) {
	if lo, hi := hull(x0[v2], d0[v2]*h, x1[v2], d1[v2]*h); hi > w.top || lo < w.bottom {
		lo, hi = span(x0[v2], d0[v2]*h, x1[v2], d1[v2]*h)
		if hi > w.top {
			w.top = w.exact(ph, v2, x0, d0, x1, d1, h, hi)
		}
		if lo < w.bottom {
			w.bottom = w.exact(ph, v2, x0, d0, x1, d1, h, lo)
		}
	}
	if w.half {
		return
	}
	switch ph.pose {
	case open:
		rings := ph.burn == 0 && w.broke >= 0
		crest := rings && d0[v1] > 0 && d1[v1] <= 0
		if _, hi := hull(x0[v1], d0[v1]*h, x1[v1], d1[v1]*h); hi > w.primary || crest {
			_, hi = span(x0[v1], d0[v1]*h, x1[v1], d1[v1]*h)
			if hi > w.primary {
				w.primary = w.exact(ph, v1, x0, d0, x1, d1, h, hi)
			}
			if crest {
				w.crest = max(w.crest, hi-w.Source.Volts)
			}
		}
		if rings {
			if x1[v1] < w.Source.Volts && w.crest > 0 {
				w.swung()
			}
		}
	case clamped, arcing:
		i0, im, i1 := ph.primary(x0), ph.primary(xm), ph.primary(x1)
		p := func(i float64) float64 { return (ph.volts + ph.ohms*i) * i }
		took := h * (p(i0) + 4*p(im) + p(i1)) / 6
		if ph.pose == arcing {
			w.contactJ += took
			break
		}
		w.primary = max(w.primary, ph.volts+ph.ohms*max(i0, im, i1))
		w.clampJ += took
	}
	if s := ph.burn; s != 0 {
		w.burnS += h
		c := func(x *vec) float64 { return (s*x[v2] - w.Gap.Burn) / w.Gap.Series }
		r := func(d *vec) float64 { return s * d[v2] / w.Gap.Series }
		// The quintic through both ends, their slopes and the middle.
		w.charge += h*(7*(c(x0)+c(x1))+16*c(xm))/30 + h*h*(r(d0)-r(d1))/60
	}
}

// swung counts a swing of the primary above the supply and back: one, however
// the leakage ripples on it.
func (w *walk) swung() {
	if w.swings == 0 {
		w.swing[0] = w.crest
	}
	if w.crest >= 0.05*w.swing[0] {
		w.swings++
		w.swing[1] = w.crest
	}
	w.crest = 0
}

// exact is the peak that the cubic through a step shows at y, made exact by
// two steps of Newton on the slope. A peak at an end of the step is that end.
func (w *walk) exact(ph *phase, i int, x0, d0, x1, d1 *vec, h, y float64) float64 {
	if y == x0[i] || y == x1[i] {
		return y
	}
	a, b, c := cubic(x0[i], d0[i]*h, x1[i], d1[i]*h)
	u, n := turns(a, b, c)
	for _, v := range u[:n] {
		if x0[i]+v*(a+v*(b+v*c)) != y {
			continue
		}
		t := v * h
		var zero vec
		x := ph.after(x0, t)
		for k := 0; ; k++ {
			if y = x[i]; k == 2 {
				return y
			}
			d := ph.rate(&x)
			dd := apply(&ph.a, &zero, &d)
			next := t - d[i]/dd[i]
			if !(next > 0 && next < h) {
				return y
			}
			x = ph.moved(x0, &x, t, next)
			t = next
		}
	}
	return y
}
