package car

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"dwellwright/units"
)

// hold is what the trade says of a figure: the middle of the typical one must
// lie inside, and its 95 % may reach no further than a tenth of the range
// beyond.
type hold struct {
	what      string
	v         units.Value
	low, high float64
	source    string
}

func (h hold) check(t *testing.T) {
	t.Helper()
	slack := 0.1 * (h.high - h.low)
	if h.v.X < h.low || h.v.X > h.high || h.v.Lo() < h.low-slack || h.v.Hi() > h.high+slack {
		t.Errorf("%s: typical %.4g (%.4g to %.4g), wanted inside %.4g to %.4g (%s)", h.what, h.v.X, h.v.Lo(), h.v.Hi(), h.low, h.high, h.source)
	}
}

const fromMemory = "from memory"

func TestTypicalCoilSecondary(t *testing.T) {
	for _, class := range CoilClasses {
		c := CoilDefaults(class.ID, 12)
		for _, h := range []hold{
			{"secondary", c.Secondary.Value, 6e3, 13e3, fromMemory},
			{"coupling", c.Coupling.Value, 0.95, 0.995, fromMemory},
			{"iron", c.Iron.Value, 500, 3000, "a few hundred ohm to kilohms, " + fromMemory},
			{"stray", c.Stray.Value, 40e-12, 120e-12, fromMemory},
			{"beyond_knee", c.BeyondKnee.Value, 0.25, 0.6, fromMemory},
		} {
			h.what = class.ID + " " + h.what
			h.check(t)
		}
		if c.Reversed || c.ReversedOrigin != Assumed {
			t.Errorf("%s is reversed", class.ID)
		}
		if c.Secondary.X >= c.Series.X {
			t.Errorf("%s: a winding of %v ohm in a path of %v", class.ID, c.Secondary.X, c.Series.X)
		}
		// 40 to 120 H referred to the secondary: from memory.
		if l2 := c.Inductance.X * c.Turns.X * c.Turns.X; class.ID != "low_resistance" && (l2 < 40 || l2 > 120) {
			t.Errorf("%s: %.0f H of secondary", class.ID, l2)
		}
	}
}

// TestKneeOverUsualCurrent: the iron bends at about 1.5 times what flows in
// the class's usual circuit, and no sooner than at 1.3 times. Usual currents
// by Ohm's law at a charged battery, coil and ballast warm (copper 0.00393 /K
// by IEC 60028, at 60 °C), 0.15 ohm of wiring and contacts; a module's limit
// for the high-energy coil, 6 to 7 A, from memory.
func TestKneeOverUsualCurrent(t *testing.T) {
	warm := 1 + 0.00393*40
	for class, usual := range map[string]float64{
		"ballasted":      13.8 / (CoilDefaults("ballasted", 12).Primary.X*warm + 1.4 + 0.15),
		"full_voltage":   13.8 / (CoilDefaults("full_voltage", 12).Primary.X*warm + 0.15),
		"low_resistance": 6.5,
		"six_volt":       7.0 / (CoilDefaults("six_volt", 6).Primary.X*warm + 0.1),
	} {
		k := CoilDefaults(class, 12).Knee
		if r := k.X / usual; r < 1.4 || r > 1.7 {
			t.Errorf("%s: knee at %.2f times the usual %.2f A", class, r, usual)
		}
		if k.Lo() < 1.29*usual {
			t.Errorf("%s: knee from %.2f A, usual %.2f A", class, k.Lo(), usual)
		}
	}
}

func TestTypicalBreaker(t *testing.T) {
	for _, n := range []int{4, 6, 8} {
		for _, kind := range []SwitchKind{SinglePoints, DualPoints} {
			s := SwitchDefaults(kind, 12, n)
			gap := hold{"gap", s.Gap.Value, 0.4e-3, 0.6e-3, fromMemory}
			if n == 8 {
				gap.low, gap.high = 0.38e-3, 0.48e-3 // 15 to 19 mil, from memory
			}
			for _, h := range []hold{
				{"condenser", s.Condenser.Value, 0.18e-6, 0.28e-6, fromMemory},
				{"condenser_series", s.CondenserSeries.Value, 0.05, 0.2, fromMemory},
				gap,
				// 17 to 21 ounces as set (from memory), half an ounce more either
				// way in use; to newtons by NIST SP 811.
				{"spring", s.Spring.Value, 16.5 * 0.2780139, 21.5 * 0.2780139, fromMemory},
			} {
				h.what = fmt.Sprintf("%v %d %s", kind, n, h.what)
				h.check(t)
			}
			for _, p := range []Param{s.Clamp, s.JunctionBase, s.BasePlate, s.PlateBody, s.BodyAir, s.MaxJunction} {
				if p.Value != (units.Value{}) {
					t.Errorf("%v has %+v", kind, p)
				}
			}
		}
	}
}

func TestTypicalModule(t *testing.T) {
	for _, kind := range []SwitchKind{Darlington, MOSFET, IGBT} {
		s := SwitchDefaults(kind, 12, 8)
		for _, h := range []hold{
			{"clamp", s.Clamp.Value, 350, 400, fromMemory},
			{"junction_to_base", s.JunctionBase.Value, 1, 3, fromMemory},
			{"base_to_plate, dry", s.BasePlate.Value, 1.5, 4, fromMemory},
			{"plate_to_housing", s.PlateBody.Value, 1, 4, fromMemory},
			{"housing_to_air", s.BodyAir.Value, 3, 8, fromMemory},
		} {
			h.what = fmt.Sprintf("%v %s", kind, h.what)
			h.check(t)
		}
		if s.Mounting != DryMounting || s.MaxJunction.Value != (units.Value{X: 150}) {
			t.Errorf("%v: mounted %v, at most %+v", kind, s.Mounting, s.MaxJunction.Value)
		}
		if s.Condenser.Value != (units.Value{}) || s.Gap.Value != (units.Value{}) || s.Spring.Value != (units.Value{}) {
			t.Errorf("%v has a condenser, gap or spring: %+v %+v %+v", kind, s.Condenser, s.Gap, s.Spring)
		}
	}
	for m, h := range map[Mounting]hold{
		PasteMounting: {low: 0.2, high: 0.5}, DryMounting: {low: 1.5, high: 4},
		PaintedMounting: {low: 3, high: 7}, WarpedMounting: {low: 4, high: 10},
	} {
		h.what, h.v, h.source = m.String(), mountings[m], fromMemory
		h.check(t)
	}
}

func TestTypicalPlugsCapEngine(t *testing.T) {
	c, six := Defaults(12, NegativeEarth, 8), Defaults(6, PositiveEarth, 6)
	for _, h := range []hold{
		{"plug gap, 12 V", c.Plugs.Gap.Value, 0.75e-3, 0.95e-3, fromMemory},
		{"plug gap, 6 V", six.Plugs.Gap.Value, 0.55e-3, 0.75e-3, fromMemory},
		{"wear, new", electrodeWear[NewElectrodes], 0.95, 1.05, "new ones are what the others are measured by"},
		{"wear, used", electrodeWear[UsedElectrodes], 1, 1.2, "common practice, no source"},
		{"wear, worn", electrodeWear[WornElectrodes], 1.2, 1.5, "common practice, no source"},
		{"rotor gap", c.Cap.RotorGap.Value, 0.5e-3, 1.1e-3, fromMemory},
		{"shunt", c.Cap.Shunt.Value, 20e6, 500e6, "tens to hundreds of megohm clean, " + fromMemory},
		{"compression", c.Engine.Compression.Value, 7, 9.5, fromMemory},
		{"rod ratio", c.Engine.RodRatio.Value, 3.2, 3.8, fromMemory},
	} {
		h.check(t)
	}
	// A coil gives up below 0.2 to 0.5 megohm (from memory): no draw of a
	// car of which nothing is known may come near that.
	if lo := c.Cap.Shunt.Sample(0); lo < 5e6 {
		t.Errorf("a shunt of %v ohm", lo)
	}
	if c.Plugs.Electrodes != UsedElectrodes || c.Plugs.Wear.Value != electrodeWear[UsedElectrodes] {
		t.Errorf("plugs %+v", c.Plugs)
	}
}

func condition(t *testing.T, c *Car, id string) *Condition {
	t.Helper()
	i := slices.IndexFunc(c.Conditions, func(k Condition) bool { return k.ID == id })
	if i < 0 {
		t.Fatalf("no condition %s", id)
	}
	return &c.Conditions[i]
}

// TestTypicalBreath: vacuum gauges of the trade read 17 to 21 inHg at a warm
// idle near the sea and little at full throttle (common practice, no source);
// the standard atmosphere of ISO 2533 is 29.92 inHg.
func TestTypicalBreath(t *testing.T) {
	const inHg = 3386.389
	c := Defaults(12, NegativeEarth, 8)
	for id, vacuum := range map[string][2]float64{
		"cold_crank": {0.3, 3}, "hot_restart": {0.3, 3}, "hot_idle": {17, 21}, "cruise": {11, 17}, "top_speed": {1, 4},
		"key_on_closed": {-0.1, 0.1}, "key_on_open": {-0.1, 0.1},
	} {
		k := condition(t, c, id)
		if v := 29.92 - k.Manifold.X/inHg; v < vacuum[0] || v > vacuum[1] {
			t.Errorf("%s: %.1f inHg of vacuum, wanted %v", id, v, vacuum)
		}
		if k.Manifold.Hi() > 106e3 {
			t.Errorf("%s: a manifold of %v Pa", id, k.Manifold.Hi())
		}
		if running := k.Engine < StoppedClosed; running != (k.Advance.X > 0) || !running && k.Charge.Value != k.BayTemp.Value {
			t.Errorf("%s: fires at %v, mixture %v", id, k.Advance.X, k.Charge.X)
		}
	}
	if cruise, idle := condition(t, c, "cruise").Advance.X, condition(t, c, "hot_idle").Advance.X; cruise < idle+20 {
		t.Errorf("advance %v at idle, %v at cruise", idle, cruise)
	}
}

// TestBreathFollows: what is not said of a condition follows what is.
func TestBreathFollows(t *testing.T) {
	c := mustParse(t, `conditions:
  key_on_open: {bay_temp: 40 ± 3 °C}
  cold_crank: {battery_temp: -15 °C}
  top_speed: {engine: cranking}
  slow: {engine: running, speed: 300 rpm}
  hill: {engine: running, speed: 1400 rpm}
  flat_out: {engine: running, speed: 6000 rpm, manifold: 0.98 bar}
  kerb: {engine: stopped_open, bay_temp: 15 °C}
  winter: {engine: cranking, battery_temp: -20 °C}
  summer: {engine: cranking, advance: -4 deg}
`)
	for id, want := range map[string]struct{ manifold, charge, advance float64 }{
		"key_on_open": {101325, 40, 0},
		"cold_crank":  {97e3, 0, 8},
		"top_speed":   {97e3, 60, 8},
		"slow":        {38e3, 60, 10},
		"flat_out":    {98e3, 50, 32},
		"kerb":        {101325, 15, 0},
		"winter":      {97e3, -5, 8},
		"summer":      {97e3, 60, -4},
		// Between idle at 550 and cruise at 2200 rpm, by hand: 0.515 of the way.
		"hill": {38e3 + 0.51515*17e3, 60 - 0.51515*10, 10 + 0.51515*26},
	} {
		k := condition(t, c, id)
		for _, p := range []struct {
			what      string
			got, want float64
		}{{"manifold", k.Manifold.X, want.manifold}, {"charge", k.Charge.X, want.charge}, {"advance", k.Advance.X, want.advance}} {
			if math.Abs(p.got-p.want) > 1e-3*math.Abs(p.want) {
				t.Errorf("%s: %s %v, wanted %v", id, p.what, p.got, p.want)
			}
		}
	}
	for _, id := range []string{"slow", "hill"} {
		if k, idle := condition(t, c, id), condition(t, c, "hot_idle"); k.Manifold.PM < 1.5*idle.Manifold.PM || k.Manifold.Sample(1) > 110e3 {
			t.Errorf("%s: manifold %+v, although nobody said what the right foot does", id, k.Manifold.Value)
		}
	}
	for _, k := range c.Conditions {
		if k.Manifold.Kind != units.Pressure || k.Charge.Kind != units.Temperature || k.Advance.Kind != units.CrankAngle {
			t.Errorf("%s: %v %v %v", k.ID, k.Manifold.Kind, k.Charge.Kind, k.Advance.Kind)
		}
	}
}

// TestSparkFigures: words and figures of the spark, and what follows from
// them.
func TestSparkFigures(t *testing.T) {
	c := mustParse(t, "coil: {polarity: reversed}\nplugs: {electrodes: worn}\nengine: {compression: \"9:1\"}\n"+
		"switch: {kind: igbt, condenser: 0.2 uF, mounting: painted}\nplanned: {switch: {kind: mosfet, mounting: paste}}\n")
	if !c.Coil.Reversed || c.Coil.ReversedOrigin != Stated {
		t.Errorf("polarity %v %v", c.Coil.Reversed, c.Coil.ReversedOrigin)
	}
	if c.Plugs.Electrodes != WornElectrodes || c.Plugs.ElectrodesOrigin != Stated || c.Plugs.Wear.Value != electrodeWear[WornElectrodes] || c.Plugs.Wear.Origin != Assumed {
		t.Errorf("plugs %+v", c.Plugs)
	}
	if c.Engine.Compression.X != 9 || c.Engine.Compression.Origin != Stated {
		t.Errorf("compression %+v", c.Engine.Compression)
	}
	if math.Abs(c.Switch.Condenser.X-0.2e-6) > 1e-15 || c.Switch.Mounting != PaintedMounting || c.Switch.MountingOrigin != Stated || c.Switch.BasePlate.Value != mountings[PaintedMounting] {
		t.Errorf("switch %+v", c.Switch)
	}
	if p := c.Planned.Switch; p.Mounting != PasteMounting || p.BasePlate.Value != mountings[PasteMounting] || p.Clamp.X == 0 {
		t.Errorf("planned %+v", p)
	}
	if c := mustParse(t, "coil: {polarity: normal}\nswitch: {kind: igbt}\nplanned: {switch: {kind: igbt}}\n"); c.Coil.Reversed || c.Coil.ReversedOrigin != Stated ||
		c.Switch.MountingOrigin != Assumed || c.Planned.Switch.BasePlate.Value != mountings[DryMounting] {
		t.Errorf("%+v %+v", c.Coil, c.Switch)
	}
	if c := mustParse(t, "switch: {condenser: 0 uF}\n"); c.Switch.Condenser.X != 0 || c.Switch.Condenser.Origin != Stated || c.Switch.Condenser.PM != 0 {
		t.Errorf("no condenser: %+v", c.Switch.Condenser)
	}
	// A degree and a half is what a light on a pulley shows apart (common
	// practice, no source), at any advance.
	c = mustParse(t, "conditions: {hot_idle: {advance: 0 deg}, cruise: {advance: 36 deg BTDC}}\n")
	for id, x := range map[string]float64{"hot_idle": 0, "cruise": 36} {
		if a := condition(t, c, id).Advance; a.Value != (units.Value{X: x, PM: 1.5, Shape: units.Normal}) {
			t.Errorf("%s: advance %+v", id, a)
		}
	}
	// A winding and the path it is a part of.
	if c := mustParse(t, "coil: {secondary: 12 kohm}\n"); c.Coil.Series.X != 22.5e3 || c.Coil.Series.Origin != Assumed {
		t.Errorf("path %+v", c.Coil.Series)
	}
	if c := mustParse(t, "coil: {series: 8 kohm}\n"); c.Coil.Secondary.Hi() > 7.3e3 || c.Coil.Secondary.Lo() < 2e3 {
		t.Errorf("winding %+v", c.Coil.Secondary)
	}
	if c := mustParse(t, "coil: {series: 25 kohm}\n"); c.Coil.Secondary.Value != typicalCoil("ballasted").Secondary.Value {
		t.Errorf("winding %+v", c.Coil.Secondary)
	}
}

// TestSparkFiguresComeLater: figures that Params listed before those of the
// spark keep their place, so that a car drawn from the same numbers keeps
// what it had; and those of the distributor come behind both.
func TestSparkFiguresComeLater(t *testing.T) {
	c, err := Parse("full.yaml", read(t, "testdata/good/full.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	list := Params(c)
	end := slices.IndexFunc(list, func(r ParamRef) bool { return strings.HasPrefix(r.Path, "distributor.") })
	for _, r := range list[end:] {
		switch section, _, _ := strings.Cut(r.Path, "."); section {
		case "distributor", "timing", "trigger", "advance", "bench":
		default:
			t.Errorf("%s comes after the distributor", r.Path)
		}
	}
	list = list[:end]
	spark := func(path string) bool { return lateFigures[anyID(path)] }
	first := slices.IndexFunc(list, func(r ParamRef) bool { return spark(r.Path) })
	for i, r := range list {
		if spark(r.Path) != (i >= first) {
			t.Errorf("%s is number %d, those of the spark begin at %d", r.Path, i, first)
		}
	}
	if last := list[first-1].Path; last != "conditions.winter_start.regulator_temp" || list[first].Path != "coil.secondary" {
		t.Errorf("%s, then %s", last, list[first].Path)
	}
	if n := len(list) - first; n != 6+11+11+2+2+2+3*len(c.Conditions) {
		t.Errorf("%d figures of the spark", n)
	}
}

var lateFigures = func() map[string]bool {
	m := map[string]bool{}
	for _, p := range strings.Fields("coil.secondary coil.coupling coil.iron coil.stray coil.knee coil.beyond_knee " +
		"plugs.gap plugs.wear cap.rotor_gap cap.shunt engine.compression engine.rod_ratio " +
		"conditions.*.manifold conditions.*.charge_temp conditions.*.advance") {
		m[p] = true
	}
	for _, p := range strings.Fields("condenser condenser_series clamp longest_dwell gap spring junction_to_base base_to_plate plate_to_housing housing_to_air max_junction") {
		m["switch."+p], m["planned.switch."+p] = true, true
	}
	return m
}()
