package advance

import "math"

// Ambient is the pressure of the standard atmosphere (Pa) at a geopotential
// height above sea level (m), ISO 2533:1975, its layer from -2,000 to 11,000 m:
//
//	p = 101325 (1 - 0.0065 h / 288.15)^(9.80665 / (287.05287 * 0.0065))
//
// Heights outside the layer count as its edge. The weather moves the real
// pressure by some 3 % either way.
func Ambient(altitudeM float64) float64 {
	h := min(max(altitudeM, -2000), 11000)
	return 101325 * math.Pow(1-0.0065*h/288.15, 9.80665/(287.05287*0.0065))
}
