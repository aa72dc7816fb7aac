package advance

import (
	"fmt"
	"math"
)

// Can is a vacuum advance as a bench sees it: nothing up to StartPa of
// depression, then in a straight line to TravelDeg at FullPa. Going up it
// follows half of HysteresisPa late, coming down half of it late the other way.
// The zero value is no can.
type Can struct {
	StartPa, FullPa float64 // below ambient
	TravelDeg       float64 // distributor degrees
	HysteresisPa    float64 // between the same advance going up and coming down
}

// Validate checks the figures; the zero Can is in order.
func (c Can) Validate() error {
	if c == (Can{}) {
		return nil
	}
	if err := first(
		within("StartPa", c.StartPa, 0, 1e5, " Pa"),
		within("FullPa", c.FullPa, 0, 1.1e5, " Pa"),
		within("TravelDeg", c.TravelDeg, 0, 45, " distributor degrees"),
		within("HysteresisPa", c.HysteresisPa, 0, 5e4, " Pa"),
	); err != nil {
		return err
	}
	if c.FullPa-c.StartPa < 1 {
		return &Error{"FullPa", fmt.Sprintf("is %g", c.FullPa), fmt.Sprintf("more than StartPa, %g Pa", c.StartPa), ErrFigure}
	}
	return nil
}

// At is the advance (distributor degrees) at a depression (Pa below ambient).
// It is NaN where Validate fails or the depression is not a number.
func (c Can) At(vacuumPa float64) Band {
	switch {
	case c.Validate() != nil || math.IsNaN(vacuumPa):
		return nowhere
	case c == Can{}:
		return Band{}
	}
	at := func(pa float64) float64 {
		return c.TravelDeg * min(max((pa-c.StartPa)/(c.FullPa-c.StartPa), 0), 1)
	}
	half := c.HysteresisPa / 2
	return Band{Mid: at(vacuumPa), Rising: at(vacuumPa - half), Falling: at(vacuumPa + half)}
}

// Diaphragm is a vacuum advance as its parts make it: the depression on the
// area pulls a rod against a spring, the rod turns the plate on a lever.
//
//	p A = PreloadN + RateNPerM x +- FrictionN,   x = LeverM times the angle of the plate
//
// The rod is taken as square to its lever throughout (under 1 % for travel up
// to 12 degrees either side of square).
type Diaphragm struct {
	AreaM2    float64 // effective: about that of the circle through the middle of the free ring
	RateNPerM float64
	PreloadN  float64
	LeverM    float64 // rod to the plate's pivot
	StopDeg   float64 // distributor degrees
	FrictionN float64 // at the rod
}

// Can is what a bench would find.
func (d Diaphragm) Can() (Can, error) {
	if err := first(
		within("AreaM2", d.AreaM2, 1e-5, 0.1, " m²"),
		within("RateNPerM", d.RateNPerM, 1, 1e6, " N/m"),
		within("PreloadN", d.PreloadN, 0, 1e3, " N"),
		within("LeverM", d.LeverM, 1e-3, 0.2, " m"),
		within("StopDeg", d.StopDeg, 0.1, 45, " distributor degrees"),
		within("FrictionN", d.FrictionN, 0, 1e3, " N"),
	); err != nil {
		return Can{}, err
	}
	x := d.LeverM * radians(d.StopDeg)
	c := Can{
		StartPa:      d.PreloadN / d.AreaM2,
		FullPa:       (d.PreloadN + d.RateNPerM*x) / d.AreaM2,
		TravelDeg:    d.StopDeg,
		HysteresisPa: 2 * d.FrictionN / d.AreaM2,
	}
	return c, c.Validate()
}

// UsualCan is a can of common figures (from memory: it starts at 100 to
// 170 mbar, is all in at 330 to 500 mbar and gives 5 to 12 distributor degrees).
func UsualCan() Can {
	return Can{StartPa: 13500, FullPa: 40000, TravelDeg: 8, HysteresisPa: 1500}
}
