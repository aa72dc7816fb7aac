package units_test

import (
	"errors"
	"fmt"

	"dwellwright/units"
)

func ExampleParse() {
	for _, typed := range []string{"1.5 ± 0.1 ohm", "5k5", "1,4 to 1,6 Ω"} {
		v, err := units.Parse(units.Resistance, typed)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.4g to %.4g ohm\n", v.Lo(), v.Hi())
	}
	// Output:
	// 1.4 to 1.6 ohm
	// 5500 to 5500 ohm
	// 1.4 to 1.6 ohm
}

func ExampleParseError() {
	_, err := units.Parse(units.Speed, "850 ohm")
	fmt.Println(err)
	var pe *units.ParseError
	if errors.As(err, &pe) {
		fmt.Printf("%s\n%*s\n", pe.Text, pe.Offset+1, "^")
	}
	// Output:
	// ohm is a resistance; a speed is wanted; accepted: rpm, r/min, rev/min, 1/min; for example 600 rpm, 1200 rpm, 1,200 rpm
	// 850 ohm
	//     ^
}

func ExampleFormat() {
	for _, s := range []units.System{units.Metric, units.Inch} {
		fmt.Println(
			units.Format(units.Length, 0.889e-3, s),
			units.Format(units.WireSection, units.AWGSection(14), s),
			units.Format(units.Capacitance, 0.22e-6, s))
	}
	// Output:
	// 0.889 mm 2.08 mm² 0.22 µF
	// 35 mil 14 AWG 0.22 µF
}

func ExampleFormatValue() {
	v, err := units.Parse(units.Temperature, "180 ± 9 °F")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(units.FormatValue(units.Temperature, v, units.Metric))
	fmt.Println(units.FormatValue(units.Temperature, v, units.Inch))
	// Output:
	// 82.2 ± 5.0 °C
	// 180.0 ± 9.0 °F
}

func ExampleValue_Sample() {
	v, err := units.Parse(units.Resistance, "1.5 ohm ± 10 %")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, u := range []float64{0, 0.25, 0.5, 0.75, 1} {
		fmt.Printf("%.3f ", v.Sample(u))
	}
	fmt.Println()
	// Output:
	// 1.270 1.449 1.500 1.551 1.730
}

func ExampleNearestAWG() {
	const mm2 = 1e-6
	fmt.Println(units.AWGName(units.NearestAWG(2 * mm2)))
	// Output:
	// 14 AWG
}
