package twin

import (
	"errors"
	"math"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/firing"
	"dwellwright/gas"
	"dwellwright/heat"
)

// Figures of a spark the car file does not carry.
const (
	extinctAmps  = 3e-3   // A below which a spark goes out [a few mA, from memory]
	lingerS      = 50e-6  // s in which a gap is still hot after its spark went out [tens to hundreds, from memory]
	strayFarads  = 1e-9   // F across a trigger's open output transistor [its own and its leads', from memory]
	clampOhms    = 1.0    // ohm of a clamp beyond its voltage [from memory]
	atmospherePa = 101325 // Pa

	mostSourceOhms = 1e6 // ohm, what an open primary is taken at: the most that package firing takes
	kelvin         = 273.15
)

// ErrNoFiring is asked of a car that is not turning.
var ErrNoFiring = errors.New("twin: the engine stands still, nothing fires")

// Primary is the primary circuit as the coil's inductance sees it: everything
// between its two ends, switch apart, as one source and one resistance, and
// the parts of that which warm.
type Primary struct {
	Volts   float64 // V with no current in the coil
	Supply  float64 // V at the battery's posts then
	Ohms    float64 // ohm in series, winding and ballast as warm as they are
	Winding float64 // ohm of it in the winding
	Ballast float64 // ohm of it in the ballast
}

// Primary solves the car twice at rest with winding and ballast held at the
// temperatures of the last Solve: switch open for the source's voltage, then
// closed for its resistance. So battery, generator and all loads are in it.
func (m *Model) Primary() (Primary, error) {
	var p Primary
	type held struct {
		e    circuit.ElemID
		t, k float64
	}
	var kept [2]held
	for i, e := range [...]circuit.ElemID{m.winding, m.ballast} {
		kept[i].e = e
		if e == none {
			continue
		}
		kept[i].t = m.solve.Get(e, circuit.TempC)
		kept[i].k = m.solve.Get(e, circuit.HeatKPerW)
		hot := m.temperature(e)
		r20 := m.solve.Get(e, circuit.Ohms)
		a := m.solve.Get(e, circuit.TempCo)
		ohms := r20 * (1 + a*(hot-20))
		if e == m.winding {
			p.Winding = ohms
		} else {
			p.Ballast = ohms
		}
		if err := errors.Join(m.solve.Set(e, circuit.TempC, hot), m.solve.Set(e, circuit.HeatKPerW, 1e-6)); err != nil {
			return p, err
		}
	}
	// A relay stays as it stood: it does not follow one firing.
	var above, below float64
	if m.relay != none {
		above, below = m.solve.Get(m.relay, circuit.CloseAbove), m.solve.Get(m.relay, circuit.OpenBelow)
		hold := -1e6
		if !m.solve.Closed(m.relay) {
			hold = 1e6
		}
		if err := errors.Join(m.solve.Set(m.relay, circuit.OpenBelow, hold-1), m.solve.Set(m.relay, circuit.CloseAbove, hold)); err != nil {
			return p, err
		}
	}
	core, _ := m.net.Lookup("coil_core")
	plate, terminal := m.point["breaker_plate"], m.point["breaker_terminal"]
	// The source is what it is with nothing drawn, though a shorted switch draws.
	off := m.solve.Get(m.contact, circuit.OffSiemens)
	err := m.solve.Set(m.contact, circuit.OffSiemens, leakSiemens)
	if m.short != none {
		short := m.solve.Get(m.short, circuit.Ohms)
		err = errors.Join(err, m.solve.Set(m.short, circuit.Ohms, 1/leakSiemens))
		defer func() { _ = m.solve.Set(m.short, circuit.Ohms, short) }()
	}
	if err == nil {
		err = m.Hold(false)
	}
	if err == nil {
		p.Volts = m.sign * m.solve.Voltage(core, plate)
		p.Supply = m.sign * m.solve.Voltage(m.point["battery_live"], circuit.Ground)
		if err = m.Hold(true); err == nil {
			amps := m.sign * m.solve.Current(m.winding)
			p.Ohms = (p.Volts - m.sign*m.solve.Voltage(terminal, plate)) / amps
			if !(amps > 0 && p.Ohms > 0.01 && p.Ohms < mostSourceOhms) {
				p.Ohms = mostSourceOhms // nothing flows
			}
		}
	}
	err = errors.Join(err, m.solve.Set(m.contact, circuit.OffSiemens, off))
	if m.relay != none {
		err = errors.Join(err, m.solve.Set(m.relay, circuit.CloseAbove, above), m.solve.Set(m.relay, circuit.OpenBelow, below))
	}
	for _, h := range kept {
		if h.e != none {
			err = errors.Join(err, m.solve.Set(h.e, circuit.TempC, h.t), m.solve.Set(h.e, circuit.HeatKPerW, h.k))
		}
	}
	return p, err
}

// temperature is what a part that warms itself came to in the last Solve, °C.
func (m *Model) temperature(e circuit.ElemID) float64 {
	if m.Switched() && m.steady != nil {
		return m.steady.Heat(e)
	}
	return m.solve.Heat(e)
}

// Dwell returns the rhythm of the car's switch at an engine speed: points
// float above what their spring can follow, a trigger may have a rule of its
// own. What is shorted, or never parts, is closed all the time.
func Dwell(c *car.Car, rpm float64) firing.Rhythm {
	if c.Switch.NeverOpens() {
		return firing.Turning(c.Cylinders, rpm, 360/float64(max(c.Cylinders, 1)))
	}
	deg := c.Switch.Dwell.X
	if !c.Switch.Kind.Electronic() {
		p := Points(c)
		deg = math.Max(deg-(p.DwellDeg-p.DwellAt(rpm)), 0)
	}
	r := firing.Turning(c.Cylinders, rpm, deg)
	if most := c.Switch.LongestDwell.X; most > 0 {
		r.Dwell = math.Min(r.Dwell, most)
	}
	return r
}

// Points returns the car's breaker points as a cam and a spring. Of dual
// points it is one set, with the dwell of single ones: one set makes, the
// other breaks, and their dwell together is longer than that of either
// [27 to 32 degrees each and 36 to 40 together on a V8, from memory].
func Points(c *car.Car) firing.Points {
	dwell := c.Switch.Dwell.X
	if c.Switch.Kind == car.DualPoints {
		own := 30.0
		switch c.Cylinders {
		case 4:
			own = 52
		case 6:
			own = 39
		}
		dwell = math.Min(dwell, own)
	}
	return firing.Points{Cylinders: c.Cylinders, DwellDeg: dwell, GapM: c.Switch.Gap.X, SpringN: c.Switch.Spring.X, MassKg: firing.ArmKg}
}

// Case makes one firing of a car at an engine speed, with its coil fed from
// that primary circuit and a gap that asks for so many volts.
func Case(c *car.Car, p Primary, rpm, required float64) firing.Case {
	coil, sw := &c.Coil, &c.Switch
	f := firing.Case{
		Coil: firing.Coil{
			L1: coil.Inductance.X, L2: coil.Inductance.X * coil.Turns.X * coil.Turns.X, Coupling: math.Min(coil.Coupling.X, 1),
			R2: coil.Secondary.X, Iron: coil.Iron.X, KneeA: coil.Knee.X, Beyond: coil.BeyondKnee.X,
		},
		Source: firing.Source{Volts: math.Max(p.Volts, 0), Ohms: p.Ohms},
		Break:  firing.Break{On: math.Max(sw.On.X, leastSlope), Farads: sw.Condenser.X, Series: sw.CondenserSeries.X},
		Gap: firing.Gap{
			Farads: coil.Stray.X, Shunt: c.Cap.Shunt.X, Series: math.Max(coil.Series.X-coil.Secondary.X, 0),
			Required: required, Burn: coil.Burn.X, Extinct: extinctAmps, Linger: lingerS,
		},
		Rhythm: Dwell(c, rpm),
	}
	if sw.Kind.Electronic() {
		f.Break.Clamp, f.Break.ClampOhms = sw.Clamp.X, clampOhms
		f.Break.Farads = math.Max(f.Break.Farads, strayFarads)
		switch sw.Kind {
		case car.MOSFET:
			f.Break.Back = bodyVolts
		default:
			f.Break.Drop = math.Max(sw.Saturation.X, 0)
		}
	} else {
		pts := Points(c)
		f.Break.Parting = math.Min(pts.PartingMPS(rpm), 100) // a dwell of nearly the whole lobe: apart at once
	}
	if g := sw.Bridged(); g > 0 {
		f.Break.On = 1 / (1/f.Break.On + g)
		if f.Break.Drop > 0 {
			f.Break.On, f.Break.Drop = 1/g, 0 // less than its knee lies across it
		}
	}
	return f
}

// Chamber is the cylinder that a plug of the car fires in, at a manifold
// pressure (Pa).
func Chamber(c *car.Car, k *car.Condition, manifold float64) gas.Cylinder {
	cyl := gas.Cylinder{
		Mixture: gas.Mixture{ManifoldPa: manifold, ChargeK: k.Charge.X + kelvin, Polytropic: gas.PolytropicTypical},
		Chamber: gas.Chamber{CompressionRatio: c.Engine.Compression.X, RodRatio: c.Engine.RodRatio.X},
		Plug:    gas.Plug{GapM: c.Plugs.Gap.X, Shape: gas.ShapeTypical, Wear: math.Max(c.Plugs.Wear.X-1, 0)},
		Rotor:   gas.Rotor{GapM: c.Cap.RotorGap.X, AirPa: atmospherePa, AirK: k.BayTemp.X + kelvin},

		IgnitionDeg: k.Advance.X,
	}
	if k.Engine == car.Running {
		cyl.Plug.Hot = gas.HotTypical
	}
	if c.Coil.Reversed {
		cyl.Plug.Reversed = gas.ReversedTypical
	}
	return cyl
}

// BreakVolts is what every spark needs to jump the breaks of the high-voltage
// side, V: each is a gap in open air like the rotor's. What its arc burns while the
// spark lasts is not counted.
func BreakVolts(c *car.Car, k *car.Condition) float64 {
	sum := 0.0
	for _, m := range c.Cap.Breaks {
		if m > 0 {
			v, _ := gas.Rotor{GapM: m, AirPa: atmospherePa, AirK: k.BayTemp.X + kelvin}.Volts()
			sum += v
		}
	}
	return sum
}

// snapShare is what of the atmosphere is in the manifold just after the
// throttle is snapped open [from memory].
const snapShare = 0.97

// Demand is what the plug asks at the coil in a condition, the rotor's gap and
// any break in the leads with it, and when the
// throttle is snapped wide open at the same speed. factor stands for what
// the formula misses of an engine, 1 in the middle (gas.DemandSpread).
func Demand(c *car.Car, k *car.Condition, factor float64) (now, snap gas.Required) {
	breaks := BreakVolts(c, k)
	scale := func(r gas.Required) gas.Required {
		r.TotalV += breaks
		r.RotorV += breaks
		r.TotalV *= factor
		r.PlugV *= factor
		r.RotorV *= factor
		return r
	}
	now = scale(gas.Demand(Chamber(c, k, k.Manifold.X)))
	return now, scale(gas.Demand(Chamber(c, k, math.Max(k.Manifold.X, snapShare*atmospherePa))))
}

// Spark is what a car's ignition does in a condition.
type Spark struct {
	Primary    Primary
	Case       firing.Case // asks for what the plug asks in the condition
	Firing     firing.Firing
	Asked      gas.Required
	Snapped    gas.Required // throttle wide open at the same speed
	InHand     float64      // available over asked
	SnapInHand float64
	SwitchW    float64 // W in the switch: closed, and clamping
	JunctionC  float64 // °C of a module's junction for good; NaN for points
}

// Spark works out a firing for the car as it was last solved. It is kept
// until the next Solve.
func (m *Model) Spark() (*Spark, error) {
	if m.sparkOf == m.solved && m.sparkOf > 0 {
		return &m.fired, nil
	}
	if !m.Switched() {
		return nil, ErrNoFiring
	}
	sp := &m.fired
	*sp = Spark{}
	p, err := m.Primary()
	if err != nil {
		return nil, err
	}
	c := m.car
	factor := m.demand
	if factor == 0 {
		factor = 1
	}
	sp.Primary = p
	sp.Asked, sp.Snapped = Demand(c, m.cond, factor)
	sp.Case = Case(c, p, m.cond.Speed.X, sp.Asked.TotalV)
	if m.fire == nil {
		m.fire = new(firing.Solver)
	}
	if sp.Firing, err = m.fire.Solve(&sp.Case); err != nil {
		return nil, err
	}
	sp.InHand = sp.Firing.AvailableV / sp.Asked.TotalV
	sp.SnapInHand = sp.Firing.AvailableV / sp.Snapped.TotalV
	sp.SwitchW, sp.JunctionC = SwitchHeat(c, m.cond, &sp.Case, &sp.Firing)
	m.sparkOf = m.solved
	return sp, nil
}

// reading is what an instrument of a firing shows.
func (s *Spark) reading(i Instrument) float64 {
	switch i {
	case SparkInHand:
		return s.InHand
	case SnapInHand:
		return s.SnapInHand
	case AvailableVolts:
		return s.Firing.AvailableV
	case AskedVolts:
		return s.Asked.TotalV
	case SnapVolts:
		return s.Snapped.TotalV
	case BurnTime:
		return s.Firing.BurnS
	case GapEnergy:
		return s.Firing.GapJ
	case PrimaryPeak:
		return s.Firing.PrimaryV
	case ContactEnergy:
		return s.Firing.ContactJ
	}
	return s.JunctionC
}

// SwitchHeat is the power in the switch in a settled rhythm and, for a
// module, the temperature its junction comes to with it: closed, by the
// exponential between the currents of make and break,
//
//	∫ i (Drop + On i) dt,  i = I∞ - (I∞ - I0) exp(-t R/L)
//
// and its clamp's share of each firing.
func SwitchHeat(c *car.Car, k *car.Condition, cs *firing.Case, f *firing.Firing) (watts, junctionC float64) {
	r := cs.Source.Ohms + cs.Break.On
	tau, t := cs.Coil.L1/r, math.Min(cs.Rhythm.Dwell, cs.Rhythm.Period)
	if !f.Opens {
		watts = f.StillA * (cs.Break.Drop + cs.Break.On*f.StillA)
		if cs.Rhythm.Dwell == 0 {
			watts = 0
		}
	} else {
		e := 1 - math.Exp(-t/tau)
		d := f.StillA - math.Max(f.StartA, 0)
		one := f.StillA*t - d*tau*e
		two := f.StillA*f.StillA*t - 2*f.StillA*d*tau*e + d*d*tau/2*(1-math.Exp(-2*t/tau))
		watts = (cs.Break.Drop*one + cs.Break.On*two + f.ClampJ) / cs.Rhythm.Period
	}
	if !c.Switch.Kind.Electronic() {
		return watts, math.NaN()
	}
	electronics := c.Switch.Supply.X * float64(c.NominalV)
	bay := k.BayTemp.X
	return watts, Module(c).Ladder(watts+electronics, bay, blockC(k))[heat.Junction]
}

// blockC is how warm the engine block is where the distributor sits, °C: the
// coolant's 80 to 95 once it has run [from memory], else the air round it.
func blockC(k *car.Condition) float64 {
	if k.Engine == car.Running || k.BayTemp.X > 50 {
		return math.Max(k.BayTemp.X, 88)
	}
	return k.BayTemp.X
}

// Module is the way of a trigger module's heat, from the car's figures.
func Module(c *car.Car) heat.Module {
	h := heat.TypicalModule()
	sw := &c.Switch
	h.JunctionBaseKPerW, h.BasePlateKPerW = math.Max(sw.JunctionBase.X, 1e-3), math.Max(sw.BasePlate.X, 1e-3)
	h.PlateBodyKPerW, h.BodyBayKPerW = math.Max(sw.PlateBody.X, 1e-3), math.Max(sw.BodyAir.X, 1e-3)
	return h
}

// Asks sets what this engine's plugs ask over what the formula says, 1 in
// the middle: a draw's Sampler.Demand.
func (m *Model) Asks(factor float64) { m.demand, m.sparkOf = factor, 0 }
