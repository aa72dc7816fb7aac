package firing

import (
	"math"

	"dwellwright/circuit"
)

// Network is a case as a network of lumped elements, for another solver.
// Contacts part at once in it, and the gap does not linger.
type Network struct {
	Net      *circuit.Network
	Cycle    circuit.Cycle
	Switch   circuit.ElemID
	Primary  circuit.ElemID // the source's series resistance, by which the primary current is read
	Gap      circuit.ElemID // burns from the coil tower to earth
	Switched circuit.NodeID // the coil's switched terminal
	Tower    circuit.NodeID // the coil's tower
}

// never is a resistance that stands for none, ohm.
const never = 1e15

// Network lays the case out.
//
//	supply -R- core -(L1 | iron)- switched -(switch | condenser | clamp)- earth
//	earth -(L2, coupled)- winding -R2- tower -(leads | shunt)- earth
//	tower -(breaks at Required)- burning -(Burn, Series)- earth
func (c *Case) Network() (*Network, error) {
	if err := c.Validate(); err != nil {
		return nil, err
	}
	if math.IsInf(c.Rhythm.Period, 1) || !(c.Rhythm.Dwell > 0 && c.Rhythm.Dwell < c.Rhythm.Period) {
		return nil, &RangeError{"Rhythm.Dwell", c.Rhythm.Dwell, "more than none and less than the period: nothing opens otherwise"}
	}
	var p plant
	p.ready(c)
	n := circuit.NewNetwork()
	out := &Network{Net: n}
	feed, core := n.Node("feed"), n.Node("core")
	out.Switched, out.Tower = n.Node("switched"), n.Node("tower")
	r := func(name string, a, b circuit.NodeID, ohms float64) circuit.ElemID {
		return n.Resistor(name, a, b, circuit.Resistance{Ohms: ohms})
	}
	n.VoltageSource("supply", feed, circuit.Ground, c.Source.Volts)
	out.Primary = r("primary_circuit", feed, core, c.Source.Ohms)
	l1 := n.Inductor("primary", core, out.Switched, c.Coil.L1)
	if p.iron > 0 {
		r("iron", core, out.Switched, c.Coil.Iron)
	}
	winding := n.Node("winding")
	l2 := n.Inductor("secondary", circuit.Ground, winding, c.Coil.L2)
	n.Couple("coil", l1, l2, p.Coil.Coupling)
	r("secondary_winding", winding, out.Tower, max(c.Coil.R2, 1e-3))
	n.Capacitor("leads", out.Tower, circuit.Ground, c.Gap.Farads)
	if p.shunt > 0 {
		r("shunt", out.Tower, circuit.Ground, c.Gap.Shunt)
	}
	if c.Break.Series > 0 {
		can := n.Node("condenser")
		n.Capacitor("condenser", out.Switched, can, p.c1)
		r("condenser_series", can, circuit.Ground, c.Break.Series)
	} else {
		n.Capacitor("condenser", out.Switched, circuit.Ground, p.c1)
	}
	const leak = 1e-9
	if c.Break.Drop > 0 {
		out.Switch = n.Darlington("switch", out.Switched, circuit.Ground, c.Break.Drop, max(c.Break.On, 1e-4), 0, leak, true)
	} else {
		out.Switch = n.Contact("switch", out.Switched, circuit.Ground, max(c.Break.On, 1e-4), leak, true)
	}
	if z := c.Break.Clamp; z > 0 {
		n.Diode("clamp", out.Switched, circuit.Ground, z, max(c.Break.ClampOhms, 1e-2), 0)
	}
	if z := c.Break.Back; z > 0 {
		n.Diode("back", circuit.Ground, out.Switched, z, max(c.Break.On, 1e-2), 0)
	}
	if !p.gapOff {
		// Out below the least current, which is a voltage at the tower.
		out.Gap = gap(n, "gap", out.Tower, circuit.Ground, &p)
		gap(n, "gap_reversed", circuit.Ground, out.Tower, &p)
	} else {
		out.Gap = -1
	}
	out.Cycle = circuit.Cycle{Period: c.Rhythm.Period, Actions: []circuit.Action{
		{At: 0, Elem: out.Switch, Close: true}, {At: c.Rhythm.Dwell, Elem: out.Switch, Close: false}}}
	return out, nil
}

// gap is the plug's gap for one polarity; the element returned carries what
// burns.
func gap(n *circuit.Network, name string, a, b circuit.NodeID, p *plant) circuit.ElemID {
	mid := n.Node(name + "_burning")
	off := 1 / never
	if b == circuit.Ground {
		n.VoltageSwitch(name, a, mid, a, b, 1, off, p.Gap.Required, p.Gap.Burn+p.Gap.Series*p.Gap.Extinct)
		return n.Diode(name+"_burn", mid, b, p.Gap.Burn, p.Gap.Series, off)
	}
	e := n.Diode(name+"_burn", a, mid, p.Gap.Burn, p.Gap.Series, off)
	n.VoltageSwitch(name, mid, b, a, b, 1, off, p.Gap.Required, p.Gap.Burn+p.Gap.Series*p.Gap.Extinct)
	return e
}
