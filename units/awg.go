package units

import (
	"math"
	"strconv"
)

// The gauges Parse and Format know: 4/0 is −3, 3/0 is −2, 2/0 is −1, 1/0 is 0.
const (
	ThickestAWG = -3
	ThinnestAWG = 40
)

// AWGDiameterM gives the nominal diameter, in metres, of a solid wire of
// American wire gauge n, where 0 is 1/0, −1 is 2/0, −2 is 3/0 and −3 is 4/0:
//
//	d = 0.005 in × 92^((36−n)/39)
//
// so that 36 is 0.005 in and 4/0 is 0.46 in. The standard rounds the result to
// four significant digits or a tenth of a mil, whichever is coarser; this
// function does not. Valid for −3 ≤ n ≤ 40, beyond which it follows the same
// law. Source: ASTM B258.
func AWGDiameterM(n int) float64 {
	return 0.005 * inch * math.Pow(92, float64(36-n)/39)
}

// AWGSection gives the area of conductor, in m², of American wire gauge n; see
// [AWGDiameterM]. A stranded wire of gauge n has the same area of copper and a
// larger outside.
func AWGSection(n int) float64 {
	d := AWGDiameterM(n)
	return math.Pi / 4 * d * d
}

// NearestAWG gives the gauge whose area is nearest, as a ratio, to sectionM2,
// between [ThickestAWG] and [ThinnestAWG]. A section that is not a positive
// number gives ThinnestAWG.
func NearestAWG(sectionM2 float64) int {
	n := 36 - 39*math.Log(sectionM2/AWGSection(36))/(2*math.Log(92))
	switch {
	case n <= ThickestAWG:
		return ThickestAWG
	case n < ThinnestAWG:
		return int(math.Round(n))
	}
	return ThinnestAWG
}

// AWGName writes a gauge as it is printed on the reel: "18 AWG", "2/0 AWG".
func AWGName(n int) string {
	if n <= 0 {
		return strconv.Itoa(1-n) + "/0 AWG"
	}
	return strconv.Itoa(n) + " AWG"
}
