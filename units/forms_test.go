package units

import (
	"math"
	"testing"
)

// form is one way of writing a figure and what it means. The numbers are
// worked by hand from the definitions of the units: 1 in = 25.4 mm, 1 ft = 12
// in, 1 mil = 0.001 in, °C = (°F − 32)/1.8 = K − 273.15 (NIST Special
// Publication 811, appendix B).
type form struct {
	kind  Kind
	text  string
	x, pm float64
	shape Shape
}

var forms = []form{
	// Capacitance. "mfd" for microfarad is common practice, no source.
	{Capacitance, "0.22 µF", 0.22e-6, 0, Exact},
	{Capacitance, "0.22 μF", 0.22e-6, 0, Exact}, // Greek mu
	{Capacitance, ".22uF", 0.22e-6, 0, Exact},
	{Capacitance, "0.22 mfd", 0.22e-6, 0, Exact},
	{Capacitance, "0.22 MFD", 0.22e-6, 0, Exact},
	{Capacitance, ",22 UF", 0.22e-6, 0, Exact},
	{Capacitance, "220 nf", 220e-9, 0, Exact},
	{Capacitance, "60 pF", 60e-12, 0, Exact},
	{Capacitance, "0u22", 0.22e-6, 0, Exact},
	{Capacitance, "2n2", 2.2e-9, 0, Exact},
	{Capacitance, "0.18..0.28 µF", 0.23e-6, 0.05e-6, Uniform},

	// Wire. 18 AWG: 1.0237 mm, 0.8230 mm²; 2/0: 9.2658 mm, 67.43 mm².
	{WireSection, "18 AWG", 0.82305e-6, 0, Exact},
	{WireSection, "18awg", 0.82305e-6, 0, Exact},
	{WireSection, "AWG 18", 0.82305e-6, 0, Exact},
	{WireSection, "#18", 0.82305e-6, 0, Exact},
	{WireSection, "1/0 AWG", 53.475e-6, 0, Exact},
	{WireSection, "0 AWG", 53.475e-6, 0, Exact},
	{WireSection, "2/0 AWG", 67.431e-6, 0, Exact},
	{WireSection, "00 AWG", 67.431e-6, 0, Exact},
	{WireSection, "1.5 mm²", 1.5e-6, 0, Exact},
	{WireSection, "1.5 mm2", 1.5e-6, 0, Exact},
	{WireSection, "1,5mm^2", 1.5e-6, 0, Exact},
	{WireSection, "1.5 sq. mm", 1.5e-6, 0, Exact},
	{WireSection, "0.01 in²", 6.4516e-6, 0, Exact},
	{WireSection, "1620 cmil", 0.82087e-6, 0, Exact},
	{WireSection, "28/0.30 mm", 1.97920e-6, 0, Exact}, // 28 × π/4 × 0.09 mm²
	{WireSection, "14/0.010 in", 0.709390e-6, 0, Exact},
	{WireSection, "18 AWG ± 5 %", 0.82305e-6, 0.0411525e-6, Normal},
	{WireSection, "14..18 AWG", 1.451977e-6, 0.6289304e-6, Uniform},
	{WireSection, "18 AWG to 14 AWG", 1.451977e-6, 0.6289304e-6, Uniform},

	// Length.
	{Length, "0.035 in", 0.889e-3, 0, Exact},
	{Length, "0,035 in", 0.889e-3, 0, Exact}, // a 0 in front: a decimal comma
	{Length, "0.035 in.", 0.889e-3, 0, Exact},
	{Length, "35 mil", 0.889e-3, 0, Exact},
	{Length, "15 thou", 0.381e-3, 0, Exact},
	{Length, "1/32 in", 0.79375e-3, 0, Exact},
	{Length, "½ in", 12.7e-3, 0, Exact},
	{Length, `1 1/2"`, 38.1e-3, 0, Exact},
	{Length, "1-1/2 in", 38.1e-3, 0, Exact},
	{Length, "1/4-1/2 in", 9.525e-3, 3.175e-3, Uniform},
	{Length, "0.9 mm", 0.9e-3, 0, Exact},
	{Length, "0.9 MM", 0.9e-3, 0, Exact},
	{Length, "6 ft", 1.8288, 0, Exact},
	{Length, "6 ft 3 in", 1.905, 0, Exact},
	{Length, `6'3"`, 1.905, 0, Exact},
	{Length, "6′ 3″", 1.905, 0, Exact},
	{Length, "6' 3 1/2''", 1.9177, 0, Exact},
	{Length, "6 ft 3 in ± 1 in", 1.905, 25.4e-3, Normal},
	{Length, "1 in ± 1/32 in", 25.4e-3, 0.79375e-3, Normal},
	{Length, "2 m", 2, 0, Exact},

	// Pressure, always absolute. 29.92 inHg is the standard atmosphere of
	// 101.325 kPa, and so is 14.696 psi, both to the digits given.
	{Pressure, "0.55 bar", 55e3, 0, Exact},
	{Pressure, "550 mbar", 55e3, 0, Exact},
	{Pressure, "550 hPa", 55e3, 0, Exact},
	{Pressure, "55 KPA", 55e3, 0, Exact},
	{Pressure, "29.92 inHg", 101320.75, 0, Exact},
	{Pressure, "16 in. Hg", 54182.218, 0, Exact},
	{Pressure, "16″Hg", 54182.218, 0, Exact},
	{Pressure, "760 mmHg", 101325.014, 0, Exact},
	{Pressure, "14.7 psi", 101352.932, 0, Exact},
	{Pressure, "14.7 lb/in²", 101352.932, 0, Exact},
	{Pressure, "0.38 ± 0.06 bar", 38e3, 6e3, Normal},
	{Pressure, "10..12 inHg", 37250.275, 3386.389, Uniform},
	{Pressure, "12 inHg absolute", 40636.664, 0, Exact},

	// Force. 16 ounces to the pound; 19 oz, a breaker spring, is 5.282 N.
	{Force, "5.3 N", 5.3, 0, Exact},
	{Force, "19 oz", 5.2822632, 0, Exact},
	{Force, "17-21 ozf", 5.2822632, 0.5560277, Uniform},
	{Force, "1 lb", 4.4482216, 0, Exact},
	{Force, "540 gf", 5.295591, 0, Exact},
	{Force, "0.54 kgf", 5.295591, 0, Exact},

	// Vacuum, counted down from the air outside.
	{Vacuum, "6 inHg", 20318.332, 0, Exact},
	{Vacuum, "6 inHg vacuum", 20318.332, 0, Exact},
	{Vacuum, "6 in. Hg vac", 20318.332, 0, Exact},
	{Vacuum, "200 ± 20 mbar", 20e3, 2e3, Normal},

	// A gauge, counted up from the air outside.
	{GaugePressure, "150 psi", 1034213.6, 0, Exact},
	{GaugePressure, "1050 ± 50 kPa", 1050e3, 50e3, Normal},
	{GaugePressure, "10 kg/cm2", 980665, 0, Exact},
	{GaugePressure, "10 kgf/cm²", 980665, 0, Exact},

	// Magnets, weights and springs. 10,000 gauss to the tesla.
	{FluxDensity, "120 gauss", 12e-3, 0, Exact},
	{FluxDensity, "120 G", 12e-3, 0, Exact},
	{FluxDensity, "12 ± 5 mT", 12e-3, 5e-3, Normal},
	{Mass, "40 g", 0.04, 0, Exact},
	{Mass, "1.4 oz", 0.0396893315, 0, Exact},
	{SpringRate, "2.5 N/mm", 2500, 0, Exact},
	{SpringRate, "14 lb/in", 2451.77566, 0, Exact},
	{SpringRate, "14 lb per in", 2451.77566, 0, Exact},
	{Torque, "1 mN m", 1e-3, 0, Exact},
	{Torque, "1 mNm", 1e-3, 0, Exact},
	{Torque, "0.14 oz in", 0.988617e-3, 0, Exact},
	{Torque, "0.14 in-oz", 0.988617e-3, 0, Exact},

	// Angle at the crank; the distributor turns half as fast.
	{CrankAngle, "36 deg", 36, 0, Exact},
	{CrankAngle, "36°", 36, 0, Exact},
	{CrankAngle, "36", 36, 0, Exact},
	{CrankAngle, "36 crank deg", 36, 0, Exact},
	{CrankAngle, "36° crank", 36, 0, Exact},
	{CrankAngle, "8° BTDC", 8, 0, Exact},
	{CrankAngle, "8 ± 2 deg BTDC", 8, 2, Normal},
	{CrankAngle, "18 distributor deg", 36, 0, Exact},
	{CrankAngle, "-5 deg", -5, 0, Exact},
	{CrankAngle, "10 deg ± 2 distributor deg", 10, 4, Normal},
	{DistributorAngle, "36 crank deg", 18, 0, Exact},

	{Turns, "1 1/2 turns", 1.5, 0, Exact},
	{Turns, "1½ turn", 1.5, 0, Exact},
	{Turns, "-1/4 turn", -0.25, 0, Exact},
	{Turns, "250", 250, 0, Exact},

	// Resistance. The letter code is IEC 60062.
	{Resistance, "5.5 kΩ", 5500, 0, Exact},
	{Resistance, "5.5 kΩ", 5500, 0, Exact}, // ohm sign
	{Resistance, "5.5KOHM", 5500, 0, Exact},
	{Resistance, "5.5k", 5500, 0, Exact},
	{Resistance, "5k5", 5500, 0, Exact},
	{Resistance, "5K5", 5500, 0, Exact},
	{Resistance, "5k5 Ω", 5500, 0, Exact},
	{Resistance, "4R7", 4.7, 0, Exact},
	{Resistance, "R47", 0.47, 0, Exact},
	{Resistance, "2M2", 2.2e6, 0, Exact},
	{Resistance, "2 Mohm", 2e6, 0, Exact},
	{Resistance, "2 MΩ", 2e6, 0, Exact},
	{Resistance, "2 Meg", 2e6, 0, Exact},
	{Resistance, "2 megohms", 2e6, 0, Exact},
	{Resistance, "38 mohm", 38e-3, 0, Exact},
	{Resistance, "38 mΩ", 38e-3, 0, Exact},
	{Resistance, "38 Milliohms", 38e-3, 0, Exact},
	{Resistance, "1.5 ohm", 1.5, 0, Exact},
	{Resistance, "1.5 Ohms", 1.5, 0, Exact},
	{Resistance, "1.5", 1.5, 0, Exact},
	{Resistance, " 1.5 ohm ", 1.5, 0, Exact},
	{Resistance, "5. ohm", 5, 0, Exact},
	{Resistance, "1,234.5 ohm", 1234.5, 0, Exact},
	{Resistance, "1.234,5 ohm", 1234.5, 0, Exact},
	{Resistance, "1,234,567 ohm", 1234567, 0, Exact},
	{Resistance, "1.234.567 ohm", 1234567, 0, Exact},
	{Resistance, "9.500 ohm", 9.5, 0, Exact},
	{Resistance, "1200,500 ohm", 1200.5, 0, Exact}, // four digits before the comma
	{Resistance, "1.5e3 ohm", 1500, 0, Exact},
	{Resistance, "1,5E-3", 1.5e-3, 0, Exact},
	{Resistance, "1.5 ± 0.1 ohm", 1.5, 0.1, Normal},
	{Resistance, "1.5 +/- 0.1 ohm", 1.5, 0.1, Normal},
	{Resistance, "1.5 +- 0.1 ohm", 1.5, 0.1, Normal},
	{Resistance, "1.5 ohm ± 0.1", 1.5, 0.1, Normal},
	{Resistance, "1.5±0.1", 1.5, 0.1, Normal},
	{Resistance, "1.5 ohm ± 100 mohm", 1.5, 0.1, Normal},
	{Resistance, "1.5 ohm ± 10 %", 1.5, 0.15, Normal},
	{Resistance, "1.5 ± 10%", 1.5, 0.15, Normal},
	{Resistance, "5k5 ± 5 %", 5500, 275, Normal},
	{Resistance, "4R7 ± 0.1", 4.7, 0.1, Normal},
	{Resistance, "0.5 ± 3 ohm", 0.5, 3, Normal},
	{Resistance, "1.5 ± 0 ohm", 1.5, 0, Exact},
	{Resistance, "1.4..1.6 ohm", 1.5, 0.1, Uniform},
	{Resistance, "1.4...1.6 ohm", 1.5, 0.1, Uniform},
	{Resistance, "1.4 … 1.6 ohm", 1.5, 0.1, Uniform},
	{Resistance, "1.4 ohm .. 1.6 ohm", 1.5, 0.1, Uniform},
	{Resistance, "1.4 ohm .. 1.6", 1.5, 0.1, Uniform},
	{Resistance, "1.4-1.6 ohm", 1.5, 0.1, Uniform},
	{Resistance, "1,4-1,6 ohm", 1.5, 0.1, Uniform},
	{Resistance, "1.4 – 1.6 ohm", 1.5, 0.1, Uniform},
	{Resistance, "1.4 to 1.6 ohm", 1.5, 0.1, Uniform},
	{Resistance, "900 ohm to 1.1k", 1000, 100, Uniform},
	{Resistance, "1.6..1.6 ohm", 1.6, 0, Exact},
	{Resistance, "1.5 ohm within a factor of 2", 1.5, 1.5, LogNormal},
	{Resistance, "1.5 ohm ×/÷ 2", 1.5, 1.5, LogNormal},
	{Resistance, "1.5 ×÷ 1", 1.5, 0, Exact},

	{Voltage, "14.2 V", 14.2, 0, Exact},
	{Voltage, "14,2 V", 14.2, 0, Exact},
	{Voltage, "+14,25 volts", 14.25, 0, Exact},
	{Voltage, "−14.2 v", -14.2, 0, Exact}, // minus sign
	{Voltage, "13V8", 13.8, 0, Exact},
	{Voltage, "350 mV", 0.35, 0, Exact},
	{Voltage, "25 kV", 25e3, 0, Exact},
	{Voltage, "-0 V", 0, 0, Exact},
	{Voltage, "-3--1 V", -2, 1, Uniform},
	{Current, "3.5 A", 3.5, 0, Exact},
	{Current, "3.5 amps", 3.5, 0, Exact},
	{Current, "50 mA", 50e-3, 0, Exact},
	{Inductance, "8 mH", 8e-3, 0, Exact},
	{Inductance, "8 mh", 8e-3, 0, Exact},
	{Inductance, "40 H", 40, 0, Exact},

	{Speed, "600 rpm", 600, 0, Exact},
	{Speed, "600 RPM", 600, 0, Exact},
	{Speed, "1,200 rpm", 1200, 0, Exact},
	{Speed, "1,200", 1200, 0, Exact},
	{Speed, "1,200.5 rpm", 1200.5, 0, Exact},
	{Speed, "12,5 rpm", 12.5, 0, Exact},
	{Speed, "600 1/min", 600, 0, Exact},
	{Speed, "600 rev/min", 600, 0, Exact},
	{Speed, "600/min", 600, 0, Exact},
	{Speed, "1,100-1,300 rpm", 1200, 100, Uniform},

	{Temperature, "180 °F", 82.2222222222, 0, Exact},
	{Temperature, "180F", 82.2222222222, 0, Exact},
	{Temperature, "82 C", 82, 0, Exact},
	{Temperature, "82 deg. C", 82, 0, Exact},
	{Temperature, "82 ℃", 82, 0, Exact},
	{Temperature, "82", 82, 0, Exact},
	{Temperature, "-40 F", -40, 0, Exact},
	{Temperature, "355 K", 81.85, 0, Exact},
	{Temperature, "180 ± 9 °F", 82.2222222222, 5, Normal}, // no offset of 32
	{Temperature, "82 °C ± 9 °F", 82, 5, Normal},
	{Temperature, "355 K ± 5", 81.85, 5, Normal},
	{Temperature, "-40..-22 F", -35, 5, Uniform},
	{Temperature, "-459.67 °F", -273.15, 0, Exact},
	{TemperatureRate, "0.0039 /K", 0.0039, 0, Exact},
	{TemperatureRate, "0.0039 1/K", 0.0039, 0, Exact},
	{TemperatureRate, "0.0039", 0.0039, 0, Exact},
	{TemperatureRate, "0.39 %/K", 0.0039, 0, Exact},
	{TemperatureRate, "0.39 % per °C", 0.0039, 0, Exact},
	{TemperatureRate, "3900 ppm/K", 0.0039, 0, Exact},
	{TemperatureRate, "0.1 %/°F", 0.0018, 0, Exact},
	{TemperatureRate, "0.39 %/K ± 10 %", 0.0039, 0.00039, Normal},
	{VoltagePerKelvin, "-16 mV/K", -0.016, 0, Exact},
	{VoltagePerKelvin, "-16 mV/°C", -0.016, 0, Exact},
	{VoltagePerKelvin, "−16 mV per K", -0.016, 0, Exact},
	{VoltagePerKelvin, "-10 mV/°F", -0.018, 0, Exact},
	{VoltagePerKelvin, "-16 mV/K ± 25 %", -0.016, 0.004, Normal},

	{Time, "12 ms", 12e-3, 0, Exact},
	{Time, "20 min", 1200, 0, Exact},
	{Time, "2 s", 2, 0, Exact},
	{DistributorAngle, "30 deg", 30, 0, Exact},
	{DistributorAngle, "30°", 30, 0, Exact},
	{DistributorAngle, "30 degrees", 30, 0, Exact},
	{DistributorAngle, "60 crank deg", 30, 0, Exact},
	{DistributorAngle, "28–32°", 30, 2, Uniform},
	{Fraction, "67 %", 0.67, 0, Exact},
	{Fraction, "67 percent", 0.67, 0, Exact},
	{Fraction, "0.67", 0.67, 0, Exact},
	{Fraction, "105 %", 1.05, 0, Exact},
	{Fraction, "67 % ± 5 %", 0.67, 0.05, Normal}, // points
	{Fraction, "67 ± 5 %", 0.67, 0.05, Normal},
	{Fraction, "0.67 ± 0.05", 0.67, 0.05, Normal},
	{Fraction, "60..70 %", 0.65, 0.05, Uniform},
	{Ratio, "90", 90, 0, Exact},
	{Ratio, "90:1", 90, 0, Exact},
	{Ratio, "67 %", 0.67, 0, Exact},
	{Ratio, "90 ± 5 %", 90, 4.5, Normal},
	{Power, "45 W", 45, 0, Exact},
	{Power, "250 mW", 0.25, 0, Exact},
	{ThermalResistance, "2.5 K/W", 2.5, 0, Exact},
	{ThermalResistance, "2.5 °C/W", 2.5, 0, Exact},
	{Charge, "60 Ah", 60, 0, Exact},
	{Charge, "60 A·h", 60, 0, Exact},
	{Charge, "60 amp-hours", 60, 0, Exact},
	{Energy, "60 mJ", 60e-3, 0, Exact},
	{Count, "8", 8, 0, Exact},
	{Count, "1,200", 1200, 0, Exact},
	{Count, "2..5", 3.5, 1.5, Uniform},
}

func TestParseReadsEveryForm(t *testing.T) {
	for _, f := range forms {
		v, err := Parse(f.kind, f.text)
		if err != nil {
			t.Errorf("%v %q: %v", f.kind, f.text, err)
			continue
		}
		// The worked values have at least five digits.
		near := func(got, want float64) bool { return math.Abs(got-want) <= 2e-5*math.Abs(want) }
		if !near(v.X, f.x) || !near(v.PM, f.pm) || v.Shape != f.shape || math.Signbit(v.X) != (f.x < 0) {
			t.Errorf("%v %q: got %+v, want X %g PM %g shape %d", f.kind, f.text, v, f.x, f.pm, f.shape)
		}
	}
}

// A typed prefix gives the same float64 as the literal it stands for.
func TestParseIsExactForPrefixes(t *testing.T) {
	for text, want := range map[string]float64{"0.22 µF": 0.22e-6, "220 nF": 220e-9, "60 pF": 60e-12} {
		if v, err := Parse(Capacitance, text); err != nil || v.X != want {
			t.Errorf("%q: got %v (%v), want exactly %v", text, v.X, err, want)
		}
	}
	if v, err := Parse(Length, "1 in"); err != nil || v.X != 25.4e-3 {
		t.Errorf("1 in: got %v (%v), want exactly 25.4 mm", v.X, err)
	}
}
