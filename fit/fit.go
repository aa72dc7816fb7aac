package fit

import (
	"math"

	"dwellwright/car"
	"dwellwright/distributor"
	"dwellwright/lobes"
	"dwellwright/twin"
)

// Settings say how a fit is worked out.
type Settings struct {
	Option string // twin option; "" is the conversion the car file plans, else the car as fitted
	Draws  int    // cars drawn from the spreads
	Seed   uint64
}

// DefaultDraws is how many cars are drawn where nothing else is asked.
const DefaultDraws = 1000

// Fit is everything that has to be known to put a trigger or points in their
// place: where the rotor stands at the spark, what turned the timing, every
// way back, the air gap, the heights. Angles are degrees at the distributor,
// clockwise seen from above, timing is crank degrees before top dead centre,
// lengths are m.
type Fit struct {
	Car    *car.Car // as wired in the option
	Option twin.Option
	Draws  int
	Seed   uint64

	Rig     distributor.Distributor // the middle car, nothing turned yet
	Timing  Timing
	Phase   Phase
	Start   distributor.Start // if it were cranked with nothing turned
	Ways    []Way
	Refused []distributor.Refused
	Gap     *Gap // nil for points
	Seat    *Seat
	Sets    *Sets // dual points; nil for others
	Lobes   []LobeRun
	Play    *lobes.Play // of the shaft, from runs with it pushed to both sides; nil without
	Spare   Spare
}

// Timing is what is known of the timing with nothing turned.
type Timing struct {
	Now       twin.Interval // crank degrees before top dead centre, vacuum hose off, at SeenRPM
	Seen      bool          // seen with a light as it is now; else worked out
	Later     twin.Interval // distributor degrees by which it fires later than the points
	Wanted    twin.Interval // at SeenRPM: what is wanted at idle, and what the weights add up to there
	AtIdle    float64       // what is wanted at idle
	Tolerance float64       // crank degrees
	Off       twin.Interval
	SeenRPM   float64
	// Centrifugal is what of it is centrifugal advance, crank degrees.
	Centrifugal float64
}

// Spare is the voltage left for a longer way from rotor to tower.
type Spare struct {
	Volts float64 // at the worst condition
	In    string  // that condition's name; "" where it could not be worked out
}

// KVPerMM is what a longer air path asks, kV for each mm [a few kV/mm in air at
// millimetres, common practice].
const KVPerMM = 3

// Way is one way to come back to the wanted timing.
type Way struct {
	distributor.Way
	Timing twin.Interval // afterwards, before anything is checked with a light
	Start  distributor.Start
	Phase  Phase
}

// Compute works out a fit.
func Compute(c *car.Car, set Settings) (*Fit, error) {
	if set.Option == "" {
		set.Option = Usual(c)
	}
	opt, err := twin.OptionByID(set.Option)
	if err != nil {
		return nil, err
	}
	d, err := opt.Apply(c)
	if err != nil {
		return nil, err
	}
	if d.Planned == nil && d.Switch.Kind.Electronic() && !c.Switch.Kind.Electronic() {
		d.Planned = &car.Planned{Switch: d.Switch} // it is not there yet, and nobody has seen its timing
	}
	f := &Fit{Car: d, Option: opt, Draws: set.Draws, Seed: set.Seed}
	middle := twin.NewSampler(d, set.Seed)
	middle.Draw(0)
	if err := twin.Mechanics(middle.Car); err != nil {
		return nil, err
	}
	f.Rig = twin.Distributor(middle.Car)
	f.Spare = spare(d)
	drawn := f.draw(middle.Car)
	f.Timing, f.Phase = drawn.timing(f), drawn.phase(f, distributor.Move{})
	f.Start = f.start(f.Timing.Now)
	if err := f.ways(drawn); err != nil {
		return nil, err
	}
	if d.Switch.Kind.Electronic() {
		if f.Gap, err = f.gap(); err != nil {
			return nil, err
		}
	}
	if f.Seat, err = f.seat(); err != nil {
		return nil, err
	}
	f.sets()
	f.bench()
	return f, nil
}

// Usual is the wiring a fit is asked for where none is named: the conversion
// that the car file plans, else the car as it is.
func Usual(c *car.Car) string {
	if c.Planned == nil {
		return twin.AsFitted
	}
	for _, o := range twin.Options() {
		if o.ID == "feed_before_ballast" && o.Unfit(c) == "" {
			return o.ID
		}
	}
	return "full_voltage_coil"
}

// spare is the least voltage that is left over in a condition with the engine
// turning, of the middle car.
func spare(c *car.Car) Spare {
	least := Spare{Volts: math.Inf(1)}
	for i := range c.Conditions {
		k := &c.Conditions[i]
		if k.Engine != car.Running && k.Engine != car.Cranking {
			continue
		}
		specs := []twin.Spec{{Instrument: twin.AvailableVolts, Red: "coil_tower"}, {Instrument: twin.AskedVolts}, {Instrument: twin.SnapVolts}}
		e, err := twin.Predict(c, k.ID, specs, 0, 0)
		if err != nil || e[0].Missing() || e[1].Missing() {
			continue
		}
		asked := e[1].Mid
		if !e[2].Missing() {
			asked = max(asked, e[2].Mid)
		}
		if left := max(e[0].Mid-asked, 0); left < least.Volts {
			least = Spare{left, k.Name}
		}
	}
	if math.IsInf(least.Volts, 1) {
		return Spare{}
	}
	return least
}
