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
// needs nearer than a fiftieth of the pitch is cut off.
const maxHarmonics = 48

// smallest is the share of the first harmonic below which the rest are left.
const smallest = 1e-6

// view prepares the field of the ring at a place.
func (r Ring) view(p place) (*view, error) {
	if err := r.Validate(); err != nil {
		return nil, err
	}
	if err := p.validate(); err != nil {
		return nil, err
	}
	v := &view{ring: r, place: p, br: r.At(p.tempC)}
	v.gapM = math.Max(v.gapM, nearest)
	if !r.Unipolar {
		v.harmonics()
	}
	return v, nil
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
// For a finite height each cylinder of charge is a shell: all of them for the
// first harmonic. Of the higher ones only the outer face is felt; they take
// the endless sum times the outer face's own loss.
func (v *view) harmonics() {
	r := v.ring
	p := float64(r.Poles / 2)
	share := 1.0
	if r.WidthM > 0 {
		share = math.Min(1, r.WidthM/r.pitchM())
	}
	sinT, cosT := math.Sincos(v.tiltRad)
	// The face is averaged along the shaft by two points, along the circle
	// exactly.
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
	for i := range maxHarmonics {
		n := float64(2*i + 1)
		m := n * p
		s := math.Sin(n * math.Pi * share / 2)
		amplitude := v.br * 4 / (n * math.Pi) * s
		sum, size := 0.0, 0.0
		for _, along := range points[:np] {
			rad := r.RadiusM + v.gapM - along*sinT
			rad = math.Max(rad, r.RadiusM+nearest)
			z := v.axialM + along*cosT
			endless := m / (m + 1) * (1 - math.Pow(inner/r.RadiusM, m+1)) * math.Pow(r.RadiusM/rad, m+1) / 2
			size += endless / float64(np)
			if i > 0 && endless < smallest*first*0.1 {
				continue
			}
			var br, bz float64
			if i == 0 {
				br, bz = v.shells(m, rad, z, sinT != 0)
			} else {
				br, bz = shell(m, r.RadiusM, rad, -r.HeightM/2, r.HeightM/2, z, sinT != 0)
				k := endless / (math.Pow(r.RadiusM/rad, m+1) / 2)
				br, bz = br*k, bz*k
			}
			sum += (br*cosT + bz*sinT) / float64(np)
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

// shells is the field of all of a ring's magnetic charge in one harmonic, of
// unit magnetisation.
func (v *view) shells(m, rad, z float64, wantZ bool) (br, bz float64) {
	r := v.ring
	h := r.HeightM / 2
	inner := r.RadiusM - r.ThicknessM
	add := func(charge, a float64) {
		x, y := shell(m, a, rad, -h, h, z, wantZ)
		br += charge * x
		bz += charge * y
	}
	add(1, r.RadiusM)
	add(-1, inner)
	mid := r.RadiusM - r.ThicknessM/2
	for _, a := range [2]float64{mid - gauss2*r.ThicknessM/2, mid + gauss2*r.ThicknessM/2} {
		add(-r.ThicknessM/2/a, a)
	}
	return br, bz
}
