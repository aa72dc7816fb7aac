package spark

import (
	"math"
	"testing"

	"dwellwright/car"
)

func eight() *car.Car { return car.Defaults(12, car.NegativeEarth, 8) }

func chart(t testing.TB, c *car.Car, set ChartSettings) *Chart {
	t.Helper()
	ch, err := NewChart(c, set)
	if err != nil {
		t.Fatal(err)
	}
	return ch
}

// More voltage never gives less where the engine runs with a transistor: no
// arc, and the rest of the last spark counts for little.
func TestMapRisesWithVoltage(t *testing.T) {
	for _, f := range []Fitting{Darlington, IGBT, MOSFET} {
		ch := chart(t, eight(), ChartSettings{Fitting: f, Speeds: 12, Volts: 12})
		for i := range ch.RPM {
			for j := 1; j < len(ch.Volts); j++ {
				if ch.KV[j][i] < 0.97*ch.KV[j-1][i] {
					t.Errorf("%v at %.0f rpm: %.2f kV at %.1f V, %.2f at %.1f", f, ch.RPM[i], ch.KV[j][i], ch.Volts[j], ch.KV[j-1][i], ch.Volts[j-1])
				}
			}
		}
	}
}

// A cell of the map is what Shoot finds for the car in that condition: within
// 4 %, since there the coil's ballast is as warm as the steady solve has it
// and the plugs ask all.
func TestMapAgreesWithTheCar(t *testing.T) {
	for _, f := range []Fitting{CleanPoints, Darlington, MOSFET} {
		c := Fit(eight(), f)
		for i := range c.Conditions {
			k := &c.Conditions[i]
			if k.ID == "hot_idle" {
				k.Loads = nil
			}
		}
		p, err := newPlotter(c)
		if err != nil {
			t.Fatal(err)
		}
		if err := p.draw(0, 1); err != nil {
			t.Fatal(err)
		}
		s, err := Shoot(c, "hot_idle", 0, 1)
		if err != nil {
			t.Fatal(err)
		}
		v, err := p.available(s.Spark.Primary.Supply, s.RPM)
		if err != nil {
			t.Fatal(err)
		}
		if d := v/s.Spark.Firing.AvailableV - 1; math.Abs(d) > 0.04 {
			t.Errorf("%v: map %.1f kV, car %.1f", f, v/1e3, s.Spark.Firing.AvailableV/1e3)
		}
	}
}

// Between nodes the plus-or-minus runs straight. Against one worked out at
// every cell it may be off by a quarter of itself; that of 200 draws is itself
// uncertain by a tenth.
func TestMapBetweenNodes(t *testing.T) {
	set := ChartSettings{Fitting: Darlington, Speeds: 17, Volts: 9, Draws: 120, Seed: 4}
	set.Every = 8
	coarse := chart(t, eight(), set)
	set.Every = 2
	fine := chart(t, eight(), set)
	off, n := 0.0, 0
	for j := range fine.Volts {
		for i := range fine.RPM {
			off += math.Abs(coarse.PM[j][i]/fine.PM[j][i] - 1)
			n++
		}
	}
	if off /= float64(n); off > 0.2 {
		t.Errorf("off by %.0f %% of the plus-or-minus on average", 100*off)
	}
}

// The same seed gives the same map, and work grows with cells and draws as
// counted: a firing for each cell, and one for each node and draw.
func TestMapRepeatsAndCounts(t *testing.T) {
	set := ChartSettings{Fitting: IGBT, Speeds: 9, Volts: 9, Draws: 10, Seed: 7}
	a, b := chart(t, eight(), set), chart(t, eight(), set)
	for j := range a.Hand {
		for i := range a.Hand[j] {
			if a.Hand[j][i] != b.Hand[j][i] || a.PM[j][i] != b.PM[j][i] {
				t.Fatalf("cell %d %d differs", j, i)
			}
		}
	}
	if want := 81 + 3*3*10; a.Firings != want {
		t.Errorf("%d firings, want %d", a.Firings, want)
	}
}

// A plug that asks more than there is anywhere is answered: in hand below 1
// in every cell, and still with a plus-or-minus.
func TestMapOfNothingInHand(t *testing.T) {
	c := eight()
	c.Plugs.Gap.X = 6e-3
	ch := chart(t, c, ChartSettings{Speeds: 6, Volts: 6, Draws: 5, Seed: 1})
	for j := range ch.Hand {
		for i, v := range ch.Hand[j] {
			if !(v > 0 && v < 1) || !(ch.PM[j][i] > 0) {
				t.Errorf("cell %d %d: %g ± %g", j, i, v, ch.PM[j][i])
			}
		}
	}
}

// The whole map, forty speeds by twenty-five voltages for all five switches
// with 200 draws, and how its time grows. See docs/benchmarks.md.
func BenchmarkMap(b *testing.B) {
	for _, x := range []struct {
		name string
		set  ChartSettings
	}{
		{"middle", ChartSettings{}},
		{"draws100", ChartSettings{Draws: 100, Seed: 1}},
		{"draws200", ChartSettings{Draws: 200, Seed: 1}},
		{"draws200/half_the_cells", ChartSettings{Draws: 200, Seed: 1, Speeds: 28, Volts: 18}},
	} {
		b.Run(x.name, func(b *testing.B) {
			firings := 0
			for b.Loop() {
				firings = 0
				for f := Fitting(0); f < Fittings; f++ {
					x.set.Fitting = f
					firings += chart(b, eight(), x.set).Firings
				}
			}
			b.ReportMetric(float64(firings), "firings/op")
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(firings), "µs/firing")
		})
	}
}
