package lobes_test

import (
	"fmt"

	"dwellwright/lobes"
)

// A four on a degree wheel, read to a tenth of a degree for five turns.
func ExampleSeparate() {
	run := lobes.Run{Turns: [][]float64{
		{12.1, 101.4, 192.0, 281.1},
		{12.0, 101.5, 192.2, 281.2},
		{12.2, 101.3, 192.1, 281.0},
		{12.1, 101.5, 192.0, 281.2},
		{11.9, 101.3, 192.1, 281.1},
	}}
	e, err := lobes.Separate(run, []float64{0, 90, 180, 270}, lobes.Rounded(0.1))
	if err != nil {
		fmt.Println(err)
		return
	}
	for j, c := range e.Cam {
		fmt.Printf("lobe %d: %+.2f ± %.2f°\n", j+1, c.Mid, c.PM)
	}
	fmt.Printf("wobble: %.2f ± %.2f°, latest at %.0f°\n", e.Wobble.Amp.Mid, e.Wobble.Amp.PM, e.Wobble.Phase.Mid)
	fmt.Printf("worst interval: %+.2f ± %.2f° from lobe %d, even: %t\n",
		e.Spacing.Worst.Mid, e.Spacing.Worst.PM, e.Spacing.From+1, e.Spacing.Verdict == lobes.Even)
	fmt.Printf("side play seen: %t; scatter %.2f, less than %.2f°\n", e.SidePlay.Known, e.Random.Mid, e.Random.Hi)
	// Output:
	// lobe 1: +0.40 ± 0.04°
	// lobe 2: -0.40 ± 0.04°
	// lobe 3: +0.40 ± 0.04°
	// lobe 4: -0.40 ± 0.04°
	// wobble: 0.14 ± 0.07°, latest at 95°
	// worst interval: -0.96 ± 0.17° from lobe 3, even: true
	// side play seen: false; scatter 0.09, less than 0.14°
}
