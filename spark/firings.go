package spark

import (
	"math"

	"dwellwright/car"
	"dwellwright/firing"
	"dwellwright/gas"
	"dwellwright/twin"
)

// Shot is one firing of a car in one condition: the middle car's, and the
// figures with their intervals.
type Shot struct {
	Condition string // ID
	Name      string
	RPM       float64
	Spark     twin.Spark   // the middle car
	Asked     gas.Required // V, and the pressure and temperature behind them
	Figures   []Figure
}

// Figure is one figure of a firing.
type Figure struct {
	ID, Name   string
	Instrument twin.Instrument
	Interval   Interval
}

// figures are those of a firing, in the order they are told.
var figures = []Figure{
	{ID: "spark_in_hand", Name: "spark in hand, available over asked", Instrument: twin.SparkInHand},
	{ID: "snap_in_hand", Name: "spark in hand, throttle snapped open", Instrument: twin.SnapInHand},
	{ID: "available", Name: "available at the coil", Instrument: twin.AvailableVolts},
	{ID: "asked", Name: "asked by plug and rotor gap", Instrument: twin.AskedVolts},
	{ID: "snap_asked", Name: "asked, throttle snapped open", Instrument: twin.SnapVolts},
	{ID: "burn_time", Name: "burning time", Instrument: twin.BurnTime},
	{ID: "gap_energy", Name: "energy into the gap", Instrument: twin.GapEnergy},
	{ID: "primary_peak", Name: "highest primary voltage", Instrument: twin.PrimaryPeak},
	{ID: "contact_energy", Name: "energy lost in arcs at the points", Instrument: twin.ContactEnergy},
	{ID: "junction", Name: "module's junction, for good", Instrument: twin.JunctionHeat},
}

// Shots works out a firing in every condition in which the engine turns.
func Shots(c *car.Car, draws int, seed uint64) ([]Shot, error) {
	var list []Shot
	for i := range c.Conditions {
		k := &c.Conditions[i]
		if k.Engine != car.Running && k.Engine != car.Cranking {
			continue
		}
		s, err := Shoot(c, k.ID, draws, seed)
		if err != nil {
			return nil, err
		}
		list = append(list, *s)
	}
	return list, nil
}

// Shoot works out a firing in one condition.
func Shoot(c *car.Car, condition string, draws int, seed uint64) (*Shot, error) {
	m, err := twin.Build(c, condition)
	if err != nil {
		return nil, err
	}
	if err := m.Solve(); err != nil {
		return nil, err
	}
	sp, err := m.Spark()
	if err != nil {
		return nil, err
	}
	k := m.Condition()
	shot := &Shot{Condition: k.ID, Name: k.Name, RPM: k.Speed.X, Spark: *sp, Asked: sp.Asked}
	var th firing.Solver
	th.Thorough = true
	if shot.Spark.Firing, err = th.Solve(&sp.Case); err != nil {
		return nil, err
	}
	specs := make([]twin.Spec, len(figures))
	for i, f := range figures {
		specs[i].Instrument = f.Instrument
	}
	est, err := twin.Predict(c, condition, specs, draws, seed)
	if err != nil {
		return nil, err
	}
	for i, e := range est {
		if e.Missing() {
			continue
		}
		f := figures[i]
		f.Interval = Interval{Mid: e.Mid, Lo: e.Lo, Hi: e.Hi}
		shot.Figures = append(shot.Figures, f)
	}
	return shot, nil
}

// Figure finds a figure of the shot by its ID, nil when the car has none such.
func (s *Shot) Figure(id string) *Figure {
	for i := range s.Figures {
		if s.Figures[i].ID == id {
			return &s.Figures[i]
		}
	}
	return nil
}

// Trace is a firing over time.
type Trace struct {
	Points  []firing.Point  // times in s from the opening of the switch
	Moments []firing.Moment // likewise
	Dwell   float64         // s the switch was closed before
	Firing  firing.Firing
}

// NewTrace traces the middle car's firing in a condition. A long dwell before
// the opening is cut to as much as comes after it, for the eye.
func NewTrace(c *car.Car, condition string) (*Trace, error) {
	m, err := twin.Build(c, condition)
	if err != nil {
		return nil, err
	}
	if err := m.Solve(); err != nil {
		return nil, err
	}
	sp, err := m.Spark()
	if err != nil {
		return nil, err
	}
	var s firing.Solver
	t := &Trace{Dwell: sp.Case.Rhythm.Dwell}
	zero := t.Dwell
	t.Firing, t.Moments, err = s.Trace(&sp.Case, func(p firing.Point) {
		p.T -= zero
		if n := len(t.Points); n > 0 && !(p.T > t.Points[n-1].T) && p.T != 0 {
			return
		}
		t.Points = append(t.Points, p)
	})
	for i := range t.Moments {
		t.Moments[i].T -= zero
	}
	return t, err
}

// Thin returns the trace's points with at most about n of them between two
// times: of each stretch the lowest and highest of every quantity are kept, so
// that no peak is lost.
func (t *Trace) Thin(from, to float64, n int) []firing.Point {
	var in []firing.Point
	for _, p := range t.Points {
		if p.T >= from && p.T <= to {
			in = append(in, p)
		}
	}
	if len(in) <= n || n < 8 {
		return in
	}
	// Stretches of equal numbers of points: the walk puts them where things
	// happen.
	stretch := (len(in)*6 + n - 1) / n
	var out []firing.Point
	for a := 0; a < len(in); a += stretch {
		b := min(a+stretch, len(in))
		keep := map[int]bool{a: true, b - 1: true}
		for _, get := range [...]func(*firing.Point) float64{
			func(p *firing.Point) float64 { return p.PrimaryA },
			func(p *firing.Point) float64 { return p.PrimaryV },
			func(p *firing.Point) float64 { return p.SecondaryV },
		} {
			lo, hi := a, a
			for i := a; i < b; i++ {
				if v := get(&in[i]); v < get(&in[lo]) {
					lo = i
				} else if v > get(&in[hi]) {
					hi = i
				}
			}
			keep[lo], keep[hi] = true, true
		}
		for i := a; i < b; i++ {
			if keep[i] {
				out = append(out, in[i])
			}
		}
	}
	return out
}

// WrongPolarity is how many volts more the plug asks because the coil's leads
// are reversed, 0 where they are not: 15 to 40 % in common practice, no source.
func WrongPolarity(c *car.Car, s *Shot) float64 {
	if !c.Coil.Reversed {
		return 0
	}
	return s.Asked.PlugV - s.Asked.PlugV/(1+gas.ReversedTypical)
}

// PartingVerdict says how points and condenser stand at the break.
type PartingVerdict uint8

// The verdicts.
const (
	Electronic PartingVerdict = iota // no contacts
	PartClean                        // the condenser keeps the voltage below what the parting contacts stand
	PartArcs                         // they strike again, and the spark pays for it
	PartStands                       // an arc stands: the condenser is missing, or far too small
)

// Parting judges the break of a firing: any energy in arcs above a hundredth
// of what the coil held is one that pits points.
func Parting(c *car.Car, f *firing.Firing) PartingVerdict {
	switch {
	case c.Switch.Kind.Electronic():
		return Electronic
	case f.Stood:
		return PartStands
	case f.ContactJ > 0.01*math.Max(f.StoredJ, 1e-6):
		return PartArcs
	}
	return PartClean
}
