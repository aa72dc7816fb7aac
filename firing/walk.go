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
	mostEvents = 4000    // in one cycle
	mostSteps  = 500_000 // in all: a second at the very worst
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
	made   [int(poses) * 9]bool // which of them hold for this case

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
	w.made = [int(poses) * 9]bool{}
	w.pose, w.burn, w.bent, w.rung, w.out, w.dim = closed, 0, 0, 0, math.Inf(-1), math.Inf(1)
}

// phase returns the phase of the present state.
func (w *walk) phase() *phase {
	k := int(w.pose)*9 + int(w.burn+1)*3 + int(w.bent+1)
	ph := &w.phases[k]
	if !w.made[k] {
		w.made[k] = true
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
		if w.pose == open && w.Break.Parting > 0 {
			at0, rise, ends := w.Break.strength(w.piece)
			pieceEnds := w.from + ends
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
		if w.pose == open && (w.broke < 0 && !free || w.thorough || !w.mute && !w.half && above(x0[v1], d0[v1]*h, x1[v1], d1[v1]*h, w.primary)) {
			bad = max(bad, away(x0[v1], d0[v1], x1[v1], d1[v1], xm[v1], h)/w.scale1)
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
