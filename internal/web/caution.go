package web

import (
	"fmt"

	"dwellwright/car"
)

// hazard is what a caution is about; a page shows those of its work.
type hazard uint8

const (
	always   hazard = iota
	running         // the engine runs
	cranking        // the starter turns
	keyOn           // key on, engine stopped
	wiring          // something is cut or joined
)

// cautions are those usual in the trade. Where none is named the source is
// common practice.
var cautions = []struct {
	about hazard
	text  string
}{
	{running, "Exhaust: run the engine outdoors or with the exhaust piped out. An open garage door is not enough. Keep a carbon monoxide alarm."},
	{running, "Secondary voltage is 20 to 40 kV. The jerk throws a hand into the fan: one hand, insulated pliers, never across the chest."},
	{running, "Anyone with a pacemaker or other implant stays away from a running or cranking ignition."},
	{running, "Fan, belts and pulleys turn: no tie, rings, watch or loose sleeves; meter and strobe leads dressed away. A strobe makes the fan look still; it is not. Stay out of its plane."},
	{running, "Hot parts: manifold, coil, radiator cap, and the ballast at 150 °C and more."},
	{running, "Idle tests in gear: wheels chocked, brake on, a second person on the pedal."},
	{cranking, "Spark tests with an earthed spark tester, never beside an open plug hole or a fuel line: what is pumped out can light."},
	{cranking, "Starter 30 s at most, then 2 min rest (US Army TM 10-3930-671-24). Neutral or park, wheels chocked."},
	{keyOn, "Key on with the engine stopped: a minute at most while the coil conducts."},
	{always, "Battery gas burns: no flame, no spark, eyes covered. The earthed clamp comes off first and goes on last. Rings and bracelets off before touching a post or the starter stud."},
	{wiring, "Battery disconnected for all wiring work, connected for tests only. Every new wire fused at its source. Never defeat a fuse, and never drive with a ballast bypassed that the coil was made for."},
	{wiring, "A charged condenser bites: short it before handling it. Do not puncture plug leads with a probe."},
	{wiring, "First start after timing work: air cleaner fitted, nobody over the carburettor, an extinguisher for fuel and electrical fires within reach, rags and petrol away."},
}

// hazardsOf says what a page has to warn of: everything where all conditions
// are measured or wires are cut, else that of the condition looked at.
func hazardsOf(stage string, k *car.Condition) map[hazard]bool {
	h := map[hazard]bool{always: true}
	switch {
	case stage == "plan" || stage == "prove" || k == nil:
		h[running], h[cranking], h[keyOn], h[wiring] = true, true, true, true
	case k.Engine == car.Running:
		h[running] = true
	case k.Engine == car.Cranking:
		h[running], h[cranking] = true, true
	default:
		h[keyOn] = true
	}
	return h
}

// cautionsFor lists a page's cautions; which post is earthed comes first, in
// words.
func cautionsFor(stage string, c *car.Car, k *car.Condition) []string {
	list := []string{fmt.Sprintf("This is a %s. A trigger wired the wrong way round is destroyed at once.", earthWords(c))}
	h := hazardsOf(stage, k)
	for _, x := range cautions {
		if h[x.about] {
			list = append(list, x.text)
		}
	}
	return list
}

// earthWords says a car's voltage and which of its posts is earthed.
func earthWords(c *car.Car) string {
	return fmt.Sprintf("%d V, %s earth car: the battery's %s post is joined to engine and body", c.NominalV, c.Earth, c.Earth)
}
