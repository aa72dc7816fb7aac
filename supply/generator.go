package supply

// Generator is a direct-current generator (dynamo) with a cut-out relay and a
// regulator that limits its current. Speeds are the engine's, in rpm.
type Generator struct {
	CutInRPM float64 // the cut-out closes and current begins
	FullRPM  float64 // from here the rating is available
	RatingA  float64 // A, where the current regulator holds it
}

// Validate reports the first field that cannot be, as a [FieldError].
func (g Generator) Validate() error {
	return firstBad("generator",
		field{"CutInRPM", g.CutInRPM, between(100, g.CutInRPM, 10e3), "an engine speed of 100 to 10,000 rpm"},
		field{"FullRPM", g.FullRPM, g.FullRPM > g.CutInRPM && g.FullRPM <= 20e3, "more than the cut-in speed and at most 20,000 rpm"},
		field{"RatingA", g.RatingA, g.RatingA > 0 && g.RatingA <= 1000, "more than 0 and at most 1000 A"},
	)
}

// Limit returns the most current in amperes the generator can give at an
// engine speed: 0 up to cut-in, straight up to the rating at FullRPM, then the
// rating. With the field fully on, the armature makes a voltage in proportion
// to speed and the excess over the bus drives current through the armature's
// resistance, I = (k n - V)/R, which is that straight line. Typical: cut-in
// 900 to 1,200 engine rpm, 20 to 35 A at 1,800 to 2,500 [from memory].
//
// Limits: a hot machine gives a tenth or so less than a cold one; third-brush
// machines rise faster than the straight line and fall off again at speed.
// A drive ratio other than standard moves both speeds.
func (g Generator) Limit(engineRPM float64) float64 {
	switch {
	case engineRPM <= g.CutInRPM:
		return 0
	case engineRPM >= g.FullRPM:
		return g.RatingA
	}
	return g.RatingA * (engineRPM - g.CutInRPM) / (g.FullRPM - g.CutInRPM)
}
