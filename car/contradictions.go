package car

import (
	"fmt"
	"slices"

	"dwellwright/units"

	"go.yaml.in/yaml/v3"
)

// contradictions looks for entries that cannot both be true. It speaks only
// of what the file says, never of a typical figure, and at the later of the
// two places.
func (r *reader) contradictions(root *yaml.Node, c *Car) {
	if c.Charging.CutIn.Origin != Assumed && c.Charging.FullOutput.Origin != Assumed && c.Charging.FullOutput.X <= c.Charging.CutIn.X {
		r.at(c.Charging.FullOutput.Pos, "charging.full_output",
			"full output at or below the cut-in speed of "+units.Format(units.Speed, c.Charging.CutIn.X, units.Metric), "a higher speed than cut_in")
	}
	if coil := &c.Coil; coil.Secondary.Origin != Assumed && coil.Series.Origin != Assumed && coil.Secondary.X > coil.Series.X {
		r.at(coil.Secondary.Pos, "coil.secondary",
			"the winding is a part of series, which is "+units.Format(units.Resistance, coil.Series.X, units.Metric)+" with lead and rotor", "no more than series")
	}
	r.nominal(c)
	r.geometry(root, c)
	r.dwell("switch.dwell", c.Switch.Dwell, c.Cylinders)
	if n := r.lookup(root, "feed"); n != nil {
		r.feed(n, "feed", c, c.Switch.Kind, c.Feed)
		if c.Feed == FeedRelay && !c.Relay.Fitted {
			r.problem(n, "feed", "fed by a relay, but no relay is fitted", "a relay section, or another feed", "", ErrContradiction)
		}
	}
	if p := c.Planned; p != nil {
		r.dwell("planned.switch.dwell", p.Switch.Dwell, c.Cylinders)
		if n := r.lookup(r.lookup(root, "planned"), "feed"); n != nil {
			r.feed(n, "planned.feed", c, p.Switch.Kind, p.Feed)
		}
	}
	if n := r.lookup(root, "relay"); n != nil && c.Relay.Fitted && !r.usesRelay(root, c) {
		r.problem(n, "relay", "a relay is given, but nothing is fed by it: only feed: relay uses it",
			"feed: relay, planned: {feed: relay} if it is only thought of, or a file without a relay", "", ErrContradiction)
	}
}

// usesRelay reports whether something in the file is fed by the relay: the
// trigger, the planned one, or the car as it was wired for a reading. A feed
// that cannot be read may be one.
func (r *reader) usesRelay(root *yaml.Node, c *Car) bool {
	if c.Feed == FeedRelay || r.mentions(root, "feed") && c.FeedOrigin == Assumed {
		return true
	}
	if n := r.lookup(root, "planned"); n != nil {
		if p := c.Planned; p == nil || p.Feed == FeedRelay || r.mentions(n, "feed") && p.FeedOrigin == Assumed {
			return true
		}
	}
	return slices.ContainsFunc(c.Readings, func(d Reading) bool { return d.Option == "relay_feed" })
}

func (r *reader) at(pos Pos, field, what, accept string) {
	r.errs = append(r.errs, &Problem{Pos: pos, Field: field, What: what, Accept: accept, Class: ErrContradiction})
}

// nominal refuses voltages that belong to the other system voltage.
func (r *reader) nominal(c *Car) {
	low, high := 12.0, 17.0
	if c.NominalV == 6 {
		low, high = 6, 8.5
	}
	if p := c.Charging.SetPoint; p.Origin != Assumed && (p.X < low || p.X > high) {
		r.at(p.Pos, "charging.regulator.set_point", fmt.Sprintf("%s cannot charge a %d V battery", units.Format(units.Voltage, p.X, units.Metric), c.NominalV),
			fmt.Sprintf("%s to %s", units.Format(units.Voltage, low, units.Metric), units.Format(units.Voltage, high, units.Metric)))
	}
	if p := c.Starter.At; p.Origin != Assumed && p.X > 1.1*float64(c.NominalV) {
		r.at(p.Pos, "starter.at", fmt.Sprintf("more than a %d V battery gives while cranking", c.NominalV), "the voltage at the starter while it cranks")
	}
}

// dwell refuses points that never open: one lobe takes 360/N distributor
// degrees.
func (r *reader) dwell(field string, p Param, cylinders int) {
	if lobe := 360 / float64(cylinders); p.Origin != Assumed && p.X >= lobe {
		r.at(p.Pos, field, fmt.Sprintf("with %d cylinders a lobe is only %.0f distributor degrees, so they would never open", cylinders, lobe),
			fmt.Sprintf("less than %.0f deg", lobe))
	}
}

// feed refuses feed points that do not go with the switch or the ballast.
func (r *reader) feed(n *yaml.Node, field string, c *Car, k SwitchKind, f FeedPoint) {
	switch {
	case k == unreadable:
	case !k.Electronic() && f != FeedNone:
		r.problem(n, field, "points need no feed", "none, or a switch that is a trigger module", "", ErrContradiction)
	case k.Electronic() && f == FeedNone:
		r.problem(n, field, "a trigger module needs a feed", "coil_feed, ballast_supply, key_switch, relay", "", ErrContradiction)
	case f == FeedBallastSupply && !c.Ballast.Fitted:
		r.problem(n, field, "fed from the supply side of the ballast, but no ballast is fitted", "coil_feed, key_switch, relay, or a ballast section", "", ErrContradiction)
	}
}
