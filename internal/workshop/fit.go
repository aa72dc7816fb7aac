package workshop

import (
	"dwellwright/car"
	"dwellwright/curve"
	"dwellwright/fit"
)

// Fit works out where everything of a car's distributor goes.
func Fit(c *car.Car, set fit.Settings) (*fit.Fit, error) { return fit.Compute(c, set) }

// Curve works out the advance of a car over speed and load.
func Curve(c *car.Car, set curve.Settings) (*curve.Curve, error) { return curve.Compute(c, set) }
