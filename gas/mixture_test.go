package gas

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// 0.95 bar, 320 K, ratio 9 from bottom to top dead centre, n = 1.32: 17.3 bar
// and 646 K [calc: 9^1.32 = 18.18, 9^0.32 = 2.020].
func TestPolytropicWorked(t *testing.T) {
	p, k, density := Compress(Mixture{0.95e5, 320, 1.32}, Chamber{CompressionRatio: 9, RodRatio: 3.5}, 0)
	within(t, "Pa", p, 17.3e5, 0.003)
	within(t, "K", k, 646, 0.001)
	within(t, "density", density, 9*Density(0.95e5, 320), 1e-12)
}

// Cold air standard: compression without heat lost, n = 1.4, ratio 8 from 100
// kPa and 300 K gives 1838 kPa and 689 K [thermodynamics textbooks, the Otto
// cycle; also 8^1.4 = 18.38].
func TestAirStandard(t *testing.T) {
	p, k, _ := Compress(Mixture{100e3, 300, 1.4}, Chamber{CompressionRatio: 8, RodRatio: 4}, 0)
	within(t, "Pa", p, 1838e3, 0.001)
	within(t, "K", k, 689.2, 0.001)
}

// Crank pin and piston pin by coordinates: the piston pin is where a circle of
// the rod's length round the crank pin meets the cylinder's axis, found here
// by bisection and without the closed form.
func TestVolumeAgainstCoordinates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Chamber{
			CompressionRatio: rapid.Float64Range(3, 20).Draw(t, "ratio"),
			RodRatio:         rapid.Float64Range(1.5, 10).Draw(t, "rod"),
		}
		deg := rapid.Float64Range(-360, 360).Draw(t, "deg")
		x, y := math.Sin(deg*math.Pi/180), math.Cos(deg*math.Pi/180)
		low, high := y, y+c.RodRatio+1 // of the pin's height, in crank radii
		for range 80 {
			mid := (low + high) / 2
			if math.Hypot(x, mid-y) < c.RodRatio {
				low = mid
			} else {
				high = mid
			}
		}
		swept := (1 + c.RodRatio - low) / 2 // share of the stroke
		want := 1 + swept*(c.CompressionRatio-1)
		if got := c.Volume(deg); math.Abs(got/want-1) > 1e-9 {
			t.Fatalf("%+v at %g°: %g, by coordinates %g", c, deg, got, want)
		}
	})
}

func TestVolumeEnds(t *testing.T) {
	c := Chamber{CompressionRatio: 8.5, RodRatio: 3.5}
	within(t, "top", c.Volume(0), 1, 1e-12)
	within(t, "bottom", c.Volume(180), 8.5, 1e-12)
	// At 90° the piston is past half its stroke by (λ - √(λ²-1))/2 = 0.0730 of
	// it with λ = 3.5 [calc].
	within(t, "90°", c.Volume(90), 1+7.5*(0.5+0.0730), 1e-3)
}

// 30° before with λ = 3.5: 1 - cos = 0.1340, rod 3.5 - √(12.25-0.25) = 0.0359;
// half the sum is 0.0849 of the stroke [calc].
func TestThirtyDegreesBefore(t *testing.T) {
	c := Chamber{CompressionRatio: 8.5, RodRatio: 3.5}
	within(t, "30°", c.Volume(30), 1+7.5*0.08495, 1e-4)
	p, _, _ := Compress(Mixture{0.95e5, 320, 1.32}, c, 30)
	within(t, "Pa", p, 0.95e5*math.Pow(8.5/1.6371, 1.32), 1e-3)
	after, _, _ := Compress(Mixture{0.95e5, 320, 1.32}, c, -30)
	within(t, "before and after alike", after, p, 1e-12)
}

// A valve shutting 50° after bottom dead centre leaves 7.5 of a ratio of 8.5.
func TestLateInlet(t *testing.T) {
	m := Mixture{0.95e5, 320, 1.32}
	late := Chamber{8.5, 3.5, 50}
	p, k, density := Compress(m, late, 0)
	r := density / Density(m.ManifoldPa, m.ChargeK)
	if r < 7.3 || r > 7.7 {
		t.Errorf("ratio left %g", r)
	}
	within(t, "Pa", p, m.ManifoldPa*math.Pow(r, 1.32), 1e-9)
	within(t, "K", k, m.ChargeK*math.Pow(r, 0.32), 1e-9)
}
