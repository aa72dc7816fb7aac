package twin

import (
	"math"

	"dwellwright/car"
)

// OfFitting reports whether an instrument reads the distributor and its
// timing, which no network is needed for.
func (i Instrument) OfFitting() bool { return i >= TimingLight && i <= Caliper }

// hasFitting reports whether the car has what a spec of the distributor reads.
func (m *Model) hasFitting(s Spec) bool {
	turning := m.cond.Engine == car.Running || m.cond.Engine == car.Cranking
	if checked(m.car) != nil {
		return false
	}
	switch s.Instrument {
	case TimingLight:
		return s.Red == "damper" && turning
	case WindowedCap:
		return turning && (s.Red == "rotor_tip" || s.Red == "rotor_tip_full_vacuum" && m.car.Advance.Source != car.NoVacuum)
	case FeelerGauge:
		return s.Red == "air_gap" && m.car.Switch.Kind.Electronic()
	}
	return s.Red == "rotor_gap" || s.Red == "rotor_engagement"
}

// fitting reads the distributor.
func (m *Model) fitting(s Spec) float64 {
	c := m.car
	switch s.Instrument {
	case TimingLight:
		d := Distributor(c)
		return math.Remainder(d.Timing(Mechanism(c).At(math.Max(m.cond.Speed.X, 0)/2).Mid, 0), 360) // the mark comes round once a turn of the crank
	case WindowedCap:
		d := Distributor(m.car)
		v := 0.0
		if s.Red == "rotor_tip_full_vacuum" {
			v = d.VacuumTravel
		}
		worst := 0.0
		for _, f := range d.Fire(0, v) {
			if math.Abs(f.Phase) > math.Abs(worst) {
				worst = f.Phase
			}
		}
		return worst
	case FeelerGauge:
		return c.Trigger.Gap.X
	}
	if s.Red == "rotor_engagement" {
		h := Heights(c)
		return h.BoreM - h.LiftM
	}
	return c.Cap.RotorGap.X
}

func checked(c *car.Car) error {
	d := Distributor(c)
	return d.Validate()
}
