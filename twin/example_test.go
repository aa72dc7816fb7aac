package twin_test

import (
	"fmt"
	"log"

	"dwellwright/car"
	"dwellwright/twin"
)

// What a scope's lowest instant would be at the trigger of a typical 12 V V8
// at a hot idle with every load on, fed behind and before the ballast.
func ExamplePredict() {
	c := car.Defaults(12, car.NegativeEarth, 8)
	lowest := []twin.Spec{{Instrument: twin.ScopeMin, Red: "trigger_supply", Black: "breaker_plate"}}
	for _, id := range []string{"feed_behind_ballast", "feed_before_ballast"} {
		o, err := twin.OptionByID(id)
		if err != nil {
			log.Fatal(err)
		}
		d, err := o.Apply(c)
		if err != nil {
			log.Fatal(err)
		}
		e, err := twin.Predict(d, "hot_idle", lowest, 500, 1)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%s: %.0f V\n", o.Name, e[0].Mid)
	}
	// Output:
	// trigger fed behind the ballast: 7 V
	// trigger fed before the ballast: 11 V
}
