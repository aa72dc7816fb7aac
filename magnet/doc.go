// Package magnet is the magnetics of a trigger inside a distributor: a ring of
// magnets and a hall switch, or a toothed wheel and a coil. It answers how wide
// the gap may be, cold and hot; at which angle the spark falls and how that
// creeps with the gap; and how far to open a slot that does not reach.
//
// # The field
//
// A [Ring] alternates north and south, or has one block for each lobe
// (Unipolar). Far enough out, beyond about a third of the arc from magnet to
// magnet (the pitch tau), the field of an alternating ring goes round the
// circle nearly as a sine, and dies away with the gap g as exp(-pi g/tau): with
// 16 poles on a ring of 30 mm diameter, 1 mm more leaves 58.7 %. That is the
// flat limit. Round a circle of radius R with p pairs of poles it is exactly
//
//	(R/(R+g))^(p+1)
//
// 55.9 % for that ring's first millimetre. [Ring.Field] sums this and the
// higher harmonics for radial magnetisation, and for each takes the magnets'
// finite height, the sensor's offset along the shaft and its tilt into account
// by integrating the magnetic charge along the shaft. Against the plain sum
// over all charge that is within 0.5 % of the field over a magnet, and 0.25 %
// from 1 mm of gap. A unipolar ring is summed from its blocks in closed form.
//
// # The switch
//
// A [Switch] conducts from the operate point up to the release point down:
// once a lobe. [Fit] puts ring and switch together:
//
//   - [Fit.LargestGap]: no lobe is missed up to here
//   - [Fit.FiresAll]: whether a ring that wobbles, with a gap for each lobe, fires on all
//   - [Fit.Switching]: the edges, the dwell, the margin
//   - [Fit.Timing]: how much later another gap makes the spark
//
// On a plain sine of peak B the operate edge lies asin(Bop/B) electrical
// degrees after the zero crossing, so it creeps later as the gap grows, slowly
// at first and fast near the largest gap. A margin of two at the hottest is a
// comfortable fit. Magnets lose 0.12 % (neodymium) to 0.2 % (ferrite) of their
// field for each kelvin and get it back on cooling; neodymium of the plain
// grade loses for good above about 80 °C, which is not in here.
//
// # The coil
//
// A [Reluctor] gives volts that grow with speed and fall to 1/e within a third of
// a tooth's width, so cranking decides, and the gap is tight: about 0.008 in by
// common practice, where a hall trigger has millimetres.
//
// # The base
//
// [Slot] turns a gap that is wrong into a movement: how far the base slides or
// swings, which end of the slot to open and by how much, and by how many
// degrees that moves the sensor round the shaft, and with it the timing. By
// common practice a slot opened 1/32 in decides between dead and running.
//
// # Limits
//
// No iron: neither a steel carrier nor a flux guide, which both raise the field
// (a steel sleeve inside the ring by some tens of per cent, from memory), nor
// steel nearby. Recoil permeability 1; ferrite and neodymium have 1.05 to 1.1,
// which leaves the field a few per cent lower (from memory). Gaps below a hundredth of the pitch are rounded off. One
// tilt only, about the tangent. The Usual figures are from memory and spread by
// a third or more between parts: what comes of them is assumed, not measured. A
// gap set with a plastic feeler and a spark on every lobe, hot, is the proof.
//
// Key off and battery disconnected, earthed clamp first, before working in a
// distributor: the engine may turn and the coil may fire. The car's manual and
// licensed practice decide.
//
// # Units
//
// Metres, tesla, volts, degrees Celsius, distributor degrees, radians of tilt.
// Nothing here reads a clock or a file; values may be shared by goroutines.
package magnet
