package distributor

import "math"

// wrap brings x into [0, period).
func wrap(x, period float64) float64 {
	x = math.Mod(x, period)
	if x < 0 {
		x += period
	}
	if x >= period { // a tiny negative x rounds up to the period itself
		return 0
	}
	return x
}

// near brings x into (-period/2, period/2].
func near(x, period float64) float64 {
	x = wrap(x, period)
	if x > period/2 {
		x -= period
	}
	return x
}

func radians(deg float64) float64 { return deg * (math.Pi / 180) }
func degrees(rad float64) float64 { return rad * (180 / math.Pi) }

func finite(x float64) bool { return x-x == 0 }

func between(low, x, high float64) bool { return low <= x && x <= high }
