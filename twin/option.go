package twin

import (
	"fmt"

	"dwellwright/car"
)

// Option is a way to feed and protect the trigger and the coil.
type Option struct {
	ID    string
	Name  string
	About string // how it is wired, in a sentence
	Work  int    // how much there is to change, to rank what is otherwise alike
	apply func(*car.Car)
	unfit func(*car.Car) string
}

// AsFitted is the car as its file says it is now.
const AsFitted = "as_fitted"

// Options lists the ways, the car as fitted first.
func Options() []Option {
	return []Option{
		{ID: AsFitted, Name: "as fitted", About: "What the car file says is fitted now.", apply: func(*car.Car) {}},
		{
			ID: "points_kept", Work: 0, Name: "points kept",
			About: "Points stay in charge of the coil; ballast and coil as they are; nothing to feed.",
			apply: func(c *car.Car) {
				if c.Switch.Kind.Electronic() {
					c.Switch = car.SwitchDefaults(car.SinglePoints, c.NominalV, c.Cylinders)
				}
				c.Feed = car.FeedNone
			},
		},
		{
			ID: "feed_behind_ballast", Work: 1, Name: "trigger fed behind the ballast",
			About: "The trigger's supply wire is joined to the coil's feed terminal; the ballast stays.",
			unfit: needsBallast,
			apply: func(c *car.Car) { fitTrigger(c); c.Feed = car.FeedCoil },
		},
		{
			ID: "feed_before_ballast", Work: 1, Name: "trigger fed before the ballast",
			About: "The trigger's supply wire is joined to the supply side of the ballast; the ballast stays in the coil's own feed.",
			unfit: needsBallast,
			apply: func(c *car.Car) { fitTrigger(c); c.Feed = car.FeedBallastSupply },
		},
		{
			ID: "full_voltage_coil", Work: 2, Name: "no ballast, full-voltage coil",
			About: "No ballast, and a coil that stands full voltage; coil and trigger share one feed.",
			apply: func(c *car.Car) {
				fitTrigger(c)
				c.Ballast.Fitted = false
				class := "full_voltage"
				if c.NominalV == 6 {
					class = "six_volt"
				}
				if c.Coil.Class != class {
					c.Coil = car.CoilDefaults(class, c.NominalV)
				}
				c.Feed = car.FeedCoil
			},
		},
		{
			ID: "relay_feed", Work: 3, Name: "relay from the battery",
			About: "A fused wire from the starter stud feeds trigger and coil through a relay; the old ignition wire only works the relay.",
			apply: func(c *car.Car) {
				fitTrigger(c)
				c.Relay.Fitted = true
				c.Feed = car.FeedRelay
			},
		},
	}
}

func needsBallast(c *car.Car) string {
	if !c.Ballast.Fitted {
		return "the car has no ballast"
	}
	return ""
}

// fitTrigger puts in the trigger the file plans, or the one it has, or a
// typical Darlington.
func fitTrigger(c *car.Car) {
	switch {
	case c.Planned != nil && c.Planned.Switch.Kind.Electronic():
		c.Switch = c.Planned.Switch
	case c.Switch.Kind.Electronic():
	default:
		c.Switch = car.SwitchDefaults(car.Darlington, c.NominalV, c.Cylinders)
	}
	c.Relay.Fitted = false
}

// OptionByID returns the option of that name.
func OptionByID(id string) (Option, error) {
	var have []string
	for _, o := range Options() {
		if o.ID == id {
			return o, nil
		}
		have = append(have, o.ID)
	}
	return Option{}, &UnknownError{What: "option", ID: id, Have: have}
}

// Unfit says why the option cannot be had on this car, "" when it can.
func (o Option) Unfit(c *car.Car) string {
	if o.unfit == nil {
		return ""
	}
	return o.unfit(c)
}

// Apply returns the car wired in this way; the car given is not changed.
func (o Option) Apply(c *car.Car) (*car.Car, error) {
	if why := o.Unfit(c); why != "" {
		return nil, fmt.Errorf("option %q: %s", o.ID, why)
	}
	d := c.Clone()
	o.apply(d)
	return d, nil
}
