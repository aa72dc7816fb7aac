package magnet

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// thirtySecond is 1/32 in, m.
const thirtySecond = 0.0254 / 32

// A fact of the trade (common practice, no source): a slot filed about 1/32 in
// decides between a trigger too far away to fire and one that fires.
func TestThirtySecondDecides(t *testing.T) {
	f := usual(6)
	f.TempC = 110
	largest, err := f.LargestGap()
	if err != nil {
		t.Fatal(err)
	}
	now := largest + 0.0004
	if f.FiresAll([]float64{now}) {
		t.Fatalf("fires at %g m", now)
	}
	c, err := Slot(Base{RingRadiusM: f.Ring.RadiusM, GapNowM: now, GapWantedM: now - thirtySecond})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "open", c.OpenM, thirtySecond, 1e-9)
	if !f.FiresAll([]float64{now - c.SensorM}) {
		t.Errorf("%g m nearer than %g: still does not fire, largest %g", c.SensorM, now, largest)
	}
}

func TestSlot(t *testing.T) {
	straight := Base{RingRadiusM: 0.015, GapNowM: 0.0022, GapWantedM: 0.001, TowardsM: 0.0005, AwayM: 0.003}
	swing := Base{
		RingRadiusM: 0.015, GapNowM: 0.0022, GapWantedM: 0.001, TowardsM: 0.0005, AwayM: 0.003,
		PinRadiusM: 0.025, ArmM: 0.02, SlotArmM: 0.03,
	}
	for _, c := range []struct {
		name   string
		change func(*Base)
		base   Base
		check  func(SlotChange) bool
	}{
		{"straight at the shaft", nil, straight, func(c SlotChange) bool {
			return math.Abs(c.SensorM-0.0012) < 1e-12 && math.Abs(c.OpenM-0.0007) < 1e-12 && c.Inwards && !c.OpenShaftEnd && c.Ratio == 1 && c.SensorDeg == 0
		}},
		{"slot in the plate: its other end", func(b *Base) { b.SlotInPlate = true }, straight, func(c SlotChange) bool { return c.OpenShaftEnd }},
		{"enough travel", func(b *Base) { b.TowardsM = 0.002 }, straight, func(c SlotChange) bool { return c.OpenM == 0 && math.Abs(c.LeftM-0.0008) < 1e-12 }},
		{"outwards", func(b *Base) { b.GapWantedM = 0.003 }, straight, func(c SlotChange) bool {
			return !c.Inwards && math.Abs(c.SensorM+0.0008) < 1e-12 && c.OpenM == 0 && c.OpenShaftEnd
		}},
		{"aslant", func(b *Base) { b.SlotDeg = 30 }, straight, func(c SlotChange) bool {
			return c.SensorM > 0.0012/math.Cos(math.Pi/6) && c.SensorM < 0.0015 && c.SensorDeg > 0
		}},
		{"swinging", nil, swing, func(c SlotChange) bool {
			return math.Abs(c.SlotM-1.5*c.SensorM) < 1e-12 && c.SensorM > 0.0012 && c.OpenM > 0.0013-0.0005 && c.Inwards && c.SensorDeg > 0
		}},
		{"swinging, the shaft's far side of the slot", nil, swing, func(c SlotChange) bool { return !c.OpenShaftEnd }},
		{"pin between sensor and screw", func(b *Base) { b.SlotArmM = -b.SlotArmM }, swing, func(c SlotChange) bool { return c.OpenShaftEnd && c.Ratio == 1.5 && c.SlotM > 0 }},
		{"pin ahead", func(b *Base) { b.PinAhead = true }, swing, func(c SlotChange) bool { return c.SensorDeg < 0 }},
	} {
		b := c.base
		if c.change != nil {
			c.change(&b)
		}
		got, err := Slot(b)
		if err != nil || !c.check(got) {
			t.Errorf("%s: %+v, %v", c.name, got, err)
		}
	}
}

// The sensor is put, in plain coordinates, where the change says, and its
// distance from the shaft measured: the gap wanted, at the angle said.
func TestSlotInCoordinates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Base{
			RingRadiusM: rapid.Float64Range(0.01, 0.02).Draw(t, "radius"),
			GapNowM:     rapid.Float64Range(0, 0.004).Draw(t, "now"),
			GapWantedM:  rapid.Float64Range(0, 0.004).Draw(t, "wanted"),
			TowardsM:    rapid.Float64Range(0, 0.002).Draw(t, "towards"),
			AwayM:       rapid.Float64Range(0, 0.002).Draw(t, "away"),
		}
		now, wanted := b.RingRadiusM+b.GapNowM, b.RingRadiusM+b.GapWantedM
		swing := rapid.Bool().Draw(t, "swing")
		var pin float64 // angle of the pin from the sensor, clockwise
		if swing {
			pin = rapid.Float64Range(0.3, 2).Draw(t, "pin")
			b.PinRadiusM = rapid.Float64Range(0.015, 0.04).Draw(t, "pin radius")
			b.ArmM = math.Sqrt(now*now + b.PinRadiusM*b.PinRadiusM - 2*now*b.PinRadiusM*math.Cos(pin))
			b.SlotArmM = rapid.Float64Range(0.005, 0.04).Draw(t, "slot")
			b.PinAhead = rapid.Bool().Draw(t, "ahead")
		} else {
			b.SlotDeg = rapid.Float64Range(-60, 60).Draw(t, "slant")
		}
		c, err := Slot(b)
		if errors.Is(err, ErrOutOfReach) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		// x points from the shaft to the sensor, y clockwise.
		var x, y float64
		if swing {
			px, py := b.PinRadiusM*math.Cos(pin), b.PinRadiusM*math.Sin(pin)
			// Swung about the pin, clockwise, the sensor comes in.
			sin, cos := math.Sincos(c.SensorM / b.ArmM)
			x, y = px+(now-px)*cos+py*-sin, py+(now-px)*-sin+-py*cos
			if !b.PinAhead {
				y = -y
			}
		} else {
			sin, cos := math.Sincos(b.SlotDeg * math.Pi / 180)
			x, y = now-c.SensorM*cos, c.SensorM*sin
		}
		if r := math.Hypot(x, y); math.Abs(r-wanted) > 1e-9 {
			t.Errorf("%+v: %g m from the shaft, %g wanted", c, r, wanted)
		}
		if deg := math.Atan2(y, x) * 180 / math.Pi; math.Abs(deg-c.SensorDeg) > 1e-5 {
			t.Errorf("%+v: at %g degrees", c, deg)
		}
		if math.Abs(wanted-now) > 1e-9 && (c.Inwards != (wanted < now) || c.Inwards != (c.SensorM > 0)) {
			t.Errorf("%+v from %g to %g", c, now, wanted)
		}
		left := b.AwayM
		if c.Inwards {
			left = b.TowardsM
		}
		if math.Abs(left+c.OpenM-c.LeftM-math.Abs(c.SlotM)) > 1e-12 || c.OpenM*c.LeftM != 0 {
			t.Errorf("%+v does not add up", c)
		}
	})
}

func TestBadBases(t *testing.T) {
	ok := Base{RingRadiusM: 0.015, GapNowM: 0.002, GapWantedM: 0.001, PinRadiusM: 0.025, ArmM: 0.02, SlotArmM: 0.03}
	for _, c := range []struct {
		name  string
		kind  error
		spoil func(*Base)
	}{
		{"no ring", ErrBase, func(b *Base) { b.RingRadiusM = 0 }},
		{"rubs", ErrBase, func(b *Base) { b.GapWantedM = -0.001 }},
		{"square slot", ErrBase, func(b *Base) { b.ArmM, b.SlotDeg = 0, 90 }},
		{"no triangle", ErrBase, func(b *Base) { b.ArmM = 0.001 }},
		{"no slot arm", ErrBase, func(b *Base) { b.SlotArmM = 0 }},
		{"NaN", ErrBase, func(b *Base) { b.GapNowM = math.NaN() }},
		{"too near for the arm", ErrOutOfReach, func(b *Base) { b.ArmM, b.GapWantedM = 0.0082, 0 }},
		{"too near for the slot", ErrOutOfReach, func(b *Base) { b.ArmM, b.SlotDeg, b.GapWantedM = 0, 75, 0 }},
	} {
		b := ok
		c.spoil(&b)
		if got, err := Slot(b); !errors.Is(err, c.kind) {
			t.Errorf("%s: %+v, %v", c.name, got, err)
		}
	}
	if _, err := Slot(ok); err != nil {
		t.Error(err)
	}
}
