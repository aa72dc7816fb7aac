package magnet

import "math"

// place is where a sensor's element stands and how it is held.
type place struct {
	gapM    float64 // surface of the magnets to the element
	axialM  float64 // above the magnets' middle plane
	tiltRad float64 // normal's lean towards +z
	faceM   float64 // side of the square element; 0 is a point
	tempC   float64
}

// validate refuses what is not a place.
func (p place) validate() error {
	return check(ErrPlace,
		figure{"GapM", p.gapM, within(p.gapM, 0, mostM), "0 to 0.5 m"},
		figure{"AxialM", p.axialM, within(p.axialM, -mostM, mostM), "-0.5 to 0.5 m"},
		figure{"TiltRad", p.tiltRad, within(p.tiltRad, -math.Pi/2, math.Pi/2), "-pi/2 to pi/2"},
		figure{"TempC", p.tempC, within(p.tempC, -273.15, 1000), "-273.15 to 1000 degrees Celsius"},
	)
}

// view is the field of a ring as a sensor sees it while the ring turns.
type view struct {
	ring Ring
	place
	br float64 // remanence at the temperature, T

	// An alternating ring's field is the sum of c[i] cos((2i+1) e).
	n int
	c [maxHarmonics]float64
}

// maxHarmonics is how many odd harmonics are summed at most. What a sharp edge
// needs nearer than a hundredth of the pitch is cut off.
const maxHarmonics = 96

// smallest is the share of the first harmonic below which the rest are left.
const smallest = 1e-5

// shares is the same for working out what a finite height leaves of a
// harmonic: smaller ones take the share of the one before.
const shares = 2e-3

// set prepares the field of a ring at a place.
func (v *view) set(r Ring, p place) error {
	if err := r.Validate(); err != nil {
		return err
	}
	if err := p.validate(); err != nil {
		return err
	}
	*v = view{ring: r, place: p, br: r.At(p.tempC)}
	v.gapM = math.Max(v.gapM, nearest)
	if !r.Unipolar {
		v.harmonics()
	}
	return nil
}

// at is the field at an electrical angle, T.
func (v *view) at(e float64) float64 {
	if v.ring.Unipolar {
		return v.blocks(e / float64(v.ring.Poles))
	}
	if e == 0 {
		sum := 0.0
		for _, c := range v.c[:v.n] {
			sum += c
		}
		return sum
	}
	// cos(k+2)e = 2 cos(2e) cos(ke) - cos(k-2)e
	sum := 0.0
	two := 2 * math.Cos(2*e)
	this := math.Cos(e)
	last := this
	for _, c := range v.c[:v.n] {
		sum += c * this
		this, last = two*this-last, this
	}
	return sum
}

// harmonics fills in the amplitudes of an alternating ring.
//
// A square wave of radial magnetisation, magnets covering the share w of their
// pitch, is the sum over odd n of 4/(n pi) sin(n pi w/2) cos(n p theta), with
// p pairs of poles. Its magnetic charge, -div M, lies on the outer face, with
// the opposite sign on the inner face, and as -M/r between them; none on the
// ends, and the recoil permeability is taken as that of air, so the charges
// stand in free space. Endless along the shaft, with m = n p, that sums to
//
//	Br(r) = Br/2 4/(n pi) sin(n pi w/2) m/(m+1) (1 - (Ri/R)^(m+1)) (R/r)^(m+1)
//
// (the case of no iron and mu = 1 of Z. Q. Zhu, D. Howe, E. Bolte, B.
// Ackermann, "Instantaneous magnetic field distribution in brushless permanent
// magnet DC motors, part I", IEEE Trans. Magn. 29(1), 1993; derived afresh).
// For a finite height each cylinder of charge is a shell: see finite.
func (v *view) harmonics() {
	r := v.ring
	p := float64(r.Poles / 2)
	share := 1.0
	if r.WidthM > 0 {
		share = math.Min(1, r.WidthM/r.pitchM())
	}
	sinT, cosT := math.Sincos(v.tiltRad)
	// The face is averaged along the shaft by two points (first harmonic),
	// along the circle exactly.
	points := [2]float64{}
	np := 1
	if v.faceM > 0 {
		points = [2]float64{-gauss2 * v.faceM / 2, gauss2 * v.faceM / 2}
		np = 2
		if v.axialM == 0 && v.tiltRad == 0 {
			np = 1 // both see the same
			points[0] = points[1]
		}
	}
	inner := r.RadiusM - r.ThicknessM
	first := 0.0
	var keepR, keepZ float64 // the last harmonic's shares of an endless ring's field
	for i := range maxHarmonics {
		n := float64(2*i + 1)
		m := n * p
		amplitude := v.br * 4 / (n * math.Pi) * math.Sin(n*math.Pi*share/2)
		body := m / (m + 1) * (1 - math.Pow(inner/r.RadiusM, m+1)) / 2
		if i > 0 {
			np, points[0] = 1, 0 // these are small: the face's middle does
		}
		sum, size := 0.0, 0.0
		for _, along := range points[:np] {
			rad := math.Max(r.RadiusM+v.gapM-along*sinT, r.RadiusM+nearest)
			endless := body * math.Pow(r.RadiusM/rad, m+1)
			size += endless / float64(np)
			if i == 0 || endless > shares*n*first {
				br, bz := v.finite(m, rad, v.axialM+along*cosT, endless, sinT != 0)
				keepR, keepZ = br/endless, bz/endless
			}
			sum += endless * (keepR*cosT + keepZ*sinT) / float64(np)
		}
		if half := m * v.faceM / 2 / (r.RadiusM + v.gapM); half > 0 {
			sum *= math.Sin(half) / half
		}
		v.c[i] = amplitude * sum
		v.n = i + 1
		if i == 0 {
			first = size
		} else if size < n*smallest*first {
			break
		}
	}
}

// finite is the field of a ring of finite height in the harmonic m, of unit
// magnetisation, at radius rad and height z; endless is that of an endless ring.
//
// Low harmonics sum the shells of the outer face, the inner face and, by two
// Gauss points, the charge between. Of high ones the inside is hardly felt: the
// share that a shell of finite height keeps of an endless one's field is taken
// to run straight from the outer face to the inner, or to be the outer face's
// all through.
func (v *view) finite(m, rad, z, endless float64, wantZ bool) (br, bz float64) {
	r := v.ring
	h := r.HeightM / 2
	inner := r.RadiusM - r.ThicknessM
	// Off the middle plane both sides of the peak are integrated.
	fine, coarse := gauss8, gauss6
	if z != 0 {
		fine, coarse = gauss6, gauss4
	}
	if m <= 10 {
		add := func(rule []node, charge, a float64) {
			x, y := shell(rule, m, a, rad, -h, h, z, wantZ)
			br += charge * x
			bz += charge * y
		}
		add(fine, 1, r.RadiusM)
		add(coarse, -1, inner)
		mid, off := r.RadiusM-r.ThicknessM/2, gauss2*r.ThicknessM/2
		add(coarse, -r.ThicknessM/2/(mid-off), mid-off)
		add(coarse, -r.ThicknessM/2/(mid+off), mid+off)
		return br, bz
	}
	whole := math.Pow(r.RadiusM/rad, m+1) / 2
	br, bz = shell(fine, m, r.RadiusM, rad, -h, h, z, wantZ)
	br, bz = br*endless/whole, bz*endless/whole
	q := inner / r.RadiusM
	w := math.Pow(q, m+1)
	if w < 0.01 {
		return br, bz
	}
	// The share at depth s of the thickness is outer's + s (inner's - outer's):
	// the second term's charge, moment is that of the endless sum.
	x, y := shell(coarse, m, inner, rad, -h, h, z, wantZ)
	x, y = x/(whole*w), y/(whole*w)
	k := endless / whole
	moment := -w - ((1-w)/(m+1)-(1-w*q)/(m+2))/(1-q)
	return br + whole*moment*(x-br/(whole*k)), bz + whole*moment*(y-bz/(whole*k))
}
