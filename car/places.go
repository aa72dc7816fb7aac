package car

// TestPoint is a place where a probe goes: its name in a car file and in
// words.
type TestPoint struct{ ID, Name string }

// TestPoints are the places a meter's probe can touch, in the order in which
// current meets them. Both probes of a volt or ohm reading name one each.
var TestPoints = []TestPoint{
	{"battery_live", "live battery post (the metal of the post, not the clamp)"},
	{"starter_stud", "live stud of the starter switch, battery side"},
	{"feed_junction", "junction where battery, charging and ignition feeds meet"},
	{"generator_output", "output terminal of the generator or alternator"},
	{"switch_in", "feed terminal of the ignition switch"},
	{"switch_out", "run terminal of the ignition switch"},
	{"ballast_supply", "supply end of the ballast"},
	{"ballast_coil_side", "coil end of the ballast"},
	{"coil_feed", "feed terminal of the coil"},
	{"coil_switched", "switched terminal of the coil"},
	{"breaker_terminal", "insulated terminal on the distributor"},
	{"breaker_plate", "breaker plate, bare metal beside the points or trigger"},
	{"housing", "distributor housing"},
	{"block", "engine block"},
	{"body", "bodywork at the bulkhead"},
	{"battery_earth", "earthed battery post (the metal of the post, not the clamp)"},
	{"trigger_supply", "supply terminal of the trigger module"},
	{"relay_out", "outgoing contact of the relay"},
}

// LegNames are the names of the wiring legs in a car file, indexed by LegID.
var LegNames = [LegCount]string{
	BatteryCable: "battery_cable",
	MainFeed:     "main_feed",
	ChargeLead:   "charge_lead",
	SwitchFeed:   "switch_feed",
	IgnitionLead: "ignition_lead",
	CoilLead:     "coil_lead",
	TriggerLead:  "trigger_lead",
	BypassLead:   "bypass_lead",
	FeedWire:     "feed_wire",
	RelayFeed:    "relay_feed",
	PivotWire:    "pivot_wire",
	HousingClamp: "housing_clamp",
	EngineStrap:  "engine_strap",
	EarthCable:   "earth_cable",
}

// LegTitles are the wiring legs in words, indexed by LegID.
var LegTitles = [LegCount]string{
	BatteryCable: "live battery post to starter stud",
	MainFeed:     "starter stud to feed junction",
	ChargeLead:   "generator or alternator output to feed junction",
	SwitchFeed:   "feed junction to ignition switch",
	IgnitionLead: "ignition switch to supply side of the ballast",
	CoilLead:     "coil side of the ballast to coil feed terminal",
	TriggerLead:  "coil switched terminal to distributor terminal",
	BypassLead:   "start bypass, starter stud to coil feed terminal",
	FeedWire:     "trigger supply wire from its feed point",
	RelayFeed:    "fused wire from starter stud to relay contact",
	PivotWire:    "breaker plate to distributor housing",
	HousingClamp: "distributor housing to engine block",
	EngineStrap:  "engine block to body",
	EarthCable:   "engine block to earthed battery post",
}

// ClampParts are what a current clamp can be put round besides a wiring leg.
var ClampParts = []TestPoint{
	{"coil", "either primary wire of the coil"},
	{"battery", "live battery cable, everything the battery gives or takes"},
	{"generator", "output wire of the generator or alternator"},
	{"ballast", "wire of the ballast"},
}

// HeatParts are what a thermometer can be held to.
var HeatParts = []TestPoint{
	{"coil", "winding of the coil, by its can once that is as hot as it gets"},
	{"ballast", "ballast resistor"},
}

// HighParts are where a spark tester can hang.
var HighParts = []TestPoint{
	{"coil_tower", "high-voltage tower of the coil, or one plug lead with the others on their plugs"},
}

// LightParts are where a timing light is pointed.
var LightParts = []TestPoint{
	{"damper", "timing marks of the damper or flywheel, on No. 1, vacuum hose off and plugged"},
}

// WindowParts are what is seen of the rotor through a window in the cap, by a
// timing light.
var WindowParts = []TestPoint{
	{"rotor_tip", "rotor's tip from its tower at the spark, past it above 0, vacuum hose off"},
	{"rotor_tip_full_vacuum", "the same with the can drawn all the way by a hand pump"},
}

// FeelerParts are where a feeler gauge goes.
var FeelerParts = []TestPoint{
	{"air_gap", "air gap of the trigger, the widest of all lobes, with a plastic feeler"},
}

// CaliperParts are what a caliper is put to.
var CaliperParts = []TestPoint{
	{"rotor_gap", "from the rotor's tip to the cap's electrode, off clay or a cut cap"},
	{"rotor_engagement", "length of shaft in the rotor's bore, the trigger's sleeve fitted"},
}

// LegByName finds a wiring leg by its name in a car file.
func LegByName(name string) (LegID, bool) {
	for id, n := range LegNames {
		if n == name {
			return LegID(id), true
		}
	}
	return 0, false
}

func ids(points []TestPoint) []string {
	list := make([]string, len(points))
	for i, p := range points {
		list[i] = p.ID
	}
	return list
}
