package pulse

import (
	"fmt"
	"math"
)

// Rides says what the line stands at when a pulse comes.
type Rides string

// A pulse comes on a live line or on one just switched off.
const (
	OnSupply   Rides = "on_supply"    // the supply stays; the pulse adds to it
	OnDeadLine Rides = "on_dead_line" // the line was switched off just before
)

// Span is a range a standard leaves open: from Least to Most, in the unit of
// what it is a range of. For negative amplitudes Most is the harsher, the
// lower one.
type Span struct {
	Least float64 `json:"least"`
	Most  float64 `json:"most"`
}

// Pulse is one test pulse: the ranges of the standard, and one choice out of
// them that can be changed freely.
type Pulse struct {
	ID    string `json:"id"`   // "1", "2a", ...
	Name  string `json:"name"` // what makes it, in words
	Rides Rides  `json:"rides"`

	PeakRangeV     Span `json:"peak_range_v"` // of the peak, from what the line stands at
	OhmRange       Span `json:"ohm_range"`
	DurationRangeS Span `json:"duration_range_s"` // 10 % to 10 %
	RiseRangeS     Span `json:"rise_range_s"`     // 10 % to 90 %

	PeakV     float64 `json:"peak_v"`       // open circuit, from what the line stands at; negative for a negative pulse
	Ohm       float64 `json:"ohm"`          // source resistance
	RiseS     float64 `json:"rise_10_90_s"` // s, 10 % to 90 %
	DurationS float64 `json:"duration_10_10_s"`
	ClampV    float64 `json:"clamp_v,omitempty"`     // from earth, not from the supply; 0 for none
	ClampOhm  float64 `json:"clamp_ohm,omitempty"`   // slope of that clamp
	RepeatS   float64 `json:"repeat_s,omitempty"`    // least time from one to the next, 0 where it comes once
	Source    string  `json:"source"`                // where the figures come from
	TestLineV float64 `json:"test_line_v,omitempty"` // what the standard's own supply stands at
}

// Where the figures were read. "Published" is what a text other than the
// standard quotes of it.
const (
	fromSheets  = "ISO 7637-2:2004 levels III and IV, source resistance and duration as quoted in the electrical-transient tables of several high-side driver data sheets (published)"
	fromSetups  = "rise time as in published setups of a test generator"
	fromManuals = "ISO 16750-2 test A and B as quoted in manuals of test supplies and in a published comparison of load-dump requirements"
)

// Standard returns the pulses of ISO 7637-2:2004 for 12 V systems, in its
// order, each at the harsher end of its amplitude, and 5a and 5b at the lowest
// source resistance with the middle of their duration, 200 ms. The slice is
// the caller's own.
func Standard() []Pulse {
	return []Pulse{
		{
			ID: "1", Name: "inductive load switched off together with the trigger", Rides: OnDeadLine,
			PeakRangeV: Span{-75, -100}, OhmRange: Span{10, 10}, DurationRangeS: Span{2e-3, 2e-3}, RiseRangeS: Span{0.5e-6, 1e-6},
			PeakV: -100, Ohm: 10, RiseS: 1e-6, DurationS: 2e-3, RepeatS: 0.5, TestLineV: 13.5,
			Source: fromSheets + "; rise of 1 us from memory",
		},
		{
			ID: "2a", Name: "another load cut off: the harness kicks", Rides: OnSupply,
			PeakRangeV: Span{37, 50}, OhmRange: Span{2, 2}, DurationRangeS: Span{50e-6, 50e-6}, RiseRangeS: Span{0.5e-6, 1e-6},
			PeakV: 50, Ohm: 2, RiseS: 1e-6, DurationS: 50e-6, RepeatS: 0.2, TestLineV: 13.5,
			Source: fromSheets + "; " + fromSetups,
		},
		{
			ID: "2b", Name: "motor running down after the ignition is switched off", Rides: OnDeadLine,
			PeakRangeV: Span{10, 10}, OhmRange: Span{0, 0.05}, DurationRangeS: Span{0.2, 2}, RiseRangeS: Span{0.5e-3, 1e-3},
			PeakV: 10, Ohm: 0.05, RiseS: 1e-3, DurationS: 2, TestLineV: 13.5,
			Source: "ISO 7637-2:2004: rise of 1 ms as quoted in manuals of test supplies (published); 10 V, 0.2 to 2 s, 0 to 0.05 ohm from memory; its fall taken as the double exponential of the others",
		},
		{
			ID: "3a", Name: "switch chattering, negative", Rides: OnSupply,
			PeakRangeV: Span{-112, -150}, OhmRange: Span{50, 50}, DurationRangeS: Span{0.1e-6, 0.2e-6}, RiseRangeS: Span{3.5e-9, 6.5e-9},
			PeakV: -150, Ohm: 50, RiseS: 5e-9, DurationS: 0.1e-6, RepeatS: 100e-6, TestLineV: 13.5,
			Source: fromSheets + " (which give -100 V for level III, against -112 V from memory); " + fromSetups + "; 0.2 us and 100 us between pulses from memory",
		},
		{
			ID: "3b", Name: "switch chattering, positive", Rides: OnSupply,
			PeakRangeV: Span{75, 100}, OhmRange: Span{50, 50}, DurationRangeS: Span{0.1e-6, 0.2e-6}, RiseRangeS: Span{3.5e-9, 6.5e-9},
			PeakV: 100, Ohm: 50, RiseS: 5e-9, DurationS: 0.1e-6, RepeatS: 100e-6, TestLineV: 13.5,
			Source: fromSheets + "; " + fromSetups + "; 0.2 us from memory",
		},
		{
			ID: "5a", Name: "load dump: battery off a charging alternator", Rides: OnSupply,
			PeakRangeV: Span{65, 87}, OhmRange: Span{0.5, 4}, DurationRangeS: Span{40e-3, 400e-3}, RiseRangeS: Span{5e-3, 10e-3},
			PeakV: 87, Ohm: 0.5, RiseS: 10e-3, DurationS: 200e-3, TestLineV: 13.5,
			Source: fromSheets + "; ranges of source resistance, rise and duration: " + fromManuals,
		},
		{
			ID: "5b", Name: "load dump of an alternator with clamping diodes", Rides: OnSupply,
			PeakRangeV: Span{65, 87}, OhmRange: Span{0.5, 4}, DurationRangeS: Span{40e-3, 400e-3}, RiseRangeS: Span{5e-3, 10e-3},
			PeakV: 87, Ohm: 0.5, RiseS: 10e-3, DurationS: 200e-3, ClampV: 35, ClampOhm: 10e-3, TestLineV: 13.5,
			Source: fromSheets + "; clamped at 35 V: " + fromManuals + "; the clamp's slope of 10 mohm is assumed",
		},
	}
}

// Find returns the pulse of that ID.
func Find(id string) (Pulse, error) {
	have := ""
	for _, p := range Standard() {
		if p.ID == id {
			return p, nil
		}
		have += " " + p.ID
	}
	return Pulse{}, fmt.Errorf("pulse: no pulse %q; accepted:%s", id, have)
}

// Validate says what is wrong with the chosen figures, nil when they make a
// pulse.
func (p Pulse) Validate() error {
	bad := func(what string, v float64, accepted string) error {
		return fmt.Errorf("pulse %s: %s is %g; %s is accepted", p.ID, what, v, accepted)
	}
	switch {
	case !(math.Abs(p.PeakV) <= 1e5): // NaN too
		return bad("peak", p.PeakV, "-100 kV to 100 kV")
	case !(p.Ohm >= 1e-4 && p.Ohm <= 1e6):
		return bad("source resistance", p.Ohm, "0.1 mohm to 1 Mohm")
	case !(p.RiseS >= 1e-12 && p.RiseS <= 1e3):
		return bad("rise", p.RiseS, "1 ps to 1000 s")
	case !(p.DurationS >= 1e-12 && p.DurationS <= 1e4):
		return bad("duration", p.DurationS, "1 ps to 10000 s")
	case !(p.RiseS <= MostRise*p.DurationS):
		return bad("rise", p.RiseS, fmt.Sprintf("at most %.4g s, %.3g %% of the duration, which is as slow as a double exponential rises,", MostRise*p.DurationS, 100*MostRise))
	case !(p.RiseS >= leastRise*p.DurationS):
		return bad("rise", p.RiseS, fmt.Sprintf("at least a millionth of the duration, %g s,", leastRise*p.DurationS))
	case !(p.ClampV >= 0 && p.ClampV <= 1e5):
		return bad("clamp", p.ClampV, "0 for none, or up to 100 kV")
	case p.ClampV > 0 && !(p.ClampOhm >= 1e-6 && p.ClampOhm <= 1e6):
		return bad("slope of the clamp", p.ClampOhm, "1 uohm to 1 Mohm")
	}
	return nil
}
