package measure

import (
	"fmt"
	"math"
	"slices"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/twin"
)

// wiring is all of a car that decides what is joined to what in a state. A
// change that alters it needs another network.
type wiring struct {
	earth    car.Earth
	charging car.ChargingKind
	engine   car.EngineState
	live     bool
	bypass   bool
	feed     car.FeedPoint
	relay    bool
	ballast  bool
	kind     car.SwitchKind
	loads    int
	shorted  bool
}

func wiringOf(c *car.Car, k *car.Condition) wiring {
	return wiring{c.Earth, c.Charging.Kind, k.Engine, c.KeySwitch.LiveInStart, c.KeySwitch.Bypass, c.Feed, c.Relay.Fitted, c.Ballast.Fitted, c.Switch.Kind, len(c.Loads), c.Switch.Shorts[car.ShortInLead] > 0}
}

// mostRigs is how many wirings of one state are kept.
const mostRigs = 6

// rig is the network of one state in one wiring.
type rig struct {
	wiring wiring
	on     []string // loads
	model  *twin.Model
	sign   float64
	probes []circuit.Probe
	own    [ownProbes]int // where the facts' probes are; -1 none
	specs  map[*entry]int
	swings []circuit.Swing // what the probes came to
	atRest float64         // °C of the winding, at rest
}

// The probes that facts are made of.
const (
	ofBattery = iota
	ofLamps
	ofStarter
	ofFeed // the trigger's
	ofCoil // current
	ofSwitchFeed
	ofIgnitionLead
	ofCoilLead
	ofKey      // V at the key switch's run terminal
	ofSwitched // V at the coil's switched terminal
	ownProbes
)

// rig finds or builds the network of a state for the car as it now is.
func (b *Bench) rig(s state) (*rig, error) {
	c := b.work.to
	k := &c.Conditions[b.work.made[s]]
	w := wiringOf(c, k)
	for _, r := range b.rigs[s] {
		if r.wiring == w && slices.Equal(r.on, k.Loads) {
			return r, nil
		}
	}
	m, err := twin.Build(c, s.id())
	if err != nil {
		return nil, err
	}
	r := &rig{wiring: w, on: slices.Clone(k.Loads), model: m, sign: 1, specs: map[*entry]int{}}
	if c.Earth == car.PositiveEarth {
		r.sign = -1
	}
	for i := range r.own {
		r.own[i] = -1
	}
	r.own[ofBattery] = r.volts("battery_live", "battery_earth")
	r.own[ofLamps] = r.volts("feed_junction", "body")
	r.own[ofStarter] = r.volts("starter_stud", "block")
	r.own[ofFeed] = r.volts("trigger_supply", "breaker_plate")
	r.own[ofKey] = r.volts("switch_out", "block")
	r.own[ofSwitched] = r.volts("coil_switched", "block")
	r.own[ofCoil] = r.amps("coil_winding")
	r.own[ofSwitchFeed] = r.amps("switch_feed")
	r.own[ofIgnitionLead] = r.amps("ignition_lead")
	r.own[ofCoilLead] = r.amps("coil_lead")
	for _, e := range b.entry {
		if e.at == s && e.over == nil && e.spec != nil {
			r.specs[e] = r.find(e.spec)
		}
	}
	if err := m.Watch(r.probes); err != nil {
		return nil, err
	}
	if len(b.rigs[s]) >= mostRigs {
		b.rigs[s] = slices.Delete(b.rigs[s], 1, 2) // the first is the car as it is
	}
	b.rigs[s] = append(b.rigs[s], r)
	return r, nil
}

// find is the probe of a spec, -1 where it needs none or has none.
func (r *rig) find(s *twin.Spec) int {
	switch s.Instrument {
	case twin.Voltmeter, twin.VoltmeterMin, twin.VoltmeterMax, twin.ScopeMin, twin.ScopeMax:
		return r.volts(s.Red, s.Black)
	case twin.ClampAmmeter, twin.ClampPeak:
		return r.amps(clampOn(s.Red, r.wiring.charging))
	}
	return -1
}

// clampOn is the element of the network whose current a clamp sees.
func clampOn(part string, charging car.ChargingKind) string {
	switch part {
	case "coil":
		return "coil_winding"
	case "generator":
		if charging == car.ACAlternator {
			return "alternator"
		}
	}
	return part
}

// clampSign makes a current positive where it flows from the live side, and
// into the battery, whichever post is earthed.
func (r *rig) clampSign(part string) float64 {
	if part == "generator" {
		return -1 // its terminals already turn with the earth
	}
	return r.sign
}

func (r *rig) volts(red, black string) int {
	a, ok := r.model.Point(red)
	b, also := r.model.Point(black)
	if !ok || !also {
		return -1
	}
	return r.add(circuit.VoltageProbe(a, b))
}

func (r *rig) amps(element string) int {
	e, ok := r.model.Solver().Network().Element(element)
	if !ok {
		return -1
	}
	return r.add(circuit.CurrentProbe(e))
}

func (r *rig) add(p circuit.Probe) int {
	for i, q := range r.probes {
		if p == q {
			return i
		}
	}
	r.probes = append(r.probes, p)
	return len(r.probes) - 1
}

// solve takes the car's figures as they now are.
func (r *rig) solve(demand float64) error {
	r.model.Asks(demand)
	if err := r.model.Refresh(); err != nil {
		return fmt.Errorf("figures: %w", err)
	}
	if err := r.model.Solve(); err != nil {
		return err
	}
	r.swings = r.swings[:0]
	for i := range r.probes {
		r.swings = append(r.swings, r.model.Swing(i))
	}
	r.atRest = math.NaN()
	if !r.model.Switched() {
		if e, ok := r.model.Solver().Network().Element("coil_winding"); ok {
			r.atRest = r.model.Solver().Heat(e)
		}
	}
	return nil
}

// swing is what a probe came to with the live side positive, lowest and
// highest in that sense.
func (r *rig) swing(probe int, sign float64) (mean, lo, hi float64) {
	s := r.swings[probe]
	mean, lo, hi = s.Mean*sign, s.Min*sign, s.Max*sign
	if lo > hi {
		lo, hi = hi, lo
	}
	return mean, lo, hi
}
