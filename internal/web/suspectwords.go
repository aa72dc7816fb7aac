package web

import (
	"fmt"
	"math"
	"strings"

	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/suspect"
	"dwellwright/units"
)

// sure writes a probability; nothing is ever wholly sure.
func sure(p float64) string {
	switch {
	case p > 0.99:
		return "over 99\u00a0%"
	case p < 0.01:
		return "under 1\u00a0%"
	}
	return fmt.Sprintf("%.0f\u00a0%%", 100*p)
}

func several(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// minutes writes a time that is an estimate.
func minutes(x float64) string {
	if x < 1 {
		return "under 1 min"
	}
	return fmt.Sprintf("%.0f min", x)
}

// expected says what a reading shows, in words.
func expected(m *measure.Measure, e evidence.Expected, sys units.System) string {
	text := ""
	switch {
	case e.Cannot > 0.5:
		text = "cannot be read"
		if m.Needs >= measure.NeedsRunning {
			text += ": the engine does not run"
		}
	case m.Observation:
		text = howOften(e.Yes)
	case math.IsNaN(e.Middle):
		return "not known"
	default:
		text = between(m.Kind, e.Low, e.High, sys)
		switch {
		case m.Kind == units.Voltage && math.Max(math.Abs(e.Low), math.Abs(e.High)) < 2e-3:
			text = "0 V, within 2 mV"
		case m.Kind == units.Resistance && e.Low > openOhms && m.Group != measure.Secondary:
			text = "an open circuit"
		}
	}
	if e.Cannot > 0.05 && e.Cannot <= 0.5 {
		text += fmt.Sprintf(", or in %s it cannot be read", sure(e.Cannot))
	}
	return text
}

// openOhms is from which resistance on something of a few ohms is open.
const openOhms = 20e3

// howOften says how often something is so.
func howOften(p float64) string {
	word := "yes or no alike"
	switch {
	case p >= 0.9:
		word = "yes"
	case p >= 0.65:
		word = "mostly yes"
	case p <= 0.1:
		word = "no"
	case p <= 0.35:
		word = "mostly no"
	}
	return fmt.Sprintf("%s (%s in 100)", word, strings.TrimSuffix(sure(p), "\u00a0%"))
}

// between writes the figures between which 95 in 100 lie.
func between(k units.Kind, lo, hi float64, sys units.System) string {
	if math.Abs(hi-lo) <= 1e-9*math.Max(math.Abs(lo), math.Abs(hi)) {
		return minus(units.Format(k, lo, sys))
	}
	if !wideSpan(lo, hi) {
		return minus(units.FormatValue(k, units.Value{X: (lo + hi) / 2, PM: (hi - lo) / 2, Shape: units.Uniform}, sys))
	}
	// Decades apart each has digits of its own, and one unit where it is the same.
	a, b := units.Format(k, lo, sys), units.Format(k, hi, sys)
	x, u, ok := strings.Cut(a, " ")
	if _, w, both := strings.Cut(b, " "); ok && both && u == w {
		a = x
	}
	return minus(a + " to " + b)
}

// wideSpan reports whether two figures are decades apart.
func wideSpan(lo, hi float64) bool { return lo > 0 && hi > 30*lo }

// figureRead writes an answer as it was given, with the half-width that counts.
func figureRead(m *measure.Measure, r *evidence.Reading, sys units.System) string {
	switch r.Kind {
	case evidence.Yes:
		return "yes"
	case evidence.No:
		return "no"
	case evidence.CouldNot:
		return "could not be read"
	case evidence.LessThan:
		return "under " + units.Format(m.Kind, r.Value, sys)
	case evidence.MoreThan:
		return "over " + units.Format(m.Kind, r.Value, sys)
	}
	pm := r.HalfWidth
	if pm == 0 && m.Accuracy != nil {
		pm = m.Accuracy(r.Value)
	}
	return minus(units.FormatValue(m.Kind, units.Value{X: r.Value, PM: pm, Shape: units.Normal}, sys))
}

// strengths are weights of evidence in words, by the decibans from which on
// they hold: 10 decibans are odds ten times as good.
var strengths = []struct {
	from  float64
	words string
}{{20, "very strong"}, {10, "strong"}, {5, "fair"}, {2, "weak"}}

// strength is a weight of evidence in a word, "" where it says nothing.
func strength(decibans float64) string {
	for _, s := range strengths {
		if math.Abs(decibans) >= s.from {
			return s.words
		}
	}
	return ""
}

// decibans writes a weight of evidence.
func decibans(x float64) string {
	switch {
	case math.IsInf(x, 1) || x > 99:
		return "over +99 decibans"
	case math.IsInf(x, -1) || x < -99:
		return "under −99 decibans"
	}
	if x = math.Round(x); x == 0 {
		return "0 decibans"
	}
	return minus(fmt.Sprintf("%+.0f decibans", x))
}

// faultsOf are the faults of a hypothesis.
func faultsOf(b *suspect.Bank, id string) []*fault.Fault {
	var list []*fault.Fault
	for _, x := range strings.Split(id, " + ") {
		if f := b.Fault(x); f != nil {
			list = append(list, f)
		}
	}
	return list
}
