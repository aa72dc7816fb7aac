package twin

import (
	"errors"
	"math"
	"slices"
	"testing"

	"dwellwright/car"
	"dwellwright/units"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6g, want %.6g within %.2g", what, got, want, tol)
	}
}

// fix takes the spread out of every figure.
func fix(c *car.Car) *car.Car {
	for _, r := range car.Params(c) {
		r.P.PM, r.P.Shape = 0, units.Exact
	}
	return c
}

func v8(t *testing.T, option string) *car.Car {
	t.Helper()
	o, err := OptionByID(option)
	if err != nil {
		t.Fatal(err)
	}
	c, err := o.Apply(car.Defaults(12, car.NegativeEarth, 8))
	if err != nil {
		t.Fatal(err)
	}
	return fix(c)
}

func readOne(t *testing.T, c *car.Car, condition string, s Spec) float64 {
	t.Helper()
	e, err := Predict(c, condition, []Spec{s}, 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	if e[0].Missing() {
		t.Fatalf("nothing to read for %v", s)
	}
	return e[0].Mid
}

// Exponential charging, check values of the coil equation I = V/R (1 -
// exp(-tR/L)): 13.5 V, 2.9 ohm, 8 mH give 3.265 A after 3.333 ms and 4.644 A
// after 16.67 ms, the dwell times of 30 degrees on a V8 at 3,000 and 600 rpm.
func TestCoilCurrentAtTheBreak(t *testing.T) {
	for _, x := range []struct{ rpm, want float64 }{{600, 4.644}, {3000, 3.265}} {
		c := v8(t, "points_kept")
		bare(c)
		k := findCondition(c, "cruise")
		k.Speed.X = x.rpm
		c.Switch.Dwell.X = 30
		c.Coil.Burn.X = 4000 // so that the spark is out before the points close again
		got := readOne(t, c, "cruise", Spec{Instrument: ClampPeak, Red: "coil"})
		near(t, "current", got, x.want, 0.012)
	}
}

// bare makes the car a stiff 13.5 V supply, 2.9 ohm and 8 mH.
func bare(c *car.Car) {
	for i := range c.Wiring {
		c.Wiring[i].Given = true
		c.Wiring[i].Resistance.X = 1e-4
	}
	c.Charging.Kind = car.DCGenerator
	c.Charging.CutIn.X, c.Charging.FullOutput.X, c.Charging.Rating.X = 100, 200, 10
	c.Charging.SetPoint.X, c.Charging.Drift.X, c.Charging.Slope.X = 13.5, 0, 1e-4
	c.KeySwitch.Contact.X = 1e-4
	c.Ballast.Fitted = false
	c.Coil.Primary.X, c.Coil.Inductance.X, c.Coil.Thermal.X = 2.9-0.0009-0.02, 8e-3, 1e-6
	c.Switch.On.X = 0.02
	for i := range c.Conditions {
		c.Conditions[i].BayTemp.X = 20
		c.Conditions[i].Loads = nil
	}
}

// The averaging meter at the coil's feed of a ballasted car lies between the
// closed and the open voltage by the dwell share [mean = closed d + open
// (1-d), resistive model of the trade].
func TestMeterAverages(t *testing.T) {
	c := v8(t, "points_kept")
	c.Coil.Inductance.X = 1e-4 // as good as resistive
	at := func(in Instrument) float64 {
		return readOne(t, c, "hot_idle", Spec{Instrument: in, Red: "coil_feed", Black: "block"})
	}
	lo, mean, hi := at(ScopeMin), at(Voltmeter), at(ScopeMax)
	d := c.Switch.Dwell.X / 45
	near(t, "mean", mean, lo*d+hi*(1-d), 0.06)
	if !(lo < mean-1 && mean < hi-1) {
		t.Errorf("lowest %.2f, mean %.2f, highest %.2f", lo, mean, hi)
	}
}

// Ground lift V Rg/(R+Rg): 13.8 V, 2.9 ohm, 0.2 ohm give 0.9 V; 1 ohm 3.5 V
// [calc of the trade's table].
func TestGroundLift(t *testing.T) {
	for _, x := range []struct{ rg, want float64 }{{0.2, 0.89}, {1, 3.54}} {
		c := v8(t, "points_kept")
		bare(c)
		c.Charging.Kind = car.NoCharging
		c.Battery.Internal.X = 1e-4
		c.Wiring[car.PivotWire].Resistance.X = x.rg
		live := readOne(t, c, "key_on_closed", Spec{Instrument: Voltmeter, Red: "battery_live", Black: "battery_earth"})
		got := readOne(t, c, "key_on_closed", Spec{Instrument: Voltmeter, Red: "breaker_plate", Black: "battery_earth"})
		near(t, "lift", got*13.8/live, x.want, 0.01)
	}
}

// Leads alone can show 0.2 ohm (common practice, no source): the ohmmeter
// adds them to the path.
func TestOhmmeterAddsItsLeads(t *testing.T) {
	c := v8(t, "feed_before_ballast")
	s := Spec{Instrument: Ohmmeter, Red: "breaker_plate", Black: "battery_earth"}
	path := readOne(t, c, "hot_idle", s)
	want := LegOhms(&c.Wiring[car.PivotWire], 75) + LegOhms(&c.Wiring[car.HousingClamp], 75) + LegOhms(&c.Wiring[car.EarthCable], 75)
	near(t, "path", path, want, 1e-6)
	if path < 0.005 || path > 0.05 {
		t.Errorf("a healthy path of 0.02 to 0.05 ohm is common practice; got %.4f", path)
	}
	s.Leads = 0.2
	near(t, "with leads", readOne(t, c, "hot_idle", s), path+0.2, 1e-9)
}

// The same car on either earth reads the same, live side positive.
func TestEitherEarthReadsTheSame(t *testing.T) {
	specs := []Spec{
		{Instrument: ScopeMin, Red: "trigger_supply", Black: "breaker_plate"}, {Instrument: ScopeMax, Red: "trigger_supply", Black: "breaker_plate"},
		{Instrument: Voltmeter, Red: "battery_live", Black: "battery_earth"}, {Instrument: ClampPeak, Red: "coil"}, {Instrument: ClampAmmeter, Red: "battery"},
		{Instrument: ClampAmmeter, Red: "generator"}, {Instrument: ClampAmmeter, Red: "main_feed"}, {Instrument: Wattmeter, Red: "coil"}, {Instrument: Thermometer, Red: "ballast"},
	}
	for _, kind := range []car.SwitchKind{car.Darlington, car.MOSFET, car.IGBT} {
		for _, cond := range []string{"cold_crank", "hot_idle", "cruise", "key_on_closed"} {
			c := v8(t, "relay_feed")
			c.Switch = car.SwitchDefaults(kind, 12, 8)
			neg, err := Predict(fix(c), cond, specs, 0, 1)
			if err != nil {
				t.Fatal(err)
			}
			c.Earth = car.PositiveEarth
			pos, err := Predict(c, cond, specs, 0, 1)
			if err != nil {
				t.Fatal(err)
			}
			for i := range specs {
				near(t, cond+" "+specs[i].Red, pos[i].Mid, neg[i].Mid, 1e-6*(1+math.Abs(neg[i].Mid)))
			}
		}
	}
}

// Current in, current out: the battery takes what the generator gives less
// what the loads and the coil take.
func TestCurrentsBalance(t *testing.T) {
	c := v8(t, "feed_before_ballast")
	amps := func(part string) float64 {
		return readOne(t, c, "cruise", Spec{Instrument: ClampAmmeter, Red: part})
	}
	near(t, "battery", amps("battery"), -amps("battery_cable"), 1e-9)
	near(t, "junction", amps("charge_lead")+amps("main_feed"), amps("switch_feed")+loads(t, c, "cruise"), 1e-9)
	near(t, "ignition", amps("switch_feed"), amps("coil")+amps("feed_wire"), 0.03) // less what the iron takes
}

func loads(t *testing.T, c *car.Car, cond string) float64 {
	v := readOne(t, c, cond, Spec{Instrument: Voltmeter, Red: "feed_junction", Black: "body"})
	var sum float64
	for _, id := range findCondition(c, cond).Loads {
		for _, l := range c.Loads {
			if l.ID == id {
				sum += v / (12.8 / l.Current.X)
			}
		}
	}
	return sum
}

// The ballast's temperature is that of its own average power.
func TestBallastHeatsToItsOwnPower(t *testing.T) {
	c := v8(t, "points_kept")
	temp := readOne(t, c, "hot_idle", Spec{Instrument: Thermometer, Red: "ballast"})
	watts := readOne(t, c, "hot_idle", Spec{Instrument: Wattmeter, Red: "ballast"})
	near(t, "temperature", temp, findCondition(c, "hot_idle").BayTemp.X+c.Ballast.Thermal.X*watts, 1e-5)
	if temp < 90 || temp > 260 {
		t.Errorf("a ballast block runs at 150 °C and more (common practice); got %.0f", temp)
	}
	// As speed rises it cools, which lifts the coil's volts [US Army TM
	// 9-8000, ignition resistor].
	fast := readOne(t, c, "top_speed", Spec{Instrument: Thermometer, Red: "ballast"})
	if fast >= temp {
		t.Errorf("at top speed it is at %.0f °C, not below the %.0f °C of idle", fast, temp)
	}
}

// Draws are the same whatever is asked and in whatever order, and a figure
// that can't be negative is never drawn so.
func TestDrawsRepeat(t *testing.T) {
	c := car.Defaults(12, car.NegativeEarth, 6)
	specs := []Spec{{Instrument: ScopeMin, Red: "coil_feed", Black: "block"}, {Instrument: ClampPeak, Red: "coil"}}
	a, err := Predict(c, "hot_idle", specs, 300, 7)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Predict(c, "hot_idle", specs[1:], 300, 7)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "asked alone", b[0].Mid, a[1].Mid, 1e-7)
	near(t, "asked alone, width", b[0].PM(), a[1].PM(), 1e-6)
	other, err := Predict(c, "hot_idle", specs, 300, 8)
	if err != nil {
		t.Fatal(err)
	}
	if other[0] == a[0] {
		t.Error("another seed gives the very same")
	}
	s := NewSampler(c, 3)
	for k := 1; k < 2000; k++ {
		s.Draw(k)
		for _, r := range s.refs {
			switch r.P.Kind {
			case units.CrankAngle, units.DistributorAngle: // either way from where it should be
				continue
			}
			if r.P.Kind != units.Temperature && r.P.Kind != units.VoltagePerKelvin && r.P.X < 0 {
				t.Fatalf("draw %d: %s = %g", k, r.Path, r.P.X)
			}
		}
	}
}

// More draws narrow the interval's own scatter as one over the root of their
// number, and do not move it.
func TestIntervalSettles(t *testing.T) {
	c := car.Defaults(12, car.NegativeEarth, 8)
	s := []Spec{{Instrument: ScopeMin, Red: "coil_feed", Black: "block"}}
	few, err := Predict(c, "hot_idle", s, 400, 1)
	if err != nil {
		t.Fatal(err)
	}
	many, err := Predict(c, "hot_idle", s, 6000, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "middle", few[0].Mid, many[0].Mid, 0.15*many[0].PM())
	near(t, "half-width", few[0].PM(), many[0].PM(), 0.15*many[0].PM())
}

func TestEveryCarSolvesInEveryWay(t *testing.T) {
	n := 0
	for _, volts := range []int{6, 12} {
		for _, earth := range []car.Earth{car.NegativeEarth, car.PositiveEarth} {
			for _, cyl := range []int{4, 6, 8} {
				c := car.Defaults(volts, earth, cyl)
				for _, o := range Options() {
					if o.Unfit(c) != "" {
						continue
					}
					d, err := o.Apply(c)
					if err != nil {
						t.Fatal(err)
					}
					for _, k := range d.Conditions {
						specs := []Spec{{Instrument: ScopeMin, Red: "coil_feed", Black: "block"}, {Instrument: ClampPeak, Red: "coil"}}
						e, err := Predict(d, k.ID, specs, 60, uint64(cyl))
						if err != nil {
							t.Errorf("%d V, %v, %d cylinders, %s, %s: %v", volts, earth, cyl, o.ID, k.ID, err)
							continue
						}
						n++
						if v := e[0].Mid; !(v > -0.5 && v < 1.4*float64(volts)) {
							t.Errorf("%d V, %s, %s: coil feed %.2f V", volts, o.ID, k.ID, v)
						}
					}
				}
			}
		}
	}
	if n < 300 {
		t.Errorf("only %d were solved", n)
	}
}

func TestUnknownNames(t *testing.T) {
	c := car.Defaults(12, car.NegativeEarth, 8)
	var u *UnknownError
	if _, err := Predict(c, "moonlight", nil, 1, 1); !errors.As(err, &u) {
		t.Errorf("condition: got %v", err)
	}
	if _, err := OptionByID("hope"); !errors.As(err, &u) {
		t.Errorf("option: got %v", err)
	}
	e, err := Predict(c, "cruise", []Spec{{Instrument: Voltmeter, Red: "trigger_supply", Black: "block"}}, 5, 1)
	if err != nil || !e[0].Missing() {
		t.Errorf("a point that points do not have: %v, %v", e, err)
	}
}

// A car file can name every option, and no other.
func TestOptionsAreThoseOfTheFile(t *testing.T) {
	var ours []string
	for _, o := range Options() {
		ours = append(ours, o.ID)
	}
	if !slices.Equal(ours, car.Options) {
		t.Errorf("options %v, the file accepts %v", ours, car.Options)
	}
}

// What moves the feed behind a ballast most are ballast and coil; and taking
// the first driver's spread away narrows the prediction by about its share.
func TestDrivers(t *testing.T) {
	o, _ := OptionByID("feed_behind_ballast")
	c, err := o.Apply(car.Defaults(12, car.NegativeEarth, 8))
	if err != nil {
		t.Fatal(err)
	}
	spec := Spec{Instrument: ScopeMin, Red: "trigger_supply", Black: "breaker_plate"}
	list, err := Drivers(c, "hot_idle", spec, 1500, 1)
	if err != nil || len(list) < 3 {
		t.Fatalf("%d drivers, %v", len(list), err)
	}
	var sum float64
	top := map[string]bool{}
	for i, d := range list {
		sum += d.Share
		if i < 4 {
			top[d.Path] = true
		}
	}
	if !top["ballast.cold"] || sum < 0.7 || sum > 1.15 {
		t.Errorf("shares add to %.2f; the first are %v", sum, top)
	}
	before, err := Predict(c, "hot_idle", []Spec{spec}, 1500, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range car.Params(c) {
		if r.Path == list[0].Path {
			r.P.PM, r.P.Shape = 0, units.Exact
		}
	}
	after, err := Predict(c, "hot_idle", []Spec{spec}, 1500, 1)
	if err != nil {
		t.Fatal(err)
	}
	want := math.Sqrt(1 - list[0].Share)
	near(t, "narrowing", after[0].PM()/before[0].PM(), want, 0.08)
}
