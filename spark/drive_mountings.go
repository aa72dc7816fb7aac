package spark

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/heat"
	"dwellwright/twin"
)

// Mounted is how hot a module's junction gets through a drive with one thing
// between its base and the breaker plate, everything else alike.
type Mounted struct {
	Mounting car.Mounting
	Fitted   bool     // as the car has it
	KPerW    Interval // base to plate
	Peak     Interval // °C of the junction
	PeakMin  float64  // minutes from the start, of the middle car
	PeakLeg  int
	MarginK  Interval // the module's limit less peak
	OverMin  Interval // minutes above the limit
	OverK    Interval // K over what the same car comes to with paste
}

// mountings in the order they are told, the best first.
var mountings = [...]car.Mounting{car.PasteMounting, car.DryMounting, car.PaintedMounting, car.WarpedMounting}

// Mountings drives the same cars with the module mounted in each way. Draw k
// has the same luck in each, so that OverK, the difference within one car, is
// far surer than the peaks. Mounting changes no current: the powers are those
// of Drive.
func Mountings(c *car.Car, set DriveSettings) ([]Mounted, error) {
	if !c.Switch.Kind.Electronic() {
		return nil, ErrNoModule
	}
	set, err := set.settled()
	if err != nil {
		return nil, err
	}
	d, err := newDriver(c, set)
	if err != nil {
		return nil, err
	}
	type of struct {
		mounting               car.Mounting
		cars                   *twin.Sampler
		peakAt                 float64 // s
		way, peak, above, over spread
	}
	list := make([]of, len(mountings))
	for i, m := range mountings {
		as := c.Clone()
		if m != c.Switch.Mounting { // else the car's own way
			p := &as.Switch.BasePlate
			p.Value, p.Origin, p.Pos = car.UsualMounting(m), car.Assumed, car.Pos{}
			as.Switch.Mounting = m
		}
		list[i].cars, list[i].mounting = twin.NewSampler(as, set.Seed), m
	}
	lost := 0
	for k := 0; k <= set.Draws; k++ {
		var peaks, above [len(mountings)]float64
		err := d.draw(k)
		for i := range list {
			if err != nil {
				break
			}
			l := &list[i]
			l.cars.Draw(k)
			var h *heat.History
			if h, err = d.runModule(d.around.module(l.cars.Car)); err == nil {
				p := h.Peak(heat.Junction)
				peaks[i], above[i] = p.TempC, h.TimeAbove(heat.Junction, d.maxC)/60
				if k == 0 {
					l.peakAt = p.AtS
				}
			}
		}
		if err != nil {
			if lost++; k == 0 || lost > set.Draws/20 {
				return nil, fmt.Errorf("car %d of the draw: %w", k, err)
			}
			continue
		}
		for i := range list {
			l := &list[i]
			l.way.add(k, l.cars.Car.Switch.BasePlate.X)
			l.peak.add(k, peaks[i])
			l.above.add(k, above[i])
			l.over.add(k, peaks[i]-peaks[0])
		}
	}
	out := make([]Mounted, len(list))
	for i := range list {
		l := &list[i]
		peak := l.peak.interval()
		out[i] = Mounted{
			Mounting: l.mounting, Fitted: l.mounting == c.Switch.Mounting, KPerW: l.way.interval(),
			Peak: peak, PeakMin: l.peakAt / 60, PeakLeg: legAt(set.Legs, l.peakAt),
			MarginK: under(d.maxC, peak),
			OverMin: l.above.interval(), OverK: l.over.interval(),
		}
	}
	return out, nil
}
