package heat

import "fmt"

// Given is what a given temperature does during a segment: from where it is it
// heads for ToC with the lag LagS,
//
//	T(t) = ToC + (T(0) - ToC) exp(-t/LagS)
//
// A LagS of 0 puts it at ToC at once.
type Given struct {
	ToC  float64
	LagS float64
}

// Held is a given temperature that stands at tempC throughout.
func Held(tempC float64) Given { return Given{ToC: tempC} }

// Segment is a stretch of time with constant powers.
type Segment struct {
	Name    string
	Seconds float64
	Powers  []Power // one for each node
	Given   []Given // one for each given temperature
}

// State is the temperatures at one moment, °C.
type State struct {
	NodeC  []float64 // one for each node; those without a heat capacity are not looked at
	GivenC []float64 // one for each given temperature
}

// Even is the state where all has stood at tempC for long.
func (s *System) Even(tempC float64) State {
	at := State{make([]float64, len(s.names)), make([]float64, len(s.given))}
	for i := range at.NodeC {
		at.NodeC[i] = tempC
	}
	for j := range at.GivenC {
		at.GivenC[j] = tempC
	}
	return at
}

func (s *System) checkRun(start State, cycle []Segment) error {
	if len(start.NodeC) != len(s.names) || len(start.GivenC) != len(s.given) {
		return &InputError{"start", "number of temperatures", float64(len(start.NodeC) + len(start.GivenC)),
			fmt.Sprintf("%d of nodes and %d given", len(s.names), len(s.given))}
	}
	for i, c := range start.NodeC {
		if s.capacity[i] > 0 {
			if err := firstBad("start", temperature(s.names[i], c)); err != nil {
				return err
			}
		}
	}
	for j, c := range start.GivenC {
		if err := firstBad("start", temperature(s.given[j], c)); err != nil {
			return err
		}
	}
	if len(cycle) == 0 {
		return &InputError{"run", "number of segments", 0, "at least one"}
	}
	for i, g := range cycle {
		where := fmt.Sprintf("segment %d %q", i+1, g.Name)
		if err := firstBad(where, figure{"Seconds", g.Seconds, g.Seconds > 0 && g.Seconds <= mostSeconds, "more than 0 and at most 10000000 s"}); err != nil {
			return err
		}
		if err := s.checkPowers(where, g.Powers); err != nil {
			return err
		}
		if len(g.Given) != len(s.given) {
			return &InputError{where, "number of given temperatures", float64(len(g.Given)), fmt.Sprint(len(s.given))}
		}
		for j, v := range g.Given {
			if err := firstBad(where+": "+s.given[j], temperature("ToC", v.ToC), lag("LagS", v.LagS)); err != nil {
				return err
			}
		}
	}
	return nil
}
