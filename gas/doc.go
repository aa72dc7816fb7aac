// Package gas says what voltage a spark plug asks for: how hard the charge in
// the cylinder is to break down at the moment of the spark, and what the rotor
// gap in the distributor adds.
//
// # The chain
//
// A [Cylinder] is one cylinder at the moment of its spark, and [Demand] its
// answer. In between lie four steps, each to be had by itself:
//
//	Chamber.Volume        crank angle     -> volume                  slider and crank
//	Compress              manifold charge -> pressure, temperature   p V^n constant
//	Breakdown             density x gap   -> volts between plates    measured air
//	Plug.Volts            ... times what a plug's shape, heat, wear and polarity do
//
// What counts is density, not pressure: how many molecules an electron meets
// on its way. So the demand rises with the charge in the cylinder and with the
// gap, and falls when the same charge is further from top dead centre. An
// engine at idle, its manifold at a third of an atmosphere, asks for 8 kV; the
// same engine snapped open at little advance for 15; cold at cranking speed
// for nearly 20. A vacuum leak raises the demand at idle because more air
// comes in.
//
// # Two curves
//
// Between parallel plates [Paschen]'s law gives the physics, and a minimum of
// some 300 V below which no gap sparks, however short. [LongGap] is a fit to
// measured air and closer where plugs work. [Breakdown] joins them where they
// all but touch, at a gap of 0.05 mm in open air: Paschen below, the fit above.
// Measured limits are reported with every answer as a [Range]; an answer from
// outside is still a number, and marked.
//
// # How sure
//
// The plates' volts are good to a tenth. A plug is no pair of plates: its
// factor [ShapeTypical] is set so that a running engine's plugs ask what was
// measured in running engines, and follows that within a quarter, short gaps at
// idle apart (see [Plug.Factor]). On top of
// it a single cylinder's demand scatters from one firing to the next by a
// tenth and more [common practice, no source]. So a predicted demand is to be
// shown with [DemandSpread], and compared between cylinders rather than with
// an absolute limit.
//
// The charge is counted as air. Petrol vapour is two parts in a hundred of
// it by volume, and its effect, like that of a lean or rich mixture beyond the
// density it has, is within the spread. What leaks past rings and valves at
// cranking speed is not counted: the true demand is lower then.
//
// # Units
//
// SI: metres, pascals absolute, kelvins, volts. Angles are crank degrees.
// Density is relative to air at 293 K and 101.325 kPa. Density times gap is in
// metres: the gap in such air that would be as hard to break down.
//
// Tens of kilovolts throw a hand into the fan. Lead ends are never held or
// left hanging while an engine runs or cranks; a tester with its own gap
// and an insulated clamp to earth belongs there. The maker's service manual
// and licensed practice come before what is computed here.
package gas
