package distributor

import (
	"fmt"
	"math"
)

// StartVerdict is what an engine does at its first start.
type StartVerdict uint8

// The verdicts.
const (
	StartsWell     StartVerdict = iota // catches within a few turns
	StartsLate                         // starts, but late: lazy and hot
	HardToStart                        // long cranking, pops in the exhaust, or does not start
	KicksBack                          // fires before the top hard enough to throw the starter back
	Backfires                          // lights the charge with an inlet valve open or barely shut: flame at the carburettor
	FiresOnOverlap                     // fires a whole turn of the crank out, both valves open
	startVerdicts  = iota
)

func (v StartVerdict) String() string {
	switch v {
	case StartsWell:
		return "starts well"
	case StartsLate:
		return "starts late"
	case HardToStart:
		return "hard to start"
	case KicksBack:
		return "kicks back"
	case Backfires:
		return "backfires"
	case FiresOnOverlap:
		return "fires on overlap"
	}
	return fmt.Sprintf("verdict %d", uint8(v))
}

// bands are where one verdict goes over into the next, crank degrees of advance
// at cranking speed, rising, from -360 to 360. All are from memory or common
// practice, none from a table; the engine does not change its mind at a degree.
var bands = [...]struct {
	to      float64
	verdict StartVerdict
}{
	{-300, FiresOnOverlap}, // a whole turn late: exhaust shutting, inlet opening
	{-15, HardToStart},     // past -120 or so the exhaust valve is open
	{0, StartsLate},        // common practice
	{14, StartsWell},       // common practice: 0 to 14 before top dead centre
	{20, HardToStart},      // between well and kicking: the starter labours, above all hot
	{60, KicksBack},        // common practice: above about 20 at cranking speed
	{300, Backfires},       // a tower early on an eight is 90: the inlet valve barely shut, or open in a neighbour
	{360, FiresOnOverlap},
}

// Start is what the first start will be like, predicted.
type Start struct {
	Advance, PM float64 // crank degrees before top dead centre at cranking speed, ± (95 of 100)
	Verdict     StartVerdict
	Chances     [startVerdicts]float64 // of each verdict, by its number; they add up to 1
	Words       string                 // for a mechanic
}

// FirstStart predicts the first start with advance ± pm crank degrees at
// cranking speed (pm: 95 of 100, taken as a normal spread; 0: certain).
// pitchCrank is the angle from one firing to the next, 720 over the number of
// cylinders; it is used to say how many towers a timing is out (0: not said).
//
// The bands, in crank degrees before top dead centre [from memory and common
// practice]: 0 to 14 starts well; down to 15 after, late; later, hard;
// 14 to 20 hard on the starter; 20 to 60 kicks back; 60 to 300, about a tower
// early or more, backfires through the carburettor; within 60 of a whole turn
// of the crank out, fires on overlap. An engine that kicks back or spits flame
// hurts: hands and faces stay away from fan, belts and carburettor, the air
// cleaner stays on, and an extinguisher within reach.
//
// A figure that is not a number gives HardToStart with no chances.
func FirstStart(advance, pm float64, pitchCrank float64) Start {
	out := Start{Advance: advance, PM: pm, Verdict: HardToStart}
	if !finite(advance) || !finite(pm) {
		out.Words = "The timing is not known: find it at rest before cranking."
		return out
	}
	at := near(advance, 720)
	out.Verdict = bandOf(at)
	sigma := math.Min(math.Abs(pm)/1.96, 1e4)
	if sigma < 1e-9 {
		out.Chances[out.Verdict] = 1
	} else {
		low := -360.0
		for _, b := range bands {
			out.Chances[b.verdict] += share(low-at, b.to-at, sigma)
			low = b.to
		}
		var sum float64
		for _, c := range out.Chances {
			sum += c
		}
		for i := range out.Chances {
			out.Chances[i] /= sum
		}
	}
	out.Words = words(at, out, pitchCrank)
	return out
}

func bandOf(at float64) StartVerdict {
	for _, b := range bands {
		if at < b.to || (at == b.to && b.verdict == StartsWell) {
			return b.verdict
		}
	}
	return FiresOnOverlap
}

// share is how much of a normal spread of sigma around 0, on a circle of 720
// degrees, lies between low and high. Wider than a circle it is even.
func share(low, high, sigma float64) float64 {
	if sigma > 720 {
		return (high - low) / 720
	}
	below := func(x float64) float64 { return 0.5 * math.Erfc(-x/(sigma*math.Sqrt2)) }
	var sum float64
	for turn := -5.0; turn <= 5; turn++ {
		sum += below(high+720*turn) - below(low+720*turn)
	}
	return sum
}

func words(at float64, s Start, pitchCrank float64) string {
	var w string
	switch s.Verdict {
	case StartsWell:
		w = "Should catch within a few turns. Put the strobe on it at once."
	case StartsLate:
		w = "Should start, late: lazy, and soon hot. Turn the housing against rotation until the strobe is right."
	case HardToStart:
		if at > 0 {
			w = "A little too early for cranking: the starter will labour, above all hot. Turn the housing a little with rotation first."
		} else {
			w = "Too late: long cranking and pops in the exhaust, if it starts at all. Do not leave it running so, the manifolds get red hot."
		}
	case KicksBack:
		w = "Too early for cranking: it will kick the starter back. Do not crank it like this."
	case Backfires:
		w = "Far too early: flame through the carburettor. Do not crank it like this."
	case FiresOnOverlap:
		w = "A whole turn of the crank out: it fires with both valves open, flame through the carburettor and no start. Look at No. 1 on compression, not on overlap."
	}
	if finite(pitchCrank) && pitchCrank > 0 && s.Verdict != FiresOnOverlap {
		out := at - 7 // from the middle of what starts well
		if n := math.Round(out / pitchCrank); n != 0 && math.Abs(out-n*pitchCrank) <= pitchCrank/4 {
			side, towers := "early", "towers"
			if n < 0 {
				side = "late"
			}
			if math.Abs(n) == 1 {
				towers = "tower"
			}
			w += fmt.Sprintf(" That is about %.0f %s %s: look where the leads sit.", math.Abs(n), towers, side)
		}
	}
	if bad := s.Chances[KicksBack] + s.Chances[Backfires] + s.Chances[FiresOnOverlap]; s.Verdict < KicksBack && bad >= 0.05 {
		w += fmt.Sprintf(" There is a chance of %.0f in 100 that it kicks back or backfires: make surer of the timing first.", 100*bad)
	}
	return w
}
