package heat

// Bay is what the air under the bonnet and the block do over a drive and the
// stop after it. Running, the air heads for RunningC and the block for BlockC.
// After shutdown (hot soak) fan and coolant stand: the block evens out towards
// BlockSoakC, its heat stays under the bonnet and the air heads for SoakC.
// After SoakS seconds all of it cools to OutsideC. Each follows with a lag.
// Under the bonnet 60 to 90 °C running and 90 to 120 °C in hot soak are usual
// in summer; these and the lags are from memory, and a thermometer under the
// bonnet is worth more.
//
// Simplification: after SoakS the air's own target changes at once from SoakC
// to OutsideC, where in truth it follows the block down; the lag is therefore
// the block's, an hour or so, not the air's.
type Bay struct {
	OutsideC   float64 // air outside the car
	RunningC   float64 // bay air: settles at this while driving; 60 to 90
	SoakC      float64 // bay air: heads for this after shutdown; 90 to 120
	BlockC     float64 // block: settles at this while driving; 80 to 100
	BlockSoakC float64 // block: heads for this after shutdown; as while driving, or up to 10 K more

	WarmLagS      float64 // bay air warming up: 300 to 900
	SoakLagS      float64 // bay air and block rising after shutdown: 200 to 400
	SoakS         float64 // how long it rises: 600 to 1,800
	CoolLagS      float64 // bay air cooling after that: 3,000 to 6,000
	BlockWarmLagS float64 // 200 to 500
	BlockCoolLagS float64 // 5,000 to 10,000
}

// TypicalBay is a warm summer's day: assumed, not measured.
func TypicalBay() Bay {
	return Bay{OutsideC: 25, RunningC: 75, SoakC: 105, BlockC: 88, BlockSoakC: 94,
		WarmLagS: 600, SoakLagS: 300, SoakS: 1200, CoolLagS: 4500, BlockWarmLagS: 300, BlockCoolLagS: 7200}
}

// Validate reports the first field that can't be, as an [InputError].
func (b Bay) Validate() error {
	return firstBad("bay",
		temperature("OutsideC", b.OutsideC),
		temperature("RunningC", b.RunningC),
		temperature("SoakC", b.SoakC),
		temperature("BlockC", b.BlockC),
		temperature("BlockSoakC", b.BlockSoakC),
		lag("WarmLagS", b.WarmLagS),
		lag("SoakLagS", b.SoakLagS),
		figure{"SoakS", b.SoakS, between(0, b.SoakS, mostSeconds), "0 to 10000000 s"},
		lag("CoolLagS", b.CoolLagS),
		lag("BlockWarmLagS", b.BlockWarmLagS),
		lag("BlockCoolLagS", b.BlockCoolLagS),
	)
}

// Running is bay air and block while the engine runs, in the order of
// [BayAir] and [Block].
func (b Bay) Running() []Given {
	return []Given{{b.RunningC, b.WarmLagS}, {b.BlockC, b.BlockWarmLagS}}
}

// Soak is bay air and block in the first SoakS seconds after shutdown.
func (b Bay) Soak() []Given {
	return []Given{{b.SoakC, b.SoakLagS}, {b.BlockSoakC, b.SoakLagS}}
}

// Cooling is bay air and block after the hot soak.
func (b Bay) Cooling() []Given {
	return []Given{{b.OutsideC, b.CoolLagS}, {b.OutsideC, b.BlockCoolLagS}}
}

// Leg is a stretch of a drive: what it is called, how long it is and what
// heat is made in each node.
type Leg struct {
	Name    string
	Seconds float64
	Powers  []Power
}

// Cycle returns the segments for [System.Run] of a drive, leg after leg, and
// of parkedS seconds after it with the powers parked (all zero with the key
// off): "hot soak" for up to SoakS seconds, "cooling down" for what is left.
func (b Bay) Cycle(drive []Leg, parkedS float64, parked []Power) []Segment {
	var cycle []Segment
	for _, l := range drive {
		cycle = append(cycle, Segment{l.Name, l.Seconds, l.Powers, b.Running()})
	}
	if soak := min(parkedS, b.SoakS); soak > 0 {
		cycle = append(cycle, Segment{"hot soak", soak, parked, b.Soak()})
	}
	if parkedS > b.SoakS {
		cycle = append(cycle, Segment{"cooling down", parkedS - b.SoakS, parked, b.Cooling()})
	}
	return cycle
}
