package draw

// tallGrid is the layout for a phone: live side up the left from the battery
// at the foot, coil and breaker down the right, return path along the foot.
// Tags and words stand on the outer sides; what branches off stands between.
func tallGrid() grid {
	const (
		xl, xr   = 132.0, 264.0 // the two columns
		out, in  = 120.0, 276.0 // where words begin beside them
		relay    = 240.0        // relay branch
		chan0    = 252.0        // trigger feed
		row      = 138.0        // ignition switch and ballast
		junction = 430.0
		stud     = 620.0
		feed     = 408.0 // coil's feed terminal
		ret      = 984.0 // return path
	)
	g := grid{
		w: 390, lineH: 13, valueSize: 13, valueH: 16,
		title: Point{12, 22}, titleSize: 15, titleW: 366,
		earth:  Text{X: 378, Y: 22, Anchor: End},
		legend: Box{Point{12, ret + 116}, Point{378, 0}},
	}
	left := func(y float64) spot { return spot{at: Point{xl, y}, tag: area{out, y, End, centre, 108}} }
	right := func(y float64) spot { return spot{at: Point{xr, y}, tag: area{in, y, Start, centre, 106}} }
	g.spots = [placeCount]spot{
		AtSwitchOut:       left(row),
		AtSwitchIn:        left(250),
		AtFeedJunction:    {at: Point{xl, junction}, tag: area{142, 417, Start, top, 88}},
		AtStarterStud:     {at: Point{xl, stud}, tag: area{142, stud - 8, Start, bottom, 90}},
		AtBatteryLive:     left(stud + 169),
		AtBatteryEarth:    left(stud + 281),
		AtBallastSupply:   right(row),
		AtBallastCoil:     right(250),
		AtCoilFeed:        {at: Point{xr, feed}, tag: area{in, feed - 8, Start, bottom, 106}},
		AtCoilSwitched:    {at: Point{xr, 516}, tag: area{in, 500, Start, top, 106}},
		AtBreakerTerminal: {at: Point{xr, 667}, tag: area{in, 682, Start, bottom, 106}},
		AtBreakerPlate:    {at: Point{xr, 846}, tag: area{in, 826, Start, top, 106}},
		AtHousing:         {at: Point{xr, ret}, tag: area{in, ret - 20, Start, top, 106}},
		AtBlock:           {at: Point{156, ret}, tag: area{146, ret - 12, Start, bottom, 108}},
		AtBody:            {at: Point{xl, ret + 66}, tag: area{114, ret + 40, End, top, 106}},
		AtChargeOut:       {at: Point{13, junction + 83}, tag: area{24, junction + 83, Start, centre, 98}},
		AtTriggerSupply:   {at: Point{224, 784}, tag: area{152, 822, Start, top, 98}},
		AtRelayIn:         {at: Point{relay, 386}, tag: area{relay - 9, 363, End, top, 89}, most: 2},
		AtRelayOut:        {at: Point{relay, 222}, tag: area{relay - 9, 222, End, centre, 84}},
	}
	g.coil = relayCoil{
		box:   Point{170, 330},
		via:   []Point{{xl + 12, row + 12}, {xl + 12, 313}, {170, 313}, {170, 318}},
		earth: []Point{{170, 342}, {170, 349}},
		link:  [2]Point{{192, 330}, {relay - 5, 330}},
	}
	feedRun := func(from Place, via ...Point) run {
		via = append(via, Point{chan0, 722}, Point{224, 722})
		return run{a: from, b: AtTriggerSupply, via: via, label: area{142, 675, Start, top, 104}, tone: WireControl, width: controlW}
	}
	side := func(y float64) area { return area{out, y, End, centre, 108} }
	far := func(y float64) area { return area{in, y, Start, centre, 108} }
	g.runs = []run{
		{a: AtBatteryLive, b: AtStarterStud, label: side(stud + 114), tone: WireLive, width: cableW},
		{a: AtStarterStud, b: AtFeedJunction, label: area{142, 484, Start, top, 90}, tone: WireLive, width: feedW},
		{a: AtFeedJunction, b: AtSwitchIn, label: side(306), tone: WireLive, width: feedW},
		{a: AtSwitchIn, b: AtSwitchOut, kinds: []PartKind{KeySwitch}, sym: Point{xl, 194}, label: side(194), tone: WireLive, width: leadW},
		{a: AtSwitchOut, b: AtBallastSupply, via: []Point{{xl, 92}, {xr, 92}}, arrow: Point{xl, 112}, label: area{186, 96, Middle, top, 88}, tone: WireLive, width: leadW},
		{a: AtBallastSupply, b: AtBallastCoil, kinds: []PartKind{Ballast}, sym: Point{xr, 194}, label: far(194), tone: WireLive, width: leadW},
		{a: AtBallastCoil, b: AtCoilFeed, label: far(308), tone: WireLive, width: leadW},
		{a: AtCoilFeed, b: AtCoilSwitched, kinds: []PartKind{Coil}, sym: Point{xr, 460}, arrow: Point{xr, 500}, label: area{295, 457, Start, centre, 84}, lines: 4, tone: WireLive, width: leadW},
		{a: AtCoilSwitched, b: AtBreakerTerminal, label: far(591), tone: Wire, width: leadW},
		{a: AtBreakerTerminal, b: AtBreakerPlate, kinds: []PartKind{Points, DualPoints, Trigger}, sym: Point{xr, 784}, arrow: Point{xr, 726}, label: area{298, 784, Start, centre, 86}, tone: Wire, width: leadW},
		{a: AtBreakerTerminal, b: AtBreakerPlate, kinds: []PartKind{Condenser}, frame: true,
			via: []Point{{xr, 692}, {292, 692}, {292, 734}}, sym: Point{292, 713}, arrow: Point{278, 692},
			label: area{310, 687, Start, top, 76}, tone: Wire, width: controlW,
			taps: []tap{{Point{xr, 692}, AtBreakerTerminal, AtBreakerPlate}}},
		{a: AtBreakerPlate, b: AtHousing, label: far(917), tone: WireEarth, width: leadW},
		{a: AtHousing, b: AtBlock, sym: Point{214, ret}, label: area{170, ret + 10, Start, top, 102}, tone: WireEarth, width: feedW},
		{a: AtBlock, b: AtBatteryEarth, via: []Point{{xl, ret}}, label: side(stud + 337), tone: WireEarth, width: cableW},
		{a: AtBatteryLive, b: AtBatteryEarth, kinds: []PartKind{Battery}, sym: Point{xl, stud + 225}, flip: true, label: area{110, stud + 225, End, centre, 98}, tone: Ink, width: cableW},

		{a: AtStarterStud, b: AtBlock, kinds: []PartKind{Starter}, frame: true, via: []Point{{xl - 12, stud + 12}, {30, stud + 12}, {30, stud + 80}},
			sym: Point{30, stud + 42}, label: area{50, stud + 21, Start, top, 72}, lines: 4, tone: WireLive, width: cableW},
		{a: AtFeedJunction, b: AtBody, kinds: []PartKind{Loads}, frame: true, via: []Point{{13, junction}, {13, 340}, {30, 340}, {30, 400}},
			sym: Point{30, 370}, arrow: Point{13, 385}, label: area{49, 340, Start, top, 73}, lines: 4, tone: WireLive, width: leadW},
		{a: AtFeedJunction, b: AtChargeOut, via: []Point{{13, junction}}, arrow: Point{13, junction + 40}, label: area{24, junction + 6, Start, top, 98}, tone: WireLive, width: feedW,
			taps: []tap{{Point{13, junction}, AtFeedJunction, AtBody}}},
		{a: AtChargeOut, b: AtBlock, kinds: []PartKind{Generator, Alternator}, frame: true, via: []Point{{13, junction + 122}, {30, junction + 122}, {30, junction + 174}},
			sym: Point{30, junction + 147}, label: area{51, junction + 115, Start, top, 72}, lines: 4, tone: WireLive, width: feedW},
		{a: AtFeedJunction, b: AtBlock, kinds: []PartKind{Generator, Alternator}, frame: true, arrow: Point{13, junction + 60}, via: []Point{{13, junction}, {13, junction + 122}, {30, junction + 122}, {30, junction + 174}},
			sym: Point{30, junction + 147}, label: area{51, junction + 115, Start, top, 72}, lines: 4, tone: WireLive, width: feedW,
			taps: []tap{{Point{13, junction}, AtFeedJunction, AtBody}}},
		{a: AtBlock, b: AtBody, via: []Point{{156, ret + 66}}, label: area{170, ret + 60, Start, top, 102}, tone: WireEarth, width: feedW},
		{a: AtStarterStud, b: AtCoilFeed, kinds: []PartKind{KeySwitch}, via: []Point{{4, stud}, {4, 40}, {386, 40}, {386, feed}}, sym: Point{198, 40}, arrow: Point{300, 40},
			label: area{198, 47, Middle, top, 300}, lines: 2, tone: WireControl, width: controlW},

		{a: AtStarterStud, b: AtRelayIn, kinds: []PartKind{Fuse}, via: []Point{{relay, stud}}, sym: Point{relay, 510},
			label: area{142, stud + 8, Start, top, 104}, tone: WireLive, width: leadW},
		{a: AtRelayIn, b: AtRelayOut, kinds: []PartKind{Relay}, sym: Point{relay, 330}, flip: true, label: area{149, 256, Start, top, 82}, lines: 4, tone: WireLive, width: leadW},
		{a: AtRelayOut, b: AtBallastSupply, via: []Point{{relay, row}}, label: area{149, 146, Start, top, 81}, tone: WireLive, width: leadW},

		feedRun(AtCoilFeed, Point{chan0, feed + 12}),
		feedRun(AtBallastSupply, Point{chan0, row + 12}),
		feedRun(AtSwitchOut, Point{xl + 6, row + 6}, Point{chan0, row + 6}),
		feedRun(AtRelayOut, Point{chan0, 234}),
	}
	return g
}
