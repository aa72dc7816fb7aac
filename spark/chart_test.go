package spark

import (
	"fmt"
	"testing"
	"time"

	"dwellwright/car"
)

func TestScratchChart(t *testing.T) {
	c := car.Defaults(12, car.NegativeEarth, 8)
	t0 := time.Now()
	n := 0
	for f := Fitting(0); f < Fittings; f++ {
		t1 := time.Now()
		ch, err := NewChart(c, ChartSettings{Fitting: f, Draws: 200, Every: 4})
		if err != nil {
			t.Fatal(err)
		}
		n += ch.Firings
		fmt.Println(f, ch.Firings, time.Since(t1))
		for j := 24; j >= 0; j -= 3 {
			fmt.Printf("%5.1f V ", ch.Volts[j])
			for i := 0; i < 40; i += 4 {
				fmt.Printf(" %5.2f±%.2f", ch.Hand[j][i], ch.PM[j][i])
			}
			fmt.Println()
		}
	}
	fmt.Println(n, time.Since(t0), time.Since(t0)/time.Duration(n))
}
