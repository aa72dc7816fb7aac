// Package spark answers what a car's ignition gives its plugs, with every
// switch it could have: one firing in each condition, the spark in hand over
// engine speed and supply voltage, switches compared and why they differ, and
// the heat of switch and coil through a drive.
//
// # From a car to a spark
//
// Package twin solves the car's whole primary circuit in a condition and
// gives it to package firing as the coil sees it: one voltage behind one
// resistance, at the temperatures that winding and ballast come to. Package
// gas says what plug and rotor gap ask. Spark in hand is the one over the
// other:
//
//	spark in hand = available kV / kV asked
//
// Above 1 the plug fires. Every figure is that of the middle car, with the
// 95 % interval of cars drawn from the spreads of all uncertain figures; what
// the formula of the demand misses of real engines (gas.DemandSpread) is drawn
// with them.
//
// # What stands where
//
//   - [Shots], [Shoot]: figures of one firing in each condition. [NewTrace]
//     is the same over time.
//   - [NewChart]: the map, throttle wide open. A cell's circuit is the car's
//     own, its supply the voltage at the battery's posts; winding and ballast
//     are as warm as the cell makes them. The other plugs ask half, and fire,
//     as when one lead hangs on a tester. The plus-or-minus is worked out at
//     nodes, by default every fifth speed and voltage, and runs straight
//     between them: it changes slowly where the middle does not.
//   - [Compare], [Explain]: clean and worn points, Darlington, IGBT and MOSFET
//     on the same coil and wiring, with the supply the car has at each speed;
//     and the difference between two of them taken apart, one cause at a time.
//   - [Drive], [Mountings], [KeyOn]: heat.
//
// # Left out
//
// Bounce of points after they close, dual points out of step with each other,
// mixture strength beyond its density. The arcs of parting points are coarse: see package firing.
package spark
