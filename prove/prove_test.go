package prove

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/twin"
)

func demo(t testing.TB, edits ...string) *car.Car {
	t.Helper()
	text := string(examples.Demo)
	for i := 0; i+1 < len(edits); i += 2 {
		if !strings.Contains(text, edits[i]) {
			t.Fatalf("the demo car has no %q to change", edits[i])
		}
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	c, err := car.Parse("demo.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func compute(t testing.TB, c *car.Car, option string) *Sheet {
	t.Helper()
	s, err := Compute(c, Settings{Option: option, Draws: 300, Seed: 1, Each: atOnce})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func cellOf(t testing.TB, s *Sheet, row, column string) *Cell {
	t.Helper()
	for i := range s.Rows {
		for j := range s.Columns {
			if s.Rows[i].ID == row && s.Columns[j].ID == column {
				return &s.Rows[i].Cells[j]
			}
		}
	}
	t.Fatalf("no cell %s, %s", row, column)
	return nil
}

// The classic trap, from the demo car's own figures: fed behind the ballast
// the trigger falls short at a hot idle with every load on; fed before it, it
// is expected to hold. One figure of the file turns each.
func TestTheClassicTrap(t *testing.T) {
	if testing.Short() {
		t.Skip("one goroutine after another: nothing for the race detector")
	}
	state := func(option string, edits ...string) State {
		return cellOf(t, compute(t, demo(t, edits...), option), "trigger_feed", "hot_idle").State
	}
	for _, x := range []struct {
		what, option string
		edits        []string
		want         State
	}{
		{"behind the ballast", "feed_behind_ballast", nil, FallsShort},
		{"before the ballast", "feed_before_ballast", nil, NotProven},
		{"through a relay", "relay_feed", nil, NotProven},
		{"no ballast, full-voltage coil", "full_voltage_coil", nil, NotProven},
		{"behind a ballast of little resistance", "feed_behind_ballast", []string{"cold: 0.85 ± 0.08 ohm", "cold: 0.15 ± 0.02 ohm"}, NotProven},
		{"before the ballast, a main feed of 0.16 ohm", "feed_before_ballast", []string{"{gauge: 10 AWG, length: 1.6 m, connections: 3, age: used}", "{resistance: 0.16 ± 0.01 ohm}"}, FallsShort},
		{"the same with the headlamps off", "feed_before_ballast", []string{"{gauge: 10 AWG, length: 1.6 m, connections: 3, age: used}", "{resistance: 0.16 ± 0.01 ohm}", "headlamps:   9.5 A", "headlamps:   none"}, NotProven},
		{"before the ballast, a trigger that wants 11.5 V", "feed_before_ballast", []string{"minimum_feed: 7.5 ± 0.2 V", "minimum_feed: 11.5 ± 0.2 V"}, FallsShort},
		{"behind the ballast, an alternator and high regulator still fall short", "feed_behind_ballast", []string{"kind: generator", "kind: alternator", "  cut_in: 1050 ± 80 rpm\n", "", "rating: 30 ± 2 A", "rating: 55 ± 2 A"}, FallsShort},
	} {
		if got := state(x.option, x.edits...); got != x.want {
			t.Errorf("%s: %s, want %s", x.what, got, x.want)
		}
	}
	// The regulator turns the charging row at cruise.
	low := cellOf(t, compute(t, demo(t, "set_point: 14.45 ± 0.2 V", "set_point: 13.1 ± 0.2 V"), ""), "charging_voltage", "cruise")
	if low.State != FallsShort {
		t.Errorf("a regulator set to 13.1 V: %s", low.State)
	}
}

// 12 to 14 V is wanted at the feed while running (common practice, no
// source): the demo car fed before its ballast has it at cruise.
func TestWantedFeedWhileRunning(t *testing.T) {
	c := cellOf(t, compute(t, demo(t), "feed_before_ballast"), "trigger_feed", "cruise")
	if c.Wanted == nil || c.Wanted.Lo != 12 || c.Wanted.Hi != 14 {
		t.Fatalf("wanted band is %+v", c.Wanted)
	}
	if m := c.Predicted.Mid; m < 12 || m > 14 {
		t.Errorf("%.2f V at cruise", m)
	}
}

const groundReading = `
readings:
  - {at: [breaker_plate, battery_earth], instrument: ohmmeter, value: %s, leads: 0.20 ± 0.02 ohm, accuracy: 0.02 ohm, option: feed_before_ballast}
`

// At most 0.2 ohm between trigger plate and battery, after the leads, which
// alone can be 0.2 ohm, are subtracted (common practice, no source).
func TestGroundPathAfterSubtractingLeads(t *testing.T) {
	if testing.Short() {
		t.Skip("one goroutine after another: nothing for the race detector")
	}
	for _, x := range []struct {
		value string
		want  State
	}{
		{"0.24 ohm", Holds}, {"0.35 ohm", Holds}, {"0.40 ohm", Doubtful}, {"0.45 ohm", FallsShort}, {"1.2 ohm", FallsShort},
	} {
		c := parse(t, string(examples.Demo)+fmt.Sprintf(groundReading, x.value))
		cell := cellOf(t, compute(t, c, "feed_before_ballast"), "ground_path", AtRest)
		if cell.State != x.want || cell.Reading == nil {
			t.Errorf("%s with leads of 0.20 ohm: %s, want %s", x.value, cell.State, x.want)
		}
	}
}

func parse(t testing.TB, text string) *car.Car {
	t.Helper()
	c, err := car.Parse("demo.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Only a reading makes a critical cell hold, and only one with the right
// instrument, place, condition and wiring.
func TestReadingsDecide(t *testing.T) {
	if testing.Short() {
		t.Skip("one goroutine after another: nothing for the race detector")
	}
	base := string(examples.Demo) + "\nreadings:\n"
	for _, x := range []struct {
		what, reading string
		want          State
		loose         string
	}{
		{"minimum hold", "{at: [trigger_supply, breaker_plate], condition: hot_idle, instrument: voltmeter_minimum, value: 11.4 V, accuracy: 0.1 V, option: feed_before_ballast}", Holds, ""},
		{"probes the other way round", "{at: [breaker_plate, trigger_supply], condition: hot_idle, instrument: scope_minimum, value: -11.4 V, accuracy: 0.1 V, option: feed_before_ballast}", Holds, ""},
		{"too low", "{at: [trigger_supply, breaker_plate], condition: hot_idle, instrument: voltmeter_minimum, value: 7.9 V, accuracy: 0.1 V, option: feed_before_ballast}", FallsShort, ""},
		{"near the limit", "{at: [trigger_supply, breaker_plate], condition: hot_idle, instrument: voltmeter_minimum, value: 8.55 V, accuracy: 0.1 V, option: feed_before_ballast}", Doubtful, ""},
		{"averaging meter", "{at: [trigger_supply, breaker_plate], condition: hot_idle, instrument: voltmeter, value: 11.6 V, accuracy: 0.1 V, option: feed_before_ballast}", NotProven, "averaging meter"},
		{"other condition", "{at: [trigger_supply, breaker_plate], condition: cruise, instrument: voltmeter_minimum, value: 12.9 V, accuracy: 0.1 V, option: feed_before_ballast}", NotProven, ""},
		{"other wiring", "{at: [trigger_supply, breaker_plate], condition: hot_idle, instrument: voltmeter_minimum, value: 11.4 V, accuracy: 0.1 V, option: relay_feed}", NotProven, "wired another way"},
	} {
		s := compute(t, parse(t, base+"  - "+x.reading+"\n"), "feed_before_ballast")
		if got := cellOf(t, s, "trigger_feed", "hot_idle").State; got != x.want {
			t.Errorf("%s: %s, want %s", x.what, got, x.want)
		}
		switch {
		case x.loose == "" && len(s.Loose) > 0:
			t.Errorf("%s: left over because %s", x.what, s.Loose[0].Why)
		case x.loose != "" && (len(s.Loose) != 1 || !strings.Contains(s.Loose[0].Why, x.loose)):
			t.Errorf("%s: left over: %+v", x.what, s.Loose)
		}
	}
}

// Of two readings of one cell the worse decides, in either order.
func TestTheWorstReadingDecides(t *testing.T) {
	r := func(v string) string {
		return "  - {at: [trigger_supply, breaker_plate], condition: hot_idle, instrument: voltmeter_minimum, value: " + v + ", accuracy: 0.05 V, option: feed_before_ballast}\n"
	}
	for _, order := range []string{r("11.4 V") + r("7.0 V"), r("7.0 V") + r("11.4 V")} {
		s := compute(t, parse(t, string(examples.Demo)+"\nreadings:\n"+order), "feed_before_ballast")
		if got := cellOf(t, s, "trigger_feed", "hot_idle").State; got != FallsShort {
			t.Errorf("%s", got)
		}
	}
}

// A car all of whose critical cells are read and hold is proven, and only
// then; taking any one reading away unproves it.
func TestProvenOnlyByReadings(t *testing.T) {
	if testing.Short() {
		t.Skip("one goroutine after another: nothing for the race detector")
	}
	c := demo(t)
	s := compute(t, c, "feed_before_ballast")
	var readings []string
	for _, r := range s.Rows {
		if !r.Critical {
			continue
		}
		for j, cell := range r.Cells {
			if !cell.Shown || !cell.Limit.Exists() {
				continue
			}
			lo, hi := cell.Limit.Lo, cell.Limit.Hi
			v := lo + 1
			switch {
			case math.IsInf(lo, -1):
				v = hi / 2
			case !math.IsInf(hi, 1):
				v = (lo + hi) / 2
			}
			at, cond, in, unit := "", s.Columns[j].ID, "", Unit(r.Kind)
			switch r.ID {
			case "trigger_feed":
				at, in = "[trigger_supply, breaker_plate]", "scope_minimum"
			case "ground_path":
				at, in, cond = "[breaker_plate, battery_earth]", "ohmmeter", ""
			case "coil_current":
				at, in = "coil", "clamp_peak"
			case "charging_voltage":
				at, in = "[battery_live, battery_earth]", "voltmeter"
			case "available":
				at, in = "coil_tower", "spark_tester"
				v = lo + 2*cell.Limit.PM
			case "timing":
				at, in = "damper", "timing_light"
			case "rotor_phase":
				at, in = "rotor_tip", "windowed_cap"
			case "rotor_phase_vacuum":
				at, in = "rotor_tip_full_vacuum", "windowed_cap"
			case "air_gap":
				at, in, cond, v, unit = "air_gap", "feeler_gauge", "", 1e3*v, "mm"
			default:
				t.Fatalf("a critical row the test does not know: %s", r.ID)
			}
			line := fmt.Sprintf("  - {at: %s, instrument: %s, value: %.4f %s, accuracy: 0.01 %s, option: feed_before_ballast", at, in, v, unit, unit)
			if cond != "" {
				line += ", condition: " + cond
			} else if in == "ohmmeter" {
				line += ", leads: 0 ohm"
			}
			readings = append(readings, line+"}\n")
		}
	}
	prove := func(list []string) *Sheet {
		return compute(t, parse(t, string(examples.Demo)+"\nreadings:\n"+strings.Join(list, "")), "feed_before_ballast")
	}
	if s := prove(readings); !s.Proven() {
		t.Fatalf("not proven with all %d readings: %s", len(readings), s.Verdict())
	}
	for i := range readings {
		less := append(append([]string{}, readings[:i]...), readings[i+1:]...)
		if prove(less).Proven() {
			t.Errorf("still proven without %s", readings[i])
		}
	}
}

// A critical cell never holds by prediction, whatever the car.
func TestNoHoldFromAGuess(t *testing.T) {
	if testing.Short() {
		t.Skip("one goroutine after another: nothing for the race detector")
	}
	for _, volts := range []int{6, 12} {
		for _, cyl := range []int{4, 6, 8} {
			c := car.Defaults(volts, car.PositiveEarth, cyl)
			for _, o := range twin.Options() {
				if o.Unfit(c) != "" {
					continue
				}
				s, err := Compute(c, Settings{Option: o.ID, Draws: 40, Seed: 2})
				if err != nil {
					t.Fatal(err)
				}
				for _, r := range s.Rows {
					for j, cell := range r.Cells {
						if r.Critical && cell.State == Holds {
							t.Errorf("%d V, %s: %s, %s holds without a reading", volts, o.ID, r.Name, s.Columns[j].Name)
						}
					}
				}
			}
		}
	}
}

// The example cars are in order, and the finished job among them is proven.
func TestExampleCars(t *testing.T) {
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < 3 {
		t.Fatalf("%d example cars, %v", len(files), err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		c, err := car.Parse(f, data)
		if err != nil {
			t.Error(err)
			continue
		}
		s := compute(t, c, "")
		if want := strings.Contains(f, "skellgate"); s.Proven() != want {
			t.Errorf("%s: proven is %v: %s", f, s.Proven(), s.Verdict())
		}
		if len(s.Loose) > 0 {
			t.Errorf("%s: a reading left over: %s", f, s.Loose[0].Why)
		}
	}
}

func TestJudge(t *testing.T) {
	for _, x := range []struct {
		l           Limit
		mid, lo, hi float64
		want        int
	}{
		{Atleast(9, 0, ""), 10, 9.5, 10.5, 1},
		{Atleast(9, 0, ""), 10, 8.9, 11.1, 0},
		{Atleast(9, 0, ""), 8, 7.5, 8.5, -1},
		{Atleast(9, 0, ""), 8, 6.5, 9.5, 0},
		{Atleast(9, 1, ""), 10.1, 9.6, 10.6, 0},
		{Atleast(9, 1, ""), 10.2, 9.6, 10.8, 1},
		{Atmost(5, 0, ""), 5.1, 5, 5.2, 0},
		{Atmost(5, 0, ""), 5.2, 5.1, 5.3, -1},
		{Limit{Lo: 13, Hi: 14}, 13.5, 13.1, 13.9, 1},
		{Limit{Lo: 13, Hi: 14}, 13.5, 12.9, 13.9, 0},
		{Limit{Lo: 13, Hi: 14}, 15, 14.5, 15.5, -1},
		{NoLimit(), 1, 0, 2, 1},
	} {
		if got := x.l.judge(x.mid, x.lo, x.hi); got != x.want {
			t.Errorf("%+v with %g (%g to %g): %d, want %d", x.l, x.mid, x.lo, x.hi, got, x.want)
		}
	}
}

// The regulator table of US Army TM 10-3930-621-12: 14.1 to 14.9 V at 18 °C
// (65 °F), 13.7 to 14.5 at 41 °C (105 °F), 13.4 to 14.2 at 63 °C (145 °F).
func TestRegulatorTable(t *testing.T) {
	for _, x := range [][3]float64{{18, 14.1, 14.9}, {41, 13.7, 14.5}, {63, 13.4, 14.2}, {-10, 14.1, 14.9}, {90, 13.4, 14.2}} {
		lo, hi := regulated(x[0])
		if math.Abs(lo-x[1]) > 1e-9 || math.Abs(hi-x[2]) > 1e-9 {
			t.Errorf("%g °C: %g to %g, want %g to %g", x[0], lo, hi, x[1], x[2])
		}
	}
}

// atOnce runs every task on a goroutine of its own.
func atOnce(n int, do func(i int)) {
	var wg sync.WaitGroup
	for i := range n {
		wg.Go(func() { do(i) })
	}
	wg.Wait()
}

// The sheet does not depend on how the work is shared out.
func TestHowWorkIsSharedDoesNotMatter(t *testing.T) {
	c := demo(t)
	one, err := Compute(c, Settings{Option: "relay_feed", Draws: 100, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	many, err := Compute(c, Settings{Option: "relay_feed", Draws: 100, Seed: 5, Each: atOnce})
	if err != nil {
		t.Fatal(err)
	}
	a, b := one.Document(), many.Document()
	if !reflect.DeepEqual(a, b) {
		t.Error("one by one and all at once give different sheets")
	}
}

// One full sheet of 1,000 draws on one core: wanted under a second.
func BenchmarkSheet1000Draws(b *testing.B) {
	c := demo(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Compute(c, Settings{Option: "feed_before_ballast", Draws: 1000, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
