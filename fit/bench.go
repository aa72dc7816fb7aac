package fit

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/lobes"
	"dwellwright/twin"
)

// LobeRun is one bench run taken apart.
type LobeRun struct {
	Run     *car.LobeRun
	Errors  lobes.Errors
	Refused error // why nothing can be made of it, with its place in the file
}

// bench takes the lobe runs of the file apart, and the shaft's side play where
// it was pushed to both sides.
func (f *Fit) bench() {
	c := f.Car
	var side [3]*car.LobeRun
	for i := range c.Bench.Runs {
		r := &c.Bench.Runs[i]
		if side[r.Side] == nil {
			side[r.Side] = r
		}
		run := LobeRun{Run: r}
		var err error
		if run.Errors, err = lobes.Separate(lobes.Run{Turns: r.Turns}, f.Rig.Lobes, c.Bench.Accuracy.X); err != nil {
			run.Refused = fmt.Errorf("%s: bench.runs[%d]: %w", r.Pos, i+1, err)
		}
		f.Lobes = append(f.Lobes, run)
	}
	left, right := side[car.LeftSide], side[car.RightSide]
	if left == nil || right == nil {
		return
	}
	radius := c.Trigger.RingRadius.X
	if !c.Switch.Kind.Electronic() {
		radius = twin.CamRadiusM
	}
	p, err := lobes.SideLoad(lobes.Run{Turns: left.Turns}, lobes.Run{Turns: right.Turns}, f.Rig.Lobes, c.Bench.Accuracy.X, radius)
	if err == nil { // what is wrong with a run is said with the run
		f.Play = &p
	}
}

// Sets is what two sets of points make of their dwell, one of which makes
// while the other breaks.
type Sets struct {
	Each, Apart twin.Interval // distributor degrees
	Together    twin.Interval // dwell of both
	Opens       twin.Interval // from the first set's opening to the one that breaks the coil
	Refused     error         // why the two do not work together, middle car
}

// sets works out dual points.
func (f *Fit) sets() {
	if f.Car.Switch.Kind != car.DualPoints {
		return
	}
	s := twin.NewSampler(f.Car, f.Seed)
	s.Draw(0)
	opens0, dwell0, err := twin.Breakers(s.Car)
	x := &Sets{Refused: err}
	each0, apart0 := s.Car.Distributor.DwellEach.X, s.Car.Distributor.SetsApart.X
	var each, apart, opens, dwell []float64
	for k := 1; k <= f.Draws; k++ {
		s.Draw(k)
		each, apart = append(each, s.Car.Distributor.DwellEach.X), append(apart, s.Car.Distributor.SetsApart.X)
		if o, d, err := twin.Breakers(s.Car); err == nil {
			opens, dwell = append(opens, o), append(dwell, d)
		}
	}
	x.Each, x.Apart = twin.Middle95(each0, each), twin.Middle95(apart0, apart)
	x.Opens, x.Together = twin.Middle95(opens0, opens), twin.Middle95(dwell0, dwell)
	f.Sets = x
}
