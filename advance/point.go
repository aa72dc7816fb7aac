package advance

import (
	"fmt"
	"math"
)

// Point is one reading with a strobe, hose off and plugged. What the tachometer
// may be off counts in PM: on a steep stretch 50 rpm is a degree or more.
type Point struct {
	RPM     float64 // crank
	Advance float64 // crank degrees BTDC: centrifugal, and the initial where it is in the reading
	PM      float64 // 95 % half-width, crank degrees
	Going   int8    // +1 read as the speed rose, -1 as it fell from full advance, 0 not said
}

// EstimateOptions say what is known beside the readings.
type EstimateOptions struct {
	Seed  uint64 // same seed, same answer
	Draws int    // draws of the posterior; 0: 600

	// The initial advance in the readings, crank degrees. Known where
	// EstimateInitial is false (0 where the readings hold none, as on a bench);
	// else a guess with its 95 % half-width: a half-width of 0 stands for 20, and
	// 0 and 0 for 10 +- 20.
	InitialCrank    float64
	InitialPM       float64
	EstimateInitial bool

	// How sure the starting mechanism is: 0 or 1 for the widths of PriorSD,
	// 0.5 for half as wide, and so on.
	Doubt float64
}

func (o EstimateOptions) validate() error {
	if o.Draws != 0 && (o.Draws < 100 || o.Draws > 20000) {
		return &Error{"Draws", "is " + itoa(o.Draws), "0 for 600, or 100 to 20000", ErrCount}
	}
	return first(
		within("InitialCrank", o.InitialCrank, -90, 90, " crank degrees"),
		within("InitialPM", o.InitialPM, 0, 90, " crank degrees"),
		within("Doubt", o.Doubt, 0, 3, ""),
	)
}

func checkPoints(points []Point) error {
	if len(points) < 2 || len(points) > 500 {
		return &Error{"points", "are " + itoa(len(points)), "2 to 500 readings", ErrPoints}
	}
	for i, p := range points {
		at := "points[" + itoa(i) + "]."
		if err := first(
			within(at+"RPM", p.RPM, 0, 30000, " crank rpm"),
			within(at+"Advance", p.Advance, -180, 180, " crank degrees"),
			within(at+"PM", p.PM, 0.01, 90, " crank degrees"),
		); err != nil {
			return err
		}
		if p.Going < -1 || p.Going > 1 {
			return &Error{at + "Going", fmt.Sprintf("is %d", p.Going), "+1 rising, -1 falling, 0 not said", ErrPoints}
		}
	}
	return nil
}

// Fig is one figure with its intervals: the true value lies between Lo90 and
// Hi90 in 90 of 100 cases, between Lo95 and Hi95 in 95.
type Fig struct {
	Mid, Lo90, Hi90, Lo95, Hi95 float64
	Known                       bool // the readings narrowed it: its 90 % interval is under 0.7 of what was assumed before
	Given                       bool // not estimated: taken over as it was
}

// SpringFig is what is known of one spring.
type SpringFig struct {
	RateNPerM, PreloadN, SlackM Fig
	TakesUpDeg                  Fig // distributor degrees; the stop's where it never takes up
}

// Draw is one mechanism out of those the readings allow.
type Draw struct {
	Mechanism    Mechanism
	InitialCrank float64
}

// Misfit says how well the best mechanism fits the readings.
type Misfit struct {
	ChiSquare float64 // sum of squared (reading - mechanism)/(PM/1.96)
	DoF       float64 // readings less the number of figures they decided
	P         float64 // chance of a misfit this large from reading errors alone; under 0.01: no such mechanism, or PM too small
	Worst     int     // the reading furthest off
	WorstBy   float64 // crank degrees, reading less mechanism
}

// Estimated is what readings say about a mechanism.
type Estimated struct {
	Springs    []SpringFig
	StopDeg    Fig // distributor degrees
	FrictionNm Fig
	Initial    Fig // crank degrees
	Best       Draw
	Misfit     Misfit
	Draws      []Draw
}

// Range is an advance with its intervals, crank degrees.
type Range struct{ Mid, Lo90, Hi90, Lo95, Hi95 float64 }

// Curve is the advance (crank degrees, initial and centrifugal) that the draws
// give at crank speeds: going +1 with the speed rising, -1 falling, 0 without
// friction.
func (e Estimated) Curve(crankRPM []float64, going int8) []Range {
	dist := make([]float64, len(crankRPM))
	for i, rpm := range crankRPM {
		dist[i] = rpm / 2
	}
	at := make([][]float64, len(crankRPM))
	for _, d := range e.Draws {
		for i, b := range d.Mechanism.Curve(dist) {
			at[i] = append(at[i], d.InitialCrank+2*b.going(going))
		}
	}
	out := make([]Range, len(crankRPM))
	for i, x := range at {
		if len(x) == 0 || math.IsNaN(x[0]) {
			out[i] = Range{math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()}
			continue
		}
		f := figure(x)
		out[i] = Range{f.Mid, f.Lo90, f.Hi90, f.Lo95, f.Hi95}
	}
	return out
}

func (b Band) going(g int8) float64 {
	switch {
	case g > 0:
		return b.Rising
	case g < 0:
		return b.Falling
	}
	return b.Mid
}
