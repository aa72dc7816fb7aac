// Package distributor is the geometry of a distributor: when it fires, where the
// rotor points when it does, and everything that may be turned, moved or put
// elsewhere to get a wanted timing.
//
// # Angles and letters
//
// Distributor degrees are positive clockwise, seen from above the cap; s is +1
// for a rotor that turns clockwise and -1 for one that does not. The engine
// frame has its 0 straight ahead; the housing frame has its 0 at the middle of
// the vacuum can and is carried round by the housing. One distributor degree
// is two crank degrees. Advance is in crank degrees before top dead centre.
//
//	H  housing      where the housing's zero points in the engine frame
//	T  trigger      rubbing block or sensor, in the housing frame
//	K  cam          opening edge of lobe 0, from the shaft's zero
//	R  rotor tip    from the shaft's zero
//	G  mesh         the shaft's zero in the engine frame, crank at No. 1's top
//	v  vacuum       swing of the plate against rotation: an advance
//	c  centrifugal  turn of cam and rotor ahead of the shaft: an advance
//
// # Two equations
//
// Lobe 0 fires when cam and trigger meet, which makes the advance
//
//	2·(s·(G + K − H − T) + v + c)   crank degrees,
//
// and at that moment the rotor tip stands, seen by the cap, at T − s·v − K + R.
// [Distributor.Fire] gives both for every lobe; [Distributor.Timing] the advance
// of No. 1.
//
// All trouble with triggers is in the difference of the two. The housing, the
// gear and the flyweights are in the first and not in the second: they shift
// timing and never what tower the rotor faces. The trigger and the sleeve are
// in both. A trigger that sits 20 degrees late costs 40 crank degrees, which
// the housing, the leads or another tooth bring back, and puts the rotor 20
// degrees past its tower, which none of them brings back.
//
// # What follows from them
//
//	Fire, Timing, RotorAt       forward: sparks, advance, where the rotor points
//	Window, ExtraGapM, CrossFire how far the rotor may be out, and what it costs
//	Register                    rotor against cap over vacuum travel and scatter
//	FreeTurn                    how far the housing can be turned
//	Ways                        inverse: every way to a wanted timing, ranked
//	FirstStart                  what an engine does with such a timing
//	Heights.Seat                the same question along the shaft
//	Combine                     two sets of points on one coil
//
// # Limits
//
// The geometry is exact and plane; the shaft is straight, the leads reach where
// they are moved. Backlash, side play and the scatter they give come in as one
// figure, ± ScatterDeg. What a plug asks, and how much less its neighbour asks
// ([NeighbourEaseKV]), is an estimate; so are the minutes of work and the bands
// of [FirstStart].
//
// # Care
//
// Key off and earth lead off while the distributor is open; a spark tester
// clipped to earth takes the place of an open lead; nobody's face over the
// carburettor at the first start. The maker's manual, local rules and licensed
// practice come before what is computed here.
package distributor
