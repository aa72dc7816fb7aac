// Package units is the edge where a figure a person types becomes a number in
// SI, and where a number in SI becomes a figure a person reads. Nothing inside
// the program carries units at run time: physics is plain float64 in SI, and
// this package alone knows what a mil, a gauge number or a microfarad is.
//
// # Reading
//
// [Parse] is told which [Kind] of quantity is wanted and reads what was typed
// into a [Value]: a centre, a half-width and a [Shape], all in SI.
//
//	1.5 ohm                      exactly
//	1.5 ± 0.1 ohm, 1.5 +/- 0.1   normal: 95 % of such figures within ± 0.1
//	1.5 ohm ± 10 %               the same, as a part of the figure
//	1.4..1.6 ohm, 1.4 to 1.6     uniform: anything between, nothing outside
//	1.5 ohm within a factor of 2 log-normal: 95 % between 0.75 and 3
//
// Five figures are kept in the unit every model of the program and every
// mechanic uses instead of the SI base unit: a temperature in degrees Celsius,
// a dwell in distributor degrees, an ignition advance in crank degrees, a speed
// in revolutions a minute, a battery's charge in ampere hours. [Kind] lists the
// unit of each.
//
// # What is refused, and why
//
// A value that could be two things is never guessed at; the error says how to
// write it so that it is one.
//
//   - Milli and mega. Letter case does not matter, except that a leading m is
//     always milli and a leading M always mega. MOHM, all in capitals, is
//     refused, and so is mF, which is a millifarad in a textbook and a
//     microfarad on an old condenser. The trade word mfd is a microfarad.
//   - Comma. A decimal comma (14,2 V) and a comma between thousands (1,200
//     rpm) are both in use. A comma is a decimal comma unless exactly three
//     digits follow it and one to three digits, the first not 0, stand before
//     it. Such a comma parts thousands in a speed and in a count, where
//     thousandths are never meant, and if it stands more than once or a
//     decimal point follows (1,234.5). Otherwise 9,500 could be nine and a
//     half or nine thousand five hundred and is refused. A decimal point is a
//     decimal point; only 1.200 rpm is refused, by the same reasoning.
//   - Hyphen. Between two figures it makes a range, 1.4-1.6 ohm. Only 1-1/2,
//     written without gaps, is one and a half: as a range it would be swapped.
//   - No unit. A bare number is taken in the plain unit of its kind, but for a
//     length (mm or inch?), a wire section (mm² or gauge?), a pressure (bar or
//     psi?), a vacuum, a force (newtons or ounces?), a mass, a torque, a spring
//     rate, a flux density and a fraction above 1 (67 or 67 %?).
//   - Pressure. All are absolute. A vacuum or a gauge pressure is refused:
//     what it is counted from is not in the text. Where a vacuum is asked for,
//     it is counted down from the air outside, and an absolute pressure is
//     refused.
//   - 18 gauge. American and British wire tables give the same number to
//     different wires; 18 AWG and #18 are read, 18 gauge is not.
//   - 180°, as a temperature: of which scale?
//
// After a figure in per cent, ± 5 % means five points (67 % ± 5 % is 62 to
// 72 %); after any other figure it means that part of the figure. An
// uncertainty in °F is a difference and is scaled by 5/9 without the offset of
// 32. In a range either end may carry the unit for both.
//
// Every refusal is a [ParseError], which holds the place in the text, what is
// wrong, and what would have been accepted.
//
// # Writing
//
// [Format] writes a number with three or four significant digits and the
// prefix people use (0.22 µF and not 220 nF). [FormatValue] writes a Value
// with its uncertainty: two significant digits of the half-width, and the
// centre to the same decimal. What either writes, Parse reads back to within
// the digits written, unless rounding has carried it past what such a figure
// can be, as with a temperature a fraction of a degree above absolute zero. Both take a [System], metric or inch, side by side on
// the same page if need be.
//
// # Wire gauge
//
// [AWGDiameterM], [AWGSection] and [NearestAWG] are the American wire gauge of
// ASTM B258.
package units
