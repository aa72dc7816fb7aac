package lobes

import (
	"fmt"
	"math"
)

const (
	mostLobes     = 16
	mostTurns     = 10000
	leastTurns    = 3
	leastInterval = 5.0 // distributor degrees between two lobes
)

// Run is what was read off the wheel: for every turn, and in it for every lobe
// in the order they fire, the angle at which the points opened or the trigger
// switched. Distributor degrees, cumulative (0, 45, … 360, 405, …) or within
// the turn (0 to 360); from any zero, which must not move during the run. A
// wheel that is numbered the other way gives falling angles, which is found
// out and allowed for.
type Run struct{ Turns [][]float64 }

// FromIntervals makes a run of the angles from each firing to the next,
// beginning with that from lobe 0 to lobe 1; the first firing is put at 0°.
// The intervals must be differences of angles read on one wheel. Intervals
// measured one by one add up their errors, which then look like side play.
// Whole turns are wanted: lobes·turns-1 intervals, or lobes·turns, the last of
// which ends at a firing that begins another turn and is left out.
func FromIntervals(lobes int, intervals []float64) (Run, error) {
	if lobes < 1 || lobes > mostLobes {
		return Run{}, &Error{"lobes", fmt.Sprint(lobes), fmt.Sprintf("1 to %d", mostLobes), ErrLobes}
	}
	turns := (len(intervals) + 1) / lobes
	if rest := len(intervals) + 1 - turns*lobes; rest != 0 && !(rest == 1 && turns > 0) {
		return Run{}, &Error{"intervals", fmt.Sprintf("%d of them", len(intervals)),
			fmt.Sprintf("whole turns of %d lobes: %d or %d", lobes, max(turns, 1)*lobes-1, max(turns, 1)*lobes), ErrMissing}
	}
	at := 0.0
	run := Run{Turns: make([][]float64, turns)}
	for k := range turns * lobes {
		if k > 0 {
			if !finite(intervals[k-1]) {
				return Run{}, &Error{fmt.Sprintf("intervals[%d]", k-1), fmt.Sprint(intervals[k-1]), "degrees", ErrNumber}
			}
			at += intervals[k-1]
		}
		run.Turns[k/lobes] = append(run.Turns[k/lobes], at)
	}
	return run, nil
}

// late is a run as lateness: how much further the wheel had turned than the
// lobe's ideal angle, against a reading of its own.
type late struct {
	d    [][]float64 // [turn][lobe], degrees
	sign float64     // +1: readings rise as the shaft turns, -1: they fall
	ref  float64     // sign·reading = 360·turn + ideal + ref + d
}

// unwind turns readings into lateness.
func unwind(run Run, ideal []float64) (late, error) {
	if err := checkIdeal(ideal); err != nil {
		return late{}, err
	}
	n, l := len(run.Turns), len(ideal)
	if n < leastTurns || n > mostTurns {
		return late{}, &Error{"Turns", fmt.Sprintf("%d turns", n), fmt.Sprintf("%d to %d; ten or more give useful figures", leastTurns, mostTurns), ErrTurns}
	}
	same := true
	for _, turn := range run.Turns {
		same = same && len(turn) == len(run.Turns[0])
	}
	for t, turn := range run.Turns {
		if len(turn) == l {
			continue
		}
		e := &Error{fmt.Sprintf("Turns[%d]", t), fmt.Sprintf("%d angles", len(turn)), fmt.Sprintf("%d, one for each lobe", l), ErrLobes}
		if !same && len(turn) < l {
			e.Kind = ErrMissing
		}
		return late{}, e
	}
	for t, turn := range run.Turns {
		for j, y := range turn {
			if !finite(y) {
				return late{}, &Error{fmt.Sprintf("Turns[%d][%d]", t, j), fmt.Sprint(y), "an angle in degrees, up to 1e9", ErrNumber}
			}
		}
	}

	signs := []float64{1, -1}
	if whole := math.Round((run.Turns[n-1][0] - run.Turns[0][0]) / 360); math.Abs(whole) > 1 { // cumulative
		s := math.Copysign(1, whole)
		signs = []float64{s}
		for t, turn := range run.Turns {
			if got := s * math.Round((turn[0]-run.Turns[0][0])/360); got != float64(t) {
				e := &Error{fmt.Sprintf("Turns[%d][0]", t), fmt.Sprintf("reads %g°, %g turns from the first reading", turn[0], got),
					fmt.Sprintf("%d turns from the first reading, or angles of 0 to 360 within each turn", t), ErrOrder}
				if got > float64(t) {
					e.Kind = ErrMissing
				}
				return late{}, e
			}
		}
	}
	var best late
	var wrong *Error
	for _, s := range signs {
		got, bad := unwindAs(run, ideal, s)
		if bad == nil {
			return got, nil
		}
		if wrong == nil {
			best, wrong = got, bad
		}
	}
	return best, wrong
}

// unwindAs unwinds readings of a wheel numbered with the turning (s = +1) or
// against it. A firing may stray from its place by half the smallest interval.
func unwindAs(run Run, ideal []float64, s float64) (late, *Error) {
	room := 180.0
	for j := range ideal {
		room = min(room, interval(ideal, j)/2)
	}
	var x, y float64
	for _, turn := range run.Turns {
		for j, a := range turn {
			sin, cos := math.Sincos(math.Mod(s*a-ideal[j], 360) * math.Pi / 180)
			x, y = x+cos, y+sin
		}
	}
	out := late{sign: s, ref: math.Atan2(y, x) * 180 / math.Pi, d: make([][]float64, len(run.Turns))}
	for t, turn := range run.Turns {
		out.d[t] = make([]float64, len(ideal))
		for j, a := range turn {
			d := wrap(math.Mod(s*a, 360) - ideal[j] - out.ref)
			if math.Abs(d) >= room {
				return out, &Error{fmt.Sprintf("Turns[%d][%d]", t, j), fmt.Sprintf("reads %g°", a),
					fmt.Sprintf("within %.3g° of %.4g°, where this lobe's other readings would have it; is a firing left out before it, or one too many?",
						room, unsigned(s*(ideal[j]+out.ref))), ErrOrder}
			}
			out.d[t][j] = d
		}
	}
	return out, nil
}

// interval is the ideal angle from lobe j to the next.
func interval(ideal []float64, j int) float64 {
	if j+1 < len(ideal) {
		return ideal[j+1] - ideal[j]
	}
	return 360 + ideal[0] - ideal[j]
}

// wrap brings an angle into [-180, 180].
func wrap(deg float64) float64 { return math.Remainder(deg, 360) }

// unsigned brings an angle into [0, 360).
func unsigned(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	if deg >= 360 { // a hair below zero
		deg = 0
	}
	return deg
}
