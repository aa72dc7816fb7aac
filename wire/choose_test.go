package wire

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// Worked by hand from NBS Handbook 100's ohms with 3 % for the strands and
// 0.393 %/K: 4 A over 2 m in 75 °C air, 16 gauge: 4 × 2 × 13.18e-3 × 1.03 ×
// 1.22 = 0.132 V, 14 gauge 0.083 V.
func TestChooseByDrop(t *testing.T) {
	awg, drop, temp, err := Choose(4, 2, 0.1, 75, HeatPVCLimitC)
	if err != nil || awg != 14 {
		t.Fatalf("gauge %d, %v", awg, err)
	}
	near(t, "drop", drop, 0.083, 0.01)
	if temp < 75 || temp > 77 {
		t.Errorf("copper at %g °C", temp)
	}
}

// With volts to spare heat decides: 30 A in 30 °C air at 80 °C is 14 gauge by
// the chassis-wiring table of the handbooks (32 A; 16 gauge 22 A), from memory.
func TestChooseByHeat(t *testing.T) {
	awg, _, temp, err := Choose(30, 1, 5, 30, PlainPVCLimitC)
	if err != nil || awg != 14 || temp > PlainPVCLimitC {
		t.Errorf("gauge %d at %g °C, %v", awg, temp, err)
	}
}

func TestChooseIsTheSmallestThatDoes(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 400 {
		amps, metres, volts, air := 60*r.Float64(), 5*r.Float64(), 0.03+r.Float64(), -20+100*r.Float64()
		limit := air + 5 + 60*r.Float64()
		awg, drop, temp, err := Choose(amps, metres, volts, air, limit)
		if err != nil {
			var no *NoGaugeError
			if !errors.As(err, &no) || no.AWG != -3 || no.DropV <= volts && no.TempC <= limit {
				t.Fatalf("%g A, %g m: %v", amps, metres, err)
			}
			continue
		}
		if drop > volts || temp > limit || temp < air {
			t.Errorf("gauge %s: %g V of %g, %g °C of %g", gaugeName(awg), drop, volts, temp, limit)
		}
		for _, thinner := range gauges {
			if thinner <= awg {
				break
			}
			a := AWGSection(thinner)
			hot := air + TempRise(a, amps, air)
			if hot <= limit && amps*Resistance(a, metres, hot, Stranded) <= volts {
				t.Errorf("%g A, %g m: %s chosen, %s would do", amps, metres, gaugeName(awg), gaugeName(thinner))
			}
		}
	}
}

func TestChooseRefuses(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		a    [5]float64
		what string
	}{
		{[5]float64{-1, 1, 0.1, 20, 80}, "current -1"},
		{[5]float64{math.Inf(1), 1, 0.1, 20, 80}, "current"},
		{[5]float64{nan, 1, 0.1, 20, 80}, "current"},
		{[5]float64{1, -1, 0.1, 20, 80}, "length"},
		{[5]float64{1, 1, 0, 20, 80}, "allowed drop"},
		{[5]float64{1, 1, nan, 20, 80}, "allowed drop"},
		{[5]float64{1, 1, 0.1, -300, 80}, "ambient"},
		{[5]float64{1, 1, 0.1, 80, 80}, "better insulation"},
		{[5]float64{1, 1, 0.1, 20, 500}, "insulation limit"},
	} {
		_, _, _, err := Choose(c.a[0], c.a[1], c.a[2], c.a[3], c.a[4])
		var in *InputError
		if !errors.Is(err, ErrInput) || !errors.As(err, &in) || !strings.Contains(err.Error(), c.what) {
			t.Errorf("%v: %v", c.a, err)
		}
	}
	_, _, _, err := Choose(400, 10, 0.1, 20, 80)
	if !errors.Is(err, ErrNoGauge) || errors.Is(err, ErrInput) || !strings.Contains(err.Error(), "4/0") {
		t.Errorf("400 A over 10 m: %v", err)
	}
}

func TestFuse(t *testing.T) {
	for _, c := range []struct{ amps, wire, want float64 }{
		{0, 10, 1}, {0.8, 10, 1}, {0.81, 10, 2}, {4, 20, 5}, {4.1, 20, 7.5}, {6, 20, 7.5}, {8, 10, 10}, {12, 30, 15}, {32, 40, 40},
	} {
		if got, err := Fuse(c.amps, c.wire); err != nil || got != c.want {
			t.Errorf("%g A behind a wire of %g A: %g A, %v; want %g A", c.amps, c.wire, got, err, c.want)
		}
	}
}

func TestFuseRefuses(t *testing.T) {
	var no *NoFuseError
	if _, err := Fuse(8, 9); !errors.Is(err, ErrNoFuse) || !errors.As(err, &no) || no.RatingA != 10 || !strings.Contains(err.Error(), "thicker wire") {
		t.Errorf("thin wire: %v", err)
	}
	if _, err := Fuse(33, 200); !errors.Is(err, ErrNoFuse) || !errors.As(err, &no) || no.RatingA != 0 || !strings.Contains(err.Error(), "end at 40 A") {
		t.Errorf("large load: %v", err)
	}
	for _, c := range [][2]float64{{-1, 10}, {math.NaN(), 10}, {math.Inf(1), 10}, {1, -1}, {1, math.NaN()}} {
		if _, err := Fuse(c[0], c[1]); !errors.Is(err, ErrInput) {
			t.Errorf("%v: %v", c, err)
		}
	}
}

// Whatever is chosen, the fuse holds with margin and the wire outlives it.
func TestFuseLiesBetweenLoadAndWire(t *testing.T) {
	for amps := 0.0; amps < 45; amps += 0.37 {
		for _, awg := range gauges {
			carries := Ampacity(AWGSection(awg), 60, HeatPVCLimitC)
			if r, err := Fuse(amps, carries); err == nil && (r < 1.25*amps || r > carries) {
				t.Errorf("%g A, gauge %s: %g A", amps, gaugeName(awg), r)
			}
		}
	}
}
