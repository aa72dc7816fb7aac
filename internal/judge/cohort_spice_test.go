package judge

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/measure"
	"dwellwright/twin"
)

// spice reads the network of a sick car with ngspice. One process does all the
// readings of a condition; what it found is kept.
type spice struct {
	bin, dir string
	car      *car.Car // the drawn figures, nothing wrong yet
	change   func(c *car.Car, k *car.Condition)
	list     []measure.Measure
	found    map[string]map[string]float64 // by condition, by measure
	gaveUp   int                           // conditions in which it found nothing
	took     time.Duration
}

// made are the readings that are taken in a condition made out of one of the
// car's, as package measure describes them in words: nothing on, two minutes
// after a cold start, a pump on the can.
var made = map[string]struct {
	from string
	spec twin.Spec
	turn func(k *car.Condition)
}{
	"battery_idle": {"hot_idle", twin.Spec{Instrument: twin.Voltmeter, Red: "battery_live", Black: "battery_earth"}, func(k *car.Condition) { k.Loads = nil }},
	"charging_cold": {"hot_idle", twin.Spec{Instrument: twin.Voltmeter, Red: "battery_live", Black: "battery_earth"}, func(k *car.Condition) {
		k.Loads, k.Speed.X = nil, 1500
		k.BatteryTemp.X, k.RegulatorTemp.X, k.BayTemp.X = 20, 20, 30
	}},
	"plate_drop_pulled": {"key_on_closed", twin.Spec{Instrument: twin.Voltmeter, Red: "breaker_plate", Black: "housing"}, func(k *car.Condition) { k.Manifold.X -= 55e3 }},
}

// place is where and with what a measure is read on the network; the condition
// is "" for what has none.
func onNetwork(m *measure.Measure) (condition string, spec twin.Spec) {
	if x, ok := made[m.ID]; ok {
		return m.ID, x.spec
	}
	if m.Spec == nil || m.Condition == "" {
		return "", twin.Spec{}
	}
	switch m.Spec.Instrument {
	case twin.Voltmeter, twin.VoltmeterMin, twin.VoltmeterMax, twin.ScopeMin, twin.ScopeMax, twin.ClampAmmeter, twin.ClampPeak:
		return m.Condition, *m.Spec
	}
	return "", twin.Spec{}
}

func (s *spice) read(m *measure.Measure) (float64, bool) {
	at, _ := onNetwork(m)
	if at == "" {
		return 0, false
	}
	if s.found[at] == nil {
		t := time.Now()
		got, err := s.condition(at)
		if err != nil || len(got) == 0 {
			got = map[string]float64{}
			s.gaveUp++
		}
		s.found[at] = got
		s.took += time.Since(t)
	}
	x, ok := s.found[at][m.ID]
	return x, ok
}

// condition has ngspice work out all readings of one condition.
func (s *spice) condition(at string) (map[string]float64, error) {
	c := s.car.Clone()
	from := at
	x, isMade := made[at]
	if isMade {
		from = x.from
	}
	var k *car.Condition
	for i := range c.Conditions {
		if c.Conditions[i].ID == from {
			k = &c.Conditions[i]
		}
	}
	if isMade {
		x.turn(k)
		// What comes and goes may be there or not as in the condition's own
		// place in the list; it has the name that package measure gives it.
		k.ID = "measure:" + at
	}
	s.change(c, k)
	m, err := twin.Build(c, k.ID)
	if err != nil {
		return nil, err
	}
	var probes []circuit.Probe
	type want struct {
		id    string
		spec  twin.Spec
		probe int
	}
	var wants []want
	for i := range s.list {
		on, spec := onNetwork(&s.list[i])
		if on != at {
			continue
		}
		p, ok := probeOf(c, m, spec)
		if !ok {
			continue
		}
		wants = append(wants, want{s.list[i].ID, spec, len(probes)})
		probes = append(probes, p)
	}
	if err := m.Watch(probes); err != nil {
		return nil, err
	}
	// Our own solution sets the places of relays and how warm ballast and
	// winding are; what they then carry is for ngspice to find.
	if err := m.Solve(); err != nil {
		return nil, err
	}
	opt := circuit.NetlistOptions{Meters: true, Bare: true, Guess: true}
	n := m.Solver().Network()
	var deck bytes.Buffer
	deck.WriteString("* sick car\n.options reltol=1e-5 abstol=1e-8 vntol=1e-7 method=gear\n")
	expr := func(p circuit.Probe) string {
		if p.Current {
			return "i(vm_" + n.SpiceElement(p.Elem)[1:] + ")"
		}
		name := func(id circuit.NodeID) string {
			if id == circuit.Ground {
				return "0"
			}
			return "v(" + n.SpiceNode(id) + ")"
		}
		return name(p.A) + "-" + name(p.B)
	}
	if !m.Switched() {
		if err := m.Solver().WriteNetlist(&deck, opt); err != nil {
			return nil, err
		}
		deck.WriteString(".control\nset numdgt=9\nop\n")
		for i, p := range probes {
			fmt.Fprintf(&deck, "let p%d = %s\nprint p%d\n", i, expr(p), i)
		}
	} else {
		cyc := m.Cycle()
		opt.Cycle, opt.Guess = &cyc, false
		if err := m.Solver().WriteNetlist(&deck, opt); err != nil {
			return nil, err
		}
		const cycles, steps = 8, 250
		step := cyc.Period / steps
		fmt.Fprintf(&deck, ".control\nset numdgt=9\ntran %.9g %.9g %.9g %.9g\n", step, cycles*cyc.Period, (cycles-1)*cyc.Period, step)
		for i, p := range probes {
			fmt.Fprintf(&deck, "let p%d = %s\nmeas tran p%d_min min p%d\nmeas tran p%d_avg avg p%d\nmeas tran p%d_max max p%d\n", i, expr(p), i, i, i, i, i, i)
		}
	}
	deck.WriteString("quit 0\n.endc\n.end\n")
	out := s.run(deck.String())
	got := Results(out)
	sign := 1.0
	if c.Earth == car.PositiveEarth {
		sign = -1
	}
	found := map[string]float64{}
	for _, w := range wants {
		g := sign
		if w.spec.Black == "" && w.spec.Red == "generator" {
			g = -1 // its terminals already turn with the earth
		}
		name := func(which string) string { return fmt.Sprintf("p%d%s", w.probe, which) }
		if !m.Switched() {
			if x, ok := got[name("")]; ok {
				found[w.id] = x * g
			}
			continue
		}
		mean, ok := got[name("_avg")]
		lo, hi := got[name("_min")]*g, got[name("_max")]*g
		if !ok {
			continue
		}
		if lo > hi {
			lo, hi = hi, lo
		}
		switch w.spec.Instrument {
		case twin.VoltmeterMin, twin.ScopeMin:
			found[w.id] = lo
		case twin.VoltmeterMax, twin.ScopeMax, twin.ClampPeak:
			found[w.id] = hi
		default:
			found[w.id] = mean * g
		}
	}
	return found, nil
}

func (s *spice) run(deck string) string {
	file := filepath.Join(s.dir, fmt.Sprintf("sick%p.cir", s))
	if err := os.WriteFile(file, []byte(deck), 0o600); err != nil {
		return ""
	}
	defer os.Remove(file)
	cmd := exec.Command("timeout", "10", s.bin, "-b", file)
	var out bytes.Buffer
	cmd.Stdout = &out
	_ = cmd.Run()
	return out.String()
}

// probeOf is the probe of a spec on a network.
func probeOf(c *car.Car, m *twin.Model, s twin.Spec) (circuit.Probe, bool) {
	if s.Black == "" {
		part := s.Red
		switch {
		case part == "coil":
			part = "coil_winding"
		case part == "battery":
			part = "battery"
		case part == "generator" && c.Charging.Kind == car.ACAlternator:
			part = "alternator"
		}
		e, ok := m.Solver().Network().Element(part)
		if !ok {
			return circuit.Probe{}, false
		}
		return circuit.CurrentProbe(e), true
	}
	a, ok := m.Point(s.Red)
	b, also := m.Point(s.Black)
	return circuit.VoltageProbe(a, b), ok && also
}

func newSpice(dir, bin string, p *patient, drawn *car.Car) *spice {
	return &spice{bin: bin, dir: dir, car: drawn, change: p.change, list: p.list, found: map[string]map[string]float64{}}
}
