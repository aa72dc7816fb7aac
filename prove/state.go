package prove

import (
	"fmt"
	"math"

	"dwellwright/twin"
)

// State is what can be said of a cell.
type State uint8

// The four states, and None for a cell that has nothing to hold to.
const (
	None       State = iota
	Holds            // shown to hold
	NotProven        // expected to hold, but a critical cell needs a reading
	Doubtful         // its plus-or-minus reaches over the limit
	FallsShort       // outside its limit
)

var stateWords = [...]string{"", "holds", "not yet proven", "doubtful", "falls short"}
var stateIDs = [...]string{"none", "holds", "not_yet_proven", "doubtful", "falls_short"}

func (s State) String() string { return stateWords[s] }

// MarshalText writes the state as in the JSON sheet.
func (s State) MarshalText() ([]byte, error) { return []byte(stateIDs[s]), nil }

// Limit is what a cell has to hold to: from Lo to Hi, either of which may be
// infinite, each known to within PM.
type Limit struct {
	Lo, Hi float64
	PM     float64 // half-width of the limit's own uncertainty
	Source string  // where it comes from
}

// NoLimit is the limit of a cell that is only shown.
func NoLimit() Limit { return Limit{Lo: math.Inf(-1), Hi: math.Inf(1)} }

// Atleast and Atmost make one-sided limits.
func Atleast(lo, pm float64, source string) Limit {
	return Limit{Lo: lo, Hi: math.Inf(1), PM: pm, Source: source}
}

// Atmost is the limit of what may not be more.
func Atmost(hi, pm float64, source string) Limit {
	return Limit{Lo: math.Inf(-1), Hi: hi, PM: pm, Source: source}
}

// Exists reports whether there is anything to hold to.
func (l Limit) Exists() bool { return !math.IsInf(l.Lo, -1) || !math.IsInf(l.Hi, 1) }

// judge places an interval against the limit: -1 outside, 0 reaching over,
// +1 inside. The limit's own uncertainty and that of the figure are added as
// independent ones (root of the sum of squares).
func (l Limit) judge(mid, lo, hi float64) int {
	below := side(mid, mid-lo, hi-mid, l.Lo, l.PM, true)
	above := side(mid, mid-lo, hi-mid, l.Hi, l.PM, false)
	return min(below, above)
}

func side(mid, down, up, limit, pm float64, least bool) int {
	if math.IsInf(limit, 0) {
		return 1
	}
	margin, toward, away := mid-limit, down, up
	if !least {
		margin, toward, away = limit-mid, up, down
	}
	switch {
	case margin >= math.Hypot(toward, pm):
		return 1
	case margin < 0 && -margin > math.Hypot(away, pm):
		return -1
	}
	return 0
}

// Margin is how far the middle of the figure is inside the limit, in the
// unit of the figure; negative outside, +Inf where there is no limit.
func (l Limit) Margin(mid float64) float64 {
	return math.Min(mid-l.Lo, l.Hi-mid)
}

// predicted gives the state of a cell nothing has been read of.
func predicted(l Limit, e twin.Estimate, critical bool) State {
	if !l.Exists() || e.Missing() {
		return None
	}
	switch l.judge(e.Mid, e.Lo, e.Hi) {
	case -1:
		return FallsShort
	case 0:
		return Doubtful
	}
	if critical {
		return NotProven
	}
	return Holds
}

// read gives the state of a cell from a reading with its half-width.
func read(l Limit, v, pm float64) State {
	if !l.Exists() {
		return None
	}
	switch l.judge(v, v-pm, v+pm) {
	case -1:
		return FallsShort
	case 0:
		return Doubtful
	}
	return Holds
}

// text writes a limit in words and its unit by the given formatter.
func (l Limit) text(format func(float64) string) string {
	switch {
	case !l.Exists():
		return ""
	case math.IsInf(l.Hi, 1):
		return "at least " + format(l.Lo)
	case math.IsInf(l.Lo, -1):
		return "at most " + format(l.Hi)
	}
	return fmt.Sprintf("%s to %s", format(l.Lo), format(l.Hi))
}
