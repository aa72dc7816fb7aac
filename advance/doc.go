// Package advance is the centrifugal and the vacuum advance of a distributor:
// what they give at a speed and a load, and backwards, which springs gave the
// strobe's readings and which to fit for a curve that is wanted.
//
// # Weights against springs
//
// Flyweights on pivots swing out as the shaft turns faster. The torque that
// opens them is m w² a b sin g, exact for any swing ([Weights]); springs with
// their true length and lever hold against it ([Spring]); a cam or linkage
// makes advance of the swing, up to a stop ([Mechanism]). Where the two torques
// balance, the weights rest:
//
//   - The curve begins where the field beats the light spring's preload.
//   - It has a knee where the heavy spring's loop takes up its slack. Beyond a
//     knee a curve is flatter, never steeper.
//   - Dry friction makes a band: rising, the weights hang back by as much as
//     falling they hang on. [Mechanism.At] gives both and the middle ([Band]).
//   - Where the field grows faster than the springs (springs too soft, strongly
//     preloaded) the weights snap out at one speed and back at a lower one.
//     Rising and falling are each followed along their own branch.
//
// Little known? [Usual] has common figures, [FromParts] takes what callipers and
// scales find, [FromMarks] makes an effective mechanism from where a curve
// begins, bends and ends.
//
// # The can
//
// [Can] is a vacuum advance as a bench sees it, [Diaphragm] as its parts make
// it. [Depression] is what it feels by where its hose is joined, [Ambient] the
// pressure outside at a height above sea level: a can feels the difference to
// ambient, so it does less in the mountains. [Total] adds it all up at the crank.
//
// # Backwards
//
// [Estimate] draws from all mechanisms that the readings allow, so its intervals
// are as wide as they must be: fourteen readings to ±1° tell the initial to
// ±¾°, the stop to ±0.6 distributor degree, a spring's rate only to a third and
// the friction hardly at all. What the readings did not narrow is marked. Readings that fit no
// mechanism (a slipped damper ring, a hose left on) show in [Misfit].
//
// [Best] tries every way to fit a box of springs, stops and weights and ranks
// them by the chance that each wanted point reads inside its tolerance, given
// how much springs of one kind differ.
//
// # Units and limits
//
// SI; a name says otherwise. Advance of weights, can and stop is in distributor
// degrees at distributor rpm; readings, wanted curves and totals are in crank
// degrees at crank rpm, twice both. Mixing them up is the commonest mistake with
// old tables.
//
// Left out: friction that grows with speed, play in the pivots, gravity, springs
// whose coils clash, inertia as the speed changes (the engine is held steady
// while it is read). No figure here says how much advance an engine stands: that
// is its maker's book, the fuel and an ear for knock. Keep hands, leads and
// clothes away from fan and belts when reading advance at speed, and open the
// distributor with the battery disconnected.
package advance
