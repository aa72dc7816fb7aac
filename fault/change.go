package fault

import (
	"math"

	"dwellwright/car"
)

// openOhms is what a broken wire or contact still is: from what damp lets through,
// of which a voltmeter shows a part, to nothing at all [an estimate].
var openOhms = ohms(1e7, 1e12)

// offOhms is a trigger's output that stays off, ohm: its transistor's leak.
const offOhms = 2e5

// leg is the path in Move of a piece of the wiring.
func leg(id car.LegID) string { return "wiring." + car.LegNames[id] }

// addOhms puts so many ohms in series into a leg, at its joints: so they do
// not follow the temperature of the copper, unless the whole leg was measured
// as one.
func addOhms(c *car.Car, id car.LegID, ohms float64) {
	l := &c.Wiring[id]
	switch {
	case l.Given:
		l.Resistance.X += ohms
	case l.Connections.X >= 1:
		l.Joint.X += ohms / l.Connections.X
	default:
		l.Connections.X, l.Joint.X = 1, ohms
	}
}

// inLeg is the change of so many ohms in a leg.
func inLeg(id car.LegID) change {
	return func(c *car.Car, _ *car.Condition, v figures) { addOhms(c, id, v[0]) }
}

// beside is two resistances side by side.
func beside(a, b float64) float64 {
	if a <= 0 || b <= 0 {
		return 0
	}
	return 1 / (1/a + 1/b)
}

// scaled is a figure that becomes so many times what it was.
func scaled(figure func(*car.Car) *car.Param) change {
	return func(c *car.Car, _ *car.Condition, v figures) { figure(c).X *= v[0] }
}

// raised is a figure that grows by so much.
func raised(figure func(*car.Car) *car.Param) change {
	return func(c *car.Car, _ *car.Condition, v figures) { figure(c).X += v[0] }
}

// shortOhms is what a short is: metal on metal, to a burnt-through film [an
// estimate].
var shortOhms = ohms(1, 1e-3)

// shorted is a fault that joins the coil's switched side to earth.
func shorted(f Fault, at car.ShortPlace) Fault {
	f.Change, f.Evidence = "{0} from the coil's switched side to earth: the current is never broken", CommonPractice
	f.Sizes, f.Moves = []Size{shortOhms}, []Move{rises("switch.shorts")}
	f.apply = func(c *car.Car, _ *car.Condition, v figures) { c.Switch.ShortBy(at, v[0]) }
	return f
}

// leakAt puts a leak to earth at one part of the high-voltage side.
func leakAt(at car.LeakPlace) change {
	return func(c *car.Car, _ *car.Condition, v figures) { c.Cap.LeakBy(at, v[0]) }
}

// turning reports whether plugs fire.
func turning(k *car.Condition) bool { return k.Engine == car.Running || k.Engine == car.Cranking }

// seenEarlier makes a timing light see so many crank degrees more. Trigger and
// rotor stay as they stand to each other.
func seenEarlier(c *car.Car, crankDeg float64) {
	c.Timing.Before.X += crankDeg
	if c.Switch.Kind.Electronic() && c.Timing.After.Origin != car.Assumed {
		c.Timing.After.X += crankDeg
	}
}

// Limits of the advance that a plug's demand can be worked out for, crank
// degrees before top dead centre.
const latest, earliest = -40, 70

// sparksEarlier makes the plugs fire so many crank degrees earlier.
func sparksEarlier(k *car.Condition, crankDeg float64) {
	if crankDeg == 0 || !turning(k) {
		return
	}
	k.Advance.X = min(max(k.Advance.X+crankDeg, latest), earliest)
}

// earlier is a spark that comes so many crank degrees earlier, and is seen to.
func earlier(c *car.Car, k *car.Condition, crankDeg float64) {
	seenEarlier(c, crankDeg)
	sparksEarlier(k, crankDeg)
}

// paths of earlier.
func timingMoves(h How) []Move {
	return []Move{{"timing.before", h}, {"timing.after", h}, {"conditions.*.advance", h}}
}

// later moves the place where points or trigger let go: so many distributor
// degrees later the rotor has gone on by as much, and the crank by twice that.
func later(c *car.Car, k *car.Condition, deg float64) {
	earlier(c, k, -2*deg)
	c.Distributor.Phase.X += deg
}

// dwellBy changes the dwell of points by so many distributor degrees, as their
// gap closes (above 0) or opens. The contacts then let go half of it later and
// make half of it earlier. With a lift that falls as the square of the angle
// from the top of the lobe the gap goes as the square of the angle open.
func dwellBy(c *car.Car, k *car.Condition, deg float64) {
	const least = 2 // degrees open, and closed, that are left
	lobe := 360 / float64(c.Cylinders)
	sw, d := &c.Switch, &c.Distributor
	closed := sw.Dwell.X
	if sw.Kind == car.DualPoints {
		closed = d.DwellEach.X
		deg = min(deg, lobe-least-closed-d.SetsApart.X)
	}
	deg = max(min(deg, lobe-least-closed, lobe-least-sw.Dwell.X), least-closed, least-sw.Dwell.X)
	if !(lobe-closed > 0) {
		return
	}
	was, is := lobe-closed, lobe-closed-deg
	sw.Gap.X *= is * is / (was * was)
	sw.Dwell.X += deg
	if sw.Kind == car.DualPoints {
		d.DwellEach.X += deg
	}
	later(c, k, deg/2)
}

// scaleCoil winds a primary of so many times the resistance. The classes of
// coils have an inductance that goes about as its power 0.7.
func scaleCoil(c *car.Car, _ *car.Condition, v figures) {
	c.Coil.Primary.X *= v[0]
	c.Coil.Inductance.X *= math.Pow(v[0], 0.7)
}

// inOneLeg is a fault that is so many ohms more in a leg.
func inOneLeg(f Fault, id car.LegID, size Size) Fault {
	f.Change, f.Evidence = car.LegTitles[id]+": resistance up by {0}", CommonPractice
	f.Sizes, f.Moves, f.apply = []Size{size}, []Move{rises(leg(id))}, inLeg(id)
	return f
}

// openLeg is a fault that is a leg that carries nothing.
func openLeg(f Fault, id car.LegID) Fault {
	f.Change, f.Evidence = car.LegTitles[id]+": open, {0}", CommonPractice
	f.Sizes, f.Moves, f.apply = []Size{openOhms}, []Move{rises(leg(id))}, inLeg(id)
	return f
}
