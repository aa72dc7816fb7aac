package advance

// UsualWeights are weights of common size (from memory).
func UsualWeights() Weights {
	return Weights{MassKg: 0.040, PivotRadiusM: 0.020, ArmM: 0.012, RestRad: 0.9, Count: 2}
}

// Usual is a mechanism of common size with true geometry: a light spring from
// rest and a heavy one with slack, between posts on the plate and pins on the
// weights. By common figures (from memory) such ones begin at 400 to 600
// distributor rpm, are all in by 1,200 to 2,000 and give 8 to 14 distributor
// degrees.
func Usual() Mechanism {
	return Mechanism{
		Weights: UsualWeights(),
		Springs: []Spring{
			{RateNPerM: 2500, PreloadN: 4.2, PinRadiusM: 0.010, PostM: 0.020, RestRad: 1.0},
			{RateNPerM: 14000, PreloadN: 0, SlackM: 0.0022, PinRadiusM: 0.010, PostM: 0.020, RestRad: 1.0},
		},
		Ratio:      0.44,
		StopDeg:    11,
		FrictionNm: 0.001,
	}
}
