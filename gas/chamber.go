package gas

import "math"

// Chamber is the geometry of a cylinder with its piston pin in line with the
// crankshaft (an offset pin changes the volume at the spark by less than 1 %).
type Chamber struct {
	CompressionRatio float64 // largest over smallest volume, from the car's data: 8.5
	RodRatio         float64 // length of the rod over radius of the crank (half the stroke): 3 to 4.5
	InletCloseDeg    float64 // crank degrees after bottom dead centre where compression starts; 0 is bottom dead centre
}

// Validate reports the first field that cannot be, as a [FieldError].
func (c Chamber) Validate() error {
	return firstBad("chamber",
		field{"CompressionRatio", c.CompressionRatio, between(3, c.CompressionRatio, 20), "3 to 20"},
		field{"RodRatio", c.RodRatio, between(1.5, c.RodRatio, 10), "rod length over crank radius, 1.5 to 10 (half the stroke is the radius)"},
		field{"InletCloseDeg", c.InletCloseDeg, between(0, c.InletCloseDeg, 90), "0 to 90 crank degrees after bottom dead centre"},
	)
}

// Volume returns the cylinder's volume as a multiple of the smallest (at top
// dead centre), at an angle of crank degrees from top dead centre to either
// side. With ε the compression ratio and λ the rod ratio:
//
//	V = 1 + (ε-1)/2 · (1 + λ - cos θ - √(λ² - sin² θ))
func (c Chamber) Volume(crankDeg float64) float64 {
	sin, cos := math.Sincos(crankDeg * (math.Pi / 180))
	down := 1 + c.RodRatio - cos - math.Sqrt(c.RodRatio*c.RodRatio-sin*sin)
	return 1 + (c.CompressionRatio-1)/2*down
}
