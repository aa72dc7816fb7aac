package fault_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"testing"

	"dwellwright/car"
	"dwellwright/fault"
	"dwellwright/twin"
	"dwellwright/units"
)

// example reads one of the example files; option wires it another way.
func example(t testing.TB, file, option string) *car.Car {
	t.Helper()
	data, err := os.ReadFile("../examples/" + file + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	c, err := car.Parse(file, data)
	if err != nil {
		t.Fatal(err)
	}
	return wired(t, c, option)
}

func wired(t testing.TB, c *car.Car, option string) *car.Car {
	t.Helper()
	o, err := twin.OptionByID(option)
	if err != nil {
		t.Fatal(err)
	}
	if c, err = o.Apply(c); err != nil {
		t.Fatal(err)
	}
	return c
}

// fleet is the example cars, as they are and with the trigger that is planned,
// and twenty cars drawn at random: both voltages and earths, four to eight
// cylinders, every kind of switch, feed, charging and vacuum.
func fleet(t testing.TB) []*car.Car {
	const demo, four, six = "harrowmere-eight", "tillbrook-four", "skellgate-six"
	cars := []*car.Car{
		example(t, demo, twin.AsFitted), example(t, demo, "feed_before_ballast"), example(t, demo, "relay_feed"),
		example(t, demo, "full_voltage_coil"), example(t, four, twin.AsFitted), example(t, six, twin.AsFitted),
	}
	rng := rand.New(rand.NewPCG(7, 11))
	for i := range 20 {
		if c := random(rng, i); i%thin == 0 {
			cars = append(cars, c)
		}
	}
	if thin > 1 {
		return cars
	}
	// And some whose timing was seen off idle, and at the end of the curve.
	for _, file := range []string{demo, six} {
		for _, rpm := range []float64{2600, 4200} {
			c := example(t, file, twin.AsFitted)
			c.Timing.SeenAt.X, c.Timing.SeenAt.Origin = rpm, car.Stated
			cars = append(cars, c)
		}
	}
	return cars
}

func random(rng *rand.Rand, i int) *car.Car {
	n := []int{4, 6, 8}[rng.IntN(3)]
	v := []int{6, 12}[i%2]
	c := car.Defaults(v, car.Earth(i/2%2), n)
	c.Name = fmt.Sprintf("random %d", i)
	if kind := car.SwitchKind(i % 5); kind != car.SinglePoints {
		c.Switch = car.SwitchDefaults(kind, v, n)
		c.Feed = car.FeedNone
		if kind == car.DualPoints {
			// What the file's typical figures would be.
			c.Distributor.DwellEach = car.Param{Value: units.Value{X: 240 / float64(n), PM: 1, Shape: units.Normal}, Kind: units.DistributorAngle}
			c.Distributor.SetsApart = car.Param{Value: units.Value{X: 5, PM: 1, Shape: units.Normal}, Kind: units.DistributorAngle}
		}
		if kind.Electronic() {
			c.Feed = []car.FeedPoint{car.FeedCoil, car.FeedKeySwitch, car.FeedRelay}[rng.IntN(3)]
			if c.Ballast.Fitted && rng.IntN(2) == 0 {
				c.Feed = car.FeedBallastSupply
			}
			c.Relay.Fitted = c.Feed == car.FeedRelay
		}
	}
	switch rng.IntN(4) {
	case 0:
		c.Charging = car.ChargingDefaults(car.NoCharging, v)
	case 1, 2:
		c.Charging = car.ChargingDefaults(car.ACAlternator, v)
	}
	c.Advance.Source = car.VacuumSource(rng.IntN(3))
	c.Coil.Reversed = rng.IntN(4) == 0
	c.KeySwitch.LiveInStart = rng.IntN(2) == 0
	c.KeySwitch.Bypass = rng.IntN(2) == 0 || !c.KeySwitch.LiveInStart
	c.Distributor.Rotation = car.Rotation(rng.IntN(2))
	c.Distributor.Teeth = []int{1, 2, 13}[rng.IntN(3)]
	s := twin.NewSampler(c, uint64(i))
	s.Draw(1 + i)
	return s.Car
}

func all(u float64) fault.Severity { return fault.Severity{U: [4]float64{u, u, u, u}} }

func byID(t testing.TB, id string) *fault.Fault {
	t.Helper()
	f, err := fault.ByID(id)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func condition(c *car.Car, id string) *car.Condition {
	for i := range c.Conditions {
		if c.Conditions[i].ID == id {
			return &c.Conditions[i]
		}
	}
	return nil
}
