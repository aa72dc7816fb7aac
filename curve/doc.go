// Package curve answers whether the advance of a car suits its engine: initial,
// centrifugal and vacuum advance over speed and load, what springs and stops
// the readings of a timing light speak for, how the car stands to a wanted
// curve, and the best that can be built of the springs, stops and weights that
// a person has.
//
// Advance is in crank degrees before top dead centre at crank rpm, initial
// included and the vacuum hose off, unless a name says otherwise; the
// mechanism's own figures are distributor degrees.
//
// # From readings to a mechanism
//
// Where the car file has readings of the curve, package advance estimates
// springs, slack, stop, friction and the initial from them, starting from the
// file's figures; the band round the curve is that of the mechanisms which
// agree with the readings. Where it has none the band is that of the drawn
// cars. Weights and the places of posts and pins are taken as the file, or a
// mechanism of common size, has them: another size with other springs gives
// the same curve.
//
// # What is safe
//
// There is no total timing that is safe for all engines. The band is the one
// the car file states for its engine and fuel, with its source; without one
// nothing is called safe.
package curve
