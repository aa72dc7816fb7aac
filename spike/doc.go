// Package spike answers what a spike on the supply of one car does at the
// terminals of its trigger, and what a capacitor, a clamp or a good battery
// does against it, in figures.
//
// # What comes
//
// Cases lists what a car is asked about: the standard test pulses of package
// pulse, each where the standard has it come from,
//
//	1, 2b    on the ignition line, which its contact cuts off at that instant
//	2a, 3a,  on the ignition line, live
//	3b
//	5a, 5b   from the generator's output, the battery off
//
// and events of the car itself: an inductive load cut off together with the
// ignition line, a battery terminal that comes off while the generator
// charges, a start from a 24 V vehicle, a battery the wrong way round, and
// the starting profile. A Case is a value: any pulse can be put on the
// ignition line, the battery's live post or the generator's output, with the
// battery on or off.
//
// The standards have no levels for 6 V cars and none are made up: they get
// those of 12 V, and Result.TwelveVoltLevels says so; a starting profile,
// which would hold a 6 V car above its own voltage, is refused.
//
// # What is computed
//
// The car's own network (twin.Surge) with the pulse's generator (package
// pulse) and the protection added is brought to rest, the pulse let go, and
// the exact motion sampled: in stretches each four times as long as all before
// it, 36 samples each and more where a capacitor swings. Seen holds the voltage from the trigger's supply
// terminal to the breaker plate (with points: from the coil's feed terminal)
// as a trace, its peak and lowest, the energy into the trigger and the clamp,
// and how long it was beyond a stated Limit. On a positive earth car all
// voltages are given as a person holds the probes: live side positive.
//
// For pulses that rise in less than 10 us the wires have inductance: that of
// a wire 20 mm above the body, mu0/(2 pi) acosh(h/r) for each metre
// [textbook; the height is assumed]. Slower ones do not feel it. It is put in
// two places: between battery and line, and between line and trigger.
//
// # Simplified
//
// The trigger's electronics are a resistor, and no protection inside them is
// assumed: what a module has inside is its sheet's. The coil is off unless
// Options.SwitchClosed (then its current helps to hold a slow pulse down). A
// relay stands as it stood. Nothing warms. The spark's breakdown, the
// condenser of points and the capacitance of the wiring are left out. The
// battery is a resistance at any speed; a real one has some 0.1 uH of its own
// [from memory], less than its cables. What is joined to the ignition line
// but not in the car file is not there; it would only help.
//
// Words gives sentences for a mechanic from a Result, with the cautions.
package spike
