package draw

// wideGrid is the layout for a laptop: live side along the top, coil and
// breaker down the right, return path along the bottom, battery on the left.
func wideGrid() grid {
	const (
		row   = 168.0 // live side
		hang  = 236.0 // where branches leave the trunks
		relay = 394.0
		ret   = 532.0 // return path
		under = row + 13
		feedX = 770.0 // trigger feed, coming down
	)
	g := grid{
		w: 1060, lineH: 14, valueSize: 14, valueH: 17,
		title: Point{18, 24}, titleSize: 16, titleW: 370,
		earth:  Text{X: 1042, Y: 24, Anchor: End},
		legend: Box{Point{18, 626}, Point{1042, 0}},
	}
	above := func(x float64) spot {
		return spot{at: Point{x, row}, tag: area{x, row - 13, Middle, bottom, 112}}
	}
	g.spots = [placeCount]spot{
		AtBatteryLive:     {at: Point{36, 262}, tag: area{48, 262, Start, centre, 112}},
		AtStarterStud:     {at: Point{176, row}, tag: area{168, row - 13, End, bottom, 112}},
		AtFeedJunction:    above(308),
		AtSwitchIn:        above(428),
		AtSwitchOut:       above(545),
		AtBallastSupply:   above(662),
		AtBallastCoil:     above(784),
		AtCoilFeed:        {at: Point{905, row}, tag: area{916, row - 13, Start, bottom, 128}},
		AtCoilSwitched:    {at: Point{905, 288}, tag: area{892, 288, End, centre, 108}},
		AtBreakerTerminal: {at: Point{905, 378}, tag: area{918, 400, Start, bottom, 126}},
		AtBreakerPlate:    {at: Point{905, ret}, tag: area{918, ret, Start, centre, 126}},
		AtHousing:         {at: Point{745, ret}, tag: area{745, ret + 12, Middle, top, 112}},
		AtBlock:           {at: Point{560, ret}, tag: area{560, ret - 12, Middle, bottom, 108}},
		AtBatteryEarth:    {at: Point{36, 424}, tag: area{48, 424, Start, centre, 112}},
		AtBody:            {at: Point{452, 562}, tag: area{430, 543, End, top, 112}},
		AtChargeOut:       {at: Point{308, 276}, tag: area{320, 276, Start, centre, 108}},
		AtTriggerSupply:   {at: Point{838, 448}, tag: area{874, 437, End, bottom, 94}},
		AtRelayIn:         {at: Point{440, relay}, tag: area{440, relay + 12, Middle, top, 108}},
		AtRelayOut:        {at: Point{662, relay}, tag: area{668, relay + 12, Middle, top, 100}},
	}
	g.coil = relayCoil{
		box:   Point{545, 306},
		via:   []Point{{545, 294}},
		earth: []Point{{567, 306}, {592, 306}, {592, 326}},
		link:  [2]Point{{545, 318}, {545, relay - 5}},
	}
	feed := func(from Place, arrow float64, label area, via ...Point) run {
		return run{a: from, b: AtTriggerSupply, via: via, arrow: Point{feedX, arrow}, label: label, tone: WireControl, width: controlW}
	}
	feedLabel := area{feedX - 8, hang + 9, End, top, 91}
	g.runs = []run{
		{a: AtBatteryLive, b: AtStarterStud, via: []Point{{36, row}}, label: area{48, under - 5, Start, top, 118}, tone: WireLive, width: cableW},
		{a: AtStarterStud, b: AtFeedJunction, label: area{244, under, Middle, top, 112}, tone: WireLive, width: feedW},
		{a: AtFeedJunction, b: AtSwitchIn, label: area{369, under, Middle, top, 102}, tone: WireLive, width: feedW},
		{a: AtSwitchIn, b: AtSwitchOut, kinds: []PartKind{KeySwitch}, sym: Point{487, row}, label: area{487, under, Middle, top, 98}, tone: WireLive, width: leadW},
		{a: AtSwitchOut, b: AtBallastSupply, label: area{606, under, Middle, top, 92}, tone: WireLive, width: leadW},
		{a: AtBallastSupply, b: AtBallastCoil, kinds: []PartKind{Ballast}, sym: Point{723, row}, label: area{728, under, Middle, top, 98}, tone: WireLive, width: leadW},
		{a: AtBallastCoil, b: AtCoilFeed, label: area{837, under, Middle, top, 94}, tone: WireLive, width: leadW},
		{a: AtCoilFeed, b: AtCoilSwitched, kinds: []PartKind{Coil}, sym: Point{905, 228}, arrow: Point{905, 269}, label: area{942, 228, Start, centre, 108}, lines: 4, tone: WireLive, width: leadW},
		{a: AtCoilSwitched, b: AtBreakerTerminal, label: area{918, 307, Start, centre, 126}, tone: Wire, width: leadW},
		{a: AtBreakerTerminal, b: AtBreakerPlate, kinds: []PartKind{Points, DualPoints, Trigger}, sym: Point{905, 448}, arrow: Point{905, 413}, label: area{872, 460, End, top, 98}, tone: Wire, width: leadW},
		{a: AtBreakerTerminal, b: AtBreakerPlate, kinds: []PartKind{Condenser},
			via: []Point{{905, 406}, {950, 406}, {950, 488}, {905, 488}}, sym: Point{950, 448}, arrow: Point{950, 426},
			label: area{966, 448, Start, centre, 84}, tone: Wire, width: controlW,
			taps: []tap{{Point{905, 406}, AtBreakerTerminal, AtBreakerPlate}, {Point{905, 488}, AtBreakerTerminal, AtBreakerPlate}}},
		{a: AtBreakerPlate, b: AtHousing, label: area{853, ret + 10, Middle, top, 96}, tone: WireEarth, width: leadW},
		{a: AtHousing, b: AtBlock, sym: Point{652, ret}, label: area{668, ret - 12, Middle, bottom, 100}, tone: WireEarth, width: feedW},
		{a: AtBlock, b: AtBatteryEarth, via: []Point{{36, ret}}, label: area{230, ret - 13, Middle, bottom, 140}, tone: WireEarth, width: cableW},
		{a: AtBatteryLive, b: AtBatteryEarth, kinds: []PartKind{Battery}, sym: Point{36, 343}, flip: true, label: area{72, 343, Start, centre, 90}, tone: Ink, width: cableW},

		{a: AtStarterStud, b: AtBlock, kinds: []PartKind{Starter}, frame: true, via: []Point{{176, hang}, {205, hang}, {205, 312}},
			sym: Point{205, 272}, label: area{184, 329, Start, top, 102}, lines: 4, tone: WireLive, width: cableW,
			taps: []tap{{Point{176, hang}, AtStarterStud, AtRelayIn}}},
		{a: AtFeedJunction, b: AtBody, kinds: []PartKind{Loads}, frame: true, via: []Point{{308, hang}, {464, hang}, {464, 318}},
			sym: Point{464, 276}, arrow: Point{444, hang}, label: area{464, 336, Middle, top, 88}, tone: WireLive, width: leadW,
			taps: []tap{{Point{308, hang}, AtFeedJunction, AtChargeOut}, {Point{308, hang}, AtFeedJunction, AtBlock}}},
		{a: AtFeedJunction, b: AtChargeOut, label: area{297, hang + 9, End, top, 74}, lines: 4, tone: WireLive, width: feedW},
		{a: AtChargeOut, b: AtBlock, kinds: []PartKind{Generator, Alternator}, frame: true, via: []Point{{308, 376}},
			sym: Point{308, 324}, label: area{332, 314, Start, top, 84}, lines: 4, tone: WireLive, width: feedW},
		{a: AtFeedJunction, b: AtBlock, kinds: []PartKind{Generator, Alternator}, frame: true, via: []Point{{308, 376}},
			sym: Point{308, 324}, label: area{332, 314, Start, top, 84}, lines: 4, tone: WireLive, width: feedW},
		{a: AtBlock, b: AtBody, via: []Point{{560, 562}}, label: area{570, ret + 12, Start, top, 112}, tone: WireEarth, width: feedW},
		{a: AtStarterStud, b: AtCoilFeed, kinds: []PartKind{KeySwitch}, via: []Point{{176, 72}, {905, 72}}, sym: Point{545, 72},
			label: area{545, 57, Middle, bottom, 300}, lines: 2, tone: WireControl, width: controlW},

		{a: AtStarterStud, b: AtRelayIn, kinds: []PartKind{Fuse}, via: []Point{{176, relay}}, sym: Point{352, relay}, arrow: Point{176, 306},
			label: area{326, relay + 11, Middle, top, 112}, tone: WireLive, width: leadW},
		{a: AtRelayIn, b: AtRelayOut, kinds: []PartKind{Relay}, sym: Point{545, relay}, label: area{564, hang + 12, Start, top, 90}, tone: WireLive, width: leadW},
		{a: AtRelayOut, b: AtBallastSupply, label: area{671, 290, Start, top, 96}, tone: WireLive, width: leadW},

		feed(AtCoilFeed, 345, feedLabel, Point{893, row + 12}, Point{893, hang}, Point{feedX, hang}, Point{feedX, 448}),
		feed(AtBallastSupply, 345, feedLabel, Point{674, row + 12}, Point{674, hang}, Point{feedX, hang}, Point{feedX, 448}),
		feed(AtSwitchOut, 345, feedLabel, Point{557, row + 12}, Point{557, hang}, Point{feedX, hang}, Point{feedX, 448}),
		feed(AtRelayOut, 426, area{720, relay - 6, Middle, bottom, 96}, Point{feedX, relay}, Point{feedX, 448}),
	}
	return g
}
