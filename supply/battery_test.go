package supply

import (
	"math"
	"testing"
)

// within fails unless got is within tol of want.
func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.5g, want %.5g within %.3g", what, got, want, tol)
	}
}

// car12 and car6 are invented batteries of usual size.
var (
	car12 = Battery{NominalV: 12, SOC: 1, TempC: 20, CapacityAh: 60, InternalOhm20: 9e-3}
	car6  = Battery{NominalV: 6, SOC: 1, TempC: 20, CapacityAh: 100, InternalOhm20: 4e-3}
)

// Battery makers' table of rested voltage against charge at 80 °F; half for 6 V.
func TestRestVoltageTable(t *testing.T) {
	for soc, want := range map[float64]float64{1: 12.65, 0.75: 12.45, 0.5: 12.24, 0.25: 12.06, 0: 11.9} {
		b := car12
		b.SOC, b.TempC = soc, 26.7
		within(t, "12 V", b.EMF(), want, 0.015)
		b.NominalV = 6
		within(t, "6 V", b.EMF(), want/2, 0.008)
	}
}

// Rest voltage of a cell is its gravity + 0.84 [electrical handbooks], with
// the usual gravities against charge: 1.265, 1.225, 1.190, 1.155, 1.120
// [battery makers' tables, from memory].
func TestRestVoltageAgainstGravity(t *testing.T) {
	for soc, gravity := range map[float64]float64{1: 1.265, 0.75: 1.225, 0.5: 1.190, 0.25: 1.155, 0: 1.120} {
		b := car12
		b.SOC, b.TempC = soc, 25
		within(t, "cell", b.EMF()/6, gravity+0.84, 0.025)
	}
}

// +0.2 mV/K a cell: six cells lose 54 mV between 27 and -18 °C [calc].
func TestRestVoltageInTheCold(t *testing.T) {
	warm, cold := car12, car12
	warm.TempC, cold.TempC = 27, -18
	within(t, "loss", warm.EMF()-cold.EMF(), 0.054, 1e-9)
}

// Two to three times the warm resistance at -18 °C [common practice].
func TestInternalInTheCold(t *testing.T) {
	b := car12
	within(t, "at 20 °C", b.Internal(), 9e-3, 1e-12)
	b.TempC = -18
	if r := b.Internal() / 9e-3; r < 2 || r > 3 {
		t.Errorf("at -18 °C %.2f times", r)
	}
}

// Battery makers' table of the power a battery can give: 100 % at 27 °C, 65 %
// at 0 °C, 40 % at -18 °C. The greatest power of a source is EMF²/4R.
func TestPowerInTheCold(t *testing.T) {
	power := func(tempC float64) float64 {
		b := car12
		b.TempC = tempC
		return b.EMF() * b.EMF() / (4 * b.Internal())
	}
	within(t, "0 °C", power(0)/power(27), 0.65, 0.08)
	within(t, "-18 °C", power(-18)/power(27), 0.40, 0.05)
}

// The rule of the trade for charging: no more amperes than ampere hours are
// missing (plus the trickle a full battery takes), and between a fifth and a
// half of the capacity for a half empty battery; a full one takes a hundredth
// to a fiftieth at 14.4 V and 25 °C. [from memory]. EMF and Internal alone
// would let in over 150 A.
func TestChargeAcceptance(t *testing.T) {
	takes := func(soc, tempC float64) float64 {
		b := car12
		b.SOC, b.TempC = soc, tempC
		return (14.4 - b.EMF()) / b.ChargeInternal()
	}
	if bare := (14.4 - car12.EMF()) / car12.Internal(); bare < 150 {
		t.Errorf("the bare battery takes %.0f A: the second resistance is not needed", bare)
	}
	for soc := 0.0; soc <= 1; soc += 0.05 {
		if i, missing := takes(soc, 25), 60*(1-soc); i <= 0 || i > missing+60/50.0 {
			t.Errorf("at charge %.2f: %.1f A with %.0f A·h missing", soc, i, missing)
		}
	}
	if i := takes(0.5, 25); i < 60/5.0 || i > 60/2.0 {
		t.Errorf("half empty: %.1f A", i)
	}
	if i := takes(1, 25); i < 60/100.0 || i > 60/50.0 {
		t.Errorf("full: %.2f A", i)
	}
	if r := takes(0.7, 0) / takes(0.7, 25); r < 1.0/3 || r > 0.5 {
		t.Errorf("at 0 °C %.2f of what it takes at 25 °C", r)
	}
}

// Per ampere hour a 6 V battery accepts what a 12 V one does at half the volts.
func TestSixVoltsAcceptAlike(t *testing.T) {
	b12, b6 := car12, car6
	b12.SOC, b6.SOC = 0.6, 0.6
	b12.CapacityAh, b12.InternalOhm20 = 100, 8e-3
	within(t, "A", (7.2-b6.EMF())/b6.ChargeInternal(), (14.4-b12.EMF())/b12.ChargeInternal(), 1e-9)
}

func TestBatteryFollowsChargeAndTemperature(t *testing.T) {
	for _, b := range []Battery{car12, car6} {
		for soc := 0.0; soc < 0.99; soc += 0.01 {
			for tempC := -45.0; tempC < 75; tempC += 7.5 {
				b.SOC, b.TempC = soc, tempC
				fuller, warmer := b, b
				fuller.SOC += 0.01
				warmer.TempC += 1
				if !(fuller.EMF() > b.EMF()) || !(warmer.EMF() > b.EMF()) {
					t.Fatalf("EMF at charge %.2f and %g °C", soc, tempC)
				}
				if !(fuller.Internal() < b.Internal()) || !(warmer.Internal() < b.Internal()) {
					t.Fatalf("Internal at charge %.2f and %g °C", soc, tempC)
				}
				if !(fuller.ChargeInternal() > b.ChargeInternal()) || !(warmer.ChargeInternal() < b.ChargeInternal()) {
					t.Fatalf("ChargeInternal at charge %.2f and %g °C", soc, tempC)
				}
				if !(b.ChargeInternal() > 1.5*b.Internal()) {
					t.Fatalf("charging through hardly more than discharging at charge %.2f and %g °C", soc, tempC)
				}
			}
		}
	}
}

func TestChargeOutsideCountsAsTheEnd(t *testing.T) {
	over, under, full, empty := car12, car12, car12, car12
	over.SOC, under.SOC, empty.SOC = 1.2, -0.3, 0
	if over.EMF() != full.EMF() || over.Internal() != full.Internal() || over.ChargeInternal() != full.ChargeInternal() {
		t.Error("above full")
	}
	if under.EMF() != empty.EMF() || under.Internal() != empty.Internal() || under.ChargeInternal() != empty.ChargeInternal() {
		t.Error("below empty")
	}
	lost := car12
	lost.SOC = math.NaN()
	if !math.IsNaN(lost.EMF()) || !math.IsNaN(lost.Internal()) || !math.IsNaN(lost.ChargeInternal()) {
		t.Error("an unknown charge gives a figure")
	}
}
