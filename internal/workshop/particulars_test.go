package workshop_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/spark"
	"dwellwright/twin"
)

// The particulars are of the same cars as the firings: the middle car's are
// its own, and every drawn car's parts make up what it asks.
func TestParticularsBelongToTheFirings(t *testing.T) {
	k, err := workshop.Open("demo", strings.NewReader(""))
	if err != nil {
		t.Fatal(err)
	}
	d, shots, err := workshop.Shots(k, prove.Settings{Draws: 1, Seed: 7})
	if err != nil {
		t.Fatal(err)
	}
	for i := range shots {
		s := &shots[i]
		mid, err := workshop.Detail(d, s.Condition, 0, 7)
		if err != nil {
			t.Fatal(err)
		}
		if f := &s.Spark.Firing; mid.BreakA.Mid != f.BreakA || mid.Rings.Mid != float64(f.Rings) || mid.PlugV.Mid != s.Asked.PlugV || mid.RotorV.Mid != s.Asked.RotorV {
			t.Errorf("%s: %+v of the middle car, its firing %+v asks %+v", s.Condition, mid, f, s.Asked)
		}
		one, err := workshop.Detail(d, s.Condition, 1, 7) // one drawn car: its figures alone
		if err != nil {
			t.Fatal(err)
		}
		asked := s.Figure("asked").Interval.Mid
		if parts := one.PlugV.Mid + one.RotorV.Mid; math.Abs(parts-asked) > 1e-9*asked {
			t.Errorf("%s: the drawn car's plug and rotor gap ask %g, it asks %g", s.Condition, parts, asked)
		}
		many, err := workshop.Detail(d, s.Condition, 50, 7)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range []spark.Interval{many.BreakA, many.PlugV, many.RotorV, many.Pressure, many.ChargeC} {
			if !(x.Lo < x.Mid && x.Mid < x.Hi) {
				t.Errorf("%s: %+v", s.Condition, x)
			}
		}
	}
	if _, err := workshop.Detail(d, "key_on_closed", 0, 1); !errors.Is(err, twin.ErrNoFiring) {
		t.Errorf("engine stopped: %v", err)
	}
}
