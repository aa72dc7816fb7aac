package measure

import "fmt"

// Hazard is what can hurt someone while a reading is taken. What is said here
// are the usual cautions; the maker's manual, local rules and licensed
// practice come before them.
type Hazard uint8

// The hazards.
const (
	HighVoltage     Hazard = iota // H
	RotatingParts                 // R
	HotParts                      // T
	FuelFire                      // F
	BatteryGas                    // G
	ExhaustGas                    // C
	ShortCircuit                  // S
	CarMayMove                    // W
	hazardsTogether = iota
)

var hazards = [hazardsTogether]struct{ letter, name, caution string }{
	{"H", "high voltage", "20 to 40 kV: a grounded tester, insulated pliers, one hand; nobody with a pacemaker or other implant near it."},
	{"R", "rotating parts", "Fan, belts and pulleys: no tie, ring or loose sleeve, leads dressed away. A strobe makes the fan look still; it is not."},
	{"T", "hot parts", "Manifold, ballast (150 °C and more), coil and radiator burn."},
	{"F", "fuel", "No spark near an open plug hole or fuel line; extinguisher in reach, air cleaner on."},
	{"G", "battery gas and acid", "No flame or spark at the battery; eye protection; earthed clamp off first, on last."},
	{"C", "exhaust gas", "Engine only outdoors or with its exhaust piped out: an open garage door is not enough."},
	{"S", "short circuit", "An unfused feed: rings and bracelets off, no slip of the probe, battery off for any change of wiring."},
	{"W", "car may move", "Wheels chocked, brake on, out of gear; a second person on the brake for a test in gear."},
}

// Hazards lists them all.
func Hazards() []Hazard {
	list := make([]Hazard, hazardsTogether)
	for i := range list {
		list[i] = Hazard(i)
	}
	return list
}

// Letter is the hazard's letter on a work sheet.
func (h Hazard) Letter() string {
	if int(h) < len(hazards) {
		return hazards[h].letter
	}
	return "?"
}

// String is the hazard in words.
func (h Hazard) String() string {
	if int(h) < len(hazards) {
		return hazards[h].name
	}
	return fmt.Sprintf("hazard %d", uint8(h))
}

// Caution is the usual caution, a line for a work sheet.
func (h Hazard) Caution() string {
	if int(h) < len(hazards) {
		return hazards[h].caution
	}
	return ""
}

// MarshalText writes the hazard as its letter.
func (h Hazard) MarshalText() ([]byte, error) { return []byte(h.Letter()), nil }

// UnmarshalText reads it again.
func (h *Hazard) UnmarshalText(text []byte) error {
	for i := range hazards {
		if hazards[i].letter == string(text) {
			*h = Hazard(i)
			return nil
		}
	}
	return fmt.Errorf("no hazard %q; accepted: H, R, T, F, G, C, S or W", text)
}

// by makes a list of hazards of their letters.
func by(letters string) []Hazard {
	var list []Hazard
	for _, l := range letters {
		for i := range hazards {
			if hazards[i].letter == string(l) {
				list = append(list, Hazard(i))
			}
		}
	}
	return list
}
