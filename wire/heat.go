package wire

import "math"

// Temperature limits of the usual insulations, °C at the copper, continuous.
const (
	PlainPVCLimitC    = 80.0  // general-purpose thermoplastic primary wire [SAE J1128 type GPT: makers' tables give 80 to 85]
	HeatPVCLimitC     = 105.0 // heat-resistant thermoplastic [marine and appliance wire: makers' tables]
	CrossLinkedLimitC = 125.0 // cross-linked polyethylene for the engine bay [SAE J1128 types GXL, SXL, TXL: makers' tables]
)

// What the heat model assumes of the wire, see TempRise.
const (
	bundleOverSolid = 1.13    // diameter of a bundle of strands over that of a solid wire of its area; 7 strands 3/√7 = 1.134 [calc]
	emissivity      = 0.9     // dull plastic, 0.85 to 0.95 [heat-transfer handbooks, from memory]
	insulationWmK   = 0.17    // PVC 0.15 to 0.19 W/(m K) [handbooks, from memory]
	wallLeastM      = 0.58e-3 // 0.023 in
	wallMostM       = 1.65e-3 // 0.065 in
)

// TempRise returns how many kelvin the copper of a single insulated wire of
// sectionM2 square metres settles above still air of ambientC degrees Celsius
// with a steady current of currentA amperes. Per metre of wire, with T the
// copper's, Ts the surface's and Ta the air's temperature:
//
//	I² R'(T) = q = (Tc+Tr) π D (Ts - Ta)     what is made leaves by the surface
//	T - Ts   = q ln(D/d) / (2 π k)           and has to cross the insulation
//
// where Tc is the coefficient of natural convection from a level cylinder,
//
//	Nu = (0.60 + 0.387 (Ra / (1 + (0.559/Pr)^(9/16))^(16/9))^(1/6))²
//
// [Int. J. Heat and Mass Transfer 18 (1975) 1049], and Tr = ε σ (Ts²+Ta²)(Ts+Ta)
// in kelvin that of radiation with ε = 0.9; air at sea level has the
// properties of the US Standard Atmosphere 1976 at the mean of Ts and Ta. Of a
// 14 gauge wire at 80 °C in air of 30 °C the two are about 15 and 7 W/(m² K).
// The strands' bundle is d = 1.13 times the solid wire's diameter and the
// insulation, conducting k = 0.17 W/(m K), is 0.58 mm thick up to 14 gauge,
// growing with the wire (0.79 mm at 10, 1.65 mm from 2 up) [wall of general
// purpose primary wire, SAE J1128; beyond 14 gauge from memory].
//
// Limits. Single wire, level, hung or clipped so that air gets round it, still
// air at sea level, no sun, heat not led away into terminals (a wire shorter
// than half a metre runs cooler), current steady for several minutes. In a
// bundle, sleeve or conduit it gets hotter, in a draught cooler. Against
// published free-air tables the current for a given temperature is within
// 15 % (see the tests), which is 30 % of the rise.
//
// +Inf is returned where the copper would melt. A section of 0 or less, or
// an ambientC below -100 or above 300, is outside the model: NaN.
func TempRise(sectionM2, currentA, ambientC float64) float64 {
	if !inModel(sectionM2, ambientC) || math.IsNaN(currentA) {
		return math.NaN()
	}
	if currentA == 0 {
		return 0
	}
	w := newThermalWire(sectionM2)
	want := currentA * currentA
	// Current and copper temperature both rise with the surface's temperature.
	low, high := 0.0, copperMeltC-ambientC
	if i2, _ := w.balance(high, ambientC); i2 < want {
		return math.Inf(1)
	}
	for range 60 {
		mid := (low + high) / 2
		if i2, _ := w.balance(mid, ambientC); i2 < want {
			low = mid
		} else {
			high = mid
		}
	}
	_, rise := w.balance(high, ambientC)
	if rise > copperMeltC-ambientC {
		return math.Inf(1)
	}
	return rise
}

// Ampacity returns the steady current in amperes that brings the copper of a
// single insulated wire in still air of ambientC degrees Celsius to
// insulationC: [TempRise] the other way round, with the same model and limits.
// Air as hot as the insulation may be leaves nothing: 0. NaN as in TempRise,
// and for an insulationC above 300.
func Ampacity(sectionM2, ambientC, insulationC float64) float64 {
	if !inModel(sectionM2, ambientC) || !(insulationC <= 300) {
		return math.NaN()
	}
	if insulationC <= ambientC {
		return 0
	}
	w := newThermalWire(sectionM2)
	low, high := 0.0, insulationC-ambientC
	for range 60 {
		mid := (low + high) / 2
		if _, rise := w.balance(mid, ambientC); rise < insulationC-ambientC {
			low = mid
		} else {
			high = mid
		}
	}
	i2, _ := w.balance(low, ambientC)
	return math.Sqrt(i2)
}

func inModel(sectionM2, ambientC float64) bool {
	return sectionM2 > 0 && ambientC >= -100 && ambientC <= 300
}

// thermalWire is what of a wire the heat balance needs.
type thermalWire struct {
	sectionM2 float64
	outerM    float64 // diameter over the insulation
	wallKmW   float64 // K m/W from copper to surface
}

func newThermalWire(sectionM2 float64) thermalWire {
	solid := math.Sqrt(4 / math.Pi * sectionM2)
	bundle := bundleOverSolid * solid
	outer := bundle + 2*wall(solid)
	return thermalWire{sectionM2, outer, math.Log(outer/bundle) / (2 * math.Pi * insulationWmK)}
}

// wall is the thickness of the insulation in metres on copper of a solid
// diameter of solidM metres: 0.58 mm up to 14 gauge (1.63 mm), then growing in
// proportion through 0.79 mm at 10 (2.59 mm) and 0.94 mm at 8 (3.26 mm).
func wall(solidM float64) float64 {
	return min(max(0.22*solidM+0.22e-3, wallLeastM), wallMostM)
}

// balance returns the square of the current and the copper's rise over the
// air, both in balance with a surface surfaceRise kelvin above air of ambientC.
func (w thermalWire) balance(surfaceRise, ambientC float64) (currentA2, copperRise float64) {
	q := (convection(w.outerM, ambientC+surfaceRise, ambientC) + radiation(ambientC+surfaceRise, ambientC)) *
		math.Pi * w.outerM * surfaceRise
	copperRise = surfaceRise + q*w.wallKmW
	return q / Resistance(w.sectionM2, 1, ambientC+copperRise, Stranded), copperRise
}

// convection is the coefficient of natural convection in W/(m² K) from a level
// cylinder of diameterM metres; see TempRise. Good for Ra from 1e-5 to 1e12.
func convection(diameterM, surfaceC, airC float64) float64 {
	filmK := (surfaceC+airC)/2 + kelvin
	viscosity, conductivity, density := air(filmK)
	const heat = 1006 // J/(kg K), dry air
	pr := viscosity * heat / conductivity
	kinematic := viscosity / density
	ra := gravity / filmK * math.Abs(surfaceC-airC) * diameterM * diameterM * diameterM / (kinematic * kinematic) * pr
	root := 0.60 + 0.387*math.Pow(ra/math.Pow(1+math.Pow(0.559/pr, 9.0/16), 16.0/9), 1.0/6)
	return root * root * conductivity / diameterM
}

// radiation is the coefficient of radiation in W/(m² K) of a grey surface to
// surroundings at the temperature of the air.
func radiation(surfaceC, airC float64) float64 {
	const sigma = 5.670374419e-8 // W/(m² K⁴), SI
	s, a := surfaceC+kelvin, airC+kelvin
	return emissivity * sigma * (s*s + a*a) * (s + a)
}

const (
	kelvin  = 273.15
	gravity = 9.80665 // m/s²
)

// air returns the viscosity in Pa s, thermal conductivity in W/(m K) and
// density in kg/m³ of dry air at tempK and 101.325 kPa [US Standard
// Atmosphere 1976].
func air(tempK float64) (viscosity, conductivity, density float64) {
	x := tempK * math.Sqrt(tempK)
	return 1.458e-6 * x / (tempK + 110.4),
		2.64638e-3 * x / (tempK + 245.4*math.Pow(10, -12/tempK)),
		101325 / (287.053 * tempK)
}
