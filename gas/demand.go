package gas

// DemandSpread is the plus-or-minus to show with a predicted demand, as a
// share of TotalV: what the plug's factor misses of measured engines. At idle
// and cruise with gaps under 0.85 mm up to 40 % more may be asked, see
// Plug.Factor.
const DemandSpread = 0.25

// Cylinder is one cylinder at the moment of its spark.
type Cylinder struct {
	Mixture     Mixture
	Chamber     Chamber
	Plug        Plug
	Rotor       Rotor
	IgnitionDeg float64 // crank degrees before top dead centre; negative is after
}

// Validate reports the first field that cannot be, as a [FieldError]. What it
// accepts, Demand answers with finite figures.
func (c Cylinder) Validate() error {
	if err := c.Mixture.Validate(); err != nil {
		return err
	}
	if err := c.Chamber.Validate(); err != nil {
		return err
	}
	if err := c.Plug.Validate(); err != nil {
		return err
	}
	if err := c.Rotor.Validate(); err != nil {
		return err
	}
	return firstBad("cylinder",
		field{"IgnitionDeg", c.IgnitionDeg, between(-40, c.IgnitionDeg, 70), "70 crank degrees before top dead centre to 40 after (-40)"})
}

// Required is the voltage asked for and what it is made of.
type Required struct {
	TotalV     float64 // at the coil: PlugV + RotorV
	PlugV      float64 // to break the plug's gap down
	RotorV     float64 // to break the rotor's gap down
	PressurePa float64 // in the cylinder at the spark, absolute
	TempK      float64 // of the charge at the spark
	Density    float64 // relative to air at 293 K and 101.325 kPa
	PlugRange  Range   // whether PlugV is from within measured limits
	RotorRange Range   // whether RotorV is
}

// Demand returns the voltage that must come from the coil for a spark in c:
// [Compress], then Plug.Volts of that density, plus Rotor.Volts. The sign is
// left out; a rightly connected coil gives it negative.
//
// The rotor gap is in series, between coil and plug lead. It breaks down
// first, and then the lead and plug behind it are charged through it. If it
// went on burning meanwhile, only its burning voltage of some hundreds of volts would be
// added to the plug's. But charging the lead takes only milliamperes, at which
// a spark in open air easily goes out and has to be struck again, so at worst
// the whole of its breakdown voltage stands against the coil's at the moment
// the plug breaks down. TotalV is the sum: the upper of the two ways of
// counting, and the careful one beside the voltage a coil can give. The lower
// is PlugV with some hundreds of volts added.
//
// Nothing is checked: figures that Validate refuses give figures without
// meaning, NaN among them, but no panic. No allocation.
func Demand(c Cylinder) Required {
	var d Required
	d.PressurePa, d.TempK, d.Density = Compress(c.Mixture, c.Chamber, c.IgnitionDeg)
	d.PlugV, d.PlugRange = c.Plug.Volts(d.Density)
	d.RotorV, d.RotorRange = c.Rotor.Volts()
	d.TotalV = d.PlugV + d.RotorV
	return d
}
