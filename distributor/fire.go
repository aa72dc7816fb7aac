package distributor

import "math"

// Firing is one spark of the distributor's turn.
type Firing struct {
	Lobe     int     // the lobe that makes it
	Tower    int     // the tower nearest to the tip, which gets it
	Cylinder int     // the cylinder whose lead sits there
	Crank    float64 // crank degrees after No. 1's compression top dead centre, in [0, 720)
	Advance  float64 // crank degrees before that cylinder's own, in (-360, 360]
	Rotor    float64 // the tip in the housing frame, in [0, 360)
	Phase    float64 // tip from tower, positive when it has gone past in the direction of rotation, in (-180, 180]
}

// Fire returns the sparks of one turn, one per lobe in their order, with c
// degrees of centrifugal advance and the plate swung v degrees by the can.
//
// Lobe j is at the trigger when
//
//	s·φ/2 + G + s·c + K − s·Lobes[j] = H + T − s·e   (mod 360)
//
// with e what [Distributor.SensorShift] makes of v, so
//
//	φ_j = 2·(s·(H + T − G − K) − e − c + Lobes[j])   (mod 720)
//
// crank degrees after No. 1's compression top dead centre, and the tip stands
// in the housing frame at
//
//	s·φ_j/2 + G + s·c + R − H = T − s·e − K + R + s·Lobes[j]
//
// in which H, G and c have cancelled. The spark goes to the tower nearest to the
// tip, however far that is; where two are equally far, to the first of them.
// It returns nil where the lists differ in length.
func (d *Distributor) Fire(c, v float64) []Firing {
	n := d.sized()
	if n == 0 {
		return nil
	}
	s := float64(d.Rotation)
	e, _ := d.SensorShift(v)
	out := make([]Firing, n)
	for j, lobe := range d.Lobes {
		rotor := d.Trigger - s*e - d.Cam + d.Rotor + s*lobe
		tower, phase := d.nearest(rotor)
		cylinder := d.Leads[tower]
		crank := wrap(2*(s*(d.Housing+d.Trigger-d.Mesh-d.Cam)-e-c+lobe), 720)
		out[j] = Firing{
			Lobe: j, Tower: tower, Cylinder: cylinder,
			Crank:   crank,
			Advance: near(d.top(cylinder)-crank, 720),
			Rotor:   wrap(rotor, 360),
			Phase:   phase,
		}
	}
	return out
}

// Timing returns the advance of No. 1, crank degrees before its compression top
// dead centre in (-360, 360], with c and v as for [Distributor.Fire]. Should
// more than one lobe fire into its tower, the one whose tip comes nearest counts;
// should none, the lobe that comes nearest to it. NaN where the lists differ in
// length or name no No. 1.
func (d *Distributor) Timing(c, v float64) float64 {
	return d.rotated(d.Fire(c, v), 0).advance
}

// SensorShift returns by how many degrees a plate swung by v degrees about its
// pivot moves the sensor round the shaft, positive AGAINST rotation (an
// advance), and the change of its distance from the shaft in metres, positive
// outwards (for a sensor outside the sleeve: a wider air gap).
//
// The sensor's place S turns about the pin P: S' = P + rot(v)·(S − P); the angle is
// that between S and S' seen from the shaft and the radius |S'| − |S|, both
// exact. The can is taken to pull the plate the way that moves the sensor
// against rotation. A plate without a pivot turns about the shaft: v and 0.
func (d *Distributor) SensorShift(v float64) (angleDeg, radiusM float64) {
	p := d.Plate
	if p.PivotRadiusM == 0 {
		return v, 0
	}
	s := float64(d.Rotation)
	sin, cos := math.Sincos(radians(d.Trigger))
	x, y := p.SensorRadiusM*cos, p.SensorRadiusM*sin
	sin, cos = math.Sincos(radians(p.PivotAngle))
	px, py := p.PivotRadiusM*cos, p.PivotRadiusM*sin
	sin, cos = math.Sincos(radians(d.swing() * v))
	qx, qy := px+cos*(x-px)-sin*(y-py), py+sin*(x-px)+cos*(y-py)
	turned := degrees(math.Atan2(x*qy-y*qx, x*qx+y*qy)) // clockwise, in our sense of angles
	return -s * turned, math.Hypot(qx, qy) - p.SensorRadiusM
}

// plateRate is what share of a small swing of the plate turns the sensor round
// the shaft: S·(S−P)/|S|² = 1 − (rP/rS)·cos(angle between them).
func (d *Distributor) plateRate() float64 {
	p := d.Plate
	return 1 - p.PivotRadiusM/p.SensorRadiusM*math.Cos(radians(d.Trigger-p.PivotAngle))
}

// swing is the direction, +1 clockwise, in which the can swings the plate.
func (d *Distributor) swing() float64 {
	if d.plateRate() < 0 {
		return float64(d.Rotation)
	}
	return -float64(d.Rotation)
}

// shiftSpan returns the least and the most shift of the sensor while the plate
// goes through its travel: at its ends, or where the sensor turns back, which
// is where S is square to S−P: |q|² + P·q = 0 with q = S−P, which makes the
// angle between P and q ±acos(−|q|/|P|).
func (d *Distributor) shiftSpan() (low, high float64) {
	high, _ = d.SensorShift(d.VacuumTravel)
	if high < 0 {
		low, high = high, 0
	}
	p := d.Plate
	if p.PivotRadiusM == 0 {
		return low, high
	}
	sin, cos := math.Sincos(radians(d.Trigger - p.PivotAngle)) // seen along P
	qx, qy := p.SensorRadiusM*cos-p.PivotRadiusM, p.SensorRadiusM*sin
	back := degrees(math.Acos(-math.Hypot(qx, qy) / p.PivotRadiusM)) // NaN: it never turns back
	start := degrees(math.Atan2(qy, qx))
	for _, at := range []float64{back, -back} {
		if v := wrap(d.swing()*(at-start), 360); v <= d.VacuumTravel {
			e, _ := d.SensorShift(v)
			low, high = math.Min(low, e), math.Max(high, e)
		}
	}
	return low, high
}

// nearest returns the tower nearest to a tip at the angle rotor in the housing
// frame, and the phase.
func (d *Distributor) nearest(rotor float64) (tower int, phase float64) {
	s := float64(d.Rotation)
	for k, at := range d.Towers {
		p := near(s*(rotor-d.FirstTower)-at, 360)
		if k == 0 || math.Abs(p) < math.Abs(phase) {
			tower, phase = k, p
		}
	}
	return tower, phase
}

// gaps returns the angles from tower k to the one before it and the one after
// it, both positive.
func (d *Distributor) gaps(k int) (back, on float64) {
	n := len(d.Towers)
	if n < 2 {
		return 360, 360
	}
	return wrap(d.Towers[k]-d.Towers[place(k-1, n)], 360), wrap(d.Towers[place(k+1, n)]-d.Towers[k], 360)
}

// top returns the crank angle of a cylinder's compression top dead centre.
func (d *Distributor) top(cylinder int) float64 {
	for i, c := range d.FiringOrder {
		if c == cylinder {
			return d.FiringAt[i]
		}
	}
	return math.NaN()
}

// Pointing is where the rotor points.
type Pointing struct {
	Engine   float64 // the tip in the engine frame, in [0, 360)
	Housing  float64 // and in the housing frame
	Tower    int     // the nearest tower
	Cylinder int     // and whose lead sits there
	Phase    float64 // tip from tower as in Firing
}

// RotorAt returns where the rotor points with the engine standing still, its
// crank at advance degrees before No. 1's compression top dead centre: what is
// seen with the cap off when the distributor is timed at rest.
func (d *Distributor) RotorAt(advance float64) Pointing {
	if d.sized() == 0 {
		return Pointing{Tower: -1}
	}
	at := d.Mesh + d.Rotor - float64(d.Rotation)*advance/2
	tower, phase := d.nearest(at - d.Housing)
	return Pointing{wrap(at, 360), wrap(at-d.Housing, 360), tower, d.Leads[tower], phase}
}
