package draw

// WiringSpec is a primary circuit as data: what stands where and what is
// written beside it. It holds words, not numbers; whoever fills it has
// already put units and plus-or-minus into the words.
type WiringSpec struct {
	Title         string
	Tall          bool   // laid out for a phone instead of a laptop
	EarthLabel    string // which post is earthed, in words; empty: "negative earth" or "positive earth"
	PositiveEarth bool   // the battery's positive post is the earthed one
	Nodes         []Node
	Parts         []Part
}

// Node is a test point of the circuit with the voltage found or foreseen
// there.
type Node struct {
	ID     string
	Label  string // "ballast, supply side"
	Value  string // "11.4 ± 0.3 V"; never shortened in the picture
	Sub    string // second line, "lowest 6.1 V"
	Origin Origin // of Value
	Mark   CellMark
	Place  Place
	Link   string // where a tap leads; see Group.Link
}

// Part is something between two nodes.
type Part struct {
	ID       string
	Kind     PartKind
	From, To string // node IDs
	Third    string // Trigger: node of its supply; Relay: node that feeds its winding; Meter: see Meter
	Label    string
	Value    string // "1.42 Ω hot"
	Origin   Origin // of Value
	Current  string // "3.1 A"
	Flow     int    // arrow: +1 from From to To, -1 the other way, 0 none
	Open     bool   // a switch, relay contact or breaker drawn open; for a relay, not pulled in
	Missing  bool   // drawn broken: not connected
	New      bool   // a wire to be added
	Link     string // where a tap leads; see Group.Link
}

// PartKind says which symbol a part has and where it may stand.
type PartKind uint8

const (
	Leg        PartKind = iota // a run of wire
	Earth                      // a metal joint in the return path, such as a clamp
	Battery                    // AtBatteryLive to AtBatteryEarth
	Generator                  // AtChargeOut or AtFeedJunction to AtBlock
	Alternator                 // as Generator
	Starter                    // AtStarterStud to AtBlock
	Loads                      // AtFeedJunction to AtBody
	KeySwitch                  // AtSwitchIn to AtSwitchOut; also the contact in the start bypass
	Ballast                    // AtBallastSupply to AtBallastCoil
	Coil                       // AtCoilFeed to AtCoilSwitched
	Points                     // AtBreakerTerminal to AtBreakerPlate
	DualPoints                 // as Points
	Trigger                    // as Points, Third its supply at AtTriggerSupply
	Condenser                  // across the points
	Relay                      // AtRelayIn to AtRelayOut, Third the node that feeds its winding, AtSwitchOut
	Fuse                       // in the wire from AtStarterStud to AtRelayIn

	// Meter is not drawn as a wire. With From and To it marks where the red
	// and the black lead of a voltmeter go. With Third, the ID of another
	// part, it marks where a current clamp goes round.
	Meter
	kindCount
)

var kindNames = [kindCount]string{
	"wire", "joint", "battery", "generator", "alternator", "starter", "loads",
	"ignition switch", "ballast", "coil", "points", "dual points", "trigger",
	"condenser", "relay", "fuse", "meter",
}

// String is the kind in words.
func (k PartKind) String() string {
	if k >= kindCount {
		return "unknown part"
	}
	return kindNames[k]
}

// Place is a spot of the grid on which every wiring picture is laid out, so
// that the same terminal is in the same place whatever is fitted.
type Place uint8

const (
	Nowhere           Place = iota
	AtBatteryLive           // live post
	AtStarterStud           // starter solenoid or switch, battery side
	AtFeedJunction          // where charging and loads join the feed
	AtSwitchIn              // ignition switch, incoming
	AtSwitchOut             // ignition switch, outgoing
	AtBallastSupply         // ballast, supply side
	AtBallastCoil           // ballast, coil side
	AtCoilFeed              // coil's feed terminal
	AtCoilSwitched          // coil's switched terminal
	AtBreakerTerminal       // terminal on the distributor
	AtBreakerPlate
	AtHousing // distributor housing
	AtBlock   // engine block
	AtBatteryEarth
	AtBody
	AtChargeOut     // output of the generator or alternator
	AtTriggerSupply // trigger's supply terminal
	AtRelayIn       // relay contact, behind the fuse
	AtRelayOut      // relay contact, outgoing
	placeCount
)

var placeNames = [placeCount]string{
	"nowhere", "battery live post", "starter stud", "feed junction",
	"ignition switch in", "ignition switch out", "ballast supply side",
	"ballast coil side", "coil feed terminal", "coil switched terminal",
	"breaker terminal", "breaker plate", "distributor housing", "engine block",
	"battery earth post", "body", "charging output", "trigger supply terminal",
	"relay contact in", "relay contact out",
}

// String is the place in words.
func (p Place) String() string {
	if p >= placeCount {
		return "unknown place"
	}
	return placeNames[p]
}
