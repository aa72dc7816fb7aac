package spark

import (
	"errors"
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/heat"
	"dwellwright/twin"
)

// What a coil's winding and a module's life are held against.
const (
	// CoilLimitC is the hottest spot thermal class 130, the old letter B, is
	// made for, °C [IEC 60085; that a period coil's enamel and paper are of it
	// is assumed].
	CoilLimitC = 130
	// LifeEV is the activation energy a module's life is reckoned with, eV
	// [0.7 is common for semiconductors, from memory; 0.3 to 1.1 is published].
	LifeEV = 0.7
	// LifeRefC is the steady junction temperature a drive is compared with, °C.
	LifeRefC = 90
)

// ErrLeg is a leg of a drive that cannot be driven.
var ErrLeg = errors.New("spark: no such leg of a drive")

// ErrNoModule is asked about a module of a car that has points.
var ErrNoModule = errors.New("spark: points have no module that warms; a car with a trigger module is wanted")

// Leg is a stretch of a drive.
type Leg struct {
	Name      string
	Condition string  // ID of one of the car's conditions in which the engine turns; "" parked, key off
	Seconds   float64 // more than 0, at most a day
}

// Parked reports whether the key is off.
func (l Leg) Parked() bool { return l.Condition == "" }

// UsualLegs are a bit of each thing that heats or cools a distributor: town, road, a hill at full speed, the hot soak after it, and
// the idle after a hot start.
func UsualLegs() []Leg {
	return []Leg{
		{"town", "hot_idle", 10 * 60},
		{"road", "cruise", 20 * 60},
		{"hill", "top_speed", 8 * 60},
		{"hot soak", "", 40 * 60},
		{"restart and idle", "hot_idle", 10 * 60},
	}
}

// DriveSettings say what drive, and how many cars. Zero values are the usual.
type DriveSettings struct {
	Draws int // cars drawn for the plus-or-minus, 100; below 0 none, the middle car alone
	Seed  uint64
	Legs  []Leg // UsualLegs
}

const (
	mostDraws = 10000
	mostLegs  = 50
	dayS      = 86400
)

// settled puts the usual in place of zero values and refuses what can't be.
func (set DriveSettings) settled() (DriveSettings, error) {
	if len(set.Legs) == 0 {
		set.Legs = UsualLegs()
	}
	var err error
	if set.Draws, err = settledDraws(set.Draws); err != nil {
		return set, err
	}
	if len(set.Legs) > mostLegs {
		return set, fmt.Errorf("%w: %d legs; at most %d are accepted", ErrLeg, len(set.Legs), mostLegs)
	}
	for i, l := range set.Legs {
		if !(l.Seconds > 0 && l.Seconds <= dayS) {
			return set, fmt.Errorf("%w: leg %d %q lasts %g s; more than 0 and at most %d s is accepted", ErrLeg, i+1, l.Name, l.Seconds, dayS)
		}
	}
	return set, nil
}

// settledDraws is the number of cars to draw: 100 for 0, none below.
func settledDraws(n int) (int, error) {
	switch {
	case n == 0:
		return 100, nil
	case n > mostDraws:
		return 0, fmt.Errorf("spark: %d draws; at most %d are accepted", n, mostDraws)
	}
	return max(n, 0), nil
}

// Place is where a temperature is followed.
type Place uint8

// The places. The first three are a module's.
const (
	AtJunction Place = iota
	AtBase
	AtHousing
	AtWinding
	AtCan
	AtAir
	AtBallast // with the key left on only
	places
)

var placeNames = [places]struct{ id, name string }{
	{"junction", "module's junction"},
	{"base", "module's base"},
	{"housing", "distributor's housing"},
	{"winding", "coil's winding"},
	{"can", "coil's can"},
	{"air", "air under the bonnet"},
	{"ballast", "ballast"},
}

// ID is the name in files.
func (p Place) ID() string { return placeNames[p].id }

// String is the name in words.
func (p Place) String() string { return placeNames[p].name }

// Warming is how warm one place gets, °C. Intervals have the middle car in the
// middle and the 95 % interval of the drawn cars about it.
type Warming struct {
	Place   Place
	C       []Interval // by sample
	Peak    Interval
	PeakMin float64 // minutes from the start to the middle car's peak
	PeakLeg int     // leg it falls into

	LimitC  float64  // 0: none; then the two below are nothing
	MarginK Interval // limit less peak
	OverMin Interval // minutes above the limit
}

// DrivenLeg is a leg as it was driven.
type DrivenLeg struct {
	Leg
	FromMin, ToMin float64
	SwitchW        Interval // W in the switch: closed, and clamping
	ElectronicsW   Interval // W in a module's electronics
	CoilW          Interval // W in the coil, as warm as the leg would make it for good
	PrimaryW       Interval // W of it in the primary winding's copper
}

// Life is what a drive takes of a module's life. It compares two fittings or
// two drives; it foretells no date.
type Life struct {
	Ratio Interval // hours at a steady LifeRefC that an hour of this drive uses up, by Arrhenius with LifeEV
	PiT   Interval // failure rate at the junction's peak over that at 25 °C [MIL-HDBK-217F section 6.3]
}

// DriveResult is the heat of a drive.
type DriveResult struct {
	Minutes []float64 // of the samples, from the start
	Legs    []DrivenLeg
	Warm    []Warming // points: without junction, base and housing
	Life    *Life     // nil for points
	Draws   int       // drawn cars that came through
	Lost    int       // drawn cars that have no steady motion, left out
}

// At finds how warm a place gets; nil where the car has no such place.
func (r *DriveResult) At(p Place) *Warming { return warmingOf(r.Warm, p) }

func warmingOf(list []Warming, p Place) *Warming {
	for i := range list {
		if list[i].Place == p {
			return &list[i]
		}
	}
	return nil
}

// Drive follows the heat of a car's switch and coil through a drive, from a
// car that has stood for long. The powers of a leg are those of the car solved
// in its condition for good (see legHeat); the temperatures follow exactly
// (package heat).
//
// Simplified: a leg's watts in the switch, and its ballast, are those of the
// warm car from the leg's first second, and only the winding's own copper
// follows its temperature; parked, the coil cools as in the draught of a
// running engine.
func Drive(c *car.Car, set DriveSettings) (*DriveResult, error) {
	set, err := set.settled()
	if err != nil {
		return nil, err
	}
	d, err := newDriver(c, set)
	if err != nil {
		return nil, err
	}
	r := &DriveResult{Legs: make([]DrivenLeg, len(set.Legs))}
	times := sampleTimes(set.Legs)
	for _, t := range times {
		r.Minutes = append(r.Minutes, t/60)
	}
	list := []Place{AtWinding, AtCan, AtAir}
	if d.electronic() {
		list = []Place{AtJunction, AtBase, AtHousing, AtWinding, AtCan, AtAir}
	}
	gathered := make([]gathering, len(list))
	legs := make([][4]spread, len(set.Legs))
	var ratio, piT spread
	for k := 0; k <= set.Draws; k++ {
		h, err := d.drive(k)
		if err != nil {
			if r.Lost++; k == 0 || r.Lost > set.Draws/20 {
				return nil, fmt.Errorf("car %d of the draw: %w", k, err)
			}
			continue
		}
		for i, p := range list {
			history, node := h.of(p)
			gathered[i].add(k, history, node, times, d.limit(p))
		}
		for i := range set.Legs {
			w := h.heats(d.model[i])
			for j, x := range [...]float64{w.switchW, w.electronicsW, w.coilW, w.primaryW} {
				legs[i][j].add(k, x)
			}
		}
		if d.electronic() {
			ratio.add(k, h.module.MeanAcceleration(heat.Junction, LifeEV, LifeRefC))
			piT.add(k, heat.PiT(h.module.Peak(heat.Junction).TempC))
		}
	}
	r.Draws = set.Draws - r.Lost
	from := 0.0
	for i, l := range set.Legs {
		r.Legs[i] = DrivenLeg{l, from / 60, (from + l.Seconds) / 60,
			legs[i][0].interval(), legs[i][1].interval(), legs[i][2].interval(), legs[i][3].interval()}
		from += l.Seconds
	}
	for i, p := range list {
		r.Warm = append(r.Warm, gathered[i].warming(p, d.limit(p), set.Legs))
	}
	if d.electronic() {
		r.Life = &Life{Ratio: ratio.interval(), PiT: piT.interval()}
	}
	return r, nil
}

// sampleTimes are some 160 times over the drive, s, and those about each
// change of leg, where a junction jumps within seconds.
func sampleTimes(legs []Leg) []float64 {
	total := 0.0
	for _, l := range legs {
		total += l.Seconds
	}
	step := total / 160
	times := []float64{0}
	put := func(t float64) {
		if t > times[len(times)-1]+1e-6 {
			times = append(times, t)
		}
	}
	from := 0.0
	for _, l := range legs {
		for _, soon := range [...]float64{1, 3, 8} {
			if soon < math.Min(l.Seconds, step) {
				put(from + soon)
			}
		}
		n := math.Max(math.Round(l.Seconds/step), 1)
		for i := 1.0; i <= n; i++ {
			put(from + l.Seconds*i/n)
		}
		from += l.Seconds
	}
	times[len(times)-1] = from
	return times
}

// spread gathers a figure of the middle car and of the drawn ones.
type spread struct {
	mid   float64
	draws []float64
}

// add enters the figure of draw k, 0 being the middle car.
func (s *spread) add(k int, x float64) {
	if k == 0 {
		s.mid = x
		return
	}
	s.draws = append(s.draws, x)
}

// interval is the middle car's figure within the 95 % interval of the draws.
func (s *spread) interval() Interval {
	i := twin.Middle95(s.mid, s.draws)
	return Interval{Mid: s.mid, Lo: math.Min(i.Lo, s.mid), Hi: math.Max(i.Hi, s.mid)}
}

// gathering gathers one place's temperatures over the draws.
type gathering struct {
	at         []spread // by sample
	peak, over spread
	peakAt     float64 // s, of the middle car
}

func (g *gathering) add(k int, h *heat.History, node int, times []float64, limitC float64) {
	if k == 0 {
		g.at = make([]spread, len(times))
	}
	temp := func(t float64) float64 { return h.At(node, math.Min(t, h.Seconds)) }
	peak, at := 0.0, 0.0
	if node < 0 { // a temperature given from outside
		temp = func(t float64) float64 { return h.GivenAt(-1-node, math.Min(t, h.Seconds)) }
		peak = math.Inf(-1)
		for _, t := range times {
			if x := temp(t); x > peak {
				peak, at = x, t
			}
		}
	} else {
		p := h.Peak(node)
		peak, at = p.TempC, p.AtS
		if limitC > 0 {
			g.over.add(k, h.TimeAbove(node, limitC)/60)
		}
	}
	if k == 0 {
		g.peakAt = at
	}
	g.peak.add(k, peak)
	for i, t := range times {
		g.at[i].add(k, temp(t))
	}
}

func (g *gathering) warming(p Place, limitC float64, legs []Leg) Warming {
	w := Warming{Place: p, Peak: g.peak.interval(), PeakMin: g.peakAt / 60, PeakLeg: legAt(legs, g.peakAt), LimitC: limitC}
	for i := range g.at {
		w.C = append(w.C, g.at[i].interval())
	}
	if limitC > 0 {
		w.OverMin = g.over.interval()
		w.MarginK = under(limitC, w.Peak)
	}
	return w
}

// legAt is the leg that a time falls into, of two that meet there the one that
// ends.
func legAt(legs []Leg, t float64) int {
	for i, l := range legs {
		if t -= l.Seconds; t <= 1e-6 {
			return i
		}
	}
	return len(legs) - 1
}
