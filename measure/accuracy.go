package measure

import (
	"math"

	"dwellwright/car"
	"dwellwright/twin"
)

// The half-widths, 95 in 100, of the instruments are those that package car
// takes as usual for a reading of which nothing is said: of the figure a part,
// and steps of the last digit of a meter that shows 4000 counts and picks its
// range. Where car has no such instrument the source stands with it.

// digit is the last digit of a 4000-count meter at a figure.
func digit(x float64) float64 {
	x = math.Abs(x)
	d := 1e-4
	for x >= 4000*d && d < 1e9 {
		d *= 10
	}
	return d
}

func parts(share, digits, plus float64) func(float64) float64 {
	return func(x float64) float64 { return share*math.Abs(x) + digits*digit(x) + plus }
}

// accuracyOf is the usual accuracy of an instrument, and it in words.
func accuracyOf(i twin.Instrument) (func(float64) float64, string) {
	switch i {
	case twin.Voltmeter:
		return parts(0.005, 2, 0), "voltmeter, the average: 0.5 % + 2 digits"
	case twin.VoltmeterMin:
		return parts(0.01, 3, 0), "voltmeter holding the lowest: 1 % + 3 digits"
	case twin.VoltmeterMax:
		return parts(0.01, 3, 0), "voltmeter holding the highest: 1 % + 3 digits"
	case twin.ScopeMin, twin.ScopeMax:
		return parts(0.03, 0, 0.1), "scope: 3 % + 0.1 V"
	case twin.Ohmmeter:
		// Leads nulled leave 0.02 ohm [common practice, as in car].
		return func(x float64) float64 { return 0.01*math.Abs(x) + math.Max(2*digit(x), 2e-3) + 0.02 }, "ohmmeter, leads nulled: 1 % + 2 digits + 0.02 ohm"
	case twin.ClampAmmeter:
		return parts(0.02, 0, 0.1), "current clamp: 2 % + 0.1 A"
	case twin.ClampPeak:
		return parts(0.03, 0, 0.2), "current clamp on a scope: 3 % + 0.2 A"
	case twin.Thermometer:
		return parts(0, 0, 2), "thermometer: 2 K"
	case twin.AvailableVolts:
		return parts(0.10, 0, 200), "adjustable spark tester: 10 %"
	case twin.AskedVolts, twin.SnapVolts:
		// Screens can read 20 to 25 % low, clips are seldom calibrated [from a
		// factory manual; between cylinders better than in itself].
		return parts(0.20, 0, 500), "high-voltage clip on a scope: 20 % + 0.5 kV"
	case twin.BurnTime:
		return parts(0.10, 0, 0.05e-3), "high-voltage clip on a scope: 10 % + 0.05 ms [an estimate]"
	case twin.PrimaryPeak:
		return parts(0.05, 0, 5), "scope with a dividing probe: 5 % + 5 V [an estimate]"
	case twin.TimingLight:
		return parts(0, 0, 1), "timing light: 1 degree of the crank"
	case twin.WindowedCap:
		return parts(0, 0, 2), "timing light through a window in the cap: 2 degrees of the distributor"
	case twin.FeelerGauge:
		return parts(0, 0, 0.05e-3), "plastic feeler gauge: 0.05 mm"
	case twin.Caliper:
		return parts(0, 0, 0.1e-3), "caliper: 0.1 mm"
	}
	return parts(0.05, 0, 0), "5 %"
}

// probeWords says where the leads of a spec go.
func probeWords(c *car.Car, s *twin.Spec) string {
	if s == nil {
		return ""
	}
	if s.Red == "" {
		if s.Instrument == twin.PrimaryPeak {
			return "dividing probe on the coil's switched terminal, its earth on the block"
		}
		return "clip round each plug lead in turn, none left hanging open"
	}
	if s.Black == "" {
		for _, list := range [][]car.TestPoint{car.ClampParts, car.HeatParts, car.HighParts, car.LightParts, car.WindowParts, car.FeelerParts, car.CaliperParts} {
			for _, p := range list {
				if p.ID == s.Red {
					return p.Name
				}
			}
		}
		if id, ok := car.LegByName(s.Red); ok {
			return "round the wire: " + car.LegTitles[id]
		}
		return s.Red
	}
	red, black := s.Red, s.Black
	if c.Earth == car.PositiveEarth && s.Instrument != twin.Ohmmeter {
		return "black lead on " + pointName(red) + "; red lead on " + pointName(black) + " (positive earth: leads are the other way round)"
	}
	return "red lead on " + pointName(red) + "; black lead on " + pointName(black)
}

func pointName(id string) string {
	for _, p := range car.TestPoints {
		if p.ID == id {
			return p.Name
		}
	}
	return id
}
