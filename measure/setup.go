package measure

// Setup is what has to be got ready once for all readings of a group. Minutes
// are estimates, as are those of the readings.
type Setup struct {
	ID      string  `json:"id"`
	Name    string  `json:"name"`
	Minutes float64 `json:"minutes"`
}

var setups = []Setup{
	{"ask", "the owner is asked", 1},
	{"eyes", "bonnet up, engine cool, a lamp", 2},
	{"meter", "voltmeter out, bonnet up, key on", 2},
	{"meter_crank", "remote starter switch, coil's high-voltage lead earthed, voltmeter", 6},
	{"meter_start", "voltmeter, engine started, cold", 4},
	{"meter_hot", "voltmeter, engine warmed up", 14},
	{"clamp", "current clamp, zeroed", 3},
	{"clamp_hot", "current clamp with a scope, engine warmed up", 16},
	{"ohms", "battery off, ohmmeter with its leads nulled, wires off the part", 5},
	{"ohms_hot", "the same within seconds of ten minutes' running", 15},
	{"scope_hot", "scope with its pick-ups, engine warmed up", 20},
	{"tester_crank", "grounded spark tester, remote starter switch", 5},
	{"tester_run", "grounded spark tester on one lead, engine warmed up", 15},
	{"dwell", "dwell meter, engine warmed up", 14},
	{"light", "timing light, hose off and plugged, marks chalked, engine warmed up", 16},
	{"window", "cap with a window, timing light", 25},
	{"pump", "hand vacuum pump on the can", 3},
	{"gauge", "vacuum gauge on its hose, engine warmed up", 14},
	{"cap_off", "cap off, battery off", 3},
	{"plugs_out", "engine cool, plugs out", 20},
	{"bench", "distributor out, in soft jaws", 30},
	{"heat", "thermometer, engine at its heat after a drive", 20},
}

// Setups lists the set-up groups.
func Setups() []Setup { return append([]Setup(nil), setups...) }

func setupByID(id string) Setup {
	for _, s := range setups {
		if s.ID == id {
			return s
		}
	}
	return Setup{ID: id}
}
