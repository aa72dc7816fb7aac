package measure

import (
	"math"
	"slices"
	"strings"

	"dwellwright/advance"
	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/twin"
)

// place keeps what was worked out of a distributor and its advance, for as
// long as none of their figures changes: most faults leave them alone, and all
// states of a drawn car then share one.
type place struct {
	was   []float64
	shape shape
	lists lists
	known bool

	mechanism advance.Mechanism
	seen      float64 // distributor degrees of centrifugal advance in the timing seen
	now       float64 // crank degrees, twin.TimingNow
	rpm       []float64
	curve     []advance.Band

	d       distributor.Distributor
	sound   bool
	swings  []swing
	crosses [2][]crossing // by ease
}

// shape is what of the geometry is no figure.
type shape struct {
	rotation car.Rotation
	source   car.VacuumSource
	kind     car.SwitchKind
	after    car.Origin
	later    car.Origin
	ring     car.RingKind
	way      car.Principle
	teeth    int
	poles    int
	planned  bool
}

type lists struct {
	order, leads      []int
	intervals, towers []float64
}

// swing is the sparks of one turn with the plate swung so far and no
// centrifugal advance, and the air beyond the rotor's gap that each crosses.
type swing struct {
	deg   float64
	fired []distributor.Firing
	extra []float64 // m
}

type crossing struct{ back, past float64 }

// placeFigures are the figures of a car that its place hangs on.
func placeFigures(c *car.Car) []*car.Param {
	var list []*car.Param
	for _, r := range car.Params(c) {
		for _, section := range [...]string{"distributor.", "timing.", "trigger.", "advance.", "cap."} {
			if strings.HasPrefix(r.Path, section) && !strings.HasPrefix(r.Path, "advance.kit.") { // what is at hand is not fitted
				list = append(list, r.P)
			}
		}
	}
	return list
}

func shapeOf(c *car.Car) shape {
	return shape{c.Distributor.Rotation, c.Advance.Source, c.Switch.Kind, c.Timing.After.Origin, c.Timing.TriggerLater.Origin, c.Trigger.Ring, c.Trigger.Principle,
		c.Distributor.Teeth, c.Trigger.Poles, c.Planned != nil}
}

// is reports whether the place is that of the car, which has those figures.
func (p *place) is(c *car.Car, figures []*car.Param) bool {
	d := &c.Distributor
	if !p.known || p.shape != shapeOf(c) || len(p.was) != len(figures) ||
		!slices.Equal(p.lists.order, d.FiringOrder) || !slices.Equal(p.lists.leads, d.Leads) ||
		!slices.Equal(p.lists.intervals, d.Intervals) || !slices.Equal(p.lists.towers, d.Towers) {
		return false
	}
	for i, f := range figures {
		if p.was[i] != f.X {
			return false
		}
	}
	return true
}

// of brings the place up to date with the car. like, when there is one, is a place
// whose advance may be the same.
func (p *place) of(c *car.Car, figures []*car.Param, like *place) *place {
	if p.is(c, figures) {
		return p
	}
	d := &c.Distributor
	p.known, p.shape = true, shapeOf(c)
	p.was = p.was[:0]
	for _, f := range figures {
		p.was = append(p.was, f.X)
	}
	p.lists.order = append(p.lists.order[:0], d.FiringOrder...)
	p.lists.leads = append(p.lists.leads[:0], d.Leads...)
	p.lists.intervals = append(p.lists.intervals[:0], d.Intervals...)
	p.lists.towers = append(p.lists.towers[:0], d.Towers...)

	p.rpm = append(p.rpm[:0], math.Max(c.Timing.SeenAt.X, 0))
	for i := range c.Conditions {
		switch s := c.Conditions[i].Speed.X; {
		case !(s > 0):
		case c.Conditions[i].Engine == car.Cranking:
			p.rpm = append(p.rpm, s, s*mildFaster)
		default:
			p.rpm = append(p.rpm, s, s+idleStep)
		}
	}
	p.rpm = append(p.rpm, lightSpeeds[:]...)
	p.mechanism = twin.Mechanism(c)
	if like != nil && like.turnsLike(&p.mechanism, p.rpm) {
		p.rpm = append(p.rpm[:0], like.rpm...)
		p.curve = append(p.curve[:0], like.curve...)
	} else {
		at := make([]float64, len(p.rpm))
		for i := range at {
			at[i] = p.rpm[i] / 2
		}
		p.curve = p.mechanism.Curve(at)
	}
	p.seen = p.curve[0].Mid
	p.now = twin.TimingNow(c)
	p.swings = p.swings[:0]
	p.crosses = [2][]crossing{}
	p.d = twin.Distributor(c)
	p.sound = p.d.Validate() == nil
	return p
}

// turnsLike reports whether the advance is that of a mechanism, and worked out at
// these speeds first of all.
func (p *place) turnsLike(m *advance.Mechanism, rpm []float64) bool {
	return p.known && len(p.rpm) >= len(rpm) && slices.Equal(p.rpm[:len(rpm)], rpm) &&
		p.mechanism.Weights == m.Weights && slices.Equal(p.mechanism.Springs, m.Springs) && p.mechanism.Ratio == m.Ratio &&
		p.mechanism.Bend == m.Bend && p.mechanism.StopDeg == m.StopDeg && p.mechanism.FrictionNm == m.FrictionNm
}

// weights is the centrifugal advance at an engine speed, distributor degrees.
func (p *place) weights(rpm float64) advance.Band {
	rpm = math.Max(rpm, 0)
	for i, r := range p.rpm {
		if r == rpm {
			return p.curve[i]
		}
	}
	b := p.mechanism.At(rpm / 2)
	p.rpm, p.curve = append(p.rpm, rpm), append(p.curve, b)
	return b
}

// light is what a timing light shows, hose off, with so much centrifugal
// advance: package twin's own formula.
func (p *place) light(weights float64) float64 { return p.now + 2*(weights-p.seen) }

// atMark is what the mark shows of a timing: it comes round once a turn of the
// crank, so a distributor that is half a turn out stands right by it.
func atMark(crankDeg float64) float64 { return math.Remainder(crankDeg, 360) }

// swung is the sparks of one turn with the plate swung.
func (p *place) swung(deg float64) *swing {
	for i := range p.swings {
		if p.swings[i].deg == deg {
			return &p.swings[i]
		}
	}
	s := swing{deg: deg, fired: p.d.Fire(0, deg)}
	s.extra = make([]float64, len(s.fired))
	for i := range s.fired {
		s.extra[i] = p.d.ExtraGapM(s.fired[i].Phase)
	}
	p.swings = append(p.swings, s)
	return &p.swings[len(p.swings)-1]
}

// crossing is where the spark of a tower goes over to its neighbours.
func (p *place) crossing(tower int, loaded bool) crossing {
	n, ease := 0, distributor.NeighbourEaseKV/2
	if loaded {
		n, ease = 1, distributor.NeighbourEaseKV
	}
	if p.crosses[n] == nil {
		p.crosses[n] = make([]crossing, len(p.d.Towers))
		for t := range p.crosses[n] {
			if t > 0 && p.alike(t-1, t) {
				p.crosses[n][t] = p.crosses[n][t-1]
				continue
			}
			p.crosses[n][t].back, p.crosses[n][t].past = p.d.CrossFire(t, ease, 0)
		}
	}
	if tower < 0 || tower >= len(p.crosses[n]) {
		return crossing{}
	}
	return p.crosses[n][tower]
}

// alike reports whether two towers have their neighbours equally far off.
func (p *place) alike(t, u int) bool {
	const enough = 1e-9 // degrees
	after := func(i int) float64 {
		n := len(p.d.Towers)
		to := p.d.Towers[(i+1)%n] - p.d.Towers[i]
		if to <= 0 {
			to += 360
		}
		return to
	}
	n := len(p.d.Towers)
	return math.Abs(after(t)-after(u)) < enough && math.Abs(after((t+n-1)%n)-after((u+n-1)%n)) < enough
}

// worst is how far the tip is past its tower, of the lobe that is furthest
// off, with the plate swung.
func (p *place) worst(deg float64) float64 {
	if !p.sound {
		return nan
	}
	worst := 0.0
	for _, f := range p.swung(deg).fired {
		if math.Abs(f.Phase) > math.Abs(worst) {
			worst = f.Phase
		}
	}
	return worst
}
