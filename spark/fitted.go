package spark

import (
	"fmt"
	"math"

	"dwellwright/car"
)

// Fitting is a way the primary could be interrupted in this car.
type Fitting uint8

// The fittings that are compared.
const (
	CleanPoints Fitting = iota
	WornPoints
	Darlington
	IGBT
	MOSFET
	Fittings // how many
)

var fittingNames = [Fittings]struct{ id, name string }{
	{"clean_points", "clean points"},
	{"worn_points", "worn points"},
	{"darlington", "Darlington"},
	{"igbt", "IGBT"},
	{"mosfet", "MOSFET"},
}

// ID is the name in files and options.
func (f Fitting) ID() string { return fittingNames[f].id }

// String is the name in words.
func (f Fitting) String() string { return fittingNames[f].name }

// ParseFitting finds a fitting by its ID.
func ParseFitting(id string) (Fitting, error) {
	var all string
	for f := Fitting(0); f < Fittings; f++ {
		if f.ID() == id {
			return f, nil
		}
		if f > 0 {
			all += ", "
		}
		all += f.ID()
	}
	return 0, fmt.Errorf("no switch %q; accepted: %s", id, all)
}

// Of is the fitting a car has; for points, clean ones.
func Of(c *car.Car) Fitting {
	switch c.Switch.Kind {
	case car.Darlington:
		return Darlington
	case car.IGBT:
		return IGBT
	case car.MOSFET:
		return MOSFET
	}
	return CleanPoints
}

// Fit returns a car with that switch in it and all else as it is: the car's
// own where it has one of the kind, or has one planned, else a usual one.
// Worn points are the car's points, or usual ones, burnt to 0.5 ohm, with two
// thirds of a new spring [from memory: burnt 0.3 to 2 ohm; weak springs let
// points float from 3,500 to 4,500 rpm].
func Fit(c *car.Car, f Fitting) *car.Car {
	d := c.Clone()
	kind := car.SinglePoints
	switch f {
	case Darlington:
		kind = car.Darlington
	case IGBT:
		kind = car.IGBT
	case MOSFET:
		kind = car.MOSFET
	}
	points := kind == car.SinglePoints
	switch {
	case d.Switch.Kind == kind || points && !d.Switch.Kind.Electronic():
	case d.Planned != nil && d.Planned.Switch.Kind == kind:
		d.Switch = d.Planned.Switch
	default:
		d.Switch = car.SwitchDefaults(kind, d.NominalV, d.Cylinders)
	}
	if points {
		d.Feed = car.FeedNone
	} else if d.Feed == car.FeedNone {
		d.Feed = car.FeedCoil
		if d.Ballast.Fitted {
			d.Feed = car.FeedBallastSupply
		}
	}
	if f == WornPoints {
		on := &d.Switch.On
		on.X, on.PM, on.Origin = math.Max(on.X, 0.5), math.Max(on.PM, 0.25), car.Assumed
		sp := &d.Switch.Spring
		sp.X, sp.Origin = sp.X*2/3, car.Assumed
	}
	return d
}
