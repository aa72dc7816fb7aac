package units

import "strings"

// Kind says which quantity a figure is of, and with it the unit it is kept in.
type Kind uint8

const (
	Resistance        Kind = iota // ohm
	Capacitance                   // farad
	Inductance                    // henry
	Voltage                       // volt
	Current                       // ampere
	Length                        // metre
	WireSection                   // square metre of conductor
	Temperature                   // degree Celsius, as in every model of the program
	TemperatureRate               // 1/K: part of a figure gained for each kelvin
	VoltagePerKelvin              // V/K
	Time                          // second
	DistributorAngle              // degree at the distributor shaft: half as many as at the crank
	Speed                         // revolutions a minute; whether of crank or distributor the caller knows
	Ratio                         // one figure over another: turns ratio, compression ratio; shown as 90
	Fraction                      // share of a whole, 0.67; shown as 67 %
	Power                         // watt
	ThermalResistance             // K/W
	Charge                        // ampere hour
	Turns                         // turns of a winding or of an adjusting screw
	Energy                        // joule
	Count                         // whole things
	Pressure                      // pascal above nothing (absolute), never above the air outside
	Force                         // newton
	CrankAngle                    // degree at the crankshaft: twice as many as at the distributor
	FluxDensity                   // tesla, at the face of a magnet or where a sensor switches
	Mass                          // kilogram
	SpringRate                    // newton for each metre of stretch
	Torque                        // newton metre
	Vacuum                        // pascal below the air outside
	GaugePressure                 // pascal above the air outside, as a gauge shows it
)

// trait is what is peculiar to one kind, beside its units.
type trait struct {
	name    string
	accepts string
	// needsUnit, if not empty, says why a bare number is refused.
	needsUnit string
	// notNegative marks quantities of which there cannot be less than none.
	notNegative bool
	// grouped marks quantities nobody writes to thousandths, so that in 1,200
	// the comma parts thousands.
	grouped bool
}

var traits = [...]trait{
	Resistance: {
		name: "resistance", notNegative: true,
		accepts: "ohm, Ω, mohm, mΩ, kohm, kΩ, Mohm, MΩ; for example 1.5 ohm, 5.5 kΩ, 5k5, 4R7, 38 mΩ",
	},
	Capacitance: {
		name: "capacitance", notNegative: true,
		accepts: "µF, uF, mfd, nF, pF, F; for example 0.22 µF, .22 mfd",
	},
	Inductance: {
		name: "inductance", notNegative: true,
		accepts: "H, mH, µH, uH; for example 8 mH",
	},
	Voltage: {
		name:    "voltage",
		accepts: "V, mV, µV, kV; for example 14.2 V, 14,2 V, 25 kV",
	},
	Current: {
		name:    "current",
		accepts: "A, amp, mA, µA; for example 3.5 A, 50 mA",
	},
	Length: {
		name: "length", notNegative: true,
		needsUnit: "it could be mm, mil or inches",
		accepts:   "mm, cm, m, µm, in, ″, mil, thou, ft, ′; for example 0.9 mm, 0.035 in, 35 mil, 1/32 in, 6 ft 3 in",
	},
	WireSection: {
		name: "wire section", notNegative: true,
		needsUnit: "it could be a gauge number or mm²",
		accepts:   "mm², mm2, AWG, in², cmil, kcmil, strands/diameter; for example 1.5 mm², 18 AWG, #18, 1/0 AWG, 28/0.30 mm",
	},
	Temperature: {
		name:    "temperature",
		accepts: "°C, C, °F, F, K; for example 82 °C, 180 °F, 355 K",
	},
	TemperatureRate: {
		name:    "temperature coefficient",
		accepts: "/K, 1/K, /°C, %/K, %/°C, ppm/K, ppm/°C, /°F, %/°F; for example 0.0039 /K, 0.39 %/K",
	},
	VoltagePerKelvin: {
		name:    "voltage change per degree",
		accepts: "V/K, mV/K, µV/K, V/°C, mV/°C, mV/°F; for example -16 mV/K",
	},
	Time: {
		name: "time", notNegative: true,
		accepts: "s, ms, µs, min, h; for example 12 ms, 20 min",
	},
	DistributorAngle: {
		name:    "distributor angle",
		accepts: "°, deg, crank deg; for example 30 deg, 30°, 60 crank deg (the same)",
	},
	Speed: {
		name: "speed", notNegative: true, grouped: true,
		accepts: "rpm, r/min, rev/min, 1/min; for example 600 rpm, 1200 rpm, 1,200 rpm",
	},
	Ratio: {
		name:    "ratio",
		accepts: ":1, %; for example 90, 90:1, 1.03, 67 %",
	},
	Fraction: {
		name:    "fraction",
		accepts: "%; for example 67 %, 0.67",
	},
	Power: {
		name:    "power",
		accepts: "W, mW, kW; for example 45 W",
	},
	ThermalResistance: {
		name: "thermal resistance", notNegative: true,
		accepts: "K/W, °C/W; for example 2.5 K/W",
	},
	Charge: {
		name: "charge", notNegative: true,
		accepts: "Ah, A·h, mAh; for example 60 Ah",
	},
	Turns: {
		name:    "number of turns",
		accepts: "turn, turns; for example 250 turns, 1 1/2 turns",
	},
	Energy: {
		name: "energy", notNegative: true,
		accepts: "J, mJ, µJ, kJ; for example 60 mJ",
	},
	Count: {
		name: "count", notNegative: true, grouped: true,
		accepts: "a whole number; for example 8",
	},
	Pressure: {
		name: "absolute pressure", notNegative: true,
		needsUnit: "it could be bar, kPa, psi or inHg",
		accepts:   "bar, mbar, kPa, hPa, Pa, psi, inHg, mmHg; for example 0.55 bar, 55 kPa, 16 inHg, 8 psi",
	},
	Force: {
		name: "force", notNegative: true,
		needsUnit: "it could be newtons, ounces or grams",
		accepts:   "N, ozf, oz, lbf, lb, gf, g, kgf; for example 5.3 N, 19 oz, 540 gf",
	},
	CrankAngle: {
		name:    "crank angle",
		accepts: "°, deg, crank deg, deg BTDC, distributor deg; for example 36 deg, 36°, 8 deg BTDC, 18 distributor deg (the same as 36 deg)",
	},
	FluxDensity: {
		name: "flux density", notNegative: true,
		needsUnit: "it could be tesla, millitesla or gauss",
		accepts:   "T, mT, µT, G, gauss; for example 12 mT, 120 gauss, 0.22 T",
	},
	Mass: {
		name: "mass", notNegative: true,
		needsUnit: "it could be grams, ounces or pounds",
		accepts:   "g, kg, mg, oz, lb; for example 40 g, 1.4 oz",
	},
	SpringRate: {
		name: "spring rate", notNegative: true,
		needsUnit: "it could be N/mm, N/m or lb/in",
		accepts:   "N/mm, N/m, lbf/in, lb/in, ozf/in, oz/in, gf/mm, kgf/mm; for example 2.5 N/mm, 14 lb/in",
	},
	Torque: {
		name: "torque", notNegative: true,
		needsUnit: "it could be N m, lb in or oz in",
		accepts:   "N m, mN m, N cm, lbf in, lb in, lbf ft, lb ft, ozf in, oz in; for example 1 mN m, 0.14 oz in",
	},
	Vacuum: {
		name: "vacuum", notNegative: true,
		needsUnit: "it could be inHg, mbar or kPa",
		accepts:   "inHg, mbar, kPa, hPa, Pa, bar, mmHg, psi; for example 6 inHg, 200 mbar, 20 kPa, 6 inHg vacuum",
	},
	GaugePressure: {
		name: "gauge pressure", notNegative: true,
		needsUnit: "it could be psi, bar or kPa",
		accepts:   "psi, bar, kg/cm², kPa, hPa, Pa, mbar; for example 150 psi, 10.5 bar, 1050 kPa",
	},
}

// known says whether k is one of the kinds above.
func (k Kind) known() bool { return int(k) < len(traits) }

// trait gives what is peculiar to k; the zero trait for an unknown kind.
func (k Kind) trait() trait {
	if k.known() {
		return traits[k]
	}
	return trait{name: "unknown quantity"}
}

// String gives the name of the quantity in plain words, such as "resistance".
func (k Kind) String() string { return k.trait().name }

// Accepts lists the units [Parse] reads for k, then examples, on one line:
// "ohm, Ω, mohm, ...; for example 1.5 ohm". It is empty for an unknown kind.
func (k Kind) Accepts() string { return k.trait().accepts }

// article gives the name with its article: "a resistance", "an energy".
func (k Kind) article() string {
	name := k.String()
	if strings.ContainsRune("aeiou", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}
