package spark

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/firing"
	"dwellwright/heat"
	"dwellwright/twin"
)

// triggered is the usual 12 V eight with a trigger module on dry metal.
func triggered() *car.Car { return Fit(car.Defaults(12, car.NegativeEarth, 8), Darlington) }

func mustDrive(t testing.TB, c *car.Car, set DriveSettings) *DriveResult {
	t.Helper()
	r, err := Drive(c, set)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// allDay is long enough for everything to settle.
func allDay(condition string) DriveSettings {
	return DriveSettings{Draws: -1, Legs: []Leg{{"all day", condition, dayS}}}
}

func end(w *Warming) float64 { return w.C[len(w.C)-1].Mid }

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6g, wanted %.6g within %g", what, got, want, within)
	}
}

// TestDriveSettles: driven for long enough the junction comes to the sum along
// the ladder of K/W, written out here, and the coil to its own; and the twin's
// junction for good is the same.
func TestDriveSettles(t *testing.T) {
	for _, condition := range []string{"hot_idle", "cruise", "top_speed"} {
		c := triggered()
		r := mustDrive(t, c, allDay(condition))
		m, err := twin.Build(c, condition)
		if err != nil {
			t.Fatal(err)
		}
		if err := m.Solve(); err != nil {
			t.Fatal(err)
		}
		sp, err := m.Spark()
		if err != nil {
			t.Fatal(err)
		}
		bay, sw := m.Condition().BayTemp.X, &c.Switch
		watts := r.Legs[0].SwitchW.Mid + r.Legs[0].ElectronicsW.Mid
		// The housing gives to the air and, through 2.5 K/W, to a block of 88 °C.
		housing := (watts + bay/sw.BodyAir.X + 88/2.5) / (1/sw.BodyAir.X + 1/2.5)
		near(t, condition+" housing", end(r.At(AtHousing)), housing, 1e-6)
		base := housing + watts*(sw.PlateBody.X+sw.BasePlate.X)
		near(t, condition+" base", end(r.At(AtBase)), base, 1e-6)
		near(t, condition+" junction", end(r.At(AtJunction)), base+watts*sw.JunctionBase.X, 1e-6)
		near(t, condition+" junction of the twin", end(r.At(AtJunction)), sp.JunctionC, 1e-6)

		// The coil: its whole power over its K/W, a little less than as if the
		// heat of secondary and iron did not slow the primary's current.
		winding := end(r.At(AtWinding))
		rise := r.Legs[0].CoilW.Mid * c.Coil.Thermal.X
		near(t, condition+" winding", winding-bay, rise, 0.02*rise)
		near(t, condition+" can", end(r.At(AtCan))-bay, 0.75*(winding-bay), 0.01)
		near(t, condition+" air", end(r.At(AtAir)), bay, 1e-6)
	}
}

// TestPowersAreTheModels: the primary's watts are those the car's wattmeter
// would show, and coil, switch and gap together take no more than goes into
// the coil's feed.
func TestPowersAreTheModels(t *testing.T) {
	for _, f := range []Fitting{CleanPoints, Darlington, MOSFET} {
		for _, condition := range []string{"hot_idle", "cruise", "top_speed"} {
			c := Fit(car.Defaults(12, car.NegativeEarth, 6), f)
			l := mustDrive(t, c, allDay(condition)).Legs[0]
			e, err := twin.Predict(c, condition, []twin.Spec{
				{Instrument: twin.Wattmeter, Red: "coil"},
				{Instrument: twin.ClampAmmeter, Red: "coil"},
				{Instrument: twin.VoltmeterMax, Red: "coil_feed", Black: "breaker_plate"},
				{Instrument: twin.GapEnergy},
			}, 0, 0)
			if err != nil {
				t.Fatal(err)
			}
			near(t, f.ID()+" "+condition+" primary W", l.PrimaryW.Mid, e[0].Mid, 1e-6*e[0].Mid)
			sparks := conditionRPM(c, condition) * float64(c.Cylinders) / 120
			if sum, in := l.CoilW.Mid+l.SwitchW.Mid+e[3].Mid*sparks, e[1].Mid*e[2].Mid; !(sum < in) {
				t.Errorf("%v %s: coil %.2f W, switch %.2f W and gap %.2f W out of %.2f W", f, condition, l.CoilW.Mid, l.SwitchW.Mid, e[3].Mid*sparks, in)
			}
			if extra := l.CoilW.Mid - l.PrimaryW.Mid; !(extra > 0 && extra < 0.3*l.CoilW.Mid) {
				t.Errorf("%v %s: %.2f W in secondary and iron of %.2f", f, condition, extra, l.CoilW.Mid)
			}
		}
	}
}

func conditionRPM(c *car.Car, id string) float64 {
	for _, k := range c.Conditions {
		if k.ID == id {
			return k.Speed.X
		}
	}
	return 0
}

// TestDriveBalances: what the coil is given through a leg is what it keeps and
// what its can gives to the air, added up from the samples.
func TestDriveBalances(t *testing.T) {
	c := triggered()
	r := mustDrive(t, c, DriveSettings{Draws: -1, Legs: []Leg{{"idle", "hot_idle", 1800}}})
	winding, can, air := r.At(AtWinding).C, r.At(AtCan).C, r.At(AtAir).C
	h := heat.TypicalCoil()
	in, out := 0.0, 0.0
	for i := 1; i < len(r.Minutes); i++ {
		dt := (r.Minutes[i] - r.Minutes[i-1]) * 60
		for j := i - 1; j <= i; j++ {
			in += r.Legs[0].CoilW.Mid * dt / 2
			out += (can[j].Mid - air[j].Mid) / (0.75 * c.Coil.Thermal.X) * dt / 2
		}
	}
	last := len(winding) - 1
	kept := h.WindingJPerK*(winding[last].Mid-winding[0].Mid) + h.CanJPerK*(can[last].Mid-can[0].Mid)
	// Watts of a colder winding differ by its copper: some per cent.
	near(t, "energy kept and given off, J", kept+out, in, 0.06*in)
}

// TestCopperSlope against the two ends that are simple: a dwell far shorter
// than L/R has i = V t/L whatever R is, so heat goes as R; one far longer is
// Ohm's law, heat as R/(R+S)².
func TestCopperSlope(t *testing.T) {
	a := heat.CopperPerK / (1 + heat.CopperPerK*80)
	cs := firing.Case{Coil: firing.Coil{L1: 8e-3}, Source: firing.Source{Volts: 12, Ohms: 3}}
	for _, x := range []struct{ dwell, want float64 }{{1e-5, 1}, {10, 1 - 2*1.5/3}, {10, 1 - 2*1.5/3}} {
		cs.Rhythm = firing.Rhythm{Period: 2 * x.dwell, Dwell: x.dwell}
		f := firing.Firing{Opens: true, StillA: 4}
		near(t, "slope", copperSlope(&cs, &f, 1.5, 100)/a, x.want, 0.02)
		if x.dwell == 10 {
			f.Opens = false
			near(t, "slope at rest", copperSlope(&cs, &f, 1.5, 100)/a, x.want, 0.02)
		}
	}
}

// TestHotterIsHotter: more watts, more K/W, a hotter bay.
func TestHotterIsHotter(t *testing.T) {
	c := triggered()
	r := mustDrive(t, c, DriveSettings{Draws: -1})
	for name, x := range map[string]struct {
		at     Place
		change func(*car.Car)
	}{
		"saturation":     {AtJunction, func(c *car.Car) { c.Switch.Saturation.X += 0.4 }},
		"junction K/W":   {AtJunction, func(c *car.Car) { c.Switch.JunctionBase.X *= 2 }},
		"housing K/W":    {AtJunction, func(c *car.Car) { c.Switch.BodyAir.X *= 2; c.Conditions[2].BayTemp.X += 15 }},
		"coil K/W":       {AtWinding, func(c *car.Car) { c.Coil.Thermal.X *= 1.3 }},
		"longer dwell":   {AtWinding, func(c *car.Car) { c.Switch.Dwell.X += 5 }},
		"hot bay":        {AtAir, func(c *car.Car) { c.Conditions[1].BayTemp.X += 10 }},
		"lossy iron":     {AtWinding, func(c *car.Car) { c.Coil.Iron.X /= 20 }},
		"hotter outside": {AtWinding, func(c *car.Car) { c.Conditions[2].BayTemp.X += 10 }},
	} {
		d := c.Clone()
		x.change(d)
		if got, was := mustDrive(t, d, DriveSettings{Draws: -1}).At(x.at).Peak.Mid, r.At(x.at).Peak.Mid; !(got > was+0.2) {
			t.Errorf("%s: %v %.2f °C, %.2f before", name, x.at, got, was)
		}
	}
}

// TestTypicalJunction: a Darlington mounted dry is at 95 to 130 °C for good at
// a hot idle [common practice, no source].
func TestTypicalJunction(t *testing.T) {
	for _, n := range []int{4, 6, 8} {
		c := Fit(car.Defaults(12, car.NegativeEarth, n), Darlington)
		if x := end(mustDrive(t, c, allDay("hot_idle")).At(AtJunction)); x < 95 || x > 130 {
			t.Errorf("%d cylinders: junction %.1f °C", n, x)
		}
	}
}

// TestSoak: the air under the bonnet and the housing are hottest after
// shutdown [common practice: hot soak]; the junction itself drops as its
// current goes, and is hottest with the engine running.
func TestSoak(t *testing.T) {
	r := mustDrive(t, triggered(), DriveSettings{Draws: -1})
	for _, p := range []Place{AtAir, AtHousing} {
		w := r.At(p)
		l := r.Legs[w.PeakLeg]
		if !l.Parked() || w.PeakMin <= l.FromMin || w.PeakMin > l.ToMin {
			t.Errorf("%v is hottest, %.1f °C, at %.1f min in %q", p, w.Peak.Mid, w.PeakMin, l.Name)
		}
	}
	// Just before shutdown and 8 s after it.
	at := func(p Place, minute float64) float64 {
		for i, m := range r.Minutes {
			if m >= minute-1e-9 {
				return r.At(p).C[i].Mid
			}
		}
		return math.NaN()
	}
	stop := r.Legs[2].ToMin
	if drop := at(AtJunction, stop) - at(AtJunction, stop+8.0/60); drop < 1 {
		t.Errorf("the junction drops by %.2f K as the key goes off", drop)
	}
	if r.Legs[r.At(AtJunction).PeakLeg].Parked() {
		t.Error("the junction is hottest with no current in it")
	}
}

// TestDriveLife: steady, the ratio is one Arrhenius factor, written out here
// [JESD91, from memory], and pi_T that of MIL-HDBK-217F section 6.3.
func TestDriveLife(t *testing.T) {
	c := triggered()
	r := mustDrive(t, c, allDay("hot_idle"))
	tj := end(r.At(AtJunction)) + 273.15
	want := math.Exp(0.7 / 8.617e-5 * (1/363.15 - 1/tj))
	near(t, "life ratio", r.Life.Ratio.Mid, want, 0.03*want) // the first hour is cooler
	near(t, "pi_T", r.Life.PiT.Mid, math.Exp(-2114*(1/tj-1.0/298)), 0.01)
}

// TestOverLimit: a module that may be no hotter than it gets is above for part
// of the drive, as the samples say.
func TestOverLimit(t *testing.T) {
	c := triggered()
	peak := mustDrive(t, c, DriveSettings{Draws: -1}).At(AtJunction).Peak.Mid
	c.Switch.MaxJunction.X = peak - 5
	r := mustDrive(t, c, DriveSettings{Draws: 20})
	j := r.At(AtJunction)
	near(t, "margin", j.MarginK.Mid, -5, 1e-6)
	near(t, "lowest margin", j.MarginK.Lo, j.LimitC-j.Peak.Hi, 1e-9)
	over := 0.0
	for i := 1; i < len(r.Minutes); i++ {
		if (j.C[i].Mid+j.C[i-1].Mid)/2 > j.LimitC {
			over += r.Minutes[i] - r.Minutes[i-1]
		}
	}
	near(t, "minutes above", j.OverMin.Mid, over, 1.2)
	if j.OverMin.Mid <= 0 {
		t.Error("never above")
	}
	if w := r.At(AtWinding); w.LimitC != 130 || w.OverMin.Mid != 0 {
		t.Errorf("winding %+v", w.OverMin)
	}
}

// TestDriveRepeats: the same seed gives the same, another another; the middle
// car does not hang on either, and lies in the band.
func TestDriveRepeats(t *testing.T) {
	c := triggered()
	a, b := mustDrive(t, c, DriveSettings{Draws: 20, Seed: 7}), mustDrive(t, c, DriveSettings{Draws: 20, Seed: 7})
	if !reflect.DeepEqual(a, b) {
		t.Error("two drives of one seed differ")
	}
	x, mid := mustDrive(t, c, DriveSettings{Draws: 20, Seed: 8}), mustDrive(t, c, DriveSettings{Draws: -1})
	for i := range a.Warm {
		w := &a.Warm[i]
		if w.Peak.Mid != mid.Warm[i].Peak.Mid || w.Peak.Mid != x.Warm[i].Peak.Mid {
			t.Errorf("%v: the middle car's peak hangs on the draws", w.Place)
		}
		if w.Peak.PM() == x.Warm[i].Peak.PM() || !(w.Peak.PM() > 0.5) {
			t.Errorf("%v: plus-or-minus %.3f and %.3f of two seeds", w.Place, w.Peak.PM(), x.Warm[i].Peak.PM())
		}
		for j, v := range w.C {
			if !(v.Lo <= v.Mid && v.Mid <= v.Hi) {
				t.Fatalf("%v at %.2f min: %+v", w.Place, a.Minutes[j], v)
			}
		}
	}
	if a.Draws+a.Lost != 20 {
		t.Errorf("%d draws and %d lost", a.Draws, a.Lost)
	}
}

// TestEveryCar drives every fitting of every kind of car, with numbers only:
// JSON has none that is not one.
func TestEveryCar(t *testing.T) {
	var cars []*car.Car
	for _, file := range []string{"../car/testdata/good/positive_six.yaml", "../examples/tillbrook-four.yaml"} {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		c, err := car.Parse(file, text)
		if err != nil {
			t.Fatal(err)
		}
		cars = append(cars, c)
	}
	for _, n := range []int{4, 8} {
		cars = append(cars, car.Defaults(12, car.PositiveEarth, n), car.Defaults(6, car.PositiveEarth, n))
	}
	for _, c := range cars {
		for f := Fitting(0); f < Fittings; f++ {
			d := Fit(c, f)
			r := mustDrive(t, d, DriveSettings{Draws: 2})
			k, err := KeyOn(d, KeyOnSettings{Draws: 2})
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range []any{r, k} {
				if _, err := json.Marshal(x); err != nil {
					t.Errorf("%s with %v: %v", c.Name, f, err)
				}
			}
			module := d.Switch.Kind.Electronic()
			if (r.At(AtJunction) != nil) != module || (r.Life != nil) != module || (k.At(AtJunction) != nil) != module || (k.Module != nil) != module {
				t.Errorf("%v: a junction is a module's", f)
			}
			if m, err := Mountings(d, DriveSettings{Draws: -1}); module && len(m) != 4 || !module && !errors.Is(err, ErrNoModule) {
				t.Errorf("%v: %d mountings, %v", f, len(m), err)
			}
		}
	}
}

// TestEitherEarth: heat knows no polarity.
func TestEitherEarth(t *testing.T) {
	a := mustDrive(t, Fit(car.Defaults(6, car.NegativeEarth, 6), MOSFET), DriveSettings{Draws: -1})
	b := mustDrive(t, Fit(car.Defaults(6, car.PositiveEarth, 6), MOSFET), DriveSettings{Draws: -1})
	for i := range a.Warm {
		near(t, a.Warm[i].Place.String(), a.Warm[i].Peak.Mid, b.Warm[i].Peak.Mid, 1e-3)
	}
}

func TestDriveParkedOnly(t *testing.T) {
	// A car that is never started stays as cold as it was.
	r := mustDrive(t, triggered(), DriveSettings{Draws: -1, Legs: []Leg{{Name: "garage", Seconds: 3600}}})
	for _, w := range r.Warm {
		near(t, w.Place.String(), w.Peak.Mid, 20, 1e-6) // key_on_closed's bay
	}
	// Two parked legs are one.
	legs := UsualLegs()
	one := mustDrive(t, triggered(), DriveSettings{Draws: -1, Legs: legs})
	two := append(append([]Leg{}, legs[:3]...), Leg{"a", "", 600}, Leg{"b", "", 1800}, legs[4])
	other := mustDrive(t, triggered(), DriveSettings{Draws: -1, Legs: two})
	for i := range one.Warm {
		near(t, one.Warm[i].Place.String(), end(&one.Warm[i]), end(&other.Warm[i]), 1e-6)
	}
}

func TestDriveRefuses(t *testing.T) {
	c := triggered()
	for _, x := range []struct {
		set  DriveSettings
		says string
	}{
		{DriveSettings{Legs: []Leg{{"moon", "on_the_moon", 60}}}, "accepted: cold_crank"},
		{DriveSettings{Legs: []Leg{{"still", "key_on_closed", 60}}}, "stands still"},
		{DriveSettings{Legs: []Leg{{"none", "cruise", 0}}}, "more than 0"},
		{DriveSettings{Legs: []Leg{{"never", "cruise", math.NaN()}}}, "more than 0"},
		{DriveSettings{Legs: []Leg{{"for ever", "cruise", math.Inf(1)}}}, "at most 86400 s"},
		{DriveSettings{Legs: make([]Leg, 51)}, "at most 50"},
		{DriveSettings{Draws: 1e6}, "at most 10000"},
	} {
		_, err := Drive(c, x.set)
		if err == nil || !strings.Contains(err.Error(), x.says) {
			t.Errorf("%+v: %v, wanted %q", x.set, err, x.says)
		}
		if len(x.set.Legs) > 0 && !errors.Is(err, ErrLeg) {
			t.Errorf("%v is not ErrLeg", err)
		}
		if _, err := Mountings(c, x.set); err == nil {
			t.Errorf("mountings take %+v", x.set)
		}
	}
}

// TestMountings: the worse the way to the plate the hotter the junction, by
// the watts that go through it.
func TestMountings(t *testing.T) {
	c := triggered()
	set := DriveSettings{Draws: 40, Legs: []Leg{{"all day", "hot_idle", dayS}}}
	list, err := Mountings(c, set)
	if err != nil {
		t.Fatal(err)
	}
	r := mustDrive(t, c, set)
	watts := r.Legs[0].SwitchW.Mid + r.Legs[0].ElectronicsW.Mid
	for i, m := range list {
		near(t, m.Mounting.String()+" over paste", m.OverK.Mid, watts*(m.KPerW.Mid-list[0].KPerW.Mid), 1e-3)
		if i > 0 && !(m.Peak.Mid > list[i-1].Peak.Mid && m.KPerW.Mid > list[i-1].KPerW.Mid) {
			t.Errorf("%v is not worse than %v", m.Mounting, list[i-1].Mounting)
		}
		if !(m.Peak.PM() > 0) || i > 0 && !(m.OverK.PM() < m.Peak.PM() && m.OverK.Lo > 0) {
			t.Errorf("%v: peak ± %.2f, over paste %.2f ± %.2f", m.Mounting, m.Peak.PM(), m.OverK.Mid, m.OverK.PM())
		}
		if m.Fitted != (m.Mounting == car.DryMounting) {
			t.Errorf("%v fitted: %v", m.Mounting, m.Fitted)
		}
		if m.Fitted && (m.Peak != r.At(AtJunction).Peak || m.MarginK != r.At(AtJunction).MarginK) {
			t.Errorf("the fitted mounting gets to %+v, the drive to %+v", m.Peak, r.At(AtJunction).Peak)
		}
	}
	// A figure of the car's own stands for the mounting it has.
	c.Switch.BasePlate.X = 9
	if list, err = Mountings(c, set); err != nil || list[1].KPerW.Mid != 9 {
		t.Errorf("%v %v", list[1].KPerW, err)
	}
}

func BenchmarkDrive(b *testing.B) {
	c := triggered()
	for b.Loop() {
		mustDrive(b, c, DriveSettings{Draws: -1})
	}
}
