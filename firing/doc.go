// Package firing works out one firing of an ignition coil, cycle after cycle in
// the rhythm it settles into: the current rises while the switch is closed, the
// switch opens, the secondary rises until the gap breaks down or the coil has
// given all it can, the spark burns and goes out, the rest rings away, and the
// switch closes on what is left.
//
// # The circuit
//
//	E --- R --- core --( L1 | iron )-- switched --( switch | condenser | clamp )-- earth
//	earth --( L2, coupled to L1 by k )-- R2 -- tower --( leads | shunt )-- earth
//	tower -- series -- gap -- earth
//
// with M = k sqrt(L1 L2), SI units throughout and every voltage counted as on a
// negative earth car with its coil the right way round: the tower's is positive
// here, whichever way the plug's is. Four states: the current i1 of the primary's
// inductance, i2 of the secondary, v1 across the open switch, v2 of the tower.
//
//	L1 i1' + M i2' = u1,   M i1' + L2 i2' = -v2 - R2 i2
//	E - R ip - u1 - v(switch) = 0,   ip = i1 + u1/iron
//	C1 v1' = ip  (open),   C2 v2' = i2 - v2/shunt - gap current
//
// # Events
//
// Between events that is linear, and solved exactly: see ladder.go. Events are
// the switch closing and opening; its clamp, its body diode; a transistor with
// a drop blocking backward; the gap breaking down at [Gap].Required, its spark
// going out below Extinct, a hot gap lighting again; the iron saturating at
// [Coil].KneeA of magnetising current, where what is magnetised in common falls
// to Beyond of itself; contacts that part striking again.
//
// # Contacts
//
// Contacts that part at [Break].Parting m/s stand a voltage that grows with
// their gap: 100 V/µm up to 300 V, then 300 V and 5 V/µm, and never less than
// 12 V. Where the condenser lets the voltage overtake that, they strike, the
// condenser is emptied into them, and it begins anew: a shower of small arcs.
// After eighty of them the arc stands, at 20 V, until the current is below
// 0.4 A. The figures are of the physics of contacts, from memory, and coarse:
// right in which condensers and speeds arc, and in the order of what it costs.
//
// # The settled rhythm
//
// What is left when the switch closes is where the next rise begins. [Solver]
// walks cycles until the break is like the last one. A gap that asks for just
// what there is may fire and miss by turns for ever; then Settled is false.
//
// A case takes so many steps at most (ErrEvents says that it would need more:
// mostly a gap or a contact that changes over without end).
//
// # What is taken for granted
//
// A coupling above 0.99999 counts as that, a series resistance at the gap below
// 100 ohm as that, and a gap asks for no less than what lights a hot one: 1.5
// times Burn and what Extinct drops in Series. AvailableV is that of the first
// swing; of a coil coupled below 0.9, or without loss in its iron, of the best
// of many. Contacts strike again only in the swing that opened them. A clamp
// takes the whole current: with a resistance in series with the condenser it
// counts from the condenser.
//
// # Left out
//
// The windings' own distributed capacitance and resonances; a secondary that
// is joined to the primary (it returns to earth here: the difference is the
// primary's few hundred volts); condenser leakage; a burning voltage that
// depends on the current; bounce.
//
// Checked against ngspice on random cases, in internal/judge: a few tenths of
// a per mille in current, under one in kV.
package firing
