package workshop

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/firing"
	"dwellwright/spark"
	"dwellwright/twin"
)

// Particulars are what stands behind the figures of a firing: the current
// that is cut off and what the plug asks, taken apart.
type Particulars struct {
	BreakA   spark.Interval // A in the primary as the switch opens
	PlugV    spark.Interval // V to break the plug's gap down
	RotorV   spark.Interval // V to break the rotor's gap down
	Pressure spark.Interval // Pa in the cylinder at the spark, absolute
	ChargeC  spark.Interval // °C of the charge at the spark
	Rings    spark.Interval // swings of the primary after the spark
}

// Detail works out the particulars of a firing of the car, wired as it is, in
// a condition. Draw k of a seed is the same car as in Shots. An engine that
// stands still is twin.ErrNoFiring.
func Detail(c *car.Car, condition string, draws int, seed uint64) (*Particulars, error) {
	s := twin.NewSampler(c, seed)
	m, err := twin.Build(s.Car, condition)
	if err != nil {
		return nil, err
	}
	var fire firing.Solver
	fire.Thorough = true // for the ringing
	one := func(k int) (v [6]float64, err error) {
		s.Draw(k)
		if err := m.Refresh(); err != nil {
			return v, err
		}
		m.Asks(s.Demand)
		if err := m.Solve(); err != nil {
			return v, err
		}
		sp, err := m.Spark()
		if err != nil {
			return v, err
		}
		f, err := fire.Solve(&sp.Case)
		a := &sp.Asked
		return [6]float64{f.BreakA, a.PlugV, a.RotorV, a.PressurePa, a.TempK - 273.15, float64(f.Rings)}, err
	}
	mid, err := one(0)
	if err != nil {
		return nil, err
	}
	var got [6][]float64
	for k := 1; k <= draws; k++ {
		v, err := one(k)
		if err != nil { // a car out of the tail that has no steady motion
			if lost := k - 1 - len(got[0]); lost >= max(draws/20, 1) {
				return nil, fmt.Errorf("draw %d: %w", k, err)
			}
			continue
		}
		for i := range v {
			got[i] = append(got[i], v[i])
		}
	}
	p := &Particulars{}
	for i, to := range [6]*spark.Interval{&p.BreakA, &p.PlugV, &p.RotorV, &p.Pressure, &p.ChargeC, &p.Rings} {
		*to = twin.Middle95(mid[i], got[i])
	}
	return p, nil
}
