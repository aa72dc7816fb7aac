package supply

// LoadOhms returns the resistance in ohms of a load that draws currentA
// amperes at atV volts, its rated voltage (12.8 or 6.4 V for lamps); a load of
// 0 A is +Inf, an open circuit.
//
// Simplification: the resistance is kept at other voltages. A filament warms
// and cools with its voltage, its current going about as V^0.55 [electrical
// engineers' handbooks], so the constant resistance draws too little below the
// rated voltage (at 11.5 of 12.8 V a tenth less, a real lamp 6 % less) and too
// much above it (at 14.4 V 12 % more, a real one 7 %). A car at idle on its
// battery is therefore shown about 0.02 V too well. A cold
// filament, or a motor starting, draws many times more for a moment.
func LoadOhms(currentA, atV float64) float64 { return atV / currentA }
