package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// decimal reads the digits of a number: a decimal point or comma, points or
// commas between thousands, or an exponent. grouped is the trait of that name.
// What is wrong, if anything, comes back as a sentence.
func decimal(text string, grouped bool) (x float64, what string) {
	if i := strings.IndexAny(text, "eE"); i >= 0 {
		if text[i] == 'E' && text[i+1] != '+' && text[i+1] != '-' {
			return 0, fmt.Sprintf("%s is not clear: some write E for the decimal point; write %s.%s or %se%s",
				text, text[:i], text[i+1:], text[:i], text[i+1:])
		}
		return finite(strings.Replace(text, ",", ".", 1))
	}
	points, commas := strings.Count(text, "."), strings.Count(text, ",")
	switch {
	case points+commas == 0:
		return finite(text)
	case points+commas == 1:
		whole, part, _ := strings.Cut(strings.Replace(text, ",", ".", 1), ".")
		likeThousands := len(part) == 3 && 1 <= len(whole) && len(whole) <= 3 && whole[0] != '0'
		switch {
		case !likeThousands, points == 1 && !grouped:
			return finite(whole + "." + part)
		case commas == 1 && grouped:
			return finite(whole + part)
		}
		if grouped {
			part += "0" // 1.2000 rpm has no thousands in it
		}
		return 0, fmt.Sprintf("%s is not clear: write %s%s or %s.%s", text, whole, part[:3], whole, part)
	case points == 0 && thousands(text, ","):
		return finite(strings.ReplaceAll(text, ",", ""))
	case commas == 0 && thousands(text, "."):
		return finite(strings.ReplaceAll(text, ".", ""))
	case points == 1 && thousands(text[:strings.IndexByte(text, '.')], ","):
		return finite(strings.ReplaceAll(text, ",", "")) // 1,234.5
	case commas == 1 && thousands(text[:strings.IndexByte(text, ',')], "."):
		text = strings.ReplaceAll(text, ".", "") // 1.234,5
		return finite(strings.Replace(text, ",", ".", 1))
	}
	return 0, show(text) + " has too many decimal marks"
}

// thousands says whether text is digits in groups of three parted by mark,
// with one to three digits, the first not 0, in front.
func thousands(text, mark string) bool {
	groups := strings.Split(text, mark)
	for i, g := range groups {
		if i > 0 && len(g) != 3 || len(g) == 0 || len(g) > 3 {
			return false
		}
		if strings.Trim(g, "0123456789") != "" {
			return false
		}
	}
	return len(groups) > 1 && groups[0][0] != '0'
}

// finite reads plain digits with at most one decimal point and an exponent.
func finite(text string) (float64, string) {
	x, err := strconv.ParseFloat(text, 64)
	switch {
	case math.IsInf(x, 0):
		return 0, show(text) + " is too large a number"
	case err != nil:
		return 0, show(text) + " is not a number"
	}
	return x, ""
}

// whole reads digits alone, as the parts of a vulgar fraction are.
func whole(t token) (int, bool) {
	if t.class != number || t.code != "" || len(t.text) > 6 {
		return 0, false
	}
	n, err := strconv.Atoi(t.text)
	return n, err == nil
}
