package pulse

import (
	"fmt"

	"dwellwright/circuit"
)

// stiffness is the resistance across each charged capacitor as a part of the
// source resistance: how far a short circuit would bend the waveform.
const stiffness = 1e-5

// Generator is a pulse laid out in a network:
//
//	foot --[fall: C ∥ R]-- --[rise: C ∥ R]-- --[ohm]-- --[switch]-- out
//
// The fall's capacitor is charged to +ScaleV, the rise's to -ScaleV; each
// goes down with its own time constant C R, and their sum is the double
// exponential. The switch is open until the pulse is to come, so that the
// network can be brought to rest first. A clamp, where the pulse has one, is
// from out to earth.
type Generator struct {
	Fall, Rise circuit.ElemID // the capacitors
	Switch     circuit.ElemID
	scale      float64
}

// Generator adds the pulse to a network, from foot, which stands at what the
// pulse rides on, to out. sign is +1, or -1 to turn it over for a car whose
// live side is negative. earth is where the clamp of 5b returns. Names of the
// elements and nodes begin with name.
func (p Pulse) Generator(n *circuit.Network, name string, foot, out, earth circuit.NodeID, sign float64) (Generator, error) {
	w, err := p.Wave()
	if err != nil {
		return Generator{}, err
	}
	r := stiffness * p.Ohm
	mid, top, end := n.Node(name+"_mid"), n.Node(name+"_top"), n.Node(name+"_end")
	g := Generator{scale: sign * w.ScaleV}
	g.Fall = n.Capacitor(name+"_fall", mid, foot, w.FallTauS/r)
	n.Resistor(name+"_fall_r", mid, foot, circuit.Resistance{Ohms: r})
	g.Rise = n.Capacitor(name+"_rise", top, mid, w.RiseTauS/r)
	n.Resistor(name+"_rise_r", top, mid, circuit.Resistance{Ohms: r})
	n.Resistor(name+"_source", top, end, circuit.Resistance{Ohms: p.Ohm})
	g.Switch = n.Switch(name+"_switch", end, out, stiffness*p.Ohm, 0, false)
	if p.ClampV > 0 {
		a, b := out, earth
		if sign < 0 {
			a, b = earth, out
		}
		n.Clamp(name+"_clamp", a, b, p.ClampV, 1e5, p.ClampOhm, 0)
	}
	return g, nil
}

// Fire closes the switch and charges the capacitors: it writes their voltages
// into a state of the network, in the order of Solver.States, from which a
// Transient is then to start.
func (g Generator) Fire(s *circuit.Solver, state []float64) error {
	found := 0
	for i, e := range s.States() {
		if i >= len(state) {
			break
		}
		switch e {
		case g.Fall:
			state[i] = g.scale
			found++
		case g.Rise:
			state[i] = -g.scale
			found++
		}
	}
	if found != 2 {
		return fmt.Errorf("pulse: the state of %d figures is not that of the network the generator is in; %d are accepted", len(state), len(s.States()))
	}
	s.SetClosed(g.Switch, true)
	return nil
}
