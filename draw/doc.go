// Package draw makes pictures from values. It knows no physics and no car:
// whoever calls it hands over words and numbers that are already right, and
// gets a Scene back.
//
// # Scenes
//
// A [Scene] is a finished picture that knows no file format: an extent, a
// title, the picture in sentences, and a list of items, each a [Line],
// [Polyline], [Rect], [Circle], [Path], [Text] or [Group]. Arcs are already
// cubics, long text is already broken into lines, and there are no
// transformations, clips or gradients, so that any renderer which can stroke
// and fill those seven draws every picture of this package, and page and
// paper agree.
//
// Nothing in a scene has a colour. A [Style] names a [Tone], what a stroke or
// filling stands for (Ink, WireLive, Holds, IsMeasured, ...), and a [Palette]
// gives each tone its colour: [Light], [Dark], [HighContrast] or [Paper].
// [WriteSVG] writes each colour as an attribute, for any viewer, and as a
// class, which [StyleCSS] binds to custom properties; a page that carries
// StyleCSS once, and [PaletteCSS] for each theme, changes theme without a
// picture being drawn again, and a content security policy that forbids
// inline styles does not stand in the way.
//
// # Pictures
//
//   - [Wiring]: the primary circuit of a points-era car as a schematic.
//   - [Bars]: one figure in several conditions, each as an interval against
//     a limit and a wanted band.
//   - [Curve]: lines over an axis, such as a trace with thousands of points
//     or an advance curve with its tolerance band; with named stretches, such
//     as driving and heat soak, and with intervals and names at line ends,
//     such as the voltage several switches give over speed.
//   - [Stack]: charts above one another on one time axis, with what happens
//     at a moment marked through all of them, such as one firing.
//   - [Map]: one figure over two others, as bands between level lines, with
//     the limit, what is doubtful and named places, such as spark in hand
//     over speed and supply voltage.
//   - [DistributorTop]: a distributor from above, true to scale, with the
//     rotor as the spark jumps, what it must turn by and what is in the way.
//   - [DistributorSide]: the same cut through its shaft, with what is clear
//     of what and by how much.
//   - [PhaseStrip]: one tower laid out flat, and where the rotor's tip stands
//     against it.
//   - [Mark] and [MarkSVG]: the sign of a state (holds, doubtful, falls
//     short, not yet proven).
//
// The wiring picture lies on a fixed grid in two layouts, one for a laptop
// (1060 wide) and one for a phone (390 wide), from one [WiringSpec]. A
// [Place] is a spot of that grid, so that the same terminal is in the same
// place whatever is fitted. The current's way is
//
//	battery live post - starter stud - feed junction - ignition switch -
//	ballast - coil - breaker terminal - points or trigger - breaker plate -
//	housing - engine block - battery earth post
//
// with the starter, the charging, the loads, the start bypass, a relay, the
// condenser, the strap to the body and the trigger's feed as branches. Where
// a place is not in the spec the wire runs on to the next one that is.
//
// The pictures of a distributor give their scale and the shaft's place as
// [Placed], and every part is a group with an ID, so that a page's script can
// turn and move what it finds. In the same way a [Curve] may have handles,
// sliders to be moved by hand or by keyboard, and [CurvePlace] says which
// place stands for which value.
//
// # What is never left to colour
//
// A figure shows where it comes from by a letter in a shape (a broken ring
// for assumed, a square for stated, a circle for predicted, a filled square
// for measured), an assumed one in a broken tag as well. A state shows by
// the outline of its sign and by words. On a map the level lines carry their
// numbers, what falls short is hatched and what is doubtful is dotted. Every
// scene says its values in its Desc, a long line or a map by what matters of
// it.
//
// # Room for text
//
// In the pictures of a distributor each thing has a letter, joined to it by a
// stroke and set where nothing else lies, and a line in the list below; its
// name stands beside the letter where there is room.
//
// There is no font here, so [TextWidth] estimates from a small table that is
// an upper bound for common sans fonts. The wiring grid reserves room for a
// name in two lines, a value and a second line in every tag, and for three
// short lines beside most parts. Names that are longer are set smaller and
// then cut, ending in "…"; figures are set smaller or in two rows and never
// cut: a figure that does not fit is refused with a [SpecError] that says
// how many characters do.
package draw
