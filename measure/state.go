package measure

import "dwellwright/car"

// state is what the car is in while something is read: one of its built-in
// conditions, or one made out of such a one.
type state int

const (
	coldCrank state = iota
	hotRestart
	hotIdle
	cruise
	topSpeed
	keyClosed
	keyOpen
	coolCrank // out of coldCrank: a mild day
	coldFast  // out of hotIdle: 1500 rpm, two minutes after a cold start, nothing on
	lampsOff  // out of hotIdle: nothing on
	pulled    // out of keyClosed: a hand pump holds the vacuum can's plate all the way
	keyOff    // out of keyOpen: nothing is solved
	states    = iota
)

// depth is how far a state is worked out.
type depth uint8

const (
	network  depth = 1 << iota // the circuit is solved
	firingOf                   // one firing on top of it
	geometry                   // timing, rotor and cap
)

var stateTable = [states]struct{ from, condition, name, engine string }{
	coldCrank:  {"cold_crank", "cold_crank", "cold crank", "cranking, engine cold"},
	hotRestart: {"hot_restart", "hot_restart", "hot restart", "cranking, engine hot"},
	hotIdle:    {"hot_idle", "hot_idle", "hot idle, every load on", "hot idle, every load on"},
	cruise:     {"cruise", "cruise", "cruise", "running hot at cruising speed, lamps on"},
	topSpeed:   {"top_speed", "top_speed", "top speed", "running hot at top speed"},
	keyClosed:  {"key_on_closed", "key_on_closed", "key on, points closed", "key on, engine stopped, points closed or trigger conducting, for a minute at most"},
	keyOpen:    {"key_on_open", "key_on_open", "key on, points open", "key on, engine stopped, points open or trigger off"},
	coolCrank:  {"cold_crank", "", "cranking on a mild day", "cranking, engine cold, a mild day"},
	coldFast:   {"hot_idle", "", "1500 rpm after a cold start", "1500 rpm, two minutes after a cold start, every load off"},
	lampsOff:   {"hot_idle", "", "hot idle, nothing on", "hot idle, every load off"},
	pulled:     {"key_on_closed", "", "key on, points closed, vacuum plate pulled", "key on, engine stopped, points closed or trigger conducting, a hand pump holding the vacuum can at full travel"},
	keyOff:     {"key_on_open", "", "key off", "key off, cold"},
}

// from is the id of the car's condition that a state is or is made of.
func (s state) from() string { return stateTable[s].from }

// condition is the id of the car's condition that a state is, "" where it is
// made of one.
func (s state) condition() string { return stateTable[s].condition }

func (s state) engine() string { return stateTable[s].engine }

// id is the condition's id in the bench's own car. A made state's has a sign
// that no id in a car file can have.
func (s state) id() string {
	if c := s.condition(); c != "" {
		return c
	}
	return "measure:" + stateTable[s].name
}

// solved reports whether the state has a network of its own.
func (s state) solved() bool { return s != keyOff }

// Figures of the made states.
const (
	fastIdleRPM = 1500.0 // rpm of the trade's charging test
	coldC       = 20.0   // °C of all that has not warmed yet
	mildC       = 15.0   // °C of a mild day
	mildFaster  = 1.3    // cranking speed over that of the cold crank [cold cranking is about two thirds of warm, from memory]
	coldBayC    = 30.0   // °C of the bay after two minutes, an estimate
	pumpPa      = 55e3   // Pa below the air outside that a hand pump holds [16 inHg, common practice]
)

// make turns a copy of the condition that a state is made of into the state.
func (s state) make(k *car.Condition) {
	if s.condition() != "" {
		return
	}
	k.ID, k.Name, k.BuiltIn = s.id(), stateTable[s].name, false
	switch s {
	case coolCrank:
		k.Speed.X *= mildFaster
		k.Charge.X += mildC - k.BatteryTemp.X
		k.BatteryTemp.X, k.RegulatorTemp.X, k.BayTemp.X = mildC, mildC, mildC
	case coldFast:
		k.Loads = nil
		k.Speed.X = fastIdleRPM
		k.BatteryTemp.X, k.RegulatorTemp.X, k.BayTemp.X = coldC, coldC, coldBayC
	case lampsOff:
		k.Loads = nil
	case pulled:
		k.Manifold.X -= pumpPa
	}
}
