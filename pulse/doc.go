// Package pulse holds the standard test pulses of road-vehicle supplies as
// values: how high, how steep, how long, behind what resistance, as an exact
// waveform and as a network that package circuit can run. It knows nothing of
// cars.
//
// # The pulses
//
// ISO 7637-2:2004, 12 V systems. Voltages are counted from what the line
// stands at: the supply for the pulses that ride on it, 0 V for the two that
// come on a line just switched off.
//
//	1    an inductive load beside the trigger is switched off with it:
//	     -75 to -100 V on a dead line, 10 ohm, 1 us up, 2 ms long
//	2a   a load beside the trigger is cut off; the harness kicks:
//	     +37 to +50 V, 2 ohm, 1 us, 50 us
//	2b   a motor runs down and feeds a line just switched off:
//	     10 V, next to no ohms, 1 ms, 0.2 to 2 s
//	3a   a switch chatters: -112 to -150 V, 50 ohm, 5 ns, 0.1 us, in bursts
//	3b   the same, +75 to +100 V
//	5a   load dump: the battery comes off a charging alternator:
//	     +65 to +87 V, 0.5 to 4 ohm, 5 to 10 ms, 40 to 400 ms
//	5b   load dump of an alternator with clamping diodes in it
//
// Pulse 4, the starter's dip, went to ISO 16750-2 as its starting profile;
// see Profile. JumpStart and Reverse are that standard's two levels for
// batteries joined wrongly. The later ISO 7637-2:2011 raised pulse 1 to
// -150 V and pulse 2a to +112 V; a Pulse is a plain value, so change PeakV.
// There are no 6 V levels in any edition.
//
// # The waveform
//
// Each is a double exponential
//
//	v(t) = A (exp(-t/FallTau) - exp(-t/RiseTau))
//
// whose two time constants and A are solved so that the peak, the rise from
// 10 to 90 % and the duration from 10 % to 10 % come out as the standard
// defines them (Pulse.Wave). A double exponential can't rise in more than
// 11.7 % of its duration; what asks for more is refused.
//
// # The generator
//
// Generator lays the pulse out as two charged capacitors, each with a
// resistor across it, in series against one another and behind the source
// resistance: they discharge by themselves along the two exponentials, so no
// source that varies in time is needed. Their resistors are a hundred-
// thousandth of the source resistance, so a load bends the waveform by no
// more than that. A real pulse generator sags more: into a matched load its
// load dump lasts 200 ms instead of 400 [published comparison of makers' test
// plans], its pulses 1 and 2a 1.5 ms and 12 us [ISO 7637-2 annex, from
// memory]. The ideal source is the harsher of the two.
//
// # Where the figures come from
//
// Pulse.Source and Profile.Source say it for each. No copy of a standard was
// to hand: what is called published was read in tables quoted from it in
// semiconductor data sheets, manuals of test supplies and setups of test
// generators; the rest says "from memory".
package pulse
