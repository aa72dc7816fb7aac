package circuit_test

import (
	"errors"
	"fmt"
	"os"

	"dwellwright/circuit"
)

// A ballast that warms itself in series with a coil, points closed.
func Example() {
	n := circuit.NewNetwork()
	supply, feed, top := n.Node("supply"), n.Node("feed"), n.Node("top")
	battery := n.VoltageSource("battery", supply, circuit.Ground, 12.6)
	ballast := n.Resistor("ballast", supply, feed, circuit.Resistance{Ohms: 0.8, TempCo: 0.004, TempC: 60, HeatKPerW: 4})
	coil := n.Resistor("coil", feed, top, circuit.Resistance{Ohms: 1.5, TempCo: 0.00393, TempC: 20})
	points := n.Contact("points", top, circuit.Ground, 0.01, 1e-9, true)

	s, err := n.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	show := func() {
		if err := s.DC(); err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("feed %.2f V, coil %.2f A, ballast at %.0f °C, battery gives %.1f W\n",
			s.V(feed), s.Current(coil), s.Heat(ballast), -s.Power(battery))
	}
	show()
	s.SetClosed(points, false)
	show()
	// Output:
	// feed 6.86 V, coil 4.55 A, ballast at 164 °C, battery gives 57.3 W
	// feed 12.60 V, coil 0.00 A, ballast at 60 °C, battery gives 0.0 W
}

// A coil switched at 100 firings a second, closed for 60 % of the time, with
// a clamp standing in for the spark: its current swings between two values
// that repeat.
func ExampleSteady() {
	n := circuit.NewNetwork()
	supply, top := n.Node("supply"), n.Node("top")
	mid := n.Node("mid")
	n.VoltageSource("battery", supply, circuit.Ground, 13.5)
	winding := n.Resistor("winding", supply, mid, circuit.Resistance{Ohms: 2.8})
	coil := n.Inductor("coil", mid, top, 8e-3)
	points := n.Contact("points", top, circuit.Ground, 0.01, 1e-9, false)
	n.Diode("spark", top, mid, 15, 1, 0)

	s, err := n.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	cycle := circuit.Cycle{Period: 10e-3, Actions: []circuit.Action{
		{At: 0, Elem: points, Close: true},
		{At: 6e-3, Elem: points, Close: false},
	}}
	st, err := s.NewSteady(cycle, []circuit.Probe{circuit.CurrentProbe(coil)}, []circuit.ElemID{winding})
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := st.Solve(); err != nil {
		fmt.Println(err)
		return
	}
	r := st.Readings[0]
	fmt.Printf("coil current: mean %.3f A, least %.3f A at %.1f ms, most %.3f A at %.1f ms\n",
		r.Mean, r.Min, r.MinAt*1e3, r.Max, r.MaxAt*1e3)
	fmt.Printf("just before the points open: %.3f A\n", st.Before[1])
	fmt.Printf("the winding takes %.1f W on average\n", st.MeanPower(0))
	// Output:
	// coil current: mean 2.082 A, least 0.000 A at 0.0 ms, most 4.220 A at 6.0 ms
	// just before the points open: 4.220 A
	// the winding takes 15.5 W on average
}

// How much each part matters: volts of the feed for each ohm of each part.
func ExampleSolver_Gradient() {
	n := circuit.NewNetwork()
	supply, feed := n.Node("supply"), n.Node("feed")
	battery := n.VoltageSource("battery", supply, circuit.Ground, 12)
	ballast := n.Resistor("ballast", supply, feed, circuit.Resistance{Ohms: 1})
	coil := n.Resistor("coil", feed, circuit.Ground, circuit.Resistance{Ohms: 2})
	s, err := n.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	to := []circuit.ParamRef{
		{Elem: battery, Param: circuit.Volts},
		{Elem: ballast, Param: circuit.Ohms},
		{Elem: coil, Param: circuit.Ohms},
	}
	grad := make([]float64, len(to))
	if err := s.Gradient(circuit.VoltageProbe(feed, circuit.Ground), to, grad); err != nil {
		fmt.Println(err)
		return
	}
	for i, q := range to {
		fmt.Printf("%+.4f per unit of %s of the %s\n", grad[i], q.Param, n.ElementName(q.Elem))
	}
	// Output:
	// +0.6667 per unit of voltage of the battery
	// -2.6667 per unit of resistance of the ballast
	// +1.3333 per unit of resistance of the coil
}

// What a coil's current at the break depends on, and how much: here its own
// resistance and inductance, and the supply.
func ExampleSteady_Gradient() {
	n := circuit.NewNetwork()
	supply, mid, top := n.Node("supply"), n.Node("mid"), n.Node("top")
	battery := n.VoltageSource("battery", supply, circuit.Ground, 13.5)
	winding := n.Resistor("winding", supply, mid, circuit.Resistance{Ohms: 2.8})
	coil := n.Inductor("coil", mid, top, 8e-3)
	points := n.Contact("points", top, circuit.Ground, 0.01, 1e-9, false)
	n.Diode("spark", top, mid, 15, 1, 0)
	s, err := n.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	cycle := circuit.Cycle{Period: 10e-3, Actions: []circuit.Action{
		{At: 0, Elem: points, Close: true},
		{At: 6e-3, Elem: points, Close: false},
	}}
	st, err := s.NewSteady(cycle, []circuit.Probe{circuit.CurrentProbe(coil)}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	to := []circuit.ParamRef{
		{Elem: battery, Param: circuit.Volts},
		{Elem: winding, Param: circuit.Ohms},
		{Elem: coil, Param: circuit.Henries},
	}
	grad := make([]float64, len(to))
	if err := st.Gradient(0, circuit.Before(1), to, grad); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f A at the break\n", st.Read(circuit.Asked{Probe: 0, What: circuit.Before(1)}))
	fmt.Printf("%+.3f A for each volt of the battery\n", grad[0])
	fmt.Printf("%+.3f A for each ohm of the winding\n", grad[1])
	fmt.Printf("%+.3f A for each millihenry of the coil\n", grad[2]*1e-3)
	// Output:
	// 4.220 A at the break
	// +0.313 A for each volt of the battery
	// -1.064 A for each ohm of the winding
	// -0.154 A for each millihenry of the coil
}

// The network as a general circuit simulator reads it.
func ExampleSolver_WriteNetlist() {
	n := circuit.NewNetwork()
	supply, feed := n.Node("supply"), n.Node("feed")
	n.VoltageSource("battery", supply, circuit.Ground, 12)
	n.Resistor("ballast", supply, feed, circuit.Resistance{Ohms: 1})
	n.Diode("light", feed, circuit.Ground, 1.8, 2, 1e-6)
	s, err := n.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := s.WriteNetlist(os.Stdout, circuit.NetlistOptions{Title: "a light on a ballast"}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// * a light on a ballast
	// vbattery supply 0 dc 12
	// rballast supply feed 1
	// blight feed 0 i=pwl(v(feed), -99998.2, -0.0999982, 1.8, 1.8e-06, 100001.8, 50000.1000018)
	// .op
	// .end
}

// Errors say which node or element is at fault.
func ExampleFloatingError() {
	n := circuit.NewNetwork()
	supply, feed, tag := n.Node("supply"), n.Node("feed"), n.Node("tag")
	n.VoltageSource("battery", supply, circuit.Ground, 12)
	n.Switch("key", supply, feed, 0.01, 0, false) // open, truly
	n.Resistor("coil", feed, tag, circuit.Resistance{Ohms: 1.5})
	s, err := n.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	err = s.DC()
	var floating *circuit.FloatingError
	if errors.As(err, &floating) {
		fmt.Println("at fault:", floating.Node)
	}
	fmt.Println(err)
	fmt.Println(errors.Is(err, circuit.ErrFloating))
	// Output:
	// at fault: feed
	// node "feed" floats: nothing that conducts joins it to ground
	// true
}
