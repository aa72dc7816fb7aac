package evidence_test

import (
	"fmt"
	"math"

	"dwellwright/evidence"
)

// Three cars of twelve drawn by hand: battery voltage differs, a tired feed drops
// 1.5 to 3 V on its way to the coil, a tired battery is low at both ends.
func Example() {
	var healthy, feed, battery [][]float64
	for k := range 12 {
		u := (float64(k) + 0.5) / 12             // 0 to 1
		v := math.Mod(float64(k)*7+0.5, 12) / 12 // the same figures in another order
		rest := 12.3 + 0.6*u
		healthy = append(healthy, []float64{rest, rest - 0.2 - 0.2*v, 0.05})
		feed = append(feed, []float64{rest, rest - 1.5 - 1.5*v, 0.3})
		low := 10.2 + 1.2*v
		battery = append(battery, []float64{low, low - 0.2 - 0.2*u, 0.9})
	}
	volt := evidence.Channel{Abs: 0.05, Rel: 0.005, Low: 0, High: 16, Minutes: 1}
	at := func(id, setup string, minutes float64) evidence.Channel {
		c := volt
		c.ID, c.Setup, c.SetupMinutes = id, setup, minutes
		return c
	}
	bank, err := evidence.Prepare(evidence.Model{
		Channels: []evidence.Channel{at("battery", "", 0), at("coil", "key on", 2), {ID: "cranks slowly", YesNo: true, Minutes: 0.5}},
		Healthy:  "healthy",
		Hypotheses: []evidence.Hypothesis{
			{ID: "healthy", LogPrior: math.Log(20), Draws: healthy},
			{ID: "tired feed", Remedy: "renew feed", LogPrior: math.Log(10), Draws: feed},
			{ID: "tired battery", Remedy: "charge", LogPrior: math.Log(15), Draws: battery},
		},
		Remedies: []evidence.Remedy{{ID: "renew feed", Minutes: 40}, {ID: "charge", Minutes: 90}},
		Unknown:  evidence.Unknown{LogPrior: math.Log(1)},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	c := bank.Open()
	next := func() {
		n, _ := c.Next(evidence.Situation{})
		if n.Stop {
			fmt.Printf("stop, begin with: %s; %.0f min expected\n", n.Steps[0].Remedy, n.Now)
			return
		}
		r := n.Ranked[0]
		fmt.Printf("read %s: %.2f bits, %.0f min; %.0f min to the remedy instead of %.0f\n", r.Channel, r.Bits, r.Minutes, n.Best, n.Now)
	}
	next()
	c.Take(evidence.Reading{Channel: "coil", Value: 104}) // 10.4 with the point lost
	c.Take(evidence.Reading{Channel: "battery", Value: 12.61})
	c.Take(evidence.Reading{Channel: "cranks slowly", Kind: evidence.No})
	fmt.Printf("coil: %.0f %% a slip\n", 100*c.Taken()[0].Slip)
	c.Take(evidence.Reading{Channel: "coil", Value: 10.4})
	for _, h := range c.Posterior().Hypotheses[:2] {
		fmt.Printf("%s %.3f\n", h.ID, h.P)
	}
	w, _ := c.Why("tired feed", evidence.Situation{})
	for _, r := range w.Reasons {
		fmt.Printf("%s: %+.1f decibans against healthy", r.Channel, r.VsHealthy)
		if !math.IsNaN(r.Healthy.Low) {
			fmt.Printf(", which shows %.1f to %.1f", r.Healthy.Low, r.Healthy.High)
		}
		fmt.Println()
	}
	next()
	// Output:
	// read battery: 0.83 bits, 1 min; 75 min to the remedy instead of 117
	// coil: 93 % a slip
	// tired feed 0.999
	// unknown 0.000
	// battery: -0.1 decibans against healthy, which shows 12.2 to 13.0
	// cranks slowly: -1.3 decibans against healthy
	// coil: +39.0 decibans against healthy, which shows 12.0 to 12.7
	// stop, begin with: renew feed; 40 min expected
}
