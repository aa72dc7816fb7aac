package advance

import (
	"math"
	"testing"
)

// ISO 2533:1975, standard atmosphere, table of pressure by geopotential height.
func TestAmbientAgainstISO2533(t *testing.T) {
	for _, c := range [][2]float64{
		{-1000, 113930}, {0, 101325}, {500, 95461}, {1000, 89875}, {1500, 84556},
		{2000, 79495}, {3000, 70109}, {4000, 61640}, {5000, 54020}, {11000, 22632},
	} {
		near(t, "ambient", Ambient(c[0]), c[1], 1)
	}
	if Ambient(math.Inf(1)) != Ambient(11000) || Ambient(-1e9) != Ambient(-2000) {
		t.Error("outside the layer it is not the layer's edge")
	}
}

// Common practice, no source: a manifold's vacuum falls by about 1 inHg for
// each 1,000 ft. The standard atmosphere gives 1.08 for the first thousand.
func TestVacuumFallsWithHeight(t *testing.T) {
	const inHg, ft = 3386.39, 0.3048
	fall := (Depression(Manifold, Ambient(0), 35000, 0) - Depression(Manifold, Ambient(1000*ft), 35000, 0)) / inHg
	near(t, "inHg lost in 1,000 ft", fall, 1, 0.15)
}

func TestCan(t *testing.T) {
	c := Can{StartPa: 15000, FullPa: 40000, TravelDeg: 10, HysteresisPa: 2000}
	near(t, "below the start", c.At(14000).Mid, 0, 0)
	near(t, "half way", c.At(27500).Mid, 5, 1e-12)
	near(t, "half way, rising", c.At(27500).Rising, 4.6, 1e-12) // 1,000 Pa late: 0.4 degree
	near(t, "half way, falling", c.At(27500).Falling, 5.4, 1e-12)
	near(t, "beyond full", c.At(90000).Rising, 10, 0)
	if (Can{}).At(50000) != (Band{}) {
		t.Error("no can gives advance")
	}
	if !math.IsNaN(c.At(math.NaN()).Mid) || !math.IsNaN((Can{StartPa: 5, FullPa: 1, TravelDeg: 1}).At(3).Mid) {
		t.Error("nonsense gives a figure")
	}
}

// By hand: 12 cm^2, 18 N preload: starts at 18/0.0012 = 15,000 Pa. Ten degrees
// on a 20 mm lever are 3.491 mm; at 8,000 N/m 27.93 N more: full at 38,270 Pa.
func TestDiaphragmByHand(t *testing.T) {
	c, err := Diaphragm{AreaM2: 0.0012, RateNPerM: 8000, PreloadN: 18, LeverM: 0.020, StopDeg: 10, FrictionN: 0.6}.Can()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "start", c.StartPa, 15000, 1)
	near(t, "full", c.FullPa, 38272, 5)
	near(t, "hysteresis", c.HysteresisPa, 1000, 1e-6)
	near(t, "travel", c.TravelDeg, 10, 0)
}

func TestSources(t *testing.T) {
	for _, c := range []struct {
		src            Source
		throttle, want float64
	}{
		{NoVacuum, 0.3, 0}, {Manifold, 0, 60000}, {Manifold, 0.3, 60000},
		{Ported, 0, 0}, {Ported, PortUncovered, 60000}, {Ported, 0.3, 60000}, {Ported, PortUncovered / 2, 30000},
		{Source(9), 1, 0},
	} {
		near(t, c.src.String(), Depression(c.src, 100000, 40000, c.throttle), c.want, 1e-6)
	}
	if Depression(Manifold, 90000, 95000, 1) != 0 {
		t.Error("boost pulls the can")
	}
}

// Total by hand: 10 at rest, 11 distributor degrees of weights all in = 22, can
// at full travel of 8 = 16: 48 at a cruise. At idle with a ported hose 10.
func TestTotalByHand(t *testing.T) {
	m, c := Usual(), UsualCan()
	cruise := Total(10, m, c, Ported, Running{CrankRPM: 4400, ManifoldPa: 50000, AmbientPa: 101325, Throttle: 0.2})
	near(t, "cruise", cruise.Total.Mid, 48, 1e-9)
	near(t, "its weights", cruise.Centrifugal.Rising, 22, 1e-9)
	near(t, "its can", cruise.Vacuum.Falling, 16, 1e-9)
	near(t, "its depression", cruise.VacuumPa, 51325, 1e-9)
	idle := Running{CrankRPM: 700, ManifoldPa: 35000, AmbientPa: 101325}
	near(t, "idle, ported", Total(10, m, c, Ported, idle).Total.Mid, 10, 0)
	near(t, "idle, manifold", Total(10, m, c, Manifold, idle).Total.Mid, 26, 1e-9)
	near(t, "full load", Total(10, m, c, Manifold, Running{CrankRPM: 4400, ManifoldPa: 98000, AmbientPa: 101325, Throttle: 1}).Total.Mid, 32, 1e-9)
	rows := Map(10, m, c, Ported, 101325, 0.2, []float64{700, 4400}, []float64{98000, 50000})
	if got := rows[1][1]; got != cruise {
		t.Errorf("map: %+v, want %+v", got, cruise)
	}
	if len(rows) != 2 || len(rows[0]) != 2 {
		t.Error("map has the wrong shape")
	}
}
