package spike

import (
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/pulse"
	"dwellwright/twin"
)

// rig is a car with a case and a protection on it, compiled.
type rig struct {
	surge *twin.Surge
	s     *circuit.Solver

	red, black circuit.NodeID // where the trigger's voltage is read
	trigger    float64        // ohm of its electronics, 0 for none
	clamp, cap circuit.ElemID // -1 none

	foot  circuit.ElemID // what a pulse rides on
	at    circuit.NodeID
	gen   pulse.Generator
	early bool // the pulse's source feeds the car before it comes

	state []float64
	start *circuit.Transient
}

const none = circuit.ElemID(-1)

// node returns the first of the test points that the car has.
func node(g *twin.Surge, ids ...string) circuit.NodeID {
	for _, id := range ids {
		if n, ok := g.Point(id); ok {
			return n
		}
	}
	return circuit.Ground
}

// lay lays out the car with a protection, not yet compiled.
func (b *bench) lay(k *Case, p Protection, fast, cut bool) (*rig, error) {
	o := twin.SurgeSetup{BatteryOff: k.BatteryOff && !p.HealthyBattery, SwitchClosed: b.options.SwitchClosed}
	switch k.Kind {
	case ReverseBattery, StartProfile:
		o.BatteryOff, o.ChargingOff = true, true
	case JumpStart:
		o.Settled = true
	}
	if fast {
		o.Henries = inductances(b.car, b.model.Condition(), cut)
	}
	g, err := b.model.Surge(o)
	if err != nil {
		return nil, err
	}
	r := &rig{surge: g, clamp: none, cap: none, foot: none}
	r.red, r.black = node(g, "trigger_supply", "coil_feed"), node(g, "breaker_plate")
	if !b.car.Switch.Kind.Electronic() {
		r.red = node(g, "coil_feed")
	}
	r.protect(p)
	return r, nil
}

// unhurried leaves out the lead of a capacitor that swings with it a hundred
// times in the rise of a slow pulse: the lead is not felt, and the swing is
// not stirred.
func unhurried(p Protection, rise float64) Protection {
	if rise >= fastRise && swing(p, 0) < rise/100 {
		p.Capacitor.LeadHenries = 0
	}
	return p
}

// checkSwings refuses what swings too often in the time looked at.
func checkSwings(last, period float64) error {
	if n := last / period; period > 0 && n > mostSwings {
		return fmt.Errorf("a capacitor that swings %.3g times in the %.3g s looked at; at most %g are accepted: a larger capacitor or a shorter spike", n, last, float64(mostSwings))
	}
	return nil
}

const mostSwings = 100000

// spot returns the nodes something fitted there is joined to.
func (r *rig) spot(at Spot) (live, earthed circuit.NodeID) {
	g := r.surge
	switch at {
	case AtCoilFeed:
		return node(g, "coil_feed"), node(g, "block")
	case AtIgnitionLine:
		return g.Ignition, node(g, "body")
	}
	if g.Trigger == none {
		return node(g, "coil_feed"), node(g, "block")
	}
	return r.red, r.black
}

// protect adds the capacitor and the clamp.
func (r *rig) protect(p Protection) {
	n := r.surge.Net
	if c := p.Capacitor; c.Farads > 0 {
		live, earthed := r.spot(c.At)
		if c.SeriesOhms > 0 {
			next := n.Node("suppressor_lead")
			n.Resistor("suppressor_resistance", live, next, circuit.Resistance{Ohms: c.SeriesOhms})
			live = next
		}
		if c.LeadHenries > 0 {
			next := n.Node("suppressor_foil")
			n.Inductor("suppressor_inductance", live, next, c.LeadHenries)
			live = next
		}
		r.cap = n.Capacitor("suppressor", live, earthed, c.Farads)
	}
	if c := p.Clamp; c.Volts > 0 {
		back := backV
		if c.BothWays {
			back = c.Volts
		}
		a, b := r.surge.Along(r.spot(c.At))
		r.clamp = n.Clamp("protection_clamp", a, b, c.Volts, back, c.SlopeOhms, 0)
	}
}

// source puts a test pulse on the car.
func (r *rig) source(p *pulse.Pulse, at Place, batteryOff bool) error {
	g, n := r.surge, r.surge.Net
	earth := node(g, "block")
	switch at {
	case IgnitionLine:
		r.at, earth = g.Ignition, node(g, "body")
	case GeneratorOutput:
		r.at = node(g, "generator_output", "battery_live")
	default:
		r.at = node(g, "battery_live")
	}
	foot := n.Node("spike_foot")
	r.foot = n.VoltageSource("spike_line", foot, circuit.Ground, 0)
	var err error
	r.gen, err = p.Generator(n, "spike", foot, r.at, earth, g.Sign)
	r.early = batteryOff && p.Rides == pulse.OnSupply
	return err
}

// compile readies the rig and its transient.
func (r *rig) compile() error {
	var err error
	if r.s, err = r.surge.Net.Compile(); err != nil {
		return err
	}
	if g := r.surge.Trigger; g != none {
		r.trigger = r.s.Get(g, circuit.Ohms)
	}
	return nil
}

// rest brings the rig to rest. ridesOn is what the pulse's source stands at
// when it feeds the car by itself.
func (r *rig) rest(ridesOn float64) error {
	s := r.s
	if r.early {
		s.SetClosed(r.gen.Switch, true)
		if err := s.Set(r.foot, circuit.Volts, ridesOn); err != nil {
			return err
		}
	}
	return s.DC()
}

// probes are what is watched: the trigger's voltage, and the currents of what
// is fitted.
func (r *rig) probes() []circuit.Probe {
	list := []circuit.Probe{circuit.VoltageProbe(r.red, r.black)}
	for _, e := range []circuit.ElemID{r.clamp, r.cap} {
		if e != none {
			list = append(list, circuit.CurrentProbe(e))
		}
	}
	return list
}

// ready makes the transient and the state the spike begins from: that of
// rest, the line cut off if cut, the pulse let go.
func (r *rig) ready(p *pulse.Pulse, cut bool) error {
	s := r.s
	if p != nil && p.Rides == pulse.OnSupply && !r.early {
		if err := s.Set(r.foot, circuit.Volts, s.V(r.at)); err != nil {
			return err
		}
	}
	var err error
	if r.start, err = s.NewTransient(r.probes()); err != nil {
		return err
	}
	if err := r.start.StartFromDC(); err != nil {
		return err
	}
	r.state = append(r.state[:0], r.start.State()...)
	if p != nil {
		if err := r.gen.Fire(s, r.state); err != nil {
			return err
		}
	}
	if cut {
		s.SetClosed(r.surge.Line, false)
	}
	return r.start.Start(0, r.state)
}

// follow runs through the times, each a stretch sampled evenly, more often
// where something swings with that period, and sums up what is seen.
func (r *rig) follow(times []float64, samples int, period float64, limit Limit) (Seen, error) {
	sign := r.surge.Sign
	seen := Seen{RestV: sign * r.s.Voltage(r.red, r.black)}
	seen.Trace = make([]Sample, 0, len(times)*(samples+4)+2)
	last := times[len(times)-1]
	seen.Trace = append(seen.Trace, Sample{-last / 20, seen.RestV}, Sample{0, seen.RestV})
	var lastT, lastP float64
	begun := false
	take := func(t float64, x []float64) {
		v := sign * x[0]
		if n := len(seen.Trace); seen.Trace[n-1].TimeS == t && seen.Trace[n-1].Volts == v && begun {
			return
		}
		seen.Trace = append(seen.Trace, Sample{t, v})
		i := 1
		if r.clamp != none {
			seen.ClampPeakA = math.Max(seen.ClampPeakA, math.Abs(x[i]))
			power := r.clampPower(x[i])
			if begun {
				seen.ClampJ += (power + lastP) / 2 * (t - lastT)
			}
			lastP = power
			i++
		}
		if r.cap != none {
			seen.CapacitorPeakA = math.Max(seen.CapacitorPeakA, math.Abs(x[i]))
		}
		lastT, begun = t, true
	}
	from := 0.0
	for _, until := range times {
		n := float64(samples)
		if period > 0 {
			n = math.Min(math.Max(n, 24*(until-from)/period), 5*n)
		}
		if err := r.start.Run(until, nil, (until-from)/math.Ceil(n), take); err != nil {
			return seen, err
		}
		from = until
	}
	seen.sum(limit, r.trigger)
	return seen, nil
}

// clampPower is what the clamp takes at a current, W: volts of its knee and
// slope.
func (r *rig) clampPower(amps float64) float64 {
	knee := r.s.Get(r.clamp, circuit.ClampVolts)
	if amps < 0 {
		knee = r.s.Get(r.clamp, circuit.ClampBack)
	}
	a := math.Abs(amps)
	return a * (knee + a*r.s.Get(r.clamp, circuit.OnOhms))
}

// stretches cuts the time from 0 to last into stretches, each four times as
// long as all before it, the first no longer than first.
func stretches(first, last float64) []float64 {
	n := 0
	if last > first {
		n = int(math.Ceil(math.Log(last/first) / math.Log(4)))
	}
	times := make([]float64, n+1)
	t := last
	for i := n; i >= 0; i-- {
		times[i] = t
		t /= 4
	}
	return times
}

// swing is the period in which a protection's capacitor rings with its own
// lead and what else is in series, s.
func swing(p Protection, henries float64) float64 {
	return 2 * math.Pi * math.Sqrt(p.Capacitor.Farads*(p.Capacitor.LeadHenries+henries))
}

// charging reports whether the car's generator gives current at rest.
func charging(m *twin.Model, c *car.Car) bool {
	for _, name := range []string{"generator", "alternator"} {
		if e, ok := m.Solver().Network().Element(name); ok {
			return c.Charging.Kind != car.NoCharging && -m.Solver().Current(e) > 0.1
		}
	}
	return false
}
