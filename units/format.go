package units

import (
	"math"
	"strconv"
	"strings"
)

// System says in which units lengths, wire sections, temperatures, pressures
// and vacuum, masses, forces, torques and spring rates are shown; every other
// quantity is the same in both.
type System uint8

const (
	Metric System = iota // mm, mm², °C, bar, g, N
	Inch                 // in and mil, AWG, °F, inHg and psi, oz and lb, ozf and lbf
)

// step is one unit a figure is shown in: typed = SI/scale + zero.
type step struct {
	from   float64 // used for figures of this size (SI) and larger
	scale  float64
	zero   float64
	symbol string // with the space before it, if it takes one
}

// ladder holds a kind's steps, the largest first; the last takes all that is
// smaller. A figure of exactly nothing is shown in the step nil says.
type ladder struct {
	nothing int
	steps   []step
}

var ladders = [...]ladder{
	Resistance:        {3, []step{{1e9, 1e9, 0, " GΩ"}, {1e6, 1e6, 0, " MΩ"}, {1e3, 1e3, 0, " kΩ"}, {0.1, 1, 0, " Ω"}, {1e-4, 1e-3, 0, " mΩ"}, {0, 1e-6, 0, " µΩ"}}},
	Capacitance:       {1, []step{{0.1, 1, 0, " F"}, {1e-8, 1e-6, 0, " µF"}, {1e-9, 1e-9, 0, " nF"}, {0, 1e-12, 0, " pF"}}},
	Inductance:        {1, []step{{1, 1, 0, " H"}, {1e-4, 1e-3, 0, " mH"}, {0, 1e-6, 0, " µH"}}},
	Voltage:           {1, []step{{1e3, 1e3, 0, " kV"}, {0.1, 1, 0, " V"}, {1e-4, 1e-3, 0, " mV"}, {0, 1e-6, 0, " µV"}}},
	Current:           {0, []step{{0.1, 1, 0, " A"}, {1e-4, 1e-3, 0, " mA"}, {0, 1e-6, 0, " µA"}}},
	Length:            {1, []step{{1, 1, 0, " m"}, {1e-5, 1e-3, 0, " mm"}, {0, 1e-6, 0, " µm"}}},
	WireSection:       {0, []step{{0, 1e-6, 0, " mm²"}}},
	Temperature:       {0, []step{{0, 1, 0, " °C"}}},
	TemperatureRate:   {0, []step{{0, 1e-2, 0, " %/K"}}},
	VoltagePerKelvin:  {1, []step{{1, 1, 0, " V/K"}, {1e-4, 1e-3, 0, " mV/K"}, {0, 1e-6, 0, " µV/K"}}},
	Time:              {2, []step{{7200, 3600, 0, " h"}, {120, 60, 0, " min"}, {1, 1, 0, " s"}, {1e-4, 1e-3, 0, " ms"}, {0, 1e-6, 0, " µs"}}},
	DistributorAngle:  {0, []step{{0, 1, 0, "°"}}},
	Speed:             {0, []step{{0, 1, 0, " rpm"}}},
	Ratio:             {0, []step{{0, 1, 0, ""}}},
	Fraction:          {0, []step{{0, 1e-2, 0, " %"}}},
	Power:             {1, []step{{1e3, 1e3, 0, " kW"}, {0.1, 1, 0, " W"}, {0, 1e-3, 0, " mW"}}},
	ThermalResistance: {0, []step{{0, 1, 0, " K/W"}}},
	Charge:            {0, []step{{0, 1, 0, " Ah"}}},
	Turns:             {0, []step{{0, 1, 0, " turns"}}},
	Energy:            {1, []step{{1e3, 1e3, 0, " kJ"}, {1, 1, 0, " J"}, {1e-4, 1e-3, 0, " mJ"}, {0, 1e-6, 0, " µJ"}}},
	Count:             {0, []step{{0, 1, 0, ""}}},
	Pressure:          {0, []step{{1e4, 1e5, 0, " bar"}, {10, 100, 0, " mbar"}, {0, 1, 0, " Pa"}}},
	Force:             {0, []step{{0.1, 1, 0, " N"}, {0, 9.80665e-3, 0, " gf"}}},
	CrankAngle:        {0, []step{{0, 1, 0, "° crank"}}},
	FluxDensity:       {1, []step{{0.1, 1, 0, " T"}, {1e-4, 1e-3, 0, " mT"}, {0, 1e-6, 0, " µT"}}},
	Mass:              {1, []step{{1, 1, 0, " kg"}, {0, 1e-3, 0, " g"}}},
	SpringRate:        {0, []step{{100, 1e3, 0, " N/mm"}, {0, 1, 0, " N/m"}}},
	Torque:            {1, []step{{0.1, 1, 0, " N m"}, {0, 1e-3, 0, " mN m"}}},
	Vacuum:            {1, []step{{1e5, 1e5, 0, " bar"}, {10, 100, 0, " mbar"}, {0, 1, 0, " Pa"}}},
	GaugePressure:     {0, []step{{1e4, 1e5, 0, " bar"}, {10, 100, 0, " mbar"}, {0, 1, 0, " Pa"}}},
}

var (
	inchLength      = ladder{1, []step{{3 * foot, foot, 0, " ft"}, {0.1 * inch, inch, 0, " in"}, {0, inch / 1000, 0, " mil"}}}
	inchTemperature = ladder{0, []step{{0, 5. / 9, 32, " °F"}}}
	// A manifold's pressure is read in inches of mercury, a cylinder's in psi.
	inchPressure = ladder{1, []step{{2e5, psi, 0, " psi"}, {0, inchHg, 0, " inHg"}}}
	inchVacuum   = ladder{0, []step{{0, inchHg, 0, " inHg"}}}
	inchGauge    = ladder{0, []step{{0, psi, 0, " psi"}}}
	inchMass     = ladder{1, []step{{pound, pound, 0, " lb"}, {0, pound / 16, 0, " oz"}}}
	inchRate     = ladder{0, []step{{0, poundForce / inch, 0, " lbf/in"}}}
	inchTorque   = ladder{1, []step{{poundForce * inch, poundForce * inch, 0, " lbf in"}, {0, poundForce / 16 * inch, 0, " ozf in"}}}
	inchForce    = ladder{1, []step{{4 * poundForce, poundForce, 0, " lbf"}, {0, poundForce / 16, 0, " ozf"}}}
)

func (k Kind) ladder(s System) ladder {
	switch {
	case !k.known():
		return ladder{0, []step{{scale: 1}}}
	case k == Length && s == Inch:
		return inchLength
	case k == Temperature && s == Inch:
		return inchTemperature
	case k == Pressure && s == Inch:
		return inchPressure
	case k == Force && s == Inch:
		return inchForce
	case k == Vacuum && s == Inch:
		return inchVacuum
	case k == GaugePressure && s == Inch:
		return inchGauge
	case k == Mass && s == Inch:
		return inchMass
	case k == SpringRate && s == Inch:
		return inchRate
	case k == Torque && s == Inch:
		return inchTorque
	}
	return ladders[k]
}

// nearGauge is how far, as a part, a section may be from a gauge's and still
// be shown as that gauge. Published sections are rounded to less than this;
// neighbouring gauges are 26 % apart.
const nearGauge = 0.005

// gaugeOf gives the gauge a section is shown as in the inch system.
func gaugeOf(section float64) (n int, ok bool) {
	n = NearestAWG(section)
	return n, math.Abs(section/AWGSection(n)-1) < nearGauge
}

// Format writes x, in the unit of k, for a person: three significant digits,
// four if the first is a 1, no trailing zeros, all digits before the decimal
// point up to ten million, and the prefix people use. In the inch system a
// section that is a wire gauge (within 0.5 %) is named by it and any other is
// shown in mm², in which such wire is sold.
func Format(k Kind, x float64, s System) string {
	switch {
	case math.IsNaN(x):
		return "not a number"
	case math.IsInf(x, 0):
		return "infinite"
	}
	if k == WireSection && s == Inch {
		if n, ok := gaugeOf(x); ok {
			return AWGName(n)
		}
	}
	st := k.choose(x, s)
	text := significant(st.typed(x), k.trait().grouped)
	if k == Turns && text == "1" {
		return "1 turn"
	}
	return text + st.symbol
}

// FormatValue writes v, in the unit of k, with its uncertainty: "1.50 ± 0.10
// Ω", "1.40 to 1.60 Ω" or "1.5 Ω within a factor of 1.3". The half-width has
// two significant digits and the centre, or the ends, as many decimals.
func FormatValue(k Kind, v Value, s System) string {
	switch {
	case v.Shape == Exact || v.Shape > LogNormal || v.PM == 0,
		!isFinite(v.X) || !isFinite(v.PM):
		return Format(k, v.X, s)
	case v.Shape == LogNormal:
		return Format(k, v.X, s) + " within a factor of " + trimmed(rounded(v.factor(), v.factor()-1, false))
	}
	if k == WireSection && s == Inch && v.Shape == Normal {
		if n, ok := gaugeOf(v.X); ok {
			return AWGName(n) + " ± " + rounded(v.PM/v.X*100, v.PM/v.X*100, false) + " %"
		}
	}
	largest := v.Lo()
	if math.Abs(v.Hi()) > math.Abs(largest) {
		largest = v.Hi()
	}
	st := k.choose(largest, s)
	pm := v.PM / st.scale
	write := func(x float64) string { return rounded(x, pm, k.trait().grouped) }
	switch {
	case v.Shape == Uniform:
		return write(st.typed(v.Lo())) + " to " + write(st.typed(v.Hi())) + st.symbol
	case k == Fraction: // one % for each, so that ± is read as points
		return write(st.typed(v.X)) + st.symbol + " ± " + write(pm) + st.symbol
	}
	return write(st.typed(v.X)) + " ± " + write(pm) + st.symbol
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// typed converts from SI to the step's unit.
func (st step) typed(x float64) float64 {
	t := x/st.scale + st.zero
	if st.zero != 0 && math.Abs(t) < 1e-6 {
		return 0 // what rounding leaves of 0 °F is not a figure
	}
	return t
}

// choose gives the step that x is shown in.
func (k Kind) choose(x float64, s System) step {
	l := k.ladder(s)
	if x == 0 {
		return l.steps[l.nothing]
	}
	i := 0
	for i < len(l.steps)-1 && math.Abs(x) < l.steps[i].from {
		i++
	}
	// 999.96 ohm, written with three digits, is 1 kohm.
	for i > 0 {
		shown, err := strconv.ParseFloat(significant(x/l.steps[i].scale, false), 64)
		if err != nil || math.Abs(shown)*l.steps[i].scale < l.steps[i-1].from*(1-1e-12) {
			break
		}
		i--
	}
	return l.steps[i]
}

// significant writes x with three or four significant digits.
func significant(x float64, grouped bool) string {
	size := math.Abs(x)
	if size != 0 && (size < 1e-3 || size >= 1e7) {
		return strconv.FormatFloat(x, 'g', 4, 64)
	}
	digits := 3
	e := strconv.FormatFloat(size, 'e', 3, 64)
	if e[0] == '1' {
		digits = 4
	}
	places := max(0, digits-1-exponent(e))
	if grouped && places == 3 && e[len(e)-3:] == "+00" {
		places = 2 // 1.200 rpm could be read as 1200
	}
	return unsigned(trimmed(strconv.FormatFloat(x, 'f', places, 64)))
}

// rounded writes x to the second significant digit of pm.
func rounded(x, pm float64, grouped bool) string {
	places := 1 - exponent(strconv.FormatFloat(pm, 'e', 1, 64))
	if places > 9 || pm >= 1e7 || math.Abs(x) >= 1e15 {
		return strconv.FormatFloat(x, 'e', 11, 64)
	}
	if grouped && places == 3 {
		places = 4 // 1.200 rpm could be read as 1200
	}
	if places < 0 {
		tens := math.Pow10(-places)
		return unsigned(strconv.FormatFloat(math.Round(x/tens)*tens, 'f', 0, 64))
	}
	return unsigned(strconv.FormatFloat(x, 'f', places, 64))
}

// trimmed takes the zeros off the end of a decimal fraction.
func trimmed(text string) string {
	if !strings.Contains(text, ".") || strings.Contains(text, "e") {
		return text
	}
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}

// exponent reads the exponent of a number written as FormatFloat's 'e' does.
func exponent(e string) int {
	n, _ := strconv.Atoi(e[strings.IndexByte(e, 'e')+1:])
	return n
}

// unsigned takes the minus off a zero.
func unsigned(text string) string {
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}
