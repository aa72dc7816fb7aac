package units

import (
	"math"
	"testing"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		kind         Kind
		x            float64
		metric, inch string
	}{
		{Capacitance, 0.22e-6, "0.22 µF", ""},
		{Capacitance, 4.7e-9, "4.7 nF", ""},
		{Capacitance, 60e-12, "60 pF", ""},
		{Capacitance, 1000e-6, "1000 µF", ""},
		{Resistance, 5500, "5.5 kΩ", ""},
		{Resistance, 0.038, "38 mΩ", ""},
		{Resistance, 0.45, "0.45 Ω", ""},
		{Resistance, 1.5, "1.5 Ω", ""},
		{Resistance, 2.2e6, "2.2 MΩ", ""},
		{Resistance, 0, "0 Ω", ""},
		{Resistance, 999.96, "1 kΩ", ""}, // rounding climbs the ladder
		{Resistance, 0.09999, "0.1 Ω", ""},
		{Inductance, 8e-3, "8 mH", ""},
		{Voltage, 13.82, "13.82 V", ""}, // a leading 1 gets a fourth digit
		{Voltage, 28.35, "28.4 V", ""},
		{Voltage, 25e3, "25 kV", ""},
		{Voltage, -0.05, "-50 mV", ""},
		{Current, 4.644, "4.64 A", ""},
		{Length, 0.889e-3, "0.889 mm", "35 mil"},
		{Length, 0.89e-3, "0.89 mm", "35 mil"},
		{Length, 12.7e-3, "12.7 mm", "0.5 in"},
		{Length, 1.905, "1.905 m", "6.25 ft"},
		{Length, 3e-6, "3 µm", "0.1181 mil"},
		{WireSection, 1.5e-6, "1.5 mm²", "1.5 mm²"},
		{WireSection, 0.823e-6, "0.823 mm²", "18 AWG"},
		{WireSection, 67.43e-6, "67.4 mm²", "2/0 AWG"},
		{Temperature, 82.2222222, "82.2 °C", "180 °F"},
		{Temperature, -40, "-40 °C", "-40 °F"},
		{Temperature, -17.7777778, "-17.78 °C", "0 °F"},
		{TemperatureRate, 0.00393, "0.393 %/K", ""},
		{VoltagePerKelvin, -0.016, "-16 mV/K", ""},
		{Time, 12e-3, "12 ms", ""},
		{Time, 1200, "20 min", ""},
		{DistributorAngle, 30, "30°", ""},
		{Speed, 600, "600 rpm", ""},
		{Speed, 3456, "3456 rpm", ""}, // digits before the point are never lost
		{Speed, 1.234, "1.23 rpm", ""},
		{Ratio, 90, "90", ""},
		{Fraction, 0.67, "67 %", ""},
		{Power, 45, "45 W", ""},
		{ThermalResistance, 2.5, "2.5 K/W", ""},
		{Charge, 60, "60 Ah", ""},
		{Turns, 1.5, "1.5 turns", ""},
		{Turns, 1, "1 turn", ""},
		{Energy, 0.06, "60 mJ", ""},
		{Count, 8, "8", ""},
		{Pressure, 55e3, "0.55 bar", "16.24 inHg"},
		{Pressure, 101325, "1.013 bar", "29.9 inHg"},
		{Pressure, 1730e3, "17.3 bar", "251 psi"},
		{Pressure, 2500, "25 mbar", "0.738 inHg"},
		{Pressure, 5, "5 Pa", "0.001476 inHg"},
		{Pressure, 0, "0 bar", "0 inHg"},
		{Force, 5.2822632, "5.28 N", "19 ozf"},
		{Force, 44.482216, "44.5 N", "10 lbf"},
		{Force, 0.05, "5.1 gf", "0.1798 ozf"},
		{Vacuum, 20318.332, "203 mbar", "6 inHg"},
		{GaugePressure, 1034213.6, "10.34 bar", "150 psi"},
		{FluxDensity, 12e-3, "12 mT", ""},
		{FluxDensity, 0.22, "0.22 T", ""},
		{Mass, 0.0396893315, "39.7 g", "1.4 oz"},
		{Mass, 1.2, "1.2 kg", "2.65 lb"},
		{SpringRate, 2451.77566, "2.45 N/mm", "14 lbf/in"},
		{Torque, 1e-3, "1 mN m", "0.1416 ozf in"},
		{Torque, 0.5, "0.5 N m", "4.43 lbf in"},
		{CrankAngle, 36, "36° crank", ""},
		{CrankAngle, -5, "-5° crank", ""},
		{Voltage, 1e-12, "1e-06 µV", ""},
		{Resistance, 3e17, "3e+08 GΩ", ""},
		{Resistance, math.NaN(), "not a number", ""},
		{Resistance, math.Inf(1), "infinite", ""},
		{Kind(200), 1.5, "1.5", ""},
	} {
		if got := Format(c.kind, c.x, Metric); got != c.metric {
			t.Errorf("%v %v: %q, want %q", c.kind, c.x, got, c.metric)
		}
		if c.inch == "" {
			c.inch = c.metric
		}
		if got := Format(c.kind, c.x, Inch); got != c.inch {
			t.Errorf("%v %v, inch: %q, want %q", c.kind, c.x, got, c.inch)
		}
	}
}

func TestFormatValue(t *testing.T) {
	for _, c := range []struct {
		kind         Kind
		v            Value
		metric, inch string
	}{
		{Resistance, Value{1.5, 0.1, Normal}, "1.50 ± 0.10 Ω", ""},
		{Resistance, Value{0.038, 0.0005, Normal}, "38.00 ± 0.50 mΩ", ""},
		{Resistance, Value{0.001, 1, Normal}, "0.0 ± 1.0 Ω", ""}, // prefix of the larger
		{Resistance, Value{5500, 275, Normal}, "5.50 ± 0.28 kΩ", ""},
		{Resistance, Value{1.5, 0.1, Uniform}, "1.40 to 1.60 Ω", ""},
		{Resistance, Value{1.5, 0.45, LogNormal}, "1.5 Ω within a factor of 1.3", ""},
		{Resistance, Value{1.5, 0, Normal}, "1.5 Ω", ""},
		{Resistance, Value{X: 1.5}, "1.5 Ω", ""},
		{Resistance, Value{1.5, 0.1, Shape(9)}, "1.5 Ω", ""},
		{Resistance, Value{1, 0.0996, Normal}, "1.00 ± 0.10 Ω", ""}, // rounds up to the next place
		{Capacitance, Value{0.22e-6, 0.022e-6, Normal}, "0.220 ± 0.022 µF", ""},
		{Speed, Value{1234, 123, Normal}, "1230 ± 120 rpm", ""},
		{Speed, Value{1.2, 0.034, Normal}, "1.2000 ± 0.0340 rpm", ""}, // 1.200 rpm would be refused
		{Temperature, Value{82.2222, 5, Normal}, "82.2 ± 5.0 °C", "180.0 ± 9.0 °F"},
		{Temperature, Value{-30, 10, Uniform}, "-40 to -20 °C", "-40 to -4 °F"},
		{Length, Value{0.889e-3, 0.0254e-3, Normal}, "0.889 ± 0.025 mm", "35.0 ± 1.0 mil"},
		{WireSection, Value{0.823e-6, 0.04115e-6, Normal}, "0.823 ± 0.041 mm²", "18 AWG ± 5.0 %"},
		{WireSection, Value{1.5e-6, 0.1e-6, Normal}, "1.50 ± 0.10 mm²", ""},
		{Fraction, Value{0.67, 0.05, Normal}, "67.0 % ± 5.0 %", ""},
		{DistributorAngle, Value{30, 1, Normal}, "30.0 ± 1.0°", ""},
		{CrankAngle, Value{8, 4, Normal}, "8.0 ± 4.0° crank", ""},
		{CrankAngle, Value{36, 5, Uniform}, "31.0 to 41.0° crank", ""},
		{Pressure, Value{38e3, 6e3, Normal}, "0.380 ± 0.060 bar", "11.2 ± 1.8 inHg"},
		{Force, Value{5.3, 0.7, Normal}, "5.30 ± 0.70 N", "19.1 ± 2.5 ozf"},
		{Voltage, Value{1, 1e-13, Normal}, "1.00000000000e+00 ± 1.00000000000e-13 V", ""},
		{Voltage, Value{-0.01, 1, Normal}, "0.0 ± 1.0 V", ""}, // no minus before nothing
		{Resistance, Value{math.Inf(1), 1, Normal}, "infinite", ""},
	} {
		if got := FormatValue(c.kind, c.v, Metric); got != c.metric {
			t.Errorf("%v %+v: %q, want %q", c.kind, c.v, got, c.metric)
		}
		if c.inch == "" {
			c.inch = c.metric
		}
		if got := FormatValue(c.kind, c.v, Inch); got != c.inch {
			t.Errorf("%v %+v, inch: %q, want %q", c.kind, c.v, got, c.inch)
		}
	}
}
