package draw

// The cars in these specs are invented.

func nodesOf() map[Place]Node {
	return map[Place]Node{
		AtBatteryLive:     {ID: "battery-live", Label: "battery live post", Value: "12.61 ± 0.05 V", Sub: "lowest 9.4 V", Origin: Measured, Mark: MarkHolds},
		AtStarterStud:     {ID: "stud", Label: "starter stud", Value: "12.5 ± 0.1 V", Sub: "lowest 9.1 V", Origin: Predicted},
		AtFeedJunction:    {ID: "junction", Label: "feed junction", Value: "12.4 ± 0.1 V", Origin: Predicted},
		AtSwitchIn:        {ID: "switch-in", Label: "ignition switch, incoming", Value: "12.3 ± 0.2 V", Origin: Predicted},
		AtSwitchOut:       {ID: "switch-out", Label: "ignition switch, outgoing", Value: "12.1 ± 0.2 V", Sub: "lowest 8.8 V", Origin: Measured, Mark: MarkDoubtful},
		AtBallastSupply:   {ID: "ballast-supply", Label: "ballast, supply side", Value: "11.4 ± 0.3 V", Sub: "lowest 8.1 V", Origin: Predicted},
		AtBallastCoil:     {ID: "ballast-coil", Label: "ballast, coil side", Value: "7.2 ± 0.4 V", Sub: "lowest 6.1 V", Origin: Predicted},
		AtCoilFeed:        {ID: "coil-feed", Label: "coil feed terminal", Value: "7.1 ± 0.4 V", Sub: "lowest 6.1 V", Origin: Measured, Mark: MarkShort},
		AtCoilSwitched:    {ID: "coil-switched", Label: "coil switched terminal", Value: "1.02 ± 0.10 V", Sub: "mean 5.4 V", Origin: Predicted},
		AtBreakerTerminal: {ID: "breaker-terminal", Label: "breaker terminal", Value: "0.98 ± 0.10 V", Origin: Predicted},
		AtBreakerPlate:    {ID: "plate", Label: "breaker plate", Value: "0.12 ± 0.05 V", Sub: "highest 0.2 V", Origin: Assumed, Mark: MarkUnproven},
		AtHousing:         {ID: "housing", Label: "distributor housing", Value: "0.06 ± 0.03 V", Origin: Assumed},
		AtBlock:           {ID: "block", Label: "engine block", Value: "0.02 ± 0.01 V", Origin: Measured, Mark: MarkHolds},
		AtBatteryEarth:    {ID: "battery-earth", Label: "battery earth post", Value: "0 V", Sub: "reference", Origin: Stated},
		AtBody:            {ID: "body", Label: "body", Value: "0.03 ± 0.02 V", Origin: Predicted},
		AtChargeOut:       {ID: "charge-out", Label: "alternator output", Value: "12.6 ± 0.2 V", Origin: Predicted},
		AtTriggerSupply:   {ID: "trigger-supply", Label: "trigger supply terminal", Value: "11.2 ± 0.3 V", Sub: "lowest 7.9 V", Origin: Predicted, Mark: MarkDoubtful},
		AtRelayIn:         {ID: "relay-in", Label: "relay, fused side", Value: "12.4 ± 0.1 V", Origin: Predicted},
		AtRelayOut:        {ID: "relay-out", Label: "relay, outgoing", Value: "12.3 ± 0.1 V", Sub: "lowest 8.9 V", Origin: Predicted},
	}
}

var loopParts = []Part{
	{ID: "battery", Kind: Battery, From: "battery-earth", To: "battery-live", Label: "battery", Value: "11 mΩ", Origin: Assumed, Current: "28 A", Flow: 1},
	{ID: "battery-cable", Kind: Leg, From: "battery-live", To: "stud", Label: "battery cable", Value: "0.8 ± 0.3 mΩ", Origin: Assumed, Current: "28 A", Flow: 1},
	{ID: "main-feed", Kind: Leg, From: "stud", To: "junction", Label: "main feed", Value: "9 ± 3 mΩ", Origin: Assumed, Current: "12.4 A", Flow: 1},
	{ID: "switch-feed", Kind: Leg, From: "junction", To: "switch-in", Label: "switch feed", Value: "12 ± 4 mΩ", Origin: Assumed, Current: "4.6 A", Flow: 1},
	{ID: "key", Kind: KeySwitch, From: "switch-in", To: "switch-out", Label: "ignition switch", Value: "31 ± 6 mΩ", Origin: Measured, Current: "4.6 A", Flow: 1},
	{ID: "ignition-lead", Kind: Leg, From: "switch-out", To: "ballast-supply", Label: "ignition lead", Value: "20 ± 5 mΩ", Origin: Assumed, Current: "3.1 A", Flow: 1},
	{ID: "ballast", Kind: Ballast, From: "ballast-supply", To: "ballast-coil", Label: "ballast, hot", Value: "1.42 ± 0.06 Ω", Origin: Measured, Current: "3.1 A", Flow: 1},
	{ID: "coil-lead", Kind: Leg, From: "ballast-coil", To: "coil-feed", Label: "coil lead", Value: "15 ± 5 mΩ", Origin: Assumed, Current: "3.1 A", Flow: 1},
	{ID: "coil", Kind: Coil, From: "coil-feed", To: "coil-switched", Label: "coil primary", Value: "1.65 ± 0.05 Ω", Origin: Stated, Current: "3.1 A", Flow: 1},
	{ID: "trigger-lead", Kind: Leg, From: "coil-switched", To: "breaker-terminal", Label: "trigger lead", Value: "14 ± 5 mΩ", Origin: Assumed, Current: "3.1 A", Flow: 1},
	{ID: "pivot-wire", Kind: Leg, From: "plate", To: "housing", Label: "pivot wire", Value: "18 ± 9 mΩ", Origin: Assumed, Current: "3.2 A", Flow: 1},
	{ID: "clamp", Kind: Earth, From: "housing", To: "block", Label: "housing clamp", Value: "10 ± 8 mΩ", Origin: Assumed, Current: "3.2 A", Flow: 1},
	{ID: "earth-cable", Kind: Leg, From: "block", To: "battery-earth", Label: "earth cable", Value: "0.9 ± 0.3 mΩ", Origin: Measured, Current: "28 A", Flow: 1},
	{ID: "strap", Kind: Leg, From: "block", To: "body", Label: "engine strap", Value: "2 ± 1 mΩ", Origin: Assumed, Current: "15 A", Flow: -1},
	{ID: "starter", Kind: Starter, From: "stud", To: "block", Label: "starter", Current: "0 A"},
	{ID: "charge-lead", Kind: Leg, From: "charge-out", To: "junction", Label: "charge lead", Value: "8 ± 3 mΩ", Origin: Assumed, Current: "4 A", Flow: 1},
	{ID: "alternator", Kind: Alternator, From: "charge-out", To: "block", Label: "alternator at idle", Value: "13.9 V set", Origin: Stated, Current: "4 A", Flow: -1},
	{ID: "loads", Kind: Loads, From: "junction", To: "body", Label: "lamps, fan, brake lamps", Current: "15 A", Flow: 1},
	{ID: "bypass", Kind: KeySwitch, From: "stud", To: "coil-feed", Label: "start bypass, closed only while cranking", Value: "40 ± 15 mΩ", Origin: Assumed, Open: true},
}

var triggerParts = []Part{
	{ID: "trigger", Kind: Trigger, From: "breaker-terminal", To: "plate", Third: "trigger-supply", Label: "trigger", Value: "0.9 V drop", Origin: Stated, Current: "3.1 A", Flow: 1},
}

var relayParts = []Part{
	{ID: "relay-fuse", Kind: Fuse, From: "stud", To: "relay-in", Label: "fuse, 15 A", Value: "24 ± 5 mΩ", Origin: Assumed, Current: "3.2 A", Flow: 1, New: true},
	{ID: "relay", Kind: Relay, From: "relay-in", To: "relay-out", Third: "switch-out", Label: "relay", Value: "winding 85 Ω", Origin: Stated, Current: "0.14 A", New: true},
	{ID: "relay-wire", Kind: Leg, From: "relay-out", To: "ballast-supply", Label: "relay wire", Value: "11 ± 3 mΩ", Origin: Assumed, Current: "3.1 A", Flow: 1, New: true},
}

func feedFrom(node string) Part {
	return Part{ID: "trigger-feed", Kind: Leg, From: node, To: "trigger-supply", Label: "trigger feed", Value: "16 ± 5 mΩ", Origin: Assumed, Current: "0.08 A", Flow: 1, New: true}
}

// build keeps the nodes that the parts touch and adds the rest of the spec.
func build(tall bool, parts ...Part) WiringSpec {
	s := WiringSpec{Title: "Hot idle, every load on", Tall: tall, Parts: parts}
	want := map[string]bool{}
	for _, p := range parts {
		want[p.From], want[p.To], want[p.Third] = true, true, true
	}
	all := nodesOf()
	for pl := Nowhere + 1; pl < placeCount; pl++ {
		n := all[pl]
		if want[n.ID] {
			n.Place = pl
			s.Nodes = append(s.Nodes, n)
		}
	}
	return s
}

func without(parts []Part, ids ...string) []Part {
	var out []Part
next:
	for _, p := range parts {
		for _, id := range ids {
			if p.ID == id {
				continue next
			}
		}
		out = append(out, p)
	}
	return out
}

func with(parts []Part, more ...Part) []Part { return append(append([]Part{}, parts...), more...) }

// wiringCases are the circuits the layout is judged by.
func wiringCases() map[string]func(tall bool) WiringSpec {
	full := with(loopParts, with(triggerParts, relayParts...)...)
	return map[string]func(bool) WiringSpec{
		// Everything at once, with a condenser left in beside the trigger.
		"full": func(t bool) WiringSpec {
			return build(t, with(full, feedFrom("relay-out"),
				Part{ID: "condenser", Kind: Condenser, From: "breaker-terminal", To: "plate", Label: "condenser", Value: "0.22 µF", Origin: Stated, Missing: true})...)
		},
		"relay-switch-feed": func(t bool) WiringSpec { return build(t, with(full, feedFrom("switch-out"))...) },
		"no-relay": func(t bool) WiringSpec {
			return build(t, with(loopParts, with(triggerParts, feedFrom("ballast-supply"))...)...)
		},
		"coil-feed": func(t bool) WiringSpec {
			return build(t, with(loopParts, with(triggerParts, feedFrom("coil-feed"))...)...)
		},
		// No ballast: the ignition lead runs to the coil. A generator, a dynamo
		// of a 6 V car with positive earth, joined without a node of its own.
		"no-ballast-points": func(t bool) WiringSpec {
			p := without(loopParts, "ballast", "coil-lead", "ignition-lead", "bypass", "charge-lead", "alternator")
			p = with(p,
				Part{ID: "ignition-lead", Kind: Leg, From: "switch-out", To: "coil-feed", Label: "ignition lead", Value: "20 ± 5 mΩ", Current: "4.0 A", Flow: 1},
				Part{ID: "generator", Kind: Generator, From: "junction", To: "block", Label: "generator", Value: "7.2 V set", Origin: Stated, Current: "0 A"},
				Part{ID: "points", Kind: Points, From: "breaker-terminal", To: "plate", Label: "points", Value: "40 ± 20 mΩ", Current: "4.0 A", Flow: 1},
				Part{ID: "condenser", Kind: Condenser, From: "breaker-terminal", To: "plate", Label: "condenser", Value: "0.22 µF", Origin: Stated},
				Part{ID: "volts", Kind: Meter, From: "coil-feed", To: "block", Label: "voltmeter", Value: "5.8 ± 0.1 V", Origin: Measured})
			s := build(t, p...)
			s.Title, s.PositiveEarth = "Key on, points closed", true
			return s
		},
		"dual-points": func(t bool) WiringSpec {
			p := with(without(loopParts, "alternator", "charge-lead"),
				Part{ID: "points", Kind: DualPoints, From: "breaker-terminal", To: "plate", Label: "dual points", Value: "40 ± 20 mΩ", Open: true},
				Part{ID: "condenser", Kind: Condenser, From: "breaker-terminal", To: "plate", Label: "condenser", Value: "0.22 µF", Origin: Stated},
				Part{ID: "amps", Kind: Meter, Third: "trigger-lead", Label: "current clamp", Value: "3.1 A", Origin: Measured})
			return build(t, p...)
		},
		"bare": func(t bool) WiringSpec {
			s := build(t, without(loopParts, "starter", "charge-lead", "alternator", "loads", "bypass", "strap")...)
			for i := range s.Nodes {
				s.Nodes[i].Value, s.Nodes[i].Sub, s.Nodes[i].Mark = "", "", MarkNone
			}
			return s
		},
	}
}
