package magnet

import "math"

// Ring is the part of a trigger that turns with the shaft: magnets on a
// circle, seen by a sensor outside it.
//
// An alternating ring (Unipolar false) is magnetised radially, outwards and
// inwards by turns. A switch that operates on one polarity operates once for
// each magnet that faces it with that polarity, so a ring for N lobes has 2N
// magnets, and Poles counts them all.
//
// A unipolar ring has one block magnet for each lobe, each with the same pole
// outwards: Poles is then the number of lobes.
type Ring struct {
	Poles      int     // magnets on the circle, all of them
	RadiusM    float64 // shaft's axis to the outer face of the magnets
	HeightM    float64 // along the shaft
	ThicknessM float64 // along the radius
	WidthM     float64 // of one magnet along the circle; 0 on an alternating ring: they touch
	RemanenceT float64 // at RefC
	TempCoeff  float64 // change of remanence per kelvin: -0.0012 neodymium, -0.002 ferrite (from memory)
	RefC       float64 // temperature at which RemanenceT holds, degrees Celsius
	Unipolar   bool    // every magnet shows the same pole
}

// Limits of what is worked out: wider than any distributor.
const (
	mostPoles = 64
	mostM     = 0.5
)

// Validate refuses a ring that cannot be, with an [*Error] of [ErrRing].
func (r Ring) Validate() error {
	least, accept := 2, "an even number from 2 to 64"
	if r.Unipolar {
		least, accept = 1, "from 1 to 64"
	}
	if r.Poles < least || r.Poles > mostPoles || !r.Unipolar && r.Poles%2 != 0 {
		return check(ErrRing, figure{"Ring.Poles", float64(r.Poles), false, accept})
	}
	pitch := r.pitchM()
	if err := check(ErrRing,
		figure{"Ring.RadiusM", r.RadiusM, within(r.RadiusM, 1e-3, mostM), "0.001 to 0.5 m"},
		figure{"Ring.HeightM", r.HeightM, within(r.HeightM, 1e-4, mostM), "0.0001 to 0.5 m"},
		figure{"Ring.ThicknessM", r.ThicknessM, within(r.ThicknessM, 1e-4, 0.98*r.RadiusM), "0.0001 m to 0.98 of the radius"},
		figure{"Ring.WidthM", r.WidthM, within(r.WidthM, 0, pitch*(1+1e-9)), "up to the pitch of the magnets, 2 pi RadiusM/Poles"},
		figure{"Ring.RemanenceT", r.RemanenceT, within(r.RemanenceT, 1e-3, 2), "0.001 to 2 T"},
		figure{"Ring.TempCoeff", r.TempCoeff, within(r.TempCoeff, -0.01, 0.01), "-0.01 to 0.01 per kelvin"},
		figure{"Ring.RefC", r.RefC, within(r.RefC, -273.15, 300), "-273.15 to 300 degrees Celsius"},
	); err != nil {
		return err
	}
	if r.Unipolar && r.WidthM < 1e-4 {
		return check(ErrRing, figure{"Ring.WidthM", r.WidthM, false, "0.0001 m or more for the block magnets of a unipolar ring"})
	}
	return nil
}

// Lobes is how many times in a turn the ring operates a switch: the cam lobes
// it stands for.
func (r Ring) Lobes() int {
	if r.Unipolar {
		return r.Poles
	}
	return r.Poles / 2
}

// PeriodDeg is the angle from one operating magnet to the next, distributor
// degrees; 0 for a ring without lobes.
func (r Ring) PeriodDeg() float64 {
	if n := r.Lobes(); n > 0 {
		return 360 / float64(n)
	}
	return 0
}

// pitchM is the arc from one magnet to the next on the outer face.
func (r Ring) pitchM() float64 { return 2 * math.Pi * r.RadiusM / float64(r.Poles) }

// At is the remanence at a temperature (degrees Celsius), T; never below zero.
//
//	Br(T) = Br (1 + TempCoeff (T - RefC))
//
// Past the magnet's own limit it also loses for good, which is not in here.
func (r Ring) At(tempC float64) float64 {
	return r.RemanenceT * math.Max(0, 1+r.TempCoeff*(tempC-r.RefC))
}

// Peak is the field at the middle of an operating magnet, T, at a point: see
// [Ring.Field], at elecRad = 0. Farther out than about a third of the pitch
// it is the highest of the period; nearer, the edges of a wide magnet stand
// higher than its middle, and it is still the middle that must hold a switch.
func (r Ring) Peak(gapM, axialOffsetM, tiltRad, tempC float64) float64 {
	return r.Field(gapM, axialOffsetM, tiltRad, tempC, 0)
}

// Field is the field at a point, T, along the normal of a sensor's face,
// positive where it operates the sensor.
//
// The point is gapM outside the magnets' surface and axialM above their middle
// plane. The normal leans from the radius by tiltRad towards +z (sign counts
// only together with axialM). elecRad is the electrical angle: 2 pi for one
// period, from one operating magnet to the next; 0 at its middle. tempC is the
// magnets' temperature, degrees Celsius. [Fit] averages over the face of a
// sensor; this does not.
//
// NaN for a ring that Validate refuses, a gap below zero, or figures that are
// not numbers. Nearer than 0.02 mm the field at 0.02 mm is given.
func (r Ring) Field(gapM, axialM, tiltRad, tempC, elecRad float64) float64 {
	var v view
	if err := v.set(r, place{gapM: gapM, axialM: axialM, tiltRad: tiltRad, tempC: tempC}); err != nil {
		return math.NaN()
	}
	return v.at(elecRad)
}
