package spike

import "fmt"

// Spot is where a capacitor or clamp is joined.
type Spot string

// The spots. The zero Spot is AtTrigger.
const (
	AtTrigger      Spot = "trigger"       // trigger's supply terminal to breaker plate; with points the coil's feed terminal to the engine
	AtCoilFeed     Spot = "coil_feed"     // coil's feed terminal to the engine
	AtIgnitionLine Spot = "ignition_line" // where the line leaves its contact, to the body
)

// Capacitor is a suppression capacitor. None of 0 farads is fitted. One so
// small that it would swing 100000 times in the time looked at is refused.
type Capacitor struct {
	Farads      float64 `json:"capacitance_f"`
	LeadHenries float64 `json:"lead_inductance_h"` // both leads together; about 1 uH a metre
	SeriesOhms  float64 `json:"series_ohm"`
	At          Spot    `json:"at,omitempty"`
}

// Clamp is a suppressor diode or the like: nothing below Volts, then a slope.
// None of 0 volts is fitted. One that does not work both ways conducts
// backward like a diode.
type Clamp struct {
	Volts     float64 `json:"clamp_v"`
	SlopeOhms float64 `json:"slope_ohm"`
	BothWays  bool    `json:"both_ways"`
	At        Spot    `json:"at,omitempty"`
}

// backV is the forward voltage of a one-way suppressor diode [textbook: 0.7
// to 1 V].
const backV = 0.9

// Protection is what is fitted against spikes. The zero value is none.
type Protection struct {
	ID        string    `json:"id,omitempty"`
	Capacitor Capacitor `json:"capacitor"`
	Clamp     Clamp     `json:"clamp"`
	// HealthyBattery puts a full battery of the usual resistance in the car,
	// firmly joined, whatever the case says of the battery. It does not help
	// where another source stands in the battery's place.
	HealthyBattery bool `json:"healthy_battery"`
}

// Usual is what can be had against spikes: a 0.5 uF suppression capacitor on
// 0.1 m of lead, a clamp of a suppressor diode for 12 V systems that leaves a
// 24 V jump start alone (27 V, 50 mohm, two-way [from memory]), both, and a
// healthy battery.
func Usual() []Protection {
	cond := Capacitor{Farads: 0.5e-6, LeadHenries: 100e-9, SeriesOhms: 0.05}
	clamp := Clamp{Volts: 27, SlopeOhms: 0.05, BothWays: true}
	return []Protection{
		{ID: "capacitor", Capacitor: cond},
		{ID: "clamp", Clamp: clamp},
		{ID: "both", Capacitor: cond, Clamp: clamp},
		{ID: "healthy_battery", HealthyBattery: true},
	}
}

// Validate says what is wrong with the figures, nil when nothing is.
func (p Protection) Validate() error {
	within := func(v, lo, hi float64) bool { return v >= lo && v <= hi }
	known := func(s Spot) bool { return s == "" || s == AtTrigger || s == AtCoilFeed || s == AtIgnitionLine }
	c, k := p.Capacitor, p.Clamp
	switch {
	case c.Farads != 0 && !within(c.Farads, 1e-12, 100):
		return fmt.Errorf("spike: capacitance %g F; 0 for none, or 1 pF to 100 F is accepted", c.Farads)
	case c.LeadHenries != 0 && !within(c.LeadHenries, 1e-12, 1):
		return fmt.Errorf("spike: lead inductance %g H; 0, or 1 pH to 1 H is accepted", c.LeadHenries)
	case c.SeriesOhms != 0 && !within(c.SeriesOhms, 1e-6, 1e6):
		return fmt.Errorf("spike: series resistance %g ohm; 0, or 1 uohm to 1 Mohm is accepted", c.SeriesOhms)
	case k.Volts != 0 && !within(k.Volts, 0.1, 1e5):
		return fmt.Errorf("spike: clamp voltage %g V; 0 for none, or 0.1 V to 100 kV is accepted", k.Volts)
	case k.Volts != 0 && !within(k.SlopeOhms, 1e-4, 1e6):
		return fmt.Errorf("spike: slope of the clamp %g ohm; 0.1 mohm to 1 Mohm is accepted", k.SlopeOhms)
	case !known(c.At) || !known(k.At):
		return fmt.Errorf("spike: spot %q, %q; accepted: %s, %s or %s", c.At, k.At, AtTrigger, AtCoilFeed, AtIgnitionLine)
	}
	return nil
}
