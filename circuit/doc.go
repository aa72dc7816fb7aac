// Package circuit solves electrical networks of lumped elements whose
// switches open and close: their operating point at rest, their motion
// through time, and the steady state they settle into when the same schedule
// of switching repeats for ever. It knows nothing of cars; it was written
// for ignition circuits and imports nothing of this program.
//
// # Building a network
//
// Name nodes, add elements between them, then Compile:
//
//	n := circuit.NewNetwork()
//	supply, feed := n.Node("supply"), n.Node("feed")
//	n.VoltageSource("battery", supply, circuit.Ground, 12.6)
//	ballast := n.Resistor("ballast", supply, feed, circuit.Resistance{
//		Ohms: 0.8, TempCo: 0.004, TempC: 60, HeatKPerW: 4}) // warms itself
//	coil := n.Resistor("coil", feed, circuit.Ground, circuit.Resistance{Ohms: 1.5})
//	s, err := n.Compile()          // names whatever is impossible
//	if err != nil { ... }
//	err = s.DC()                   // operating point
//	_ = s.V(feed)                  // volts
//	_ = s.Current(coil)            // amps
//	_ = s.Heat(ballast)            // °C
//	err = s.Set(coil, circuit.Ohms, 1.4) // change a figure and solve again
//
// The methods of Network that add elements (Resistor, Inductor, Couple,
// Capacitor, VoltageSource, CurrentSource, Switch, VoltageSwitch, Diode,
// Clamp, Darlington, MOSFET, Contact, LimitedSource) each say what law the
// element obeys and which figures (Param) it has.
//
// # Units and signs
//
// Figures are float64 in SI units (V, A, ohm, S, H, F, s, W), temperatures
// in °C. An element's voltage is V(a) - V(b) and its current runs from
// terminal a through the element to terminal b, so Power is what an element
// takes: a battery that delivers has a negative current and a negative power.
// Terminal a of a diode is its anode, of a Darlington its collector, of a
// MOSFET its drain, of coupled inductors the dotted end.
//
// # What can be asked
//
//   - Solver.DC: all at rest; inductors are shorts, capacitors open.
//     Self-heating resistors are exact.
//   - NewTransient, then Run: the motion from a given state, switches moved
//     by a list of Actions. Between events the answer is the exact one of the
//     linear equations, not that of a time step; events (a diode beginning to
//     conduct, a relay reaching its threshold) are found to the last digit.
//   - NewSteady, then Solve: the motion that repeats with a Cycle. Each
//     Probe's mean, least and most (Readings), its value just before each
//     action (Before) and the mean power of elements (MeanPower) are kept.
//     Voltage-controlled switches begin as they stand, and a cycle counts as
//     one that repeats only if it leaves them so.
//   - Gradient, of a Solver or of a Steady: exact derivatives of a reading
//     to any figures of any elements; Gradients, of a Steady: of several
//     readings at once.
//   - WriteNetlist: the same network for ngspice, so that an outside judge
//     can check an answer.
//
// Solves warm-start from the last one and allocate nothing (but a Steady of
// three and more states that can ring does, for their eigenvalues), so that
// many thousands of variants can be tried by Set and solve. Gradients of a
// Steady allocate, and take about as long as a Solve for each figure. One
// Solver is for one goroutine; Clone gives each its own.
//
// # When it cannot be solved
//
// Errors name the element or node at fault and can be told apart with
// errors.Is: ErrElement (a figure out of range), ErrFloating (a node nothing
// joins to ground), ErrLoop (a loop of sources), ErrCutset (a current with
// nowhere to go), ErrChatter (a voltage-controlled switch without a resting
// state), ErrCycle (an impossible schedule, or a circuit that nothing damps),
// ErrEvents (switching without end), ErrNoConverg (no solution found: with
// voltage-controlled switches that move by themselves there need be no cycle
// that repeats; a resistor can run away by its own heat).
//
// # Limits
//
// Devices are piecewise linear with rising curves, at most three pieces each:
// a current never falls as its voltage rises, which is what makes the
// solution single and the search for it sure. There is no device that
// amplifies but the switch. A network solved in time has at most 16 inductors
// and capacitors together. In a Steady a resistor that heats itself is taken
// at the temperature of its average power, right where its thermal time
// constant is long against the period; in a Transient it keeps the
// temperature it has. Source voltages are constant in time. Matrices are kept
// with a dense index, which suits some hundred nodes, not thousands.
//
// # Method
//
// Modified nodal analysis [C. W. Ho, A. E. Ruehli, P. A. Brennan, "The
// modified nodal approach to network analysis", IEEE Trans. Circuits and
// Systems CAS-22, 1975], eliminated without subtraction so that leaks beside
// dead shorts keep their digits; in time, the matrix exponential of the state
// equations, the states measured by the energy they carry; the steady state by
// shooting [T. J. Aprille, T. N. Trick, "Steady-state analysis of nonlinear
// circuits with periodic inputs", Proc. IEEE 60, 1972]; derivatives at DC by
// the adjoint network [S. W. Director, R. A. Rohrer, "The generalized adjoint
// network and network sensitivities", IEEE Trans. Circuit Theory CT-16, 1969],
// of a steady state by carrying small disturbances round the cycle. References
// from memory.
package circuit
