package plan_test

import (
	"fmt"
	"log"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/plan"
	"dwellwright/prove"
)

func ExampleCompare() {
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		log.Fatal(err)
	}
	cmp, err := plan.Compare(c, prove.Settings{Draws: 300, Seed: 1})
	if err != nil {
		log.Fatal(err)
	}
	for _, ch := range cmp.Choices {
		if ch.State() == prove.FallsShort {
			fmt.Printf("%s: %s\n", ch.Option.Name, ch.State())
			fmt.Printf("  %s, %s\n", ch.Short[0].Row.Name, ch.Short[0].Column.Name)
		}
	}
	// Output:
	// trigger fed behind the ballast: falls short
	//   trigger feed, lowest instant, hot idle, every load on
}
