package spark

import (
	"math"

	"dwellwright/car"
	"dwellwright/firing"
	"dwellwright/twin"
)

// CompareSettings say how switches are compared. Zero values are the usual.
type CompareSettings struct {
	Speeds int // engine speeds, 14: two cranking, the rest running
	Draws  int // cars drawn at each, 0: none
	Seed   uint64
}

// Contest is every switch on the same car, coil and wiring, over engine speed.
type Contest struct {
	RPM   []float64
	Crank []bool // by speed: the engine is cranked
	Sides []Side
}

// Side is one switch in a Contest. Intervals are by speed.
type Side struct {
	Fitting Fitting
	Fitted  bool // it is what the car has
	Planned bool
	BreakA  []Interval // A at the break
	KV      []Interval // available
	GapMJ   []Interval // mJ into the gap
	Hand    []Interval // available over asked with the throttle wide open
}

// Compare works every switch out over speed with the car's own supply at that
// speed: battery and starter while cranking, generator or alternator running
// with no loads on.
func Compare(c *car.Car, set CompareSettings) (*Contest, error) {
	if set.Speeds < 6 {
		set.Speeds = 14
	}
	ct := &Contest{}
	conditions := speeds(c, set.Speeds)
	for _, k := range conditions {
		ct.RPM = append(ct.RPM, k.Speed.X)
		ct.Crank = append(ct.Crank, k.Engine == car.Cranking)
	}
	for f := Fitting(0); f < Fittings; f++ {
		d := Fit(c, f)
		d.Conditions = conditions
		s := Side{Fitting: f, Fitted: f == Of(c), Planned: c.Planned != nil && f == Of(&car.Car{Switch: c.Planned.Switch})}
		for i := range conditions {
			r, err := side(d, conditions[i].ID, set)
			if err != nil {
				return nil, err
			}
			s.BreakA, s.KV = append(s.BreakA, r[0]), append(s.KV, r[1])
			s.GapMJ, s.Hand = append(s.GapMJ, r[2]), append(s.Hand, r[3])
		}
		ct.Sides = append(ct.Sides, s)
	}
	return ct, nil
}

// speeds makes the conditions of a comparison from the car's own: its slowest
// and fastest cranking, then from its slowest running to a fifth above its
// fastest, no loads on, throttle wide open.
func speeds(c *car.Car, n int) []car.Condition {
	var list []car.Condition
	var slow, fast *car.Condition
	for i := range c.Conditions {
		k := &c.Conditions[i]
		switch k.Engine {
		case car.Cranking:
			list = append(list, *k)
		case car.Running:
			if slow == nil || k.Speed.X < slow.Speed.X {
				slow = k
			}
			if fast == nil || k.Speed.X > fast.Speed.X {
				fast = k
			}
		}
	}
	if len(list) == 2 && list[0].Speed.X > list[1].Speed.X {
		list[0], list[1] = list[1], list[0]
	}
	if slow != nil {
		run := n - len(list)
		for i, rpm := range steps(slow.Speed.X, 1.2*fast.Speed.X, run) {
			k := *fast
			u := 0.0
			if fast.Speed.X > slow.Speed.X {
				u = math.Min((rpm-slow.Speed.X)/(fast.Speed.X-slow.Speed.X), 1)
			}
			k.ID, k.Name = "speed_"+string(rune('a'+i)), "running"
			k.Speed.X, k.Speed.PM = rpm, 0
			k.Advance.X = slow.Advance.X + u*(fast.Advance.X-slow.Advance.X)
			k.Loads = nil
			list = append(list, k)
		}
	}
	for i := range list {
		list[i].Speed.PM = 0
	}
	return list
}

// side is current, kV, mJ and spark in hand of one car in one condition.
func side(c *car.Car, condition string, set CompareSettings) (r [4]Interval, err error) {
	var got [4][]float64
	var mid [4]float64
	s := twin.NewSampler(c, set.Seed)
	m, err := twin.Build(s.Car, condition)
	if err != nil {
		return r, err
	}
	for k := 0; k <= set.Draws; k++ {
		s.Draw(k)
		v, err := one(m, s.Demand)
		if k == 0 {
			if err != nil {
				return r, err
			}
			mid = v
			continue
		}
		if err != nil {
			continue // a car out of the tail that has no steady motion
		}
		for i := range v {
			got[i] = append(got[i], v[i])
		}
	}
	for i := range r {
		r[i] = twin.Middle95(mid[i], got[i])
	}
	return r, nil
}

// one solves the model's car and reads it.
func one(m *twin.Model, demand float64) (v [4]float64, err error) {
	if err := m.Refresh(); err != nil {
		return v, err
	}
	m.Asks(demand)
	if err := m.Solve(); err != nil {
		return v, err
	}
	sp, err := m.Spark()
	if err != nil {
		return v, err
	}
	asked := sp.Snapped.TotalV
	return [4]float64{sp.Firing.BreakA, sp.Firing.AvailableV / 1e3, sp.Firing.GapJ * 1e3, sp.Firing.AvailableV / asked}, nil
}

// Step is one cause of the difference between two switches: what changing
// only that changes of the available voltage.
type Step struct {
	Cause Cause
	KV    float64 // kV after it
	Share float64 // part by which it changes what was before it
}

// Cause is why one switch gives more than another.
type Cause uint8

// The causes, in the order they are put in.
const (
	ByBreak Cause = iota // how it opens: arcs at parting contacts, condenser against clamp
	ByDwell              // how long the primary is closed
	ByDrop               // what the closed switch keeps of the voltage
	causes
)

// Explain takes the firing from one switch to another in a condition, one
// cause at a time, and says what each does to the available voltage. The
// first entry of kv is where it starts.
func Explain(c *car.Car, from, to Fitting, condition string) (start float64, list []Step, err error) {
	a, err := caseOf(Fit(c, from), condition)
	if err != nil {
		return 0, nil, err
	}
	b, err := caseOf(Fit(c, to), condition)
	if err != nil {
		return 0, nil, err
	}
	var s firing.Solver
	_, v, err := s.Available(&a)
	if err != nil {
		return 0, nil, err
	}
	start = v / 1e3
	at := start
	x := a
	for cause := ByBreak; cause < causes; cause++ {
		switch cause {
		case ByBreak:
			drop, on := x.Break.Drop, x.Break.On
			x.Break = b.Break
			x.Break.Drop, x.Break.On = drop, on
		case ByDwell:
			x.Rhythm = b.Rhythm
		case ByDrop:
			// The wiring's current, and with it the ballast's heat, follows.
			x = b
		}
		_, v, err := s.Available(&x)
		if err != nil {
			return 0, nil, err
		}
		list = append(list, Step{cause, v / 1e3, v/1e3/at - 1})
		at = v / 1e3
	}
	return start, list, nil
}

func caseOf(c *car.Car, condition string) (firing.Case, error) {
	m, err := twin.Build(c, condition)
	if err != nil {
		return firing.Case{}, err
	}
	if err := m.Solve(); err != nil {
		return firing.Case{}, err
	}
	sp, err := m.Spark()
	if err != nil {
		return firing.Case{}, err
	}
	return sp.Case, nil
}
