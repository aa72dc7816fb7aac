package curve

import (
	"fmt"

	"dwellwright/advance"
	"dwellwright/car"
	"dwellwright/twin"
)

// builds tries what the person has.
func (v *Curve) builds(c *car.Car) error {
	k := v.Car.Advance.Kit
	if len(v.Wanted) == 0 || len(k.Springs)+len(k.Stops)+len(k.Weights) == 0 {
		return nil
	}
	var kit advance.Kit
	for _, s := range k.Springs {
		x := advance.KitSpring{ID: s.ID, RateNPerM: s.Rate.X, RatePM: s.Rate.PM, PreloadN: s.Preload.X, PreloadPM: s.Preload.PM, Count: 1}
		x.SlackM = []float64{0}
		if s.Slack.X > 0 {
			x.SlackM = []float64{v.Mechanism.SlackFor(len(v.Mechanism.Springs)-1, s.Slack.X)}
		}
		kit.Springs = append(kit.Springs, x)
	}
	for _, s := range k.Stops {
		kit.Stops = append(kit.Stops, advance.KitStop{ID: s.ID, StopDeg: s.Limit.X, PM: s.Limit.PM})
	}
	for _, w := range k.Weights {
		kit.Weights = append(kit.Weights, advance.KitWeight{ID: w.ID, MassKg: w.Mass.X, PM: w.Mass.PM})
	}
	var want []advance.Wanted
	for _, w := range v.Wanted {
		want = append(want, advance.Wanted{RPM: w.RPM, Advance: w.Advance, Tol: w.Tolerance})
	}
	// The initial is set with the housing, within what the card allows.
	set := c.Timing.Wanted.X
	list, err := advance.Best(v.Mechanism, kit, want, advance.BestOptions{
		Seed: v.Seed, Draws: min(max(v.Draws, 100), 400), Top: 8,
		Initial:    [2]float64{set - c.Timing.Tolerance.X, set + c.Timing.Tolerance.X},
		FrictionPM: 0.3 * v.Mechanism.FrictionNm,
	})
	if err != nil {
		return fmt.Errorf("advance.kit: %w", err)
	}
	v.Builds = list
	return nil
}

// vacuum works out the can in each condition with the engine running.
func (v *Curve) vacuum(s *twin.Sampler, initial float64, pool []advance.Draw) {
	s.Draw(0)
	mid := s.Car
	u := Vacuum{Source: twin.Source(mid), AmbientPa: advance.Ambient(mid.Advance.Altitude.X), Can: twin.Can(mid)}
	type row struct{ felt, alone, total []float64 }
	rows := make([]row, len(v.Car.Conditions))
	one := func(c *car.Car, i int, m advance.Mechanism, initial float64) (felt, alone, total float64) {
		k := &c.Conditions[i]
		t := advance.Total(initial, m, twin.Can(c), twin.Source(c), advance.Running{
			CrankRPM: max(k.Speed.X, 0), ManifoldPa: k.Manifold.X, AmbientPa: advance.Ambient(c.Advance.Altitude.X), Throttle: throttle(v.Car, k),
		})
		return t.VacuumPa, t.Vacuum.Mid, t.Total.Mid
	}
	var at []int
	var midFigures [][3]float64
	for i := range mid.Conditions {
		if mid.Conditions[i].Engine != car.Running {
			continue
		}
		at = append(at, i)
		a, b, c := one(mid, i, v.Mechanism, initial)
		midFigures = append(midFigures, [3]float64{a, b, c})
		if u.Can.TravelDeg > 0 {
			u.Reached = max(u.Reached, b/2/u.Can.TravelDeg)
		}
	}
	for k := 1; k <= v.Draws && len(pool) > 0; k++ {
		s.Draw(k)
		d := pool[(k-1)%len(pool)]
		for _, i := range at {
			a, b, c := one(s.Car, i, d.Mechanism, d.InitialCrank)
			rows[i].felt, rows[i].alone, rows[i].total = append(rows[i].felt, a), append(rows[i].alone, b), append(rows[i].total, c)
		}
	}
	for n, i := range at {
		k := &v.Car.Conditions[i]
		u.At = append(u.At, VacuumAt{
			Condition: k.ID, Name: k.Name, RPM: k.Speed.X,
			FeltPa:  twin.Middle95(midFigures[n][0], rows[i].felt),
			Advance: twin.Middle95(midFigures[n][1], rows[i].alone),
			Total:   twin.Middle95(midFigures[n][2], rows[i].total),
		})
	}
	v.Vacuum = u
}

// throttle is how far the throttle stands open in a condition: shut at idle,
// which a ported source feels, else open enough to uncover the port.
func throttle(c *car.Car, k *car.Condition) float64 {
	if twin.Idling(c, k) {
		return 0
	}
	return 2 * advance.PortUncovered
}

// load works out the total over speed and manifold pressure.
func (v *Curve) load(c *car.Car, initial float64) {
	ambient := advance.Ambient(c.Advance.Altitude.X)
	l := Load{}
	for x := 600.0; x <= v.Speeds[len(v.Speeds)-1]; x += 150 {
		l.RPM = append(l.RPM, x)
	}
	for i := 0; i <= 20; i++ {
		l.ManifoldPa = append(l.ManifoldPa, 25e3+(ambient-25e3)*float64(i)/20)
	}
	for _, row := range advance.Map(initial, v.Mechanism, twin.Can(c), twin.Source(c), ambient, 1, l.RPM, l.ManifoldPa) {
		var line []float64
		for _, s := range row {
			line = append(line, s.Total.Mid)
		}
		l.Total = append(l.Total, line)
	}
	v.Load = l
}
