package spark_test

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/spark"
)

// Is a trigger's spark stronger than that of clean points, and why?
func ExampleExplain() {
	c := car.Defaults(12, car.NegativeEarth, 8)
	for _, condition := range []string{"cold_crank", "cruise"} {
		start, steps, err := spark.Explain(c, spark.CleanPoints, spark.Darlington, condition)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: points %.0f kV, Darlington %.0f kV: its drop %+.0f %%, its clean break %+.0f %%\n",
			condition, start, steps[len(steps)-1].KV, 100*steps[spark.ByDrop].Share, 100*steps[spark.ByBreak].Share)
	}
	// Output:
	// cold_crank: points 27 kV, Darlington 39 kV: its drop -6 %, its clean break +51 %
	// cruise: points 27 kV, Darlington 28 kV: its drop -7 %, its clean break +12 %
}
