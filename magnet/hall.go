package magnet

import "math"

// Switch is a hall switch with hysteresis: its output conducts from the moment
// the field rises past the operate point until it falls past the release
// point.
//
// Most ignition triggers of this kind interrupt the coil, and so make the
// spark, when the output starts to conduct: the amplifier feeds the coil while
// the output is off. Set SparksOnRelease where the coil is fed while the
// output conducts.
type Switch struct {
	OperateT  float64 // operate point at RefC, T: above 0
	ReleaseT  float64 // release point at RefC, T: below OperateT; below 0 on a latch
	TempCoeff float64 // change of both points per kelvin
	RefC      float64 // degrees Celsius
	FaceM     float64 // side of the sensitive square; 0 is a point
	DepthM    float64 // of the element under the face that the gap is measured to, any cover of the magnets added
	DelayS    float64 // field past its point to output switched

	SparksOnRelease bool
}

// Validate refuses a switch that cannot be, with an [*Error] of [ErrSwitch].
func (s Switch) Validate() error {
	return check(ErrSwitch,
		figure{"Switch.OperateT", s.OperateT, within(s.OperateT, 1e-5, 2), "0.00001 to 2 T"},
		figure{"Switch.ReleaseT", s.ReleaseT, s.ReleaseT < s.OperateT && s.ReleaseT >= -2, "below OperateT, -2 T or more"},
		figure{"Switch.TempCoeff", s.TempCoeff, within(s.TempCoeff, -0.01, 0.01), "-0.01 to 0.01 per kelvin"},
		figure{"Switch.RefC", s.RefC, within(s.RefC, -273.15, 300), "-273.15 to 300 degrees Celsius"},
		figure{"Switch.FaceM", s.FaceM, within(s.FaceM, 0, 0.005), "0 to 0.005 m"},
		figure{"Switch.DepthM", s.DepthM, within(s.DepthM, 0, 0.02), "0 to 0.02 m"},
		figure{"Switch.DelayS", s.DelayS, within(s.DelayS, 0, 0.01), "0 to 0.01 s"},
	)
}

// Points are the operate and release points at a temperature (degrees
// Celsius), T. Both move together; where the straight line would turn them
// over they stay at a hundredth of their figure.
func (s Switch) Points(tempC float64) (operateT, releaseT float64) {
	k := math.Max(0.01, 1+s.TempCoeff*(tempC-s.RefC))
	return s.OperateT * k, s.ReleaseT * k
}

// LagDeg is how far the distributor turns while the output makes up its mind,
// distributor degrees: 360 n/60 DelayS at n distributor rpm. The spark is late
// by that much.
func (s Switch) LagDeg(distRPM float64) float64 { return 6 * distRPM * s.DelayS }
