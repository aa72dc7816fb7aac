package web

import (
	"regexp"
	"strings"

	"dwellwright/units"
)

// parted splits "7.50 ± 0.38 V" into "7.50" and "± 0.38 V", so that a narrow
// cell can set one under the other. A figure without ± stays whole.
func parted(figure string) (mid, pm string) {
	i := strings.Index(figure, "±")
	if i < 0 {
		return figure, ""
	}
	return strings.TrimSpace(figure[:i]), figure[i:]
}

// difference writes a half-width alone: one of a temperature is in kelvins,
// not in degrees above a zero.
func difference(k units.Kind, x float64) string {
	if k == units.Temperature {
		return units.Format(units.Ratio, x, units.Metric) + " K"
	}
	return units.Format(k, x, units.Metric)
}

var hyphen = regexp.MustCompile(`(^|[\s(])-([0-9])`)

// minus writes the sign before a number below nothing as a minus, not as a
// hyphen.
func minus(s string) string { return hyphen.ReplaceAllString(s, "$1−$2") }

// tight lets a figure break before its plus-or-minus only.
func tight(figure string) string {
	mid, pm := parted(figure)
	if pm == "" {
		return figure
	}
	return mid + " " + strings.ReplaceAll(pm, " ", "\u00a0")
}
