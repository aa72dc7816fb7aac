package prove_test

import (
	"fmt"
	"log"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/prove"
)

func ExampleCompute() {
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		log.Fatal(err)
	}
	s, err := prove.Compute(c, prove.Settings{Option: "feed_behind_ballast", Draws: 300, Seed: 1})
	if err != nil {
		log.Fatal(err)
	}
	for _, r := range s.Rows {
		if r.ID != "trigger_feed" {
			continue
		}
		for j, col := range s.Columns {
			if col.ID == "hot_idle" {
				fmt.Printf("%s, %s: %s\n", r.Name, col.Name, r.Cells[j].State)
			}
		}
	}
	fmt.Println("proven:", s.Proven())
	// Output:
	// trigger feed, lowest instant, hot idle, every load on: falls short
	// proven: false
}
