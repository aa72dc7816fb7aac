package magnet_test

import (
	"fmt"

	"dwellwright/magnet"
)

// A ring for four lobes and a hall switch: how wide may the gap be, cold and
// in a hot distributor, and where does the spark fall?
func Example() {
	f := magnet.Fit{Ring: magnet.UsualRing(4, 0.015), Hall: magnet.UsualHall(), GapM: 0.001}
	for _, f.TempC = range []float64{20, 110} {
		largest, err := f.LargestGap()
		if err != nil {
			fmt.Println(err)
			return
		}
		s, err := f.Switching()
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%3g °C: up to %.1f mm; at 1 mm field %.0f mT, margin %.1f, spark %.1f° before the magnet, dwell %.0f° of %g°\n",
			f.TempC, 1e3*largest, 1e3*s.PeakT, s.Margin, -s.SparkDeg, s.DwellDeg, s.PeriodDeg)
	}
	// Output:
	//  20 °C: up to 3.4 mm; at 1 mm field 45 mT, margin 3.0, spark 11.4° before the magnet, dwell 66° of 90°
	// 110 °C: up to 2.9 mm; at 1 mm field 37 mT, margin 2.5, spark 10.7° before the magnet, dwell 68° of 90°
}
