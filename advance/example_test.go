package advance_test

import (
	"fmt"

	"dwellwright/advance"
)

func Example() {
	m := advance.Usual()
	fmt.Println("distributor rpm: degrees rising, falling")
	for _, rpm := range []float64{500, 700, 1000, 1500} {
		b := m.At(rpm)
		fmt.Printf("%6.0f: %5.1f %5.1f\n", rpm, b.Rising, b.Falling)
	}
	cruise := advance.Running{CrankRPM: 2400, ManifoldPa: 50e3, AmbientPa: advance.Ambient(0), Throttle: 0.2}
	s := advance.Total(10, m, advance.UsualCan(), advance.Ported, cruise)
	fmt.Printf("cruise: %.0f + %.0f + %.0f = %.0f crank degrees\n", s.Initial, s.Centrifugal.Mid, s.Vacuum.Mid, s.Total.Mid)
	// Output:
	// distributor rpm: degrees rising, falling
	//    500:   0.0   0.0
	//    700:   5.1   5.3
	//   1000:   7.2   7.2
	//   1500:  11.0  11.0
	// cruise: 10 + 17 + 16 = 43 crank degrees
}

// A stop worn away and a light spring gone soft, found from the strobe.
func ExampleEstimate() {
	readings := []advance.Point{
		{RPM: 700, Advance: 8.2, PM: 1, Going: 1}, {RPM: 1100, Advance: 14.9, PM: 1, Going: 1},
		{RPM: 1500, Advance: 20.2, PM: 1, Going: 1}, {RPM: 2200, Advance: 23.9, PM: 1, Going: 1},
		{RPM: 3000, Advance: 31.8, PM: 1, Going: 1}, {RPM: 3600, Advance: 36.2, PM: 1, Going: 1},
		{RPM: 4200, Advance: 35.8, PM: 1, Going: 1},
	}
	e, err := advance.Estimate(advance.Usual(), readings, advance.EstimateOptions{EstimateInitial: true, InitialCrank: 8, InitialPM: 8, Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("stop: %.0f distributor degrees, known: %v\n", e.StopDeg.Mid, e.StopDeg.Known)
	fmt.Printf("initial: %.0f crank degrees, known: %v\n", e.Initial.Mid, e.Initial.Known)
	fmt.Printf("friction known: %v\n", e.FrictionNm.Known)
	fmt.Printf("such a mechanism can be: %v\n", e.Misfit.P > 0.01)
	// Output:
	// stop: 14 distributor degrees, known: true
	// initial: 8 crank degrees, known: true
	// friction known: false
	// such a mechanism can be: true
}

// Which of three springs beside the light one, and which stop?
func ExampleBest() {
	kit := advance.Kit{
		Springs: []advance.KitSpring{
			{ID: "light", RateNPerM: 2500, RatePM: 150, PreloadN: 4.2, PreloadPM: 0.3},
			{ID: "plain heavy", RateNPerM: 14000, RatePM: 800, SlackM: []float64{0.0022}, SlackPM: 0.0001},
			{ID: "stiff heavy", RateNPerM: 20000, RatePM: 1000, SlackM: []float64{0.0022}, SlackPM: 0.0001},
		},
		Stops: []advance.KitStop{{ID: "nine", StopDeg: 9, PM: 0.2}, {ID: "eleven", StopDeg: 11, PM: 0.2}},
	}
	wanted := []advance.Wanted{{RPM: 800, Advance: 10}, {RPM: 1600, Advance: 21.6}, {RPM: 2400, Advance: 27}, {RPM: 3400, Advance: 32}}
	builds, err := advance.Best(advance.Usual(), kit, wanted, advance.BestOptions{Initial: [2]float64{10, 10}, Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	b := builds[0]
	fmt.Printf("of %d: %v, stop %s\n", len(builds), b.SpringIDs, b.StopID)
	for i, p := range b.Points {
		fmt.Printf("%.0f rpm: off by %+.1f\n", wanted[i].RPM, p.Off)
	}
	fmt.Printf("likely inside throughout: %v\n", b.Chance > 0.8)
	// Output:
	// of 6: [light plain heavy], stop eleven
	// 800 rpm: off by +0.0
	// 1600 rpm: off by +0.4
	// 2400 rpm: off by +0.5
	// 3400 rpm: off by +0.0
	// likely inside throughout: true
}
