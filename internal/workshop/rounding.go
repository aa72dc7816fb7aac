package workshop

import (
	"math"
	"regexp"
	"strings"

	"dwellwright/measure"
	"dwellwright/units"
)

// plainFigure is one number with what follows it: no ± and no range.
var plainFigure = regexp.MustCompile(`^[-+−–]?(\d*)(?:[.,](\d*))?(\s*[^\d.,±\s][^\d.,±]*)?$`)

// rounded is the half-width of a figure as it was typed: that of the instrument,
// and half of the last place that was written down, as "12 V" may be anything that
// rounds to it. 0, the instrument's, where more places were typed than it has.
func rounded(m *measure.Measure, text string, x float64) float64 {
	f := plainFigure.FindStringSubmatch(strings.TrimSpace(text))
	if f == nil || m.Accuracy == nil {
		return 0
	}
	one, err := units.Parse(m.Kind, "1"+f[3])
	nought, also := units.Parse(m.Kind, "0"+f[3])
	if err != nil || also != nil {
		return 0
	}
	places := len(f[2])
	if x == 0 && places == 0 {
		places = 1 // a bare nought says that nothing was on the display
	}
	half := math.Abs(one.X-nought.X) / 2 * math.Pow(10, -float64(places))
	own := m.Accuracy(x)
	if !(half > own/4) {
		return 0
	}
	return math.Hypot(half, own)
}
