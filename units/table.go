package units

import "strings"

// unit is one unit of one kind: SI = (typed - zero) × scale.
type unit struct {
	// spell holds the spellings, parted by spaces, as the lexer writes them:
	// Ω is ohm, µ is u, ° is deg, ² is 2, "per" is /, spaces are gone.
	spell string
	scale float64
	zero  float64
	role  role
}

// role marks the few units that are more than a factor.
type role uint8

const (
	plain   role = iota
	prefixM      // abbreviation that begins with m for milli or M for mega: its case counts
	gauge        // American wire gauge number
	strand       // diameter of one strand, after a count and a slash
	feet         // may be followed by inches
	percent      // hundredths
)

const (
	inch = 25.4e-3 // m, exact (international inch, 1959)
	foot = 12 * inch
	// squareInch and circularMil are areas in m². A circular mil is the area
	// of a circle one mil (0.001 in) across.
	squareInch  = inch * inch
	circularMil = 0.785398163397448309615660845819875721 * 1e-6 * squareInch

	// poundForce is exact: the avoirdupois pound under the standard fall of
	// 9.80665 m/s². inchHg is the conventional inch of mercury.
	poundForce = 4.4482216152605 // N
	mmHg       = 133.322387415   // Pa, conventional
	pound      = 0.45359237      // kg, exact (international avoirdupois pound, 1959)
	inchHg     = 25.4 * mmHg
	psi        = poundForce / squareInch

	perF = 9. / 5 // so many of a thing per kelvin, if one per degree Fahrenheit
)

// table lists the units of each kind. The order within a kind does not matter.
var table = [...][]unit{
	Resistance: {
		{spell: "ohm ohms r", scale: 1},
		{spell: "mohm mohms", scale: 1e-3, role: prefixM},
		{spell: "milliohm milliohms", scale: 1e-3},
		{spell: "uohm uohms microohm microohms", scale: 1e-6},
		{spell: "k kohm kohms kilohm kilohms kiloohm kiloohms", scale: 1e3},
		{spell: "M Mohm Mohms", scale: 1e6, role: prefixM},
		{spell: "meg megohm megohms megaohm megaohms", scale: 1e6},
		{spell: "Gohm Gohms gigohm gigohms", scale: 1e9},
	},
	Capacitance: {
		{spell: "F farad farads", scale: 1},
		{spell: "uF mfd microfarad microfarads", scale: 1e-6},
		{spell: "nF nanofarad nanofarads", scale: 1e-9},
		{spell: "pF mmfd picofarad picofarads", scale: 1e-12},
	},
	Inductance: {
		{spell: "H henry henries henrys", scale: 1},
		{spell: "mH", scale: 1e-3, role: prefixM},
		{spell: "millihenry millihenries millihenrys", scale: 1e-3},
		{spell: "uH microhenry microhenries microhenrys", scale: 1e-6},
	},
	Voltage: {
		{spell: "V volt volts Vdc", scale: 1},
		{spell: "mV", scale: 1e-3, role: prefixM},
		{spell: "millivolt millivolts", scale: 1e-3},
		{spell: "uV microvolt microvolts", scale: 1e-6},
		{spell: "kV kilovolt kilovolts", scale: 1e3},
	},
	Current: {
		{spell: "A amp amps ampere amperes", scale: 1},
		{spell: "mA", scale: 1e-3, role: prefixM},
		{spell: "milliamp milliamps milliampere milliamperes", scale: 1e-3},
		{spell: "uA microamp microamps microampere microamperes", scale: 1e-6},
	},
	Length: {
		{spell: "mm millimetre millimetres millimeter millimeters", scale: 1e-3},
		{spell: "cm centimetre centimetres centimeter centimeters", scale: 1e-2},
		{spell: "m metre metres meter meters", scale: 1},
		{spell: "um micron microns micrometre micrometres micrometer micrometers", scale: 1e-6},
		{spell: `in inch inches "`, scale: inch},
		{spell: "mil mils thou", scale: inch / 1000},
		{spell: "ft foot feet '", scale: foot, role: feet},
	},
	WireSection: {
		{spell: "mm2 sqmm squaremm squaremillimetre squaremillimetres squaremillimeter squaremillimeters", scale: 1e-6},
		{spell: "cm2 sqcm", scale: 1e-4},
		{spell: "in2 sqin squarein squareinch squareinches", scale: squareInch},
		{spell: "cmil cmils circularmil circularmils", scale: circularMil},
		{spell: "kcmil kcmils", scale: 1000 * circularMil},
		{spell: "AWG", role: gauge},
		{spell: "mm", scale: 1e-3, role: strand},
		{spell: `in inch inches "`, scale: inch, role: strand},
	},
	Temperature: {
		{spell: "degC C celsius degcelsius degreeC degreesC degreescelsius", scale: 1},
		{spell: "degF F fahrenheit degfahrenheit degreeF degreesF degreesfahrenheit", scale: 5. / 9, zero: 32},
		{spell: "K degK kelvin", scale: 1, zero: 273.15},
	},
	TemperatureRate: {
		{spell: "/K 1/K /C 1/C /degC 1/degC", scale: 1},
		{spell: "%/K %/C %/degC percent/K percent/C percent/degC", scale: 1e-2},
		{spell: "ppm/K ppm/C ppm/degC", scale: 1e-6},
		{spell: "/F 1/F /degF 1/degF", scale: perF},
		{spell: "%/F %/degF percent/F percent/degF", scale: 1e-2 * perF},
	},
	VoltagePerKelvin: {
		{spell: "V/K V/C V/degC", scale: 1},
		{spell: "mV/K mV/C mV/degC", scale: 1e-3, role: prefixM},
		{spell: "uV/K uV/C uV/degC", scale: 1e-6},
		{spell: "V/F V/degF", scale: perF},
		{spell: "mV/F mV/degF", scale: 1e-3 * perF, role: prefixM},
	},
	Time: {
		{spell: "s sec secs second seconds", scale: 1},
		{spell: "ms msec", scale: 1e-3, role: prefixM},
		{spell: "millisecond milliseconds", scale: 1e-3},
		{spell: "us usec microsecond microseconds", scale: 1e-6},
		{spell: "min mins minute minutes", scale: 60},
		{spell: "h hr hrs hour hours", scale: 3600},
	},
	DistributorAngle: {
		{spell: "deg degree degrees distdeg distdegree distdegrees degdist distributordeg distributordegree distributordegrees degdistributor", scale: 1},
		{spell: "crankdeg crankdegree crankdegrees degcrank degreescrank", scale: 0.5},
	},
	Speed: {
		{spell: "rpm r/min rev/min revs/min 1/min /min", scale: 1},
	},
	Ratio: {
		{spell: ":1", scale: 1},
		{spell: "% percent", scale: 1e-2, role: percent},
	},
	Fraction: {
		{spell: "% percent", scale: 1e-2, role: percent},
	},
	Power: {
		{spell: "W watt watts", scale: 1},
		{spell: "mW", scale: 1e-3, role: prefixM},
		{spell: "milliwatt milliwatts", scale: 1e-3},
		{spell: "kW kilowatt kilowatts", scale: 1e3},
	},
	ThermalResistance: {
		{spell: "K/W C/W degC/W", scale: 1},
	},
	Charge: {
		{spell: "Ah amphour amphours amperehour amperehours", scale: 1},
		{spell: "mAh", scale: 1e-3, role: prefixM},
		{spell: "milliamphour milliamphours", scale: 1e-3},
	},
	Turns: {
		{spell: "turn turns rev revs", scale: 1},
	},
	Energy: {
		{spell: "J joule joules", scale: 1},
		{spell: "mJ", scale: 1e-3, role: prefixM},
		{spell: "millijoule millijoules", scale: 1e-3},
		{spell: "uJ microjoule microjoules", scale: 1e-6},
		{spell: "kJ kilojoule kilojoules", scale: 1e3},
	},
	Count: nil,
	Pressure: {
		{spell: "Pa pascal pascals", scale: 1},
		{spell: "hPa hectopascal hectopascals", scale: 100},
		{spell: "kPa kilopascal kilopascals", scale: 1e3},
		{spell: "bar bars", scale: 1e5},
		{spell: "mbar mbars", scale: 100, role: prefixM},
		{spell: "millibar millibars", scale: 100},
		{spell: `inHg "Hg inchHg inchesHg inHgabs inHgabsolute`, scale: inchHg},
		{spell: "mmHg torr", scale: mmHg},
		{spell: "psi psia lbf/in2 lb/in2", scale: psi},
	},
	Force: {
		{spell: "N newton newtons", scale: 1},
		{spell: "oz ozf ounce ounces ounceforce", scale: poundForce / 16},
		{spell: "lb lbs lbf pound pounds poundforce", scale: poundForce},
		{spell: "g gf gram grams gramforce", scale: 9.80665e-3},
		{spell: "kg kgf kp kilogram kilograms", scale: 9.80665},
	},
	CrankAngle: {
		{spell: "deg degree degrees crankdeg crankdegree crankdegrees degcrank degreescrank", scale: 1},
		{spell: "BTDC degBTDC degreesBTDC degcrankBTDC crankdegBTDC degbeforeTDC degreesbeforeTDC", scale: 1},
		{spell: "distdeg distdegree distdegrees degdist distributordeg distributordegree distributordegrees degdistributor", scale: 2},
	},
	FluxDensity: {
		{spell: "T tesla teslas", scale: 1},
		{spell: "mT", scale: 1e-3, role: prefixM},
		{spell: "millitesla milliteslas", scale: 1e-3},
		{spell: "uT microtesla microteslas", scale: 1e-6},
		{spell: "G gauss Gs", scale: 1e-4},
		{spell: "kgauss kilogauss", scale: 0.1},
	},
	Mass: {
		{spell: "g gram grams gramme grammes", scale: 1e-3},
		{spell: "kg kilogram kilograms", scale: 1},
		{spell: "mg", scale: 1e-6, role: prefixM},
		{spell: "milligram milligrams", scale: 1e-6},
		{spell: "oz ounce ounces", scale: pound / 16},
		{spell: "lb lbs pound pounds", scale: pound},
	},
	SpringRate: {
		{spell: "N/m newton/metre newton/meter newtons/metre newtons/meter", scale: 1},
		{spell: "N/mm newton/mm newtons/mm", scale: 1e3},
		{spell: "lb/in lbs/in lbf/in lb/inch lbs/inch pound/inch pounds/inch", scale: poundForce / inch},
		{spell: "oz/in ozf/in ounce/inch ounces/inch", scale: poundForce / 16 / inch},
		{spell: "gf/mm g/mm", scale: 9.80665},
		{spell: "kgf/mm kg/mm", scale: 9806.65},
	},
	Torque: {
		{spell: "Nm newtonmetre newtonmetres newtonmeter newtonmeters", scale: 1},
		{spell: "mNm", scale: 1e-3, role: prefixM},
		{spell: "Ncm", scale: 1e-2},
		{spell: "lbin lbfin inlb inlbf lbsin inlbs", scale: poundForce * inch},
		{spell: "lbft lbfft ftlb ftlbf lbsft ftlbs", scale: poundForce * foot},
		{spell: "ozin ozfin inoz inozf", scale: poundForce / 16 * inch},
	},
	Vacuum: {
		{spell: "Pa pascal pascals", scale: 1},
		{spell: "hPa hectopascal hectopascals", scale: 100},
		{spell: "kPa kilopascal kilopascals kPavac kPavacuum", scale: 1e3},
		{spell: "bar bars barvac barvacuum", scale: 1e5},
		{spell: "mbar mbars mbarvac mbarvacuum", scale: 100, role: prefixM},
		{spell: "millibar millibars", scale: 100},
		{spell: `inHg "Hg inchHg inchesHg inHgvac inHgvacuum inHgofvacuum "Hgvac "Hgvacuum`, scale: inchHg},
		{spell: "mmHg torr mmHgvac mmHgvacuum", scale: mmHg},
		{spell: "psi lbf/in2 lb/in2", scale: psi},
	},
	GaugePressure: {
		{spell: "Pa pascal pascals", scale: 1},
		{spell: "hPa hectopascal hectopascals", scale: 100},
		{spell: "kPa kilopascal kilopascals kPag", scale: 1e3},
		{spell: "MPa megapascal megapascals", scale: 1e6, role: prefixM},
		{spell: "bar bars barg", scale: 1e5},
		{spell: "mbar mbars", scale: 100, role: prefixM},
		{spell: "millibar millibars", scale: 100},
		{spell: "psi psig lbf/in2 lb/in2", scale: psi},
		{spell: "kg/cm2 kgf/cm2 kp/cm2", scale: 98066.5},
	},
}

// code is a letter that stands for the decimal point and the unit at once, as
// in 4R7 and 5k5 (IEC 60062 for resistors and capacitors; common practice for
// the others).
type code struct {
	kind   Kind
	letter string
	scale  float64
}

var codes = [...]code{
	{Resistance, "R", 1}, {Resistance, "r", 1},
	{Resistance, "k", 1e3}, {Resistance, "K", 1e3},
	{Resistance, "M", 1e6},
	{Capacitance, "u", 1e-6}, {Capacitance, "n", 1e-9}, {Capacitance, "p", 1e-12},
	{Inductance, "m", 1e-3}, {Inductance, "u", 1e-6},
	{Voltage, "V", 1}, {Voltage, "v", 1},
	{Current, "A", 1}, {Current, "a", 1},
}

// unclear is a way of writing a unit that is in use and has two meanings, or
// is close enough to a right one to deserve a better answer than "unknown".
type unclear struct {
	kind  Kind
	spell string
	exact bool // letter case counts
	what  string
}

const milliMega = "m is milli (a thousandth), M is mega (a million)"

var unclears = [...]unclear{
	{Resistance, "MOHM MOHMS", true, "all in capitals this could be milliohm or megohm: " + milliMega + "; write mohm or Mohm"},
	{Resistance, "m", true, "m alone is not clear: " + milliMega + "; write mohm or Mohm"},
	{Capacitance, "mF", false, "mF is a millifarad in a textbook and a microfarad on an old condenser; write µF, uF or mfd"},
	{WireSection, "ga gauge gage", false, "American and British gauges give the same number to different wires; write AWG, or the copper area in mm²"},
	{WireSection, "swg", false, "the British wire gauge is not read; write the copper area in mm²"},
	{Pressure, "psig barg", false, "a gauge pressure leaves out the air outside; write it absolute, with about 1 bar or 14.7 psi added at sea level"},
	{Pressure, "inHgvac inHgvacuum inHgofvacuum \"Hgvac \"Hgvacuum mbarvac mbarvacuum kPavac kPavacuum barvac barvacuum mmHgvac mmHgvacuum", false,
		"a vacuum is counted down from the air outside; write what is left, absolute: 18 inHg of vacuum under 30 inHg of air is 12 inHg"},
	{CrankAngle, "ATDC degATDC degreesATDC degcrankATDC crankdegATDC degafterTDC degreesafterTDC", false, "after top dead centre is written as a negative advance: -5 deg"},
	{Vacuum, "inHgabs inHgabsolute psia mbarabs kPaabs barabs mmHgabs", false,
		"an absolute pressure is counted up from nothing; write how far it is below the air outside: 12 inHg absolute under 30 inHg of air is 18 inHg of vacuum"},
	{GaugePressure, "psia mbarabs kPaabs barabs", false,
		"an absolute pressure counts the air outside; write what the gauge shows, with about 1 bar or 14.7 psi taken off at sea level"},
	{Temperature, "deg degree degrees", false, "degrees of which scale? write °C or °F"},
}

// spelt says whether key is one of u's spellings. Letter case counts only in
// the m or M that begins a prefixM unit, unless exact asks for all of it.
func (u *unit) spelt(key string, exact bool) bool {
	for s := range strings.FieldsSeq(u.spell) {
		switch {
		case key == s:
			return true
		case exact || !strings.EqualFold(key, s):
		case u.role != prefixM || key[0] == s[0]:
			return true
		}
	}
	return false
}

// find looks a unit up by the spelling the lexer wrote; nil if k has none.
func find(k Kind, key string) *unit {
	for i := range table[k] {
		if u := &table[k][i]; u.spelt(key, false) {
			return u
		}
	}
	return nil
}

// findUnclear looks up what to say about a spelling with two meanings; "" if
// there is nothing to say.
func findUnclear(k Kind, key string) string {
	for _, u := range unclears {
		if u.kind != k {
			continue
		}
		for s := range strings.FieldsSeq(u.spell) {
			if key == s || !u.exact && strings.EqualFold(key, s) {
				return u.what
			}
		}
	}
	return ""
}

// miscased gives the spelling of k's unit that key would be if its leading m
// or M were of the other case; "" if there is none.
func miscased(k Kind, key string) string {
	for i := range table[k] {
		u := &table[k][i]
		if u.role != prefixM {
			continue
		}
		for s := range strings.FieldsSeq(u.spell) {
			if strings.EqualFold(key, s) {
				return s
			}
		}
	}
	return ""
}

// kindOf gives a kind that has a unit of this spelling, the same letter case
// first.
func kindOf(key string) (Kind, bool) {
	for _, exact := range []bool{true, false} {
		for k := range table {
			for i := range table[k] {
				if table[k][i].spelt(key, exact) {
					return Kind(k), true
				}
			}
		}
	}
	return 0, false
}
