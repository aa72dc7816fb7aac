package magnet

import (
	"fmt"
	"math"
)

// Base is the plate that holds the sensor: it slides along a slot, or swings
// about a pin with a screw in a slot, until the gap is right.
type Base struct {
	RingRadiusM float64 // shaft's axis to the magnets' surface (or teeth)
	GapNowM     float64
	GapWantedM  float64

	// How far the screw still lets the slotted end move, m: the way that
	// brings the sensor nearer the shaft, and the way that takes it off.
	TowardsM, AwayM float64
	SlotInPlate     bool // slot in the plate that stays, screw in the base; else slot in the base

	// A base that slides (ArmM 0): angle from the line sensor-shaft to the
	// slot, degrees, positive where sliding in also moves the sensor clockwise
	// seen from above. 0: the slot points at the shaft.
	SlotDeg float64

	// A base that swings: ArmM > 0.
	PinRadiusM float64 // shaft's axis to the pin
	ArmM       float64 // pin to the sensor's face
	SlotArmM   float64 // pin to the screw; below 0 where the pin lies between sensor and screw
	PinAhead   bool    // the pin lies clockwise of the sensor, seen from the shaft and above
}

// SlotChange is what has to be done to a [Base].
type SlotChange struct {
	SensorM      float64 // way of the sensor, m: positive in, nearer the shaft
	SlotM        float64 // way of the base at the screw, m: positive the way that brings the sensor in
	Ratio        float64 // of the two sizes: how much the slotted end moves for each unit of the sensor
	OpenM        float64 // how far the slot has to be opened, m; 0: the travel left is enough
	Inwards      bool    // the base moves the sensor in, towards the shaft
	OpenShaftEnd bool    // the end to open is the one nearer the shaft; else the one farther off
	SensorDeg    float64 // what it turns the sensor about the shaft, distributor degrees clockwise from above: the timing moves with it
	LeftM        float64 // travel left that way afterwards, m; 0 when the slot is opened just enough
}

// Validate refuses a base that cannot be, with an [*Error] of [ErrBase].
func (b Base) Validate() error {
	if err := check(ErrBase,
		figure{"Base.RingRadiusM", b.RingRadiusM, within(b.RingRadiusM, 1e-3, mostM), "0.001 to 0.5 m"},
		figure{"Base.GapNowM", b.GapNowM, within(b.GapNowM, 0, mostM), "0 to 0.5 m"},
		figure{"Base.GapWantedM", b.GapWantedM, within(b.GapWantedM, 0, mostM), "0 to 0.5 m"},
		figure{"Base.TowardsM", b.TowardsM, within(b.TowardsM, 0, mostM), "0 to 0.5 m"},
		figure{"Base.AwayM", b.AwayM, within(b.AwayM, 0, mostM), "0 to 0.5 m"},
		figure{"Base.ArmM", b.ArmM, within(b.ArmM, 0, mostM), "0 to 0.5 m"},
	); err != nil {
		return err
	}
	if b.ArmM == 0 {
		return check(ErrBase, figure{"Base.SlotDeg", b.SlotDeg, within(b.SlotDeg, -80, 80), "-80 to 80 degrees: a slot square to the line changes no gap"})
	}
	d := b.RingRadiusM + b.GapNowM
	return check(ErrBase,
		figure{"Base.PinRadiusM", b.PinRadiusM, within(b.PinRadiusM, 1e-3, mostM), "0.001 to 0.5 m"},
		figure{"Base.SlotArmM", b.SlotArmM, within(math.Abs(b.SlotArmM), 1e-4, mostM), "0.0001 to 0.5 m from the pin, either side"},
		figure{"Base.ArmM", b.ArmM, within(b.ArmM, math.Abs(b.PinRadiusM-d)*(1+1e-9), (b.PinRadiusM+d)*(1-1e-9)), "a triangle shaft, pin, sensor: between the difference and the sum of PinRadiusM and the sensor's radius"},
	)
}

// Slot works out how a base has to move from the gap now to the gap wanted,
// exactly: sliding, the sensor keeps to its straight line; swinging, to its
// circle about the pin, and the slotted end moves SlotArmM/ArmM as far.
//
// Errors: of Validate; [ErrOutOfReach] where no place on that line or circle
// has the gap wanted.
func Slot(b Base) (SlotChange, error) {
	if err := b.Validate(); err != nil {
		return SlotChange{}, err
	}
	now, wanted := b.RingRadiusM+b.GapNowM, b.RingRadiusM+b.GapWantedM
	c := SlotChange{Ratio: 1, Inwards: wanted < now}
	swing := b.ArmM > 0
	if swing {
		c.Ratio = math.Abs(b.SlotArmM) / b.ArmM
		cos := (b.PinRadiusM*b.PinRadiusM + b.ArmM*b.ArmM - wanted*wanted) / (2 * b.PinRadiusM * b.ArmM)
		if math.Abs(cos) > 1 {
			return SlotChange{}, b.outOfReach(math.Abs(b.PinRadiusM-b.ArmM), b.PinRadiusM+b.ArmM)
		}
		angle := func(d float64) (atPin, atShaft float64) {
			atPin = math.Acos(clamp((b.PinRadiusM*b.PinRadiusM + b.ArmM*b.ArmM - d*d) / (2 * b.PinRadiusM * b.ArmM)))
			atShaft = math.Acos(clamp((b.PinRadiusM*b.PinRadiusM + d*d - b.ArmM*b.ArmM) / (2 * b.PinRadiusM * d)))
			return atPin, atShaft
		}
		pin0, shaft0 := angle(now)
		pin1, shaft1 := angle(wanted)
		c.SensorM = b.ArmM * (pin0 - pin1)
		c.SensorDeg = (shaft0 - shaft1) * 180 / math.Pi // nearer the pin
		if !b.PinAhead {
			c.SensorDeg = -c.SensorDeg
		}
	} else {
		sin, cos := math.Sincos(b.SlotDeg * math.Pi / 180)
		under := wanted*wanted - now*now*sin*sin
		if under < 0 {
			return SlotChange{}, b.outOfReach(now*math.Abs(sin), math.Inf(1))
		}
		c.SensorM = now*cos - math.Sqrt(under)
		c.SensorDeg = math.Atan2(c.SensorM*sin, now-c.SensorM*cos) * 180 / math.Pi
	}
	c.SlotM = c.SensorM * c.Ratio
	left := b.AwayM
	if c.Inwards {
		left = b.TowardsM
	}
	c.OpenM = math.Max(0, math.Abs(c.SlotM)-left)
	c.LeftM = math.Max(0, left-math.Abs(c.SlotM))
	// A slot in the base comes up against the fixed screw with the end that
	// trails; a slot in the plate stops the screw with the end that leads.
	// Beyond the pin the base goes out where the sensor comes in.
	screwIn := c.Inwards != (swing && b.SlotArmM < 0)
	c.OpenShaftEnd = screwIn == b.SlotInPlate
	return c, nil
}

// outOfReach says between which gaps a base can hold the sensor.
func (b Base) outOfReach(least, most float64) error {
	accept := fmt.Sprintf("%.3g mm or more", 1e3*math.Max(0, least-b.RingRadiusM))
	if !math.IsInf(most, 0) {
		accept = fmt.Sprintf("%.3g to %.3g mm", 1e3*math.Max(0, least-b.RingRadiusM), 1e3*(most-b.RingRadiusM))
	}
	return &Error{Field: "Base.GapWantedM", Kind: ErrOutOfReach, What: fmt.Sprintf("%.3g mm", 1e3*b.GapWantedM), Accept: accept}
}

// clamp keeps a cosine within what acos takes.
func clamp(x float64) float64 { return math.Max(-1, math.Min(1, x)) }
