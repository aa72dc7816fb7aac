package advance

import (
	"math"
	"testing"
)

// Whatever the figures: no panic; and what Validate accepts gives a band in
// order, within the stop, that never falls as the speed grows.
func FuzzMechanism(f *testing.F) {
	u := Usual()
	f.Add(u.Weights.MassKg, u.Weights.PivotRadiusM, u.Weights.ArmM, u.Weights.RestRad, 2500.0, 4.2, 0.0, 0.01, 0.02, 1.0, 14000.0, 0.0022, uint8(0), 0.44, 0.0, 11.0, 0.001)
	f.Add(0.04, 0.02, 0.012, 0.3, 400.0, 8.0, 0.001, 0.01, 0.0, 0.0, 9000.0, 0.001, uint8(1), 0.4, 0.003, 12.0, 0.0)
	f.Add(math.NaN(), 0.02, 0.012, 0.3, math.Inf(1), 8.0, 0.001, 0.01, 0.0, 0.0, 9000.0, 0.001, uint8(3), 0.4, 0.003, 12.0, 0.0)
	f.Fuzz(func(t *testing.T, mass, pivot, arm, rest, rate, preload, slack, pin, post, angle, rate2, slack2 float64, on uint8, ratio, bend, stop, friction float64) {
		m := Mechanism{
			Weights: Weights{mass, pivot, arm, rest, 2},
			Springs: []Spring{
				{rate, preload, slack, PinOn(on), pin, post, angle},
				{rate2, 0, slack2, OnCam, pin, post, angle},
			},
			Ratio: ratio, Bend: bend, StopDeg: stop, FrictionNm: friction,
		}
		was := Band{}
		valid := m.Validate() == nil
		_, _ = m.Snaps()
		m.TakesUpDeg(0)
		m.SlackFor(1, stop)
		for _, b := range m.Curve([]float64{0, 300, 500, 800, 1300, 2000, 5000, 1e6, math.MaxFloat64}) {
			if !valid {
				if !math.IsNaN(b.Mid) {
					t.Fatalf("refused, yet gives %v", b)
				}
				continue
			}
			e := 1e-6 * stop
			if !(b.Rising >= 0 && b.Rising <= b.Mid+e && b.Mid <= b.Falling+e && b.Falling <= stop+e) ||
				b.Mid < was.Mid-e || b.Rising < was.Rising-e || b.Falling < was.Falling-e {
				t.Fatalf("%v after %v of\n%+v", b, was, m)
			}
			was = b
		}
	})
}

// Whatever the readings and the kit: an error or figures, no panic and no NaN.
func FuzzBackwards(f *testing.F) {
	f.Add(1000.0, 10.0, 1.0, 3000.0, 25.0, 2.0, int8(1), 8.0, 4.0, true, 2000.0, 100.0, 4.0, 0.001, 11.0, 0.2)
	f.Add(0.0, -180.0, 0.01, 30000.0, 180.0, 0.01, int8(-1), 0.0, 0.0, true, 1e6, 1e6, 1e4, 1.0, 0.1, 0.1)
	f.Add(math.NaN(), 10.0, 1.0, 3000.0, 25.0, 2.0, int8(0), math.Inf(1), 4.0, false, 2000.0, 100.0, 4.0, 0.001, 11.0, 0.2)
	f.Fuzz(func(t *testing.T, rpm, deg, pm, rpm2, deg2, pm2 float64, going int8, initial, initialPM float64, free bool, rate, ratePM, preload, slack, stop, stopPM float64) {
		points := []Point{{rpm, deg, pm, going}, {rpm2, deg2, pm2, -going}, {rpm, deg2, pm2, 0}}
		e, err := Estimate(Usual(), points, EstimateOptions{Draws: 100, InitialCrank: initial, InitialPM: initialPM, EstimateInitial: free})
		if err == nil {
			for _, f := range []Fig{e.StopDeg, e.FrictionNm, e.Initial, e.Springs[0].RateNPerM, e.Springs[1].TakesUpDeg} {
				if !(f.Lo95 <= f.Lo90 && f.Lo90 <= f.Mid && f.Mid <= f.Hi90 && f.Hi90 <= f.Hi95) {
					t.Fatalf("%+v", f)
				}
			}
			if !(e.Misfit.P >= 0 && e.Misfit.P <= 1) {
				t.Fatalf("%+v", e.Misfit)
			}
			for _, d := range e.Draws {
				if err := d.Mechanism.Validate(); err != nil {
					t.Fatal(err)
				}
			}
		}
		kit := Kit{
			Springs: []KitSpring{{ID: "a", RateNPerM: rate, RatePM: ratePM, PreloadN: preload, SlackM: []float64{0, slack}, Count: 2}},
			Stops:   []KitStop{{"s", stop, stopPM}},
		}
		builds, err := Best(Usual(), kit, []Wanted{{rpm, deg, pm}, {rpm2, deg2, 0}}, BestOptions{Draws: 20, Initial: [2]float64{initial, initial + 10}})
		if err != nil {
			return
		}
		for _, b := range builds {
			if !(b.Chance >= 0 && b.Chance <= 1) || !(b.Worst >= 0) {
				t.Fatalf("%+v", b)
			}
		}
	})
}
