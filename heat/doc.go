// Package heat is how hot a switch and a coil get: at rest for good, over a
// drive and the hot soak after it, and with the key left on; and what the heat
// costs of their life.
//
// # Networks
//
// Heat flows like current: watts through kelvins per watt. A [Network] is
// nodes with a heat capacity (joules per kelvin, or none: such a node follows
// at once), paths between them, and temperatures given from outside. Compile
// checks it and returns a [System]:
//
//	C dT/dt = powers - G T + B given
//
// [System.Steady] solves it for good. 5 W through a junction-to-base of 1.5
// K/W, 0.4 to the plate, 2.5 to the housing and 5 to air of 75 °C is a
// junction at 75 + 5·9.4 = 122 °C: the ladder's sum. Painted metal under the
// module in place of paste is 3 K/W more and 15 K hotter.
//
// # Time
//
// [System.Run] follows a start through segments of constant [Power], in which
// given temperatures stand or head for a value with a lag ([Given]). It is
// exact, not stepped: the network is taken apart into modes, each with its own
// time constant, and every temperature is
//
//	T(t) = constant + sum of c exp(-t/τ)
//
// The [History] that comes back answers for any moment: [History.Peak] and
// [History.TimeAbove] find every turning point and crossing of such a sum, none
// of which slips between samples. [History.TimeTo] is how long until a limit:
// the question of the key left on with the points closed.
//
// # Heat that makes heat
//
// Copper's resistance rises by 0.393 % of its 20 °C value for each kelvin, so
// at a constant current a hot coil makes more heat: [Copper]. On a plain supply
// it makes less: [Fed]. Either is a straight line in temperature and part of
// the linear system. Where the line is steeper than the paths can carry, no
// steady temperature exists: [ErrRunaway].
//
// # Ready-made
//
// [Module] is an electronic switch on the breaker plate of a distributor,
// [CoilCan] a coil. [Bay] gives what the air under the bonnet does, running and
// after shutdown: the hottest moment of many a module is not on the road but a
// quarter of an hour after it, when the block's heat stays under the bonnet;
// [Bay.Cycle] makes the segments.
//
// # Life
//
// [Acceleration] is the Arrhenius law; its activation energy is an assumption
// that belongs beside the answer. [History.MeanAcceleration] is its mean over a
// run. [PiT] is the milder factor of the handbook for bipolar transistors.
// These compare two fittings; they foretell no date.
//
// # Limits
//
// Resistances don't depend on temperature here; in truth natural convection
// and radiation improve as the rise grows, by some 20 % from 30 to 60 K
// (a rise to the power of 1/4), so a K/W is best taken at about the rise
// expected. Powers are means over many sparks: the junction of a switch ripples about
// them by less than a kelvin above idle speed where its capacity is 1 J/K.
// Typical K/W in this package are from memory and spread by half or double:
// a result carries that spread.
//
// A coil and its ballast burn the skin, and a coil left on may burst: key off
// and battery disconnected, earthed clamp first, before touching either. The
// car's manual and licensed practice decide.
//
// # Units
//
// Watts, K/W, J/K, seconds, degrees Celsius. Nothing here reads a clock or a
// file, and a System may be shared by goroutines.
package heat
