package prove

import (
	"fmt"

	"dwellwright/car"
)

// Cautions are what the trade says before anyone takes the readings of a
// sheet [common practice; points on the battery and exhaust from army and
// navy manuals]. They go wherever readings are asked for.
func Cautions(c *car.Car) []string {
	post, other := "negative", "positive"
	if c.Earth == car.PositiveEarth {
		post, other = "positive", "negative"
	}
	return []string{
		fmt.Sprintf("This is a %d V car with its %s post earthed: the %s post is the live one. Meters and modules joined the other way round are wrong, or dead.", c.NominalV, post, other),
		"The secondary carries 20 to 40 kV: use a grounded spark tester, insulated pliers, one hand. Anyone with a pacemaker or other implant stays away from a running or cranking ignition.",
		"Fan, belts and pulleys: no tie, rings, watch or loose sleeve; leads dressed away; a strobe makes a turning fan look still. Chocks, brake, neutral; a second person on the brake for readings in gear.",
		"Run the engine outdoors or with the exhaust piped out: carbon monoxide.",
		"Battery gas: no flame or spark, eye protection, earthed clamp off first and on last. No spark test beside an open plug hole or fuel; air cleaner on and extinguisher at hand for a first start.",
		"Key on with the engine stopped: a minute at most with the coil conducting. Ballast 150 °C and more, coil and manifold hot.",
		"This sheet advises; local codes and licensed practice decide.",
	}
}
