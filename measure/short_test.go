package measure

import (
	"math"
	"testing"

	"dwellwright/car"
)

// Where the coil's switched side touches earth is told step by step, as the trade
// does [common practice]: it stays low with the points open; the lead, taken off the
// distributor, is live or is not; then the points are looked at, the condenser kicks
// an ohmmeter or does not, and the terminal is open to earth or is not.
func TestWhereItIsShorted(t *testing.T) {
	c := exampleCars(t)["harrowmere-eight"]
	ids := []string{"coil_switched_open", "switched_lead_live", "points_part", "condenser_kicks", "breaker_terminal_insulated", "points_gap", "condenser_farads"}
	good := reads(t, c, nil, ids...)
	if good[0] < 11 {
		t.Errorf("in order %.3g V with the points open", good[0])
	}
	short := func(at car.ShortPlace) func(*car.Car, *car.Condition) {
		return func(c *car.Car, _ *car.Condition) { c.Switch.ShortBy(at, 0.1) }
	}
	for _, x := range []struct {
		what   string
		change func(*car.Car, *car.Condition)
		so     [4]bool // live, part, kicks, insulated
	}{
		{"in order", nil, [4]bool{true, true, true, true}},
		{"lead", short(car.ShortInLead), [4]bool{false, true, true, true}},
		{"terminal", short(car.ShortAtTerminal), [4]bool{true, true, true, false}},
		{"condenser", short(car.ShortInCondenser), [4]bool{true, true, false, true}},
		{"points", func(c *car.Car, _ *car.Condition) { c.Switch.Gap.X = 0 }, [4]bool{true, false, true, true}},
		{"nothing there", func(c *car.Car, _ *car.Condition) { c.Ballast.Cold.X = 1e12 }, [4]bool{false, true, true, true}},
		{"condenser's lead off", func(c *car.Car, _ *car.Condition) { c.Switch.Condenser.X = 0.5e-9 }, [4]bool{true, true, false, true}},
	} {
		got := reads(t, c, x.change, ids...)
		// 4 A through 0.1 ohm, and what plate, housing and block drop.
		if low := got[0] < 1; x.change != nil && x.what != "condenser's lead off" && !low {
			t.Errorf("%s: %.3g V with the points open", x.what, got[0])
		}
		for i, so := range x.so {
			if seen := got[1+i] > 0.9; seen != so || !so && got[1+i] > 0.1 {
				t.Errorf("%s: %s %.2f", x.what, ids[1+i], got[1+i])
			}
		}
	}
	// A short ahead of the distributor takes its current past terminal and plate; one
	// in it sends the current of closed points through them, points open or not.
	drops := []string{"trigger_lead_drop", "plate_housing_drop", "coil_amps_key"}
	closed := reads(t, c, nil, drops...)
	lead := reads(t, c, func(c *car.Car, _ *car.Condition) { c.Switch.ShortBy(car.ShortInLead, 1e-4) }, drops...)
	inside := reads(t, c, short(car.ShortAtTerminal), drops...)
	if lead[0] > 0.2*closed[0] || lead[1] > 0.2*closed[1] || math.Abs(lead[2]-closed[2]) > 0.05*closed[2] {
		t.Errorf("lead shorted: %.3g, in order %.3g", lead, closed)
	}
	for i := range inside {
		if math.Abs(inside[i]-closed[i]) > 0.05*closed[i] {
			t.Errorf("shorted at the terminal: %s %.3g, in order %.3g", drops[i], inside[i], closed[i])
		}
	}
}

// A break between coil and plugs leaves the coil's tower all it had, takes from a
// lead what its gap asks, and adds that to what the plugs ask [common practice: a
// missing brush shows as every cylinder's volts high].
func TestWhereItBreaks(t *testing.T) {
	c := exampleCars(t)["harrowmere-eight"]
	ids := []string{"tower_crank", "lead_crank", "plug_kv_idle", "king_lead_ohms", "brush_touches", "plug_lead_ohms"}
	good := reads(t, c, nil, ids...)
	for _, at := range []car.BreakPlace{car.BreakInKingLead, car.BreakAtBrush} {
		got := reads(t, c, func(c *car.Car, _ *car.Condition) { c.Cap.Breaks[at] = 4e-3 }, ids...)
		// 4 mm in open air take some 3 kV a millimetre, at the most [from memory]; less
		// of edged metal.
		if lost := good[1] - got[1]; lost < 6e3 || lost > 12e3 {
			t.Errorf("break at %d: %.3g V less on a lead", at, lost)
		}
		if more := got[2] - good[2]; more < 6e3 || more > 12e3 {
			t.Errorf("break at %d: %.3g V more asked", at, more)
		}
		if got[0] != good[0] || got[5] != good[5] {
			t.Errorf("break at %d: %.4g at the tower, %.4g in order; plug lead %.4g, %.4g in order", at, got[0], good[0], got[5], good[5])
		}
		if open := got[3] > 20e6; open != (at == car.BreakInKingLead) {
			t.Errorf("break at %d: coil lead %.3g ohm", at, got[3])
		}
		if gone := got[4] < 0.1; gone != (at == car.BreakAtBrush) || good[4] < 0.9 {
			t.Errorf("break at %d: brush touches %.2f, %.2f in order", at, got[4], good[4])
		}
	}
}
