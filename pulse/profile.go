package pulse

import "fmt"

// Profile is a starting profile of ISO 16750-2: what the supply does while
// the starter is engaged. From LineV it falls in FallS to DipV, stays for
// DipS, rises in RiseS to CrankV, stays for CrankS with a ripple of RippleV
// from peak to peak upward of CrankV, and returns in ReturnS.
type Profile struct {
	Level    string  `json:"level"`
	LineV    float64 `json:"line_v"`
	DipV     float64 `json:"dip_v"`
	CrankV   float64 `json:"crank_v"`
	FallS    float64 `json:"fall_s"`
	DipS     float64 `json:"dip_s"`
	RiseS    float64 `json:"rise_s"`
	CrankS   float64 `json:"crank_s"`
	RippleV  float64 `json:"ripple_v"`
	RippleHz float64 `json:"ripple_hz"`
	ReturnS  float64 `json:"return_s"`
	Source   string  `json:"source"`
}

// Profiles returns the four starting profiles of ISO 16750-2 for 12 V
// systems. Which of them a car has to pass is agreed between its maker and
// the module's; I is a warm engine with a good battery, III a tired one.
func Profiles() []Profile {
	const memory = "ISO 16750-2:2010, from memory"
	p := Profile{LineV: 12, FallS: 5e-3, DipS: 15e-3, RiseS: 50e-3, RippleV: 2, RippleHz: 2}
	one, two, three, four := p, p, p, p
	one.Level, one.DipV, one.CrankV, one.CrankS, one.ReturnS = "I", 8, 9.5, 1, 40e-3
	one.Source = "ISO 16750-2 level I: 8 V, times and ripple as in a published setup of a test generator for the 2003 edition"
	two.Level, two.DipV, two.CrankV, two.CrankS, two.ReturnS, two.Source = "II", 4.5, 6.5, 10, 100e-3, memory
	three.Level, three.DipV, three.CrankV, three.CrankS, three.ReturnS, three.Source = "III", 3, 5, 1, 100e-3, memory
	four.Level, four.DipV, four.CrankV, four.CrankS, four.ReturnS, four.Source = "IV", 6, 6.5, 10, 100e-3, memory
	return []Profile{one, two, three, four}
}

// FindProfile returns the profile of that level.
func FindProfile(level string) (Profile, error) {
	for _, p := range Profiles() {
		if p.Level == level {
			return p, nil
		}
	}
	return Profile{}, fmt.Errorf("pulse: no starting profile %q; accepted: I, II, III or IV", level)
}

// Point is an instant of a supply that moves slowly: straight lines join
// them.
type Point struct{ TimeS, Volts float64 }

// Points returns the corners of the profile, the ripple as its peaks and
// troughs, starting at 0 s. No more than a hundred periods of ripple are
// given.
func (p Profile) Points() []Point {
	t := 0.0
	out := []Point{{0, p.LineV}}
	put := func(after, v float64) {
		t += after
		out = append(out, Point{t, v})
	}
	put(p.FallS, p.DipV)
	put(p.DipS, p.DipV)
	put(p.RiseS, p.CrankV)
	if p.RippleV > 0 && p.RippleHz > 0 && p.CrankS > 0 {
		half := 0.5 / p.RippleHz
		up := true
		for left := p.CrankS; left > 1e-9 && len(out) < 204; left -= half {
			step := min(half, left)
			v := p.CrankV
			if up {
				v += p.RippleV * step / half
			}
			put(step, v)
			up = !up
		}
	} else {
		put(p.CrankS, p.CrankV)
	}
	put(p.ReturnS, p.LineV)
	return out
}

// Level is a steady voltage put on the supply for a time.
type Level struct {
	Volts  float64 `json:"volts"`
	TimeS  float64 `json:"time_s"`
	Source string  `json:"source"`
}

// JumpStart is a start from a 24 V vehicle, on a 12 V system.
func JumpStart() Level {
	return Level{24, 60, "ISO 16750-2: 24 V for 60 s on a 12 V system (published: articles that describe the standard)"}
}

// Reverse is a battery put in the wrong way round, on a 12 V system: -14 V,
// or -4 V where the alternator's diodes, unfused, hold it down.
func Reverse(held bool) Level {
	if held {
		return Level{-4, 60, "ISO 16750-2 reversed voltage, case 1: 4 V for 60 s (published: articles that describe the standard)"}
	}
	return Level{-14, 60, "ISO 16750-2 reversed voltage, case 2: 14 V for 60 s, from memory"}
}
