package wire

import (
	"math"
	"testing"
)

// DIN VDE 0298-4 table 11 column 2: one flexible single-core cable, free in
// air of 30 °C, copper at 70 °C; the same figures serve for car wiring.
func TestAgainstFreeAirTable(t *testing.T) {
	for mm2, amps := range map[float64]float64{0.75: 15, 1: 19, 1.5: 24, 2.5: 32, 4: 42, 6: 54, 10: 73, 16: 98, 25: 129, 35: 158, 50: 198} {
		near(t, "VDE 0298-4", Ampacity(mm2*1e-6, 30, 70), amps, 0.12)
	}
}

// The same standard's table 17: factors for other air temperatures.
func TestAgainstAmbientFactors(t *testing.T) {
	for air, factor := range map[float64]float64{10: 1.22, 20: 1.12, 40: 0.87, 50: 0.71, 60: 0.50} {
		near(t, "VDE 0298-4 factor", Ampacity(2.5e-6, air, 70)/Ampacity(2.5e-6, 30, 70), factor, 0.13)
	}
}

// The table of single insulated conductors in free air of 30 °C in the
// National Electrical Code (310.17), copper at 60, 75 and 90 °C, from memory.
// It is rounded to 5 A.
func TestAgainstBuildingWireInFreeAir(t *testing.T) {
	for awg, amps := range map[int][3]float64{
		14: {25, 30, 35}, 12: {30, 35, 40}, 10: {40, 50, 55}, 8: {60, 70, 80}, 6: {80, 95, 105}, 4: {105, 125, 140}, 2: {140, 170, 190}, 0: {195, 230, 260},
	} {
		for i, copper := range []float64{60, 75, 90} {
			near(t, gaugeName(awg), Ampacity(AWGSection(awg), 30, copper), amps[i], 0.13)
		}
	}
}

// The chassis-wiring column found in electronics handbooks, from memory: no
// temperature is stated with it. It answers to copper at 80 °C in air of 30 °C.
func TestAgainstChassisWiringTable(t *testing.T) {
	for awg, amps := range map[int]float64{20: 11, 18: 16, 16: 22, 14: 32, 12: 41, 10: 55, 8: 73, 6: 101, 4: 135, 2: 181} {
		near(t, gaugeName(awg), Ampacity(AWGSection(awg), 30, PlainPVCLimitC), amps, 0.20)
	}
}

// The bundle figures of FAA AC 43.13-1B table 11-9 (copper 105 °C, air 70 °C,
// 33 and more wires, 60,000 ft) must lie well below a single wire's at sea level.
func TestBundlesCarryLess(t *testing.T) {
	for awg, bundled := range map[int]float64{20: 4, 18: 6, 16: 7, 14: 10, 12: 13, 10: 17} {
		if single := Ampacity(AWGSection(awg), 70, 105); single < 1.5*bundled || single > 4*bundled {
			t.Errorf("gauge %d: single %.1f A, bundled %g A", awg, single, bundled)
		}
	}
}

// Another published correlation for thin level cylinders, piecewise powers of
// Ra [Advances in Heat Transfer 11 (1975) 199, from memory], gives the same
// convection within 20 %.
func TestConvectionAgainstPowerLaw(t *testing.T) {
	for _, d := range []float64{2e-3, 4e-3, 8e-3, 12e-3} {
		for _, rise := range []float64{10, 40, 80} {
			film := 30 + rise/2 + kelvin
			mu, k, rho := air(film)
			ra := gravity / film * rise * math.Pow(d, 3) / math.Pow(mu/rho, 2) * mu * 1006 / k
			c, m := 1.02, 0.148
			switch {
			case ra < 1e-2:
				c, m = 0.675, 0.058
			case ra > 1e4:
				c, m = 0.480, 0.250
			case ra > 1e2:
				c, m = 0.850, 0.188
			}
			near(t, "convection", convection(d, 30+rise, 30), c*math.Pow(ra, m)*k/d, 0.20)
		}
	}
}

// Table values of the US Standard Atmosphere 1976 at sea level, 288.15 K.
func TestAir(t *testing.T) {
	mu, k, rho := air(288.15)
	near(t, "viscosity", mu, 1.7894e-5, 1e-4)
	near(t, "conductivity", k, 0.025326, 2e-4)
	near(t, "density", rho, 1.2250, 1e-4)
}

// A black body at 300 K facing 300 K: 4 σ T³ = 6.124 W/(m² K) [calc].
func TestRadiation(t *testing.T) {
	near(t, "radiation", radiation(26.85, 26.85), emissivity*6.1240, 1e-4)
}

// The balance in TempRise's comment, put together here from its parts.
func TestHeatBalanceCloses(t *testing.T) {
	for _, awg := range []int{20, 14, 10, 2} {
		a := AWGSection(awg)
		for _, amps := range []float64{2, 10, 25} {
			w := newThermalWire(a)
			copper := 40 + TempRise(a, amps, 40)
			made := amps * amps * Resistance(a, 1, copper, Stranded)
			surface := copper - made*w.wallKmW
			given := (convection(w.outerM, surface, 40) + radiation(surface, 40)) * math.Pi * w.outerM * (surface - 40)
			near(t, gaugeName(awg), given, made, 1e-6)
		}
	}
}

func TestAmpacityUndoesTempRise(t *testing.T) {
	for _, awg := range gauges {
		for _, air := range []float64{-20, 30, 90} {
			a := AWGSection(awg)
			near(t, gaugeName(awg), TempRise(a, Ampacity(a, air, 105), air), 105-air, 1e-9)
		}
	}
}

func TestHeatRisesWithCurrentAndThinness(t *testing.T) {
	for i, awg := range gauges {
		a, before := AWGSection(awg), 0.0
		for amps := 0.5; amps < 60; amps *= 1.25 {
			rise := TempRise(a, amps, 30)
			if !(rise > before) && !math.IsInf(rise, 1) {
				t.Errorf("gauge %s at %.2f A: %g K after %g K", gaugeName(awg), amps, rise, before)
			}
			before = rise
			if i > 0 && !(rise < TempRise(AWGSection(gauges[i-1]), amps, 30)) && !math.IsInf(rise, 1) {
				t.Errorf("gauge %s at %.2f A is no cooler than the next thinner", gaugeName(awg), amps)
			}
		}
		if !(Ampacity(a, 30, 105) > Ampacity(a, 30, 80)) || !(Ampacity(a, 60, 80) < Ampacity(a, 30, 80)) {
			t.Errorf("gauge %s: ampacity is the wrong way round in a temperature", gaugeName(awg))
		}
	}
}

func TestEndsOfTheHeatModel(t *testing.T) {
	a := AWGSection(20)
	if r := TempRise(a, 0, 30); r != 0 {
		t.Errorf("no current: %g K", r)
	}
	if r := TempRise(a, 200, 30); !math.IsInf(r, 1) {
		t.Errorf("200 A in 20 gauge: %g K", r)
	}
	if r := TempRise(a, math.Inf(1), 30); !math.IsInf(r, 1) {
		t.Errorf("endless current: %g K", r)
	}
	if i := Ampacity(a, 110, 105); i != 0 {
		t.Errorf("air hotter than the insulation may be: %g A", i)
	}
	nan := math.NaN()
	for _, r := range []float64{TempRise(0, 1, 30), TempRise(-1, 1, 30), TempRise(a, nan, 30), TempRise(a, 1, nan), TempRise(a, 1, 400), Ampacity(nan, 30, 80), Ampacity(a, nan, 80), Ampacity(a, 30, nan), Ampacity(a, 30, 400)} {
		if !math.IsNaN(r) {
			t.Errorf("outside the model: %g", r)
		}
	}
}
