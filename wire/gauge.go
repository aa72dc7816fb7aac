package wire

import (
	"fmt"
	"math"
)

// gauges are the sizes [Choose] picks from, thinnest first: the even gauges a
// car's wiring is sold in, then the battery cable sizes [common practice].
var gauges = [...]int{20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3}

// AWGDiameter returns the diameter in metres of the solid round wire of
// American wire gauge n (0 is 1/0, -1 is 2/0, -3 is 4/0):
//
//	d = 0.005 in · 92^((36-n)/39)
//
// Defined from n = -3 (11.68 mm) to 56. Source: ASTM B258.
func AWGDiameter(n int) float64 {
	return 0.005 * 0.0254 * math.Pow(92, float64(36-n)/39)
}

// AWGSection returns the copper area in square metres of American wire gauge
// n, solid or stranded: π/4 times the square of [AWGDiameter].
func AWGSection(n int) float64 {
	d := AWGDiameter(n)
	return math.Pi / 4 * d * d
}

// gaugeName writes a gauge the way the trade does: 14, 1/0, 4/0.
func gaugeName(n int) string {
	if n <= 0 {
		return fmt.Sprintf("%d/0", 1-n)
	}
	return fmt.Sprint(n)
}
