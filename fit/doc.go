// Package fit answers where everything of a distributor goes after points
// have given way to a trigger, or before anything is touched: what turned the
// timing and every way back, where the rotor stands at the spark, the air gap
// and the mounting's slot, how rotor and sleeve sit, what a bench run says of
// the lobes, and the steps to a safe first start.
//
// # What it rests on
//
// Package twin makes geometry of a car file: what a timing light showed is
// taken as it is, and the trigger's edge is put where it makes the geometry
// agree. If the trigger fires d distributor degrees later than the points did,
// timing is 2d crank degrees later and the rotor stands d degrees farther on:
//
//	timing = timing with points - 2 d
//	phase  = phase with points  + d
//
// Turning the housing brings the timing back and leaves the phase where it
// is, for trigger and cap are both carried by the housing. So each way back is
// a sum of moves that add up to the timing, and only those of trigger and
// sleeve count for the phase. Package distributor has the equations.
//
// # What is uncertain
//
// Every figure is that of the middle car with the 95 % interval of the cars
// drawn from all spreads: phase, timing, the gap at which the last lobe still
// fires, the heights. A chance is a share of the drawn cars. A way back is
// as uncertain as the timing it starts from, until a light has been put to it.
//
// # What is spare
//
// A tip that no longer faces its contact costs about 3 kV for each millimetre
// more of air. What may be spent is what the coil has over what the plugs ask
// in the worst condition, with the throttle snapped open where that is worse.
package fit
