package prove

import (
	"fmt"

	"dwellwright/car"
)

// Hazard is what a caution is about.
type Hazard uint8

// The hazards of the work.
const (
	Always Hazard = iota
	EngineRuns
	StarterTurns
	KeyOn  // key on, engine stopped
	Wiring // something is cut or joined
)

// cautions are those usual in the trade. Where none is named the source is
// common practice.
var cautions = []struct {
	about Hazard
	text  string
}{
	{EngineRuns, "Exhaust: run the engine outdoors or with the exhaust piped out. An open garage door is not enough. Keep a carbon monoxide alarm."},
	{EngineRuns, "Secondary voltage is 20 to 40 kV. The jerk throws a hand into the fan: one hand, insulated pliers, never across the chest."},
	{EngineRuns, "Anyone with a pacemaker or other implant stays away from a running or cranking ignition."},
	{EngineRuns, "Fan, belts and pulleys turn: no tie, rings, watch or loose sleeves; meter and strobe leads dressed away. A strobe makes the fan look still; it is not. Stay out of its plane."},
	{EngineRuns, "Hot parts: manifold, coil, radiator cap, and the ballast at 150 °C and more."},
	{EngineRuns, "Idle tests in gear: wheels chocked, brake on, a second person on the pedal."},
	{StarterTurns, "Spark tests with an earthed spark tester, never beside an open plug hole or a fuel line: what is pumped out can light."},
	{StarterTurns, "Starter 30 s at most, then 2 min rest (US Army TM 10-3930-671-24). Neutral or park, wheels chocked."},
	{KeyOn, "Key on with the engine stopped: a minute at most while the coil conducts."},
	{Always, "Battery gas burns: no flame, no spark, eyes covered. The earthed clamp comes off first and goes on last. Rings and bracelets off before touching a post or the starter stud."},
	{Wiring, "Battery disconnected for all wiring work, connected for tests only. Every new wire fused at its source. Never defeat a fuse, and never drive with a ballast bypassed that the coil was made for."},
	{Wiring, "A charged condenser bites: short it before handling it. Do not puncture plug leads with a probe."},
	{Wiring, "First start after timing work: air cleaner fitted, nobody over the carburettor, an extinguisher for fuel and electrical fires within reach, rags and petrol away."},
}

// Cautions lists what the trade says before work with these hazards; those
// that always hold are always there, and which post is earthed comes first, in
// words, twice. They go wherever readings are asked for or wires are cut.
func Cautions(c *car.Car, about ...Hazard) []string {
	earthed, live := "negative", "positive"
	if c.Earth == car.PositiveEarth {
		earthed, live = "positive", "negative"
	}
	list := []string{fmt.Sprintf("This is a %d V, %s earth car: the battery's %s post is joined to engine and body, its %s post is the live one. Meters and modules joined the other way round are wrong, or dead.", c.NominalV, earthed, earthed, live)}
	for _, x := range cautions {
		wanted := x.about == Always
		for _, a := range about {
			wanted = wanted || a == x.about
		}
		if wanted {
			list = append(list, x.text)
		}
	}
	return append(list, "It advises; local codes and licensed practice decide.")
}
