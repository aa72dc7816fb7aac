package advance

import "fmt"

// Kit is what a person has to fit. An empty list keeps what is fitted.
type Kit struct {
	Springs []KitSpring
	Stops   []KitStop
	Weights []KitWeight
}

// KitSpring is a kind of spring in the box. PM are 95 % half-widths.
type KitSpring struct {
	ID                  string
	RateNPerM, RatePM   float64
	PreloadN, PreloadPM float64
	SlackM              []float64 // the slacks it can be hung with; empty: none
	SlackPM             float64
	Count               int // how many there are; 0 counts as 1
}

// KitStop is a stop or bush that can be fitted.
type KitStop struct {
	ID          string
	StopDeg, PM float64 // distributor degrees
}

// KitWeight is a kind of weights that can be fitted, on the pivots there are.
type KitWeight struct {
	ID         string
	MassKg, PM float64 // of one weight
	ArmM       float64 // 0: as fitted
	RestRad    float64 // 0: as fitted
}

// Wanted is one point of the curve that is wanted.
type Wanted struct {
	RPM     float64 // crank
	Advance float64 // crank degrees, initial and centrifugal
	Tol     float64 // crank degrees either way; 0: 2, one distributor degree, the usual service tolerance (from memory)
}

// BestOptions say how to search.
type BestOptions struct {
	Seed       uint64
	Draws      int        // for the chances; 0: 400
	Top        int        // builds returned; 0: 20
	Initial    [2]float64 // crank degrees the initial may be set between; equal: set there
	FrictionPM float64    // 95 % half-width of FrictionNm
}

// Build is one way to put the mechanism together.
type Build struct {
	SpringIDs []string // one for each place, "" where what is fitted stays
	SlackM    []float64
	StopID    string // "": as fitted
	WeightID  string // "": as fitted
	Mechanism Mechanism
	Initial   float64 // crank degrees to set
	Points    []BuildPoint
	Worst     float64 // largest Off in tolerances; up to 1 all points are inside by the middle figures
	Chance    float64 // that every point is inside
}

// BuildPoint is what a build does at one wanted point.
type BuildPoint struct {
	Advance Band    // crank degrees, initial included
	Off     float64 // what remains, crank degrees: advance (without friction) less wanted
	Chance  float64 // that it reads inside the tolerance both with the speed rising and falling
}

const mostBuilds = 50000

func (k Kit) validate(places int) error {
	if len(k.Springs) > 0 && places == 0 {
		return &Error{"Springs", "have no place in this mechanism", "a starting mechanism with a spring at each place", ErrKit}
	}
	total := 0
	for i, s := range k.Springs {
		at := fmt.Sprintf("Kit.Springs[%d].", i)
		if err := first(
			within(at+"RateNPerM", s.RateNPerM, 1e-3, 1e6, " N/m"),
			within(at+"RatePM", s.RatePM, 0, s.RateNPerM, " N/m"),
			within(at+"PreloadN", s.PreloadN, 0, 1e4, " N"),
			within(at+"PreloadPM", s.PreloadPM, 0, 1e4, " N"),
			within(at+"SlackPM", s.SlackPM, 0, 0.1, " m"),
			within(at+"Count", float64(s.Count), 0, 1000, ""),
		); err != nil {
			return err
		}
		for _, x := range s.SlackM {
			if err := within(at+"SlackM", x, 0, 1, " m"); err != nil {
				return err
			}
		}
		total += max(s.Count, 1)
	}
	if len(k.Springs) > 0 && total < places {
		return &Error{"Kit.Springs", "hold " + itoa(total) + " springs", itoa(places) + " or more, one for each place", ErrKit}
	}
	for i, s := range k.Stops {
		at := fmt.Sprintf("Kit.Stops[%d].", i)
		if err := first(within(at+"StopDeg", s.StopDeg, 0.1, 90, " distributor degrees"), within(at+"PM", s.PM, 0, s.StopDeg, " degrees")); err != nil {
			return err
		}
	}
	for i, w := range k.Weights {
		at := fmt.Sprintf("Kit.Weights[%d].", i)
		if err := first(
			within(at+"MassKg", w.MassKg, 1e-4, 5, " kg"),
			within(at+"PM", w.PM, 0, w.MassKg, " kg"),
			within(at+"ArmM", w.ArmM, 0, 1, " m"),
			within(at+"RestRad", w.RestRad, 0, mostSwingRad, " rad"),
		); err != nil {
			return err
		}
	}
	return nil
}
