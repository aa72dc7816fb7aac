package spike

import (
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/pulse"
)

// Kind is what happens.
type Kind string

// What can happen.
const (
	TestPulse      Kind = "test_pulse"        // Case.Pulse, where Case.At says
	LoadOff        Kind = "load_switched_off" // Case.Load, cut off with the ignition line
	BatteryOff     Kind = "battery_comes_off" // while the generator charges
	JumpStart      Kind = "jump_start"        // Case.Level joined to the battery's live post
	ReverseBattery Kind = "reverse_battery"   // Case.Level in the battery's place
	StartProfile   Kind = "start_profile"     // Case.Profile in the battery's place
)

// Place is where a test pulse comes from.
type Place string

// The places. A car without a generator takes GeneratorOutput as BatteryLive.
const (
	IgnitionLine    Place = "ignition_line"
	BatteryLive     Place = "battery_live"
	GeneratorOutput Place = "generator_output"
)

// Load is an inductive load fed from the ignition line.
type Load struct {
	Name    string  `json:"name"`
	Henries float64 `json:"inductance_h"`
	Amps    float64 `json:"current_a"`
	// ArcV is the voltage at which the opening contact that feeds the line
	// strikes an arc; it bounds the spike.
	ArcV float64 `json:"arc_v"`
	// WindingFarads is the capacitance of the winding and its wire, 0 for none.
	// It is what the current charges in the instant before anything else takes
	// it over.
	WindingFarads float64 `json:"winding_f"`
}

// Blower is a typical load that shares an ignition line. The air in a gap just opened
// breaks down at 300 V or so [Paschen's minimum, 327 V in air, textbook]; a
// contact that parts slowly under amps arcs at tens of volts, so 300 V is the
// harsh end.
func Blower() Load { return Load{"blower", 2e-3, 7, 300, 200e-12} } // [inductance and capacitance from memory]

// RelayWinding is the winding of a relay without a suppressor: 80 ohm at 12 V
// and a few tenths of a henry, 100 pF [from memory].
func RelayWinding() Load { return Load{"relay winding", 0.3, 0.15, 300, 100e-12} }

// Case is one thing that happens to the supply.
type Case struct {
	ID   string `json:"id"`
	Kind Kind   `json:"kind"`

	Pulse      *pulse.Pulse   `json:"pulse,omitempty"`
	At         Place          `json:"at,omitempty"`
	BatteryOff bool           `json:"battery_off"`
	Load       *Load          `json:"load,omitempty"`
	Level      *pulse.Level   `json:"level,omitempty"`
	Profile    *pulse.Profile `json:"profile,omitempty"`
	// SourceOhm is the resistance of what a jump start comes through: the
	// other vehicle's batteries and the leads.
	SourceOhm float64 `json:"source_ohm,omitempty"`
	// PulleyRatio is turns of the generator for one of the engine, for
	// BatteryOff.
	PulleyRatio float64 `json:"pulley_ratio,omitempty"`
}

// Cases lists what the car is asked about: the standard's pulses, then its own
// events. What does not fit it is answered with a reason (Result.Refused).
func Cases(c *car.Car) []Case {
	var list []Case
	for _, p := range pulse.Standard() {
		k := Case{ID: "pulse_" + p.ID, Kind: TestPulse, Pulse: &p, At: IgnitionLine}
		if p.ID == "5a" || p.ID == "5b" {
			k.At, k.BatteryOff = GeneratorOutput, true
		}
		list = append(list, k)
	}
	blower, winding := Blower(), RelayWinding()
	for i := range c.Loads { // the car's own, where it has one
		if c.Loads[i].ID == "blower" && c.Loads[i].Current.X > 0 {
			blower.Amps = c.Loads[i].Current.X
		}
	}
	jump := pulse.JumpStart()
	// Two 12 V batteries of 6 mohm and two leads of 5 mohm [from memory].
	const jumpOhm = 22e-3
	reverse := pulse.Reverse(false)
	list = append(list,
		Case{ID: "blower_off", Kind: LoadOff, Load: &blower},
		Case{ID: "relay_winding_off", Kind: LoadOff, Load: &winding},
		Case{ID: "battery_comes_off", Kind: BatteryOff, BatteryOff: true, PulleyRatio: 2}, // about 2 [common practice, no source]
		Case{ID: "jump_start", Kind: JumpStart, Level: &jump, SourceOhm: jumpOhm},
		Case{ID: "jump_start_alone", Kind: JumpStart, Level: &jump, SourceOhm: jumpOhm, BatteryOff: true},
		Case{ID: "reverse_battery", Kind: ReverseBattery, Level: &reverse, BatteryOff: true},
	)
	for _, p := range pulse.Profiles() {
		list = append(list, Case{ID: "start_profile_" + p.Level, Kind: StartProfile, Profile: &p, BatteryOff: true})
	}
	return list
}

// Validate says what is wrong with a case, nil when nothing is.
func (k Case) Validate() error {
	bad := func(format string, args ...any) error {
		return fmt.Errorf("spike: case %q: %s", k.ID, fmt.Sprintf(format, args...))
	}
	within := func(v, lo, hi float64) bool { return v >= lo && v <= hi }
	switch k.Kind {
	case TestPulse:
		if k.Pulse == nil {
			return bad("no pulse; a test pulse wants one")
		}
		if k.At != IgnitionLine && k.At != BatteryLive && k.At != GeneratorOutput {
			return bad("place %q; accepted: %s, %s or %s", k.At, IgnitionLine, BatteryLive, GeneratorOutput)
		}
		return k.Pulse.Validate()
	case LoadOff:
		switch l := k.Load; {
		case l == nil:
			return bad("no load; a load switched off wants one")
		case !within(l.Henries, 1e-9, 100):
			return bad("inductance %g H; 1 nH to 100 H is accepted", l.Henries)
		case !within(l.Amps, 1e-4, 1000):
			return bad("current %g A; 0.1 mA to 1000 A is accepted", l.Amps)
		case l.WindingFarads != 0 && !within(l.WindingFarads, 1e-15, 1e-3):
			return bad("capacitance of the winding %g F; 0, or 1 fF to 1 mF is accepted", l.WindingFarads)
		case !within(l.ArcV, 10, 1e5):
			return bad("arc voltage %g V; 10 V to 100 kV is accepted", l.ArcV)
		}
	case BatteryOff:
		if !within(k.PulleyRatio, 0.1, 20) {
			return bad("pulley ratio %g; 0.1 to 20 is accepted", k.PulleyRatio)
		}
	case JumpStart, ReverseBattery:
		switch l := k.Level; {
		case l == nil:
			return bad("no level; one is wanted")
		case !(math.Abs(l.Volts) <= 1000):
			return bad("level %g V; -1000 to 1000 V is accepted", l.Volts)
		case !within(l.TimeS, 0, 1e6):
			return bad("time %g s; 0 to a million is accepted", l.TimeS)
		case k.Kind == JumpStart && !within(k.SourceOhm, 1e-4, 1e3):
			return bad("source resistance %g ohm; 0.1 mohm to 1 kohm is accepted", k.SourceOhm)
		}
	case StartProfile:
		if k.Profile == nil {
			return bad("no profile; one is wanted")
		}
		last := -1.0
		for _, p := range k.Profile.Points() {
			if !(math.Abs(p.Volts) <= 1000) || !within(p.TimeS, last, 1e6) {
				return bad("a profile through %g V at %g s; -1000 to 1000 V and times that do not go back are accepted", p.Volts, p.TimeS)
			}
			last = p.TimeS
		}
	default:
		return bad("kind %q; accepted: %s, %s, %s, %s, %s or %s", k.Kind, TestPulse, LoadOff, BatteryOff, JumpStart, ReverseBattery, StartProfile)
	}
	return nil
}
