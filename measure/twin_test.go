package measure

import (
	"errors"
	"fmt"
	"math"
	"os"
	"testing"

	"dwellwright/car"
	"dwellwright/twin"
)

// exampleCars are the example files, and cars of which hardly anything is said.
func exampleCars(t testing.TB) map[string]*car.Car {
	t.Helper()
	list := map[string]*car.Car{}
	for _, file := range []string{"harrowmere-eight", "skellgate-six", "tillbrook-four"} {
		data, err := os.ReadFile("../examples/" + file + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		c, err := car.Parse(file, data)
		if err != nil {
			t.Fatal(err)
		}
		list[file] = c
	}
	for _, volts := range []int{6, 12} {
		for _, n := range []int{4, 6, 8} {
			list[fmt.Sprintf("unknown %d V, %d", volts, n)] = car.Defaults(volts, car.NegativeEarth, n)
		}
	}
	alternator := car.Defaults(12, car.PositiveEarth, 8)
	alternator.Charging = car.ChargingDefaults(car.ACAlternator, 12)
	alternator.Advance.Source = car.ManifoldVacuum
	list["alternator, positive earth"] = alternator
	relay, err := twin.OptionByID("relay_feed")
	if err != nil {
		t.Fatal(err)
	}
	if list["relay"], err = relay.Apply(list["harrowmere-eight"]); err != nil {
		t.Fatal(err)
	}
	return list
}

// Every figure that package twin can predict is the same here, whichever way
// the car is wired.
func TestEqualsTwin(t *testing.T) {
	compared := 0
	for name, fitted := range exampleCars(t) {
		for _, option := range twin.Options() {
			if option.Unfit(fitted) != "" {
				continue
			}
			c, err := option.Apply(fitted)
			if err != nil {
				t.Fatal(err)
			}
			compared += equalsTwin(t, name+", "+option.ID, c)
		}
	}
	if compared < 1000 {
		t.Errorf("only %d figures compared", compared)
	}
}

func equalsTwin(t *testing.T, name string, c *car.Car) (compared int) {
	t.Helper()
	list := Catalogue(c)
	b, err := NewBench(c, list)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	got := make([]float64, len(list))
	if err := b.Read(nil, got); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	// The made states as conditions of the car, for twin.
	with := newCopier(c)
	with.copy(c)
	for i := range list {
		e := &table[places[list[i].ID]]
		if e.spec == nil {
			continue
		}
		id := e.at.id()
		est, err := twin.Predict(with.to, id, []twin.Spec{*e.spec}, 0, 1)
		if err != nil {
			t.Fatalf("%s, %s: %v", name, e.ID, err)
		}
		if est[0].Missing() != math.IsNaN(got[i]) {
			t.Errorf("%s, %s: read %v, twin has it missing: %v", name, e.ID, got[i], est[0].Missing())
			continue
		}
		if est[0].Missing() {
			continue
		}
		want := est[0].Mid
		if math.Abs(got[i]-want) > 1e-6*math.Max(math.Abs(want), 1e-3) {
			t.Errorf("%s, %s: read %.9g, twin predicts %.9g", name, e.ID, got[i], want)
		}
		compared++
	}
	return compared
}

// A change that rewires the car is the car rewired.
func TestRewired(t *testing.T) {
	cars := exampleCars(t)
	for name, change := range map[string]func(c *car.Car, k *car.Condition){
		"no ballast":         func(c *car.Car, _ *car.Condition) { c.Ballast.Fitted = false },
		"no bypass":          func(c *car.Car, _ *car.Condition) { c.KeySwitch.Bypass = false },
		"fed at the coil":    func(c *car.Car, _ *car.Condition) { c.Feed = car.FeedCoil },
		"nothing on":         func(c *car.Car, k *car.Condition) { k.Loads = nil },
		"no charging":        func(c *car.Car, _ *car.Condition) { c.Charging.Kind = car.NoCharging },
		"run dead in start":  func(c *car.Car, _ *car.Condition) { c.KeySwitch.LiveInStart = false },
		"leads a tower on":   func(c *car.Car, _ *car.Condition) { c.Distributor.Leads = []int{5, 3, 6, 2, 4, 1} },
		"loads written over": func(c *car.Car, k *car.Condition) { clear(k.Loads); clear(c.Distributor.FiringOrder) },
	} {
		c := cars["skellgate-six"]
		list := Catalogue(c)
		b, err := NewBench(c, list)
		if err != nil {
			t.Fatal(err)
		}
		first, got, again := make([]float64, len(list)), make([]float64, len(list)), make([]float64, len(list))
		if err := b.Read(nil, first); err != nil {
			t.Fatal(err)
		}
		for range 3 {
			if err := b.Read(change, got); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		if err := b.Read(nil, again); err != nil {
			t.Fatal(err)
		}
		if i, ok := sameFigures(first, again); !ok {
			t.Errorf("%s: %s was %v, after the change %v: something of it stayed", name, list[i].ID, first[i], again[i])
		}
		if name == "loads written over" {
			continue
		}
		for i := range list {
			e := &table[places[list[i].ID]]
			if e.spec == nil || e.at == keyOff {
				continue
			}
			with := newCopier(c)
			with.copy(c)
			change(with.to, &with.to.Conditions[with.made[e.at]])
			est, err := twin.Predict(with.to, e.at.id(), []twin.Spec{*e.spec}, 0, 1)
			if err != nil {
				t.Fatal(err)
			}
			if est[0].Missing() {
				if !math.IsNaN(got[i]) {
					t.Errorf("%s: %s read %v where there is nothing", name, e.ID, got[i])
				}
				continue
			}
			if want := est[0].Mid; math.Abs(got[i]-want) > 1e-6*math.Max(math.Abs(want), 1e-3) {
				t.Errorf("%s: %s read %.9g, twin predicts %.9g", name, e.ID, got[i], want)
			}
		}
	}
}

func sameFigures(a, b []float64) (int, bool) {
	for i := range a {
		if math.IsNaN(a[i]) != math.IsNaN(b[i]) || math.Abs(a[i]-b[i]) > 1e-7*math.Max(math.Abs(a[i]), 1e-3) {
			return i, false
		}
	}
	return 0, true
}

// A measure alone is what it is with the rest: what a list does not need is not
// worked out.
func TestReadAlone(t *testing.T) {
	c := exampleCars(t)["skellgate-six"]
	list := Catalogue(c)
	b, err := NewBench(c, list)
	if err != nil {
		t.Fatal(err)
	}
	all := make([]float64, len(list))
	if err := b.Read(nil, all); err != nil {
		t.Fatal(err)
	}
	if err := b.Read(nil, all[1:]); err == nil {
		t.Error("too few places were taken")
	}
	for one := range list {
		b, err := NewBench(c, list[one:one+1])
		if err != nil {
			t.Fatal(err)
		}
		out := []float64{-77}
		if err := b.Read(nil, out); err != nil {
			t.Fatal(err)
		}
		if math.IsNaN(all[one]) != math.IsNaN(out[0]) || math.Abs(out[0]-all[one]) > 1e-7*math.Max(math.Abs(all[one]), 1e-3) {
			t.Errorf("%s: %v alone, %v with the rest", list[one].ID, out[0], all[one])
		}
	}
}

// A drawn car taken from a sampler is the sampler's car.
func TestTake(t *testing.T) {
	c := exampleCars(t)["harrowmere-eight"]
	list := Catalogue(c)
	b, err := NewBench(c, list)
	if err != nil {
		t.Fatal(err)
	}
	s := twin.NewSampler(c, 5)
	got := make([]float64, len(list))
	for k := range 4 {
		s.Draw(k)
		b.Take(s)
		if err := b.Read(nil, got); err != nil {
			t.Fatal(err)
		}
		m, err := twin.Build(s.Car, "cruise")
		if err != nil {
			t.Fatal(err)
		}
		m.Asks(s.Demand)
		if err := errors.Join(m.Refresh(), m.Solve()); err != nil {
			t.Fatal(err)
		}
		spark, err := m.Spark()
		if err != nil {
			t.Fatal(err)
		}
		for i := range list {
			if list[i].ID == "available_cruise" && math.Abs(got[i]-spark.Firing.AvailableV) > 1e-6*got[i] {
				t.Errorf("draw %d: read %v, that car has %v", k, got[i], spark.Firing.AvailableV)
			}
		}
	}
}

// The distributor of a drawn car is worked out once for all its states; a
// change of it, for those it is made in.
func TestOnePlace(t *testing.T) {
	for name, c := range exampleCars(t) {
		list := Catalogue(c)
		b, err := NewBench(c, list)
		if err != nil {
			t.Fatal(err)
		}
		s := twin.NewSampler(c, 2)
		out := make([]float64, len(list))
		s.Draw(3)
		b.Take(s)
		if err := b.Read(func(c *car.Car, _ *car.Condition) { c.Coil.Primary.X *= 1.1 }, out); err != nil {
			t.Fatal(err)
		}
		if !b.base.known || b.place.known {
			t.Errorf("%s: the drawn car's distributor is worked out: %v; another for a coil: %v", name, b.base.known, b.place.known)
		}
	}
}
