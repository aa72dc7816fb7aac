package spike

import "dwellwright/car"

// Limit is what a module withstands at its supply terminal, to the breaker
// plate, live side positive.
type Limit struct {
	PeakV   float64 `json:"peak_v"`   // not above
	LowestV float64 `json:"lowest_v"` // not below
	Source  string  `json:"source"`
	Sheet   bool    `json:"sheet"` // from the module's own sheet; otherwise typical
}

// TypicalLimit is a limit for where a sheet gives none. Modules: 40 V, what
// the data sheets of car semiconductors allow behind an outside load-dump
// clamp [published: "40 V maximum referred to ground" in high-side driver data
// sheets], and -16 V, a battery the wrong way round behind a diode [from
// memory]; a module without that diode stands nothing backward. Points: the
// coil's winding and terminals, 400 V either way, what the switched end sees
// at every firing [from memory].
func TypicalLimit(kind car.SwitchKind) Limit {
	if !kind.Electronic() {
		return Limit{400, -400, "typical, from memory: the coil's primary sees some 400 V at every firing", false}
	}
	return Limit{40, -16, "typical: 40 V as in published data sheets of car semiconductors; -16 V from memory; the module's own sheet goes before it", false}
}
