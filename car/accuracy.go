package car

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"dwellwright/units"
)

const accuracyForms = "\"0.5 % + 0.02 V\", \"1 % + 3 digits\" or one of the two parts"

var (
	percentPart = regexp.MustCompile(`^(\d+(?:[.,]\d+)?) ?%$`)
	digitsPart  = regexp.MustCompile(`^(\d+) ?(?:digits?|counts?)$`)
	number      = regexp.MustCompile(`\d+(?:[.,](\d+))?`)
)

// accuracy works out the half-width of a reading from the accuracy of its
// instrument: a sum of a part of the reading ("0.5 %"), an amount ("0.02 V")
// and steps of the last digit shown ("3 digits"), as instrument sheets give
// it. x is the reading in SI, shown is the reading as it was written, from
// which the last digit is known.
func accuracy(text string, kind units.Kind, x float64, shown string) (float64, error) {
	sum := 0.0
	for part := range strings.SplitSeq(text, "+") {
		part = strings.TrimSpace(part)
		if m := percentPart.FindStringSubmatch(part); m != nil {
			share, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
			if err != nil || share > 50 {
				return 0, fmt.Errorf("%s of the reading is no measurement", m[0])
			}
			sum += share / 100 * math.Abs(x)
			continue
		}
		if m := digitsPart.FindStringSubmatch(part); m != nil {
			steps, err := strconv.ParseFloat(m[1], 64)
			if err != nil || steps > 100 {
				return 0, fmt.Errorf("%s is no measurement", quote(part))
			}
			sum += steps * lastDigit(kind, shown)
			continue
		}
		v, err := difference(kind, part)
		if err != nil || v < 0 {
			return 0, fmt.Errorf("cannot read %s", quote(part))
		}
		sum += v
	}
	if sum <= 0 {
		return 0, errors.New("an accuracy of nothing")
	}
	return sum, nil
}

// difference reads an amount as a difference: 2 K or 2 °C is two kelvins and
// not two degrees above some zero.
func difference(kind units.Kind, text string) (float64, error) {
	v, err := units.Parse(kind, text)
	if err != nil || kind != units.Temperature {
		return v.X, err
	}
	zero, err := units.Parse(kind, number.ReplaceAllString(text, "0"))
	return v.X - zero.X, err
}

// lastDigit is one step of the last digit of a figure as written, in SI:
// 0.01 for "7.40 V", 1e-4 for "12.3 mV".
func lastDigit(kind units.Kind, shown string) float64 {
	m := number.FindStringSubmatchIndex(shown)
	if m == nil {
		return 0
	}
	step := "1"
	if m[2] >= 0 {
		step = "0." + strings.Repeat("0", m[3]-m[2]-1) + "1"
	}
	unit := shown[m[1]:]
	if strings.ContainsAny(unit, "0123456789") { // 4R7: the letter is the point
		return 0
	}
	v, err := difference(kind, step+unit)
	if err != nil {
		return 0
	}
	return v
}
