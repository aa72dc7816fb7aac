package supply

import (
	"math"
	"testing"
)

// crank returns the volts at the battery's posts while it turns the starter.
func crank(b Battery, s Starter) float64 {
	r := s.Ohms(b.TempC)
	return b.EMF() * r / (r + b.Internal())
}

// Battery makers' table of the least volts while cranking, 12 V, at 21, 10, -1
// and -18 °C: 9.6, 9.4, 9.1, 8.5. A sound battery is above each, one at the
// end of its life (25 milliohms) falls through in the cold.
func TestCrankingVoltsAgainstTable(t *testing.T) {
	s := Starter{CurrentA: 160, AtV: 10.2}
	for tempC, least := range map[float64]float64{21: 9.6, 10: 9.4, -1: 9.1, -18: 8.5} {
		b := car12
		b.TempC = tempC
		if v := crank(b, s); v < least || v > 11.8 {
			t.Errorf("sound at %g °C: %.2f V, table %g", tempC, v, least)
		}
		b.InternalOhm20 = 25e-3
		if v := crank(b, s); tempC < 0 && v > least {
			t.Errorf("worn out at %g °C: %.2f V, table %g", tempC, v, least)
		}
	}
}

// 9.5 to 11 V at the posts is healthy for a warm 12 V car [common practice];
// half for 6 V with its larger current.
func TestWarmCranking(t *testing.T) {
	b := car12
	b.SOC = 0.85
	if v := crank(b, Starter{CurrentA: 190, AtV: 10.2}); v < 9.5 || v > 11 {
		t.Errorf("12 V: %.2f V", v)
	}
	b = car6
	b.SOC = 0.85
	if v := crank(b, Starter{CurrentA: 300, AtV: 5}); v < 4.75 || v > 5.5 {
		t.Errorf("6 V: %.2f V", v)
	}
}

// One and a half times the current at -18 °C, at the same volts [common
// practice, no source].
func TestStarterInTheCold(t *testing.T) {
	s := Starter{CurrentA: 160, AtV: 10.2}
	within(t, "warm", s.Ohms(20), 10.2/160, 1e-12)
	within(t, "hot", s.Ohms(90), 10.2/160, 1e-12)
	within(t, "cold", s.Ohms(20)/s.Ohms(-18), 1.5, 1e-9)
	for tempC := -45.0; tempC < 19; tempC++ {
		if !(s.Ohms(tempC) < s.Ohms(tempC+1)) {
			t.Fatalf("resistance does not rise at %g °C", tempC)
		}
	}
}

// Filament lamps: current as V^0.55 [electrical engineers' handbooks]. The
// constant resistance is right at the rated voltage and errs as documented.
func TestLampsErrTheDocumentedWay(t *testing.T) {
	const amps, rated = 9.0, 12.8
	r := LoadOhms(amps, rated)
	lamp := func(v float64) float64 { return amps * math.Pow(v/rated, 0.55) }
	within(t, "rated", rated/r, lamp(rated), 1e-12)
	within(t, "idle", 11.5/r/lamp(11.5)-1, -0.047, 0.003)
	within(t, "charging", 14.4/r/lamp(14.4)-1, 0.054, 0.003)
	if r := LoadOhms(0, rated); !math.IsInf(r, 1) {
		t.Errorf("no load: %g ohm", r)
	}
}
