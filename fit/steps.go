package fit

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/units"
)

// Step is one step to a safe first start.
type Step struct {
	Text    string
	Caution bool // it is there so that nobody gets hurt and nothing breaks
}

// Steps is the order of work to a first start after the trigger has moved the
// timing: the move first, then the static check, and only then fuel. way nil:
// nothing has to be turned. The order is common practice.
func (f *Fit) Steps(way *Way, sys units.System) []Step {
	var list []Step
	do := func(format string, args ...any) { list = append(list, Step{Text: fmt.Sprintf(format, args...)}) }
	mind := func(format string, args ...any) {
		list = append(list, Step{Text: fmt.Sprintf(format, args...), Caution: true})
	}
	rig, wanted := f.Rig, f.Timing.Wanted.Mid-f.Timing.Centrifugal // at rest the weights are home
	reluctor := f.Car.Switch.Kind.Electronic() && f.Car.Trigger.Principle == car.Reluctance
	mind("Key off and the battery's earth lead off while hands are at the distributor; chock the wheels, neutral or park. Hot parts, belts and the fan wait until they are cold and still.")
	if way != nil {
		for _, s := range Moves(&rig, way.Move, sys) {
			do("%s", s)
		}
		rig = rig.Apply(way.Move)
	}
	do("Turn the engine by hand in its running direction, so that slack in chain and gear is taken up, until No. 1 comes up on its compression stroke (feel the pressure at the plug hole) and the mark stands at %s.", mark(wanted))
	do("With the cap off, the rotor has to stand at the tower of No. 1. At the tower opposite, No. 1 is on its exhaust stroke: one more turn of the crank.")
	if reluctor {
		do("A coil-and-tooth trigger gives nothing at rest: turn the housing until a tooth stands straight before the pole piece, coming from the retarded side. The light decides later.")
	} else {
		mind("Join the coil's tower to a spark tester clipped to the block, far from fuel and the carburettor. Never hold it, never leave it open: a coil gives tens of kilovolts. Then put the battery's earth lead back on.")
		do("Turn the housing a little with the rotor's rotation. Key on, and turn it slowly back against the rotation (%s, seen from above) until the tester sparks, and stop there: that is %s.", against(rig.Rotation), mark(wanted))
		mind("Key off at once: with %s the coil stays on while the engine stands, and it cooks within minutes.", closed(f.Car))
	}
	do("Look again where the tip stands: within %.0f° of the contact of No. 1 is right. Nearer to its neighbour, move the leads a tower. Half way between two, stop: trigger or sleeve has to move, no turn of the housing will mend it.", f.Phase.Window.OverlapDeg)
	do("See that no hose, wire or manifold touches the housing and that it has room to be turned each way for the light, 10° if there is that much. Tighten the clamp so that it can just be turned by hand.")
	do("%sCap and all leads back on, the coil's lead with them.", back(reluctor))
	mind("Air cleaner on, nobody over the carburettor, a fire extinguisher for petrol in reach, rags and petrol away, doors open for the exhaust, one helper at the key.")
	do("Crank. Even cranking and a catch are right. Kicks against the starter: far too early. Cranks long and pops in the exhaust: far too late. Flame through the carburettor: leads a tower early, or No. 1 is on its exhaust stroke. Stop at any of these, key off, and go back to the mark.")
	do("As it runs: vacuum hose off and plugged, idle at the stated speed, light on the lead of No. 1, turn the housing to %s, tighten the clamp, look once more, scribe housing and block.", mark(f.Timing.AtIdle))
	mind("Belts, fan and pulley look still under a timing light. Keep sleeves, leads and hands away.")
	return list
}

// closed is what leaves the coil on with the engine standing.
func closed(c *car.Car) string {
	if c.Switch.Kind.Electronic() {
		return "many a trigger"
	}
	return "the points closed"
}

// back is what has to be undone before the cap goes on.
func back(reluctor bool) string {
	if reluctor {
		return "The battery's earth lead back on. "
	}
	return "Spark tester off. "
}

func against(r distributor.Rotation) string {
	if r < 0 {
		return "clockwise"
	}
	return "anticlockwise"
}

// mark is a crank angle as it is read on the damper.
func mark(advance float64) string {
	switch {
	case advance > 0.05:
		return fmt.Sprintf("%.1f° before top dead centre", advance)
	case advance < -0.05:
		return fmt.Sprintf("%.1f° after top dead centre", -advance)
	}
	return "top dead centre"
}
