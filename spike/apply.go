package spike

import (
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/pulse"
	"dwellwright/twin"
)

// Options say how the car stands and what its trigger is held to. The zero
// value is the usual.
type Options struct {
	// SwitchClosed has points closed or the trigger conducting; otherwise the
	// coil is off, which leaves slow pulses least to feed.
	SwitchClosed bool
	// Limit is what the module withstands, by its sheet; nil for TypicalLimit.
	Limit *Limit
	// Samples is how many samples each stretch of a trace has, 0 for 36. Each
	// stretch reaches four times as far as the one before.
	Samples int
	// Draws is how many cars, each with its uncertain figures drawn from their
	// spreads, give the plus-or-minus of peak and lowest; 0 for none. Two dozen
	// give it to a fifth. Draw k of a Seed is always the same car.
	Draws int
	Seed  uint64
}

// bench is a car in a condition on which cases are tried.
type bench struct {
	car     *car.Car
	model   *twin.Model
	options Options
	limit   Limit
	samples int
}

func newBench(c *car.Car, condition string, o Options) (*bench, error) {
	m, err := twin.Build(c, condition)
	if err != nil {
		return nil, err
	}
	b := &bench{car: c, model: m, options: o, limit: TypicalLimit(c.Switch.Kind), samples: o.Samples}
	if o.Limit != nil {
		b.limit = *o.Limit
	}
	if b.samples == 0 {
		b.samples = 36
	}
	return b, nil
}

// healthy returns the car with a full battery of the usual size and
// resistance.
func healthy(c *car.Car, condition string) *car.Car {
	h := c.Clone()
	h.Battery = car.Defaults(c.NominalV, c.Earth, c.Cylinders).Battery
	for i := range h.Conditions {
		if h.Conditions[i].ID == condition {
			h.Conditions[i].StateOfCharge.X = 1
		}
	}
	return h
}

// Apply tries each case on the car in one of its conditions, without
// protection and with each of those given, every figure of the car at its
// middle; Options.Draws adds a plus-or-minus. The car is not changed. Figures out of range, an unknown condition
// and a network that can't be solved are errors; a case that does not fit the
// car is a Result with its Reason.
func Apply(c *car.Car, condition string, cases []Case, o Options, protections ...Protection) ([]Result, error) {
	results, err := apply(c, condition, cases, o, protections)
	if err != nil || o.Draws == 0 {
		return results, err
	}
	return results, spread(c, condition, cases, o, protections, results)
}

// apply tries the cases on one car.
func apply(c *car.Car, condition string, cases []Case, o Options, protections []Protection) ([]Result, error) {
	if o.Samples < 0 || o.Samples > 10000 {
		return nil, fmt.Errorf("spike: %d samples; 0 to 10000 are accepted", o.Samples)
	}
	if o.Draws < 0 || o.Draws > 100000 {
		return nil, fmt.Errorf("spike: %d draws; 0 to 100000 are accepted", o.Draws)
	}
	if l := o.Limit; l != nil && !(l.PeakV > l.LowestV) {
		return nil, fmt.Errorf("spike: limit from %g to %g V; the peak is to be above the lowest", l.LowestV, l.PeakV)
	}
	b, err := newBench(c, condition, o)
	if err != nil {
		return nil, err
	}
	well := b
	for _, p := range protections {
		if err := p.Validate(); err != nil {
			return nil, err
		}
		if p.HealthyBattery && well == b {
			if well, err = newBench(healthy(c, condition), condition, o); err != nil {
				return nil, err
			}
		}
	}
	results := make([]Result, 0, len(cases))
	for i := range cases {
		k := &cases[i]
		if err := k.Validate(); err != nil {
			return nil, err
		}
		r, err := b.result(k)
		if err != nil {
			return nil, fmt.Errorf("spike: case %q: %w", k.ID, err)
		}
		for _, p := range protections {
			if r.Refused != "" {
				break
			}
			on := b
			if p.HealthyBattery {
				on = well
			}
			seen, err := on.try(k, r, p)
			if err != nil {
				return nil, fmt.Errorf("spike: case %q with %q: %w", k.ID, p.ID, err)
			}
			w := With{Protection: p, Seen: seen}
			if e := r.Without.ExcursionV(); e > 0 {
				w.ShareTaken = 1 - seen.ExcursionV()/e
			}
			r.With = append(r.With, w)
		}
		results = append(results, *r)
	}
	return results, nil
}

// result answers a case without protection.
func (b *bench) result(k *Case) (*Result, error) {
	r := &Result{Case: *k, NominalV: b.car.NominalV, Points: !b.car.Switch.Kind.Electronic(), Limit: b.limit, TwelveVoltLevels: b.car.NominalV == 6}
	switch k.Kind {
	case TestPulse:
		r.SourceOhm, r.SourceV, r.DurationS = k.Pulse.Ohm, k.Pulse.PeakV, k.Pulse.DurationS
		if k.Pulse.Rides == pulse.OnDeadLine && k.At == IgnitionLine && !b.lineFed() {
			r.Refused = LineNotFed
		}
	case LoadOff:
		r.TwelveVoltLevels = false
		r.SourceV = -k.Load.ArcV
		if !b.lineFed() {
			r.Refused = LineNotFed
		}
	case BatteryOff:
		if err := b.model.Rest(b.options.SwitchClosed); err != nil {
			return nil, err
		}
		if !charging(b.model, b.car) {
			r.Refused = NotCharging
			break
		}
		p, err := b.dump(k)
		if err != nil {
			return nil, err
		}
		r.SourceOhm, r.SourceV, r.DurationS = p.Ohm, p.PeakV, p.DurationS
	case JumpStart:
		r.SourceOhm, r.SourceV, r.DurationS = k.SourceOhm, k.Level.Volts, k.Level.TimeS
	case ReverseBattery:
		r.SourceOhm, r.SourceV, r.DurationS = b.car.Battery.Internal.X, k.Level.Volts, k.Level.TimeS
	case StartProfile:
		if b.car.NominalV == 6 {
			r.Refused = NoSixVoltLevels
		}
	}
	if r.Refused != "" {
		return r, nil
	}
	var err error
	r.Without, err = b.try(k, r, Protection{})
	return r, err
}

// lineFed reports whether the ignition line is fed through its own contact.
func (b *bench) lineFed() bool {
	return b.model.Condition().Engine != car.Cranking || b.car.KeySwitch.LiveInStart
}

// dump is the load dump of the car's own generator at this engine speed.
func (b *bench) dump(k *Case) (pulse.Pulse, error) {
	nominal := 14.0 * float64(b.car.NominalV) / 12
	return pulse.Dump(nominal, b.car.Charging.Rating.X, b.model.Condition().Speed.X*k.PulleyRatio)
}

// try answers a case with a protection.
func (b *bench) try(k *Case, r *Result, p Protection) (Seen, error) {
	switch k.Kind {
	case TestPulse:
		return b.pulse(k, k.Pulse, k.At, p)
	case BatteryOff:
		d, err := b.dump(k)
		if err != nil {
			return Seen{}, err
		}
		return b.pulse(k, &d, GeneratorOutput, p)
	case LoadOff:
		return b.loadOff(k, p)
	}
	return b.levels(k, r, p)
}

// fastRise is a rise below which the wires' inductance is felt, s.
const fastRise = 10e-6

// pulseRig lays out a test pulse on the car, at rest and ready to go.
func (b *bench) pulseRig(k *Case, pl *pulse.Pulse, at Place, p Protection) (*rig, error) {
	cut := pl.Rides == pulse.OnDeadLine && at == IgnitionLine
	rig, err := b.lay(k, p, pl.RiseS < fastRise, cut)
	if err != nil {
		return nil, err
	}
	off := k.BatteryOff && !p.HealthyBattery
	if err := rig.source(pl, at, off); err != nil {
		return nil, err
	}
	// What the line stood at with the battery in: the model at rest.
	ridesOn := b.restV(rig.surge.Net.NodeName(rig.at))
	if err := rig.compile(); err != nil {
		return nil, err
	}
	if err := rig.rest(ridesOn); err != nil {
		return nil, err
	}
	return rig, rig.ready(pl, cut)
}

// restV is the voltage a node of the car has at rest with nothing done to it.
func (b *bench) restV(name string) float64 {
	s := b.model.Solver()
	n, _ := s.Network().Lookup(name)
	return s.V(n)
}

// pulse answers a test pulse.
func (b *bench) pulse(k *Case, pl *pulse.Pulse, at Place, p Protection) (Seen, error) {
	p = unhurried(p, pl.RiseS)
	h := 0.0
	if pl.RiseS < fastRise {
		h = 1e-6
	}
	period := swing(p, h)
	last := math.Max(2.5*pl.DurationS, math.Min(3*period, 100*pl.DurationS))
	if err := checkSwings(last, period); err != nil {
		return Seen{}, err
	}
	rig, err := b.pulseRig(k, pl, at, p)
	if err != nil {
		return Seen{}, err
	}
	first := pl.RiseS
	if period > 0 { // the lead by itself may be quicker than the rise
		first = math.Min(first, math.Max(swing(p, 0), first/1000))
	}
	return rig.follow(stretches(first, last), b.samples, period, b.limit)
}

// loadRig lays out an inductive load on the ignition line, at rest with its
// current flowing, the line just cut off.
func (b *bench) loadRig(k *Case, p Protection) (*rig, error) {
	rig, err := b.lay(k, p, false, true)
	if err != nil {
		return nil, err
	}
	g, n, l := rig.surge, rig.surge.Net, k.Load
	lineV := math.Max(math.Abs(b.restV(n.NodeName(g.Ignition))), 1e-3)
	winding := n.Node("load_winding")
	n.Resistor("load_resistance", g.Ignition, winding, circuit.Resistance{Ohms: lineV / l.Amps})
	n.Inductor("load_inductance", winding, node(g, "body"), l.Henries)
	if l.WindingFarads > 0 {
		end := n.Node("load_end") // the winding's resistance at speed, some of an ohm
		n.Resistor("load_end_resistance", g.Ignition, end, circuit.Resistance{Ohms: 1})
		n.Capacitor("load_capacitance", end, node(g, "body"), l.WindingFarads)
	}
	// The arc over the contact that opens: from its fed side to the line.
	in, out := n.Terminals(g.Line)
	n.Clamp("arc", in, out, l.ArcV, l.ArcV, 0.1, 0)
	if err := rig.compile(); err != nil {
		return nil, err
	}
	if err := rig.rest(0); err != nil {
		return nil, err
	}
	return rig, rig.ready(nil, true)
}

// loadOff answers an inductive load that is cut off with the line.
func (b *bench) loadOff(k *Case, p Protection) (Seen, error) {
	fall := k.Load.Henries * k.Load.Amps / k.Load.ArcV // its current against the arc
	period := swing(p, k.Load.Henries)
	last := math.Max(50*fall, math.Min(3*period, 5000*fall))
	for _, t := range []float64{period, swing(p, 0), 2 * math.Pi * math.Sqrt(k.Load.Henries*k.Load.WindingFarads)} {
		if err := checkSwings(last, t); err != nil {
			return Seen{}, err
		}
	}
	rig, err := b.loadRig(k, p)
	if err != nil {
		return Seen{}, err
	}
	return rig.follow(stretches(math.Min(0.02*fall, 20e-9), last), b.samples, period, b.limit)
}
