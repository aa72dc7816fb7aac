package spark

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"dwellwright/car"
	"dwellwright/heat"
	"dwellwright/twin"
)

// KeyOnSettings say how long a key is left on. Zero values are the usual.
type KeyOnSettings struct {
	Draws   int // as in DriveSettings
	Seed    uint64
	Minutes float64 // 180; at most a day's
}

// KeyOnPowers are what flows and warms with the key on and the points closed.
type KeyOnPowers struct {
	Amps, CoilW, BallastW, SwitchW Interval
}

// After is a time that may never come.
type After struct {
	Reached bool
	Minutes float64 // 0 when never
}

// Reach is when a limit is reached, in the time that was followed.
type Reach struct {
	LimitC           float64
	Mid              After // the middle car
	Earliest, Latest After // 95 % interval of the drawn cars, those that never reach it counted last
	Share            float64
}

// KeyOnResult is the heat of a key left on with the engine stopped and the
// points closed, or the trigger conducting.
type KeyOnResult struct {
	Minutes     []float64
	First, Last KeyOnPowers // as the key is turned on; at the end
	Warm        []Warming   // winding, can, the ballast if there is one, a module's places
	Coil        Reach
	Module      *Reach // nil for points
	Draws, Lost int
}

// At finds how warm a place gets; nil where the car has no such place.
func (r *KeyOnResult) At(p Place) *Warming { return warmingOf(r.Warm, p) }

const (
	keyOnCondition = "key_on_closed"

	// stillAir is by how much a coil's or housing's way to the air is worse with the
	// engine stopped [a can loses 10 to 15 W/(m² K) in still air, and its K/W in the
	// car is half of that to all of it; from memory].
	stillAir = 1.35
	// stripJPerK is the heat a ballast holds: some 10 g of wire on ceramic that
	// follows slowly; it is hot within a minute [from memory].
	stripJPerK = 5
)

// ballastCircuit is a winding behind a ballast on a steady voltage, both warming.
type ballastCircuit struct {
	volts, drop float64 // V of the source; V the closed switch keeps
	rest, on    float64 // ohm of wiring and battery; ohm of the closed switch
	coil20      float64 // ohm of the winding at 20 °C
	ballast20   float64 // ohm of the ballast at 20 °C, 0 none
	ballastCo   float64 // 1/K of it
	can         heat.CoilCan
	ballastKW   float64 // K/W
	ballastJK   float64 // J/K
	air         float64 // °C
}

// hot is the state: °C of winding, can and ballast.
type hot [3]float64

// at is the current and the powers when that warm.
func (b *ballastCircuit) at(t hot) (amps, coilW, ballastW, switchW float64) {
	coil := b.coil20 * (1 + heat.CopperPerK*(t[0]-20))
	ballast := b.ballast20 * (1 + b.ballastCo*(t[2]-20))
	amps = math.Max(b.volts-b.drop, 0) / (b.rest + b.on + coil + ballast)
	return amps, amps * amps * coil, amps * amps * ballast, amps * (b.drop + amps*b.on)
}

// slope is dT/dt of winding, can and ballast.
func (b *ballastCircuit) slope(t hot) hot {
	_, coilW, ballastW, _ := b.at(t)
	inner := b.can.WindingAirKPerW * b.can.WindingShare
	across, out := (t[0]-t[1])/inner, (t[1]-b.air)/(b.can.WindingAirKPerW-inner)
	d := hot{(coilW - across) / b.can.WindingJPerK, (across - out) / b.can.CanJPerK}
	if b.ballast20 > 0 {
		d[2] = (ballastW - (t[2]-b.air)/b.ballastKW) / b.ballastJK
	}
	return d
}

// step goes on by dt seconds: classical Runge and Kutta of fourth order.
func (b *ballastCircuit) step(t hot, dt float64) hot {
	along := func(d hot, dt float64) hot { return hot{t[0] + d[0]*dt, t[1] + d[1]*dt, t[2] + d[2]*dt} }
	k1 := b.slope(t)
	k2 := b.slope(along(k1, dt/2))
	k3 := b.slope(along(k2, dt/2))
	k4 := b.slope(along(k3, dt))
	var d hot
	for i := range d {
		d[i] = (k1[i] + 2*k2[i] + 2*k3[i] + k4[i]) / 6
	}
	return along(d, dt)
}

// quickest is the shortest time constant, s.
func (b *ballastCircuit) quickest() float64 {
	inner := b.can.WindingAirKPerW * b.can.WindingShare
	q := inner / (1/b.can.WindingJPerK + 1/b.can.CanJPerK)
	if b.ballast20 > 0 {
		q = math.Min(q, b.ballastKW*b.ballastJK)
	}
	return q
}

// KeyOn follows the heat of a key left on with the points closed or the
// trigger conducting (condition key_on_closed): the source as the car's
// battery and wiring make it, winding and ballast warming in still air, exactly
// non-linear, in steps that are a small part of the shortest time constant.
//
// Simplified: the battery's voltage stands, where in truth it falls as it
// empties, so that hours on end come out somewhat too hot; wires do not warm.
func KeyOn(c *car.Car, set KeyOnSettings) (*KeyOnResult, error) {
	var err error
	if set.Draws, err = settledDraws(set.Draws); err != nil {
		return nil, err
	}
	if set.Minutes == 0 {
		set.Minutes = 180
	}
	if !(set.Minutes > 0 && set.Minutes <= dayS/60) {
		return nil, fmt.Errorf("spark: a key left on for %g minutes; more than 0 and at most %d is accepted", set.Minutes, dayS/60)
	}
	s := twin.NewSampler(c, set.Seed)
	m, err := twin.Build(s.Car, keyOnCondition)
	if err != nil {
		return nil, err
	}
	if m.Condition().Engine != car.StoppedClosed {
		return nil, fmt.Errorf("spark: condition %q has the engine %v; %v is wanted for a key left on", keyOnCondition, m.Condition().Engine, car.StoppedClosed)
	}
	const samples = 180
	list := []Place{AtWinding, AtCan}
	if c.Ballast.Fitted {
		list = append(list, AtBallast)
	}
	if c.Switch.Kind.Electronic() {
		list = append(list, AtJunction, AtBase, AtHousing)
	}
	r := &KeyOnResult{}
	for i := 0; i <= samples; i++ {
		r.Minutes = append(r.Minutes, set.Minutes*float64(i)/samples)
	}
	limit := func(p Place) float64 {
		switch p {
		case AtWinding:
			return CoilLimitC
		case AtJunction:
			return c.Switch.MaxJunction.X
		}
		return 0
	}
	var first, last [4]spread
	var reachCoil, reachModule spread
	at := make([][]spread, len(list))
	peak, over := make([]spread, len(list)), make([]spread, len(list))
	peakMin := make([]float64, len(list))
	for i := range at {
		at[i] = make([]spread, samples+1)
	}
	run := leftOn{minutes: r.Minutes}
	for k := 0; k <= set.Draws; k++ {
		s.Draw(k)
		a := drawAround(set.Seed, k)
		if err := run.follow(s.Car, m, &a, limit(AtJunction)); err != nil {
			if r.Lost++; k == 0 || r.Lost > set.Draws/20 {
				return nil, fmt.Errorf("car %d of the draw: %w", k, err)
			}
			continue
		}
		for i := range first {
			first[i].add(k, run.first[i])
			last[i].add(k, run.last[i])
		}
		reachCoil.add(k, run.coilAt)
		reachModule.add(k, run.moduleAt)
		for i, p := range list {
			for j := range at[i] {
				at[i][j].add(k, run.c[p][j])
			}
			peak[i].add(k, run.peak[p])
			over[i].add(k, run.over[p])
			if k == 0 {
				peakMin[i] = run.peakMin[p]
			}
		}
	}
	r.Draws = set.Draws - r.Lost
	for i := range first {
		for _, x := range [...]struct {
			to   *KeyOnPowers
			from *spread
		}{{&r.First, &first[i]}, {&r.Last, &last[i]}} {
			*[...]*Interval{&x.to.Amps, &x.to.CoilW, &x.to.BallastW, &x.to.SwitchW}[i] = x.from.interval()
		}
	}
	for i, p := range list {
		w := Warming{Place: p, Peak: peak[i].interval(), PeakMin: peakMin[i], LimitC: limit(p)}
		for j := range at[i] {
			w.C = append(w.C, at[i][j].interval())
		}
		if w.LimitC > 0 {
			w.MarginK = under(w.LimitC, w.Peak)
			w.OverMin = over[i].interval()
		}
		r.Warm = append(r.Warm, w)
	}
	r.Coil = reach(CoilLimitC, &reachCoil)
	if c.Switch.Kind.Electronic() {
		x := reach(limit(AtJunction), &reachModule)
		r.Module = &x
	}
	return r, nil
}

// reach reads times in minutes, +Inf for never.
func reach(limitC float64, s *spread) Reach {
	after := func(minutes float64) After {
		if math.IsInf(minutes, 1) {
			return After{}
		}
		return After{true, minutes}
	}
	r := Reach{LimitC: limitC, Mid: after(s.mid)}
	r.Earliest, r.Latest = r.Mid, r.Mid
	if r.Mid.Reached {
		r.Share = 1
	}
	n := len(s.draws)
	if n == 0 {
		return r
	}
	slices.Sort(s.draws)
	// Whole draws, not between two: half a never is no time.
	early, late := int(0.025*float64(n-1)+0.5), int(0.975*float64(n-1)+0.5)
	r.Earliest = after(math.Min(s.draws[early], s.mid))
	r.Latest = after(math.Max(s.draws[late], s.mid))
	reached := 0
	for _, x := range s.draws {
		if !math.IsInf(x, 1) {
			reached++
		}
	}
	r.Share = float64(reached) / float64(n)
	return r
}

// leftOn is one car with its key left on.
type leftOn struct {
	minutes          []float64
	c                [places][]float64 // °C by sample
	peak, peakMin    [places]float64
	over             [places]float64 // minutes
	first, last      [4]float64      // A; W in coil, ballast and switch
	coilAt, moduleAt float64         // minutes to the limit, +Inf never
	switchW          []float64       // mean between samples
}

// follow works out the car that m was built from as it now is.
func (l *leftOn) follow(c *car.Car, m *twin.Model, a *around, maxJunction float64) error {
	if err := m.Refresh(); err != nil {
		return err
	}
	if err := m.Solve(); err != nil {
		return err
	}
	p, err := m.Primary()
	if err != nil {
		return err
	}
	still := stillAir * a.still
	b := ballastCircuit{
		volts: p.Volts, coil20: c.Coil.Primary.X, on: math.Max(c.Switch.On.X, 0),
		rest: math.Max(p.Ohms-p.Winding-p.Ballast, 0), can: a.can(c), air: m.Condition().BayTemp.X,
	}
	b.can.WindingAirKPerW *= still
	if k := c.Switch.Kind; k == car.Darlington || k == car.IGBT {
		b.drop = math.Max(c.Switch.Saturation.X, 0)
	}
	if c.Ballast.Fitted {
		b.ballast20, b.ballastCo = c.Ballast.Cold.X, math.Max(c.Ballast.TempCo.X, 0)
		b.ballastKW, b.ballastJK = math.Max(c.Ballast.Thermal.X, 0.01), stripJPerK*a.strip
	}
	if err := l.coil(&b); err != nil {
		return err
	}
	if !c.Switch.Kind.Electronic() {
		return nil
	}
	mod := a.module(c)
	mod.BodyBayKPerW *= still
	return l.module(mod, b.air, c.Switch.Supply.X*float64(c.NominalV), maxJunction)
}

// coil follows winding, can and ballast.
func (l *leftOn) coil(b *ballastCircuit) error {
	if err := b.can.Validate(); err != nil {
		return err
	}
	t := hot{b.air, b.air, b.air}
	show := [...]Place{AtWinding, AtCan, AtBallast}
	for i, p := range show {
		l.c[p] = append(l.c[p][:0], t[i])
		l.peak[p], l.peakMin[p], l.over[p] = t[i], 0, 0
	}
	powers := func() (x [4]float64) {
		x[0], x[1], x[2], x[3] = b.at(t)
		return x
	}
	l.first = powers()
	l.coilAt = math.Inf(1)
	l.switchW = l.switchW[:0]
	most := math.Min(5, 0.3*b.quickest())
	for j := 1; j < len(l.minutes); j++ {
		length := (l.minutes[j] - l.minutes[j-1]) * 60
		n := math.Ceil(length / most)
		dt, energy, before := length/n, 0.0, powers()[3]
		for i := 0.0; i < n; i++ {
			was := t
			t = b.step(t, dt)
			now := powers()[3]
			energy += (before + now) / 2 * dt
			before = now
			end := l.minutes[j-1] + (i+1)*dt/60
			if l.count(was[0], t[0], end, dt/60) {
				l.over[AtWinding] += dt / 60
			}
			for x, p := range show {
				if t[x] > l.peak[p] {
					l.peak[p], l.peakMin[p] = t[x], end
				}
			}
		}
		if math.IsNaN(t[0] + t[1] + t[2]) {
			return errNoHeat
		}
		l.switchW = append(l.switchW, energy/length)
		for i, p := range show {
			l.c[p] = append(l.c[p], t[i])
		}
	}
	l.last = powers()
	return nil
}

var errNoHeat = errors.New("spark: coil and ballast have no heat that can be followed")

// count notes when the winding first passes its limit in a step that ends at
// end, and reports whether it ends above it.
func (l *leftOn) count(was, is, end, step float64) bool {
	if is >= CoilLimitC && math.IsInf(l.coilAt, 1) {
		l.coilAt = end
		if is > was && was < CoilLimitC {
			l.coilAt = end - step*(is-CoilLimitC)/(is-was)
		}
	}
	return is >= CoilLimitC
}

// module follows the module with the switch's watts.
func (l *leftOn) module(m heat.Module, airC, electronicsW, maxC float64) error {
	s, err := m.Network().Compile()
	if err != nil {
		return err
	}
	cycle := make([]heat.Segment, len(l.switchW))
	given := []heat.Given{heat.Held(airC), heat.Held(airC)}
	times := make([]float64, len(l.minutes))
	for i, w := range l.switchW {
		cycle[i] = heat.Segment{Name: "key on", Seconds: (l.minutes[i+1] - l.minutes[i]) * 60,
			Powers: []heat.Power{{W: w + electronicsW}, {}, {}, {}}, Given: given}
		times[i+1] = times[i] + cycle[i].Seconds
	}
	h, err := s.Run(s.Even(airC), cycle)
	if err != nil {
		return err
	}
	times[len(times)-1] = h.Seconds
	for p, node := range map[Place]int{AtJunction: heat.Junction, AtBase: heat.Base, AtHousing: heat.Body} {
		peak := h.Peak(node)
		l.c[p], l.peak[p], l.peakMin[p] = h.Sample(node, times), peak.TempC, peak.AtS/60
	}
	l.over[AtJunction] = h.TimeAbove(heat.Junction, maxC) / 60
	l.moduleAt = math.Inf(1)
	if t, ok := h.TimeTo(heat.Junction, maxC); ok {
		l.moduleAt = t / 60
	}
	return nil
}
