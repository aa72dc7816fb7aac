package circuit

import (
	"fmt"
	"math"
)

// NodeID names a node of a Network; Ground is the reference, at 0 V.
type NodeID int

// Ground is the reference node of every network.
const Ground NodeID = 0

// ElemID names an element of a Network, in the order of adding.
type ElemID int

// Kind is what an element is.
type Kind uint8

// The kinds of element. All two-terminal elements carry their current from
// terminal A through the element to terminal B, and their voltage is
// V(A) - V(B).
const (
	KindResistor      Kind = iota // see Network.Resistor
	KindInductor                  // see Network.Inductor
	KindCapacitor                 // see Network.Capacitor
	KindVoltageSource             // see Network.VoltageSource
	KindCurrentSource             // see Network.CurrentSource
	KindSwitch                    // two resistances, opened and closed by the caller or a Cycle
	KindVoltageSwitch             // a switch that closes and opens on a controlling voltage, with hysteresis
	KindDiode                     // conducts one way above a knee; see Network.Diode
	KindClamp                     // conducts both ways beyond two voltages; see Network.Clamp
	KindDarlington                // saturating switch; see Network.Darlington
	KindMOSFET                    // ohmic switch with a body diode; see Network.MOSFET
	KindContact                   // mechanical contact; see Network.Contact
	KindLimitedSource             // one-way source with a current limit; see Network.LimitedSource
	kindCount
)

var kindNames = [kindCount]string{
	"resistor", "inductor", "capacitor", "voltage source", "current source",
	"switch", "voltage-controlled switch", "diode", "clamp", "Darlington",
	"MOSFET", "contact", "limited source",
}

// String returns the kind in words.
func (k Kind) String() string {
	if k < kindCount {
		return kindNames[k]
	}
	return fmt.Sprintf("kind %d", uint8(k))
}

// Param names one figure of an element. Which of them an element has is said
// at the Network method that adds it.
type Param uint8

// The figures an element can have, with their units.
const (
	Ohms       Param = iota // resistance of a resistor at 20 °C; source resistance of a limited source
	TempCo                  // 1/K at 20 °C
	TempC                   // °C of the resistor, or of what surrounds a self-heating one
	HeatKPerW               // K/W from a self-heating resistor to its surroundings; 0: not self-heating
	Henries                 // inductance
	Farads                  // capacitance
	Volts                   // source voltage; set point of a limited source
	Amps                    // source current; limit of a limited source
	OnOhms                  // resistance (slope) when conducting
	OffSiemens              // conductance when not conducting
	Knee                    // V at which a diode conducts; saturation voltage of a Darlington
	ClampVolts              // V at which a clamp, or the off state of a transistor, conducts forward
	ClampBack               // V (given positive) at which a clamp or a body diode conducts backward
	CloseAbove              // V of control at which a voltage-controlled switch closes
	OpenBelow               // V of control at which it opens again
	Coupling                // coefficient of coupling of a pair of inductors
	paramCount
)

var paramNames = [paramCount]string{
	"resistance", "temperature coefficient", "temperature", "thermal resistance", "inductance",
	"capacitance", "voltage", "current", "on resistance", "off conductance",
	"knee voltage", "clamp voltage", "backward clamp voltage", "closing voltage", "opening voltage", "coupling",
}

// String returns the figure in words.
func (p Param) String() string {
	if p < paramCount {
		return paramNames[p]
	}
	return fmt.Sprintf("param %d", uint8(p))
}

// ParamRef is one figure of one element, the thing a sensitivity is taken to.
type ParamRef struct {
	Elem  ElemID
	Param Param
}

// maxParams is the most figures one element has.
const maxParams = 4

// layout lists the figures of each kind in the order they are stored.
var layout = [kindCount][]Param{
	KindResistor:      {Ohms, TempCo, TempC, HeatKPerW},
	KindInductor:      {Henries},
	KindCapacitor:     {Farads},
	KindVoltageSource: {Volts},
	KindCurrentSource: {Amps},
	KindSwitch:        {OnOhms, OffSiemens},
	KindVoltageSwitch: {OnOhms, OffSiemens, CloseAbove, OpenBelow},
	KindDiode:         {Knee, OnOhms, OffSiemens},
	KindClamp:         {ClampVolts, ClampBack, OnOhms, OffSiemens},
	KindDarlington:    {Knee, OnOhms, ClampVolts, OffSiemens},
	KindMOSFET:        {OnOhms, ClampVolts, ClampBack, OffSiemens},
	KindContact:       {OnOhms, OffSiemens},
	KindLimitedSource: {Volts, Ohms, Amps, OffSiemens},
}

// element is one element with its figures and, where it switches, its state.
type element struct {
	name   string
	kind   Kind
	a, b   NodeID
	c, d   NodeID // controlling voltage of a voltage-controlled switch
	p      [maxParams]float64
	closed bool
	hot    float64 // °C a self-heating resistor has while the network moves in time
}

// slot returns where a figure is stored, -1 when the kind has none such.
func slot(k Kind, p Param) int {
	for i, q := range layout[k] {
		if q == p {
			return i
		}
	}
	return -1
}

// coupling is the magnetic coupling of two inductors.
type coupling struct {
	name   string
	l1, l2 ElemID
	k      float64
}

// Network is a list of nodes and elements under construction. Build it with
// the methods, then Compile it. A Network is not safe for concurrent change.
type Network struct {
	nodes     []string
	index     map[string]NodeID
	elems     []element
	names     map[string]ElemID
	couplings []coupling
	errs      []error
}

// NewNetwork returns a network with nothing but the ground node.
func NewNetwork() *Network {
	return &Network{
		nodes: []string{"0"},
		index: map[string]NodeID{"0": Ground, "ground": Ground},
		names: map[string]ElemID{},
	}
}

// Node returns the node of that name, made if it is new. "0" and "ground"
// are the reference.
func (n *Network) Node(name string) NodeID {
	if id, ok := n.index[name]; ok {
		return id
	}
	id := NodeID(len(n.nodes))
	n.nodes = append(n.nodes, name)
	n.index[name] = id
	return id
}

// Lookup returns the node of that name and whether there is one.
func (n *Network) Lookup(name string) (NodeID, bool) {
	id, ok := n.index[name]
	return id, ok
}

// NodeName returns the name a node was made with.
func (n *Network) NodeName(id NodeID) string { return n.nodes[id] }

// Nodes returns how many nodes there are, ground included.
func (n *Network) Nodes() int { return len(n.nodes) }

// Elements returns how many elements there are.
func (n *Network) Elements() int { return len(n.elems) }

// Element returns the element of that name and whether there is one.
func (n *Network) Element(name string) (ElemID, bool) {
	id, ok := n.names[name]
	return id, ok
}

// ElementName returns the name an element was added with.
func (n *Network) ElementName(e ElemID) string { return n.elems[e].name }

// ElementKind returns what an element is.
func (n *Network) ElementKind(e ElemID) Kind { return n.elems[e].kind }

// Terminals returns the nodes an element was added between.
func (n *Network) Terminals(e ElemID) (a, b NodeID) { return n.elems[e].a, n.elems[e].b }

// Params lists the figures an element has.
func (n *Network) Params(e ElemID) []Param { return layout[n.elems[e].kind] }

// add appends an element and notes what is wrong with it for Compile.
func (n *Network) add(e element) ElemID {
	id := ElemID(len(n.elems))
	bad := func(format string, args ...any) {
		n.errs = append(n.errs, &ElementError{Element: e.name, What: fmt.Sprintf(format, args...)})
	}
	if e.name == "" {
		e.name = fmt.Sprintf("%s %d", e.kind, id)
	}
	if _, dup := n.names[e.name]; dup {
		bad("a second element of that name")
	}
	n.names[e.name] = id
	for _, nd := range []NodeID{e.a, e.b, e.c, e.d} {
		if nd < 0 || int(nd) >= len(n.nodes) {
			bad("node %d is not of this network", nd)
			e.a, e.b, e.c, e.d = Ground, Ground, Ground, Ground
		}
	}
	if e.a == e.b {
		bad("both terminals are on node %q", n.nodes[e.a])
	}
	for i, p := range layout[e.kind] {
		if err := checkParam(e.kind, p, e.p[i]); err != "" {
			bad("%s %s", p, err)
		}
	}
	if msg := e.checkResistance(); msg != "" {
		bad("%s", msg)
	}
	if msg := e.checkThresholds(); msg != "" {
		bad("%s", msg)
	}
	e.hot = e.p[2]
	n.elems = append(n.elems, e)
	return id
}

// checkResistance says what is wrong with the figures of a resistor together,
// "" when nothing is or it is none.
func (e *element) checkResistance() string {
	if e.kind != KindResistor {
		return ""
	}
	if e.p[3] > 0 && e.p[1] < 0 {
		return "a self-heating resistance that falls with heat can run away; a temperature coefficient of 0 or more is accepted"
	}
	if f := 1 + e.p[1]*(e.p[2]-20); e.p[0] > 0 && !(f > 0) {
		return fmt.Sprintf("at %g °C a temperature coefficient of %g/K leaves no resistance; the two are to leave some", e.p[2], e.p[1])
	}
	return ""
}

// checkThresholds says what is wrong with the thresholds of a
// voltage-controlled switch, "" when nothing is or it is none.
func (e *element) checkThresholds() string {
	if e.kind == KindVoltageSwitch && e.p[2] < e.p[3] {
		return fmt.Sprintf("closes at %g V but opens below %g V; the closing voltage must not be the lower", e.p[2], e.p[3])
	}
	return ""
}

// checkParam says what is wrong with a figure, "" when nothing is.
func checkParam(k Kind, p Param, v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Sprintf("is %v; a finite number is accepted", v)
	}
	switch p {
	case Ohms, OnOhms, Henries, Farads:
		if v <= 0 {
			return fmt.Sprintf("is %g; a number above 0 is accepted", v)
		}
	case HeatKPerW, OffSiemens, ClampVolts, ClampBack:
		if v < 0 {
			return fmt.Sprintf("is %g; 0 or more is accepted", v)
		}
	case Knee:
		if v < 0 {
			return fmt.Sprintf("is %g; 0 or more is accepted", v)
		}
	case Amps:
		if k == KindLimitedSource && v < 0 {
			return fmt.Sprintf("limit is %g; 0 or more is accepted", v)
		}
	case TempC:
		if v < -273.15 {
			return fmt.Sprintf("is %g °C; above absolute zero is accepted", v)
		}
	}
	return ""
}

// Resistance describes a resistor: R = Ohms (1 + TempCo (T - 20 °C)). With
// HeatKPerW above 0 it heats itself: T = TempC + HeatKPerW · v · i, so that
//
//	v (1 - κ i²) = i R',  R' = Ohms (1 + TempCo (TempC - 20)),  κ = Ohms · TempCo · HeatKPerW
//
// which DC solves exactly and a Cycle solves for the average power.
type Resistance struct {
	Ohms      float64 // at 20 °C, above 0
	TempCo    float64 // 1/K; 0 for a constant resistance
	TempC     float64 // °C; of the surroundings when HeatKPerW is above 0
	HeatKPerW float64 // K/W, 0 for none
}

// Resistor adds a resistor; it has Ohms, TempCo, TempC and HeatKPerW.
func (n *Network) Resistor(name string, a, b NodeID, r Resistance) ElemID {
	return n.add(element{name: name, kind: KindResistor, a: a, b: b, p: [maxParams]float64{r.Ohms, r.TempCo, r.TempC, r.HeatKPerW}})
}

// Inductor adds an inductor; it has Henries. At DC it is a short.
func (n *Network) Inductor(name string, a, b NodeID, henries float64) ElemID {
	return n.add(element{name: name, kind: KindInductor, a: a, b: b, p: [maxParams]float64{henries}})
}

// Couple couples two inductors with coefficient k, -1 < k < 1; terminal A of
// each is its dotted end. M = k sqrt(L1 L2).
func (n *Network) Couple(name string, l1, l2 ElemID, k float64) {
	for _, l := range []ElemID{l1, l2} {
		if l < 0 || int(l) >= len(n.elems) || n.elems[l].kind != KindInductor {
			n.errs = append(n.errs, &ElementError{Element: name, What: "couples something that is not an inductor of this network"})
			return
		}
	}
	if l1 == l2 || !(math.Abs(k) < 1) {
		n.errs = append(n.errs, &ElementError{Element: name, What: fmt.Sprintf("coupling %g of %q with %q; two different inductors and -1 < k < 1 are accepted", k, n.elems[l1].name, n.elems[l2].name)})
		return
	}
	n.couplings = append(n.couplings, coupling{name, l1, l2, k})
}

// Capacitor adds a capacitor; it has Farads. At DC it is open.
func (n *Network) Capacitor(name string, a, b NodeID, farads float64) ElemID {
	return n.add(element{name: name, kind: KindCapacitor, a: a, b: b, p: [maxParams]float64{farads}})
}

// VoltageSource adds an ideal source with V(a) - V(b) = volts; it has Volts.
func (n *Network) VoltageSource(name string, a, b NodeID, volts float64) ElemID {
	return n.add(element{name: name, kind: KindVoltageSource, a: a, b: b, p: [maxParams]float64{volts}})
}

// CurrentSource adds an ideal source that drives amps from a through itself
// to b; it has Amps.
func (n *Network) CurrentSource(name string, a, b NodeID, amps float64) ElemID {
	return n.add(element{name: name, kind: KindCurrentSource, a: a, b: b, p: [maxParams]float64{amps}})
}

// Switch adds a switch: onOhms closed, offSiemens open (0: truly open). It
// has OnOhms and OffSiemens, and is moved by SetClosed or by a Cycle.
func (n *Network) Switch(name string, a, b NodeID, onOhms, offSiemens float64, closed bool) ElemID {
	return n.add(element{name: name, kind: KindSwitch, a: a, b: b, p: [maxParams]float64{onOhms, offSiemens}, closed: closed})
}

// VoltageSwitch adds a switch that closes when V(c) - V(d) rises above
// closeAbove and opens when it falls below openBelow: a relay or a cut-out.
// It has OnOhms, OffSiemens, CloseAbove and OpenBelow.
func (n *Network) VoltageSwitch(name string, a, b, c, d NodeID, onOhms, offSiemens, closeAbove, openBelow float64) ElemID {
	return n.add(element{name: name, kind: KindVoltageSwitch, a: a, b: b, c: c, d: d, p: [maxParams]float64{onOhms, offSiemens, closeAbove, openBelow}})
}

// Diode adds a diode conducting from a to b: i = G v below the knee, then a
// slope of 1/onOhms more. It has Knee, OnOhms and OffSiemens.
func (n *Network) Diode(name string, a, b NodeID, knee, onOhms, offSiemens float64) ElemID {
	return n.add(element{name: name, kind: KindDiode, a: a, b: b, p: [maxParams]float64{knee, onOhms, offSiemens}})
}

// Clamp adds a two-way clamp: i = G v between -back and +volts, a slope of
// 1/onOhms more beyond. It has ClampVolts, ClampBack, OnOhms and OffSiemens.
func (n *Network) Clamp(name string, a, b NodeID, volts, back, onOhms, offSiemens float64) ElemID {
	return n.add(element{name: name, kind: KindClamp, a: a, b: b, p: [maxParams]float64{volts, back, onOhms, offSiemens}})
}

// Darlington adds a saturating switch (Darlington or IGBT) from collector a
// to emitter b. Closed: conducts above its saturation knee with slope
// 1/onOhms. Open: G v, and a clamp at clampVolts with the same slope (0: no
// clamp). It has Knee, OnOhms, ClampVolts and OffSiemens.
func (n *Network) Darlington(name string, a, b NodeID, knee, onOhms, clampVolts, offSiemens float64, closed bool) ElemID {
	return n.add(element{name: name, kind: KindDarlington, a: a, b: b, p: [maxParams]float64{knee, onOhms, clampVolts, offSiemens}, closed: closed})
}

// MOSFET adds a field-effect switch from drain a to source b. Closed:
// v/onOhms both ways. Open: G v, a clamp at clampVolts (0: none) and a body
// diode conducting below -bodyVolts. It has OnOhms, ClampVolts, ClampBack and
// OffSiemens.
func (n *Network) MOSFET(name string, a, b NodeID, onOhms, clampVolts, bodyVolts, offSiemens float64, closed bool) ElemID {
	return n.add(element{name: name, kind: KindMOSFET, a: a, b: b, p: [maxParams]float64{onOhms, clampVolts, bodyVolts, offSiemens}, closed: closed})
}

// Contact adds a mechanical contact: onOhms closed, offSiemens open. It has
// OnOhms and OffSiemens.
func (n *Network) Contact(name string, a, b NodeID, onOhms, offSiemens float64, closed bool) ElemID {
	return n.add(element{name: name, kind: KindContact, a: a, b: b, p: [maxParams]float64{onOhms, offSiemens}, closed: closed})
}

// LimitedSource adds a one-way source with a current limit, such as a
// regulated generator behind its cut-out: it delivers from terminal a
//
//	i_out = min(limit, max(0, (volts - v)/ohms))
//
// and takes only G v backward. It has Volts, Ohms, Amps and OffSiemens. The
// element current, counted from a through the element to b, is -i_out.
func (n *Network) LimitedSource(name string, a, b NodeID, volts, ohms, limit, offSiemens float64) ElemID {
	return n.add(element{name: name, kind: KindLimitedSource, a: a, b: b, p: [maxParams]float64{volts, ohms, limit, offSiemens}})
}
