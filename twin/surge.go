package twin

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/circuit"
)

// SurgeSetup says how the car is laid out for a spike on its supply.
type SurgeSetup struct {
	// Henries is inductance in series with a leg of the wiring, 0 for none.
	// Two in a row with nothing that conducts from between them are refused
	// by the network: one current can't be two states.
	Henries [car.LegCount]float64
	// BatteryOff leaves the battery out, as if its live clamp were off.
	BatteryOff bool
	// Settled is for what lasts so long that the battery's polarisation
	// follows: it takes charge against the higher resistance of the Model.
	// Otherwise it keeps the polarisation it has, and gives and takes through
	// its own resistance alone, as it does for a second or so [equivalent
	// circuit of textbooks: the double layer's capacitance, hundreds of farads,
	// beside the resistance of the reaction; from memory].
	Settled bool
	// ChargingOff leaves out what the generator or alternator gives.
	ChargingOff bool
	// SwitchClosed lays the car out with points closed or the trigger
	// conducting; otherwise the coil is off.
	SwitchClosed bool
}

// Surge is the car as a network to which a spike, and what is to stop it, are
// added before it is compiled. It differs from the Model's:
//
//   - The points or trigger do not switch.
//   - What heats itself has the temperature it has at rest in this setup, for
//     a spike is over before anything warms.
//   - A relay stands as it stands at rest: it takes milliseconds to move.
//     Opening Line, which is its contact where it feeds the trigger, is the
//     caller's.
//   - The contact that feeds the ignition line can be opened.
//   - Legs can have inductance.
type Surge struct {
	Net *circuit.Network
	// Sign is +1 on a negative earth car, -1 on a positive earth one, where
	// live voltages are negative.
	Sign float64
	// Line is the contact that feeds the ignition line: the key switch's, or
	// the relay's. It is a Switch; -1 when the car in this condition feeds the
	// line by the start bypass only.
	Line circuit.ElemID
	// Ignition is the node behind it.
	Ignition circuit.NodeID
	// Trigger is the resistor that stands for the trigger's electronics, from
	// its supply terminal to the breaker plate; -1 with points.
	Trigger circuit.ElemID

	points map[string]circuit.NodeID
}

// Point returns the node of a test point and whether this car has it.
func (g *Surge) Point(id string) (circuit.NodeID, bool) {
	n, ok := g.points[id]
	return n, ok
}

// Along returns two nodes in the order in which something that conducts one
// way, from the live side to the earthed one, is to be put between them.
func (g *Surge) Along(live, earthed circuit.NodeID) (a, b circuit.NodeID) {
	if g.Sign < 0 {
		return earthed, live
	}
	return live, earthed
}

// Surge lays the car out anew. The model itself is solved at rest in doing
// so, but not changed.
func (m *Model) Surge(o SurgeSetup) (*Surge, error) {
	if m.dead {
		return nil, fmt.Errorf("twin: a car with its supply disconnected has no spikes")
	}
	if err := m.Rest(o.SwitchClosed); err != nil {
		return nil, err
	}
	old := m.net
	g := &Surge{Net: circuit.NewNetwork(), Sign: m.sign, Line: none, Trigger: none, points: map[string]circuit.NodeID{}}
	node := func(id circuit.NodeID) circuit.NodeID {
		if id == circuit.Ground {
			return id
		}
		return g.Net.Node(old.NodeName(id))
	}
	coil := map[circuit.ElemID]float64{}
	for id, h := range o.Henries {
		if h > 0 && m.leg[id] != none {
			coil[m.leg[id]] = h
		}
	}
	for e := circuit.ElemID(0); int(e) < old.Elements(); e++ {
		if o.BatteryOff && (e == m.emf || e == m.inner) || o.ChargingOff && e == m.source {
			continue
		}
		name := old.ElementName(e)
		a, b := old.Terminals(e)
		a, b = node(a), node(b)
		if h := coil[e]; h > 0 {
			mid := g.Net.Node(name + "_run")
			g.Net.Inductor(name+"_inductance", mid, b, h)
			b = mid
		}
		switch {
		case e == m.emf && !o.Settled:
			emf, _ := m.quickBattery()
			g.Net.VoltageSource(name, a, b, emf)
			continue
		case e == m.inner && !o.Settled:
			_, ohms := m.quickBattery()
			g.Net.Resistor(name, a, b, circuit.Resistance{Ohms: ohms})
			continue
		}
		if made := g.copy(m, e, name, a, b); e == m.supply {
			g.Trigger = made
		}
	}
	if o.BatteryOff {
		// What leaks over a battery's place, so that no wire ends nowhere.
		g.Net.Resistor("battery_leak", node(m.point["battery_live"]), circuit.Ground, circuit.Resistance{Ohms: 1 / leakSiemens})
	}
	for id, n := range m.point {
		if n == circuit.Ground {
			g.points[id] = n
		} else if made, ok := g.Net.Lookup(old.NodeName(n)); ok {
			g.points[id] = made
		}
	}
	switch {
	case m.relay != none:
		g.Line, _ = g.Net.Element(old.ElementName(m.relay))
		g.Ignition = g.points["relay_out"]
	case m.key != none:
		g.Line, _ = g.Net.Element(old.ElementName(m.key))
		g.Ignition = g.points["switch_out"]
	default:
		g.Ignition = g.points["switch_out"]
	}
	return g, nil
}

// Rest is Hold with a second way to get there. Newton's method, begun far
// off, can be thrown out of bounds by what heats itself, whose current hardly
// rises with its voltage once it is very hot. From where the car would be if
// nothing warmed it is a step away.
func (m *Model) Rest(closed bool) error {
	first := m.Hold(closed)
	if first == nil {
		return nil
	}
	fresh, err := build(m.car, m.cond, nil) // without the voltages it strayed to
	if err != nil {
		return first
	}
	for _, e := range []circuit.ElemID{fresh.ballast, fresh.winding} {
		if e == none {
			continue
		}
		if err := fresh.solve.Set(e, circuit.HeatKPerW, 1e-6); err != nil {
			return first
		}
	}
	if fresh.Hold(closed) != nil || fresh.Refresh() != nil || fresh.Hold(closed) != nil {
		return first
	}
	m.net, m.solve, m.steady = fresh.net, fresh.solve, nil
	return nil
}

// quickBattery is the battery with the polarisation it has at rest: the
// resistance it gives through, and the voltage behind that which leaves its
// post where it stands.
func (m *Model) quickBattery() (emf, ohms float64) {
	s := m.solve
	ohms = 1 / (1/s.Get(m.inner, circuit.OnOhms) + s.Get(m.inner, circuit.OffSiemens))
	given := m.sign * s.Current(m.inner) // a diode turned with the earth
	return s.V(m.point["battery_live"]) + given*ohms, ohms
}

// copy adds element e of the model, as it stands, between a and b.
func (g *Surge) copy(m *Model, e circuit.ElemID, name string, a, b circuit.NodeID) circuit.ElemID {
	s, n := m.solve, g.Net
	get := func(p circuit.Param) float64 { return s.Get(e, p) }
	switch kind := m.net.ElementKind(e); kind {
	case circuit.KindResistor:
		if e == m.key && m.relay == none {
			return n.Switch(name, a, b, get(circuit.Ohms), leakSiemens, true)
		}
		ohms := get(circuit.Ohms)
		if k := get(circuit.TempCo); k != 0 {
			ohms *= 1 + k*(s.Heat(e)-20)
		}
		return n.Resistor(name, a, b, circuit.Resistance{Ohms: ohms})
	case circuit.KindInductor:
		return n.Inductor(name, a, b, get(circuit.Henries))
	case circuit.KindVoltageSource:
		return n.VoltageSource(name, a, b, get(circuit.Volts))
	case circuit.KindDiode:
		return n.Diode(name, a, b, get(circuit.Knee), get(circuit.OnOhms), get(circuit.OffSiemens))
	case circuit.KindLimitedSource:
		return n.LimitedSource(name, a, b, get(circuit.Volts), get(circuit.Ohms), get(circuit.Amps), get(circuit.OffSiemens))
	case circuit.KindVoltageSwitch:
		return n.Switch(name, a, b, get(circuit.OnOhms), get(circuit.OffSiemens), s.Closed(e))
	case circuit.KindContact:
		return n.Contact(name, a, b, get(circuit.OnOhms), get(circuit.OffSiemens), s.Closed(e))
	case circuit.KindDarlington:
		return n.Darlington(name, a, b, get(circuit.Knee), get(circuit.OnOhms), get(circuit.ClampVolts), get(circuit.OffSiemens), s.Closed(e))
	case circuit.KindMOSFET:
		return n.MOSFET(name, a, b, get(circuit.OnOhms), get(circuit.ClampVolts), get(circuit.ClampBack), get(circuit.OffSiemens), s.Closed(e))
	default:
		panic(fmt.Sprintf("twin: a %s in a car's network", kind)) // wire adds none
	}
}
