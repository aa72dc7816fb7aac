package supply

// Alternator is a three-phase alternator with rectifiers. Speeds are the
// engine's, in rpm.
type Alternator struct {
	RatingA   float64 // A, available from FullRPM
	IdleShare float64 // part of RatingA available at idle, 0 to 1
	FullRPM   float64 // from here the rating is available
	IdleRPM   float64 // the idle speed IdleShare is meant for; 0 means UsualIdleRPM
}

const (
	// UsualIdleRPM is a hot engine's idle: 550 to 750 rpm [common practice].
	UsualIdleRPM = 600.0

	// cutInOfIdle is the speed at which current begins over that of idle:
	// 505 of 690 and 680 rpm [factory service manual of the 1970s: cut-in
	// at 1,100 rpm of the alternator, 2.18 times the engine's].
	cutInOfIdle = 0.73
)

// Validate reports the first field that cannot be, as a [FieldError].
func (a Alternator) Validate() error {
	return firstBad("alternator",
		field{"RatingA", a.RatingA, a.RatingA > 0 && a.RatingA <= 1000, "more than 0 and at most 1000 A"},
		field{"IdleShare", a.IdleShare, between(0, a.IdleShare, 1), "a part of the rating from 0 to 1 (usually 0.3 to 0.6)"},
		field{"IdleRPM", a.IdleRPM, a.IdleRPM == 0 || between(200, a.IdleRPM, 3000), "an idle speed of 200 to 3,000 rpm, or 0 for the usual 600"},
		field{"FullRPM", a.FullRPM, a.FullRPM > a.idle() && a.FullRPM <= 20e3, "more than the idle speed and at most 20,000 rpm"},
	)
}

func (a Alternator) idle() float64 {
	if a.IdleRPM == 0 {
		return UsualIdleRPM
	}
	return a.IdleRPM
}

// Limit returns the most current in amperes the alternator can give at an
// engine speed: nothing up to 0.73 of idle speed, IdleShare of the rating at
// idle, the rating from FullRPM, and between them the hyperbola through those
// three points,
//
//	I = RatingA · x (b+f)/(f (b+x)),  b = i f (1-s)/(s f - i)
//
// with x, i and f the speeds of the engine, of idle and of full output above
// that of cut-in, and s the IdleShare. It is steep at first, then flattens as
// the windings' reactance, which grows with speed, takes up what the voltage
// gains. Output curves at 14 V in a factory service manual of the 1970s (three
// machines of 51 to 78 A, shares at idle 0.41 to 0.51) are met within 6 %;
// alternators in general give 30 to 60 % at idle [those curves; from memory].
//
// Limits: hot output, a tenth or so below cold; a drive ratio that suits the
// engine's idle, about 2.2. A FullRPM at or below idle, which Validate
// refuses, makes a step at FullRPM.
func (a Alternator) Limit(engineRPM float64) float64 {
	idle := a.idle()
	cutIn := cutInOfIdle * idle
	x, i, f, s := engineRPM-cutIn, idle-cutIn, a.FullRPM-cutIn, a.IdleShare
	switch {
	case engineRPM >= a.FullRPM:
		return a.RatingA
	case x <= 0 || f <= i:
		return 0
	}
	// Both sides of b's fraction multiplied out, so that a share for which the
	// hyperbola is a straight line (b infinite) is nothing special.
	n, d := i*f*(1-s), s*f-i
	return a.RatingA * x * (n + d*f) / (f * (n + d*x))
}
