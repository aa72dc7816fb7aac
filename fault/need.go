package fault

import "dwellwright/car"

// need is what a car must have for a fault: all of it.
type need uint32

const (
	points need = 1 << iota
	dualPoints
	module
	hall
	ballast
	noBallast
	generator
	alternator
	charged // by either
	bypass
	noBypass
	relay
	feedAhead // the trigger is fed ahead of the ballast, by no relay
	vacuum
	ported
	manifold
	meshes // the drive goes in in more than two places
	straight
	lowCoil  // a primary of less than 2.2 ohm, or any in a 6 V car
	highCoil // a primary of more than 0.8 ohm
	liveRun  // the run contact stays live while cranking
)

// met reports whether the car has all that is needed.
func (n need) met(c *car.Car) bool {
	electronic := c.Switch.Kind.Electronic()
	relayed := c.Feed == car.FeedRelay && c.Relay.Fitted
	for _, x := range [...]struct {
		need need
		have bool
	}{
		{points, !electronic},
		{dualPoints, c.Switch.Kind == car.DualPoints},
		{module, electronic},
		{hall, electronic && c.Trigger.Principle == car.Hall},
		{ballast, c.Ballast.Fitted},
		{noBallast, !c.Ballast.Fitted},
		{generator, c.Charging.Kind == car.DCGenerator},
		{alternator, c.Charging.Kind == car.ACAlternator},
		{charged, c.Charging.Kind != car.NoCharging},
		{bypass, c.KeySwitch.Bypass},
		{noBypass, !c.KeySwitch.Bypass},
		{relay, relayed},
		{feedAhead, electronic && (c.Feed == car.FeedBallastSupply || c.Feed == car.FeedKeySwitch)},
		{vacuum, c.Advance.Source != car.NoVacuum},
		{ported, c.Advance.Source == car.PortedVacuum},
		{manifold, c.Advance.Source == car.ManifoldVacuum},
		{meshes, c.Distributor.Teeth > 2},
		{straight, !c.Coil.Reversed},
		{lowCoil, c.Coil.Primary.X < 2.2 || c.NominalV == 6},
		{highCoil, c.Coil.Primary.X > 0.8},
		{liveRun, c.KeySwitch.LiveInStart},
	} {
		if n&x.need != 0 && !x.have {
			return false
		}
	}
	return true
}

// against reports whether no car can meet both.
func (n need) against(m need) bool {
	both := n | m
	for _, x := range [...][2]need{
		{points, module}, {points, hall}, {points, feedAhead}, {dualPoints, module}, {dualPoints, hall}, {dualPoints, feedAhead},
		{ballast, noBallast}, {generator, alternator}, {bypass, noBypass}, {relay, feedAhead}, {ported, manifold},
	} {
		if both&x[0] != 0 && both&x[1] != 0 {
			return true
		}
	}
	return false
}
