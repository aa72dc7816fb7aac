package spark

import (
	"fmt"
	"math"
	"math/rand/v2"

	"dwellwright/car"
	"dwellwright/firing"
	"dwellwright/heat"
	"dwellwright/twin"
	"dwellwright/units"
)

// legHeat is the heat made in one condition that has settled.
type legHeat struct {
	switchW      float64 // W in the closed switch and its clamp
	electronicsW float64 // W in a module's electronics
	primaryW     float64 // W in the primary winding
	coilW        float64 // W in the whole coil
	coil         heat.Power
}

// driver draws cars and follows each through the same legs.
type driver struct {
	legs    []Leg
	sampler *twin.Sampler
	models  []*twin.Model
	model   []int // by leg, index into models and heats; -1 parked
	ids     []string
	heats   []legHeat // of the last draw
	around  around    // of the last draw
	fire    firing.Solver
	seed    uint64
	maxC    float64 // °C a module's junction may be
}

func newDriver(c *car.Car, set DriveSettings) (*driver, error) {
	d := &driver{legs: set.Legs, sampler: twin.NewSampler(c, set.Seed), seed: set.Seed, maxC: c.Switch.MaxJunction.X}
	d.fire.Thorough = true
	for i, l := range set.Legs {
		at := -1
		if !l.Parked() {
			for j, id := range d.ids {
				if id == l.Condition {
					at = j
				}
			}
			if at < 0 {
				m, err := twin.Build(d.sampler.Car, l.Condition)
				if err != nil {
					return nil, fmt.Errorf("%w: leg %d %q: %w", ErrLeg, i+1, l.Name, err)
				}
				if !m.Switched() {
					return nil, fmt.Errorf("%w: leg %d %q: the engine stands still in condition %q; accepted: a condition in which it turns, or none for a car that is parked", ErrLeg, i+1, l.Name, l.Condition)
				}
				at = len(d.models)
				d.ids, d.models = append(d.ids, l.Condition), append(d.models, m)
			}
		}
		d.model = append(d.model, at)
	}
	d.heats = make([]legHeat, len(d.models))
	return d, nil
}

func (d *driver) electronic() bool { return d.sampler.Car.Switch.Kind.Electronic() }

// limit is the hottest a place may be, °C; 0 none.
func (d *driver) limit(p Place) float64 {
	switch p {
	case AtJunction:
		return d.maxC
	case AtWinding:
		return CoilLimitC
	}
	return 0
}

// draw makes the k-th car and solves every condition of the drive.
func (d *driver) draw(k int) error {
	d.sampler.Draw(k)
	d.around = drawAround(d.seed, k)
	for i, m := range d.models {
		if err := m.Refresh(); err != nil {
			return err
		}
		m.Asks(d.sampler.Demand)
		if err := m.Solve(); err != nil {
			return fmt.Errorf("condition %q: %w", d.ids[i], err)
		}
		var err error
		if d.heats[i], err = d.heatOf(m); err != nil {
			return fmt.Errorf("condition %q: %w", d.ids[i], err)
		}
	}
	return nil
}

// heatOf is what a solved condition makes of heat. The primary's copper is that of the
// model's operating point, from its rise over the air,
//
//	W = (T - T_air) / (K/W)
//
// and the rest of the coil's heat is what one firing leaves in the secondary
// winding and the iron, which the operating point does not know of: a tenth
// more at speed. So a coil is some kelvin hotter here than a reading computed
// for the condition without it.
func (d *driver) heatOf(m *twin.Model) (legHeat, error) {
	var h legHeat
	sp, err := m.Spark()
	if err != nil {
		return h, err
	}
	f, err := d.fire.Solve(&sp.Case)
	if err != nil {
		return h, err
	}
	c := d.sampler.Car
	h.switchW = sp.SwitchW
	if d.electronic() {
		h.electronicsW = c.Switch.Supply.X * float64(c.NominalV)
	}
	windingC := 20 + (sp.Primary.Winding/c.Coil.Primary.X-1)/heat.CopperPerK
	h.primaryW = math.Max((windingC-m.Condition().BayTemp.X)/c.Coil.Thermal.X, 0)
	h.coilW = h.primaryW
	if t := sp.Case.Rhythm.Period; f.Opens && t > 0 {
		h.coilW += (f.Lost.Secondary + f.Lost.Iron) / t
	}
	h.coil = heat.Power{W: h.coilW, AtC: windingC, WPerK: h.primaryW * copperSlope(&sp.Case, &sp.Firing, sp.Primary.Winding, windingC)}
	return h, nil
}

// copperSlope is by what share the primary's heat grows for each kelvin of its
// copper, 1/K. The current between make and break is
//
//	i = I - (I - I0) exp(-t (R+S)/L),  I = V/(R+S)
//
// with R the winding and S the rest. At speed inductance holds the current and
// heat grows with R; standing, V²R/(R+S)² shrinks once R is more than S. Here
// d ln(R mean i²)/d ln R is taken by differences, times R's own growth.
func copperSlope(cs *firing.Case, f *firing.Firing, winding, atC float64) float64 {
	all := cs.Source.Ohms + cs.Break.On
	volts := f.StillA * all
	dwell := math.Min(cs.Rhythm.Dwell, cs.Rhythm.Period)
	square := func(r float64) float64 {
		still := volts / r
		if !f.Opens {
			return still * still
		}
		tau := cs.Coil.L1 / r
		less := still - math.Max(f.StartA, 0)
		e, e2 := 1-math.Exp(-dwell/tau), 1-math.Exp(-2*dwell/tau)
		return still*still*dwell - 2*still*less*tau*e + less*less*tau/2*e2
	}
	const part = 0.01
	a, b := square(all-part*winding), square(all+part*winding)
	power := 1.0
	if a > 0 && b > 0 {
		power += math.Log(b/a) / math.Log((1+part)/(1-part))
	}
	return power * heat.CopperPerK / (1 + heat.CopperPerK*(atC-20))
}

// around is what of a drive's surroundings no car file tells, as factors on
// the usual, 1 in the middle.
type around struct {
	touch float64 // K/W from housing to block [from memory, 1 to 5]
	block float64 // K the block is warmer than usual [thermostats, from memory]
	mass  float64 // J/K of module, plate and housing
	coil  float64 // J/K of the coil
	inner float64 // share of the coil's K/W between winding and can
	lag   float64 // how long air and block take
	still float64 // K/W in still air over that in the draught of a running engine
	strip float64 // J/K of a ballast
}

// drawAround draws the surroundings of draw k, independently of the car's own
// figures and always in the same order.
func drawAround(seed uint64, k int) around {
	if k == 0 {
		return around{1, 0, 1, 1, 1, 1, 1, 1}
	}
	rng := rand.New(rand.NewPCG(seed^0x6865617400647276, uint64(k)))
	one := units.Value{PM: 1, Shape: units.Normal} // in half-widths of 95 %
	within := func(factor float64) float64 { return math.Pow(factor, one.Sample(rng.Float64())) }
	var a around
	a.touch = within(2)
	a.block = 6 * one.Sample(rng.Float64())
	a.mass = within(1.4)
	a.coil = within(1.3)
	a.inner = within(1.5)
	a.lag = within(1.5)
	a.still = within(1.25)
	a.strip = within(1.8)
	return a
}

// module is the drawn car's way for a module's heat.
func (a *around) module(c *car.Car) heat.Module {
	m := twin.Module(c)
	m.BodyBlockKPerW *= a.touch
	for _, x := range [...]*float64{&m.JunctionJPerK, &m.BaseJPerK, &m.PlateJPerK, &m.BodyJPerK} {
		*x *= a.mass
	}
	return m
}

// can is the drawn car's coil.
func (a *around) can(c *car.Car) heat.CoilCan {
	m := heat.TypicalCoil()
	m.WindingAirKPerW = math.Max(c.Coil.Thermal.X, 0.01)
	m.WindingShare *= a.inner
	m.WindingJPerK *= a.coil
	m.CanJPerK *= a.coil
	return m
}

// conditionC is the air under the bonnet in a condition of the car, °C; usual
// where it has no such condition.
func conditionC(c *car.Car, id string, usual float64) float64 {
	for i := range c.Conditions {
		if c.Conditions[i].ID == id {
			return c.Conditions[i].BayTemp.X
		}
	}
	return usual
}

// bayOf is the air outside, under the bonnet and in the block over a drive:
// outside as with the key on in a car that has stood, soaked as at the car's
// hot restart.
func (d *driver) bayOf() heat.Bay {
	b := heat.TypicalBay()
	b.OutsideC = conditionC(d.sampler.Car, "key_on_closed", b.OutsideC)
	b.SoakC = conditionC(d.sampler.Car, "hot_restart", b.SoakC)
	for _, lag := range [...]*float64{&b.WarmLagS, &b.SoakLagS, &b.CoolLagS, &b.BlockWarmLagS, &b.BlockCoolLagS} {
		*lag *= d.around.lag
	}
	return b
}

// segments are the drive's, with what powers says of each condition's heat.
func (d *driver) segments(nodes int, powers func(*legHeat) []heat.Power) []heat.Segment {
	bay := d.bayOf()
	off := make([]heat.Power, nodes)
	usualBlock, rise := bay.BlockC, bay.BlockSoakC-bay.BlockC
	soakC := bay.SoakC
	stood, run := 0.0, false
	var cycle []heat.Segment
	for i, l := range d.legs {
		if at := d.model[i]; at >= 0 {
			bay.RunningC = d.models[at].Condition().BayTemp.X
			bay.BlockC = math.Max(bay.RunningC, usualBlock+d.around.block)
			bay.BlockSoakC, bay.SoakC = bay.BlockC+rise, math.Max(soakC, bay.RunningC)
			cycle = append(cycle, heat.Segment{Name: l.Name, Seconds: l.Seconds, Powers: powers(&d.heats[at]), Given: bay.Running()})
			stood, run = 0, true
			continue
		}
		soak := math.Min(l.Seconds, math.Max(bay.SoakS-stood, 0))
		if !run {
			soak = 0 // nothing warm to soak
		}
		if soak > 0 {
			cycle = append(cycle, heat.Segment{Name: l.Name, Seconds: soak, Powers: off, Given: bay.Soak()})
		}
		if cool := l.Seconds - soak; cool > 0 {
			cycle = append(cycle, heat.Segment{Name: l.Name, Seconds: cool, Powers: off, Given: bay.Cooling()})
		}
		stood += l.Seconds
	}
	return cycle
}

// histories are one car's temperatures through the drive.
type histories struct {
	module, coil *heat.History // module nil for points
	legs         []legHeat     // by condition
}

// heats is what a condition makes; nothing parked.
func (h *histories) heats(model int) legHeat {
	if model < 0 {
		return legHeat{}
	}
	return h.legs[model]
}

// of is where a place is found; below 0 a temperature given from outside.
func (h *histories) of(p Place) (*heat.History, int) {
	switch p {
	case AtJunction:
		return h.module, heat.Junction
	case AtBase:
		return h.module, heat.Base
	case AtHousing:
		return h.module, heat.Body
	case AtWinding:
		return h.coil, heat.Winding
	case AtCan:
		return h.coil, heat.Can
	}
	return h.coil, -1 - heat.BayAir
}

// drive follows draw k through the drive.
func (d *driver) drive(k int) (*histories, error) {
	if err := d.draw(k); err != nil {
		return nil, err
	}
	h := &histories{legs: d.heats}
	c := d.sampler.Car
	var err error
	if h.coil, err = d.run(d.around.can(c).Network(), func(l *legHeat) []heat.Power { return []heat.Power{l.coil, {}} }); err != nil {
		return nil, err
	}
	if d.electronic() {
		h.module, err = d.runModule(d.around.module(c))
	}
	return h, err
}

// runModule follows a module through the drive as the last draw made it.
func (d *driver) runModule(m heat.Module) (*heat.History, error) {
	return d.run(m.Network(), func(l *legHeat) []heat.Power {
		return []heat.Power{{W: l.switchW + l.electronicsW}, {}, {}, {}}
	})
}

func (d *driver) run(n heat.Network, powers func(*legHeat) []heat.Power) (*heat.History, error) {
	s, err := n.Compile()
	if err != nil {
		return nil, err
	}
	return s.Run(s.Even(d.bayOf().OutsideC), d.segments(len(n.Nodes), powers))
}
