// Package twin is a car in a condition as networks that can be solved: it
// turns the figures of package car into circuits of package circuit and
// predicts what any instrument would read on them, with the plus-or-minus
// that the car's uncertain figures give.
//
// # The network
//
// One node for each test point of car.TestPoints, the battery's earthed post
// being 0 V. On a positive earth car every live voltage is negative in the
// network; readings are given with the live side positive, as a person holds
// the probes.
//
//	battery    EMF (state of charge, temperature) behind one resistance when
//	           it gives and a higher one when it takes charge
//	generator  a source that holds the regulator's set point, less its slope,
//	           up to the current it can give at this speed, and takes none back
//	starter    the resistance it shows at steady cranking
//	wiring     each leg its copper at its temperature plus its joints
//	loads      constant resistance
//	ballast    heats itself: in running conditions to the temperature of its
//	           average power, with the key on to that of its steady power
//	coil       copper winding that heats itself, the inductance of the
//	           primary, its iron as a resistance across it, and the spark as
//	           its burning voltage seen from the primary
//	switch     points as a small resistance, a Darlington or IGBT as a knee
//	           and a slope, a MOSFET as a resistance
//
// With the engine turning, the switch is closed for the dwell angle of every
// lobe and the network is solved for the motion that repeats itself from lobe
// to lobe, ballast and coil temperatures included. The trigger sees the lowest
// instant of its feed, a meter the average: both come from that motion.
//
// # What is left out
//
// The plug's breakdown, leakage between the windings, the condenser's ringing
// and the secondary's capacitance: they last microseconds and move the supply
// circuit's lowest instant and averages by less than a thousandth (the charge
// of a 0.22 µF condenser against that of the coil). The scope's highest
// instant on a car with points is therefore without the ringing a real trace
// shows. Lamps keep the resistance of their rated current; the starter does
// not pulsate; a slipping belt, ripple and noise are not there. In cranking
// conditions nothing has time to warm.
//
// # Plus-or-minus
//
// Predict draws cars: each draw takes every uncertain figure from its own
// spread, independently of the others, and solves that car. The middle is the
// median of the draws, the interval from the 2.5 to the 97.5 percentile. Draw
// k of a seed is always the same car, so that conditions can be compared and
// results repeated.
package twin
