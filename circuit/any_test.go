package circuit

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawAny draws a network of every kind of element with nothing to make sure
// that it can be.
func drawAny(t *rapid.T) (*Network, Cycle) {
	n := NewNetwork()
	nodes := []NodeID{Ground}
	for i := range rapid.IntRange(1, 6).Draw(t, "nodes") {
		nodes = append(nodes, n.Node(fmt.Sprint("n", i)))
	}
	node := func() NodeID { return nodes[rapid.IntRange(0, len(nodes)-1).Draw(t, "node")] }
	size := func(lo, hi float64) float64 {
		return math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, "size"))
	}
	leak := func() float64 {
		if rapid.Bool().Draw(t, "open") {
			return 0
		}
		return size(1e-9, 1e-5)
	}
	yes := func() bool { return rapid.Bool().Draw(t, "yes") }
	var coils, moved []ElemID
	for range rapid.IntRange(1, 12).Draw(t, "elements") {
		a, b := node(), node()
		if a == b {
			continue
		}
		switch rapid.IntRange(0, 13).Draw(t, "kind") {
		case 0, 1:
			n.Resistor("", a, b, Resistance{Ohms: size(1e-2, 1e4)})
		case 2:
			n.Resistor("", a, b, Resistance{Ohms: size(0.1, 10), TempCo: 0.004, TempC: 20, HeatKPerW: size(0.1, 10)})
		case 3:
			coils = append(coils, n.Inductor("", a, b, size(1e-4, 10)))
		case 4:
			n.Capacitor("", a, b, size(1e-10, 1e-3))
		case 5:
			n.VoltageSource("", a, b, rapid.Float64Range(-15, 15).Draw(t, "volts"))
		case 6:
			n.CurrentSource("", a, b, rapid.Float64Range(-5, 5).Draw(t, "amps"))
		case 7:
			moved = append(moved, n.Switch("", a, b, size(1e-3, 1), leak(), yes()))
		case 8:
			open := rapid.Float64Range(-5, 5).Draw(t, "open below")
			n.VoltageSwitch("", a, b, node(), node(), size(1e-2, 1), leak(), open+size(0.1, 5), open)
		case 9:
			n.Diode("", a, b, size(0.1, 20), size(1e-2, 10), leak())
		case 10:
			n.Clamp("", a, b, size(1, 400), size(1, 400), size(1e-2, 100), leak())
		case 11:
			moved = append(moved, n.Darlington("", a, b, 0.9, size(1e-2, 1), size(1, 400), leak(), yes()))
		case 12:
			moved = append(moved, n.MOSFET("", a, b, size(1e-2, 1), size(1, 400), 0.8, leak(), yes()))
		case 13:
			n.LimitedSource("", a, b, size(1, 15), size(1e-2, 1), size(0.1, 30), leak())
		}
	}
	if len(coils) >= 2 && yes() {
		n.Couple("k", coils[0], coils[1], rapid.Float64Range(-0.99, 0.99).Draw(t, "k"))
	}
	c := Cycle{Period: size(1e-4, 1)}
	at := 0.0
	for range rapid.IntRange(0, 4).Draw(t, "actions") {
		if len(moved) == 0 {
			break
		}
		c.Actions = append(c.Actions, Action{at, moved[rapid.IntRange(0, len(moved)-1).Draw(t, "which")], yes()})
		if yes() {
			at += (c.Period - at) * rapid.Float64Range(0, 0.9).Draw(t, "later")
		}
	}
	return n, c
}

// Whatever the network, it is solved, and then its powers sum to nothing, or
// refused by name. At rest there is always an answer to be found.
func TestAnyNetworkIsSolvedOrRefused(t *testing.T) {
	named := func(err error) bool {
		for _, e := range []error{ErrElement, ErrFloating, ErrLoop, ErrCutset, ErrChatter, ErrCycle, ErrNoConverg, ErrEvents} {
			if errors.Is(err, e) {
				return true
			}
		}
		return err == nil
	}
	balanced := func(t *rapid.T, n *Network, power func(int) float64) {
		sum, size := 0.0, 1.0
		for e := range n.Elements() {
			sum += power(e)
			size = math.Max(size, math.Abs(power(e)))
		}
		if math.Abs(sum) > 1e-4*size { // leaks beside dead shorts leave no more digits
			t.Errorf("powers sum to %g W of %g W", sum, size)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		n, cyc := drawAny(t)
		s, err := n.Compile()
		if !named(err) {
			t.Fatal(err)
		}
		if err != nil {
			return
		}
		err = s.DC()
		if !named(err) || errors.Is(err, ErrNoConverg) {
			t.Fatal(err)
		}
		if err == nil {
			balanced(t, n, func(e int) float64 { return s.Power(ElemID(e)) })
		}
		st, err := s.NewSteady(cyc, []Probe{VoltageProbe(1, Ground)}, watchAll(n))
		if err == nil {
			err = st.Solve()
		}
		if !named(err) {
			t.Fatal(err)
		}
		if err == nil {
			balanced(t, n, st.MeanPower)
		}
	})
}
