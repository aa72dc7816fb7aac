package curve

import (
	"fmt"
	"math"

	"dwellwright/advance"
	"dwellwright/car"
	"dwellwright/twin"
)

// Compute works out the advance of a car over speed and load.
func Compute(c *car.Car, set Settings) (*Curve, error) {
	v := &Curve{Car: c, Draws: set.Draws, Seed: set.Seed}
	s := twin.NewSampler(c, set.Seed)
	s.Draw(0)
	mid := s.Car.Clone()
	start := twin.Mechanism(mid)
	if err := twin.Mechanics(mid); err != nil {
		return nil, err
	}
	v.Speeds = speeds(c)
	initial := initialOf(mid)
	points := readings(c)
	var pool []advance.Draw
	if len(points) >= 2 {
		e, err := advance.Estimate(start, points, advance.EstimateOptions{
			Seed: set.Seed, Draws: min(max(set.Draws, 200), 600),
			// The runs may be older than the timing as it is now: they say
			// themselves where they start from.
			InitialCrank: mid.Timing.Before.X - 2*twin.CentrifugalSeen(mid), InitialPM: initialDoubt, EstimateInitial: true,
		})
		if err != nil {
			return nil, fmt.Errorf("advance.runs: %w", err)
		}
		v.Estimated, v.Mechanism = &e, e.Best.Mechanism
		initial = e.Best.InitialCrank
		pool = e.Draws
		v.Initial = twin.Interval{Mid: e.Initial.Mid, Lo: e.Initial.Lo95, Hi: e.Initial.Hi95}
	} else {
		v.Mechanism = start
		var at []float64
		for k := 1; k <= set.Draws; k++ {
			s.Draw(k)
			m := twin.Mechanism(s.Car)
			if m.Validate() != nil {
				continue
			}
			pool = append(pool, advance.Draw{Mechanism: m, InitialCrank: initialOf(s.Car)})
			at = append(at, initialOf(s.Car))
		}
		v.Initial = twin.Middle95(initial, at)
	}
	v.pool, v.mid = pool, mid
	v.lines(initial, pool)
	v.measured(initial)
	v.wanted(wantedOf(c, set.Wanted), pool)
	if err := v.builds(mid); err != nil {
		return nil, err
	}
	v.vacuum(s, initial, pool)
	v.load(mid, initial)
	v.caution()
	return v, nil
}

// initialDoubt is how far the initial that was set when a run was read may lie
// from timing.before, crank degrees, 95 %.
const initialDoubt = 12

// initialOf is the initial advance: the timing as it is now with what of it is
// centrifugal taken off, crank degrees.
func initialOf(c *car.Car) float64 { return twin.TimingNow(c) - 2*twin.CentrifugalSeen(c) }

// speeds are where the curve is worked out: from below idle to the fastest the
// car knows of, crank rpm.
func speeds(c *car.Car) []float64 {
	top := 4500.0
	for i := range c.Conditions {
		top = max(top, c.Conditions[i].Speed.X)
	}
	for _, p := range c.Advance.Wanted {
		top = max(top, p.RPM.X)
	}
	for _, r := range c.Advance.Runs {
		for _, p := range r.Points {
			top = max(top, p.RPM.X)
		}
	}
	top = math.Min(math.Ceil(top/100)*100, 9000)
	var list []float64
	for x := 300.0; x <= top; x += 100 {
		list = append(list, x)
	}
	return list
}

// readings are the file's measured points as the estimate takes them.
func readings(c *car.Car) []advance.Point {
	var list []advance.Point
	for _, r := range c.Advance.Runs {
		for _, p := range r.Points {
			list = append(list, advance.Point{RPM: p.RPM.X, Advance: p.Advance.X, PM: halfWidth(r, p), Going: r.Going})
		}
	}
	return list
}

// halfWidth is the 95 % half-width of a reading: its own, or its run's.
func halfWidth(r car.CurveRun, p car.CurvePoint) float64 {
	return math.Max(math.Max(p.Advance.PM, r.Accuracy.X), 0.2)
}

// lines works out the curve of the middle mechanism and its spread.
func (v *Curve) lines(initial float64, pool []advance.Draw) {
	dist := make([]float64, len(v.Speeds))
	for i, x := range v.Speeds {
		dist[i] = x / 2
	}
	crank := func(b advance.Band) advance.Band {
		return advance.Band{Mid: initial + 2*b.Mid, Rising: initial + 2*b.Rising, Falling: initial + 2*b.Falling}
	}
	for _, b := range v.Mechanism.Curve(dist) {
		v.Off = append(v.Off, crank(b))
	}
	got := make([][]float64, len(dist))
	var stop []float64
	for _, d := range pool {
		for i, b := range d.Mechanism.Curve(dist) {
			if !math.IsNaN(b.Mid) {
				got[i] = append(got[i], d.InitialCrank+2*b.Mid)
			}
		}
		stop = append(stop, d.InitialCrank+2*d.Mechanism.StopDeg)
	}
	for i := range v.Speeds {
		v.Spread = append(v.Spread, twin.Middle95(v.Off[i].Mid, got[i]))
	}
	v.Stop = twin.Middle95(initial+2*v.Mechanism.StopDeg, stop)
	v.Begins, v.AllIn = math.NaN(), math.NaN()
	for rpm := 100.0; rpm <= 9000; rpm += 10 {
		a := v.Mechanism.At(rpm / 2).Mid
		if math.IsNaN(v.Begins) && a > 0.05 {
			v.Begins = rpm
		}
		if a >= v.Mechanism.StopDeg-0.02 {
			v.AllIn = rpm
			break
		}
	}
}

// measured puts the readings beside the model.
func (v *Curve) measured(initial float64) {
	for n, r := range v.Car.Advance.Runs {
		for _, p := range r.Points {
			b := v.Mechanism.At(p.RPM.X / 2)
			x := b.Mid
			switch {
			case r.Going > 0:
				x = b.Rising
			case r.Going < 0:
				x = b.Falling
			}
			v.Measured = append(v.Measured, Measured{RPM: p.RPM.X, Advance: p.Advance.X, PM: halfWidth(r, p), Going: r.Going, Model: initial + 2*x, Run: n})
		}
	}
}

// wantedOf are the wanted points: those tried, or the file's.
func wantedOf(c *car.Car, tried []Point) []Point {
	if tried != nil {
		return tried
	}
	var list []Point
	for _, p := range c.Advance.Wanted {
		list = append(list, Point{p.RPM.X, p.Advance.X, p.Tolerance})
	}
	return list
}

// wanted holds the car against the wanted points.
func (v *Curve) wanted(points []Point, pool []advance.Draw) {
	for _, p := range points {
		if p.Tolerance == 0 {
			p.Tolerance = Tolerance
		}
		w := Wanted{Point: p}
		var got []float64
		inside := 0
		for _, d := range pool {
			b := d.Mechanism.At(p.RPM / 2)
			if math.IsNaN(b.Mid) {
				continue
			}
			got = append(got, d.InitialCrank+2*b.Mid)
			// Both with the speed rising and falling, as a light would have it.
			if math.Abs(d.InitialCrank+2*b.Rising-p.Advance) <= p.Tolerance && math.Abs(d.InitialCrank+2*b.Falling-p.Advance) <= p.Tolerance {
				inside++
			}
		}
		one := v.Mechanism.At(p.RPM / 2)
		mid := v.Initial.Mid + 2*one.Mid
		if len(got) > 0 {
			w.Inside = float64(inside) / float64(len(got))
		} else if math.Abs(v.Initial.Mid+2*one.Rising-p.Advance) <= p.Tolerance && math.Abs(v.Initial.Mid+2*one.Falling-p.Advance) <= p.Tolerance {
			w.Inside = 1
		}
		w.Model = twin.Middle95(mid, got)
		v.Wanted = append(v.Wanted, w)
	}
}

// Tolerance is what a wanted point may be off where nothing else is said,
// crank degrees: one distributor degree is the usual service tolerance [from
// memory].
const Tolerance = 2
