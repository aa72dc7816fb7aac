package pulse_test

import (
	"fmt"

	"dwellwright/circuit"
	"dwellwright/pulse"
)

// Load dump through its source resistance into 2 ohm, behind a supply of
// 13.5 V: the waveform by itself, then the generator run in a network.
func Example() {
	p, err := pulse.Find("5a")
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := p.Wave()
	if err != nil {
		fmt.Println(err)
		return
	}
	up, down := w.Crossings(0.1)
	fmt.Printf("%.0f V at %.1f ms, %.0f ms long\n", w.At(w.PeakAt()), 1e3*w.PeakAt(), 1e3*(down-up))

	n := circuit.NewNetwork()
	foot, out := n.Node("foot"), n.Node("out")
	n.VoltageSource("supply", foot, circuit.Ground, 13.5)
	g, err := p.Generator(n, "dump", foot, out, circuit.Ground, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	n.Resistor("load", out, circuit.Ground, circuit.Resistance{Ohms: 2})
	s, err := n.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := s.NewTransient([]circuit.Probe{circuit.VoltageProbe(out, circuit.Ground)})
	if err != nil {
		fmt.Println(err)
		return
	}
	state := make([]float64, len(s.States()))
	if err := g.Fire(s, state); err != nil {
		fmt.Println(err)
		return
	}
	if err := t.Start(0, state); err != nil {
		fmt.Println(err)
		return
	}
	peak := 0.0
	err = t.Run(0.3, nil, 1e-4, func(_ float64, v []float64) { peak = max(peak, v[0]) })
	fmt.Printf("into 2 ohm: %.1f V, %v\n", peak, err)
	// Output:
	// 87 V at 19.0 ms, 200 ms long
	// into 2 ohm: 80.4 V, <nil>
}
