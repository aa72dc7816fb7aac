// Package supply is the source side of a car of the points era: battery,
// generator or alternator, regulator, and the two kinds of load that hang on
// it, starter and lamps. Each is a small struct of nameplate figures with one
// Validate and a method for each figure a network needs; nothing here solves a
// network.
//
// # Battery
//
// A [Battery] is a voltage behind a resistance, and the resistance depends on
// the way the current flows:
//
//	EMF            what a voltmeter shows after hours of rest
//	Internal       ohms while it gives: cranking, idling, key on
//	ChargeInternal ohms while it takes: far more, as the plates hold against it
//
// A full 12 V battery rests at 12.65 V. Cranking at 150 A through 9 milliohms
// leaves 11.3 V; at -18 °C the 9 have become 20 and the same current leaves
// 9.6 V. On charge at 14.4 V it takes an ampere or so, not the two hundred
// that 9 milliohms would let in.
//
// # Generator, alternator, regulator
//
// A running engine's source is the set point of its [Regulator], which falls
// as the regulator warms, as long as no more is asked than the machine can
// give: [Generator.Limit], [Alternator.Limit]. A generator gives nothing at
// idle, and everything that is switched on comes out of the battery: why such
// a car shows 12 V and less at a stop with the lamps on. Where the regulator's
// cut-out relay is open the machine is not there at all; Limit is 0 then.
//
// # Loads
//
// A [Starter] and, by [LoadOhms], a lamp or motor are resistances at their
// rated voltage. Real lamps draw less of a change; see there.
//
// # Units
//
// Volts, amperes, ohms; temperatures in degrees Celsius, speeds in engine
// revolutions per minute, capacity in ampere hours. A 6 V battery has three of
// the cells a 12 V one has six of.
//
// Nothing here judges a car: the service manual of that car and its own record
// when it last ran well come before these typical figures. Batteries give off
// explosive gas and hold acid: no flame or spark near one, eyes covered,
// earthed clamp off first and on last.
package supply
