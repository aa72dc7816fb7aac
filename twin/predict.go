package twin

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"dwellwright/car"
	"dwellwright/gas"
	"dwellwright/units"
)

// Estimate is a predicted reading: the middle and the 95 % interval of what
// the car's uncertain figures make of it.
type Estimate struct {
	Mid    float64 // median of the draws
	Lo, Hi float64 // 2.5 and 97.5 percentiles
	Draws  int
}

// PM is half the width of the interval.
func (e Estimate) PM() float64 { return (e.Hi - e.Lo) / 2 }

// Missing reports whether the car has nothing to read there.
func (e Estimate) Missing() bool { return e.Draws == 0 }

// Sampler draws cars: each draw takes every uncertain figure of the car from
// its own spread, independently. Draw k of a seed is the same car whatever is
// asked of it and in whatever order, so results are repeatable and do not
// depend on how the work is split.
type Sampler struct {
	Car  *car.Car // the drawn car; overwritten by Draw
	refs []car.ParamRef
	mid  []car.Param
	seed uint64
	// Demand is what the drawn engine's plugs ask over what the formula says:
	// no figure of the car, but drawn with them.
	Demand   float64
	demandAt int // index of the figure before which it is drawn
}

// NewSampler prepares to draw from the spreads of a car's figures.
func NewSampler(c *car.Car, seed uint64) *Sampler {
	s := &Sampler{Car: c.Clone(), seed: seed}
	s.refs = car.Params(s.Car)
	s.demandAt = len(s.refs) - 1
	for j, r := range s.refs {
		s.mid = append(s.mid, *r.P)
		// The distributor's figures came after it: so those before keep their
		// numbers.
		if strings.HasPrefix(r.Path, "distributor.") && j < s.demandAt {
			s.demandAt = j
		}
	}
	return s
}

// Seed sets the seed that draws come from.
func (s *Sampler) Seed(seed uint64) { s.seed = seed }

// Draw makes Car the k-th draw; k = 0 is the car with every figure at its
// middle.
func (s *Sampler) Draw(k int) {
	if k == 0 {
		for j, r := range s.refs {
			r.P.X = s.mid[j].X
		}
		s.Demand = 1
		return
	}
	rng := rand.New(rand.NewPCG(s.seed, uint64(k)))
	demand := 0.5
	for j, r := range s.refs {
		if j == s.demandAt {
			demand = rng.Float64()
		}
		u := rng.Float64() // always drawn, so that figures keep their own numbers
		p := &s.mid[j]
		if p.PM == 0 {
			r.P.X = p.X
			continue
		}
		r.P.X = sample(p, math.Min(math.Max(u, 1e-12), 1-1e-12))
	}
	d := units.Value{X: 1, PM: gas.DemandSpread, Shape: units.Normal}
	s.Demand = math.Max(d.Sample(math.Min(math.Max(demand, 1e-12), 1-1e-12)), 0.3)
}

// sample draws a figure. One that can't be negative by its nature, but whose
// spread is so wide that three sigma would be, is drawn from the log-normal
// that has the same middle and the same upper end: X (1 + PM/X)^z, z being
// the place in the spread in half-widths.
func sample(p *car.Param, u float64) float64 {
	x := p.Sample(u)
	switch p.Kind {
	case units.Temperature, units.DistributorAngle, units.CrankAngle: // these may be below 0
		return x
	}
	if p.X > 0 && p.PM >= 0.6*p.X && p.Shape != units.Uniform {
		return p.X * math.Pow(1+p.PM/p.X, (x-p.X)/p.PM)
	}
	return x
}

// Predict predicts what would be read in a condition, from that many draws
// of the car's uncertain figures (0: only the middle car, with no interval).
// A spec the car has nothing for gives an Estimate that is Missing.
func Predict(c *car.Car, conditionID string, specs []Spec, draws int, seed uint64) ([]Estimate, error) {
	s, err := NewSheet(c, conditionID, specs)
	if err != nil {
		return nil, err
	}
	return s.Estimate(draws, seed)
}

// Sheet is a set of readings of one car in one condition, kept ready.
type Sheet struct {
	specs   []Spec
	sampler *Sampler
	live    *Model // running, or at rest with the supply on
	readers []reader
	from    []*Model // nil: missing
	fires   bool     // some reading is of a firing
}

// NewSheet prepares readings of a car in one of its conditions.
func NewSheet(c *car.Car, conditionID string, specs []Spec) (*Sheet, error) {
	s := &Sheet{specs: specs, sampler: NewSampler(c, 0)}
	drawn := s.sampler.Car
	cond := findCondition(drawn, conditionID)
	if cond == nil {
		return nil, &UnknownError{What: "condition", ID: conditionID, Have: conditionIDs(c)}
	}
	var err error
	if s.live, err = build(drawn, cond, nil); err != nil {
		return nil, err
	}
	s.readers = make([]reader, len(specs))
	s.from = make([]*Model, len(specs))
	for i, sp := range specs {
		m, err := s.live, error(nil)
		if sp.Instrument == Ohmmeter { // a meter between two points is a network of its own
			m, err = build(drawn, cond, []string{sp.Red, sp.Black})
		}
		var r reader
		if err == nil {
			r, err = m.find(sp)
		}
		if _, gone := err.(*MissingError); gone {
			continue
		}
		if err != nil {
			return nil, err
		}
		s.readers[i], s.from[i] = r, m
		s.fires = s.fires || sp.Instrument.OfFiring()
	}
	return s, nil
}

// Estimate draws cars and reads each. Draw 0, the middle car, is solved
// first and is not counted.
func (s *Sheet) Estimate(draws int, seed uint64) ([]Estimate, error) {
	s.sampler.seed = seed
	n := len(s.specs)
	rows := max(draws, 1)
	got := make([]float64, n*rows)
	out := make([]Estimate, n)
	mid := make([]float64, n)
	if err := s.one(0, mid, 1); err != nil {
		return nil, err
	}
	lost := 0
	for k := 1; k <= draws; k++ {
		if err := s.one(k, got[k-1:], rows); err != nil {
			// A rare car out of the tail of the spreads may have no steady
			// motion at all, such as one whose relay chatters; it is left
			// out, and Draws says so. Many such are a finding of their own.
			if lost++; lost > draws/20 {
				return nil, fmt.Errorf("draw %d: %w", k, err)
			}
			for i := range out {
				got[(k-1)+i*rows] = math.NaN()
			}
		}
	}
	for i := range out {
		if s.from[i] == nil {
			continue
		}
		if draws == 0 {
			out[i] = Estimate{mid[i], mid[i], mid[i], 1}
			continue
		}
		v := got[i*rows : i*rows+draws]
		slices.Sort(v) // what was lost comes first, and what cannot be read
		for len(v) > 0 && math.IsNaN(v[0]) {
			v = v[1:]
		}
		if len(v) == 0 {
			continue
		}
		out[i] = Estimate{Mid: Quantile(v, 0.5), Lo: Quantile(v, 0.025), Hi: Quantile(v, 0.975), Draws: len(v)}
	}
	return out, nil
}

// one solves draw k and writes reading i to out[i*stride].
func (s *Sheet) one(k int, out []float64, stride int) error {
	s.sampler.Draw(k)
	if err := s.live.Refresh(); err != nil {
		return err
	}
	s.live.demand = s.sampler.Demand
	if err := s.live.Solve(); err != nil {
		return err
	}
	if s.fires {
		if _, err := s.live.Spark(); err != nil {
			return err
		}
	}
	for i := range s.readers {
		r := &s.readers[i]
		switch {
		case s.from[i] == nil:
		case s.from[i] == s.live:
			out[i*stride] = s.live.read(r)
		default:
			if err := s.from[i].Refresh(); err != nil {
				return err
			}
			if err := s.from[i].Solve(); err != nil {
				return err
			}
			out[i*stride] = s.from[i].read(r)
		}
	}
	return nil
}

// Quantile interpolates the q quantile of sorted values, at least one.
func Quantile(v []float64, q float64) float64 {
	x := q * float64(len(v)-1)
	i := int(x)
	if i+1 >= len(v) {
		return v[len(v)-1]
	}
	return v[i] + (x-float64(i))*(v[i+1]-v[i])
}
