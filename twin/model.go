package twin

import (
	"fmt"

	"dwellwright/car"
	"dwellwright/circuit"
	"dwellwright/firing"
	"dwellwright/wire"
)

// Figures the car file does not carry, because nothing on the sheet turns on
// them. All are stated here so that they can be argued with.
const (
	bodyVolts    = 0.8  // V of a MOSFET's body diode [textbook value, from memory]
	leakSiemens  = 1e-8 // S of an open contact, clean and dry (100 megohm)
	sparkSiemens = 1e-8 // S of a gap that is not burning, seen from the primary
	deadLeak     = 1e-9 // S to earth at every point when the supply is off, so that a lone wire has a voltage
	bypassOhms   = 5e-3 // ohm of the contact that closes the start bypass, at the starter or its switch [less than 0.03 ohm for the whole path, from memory]
	meterAmps    = 1e-3 // A an ohmmeter sends [milliamps, common practice]
	leastOhms    = 1e-5 // ohm, what a joint said to have none is taken at
	leastSlope   = 1e-4 // ohm, the least slope of a saturated switch or regulator
)

// Model is one car in one condition as a network, ready to be solved.
// It reads its figures from the Car it was built from: change those, call
// Refresh, then Solve. Earth is the battery's earthed post; on a positive
// earth car every live voltage is negative. It is for one goroutine.
type Model struct {
	car  *car.Car
	cond *car.Condition
	dead bool // supply disconnected, for ohmmeter readings

	net   *circuit.Network
	solve *circuit.Solver
	point map[string]circuit.NodeID
	sign  float64 // +1 negative earth, -1 positive earth

	emf, inner                        circuit.ElemID
	leg                               [car.LegCount]circuit.ElemID
	winding, primary, spark, ballast  circuit.ElemID
	iron, contact, key, bypass, relay circuit.ElemID
	source, starter, supply, meter    circuit.ElemID
	winder, fuse, short               circuit.ElemID // relay winding, fuse, the switched lead's short
	loads                             []loadElem

	cycle  circuit.Cycle
	steady *circuit.Steady
	probes []circuit.Probe
	watch  []circuit.ElemID
	vals   []value

	// The firing of the last Solve, worked out when it is asked for.
	solved, sparkOf int
	fired           Spark
	fire            *firing.Solver
	demand          float64 // what a draw's engine asks over what the formula says; 0 is 1
}

type loadElem struct {
	elem circuit.ElemID
	load int
}

// none marks an element this car does not have.
const none = circuit.ElemID(-1)

// value is what a probe came to in the last Solve.
type value struct{ mean, min, max float64 }

// Build makes the network of a car in one of its conditions.
func Build(c *car.Car, conditionID string) (*Model, error) {
	cond := findCondition(c, conditionID)
	if cond == nil {
		return nil, &UnknownError{What: "condition", ID: conditionID, Have: conditionIDs(c)}
	}
	return build(c, cond, nil)
}

func findCondition(c *car.Car, id string) *car.Condition {
	for i := range c.Conditions {
		if c.Conditions[i].ID == id {
			return &c.Conditions[i]
		}
	}
	return nil
}

func conditionIDs(c *car.Car) []string {
	var ids []string
	for i := range c.Conditions {
		ids = append(ids, c.Conditions[i].ID)
	}
	return ids
}

// UnknownError is a name that is not of this car.
type UnknownError struct {
	What, ID string
	Have     []string
}

func (e *UnknownError) Error() string {
	return fmt.Sprintf("no %s %q; accepted: %s", e.What, e.ID, joinOr(e.Have))
}

func joinOr(s []string) string {
	out := ""
	for i, x := range s {
		switch {
		case i == 0:
		case i == len(s)-1:
			out += " or "
		default:
			out += ", "
		}
		out += x
	}
	return out
}

// build makes the network; with two test points for an ohmmeter, that of the
// car with its supply disconnected and the meter between them.
func build(c *car.Car, cond *car.Condition, ohmmeter []string) (*Model, error) {
	m := &Model{car: c, cond: cond, dead: ohmmeter != nil, net: circuit.NewNetwork(), sign: 1, point: map[string]circuit.NodeID{}}
	if c.Earth == car.PositiveEarth {
		m.sign = -1
	}
	for i := range m.leg {
		m.leg[i] = none
	}
	for _, e := range []*circuit.ElemID{&m.emf, &m.inner, &m.winding, &m.primary, &m.spark, &m.ballast, &m.iron, &m.contact,
		&m.key, &m.bypass, &m.relay, &m.source, &m.starter, &m.supply, &m.meter, &m.winder, &m.fuse, &m.short} {
		*e = none
	}
	m.wire()
	if m.dead {
		if err := m.wireMeter(ohmmeter[0], ohmmeter[1]); err != nil {
			return nil, err
		}
	}
	s, err := m.net.Compile()
	if err != nil {
		return nil, fmt.Errorf("the wiring of %q: %w", c.Name, err)
	}
	m.solve = s
	if err := m.Refresh(); err != nil {
		return nil, err
	}
	return m, nil
}

// dir orders the terminals of something that conducts one way so that it
// conducts from the live side to the earthed side on either earth.
func (m *Model) dir(a, b circuit.NodeID) (circuit.NodeID, circuit.NodeID) {
	if m.sign < 0 {
		return b, a
	}
	return a, b
}

func (m *Model) node(id string) circuit.NodeID {
	if id == "battery_earth" {
		m.point[id] = circuit.Ground
		return circuit.Ground
	}
	n := m.net.Node(id)
	m.point[id] = n
	return n
}

func (m *Model) resistor(name string, a, b circuit.NodeID) circuit.ElemID {
	return m.net.Resistor(name, a, b, circuit.Resistance{Ohms: 1})
}

func (m *Model) addLeg(id car.LegID, a, b circuit.NodeID) {
	m.leg[id] = m.resistor(car.LegNames[id], a, b)
}

// wire lays out the network: what is joined to what. The figures follow in
// Refresh.
func (m *Model) wire() {
	c, n := m.car, m.net
	live, stud, junction := m.node("battery_live"), m.node("starter_stud"), m.node("feed_junction")
	in, out := m.node("switch_in"), m.node("switch_out")
	supplySide := m.node("ballast_supply")
	feed, switched := m.node("coil_feed"), m.node("coil_switched")
	terminal, plate, housing := m.node("breaker_terminal"), m.node("breaker_plate"), m.node("housing")
	block, body, earth := m.node("block"), m.node("body"), m.node("battery_earth")

	cranking := m.cond.Engine == car.Cranking
	if !m.dead {
		emf := n.Node("battery_emf")
		m.emf = n.VoltageSource("battery", emf, earth, 1)
		// Discharging through the lower resistance, charging against the
		// higher: a diode whose leak is the higher one.
		a, b := m.dir(emf, live)
		m.inner = n.Diode("battery_inner", a, b, 0, 1, 1)
	}
	m.addLeg(car.BatteryCable, live, stud)
	m.addLeg(car.MainFeed, stud, junction)
	m.addLeg(car.SwitchFeed, junction, in)
	m.addLeg(car.PivotWire, plate, housing)
	m.addLeg(car.HousingClamp, housing, block)
	m.addLeg(car.EarthCable, block, earth)
	m.addLeg(car.EngineStrap, body, block)

	if c.Charging.Kind != car.NoCharging {
		gen := m.node("generator_output")
		m.addLeg(car.ChargeLead, gen, junction)
		if !m.dead {
			a, b := m.dir(gen, block)
			m.source = n.LimitedSource(m.sourceName(), a, b, 14, 0.01, 0, leakSiemens)
		}
	}
	for i := range c.Loads {
		if m.loadOn(c.Loads[i].ID) {
			e := m.resistor("load "+c.Loads[i].ID, junction, body)
			m.loads = append(m.loads, loadElem{e, i})
		}
	}
	if cranking && !m.dead {
		m.starter = m.resistor("starter", stud, block)
	}

	// Key switch and the way to the ballast.
	if !m.dead && (!cranking || c.KeySwitch.LiveInStart) {
		m.key = m.resistor("key_switch", in, out)
	}
	if c.Feed == car.FeedRelay && c.Relay.Fitted {
		m.addLeg(car.IgnitionLead, out, m.node("relay_winding"))
		m.winder = m.resistor("relay_winding_coil", m.point["relay_winding"], body)
		fused, relayOut := n.Node("relay_fused"), m.node("relay_out")
		m.addLeg(car.RelayFeed, stud, fused)
		contact := n.Node("relay_contact_in")
		m.fuse = m.resistor("fuse", fused, contact)
		cc, cd := m.dir(m.point["relay_winding"], body)
		m.relay = n.VoltageSwitch("relay_contact", contact, relayOut, cc, cd, 1, leakSiemens, 1, 0)
		m.resistorFixed("relay_lead", relayOut, supplySide, 5e-3)
	} else {
		m.addLeg(car.IgnitionLead, out, supplySide)
	}
	coilSide := supplySide
	if c.Ballast.Fitted {
		coilSide = m.node("ballast_coil_side")
		m.ballast = n.Resistor("ballast", supplySide, coilSide, circuit.Resistance{Ohms: 1, TempCo: 0.004, TempC: 20, HeatKPerW: 1})
	} else {
		m.point["ballast_coil_side"] = supplySide
	}
	m.addLeg(car.CoilLead, coilSide, feed)
	if cranking && c.KeySwitch.Bypass && !m.dead {
		by := n.Node("bypass_contact")
		m.addLeg(car.BypassLead, stud, by)
		m.bypass = m.resistor("start_bypass", by, feed)
	}

	// Coil: winding, then the iron's inductance with its loss and the spark.
	core := n.Node("coil_core")
	m.winding = n.Resistor("coil_winding", feed, core, circuit.Resistance{Ohms: 1, TempCo: wire.CopperPerK, TempC: 20, HeatKPerW: 1})
	m.primary = n.Inductor("coil_primary", core, switched, 8e-3)
	m.iron = m.resistor("coil_iron", core, switched)
	a, b := m.dir(switched, core)
	m.spark = n.Diode("spark_seen_from_primary", a, b, 12, 1, sparkSiemens)
	m.addLeg(car.TriggerLead, switched, terminal)
	if c.Switch.Shorts[car.ShortInLead] > 0 {
		m.short = m.resistor("switched_lead_short", switched, block)
	}

	closed := m.cond.Engine == car.StoppedClosed
	a, b = m.dir(terminal, plate)
	switch c.Switch.Kind {
	case car.Darlington, car.IGBT:
		m.contact = n.Darlington("switch", a, b, 1, 1, 1, leakSiemens, closed)
	case car.MOSFET:
		m.contact = n.MOSFET("switch", a, b, 1, 1, bodyVolts, leakSiemens, closed)
	default:
		m.contact = n.Contact("switch", a, b, 1, leakSiemens, closed)
	}
	if from, ok := m.feedPoint(); ok {
		sup := m.node("trigger_supply")
		m.addLeg(car.FeedWire, from, sup)
		m.supply = m.resistor("trigger_electronics", sup, plate)
	}
}

// missingOf names the point that is missing.
func missingOf(haveRed bool, red, black string) string {
	if haveRed {
		return black
	}
	return red
}

// wireMeter puts an ohmmeter between two points of the dead car.
func (m *Model) wireMeter(red, black string) error {
	a, okA := m.point[red]
	b, okB := m.point[black]
	if !okA || !okB {
		return &MissingError{Spec{Instrument: Ohmmeter, Red: red, Black: black}, missingOf(okA, red, black)}
	}
	for id := circuit.NodeID(1); int(id) < m.net.Nodes(); id++ {
		m.net.Resistor("", id, circuit.Ground, circuit.Resistance{Ohms: 1 / deadLeak})
	}
	if a != b {
		m.meter = m.net.CurrentSource("ohmmeter", b, a, meterAmps)
	}
	return nil
}

func (m *Model) resistorFixed(name string, a, b circuit.NodeID, ohms float64) circuit.ElemID {
	return m.net.Resistor(name, a, b, circuit.Resistance{Ohms: ohms})
}

func (m *Model) sourceName() string {
	if m.car.Charging.Kind == car.ACAlternator {
		return "alternator"
	}
	return "generator"
}

// feedPoint returns where the trigger's supply wire is joined.
func (m *Model) feedPoint() (circuit.NodeID, bool) {
	if !m.car.Switch.Kind.Electronic() {
		return 0, false
	}
	switch m.car.Feed {
	case car.FeedCoil:
		return m.point["coil_feed"], true
	case car.FeedBallastSupply:
		return m.point["ballast_supply"], true
	case car.FeedKeySwitch:
		return m.point["switch_out"], true
	case car.FeedRelay:
		if id, ok := m.point["relay_out"]; ok {
			return id, true
		}
	}
	return 0, false
}

func (m *Model) loadOn(id string) bool {
	if m.dead {
		return false
	}
	for _, l := range m.cond.Loads {
		if l == id {
			return true
		}
	}
	return false
}

// Point returns the node of a test point and whether this car has it.
func (m *Model) Point(id string) (circuit.NodeID, bool) {
	n, ok := m.point[id]
	return n, ok
}

// Condition returns the condition the model is in.
func (m *Model) Condition() *car.Condition { return m.cond }

// Switched reports whether the points or trigger are switching, so that a
// reading has a lowest and a highest instant.
func (m *Model) Switched() bool {
	return !m.dead && (m.cond.Engine == car.Running || m.cond.Engine == car.Cranking)
}

// Solver gives the network's solver, for writing it out. Changing its
// figures changes the model.
func (m *Model) Solver() *circuit.Solver { return m.solve }

// Cycle returns the schedule of the switch when it is switching.
func (m *Model) Cycle() circuit.Cycle { return m.cycle }

// Hold solves the car at rest with the points or trigger held closed or
// open, whatever the condition's engine does: what a slow hand on the
// distributor would show.
func (m *Model) Hold(closed bool) error {
	m.solve.SetClosed(m.contact, closed)
	return m.solve.DC()
}
