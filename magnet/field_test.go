package magnet

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// near fails unless got is within rel of want.
func near(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: %.9g, wanted %.9g within %g", what, got, want, rel)
	}
}

// endless is a ring whose height makes no difference.
func endless(poles int, radiusM float64) Ring {
	return Ring{Poles: poles, RadiusM: radiusM, HeightM: 0.4, ThicknessM: 0.003, RemanenceT: 0.25, RefC: 20}
}

// Abramowitz and Stegun 1964, table 9.8 (exp(x) K0 and K1 of x), and the integral
// representation 9.6.24 by the trapezoidal rule.
func TestBesselK(t *testing.T) {
	for _, c := range []struct{ x, k0, k1 float64 }{
		{0.1, 2.4270690247, 9.8538447809},
		{1, 0.4210244382, 0.6019072302},
		{2, 0.1138938727, 0.1398658818},
		{5, 0.0036910983, 0.0040446134},
	} {
		k0, k1 := besselK(c.x)
		near(t, "K0", k0, c.k0, 3e-7)
		near(t, "K1", k1, c.k1, 3e-7)
	}
	for x := 0.01; x < 60; x *= 1.3 {
		s0, s1 := 0.0, 0.0
		const h = 1e-3
		for u := h; u < 12; u += h {
			e := math.Exp(-x*math.Cosh(u)) * h
			s0 += e
			s1 += e * math.Cosh(u)
		}
		k0, k1 := besselK(x)
		near(t, "K0", k0, s0+math.Exp(-x)*h/2, 1e-6)
		near(t, "K1", k1, s1+math.Exp(-x)*h/2, 1e-6)
	}
}

// Q of half-integer degree is the m-th Fourier integral of 1/distance (Heine's
// integral, of the handbooks on toroidal functions):
// Q_(m-1/2)(c) = integral from 0 to pi of cos(m t)/sqrt(2c - 2cos t) dt.
func TestToroidal(t *testing.T) {
	for _, m := range []float64{1, 2, 4, 8, 24} {
		for _, q := range []float64{1e-3, 0.01, 0.1, 0.5} {
			const n = 40000
			f, df := 0.0, 0.0
			for i := range n {
				a := math.Pi * (float64(i) + 0.5) / n
				d2 := 2*(1+q) - 2*math.Cos(a)
				f += math.Cos(m*a) / math.Sqrt(d2) * math.Pi / n
				df -= math.Cos(m*a) / (d2 * math.Sqrt(d2)) * math.Pi / n
			}
			tol := 0.01 / m
			got, dgot := toroidal(m, q)
			if math.Abs(f) > 1e-8 {
				near(t, "Q", got, f, tol)
				near(t, "dQ", dgot, df, tol)
			}
		}
	}
}

// The check value: 16 poles on a ring of 30 mm diameter, pitch
// pi 30/16 = 5.89 mm. In the planar limit 1 mm more gap leaves
// exp(-pi/5.89) = 58.7 %; round the circle the exact (endless) ring leaves
// (r/(r+1 mm))^9 of its first harmonic: 55.9 % of it from the surface, and
// 70.3 % of the whole field from 10 mm to 11 mm out, where nothing else is left.
func TestSixteenPoles(t *testing.T) {
	r := endless(16, 0.015)
	near(t, "pitch", r.pitchM(), 0.00589, 1e-3)
	near(t, "planar", math.Exp(-math.Pi*0.001/r.pitchM()), 0.587, 1e-3)
	near(t, "10 to 11 mm", r.Peak(0.011, 0, 0, 20)/r.Peak(0.010, 0, 0, 20), math.Pow(25.0/26, 9), 1e-3)
	near(t, "the same", math.Pow(25.0/26, 9), 0.703, 1e-3)
	near(t, "from the surface", math.Pow(15.0/16, 9), 0.559, 1e-3)
	// The same pitch on ever larger circles: the planar 58.7 % in the limit,
	// the first harmonic's error falling as one over the radius.
	last := math.Inf(1)
	for _, poles := range []int{8, 16, 32, 64} {
		r := endless(poles, 0.015*float64(poles)/16)
		off := math.Abs(r.Peak(0.006, 0, 0, 20)/r.Peak(0.005, 0, 0, 20) - 0.5866)
		if off > 0.7*last {
			t.Errorf("%d poles: %g off the planar limit, %g with half the poles", poles, off, last)
		}
		last = off
	}
	if last > 0.02 {
		t.Errorf("64 poles: %g off the planar limit", last)
	}
}

// A flat endless array of square-wave magnetisation has, over the middle of a
// magnet, the sum of its harmonics in closed form:
// B = 2 Br/pi (atan exp(-k g) - atan exp(-k (g+t))), k = pi/pitch. A large ring
// comes within what its curvature makes of it, the less the larger.
func TestPlanarClosedForm(t *testing.T) {
	last := math.Inf(1)
	for _, poles := range []int{16, 32, 64} {
		r := endless(poles, 0.015*float64(poles)/16)
		k := math.Pi / r.pitchM()
		worst := 0.0
		for _, g := range []float64{0.0005, 0.001, 0.002, 0.003} {
			want := 2 * r.RemanenceT / math.Pi * (math.Atan(math.Exp(-k*g)) - math.Atan(math.Exp(-k*(g+r.ThicknessM))))
			worst = max(worst, math.Abs(r.Peak(g, 0, 0, 20)/want-1))
		}
		if worst > 0.6*last {
			t.Errorf("%d poles: %g off, %g with half", poles, worst, last)
		}
		last = worst
	}
	if last > 0.03 {
		t.Errorf("64 poles: %g off the flat array", last)
	}
}

// An endless ring is the two-dimensional series.
func TestEndlessSeries(t *testing.T) {
	for _, poles := range []int{4, 8, 16} {
		r := endless(poles, 0.015)
		for _, g := range []float64{0.001, 0.003} {
			for _, e := range []float64{0, 0.5, 1.2, 2.5} {
				want := 0.0
				for n := 1; n < 400; n += 2 {
					m := float64(n * poles / 2)
					want += r.RemanenceT / 2 * 4 / (float64(n) * math.Pi) * math.Sin(float64(n)*math.Pi/2) * m / (m + 1) *
						(1 - math.Pow(0.012/0.015, m+1)) * math.Pow(0.015/(0.015+g), m+1) * math.Cos(float64(n)*e)
				}
				near(t, "series", r.Field(g, 0, 0, 20, e), want, 5e-3)
			}
		}
	}
}

// Beyond a third of the pitch the wave round the circle is a sine within a
// tenth of its top, beyond the whole pitch within 0.4 %: harmonics die as their order's power.
func TestSinusoidalFarOut(t *testing.T) {
	r := endless(16, 0.015)
	for _, c := range []struct{ gap, most float64 }{{r.pitchM() / 3, 0.1}, {r.pitchM(), 4e-3}} {
		top := r.Peak(c.gap, 0, 0, 20)
		for e := 0.0; e < math.Pi; e += 0.1 {
			if off := math.Abs(r.Field(c.gap, 0, 0, 20, e)/top - math.Cos(e)); off > c.most {
				t.Errorf("gap %g at %g: %g off a sine", c.gap, e, off)
			}
		}
	}
}

// A single block, on its axis, is the closed form of magnet suppliers'
// handbooks and of Furlani (Permanent Magnet and Electromechanical Devices,
// 2001) for a rectangular magnet:
//
//	B = Br/pi (atan(L W/(2z sqrt(4z^2+L^2+W^2))) - atan(L W/(2(D+z) sqrt(4(D+z)^2+L^2+W^2))))
//
// and far off the dipole Br V/(2 pi r^3).
func TestBlockOnAxis(t *testing.T) {
	r := UsualUnipolar(1, 0.01)
	r.HeightM = 0.006
	for _, z := range []float64{1e-4, 1e-3, 3e-3, 0.01, 0.05} {
		l, w, d := r.HeightM, r.WidthM, r.ThicknessM
		term := func(z float64) float64 { return math.Atan(l * w / (2 * z * math.Sqrt(4*z*z+l*l+w*w))) }
		near(t, "axis", r.Peak(z, 0, 0, 20), r.RemanenceT/math.Pi*(term(z)-term(d+z)), 1e-9)
	}
	z := 0.3
	near(t, "dipole", r.Peak(z, 0, 0, 20), r.RemanenceT*0.004*0.006*0.002/(2*math.Pi*math.Pow(z+0.001, 3)), 1e-3)
}

// A block's field off its axis against its charge summed by Gauss-Legendre,
// and Maxwell: no divergence, no curl outside it.
func TestBlockField(t *testing.T) {
	const b, c, thick = 0.002, 0.003, 0.002
	for _, p := range [][3]float64{{0.001, 0, 0}, {0.001, 0.0025, 0.001}, {0.002, -0.001, 0.004}, {0.0005, 0.003, -0.0035}} {
		var want [3]float64
		for _, face := range []struct{ x, q float64 }{{0, 1}, {-thick, -1}} {
			const panels = 12
			for i := range panels {
				for j := range panels {
					for n, pn := range points12 {
						for k, pk := range points12 {
							dx := p[0] - face.x
							dy := p[1] - b*(2*float64(i)+1-panels+pn)/panels
							dz := p[2] - c*(2*float64(j)+1-panels+pk)/panels
							d := math.Sqrt(dx*dx + dy*dy + dz*dz)
							w := face.q * weights12[n] * weights12[k] * b * c / panels / panels / (4 * math.Pi * d * d * d)
							want[0] += w * dx
							want[1] += w * dy
							want[2] += w * dz
						}
					}
				}
			}
		}
		x, y, z := block(b, c, thick, p[0], p[1], p[2])
		for i, got := range [3]float64{x, y, z} {
			if math.Abs(got-want[i]) > 1e-7 {
				t.Errorf("at %v component %d: %g, the charge gives %g", p, i, got, want[i])
			}
		}
		const h = 1e-6
		at := func(i int, s float64) [3]float64 {
			q := p
			q[i] += s * h
			x, y, z := block(b, c, thick, q[0], q[1], q[2])
			return [3]float64{x, y, z}
		}
		var d [3][3]float64 // d[i][j]: slope of component j along i, T/m
		for i := range d {
			up, down := at(i, 1), at(i, -1)
			for j := range d[i] {
				d[i][j] = (up[j] - down[j]) / (2 * h)
			}
		}
		size := math.Abs(d[0][0]) + math.Abs(d[1][1]) + math.Abs(d[2][2])
		if div := d[0][0] + d[1][1] + d[2][2]; math.Abs(div) > 1e-6*size {
			t.Errorf("at %v: divergence %g T/m of %g", p, div, size)
		}
		for i := range 3 {
			j := (i + 1) % 3
			if curl := d[i][j] - d[j][i]; math.Abs(curl) > 1e-6*size {
				t.Errorf("at %v: curl %g T/m of %g", p, curl, size)
			}
		}
	}
}

// Maxwell for the alternating ring. A tilt of a right angle reads the axial
// component. No curl about the tangent: dBr/dz = dBz/dr. With no curl and no
// divergence every Cartesian component has no Laplacian, and Bz is one.
func TestRingMaxwell(t *testing.T) {
	r := UsualRing(4, 0.015)
	br := func(g, z, e float64) float64 { return r.Field(g, z, 0, 20, e) }
	bz := func(g, z, e float64) float64 { return r.Field(g, z, math.Pi/2, 20, e) }
	const h = 2e-5
	for _, g := range []float64{0.003, 0.004, 0.006} {
		for _, z := range []float64{0.001, 0.002, 0.003} {
			for _, e := range []float64{0, 0.6} {
				along := (br(g, z+h, e) - br(g, z-h, e)) / (2 * h)
				out := (bz(g+h, z, e) - bz(g-h, z, e)) / (2 * h)
				if math.Abs(along-out) > 0.02*math.Abs(along)+0.01 {
					t.Errorf("gap %g z %g e %g: dBr/dz %g, dBz/dr %g T/m", g, z, e, along, out)
				}
				const h = 2e-4
				rad := r.RadiusM + g
				b0 := bz(g, z, e)
				rr := (bz(g+h, z, e) - 2*b0 + bz(g-h, z, e)) / (h * h)
				r1 := (bz(g+h, z, e) - bz(g-h, z, e)) / (2 * h * rad)
				he := h / rad * float64(r.Lobes())
				tt := (bz(g, z, e+he) - 2*b0 + bz(g, z, e-he)) / (h * h)
				zz := (bz(g, z+h, e) - 2*b0 + bz(g, z-h, e)) / (h * h)
				if sum, size := rr+r1+tt+zz, math.Abs(rr)+math.Abs(tt)+math.Abs(zz); math.Abs(sum) > 0.02*size {
					t.Errorf("gap %g z %g e %g: Laplacian of Bz %g of %g T/m2", g, z, e, sum, size)
				}
			}
		}
	}
}

// On a large circle the magnets of an alternating ring are blocks. The two
// solutions, of separate origin, come together as the circle grows: 6 % apart
// at 30 mm of radius, where a radial magnet narrows inwards and a block does
// not, a quarter of that at 120 mm.
func TestRingAgainstBlocks(t *testing.T) {
	for _, c := range []struct {
		lobes  int
		radius float64
		most   float64
	}{{8, 0.03, 0.06}, {16, 0.06, 0.03}, {32, 0.12, 0.015}} {
		ring := UsualRing(c.lobes, c.radius)
		ring.WidthM = 0.004
		for _, gap := range []float64{0.001, 0.002, 0.003} {
			for _, z := range []float64{0, 0.002} {
				sum := 0.0
				for j := range ring.Poles {
					sin, cos := math.Sincos(2 * math.Pi * float64(j) / float64(ring.Poles))
					rad := ring.RadiusM + gap
					x, y, _ := block(ring.WidthM/2, ring.HeightM/2, ring.ThicknessM, rad*cos-ring.RadiusM, rad*sin, z)
					sum += (x*cos + y*sin) * float64(1-2*(j%2))
				}
				near(t, "blocks", ring.Peak(gap, z, 0, 20), ring.RemanenceT*sum, c.most)
			}
		}
	}
}

// The face's average against many points over it.
func TestFaceAverage(t *testing.T) {
	for _, ring := range []Ring{UsualRing(4, 0.015), UsualRing(8, 0.015), UsualUnipolar(4, 0.015)} {
		for _, tilt := range []float64{0, 0.15} {
			f := Fit{Ring: ring, Hall: UsualHall(), TempC: 20, AxialM: 0.001, TiltRad: tilt}
			f.Hall.FaceM = 0.001
			f.Hall.DepthM = 0
			const n, gap = 8, 0.0015
			sum := 0.0
			for i := range n {
				for j := range n {
					across := f.Hall.FaceM * ((float64(i)+0.5)/n - 0.5)
					along := f.Hall.FaceM * ((float64(j)+0.5)/n - 0.5)
					g := gap - along*math.Sin(tilt)
					e := across / (ring.RadiusM + gap) * float64(ring.Lobes())
					sum += ring.Field(g, f.AxialM+along*math.Cos(tilt), tilt, 20, e)
				}
			}
			near(t, "face", f.Peak(gap), sum/n/n, 4e-3)
		}
	}
}

// Magnet suppliers' pages: neodymium about -0.12 %/K, ferrite about -0.2 %/K:
// from 20 to 110 degrees about 11 % and 18 %.
func TestHotMagnets(t *testing.T) {
	near(t, "neodymium", UsualUnipolar(4, 0.015).At(110)/UsualUnipolar(4, 0.015).At(20), 0.892, 1e-3)
	near(t, "ferrite", UsualRing(4, 0.015).At(110)/UsualRing(4, 0.015).At(20), 0.82, 1e-3)
	near(t, "field follows", UsualRing(4, 0.015).Peak(0.001, 0, 0, 110)/UsualRing(4, 0.015).Peak(0.001, 0, 0, 20), 0.82, 1e-9)
	if b := UsualRing(4, 0.015).At(1000); b != 0 {
		t.Errorf("at 1000 degrees: %g T", b)
	}
}

// drawRing gives any sensible ring.
func drawRing(t *rapid.T) Ring {
	lobes := rapid.IntRange(2, 12).Draw(t, "lobes")
	radius := rapid.Float64Range(0.01, 0.03).Draw(t, "radius")
	var r Ring
	if rapid.Bool().Draw(t, "unipolar") {
		r = UsualUnipolar(lobes, radius)
		r.WidthM = math.Min(r.WidthM, 0.5*r.pitchM())
	} else {
		r = UsualRing(lobes, radius)
		r.WidthM = rapid.Float64Range(0.4, 1).Draw(t, "share") * r.pitchM()
	}
	r.HeightM = rapid.Float64Range(0.003, 0.012).Draw(t, "height")
	r.ThicknessM = rapid.Float64Range(0.0015, 0.005).Draw(t, "thickness")
	return r
}

// Whatever the ring: farther is weaker, and so is hotter; the wave is alike on both
// sides of a magnet and repeats; off the middle plane it is as strong above as
// below.
func TestFieldLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRing(t)
		gap := rapid.Float64Range(0.0005, 0.006).Draw(t, "gap")
		more := gap + rapid.Float64Range(0.0002, 0.003).Draw(t, "more")
		z := rapid.Float64Range(0, 0.3).Draw(t, "z") * r.HeightM
		e := rapid.Float64Range(0, 7).Draw(t, "e")
		tilt := rapid.Float64Range(0, 0.2).Draw(t, "tilt")
		top := r.Peak(gap, z, 0, 20)
		if far := r.Peak(more, z, 0, 20); !(far < top) {
			t.Errorf("%g T at %g, %g T at %g", top, gap, far, more)
		}
		if hot := r.Peak(gap, z, 0, 90); !(hot < top) {
			t.Errorf("%g T cold, %g T hot", top, hot)
		}
		same := func(what string, a, b float64) {
			if math.Abs(a-b) > 1e-9*math.Abs(top) {
				t.Errorf("%s: %g and %g T", what, a, b)
			}
		}
		b := r.Field(gap, z, tilt, 20, e)
		same("other side", b, r.Field(gap, z, tilt, 20, -e))
		same("next period", b, r.Field(gap, z, tilt, 20, e+2*math.Pi))
		same("mirrored", b, r.Field(gap, -z, -tilt, 20, e))
		if !r.Unipolar {
			same("opposite pole", b, -r.Field(gap, z, tilt, 20, e+math.Pi))
		}
	})
}
