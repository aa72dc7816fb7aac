package web

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/prove"
)

// cautionsFor lists a page's cautions: everything where all conditions are
// measured or wires are cut, else those of the condition looked at.
func cautionsFor(stage string, c *car.Car, k *car.Condition) []string {
	switch {
	case stage == "spark":
		list := prove.Cautions(c, prove.EngineRuns, prove.StarterTurns, prove.KeyOn, prove.Wiring)
		last := len(list) - 1 // who decides stands last
		return append(append(list[:last:last], sparkCautions...), list[last])
	case stage == "plan" || stage == "prove" || k == nil:
		return prove.Cautions(c, prove.EngineRuns, prove.StarterTurns, prove.KeyOn, prove.Wiring)
	case k.Engine == car.Running:
		return prove.Cautions(c, prove.EngineRuns)
	case k.Engine == car.Cranking:
		return prove.Cautions(c, prove.EngineRuns, prove.StarterTurns)
	}
	return prove.Cautions(c, prove.KeyOn)
}

// sparkCautions are those of high voltage and spikes, besides prove's [common
// practice, no source].
var sparkCautions = []string{
	"Never run or crank the engine with a plug lead or the coil lead hanging free: the spark finds a hand, fuel vapour, or its way through the coil. Earth the lead through a spark tester.",
	"Never take a battery lead off while the engine runs: the spike destroys modules and the gas at the battery can catch.",
}

// earthWords says a car's voltage and which of its posts is earthed.
func earthWords(c *car.Car) string {
	return fmt.Sprintf("%d V, %s earth car: the battery's %s post is joined to engine and body", c.NominalV, c.Earth, c.Earth)
}
