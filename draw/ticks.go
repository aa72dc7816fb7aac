package draw

import (
	"math"
	"strconv"
	"strings"
)

// ticks gives about n round numbers that cover [lo, hi], and the step
// between them: 1, 2 or 5 times a power of ten (P. Heckbert, "Nice numbers
// for graph labels", Graphics Gems, 1990). The first is at or below lo, the
// last at or above hi. An empty range is widened.
func ticks(lo, hi float64, n int) ([]float64, float64) {
	if !(hi > lo) {
		d := math.Abs(lo) / 10
		if d == 0 {
			d = 1
		}
		lo, hi = lo-d, hi+d
	}
	step := niceStep((hi - lo) / float64(max(n-1, 1)))
	first := math.Floor(lo/step + 1e-9)
	last := math.Ceil(hi/step - 1e-9)
	var ts []float64
	for k := first; k <= last && len(ts) < 1000; k++ {
		ts = append(ts, k*step)
	}
	return ts, step
}

// niceStep is the round number nearest to x.
func niceStep(x float64) float64 {
	e := math.Pow(10, math.Floor(math.Log10(x)))
	switch f := x / e; {
	case f < 1.5:
		return e
	case f < 3.5:
		return 2 * e
	case f < 7.5:
		return 5 * e
	}
	return 10 * e
}

// inside drops the ticks outside [lo, hi].
func inside(ts []float64, lo, hi float64) []float64 {
	eps := 1e-9 * (hi - lo)
	var out []float64
	for _, t := range ts {
		if t >= lo-eps && t <= hi+eps {
			out = append(out, t)
		}
	}
	return out
}

// tickLabel writes a tick with as many decimals as the step has, and with a
// true minus.
func tickLabel(v, step float64) string {
	dec := 0
	if step > 0 && step < 1 {
		dec = int(math.Ceil(-math.Log10(step) - 1e-9))
	}
	if math.Abs(v) < step*1e-6 {
		v = 0
	}
	if math.Abs(v) >= 1e7 || dec > 12 { // as many digits as tell neighbours apart
		digits := 1
		if step > 0 && v != 0 {
			digits = max(1, int(math.Ceil(math.Log10(math.Abs(v)/step)))+1)
		}
		return minus(strconv.FormatFloat(v, 'g', min(digits, 15), 64))
	}
	return minus(strconv.FormatFloat(v, 'f', dec, 64))
}

func minus(s string) string {
	if len(s) > 0 && s[0] == '-' {
		return "−" + s[1:]
	}
	return s
}

// figure writes a number for a sentence to four significant digits.
func figure(v float64, unit string) string {
	s := minus(strconv.FormatFloat(roundTo(v, 4), 'f', -1, 64))
	if unit != "" {
		s += " " + unit
	}
	return s
}

// plusMinus writes a figure with its half width to two significant digits,
// the figure to as many decimals.
func plusMinus(v, pm float64, unit string) string {
	if pm == 0 {
		return figure(v, unit)
	}
	spread := strconv.FormatFloat(roundTo(pm, 2), 'f', -1, 64)
	dec := 0
	if i := strings.IndexByte(spread, '.'); i >= 0 {
		dec = len(spread) - i - 1
	}
	s := minus(strconv.FormatFloat(v, 'f', dec, 64)) + " ± " + spread
	if unit != "" {
		s += " " + unit
	}
	return s
}

// roundTo rounds to n significant digits.
func roundTo(v float64, n int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil {
		return v
	}
	return r
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) && math.Abs(v) < 1e15 }
