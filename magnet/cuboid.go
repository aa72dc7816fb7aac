package magnet

import "math"

// rectangle is the field of a rectangle of magnetic charge of 1 T (mu0 times
// charge per area) in the plane x = 0, |y| <= b, |z| <= c, at a point with
// x > 0: the sum over its corners, with Y = y-y', Z = z-z' and rho the
// distance,
//
//	Bx = 1/(4 pi) sum +- atan(Y Z/(x rho))
//	By = -1/(4 pi) sum +- asinh(Z/sqrt(x^2 + Y^2))
//	Bz = -1/(4 pi) sum +- asinh(Y/sqrt(x^2 + Z^2))
//
// (E. P. Furlani, Permanent Magnet and Electromechanical Devices, 2001,
// the charge model of rectangular magnets; G. Akoun and J.-P. Yonnet, IEEE Trans. Magn. 20(5),
// 1984.)
func rectangle(b, c, x, y, z float64) (bx, by, bz float64) {
	for i, yi := range [2]float64{y + b, y - b} {
		for j, zj := range [2]float64{z + c, z - c} {
			sign := 1.0
			if i != j {
				sign = -1
			}
			rho := math.Sqrt(x*x + yi*yi + zj*zj)
			bx += sign * math.Atan(yi*zj/(x*rho))
			by -= sign * math.Asinh(zj/math.Sqrt(x*x+yi*yi))
			bz -= sign * math.Asinh(yi/math.Sqrt(x*x+zj*zj))
		}
	}
	const k = 1 / (4 * math.Pi)
	return bx * k, by * k, bz * k
}

// block is the field of a block magnet of 1 T magnetised along x, its north
// face at x = 0, thick behind it, 2b wide along y and 2c high along z: two
// charged rectangles. x must not be 0 or -thick.
func block(b, c, thick, x, y, z float64) (bx, by, bz float64) {
	x1, y1, z1 := rectangle(b, c, x, y, z)
	x2, y2, z2 := rectangle(b, c, x+thick, y, z)
	return x1 - x2, y1 - y2, z1 - z2
}

// blocks is the field of a unipolar ring with the sensor theta radians past
// the middle of a magnet: every magnet summed, the nearest one averaged over
// the face by two points each way.
func (v *view) blocks(theta float64) float64 {
	r := v.ring
	pitch := 2 * math.Pi / float64(r.Poles)
	sum := 0.0
	for j := range r.Poles {
		a := math.Remainder(theta-float64(j)*pitch, 2*math.Pi)
		if v.faceM > 0 && math.Abs(a) < pitch*0.75 {
			h := gauss2 * v.faceM / 2
			sum += (v.blockAt(a, -h, -h) + v.blockAt(a, -h, h) + v.blockAt(a, h, -h) + v.blockAt(a, h, h)) / 4
		} else {
			sum += v.blockAt(a, 0, 0)
		}
	}
	return sum * v.br
}

// blockAt is the field along the sensor's normal of one magnet of 1 T, with
// the sensor an angle a past it, at a point of the face: across along the
// circle, along it up the leaning shaft direction.
func (v *view) blockAt(a, across, along float64) float64 {
	r := v.ring
	sinA, cosA := math.Sincos(a)
	sinT, cosT := math.Sincos(v.tiltRad)
	rad := r.RadiusM + v.gapM - along*sinT
	x := rad*cosA - across*sinA - r.RadiusM
	y := rad*sinA + across*cosA
	// On the planes of the two faces the closed form divides by zero.
	if math.Abs(x) < 1e-9 {
		x = 1e-9
	}
	if math.Abs(x+r.ThicknessM) < 1e-9 {
		x = -r.ThicknessM - 1e-9
	}
	bx, by, bz := block(r.WidthM/2, r.HeightM/2, r.ThicknessM, x, y, v.axialM+along*cosT)
	return (bx*cosA+by*sinA)*cosT + bz*sinT
}
