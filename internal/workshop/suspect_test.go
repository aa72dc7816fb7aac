package workshop

import (
	"slices"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/suspect"
)

func demoCar(t *testing.T) *car.Car {
	t.Helper()
	c, err := read(examples.DemoName, examples.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Every reading that there is stands in the catalogue for no car, and every
// fault a car is listed with is one that it can have.
func TestCataloguesAreWhole(t *testing.T) {
	all, err := Readings(nil, 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, r := range all {
		ids = append(ids, r.ID)
	}
	if missing := without(measure.IDs(), ids); len(missing) > 0 {
		t.Errorf("not listed: %v", missing)
	}
	c := demoCar(t)
	if n, m := len(Faults(nil)), len(fault.Catalogue()); n != m {
		t.Errorf("%d faults of %d", n, m)
	}
	for _, f := range Faults(c) {
		if !f.Fits(c) {
			t.Errorf("%s: the car cannot have it", f.ID)
		}
	}
}

func without(all, these []string) []string {
	return slices.DeleteFunc(slices.Clone(all), func(x string) bool { return slices.Contains(these, x) })
}

// What is typed is understood, or refused with what would be accepted.
func TestEntries(t *testing.T) {
	c := demoCar(t)
	for _, x := range []struct {
		e    Entry
		want string // part of the error; "" where it is taken
	}{
		{Entry{Do: Report, ID: "no_start"}, ""},
		{Entry{Do: Figure, ID: "no_start", Text: "Yes"}, ""},
		{Entry{Do: Figure, ID: "battery_rest", Text: "12.4"}, ""},
		{Entry{Do: Figure, ID: "battery_rest", Text: "12,4 V ± 0.1"}, ""},
		{Entry{Do: Figure, ID: "plate_ohms", Text: "> 20 Mohm"}, ""},
		{Entry{Do: Cannot, ID: "plate_ohms"}, ""},
		{Entry{Do: Done, ID: "renew_points,set_timing", Text: "still"}, ""},
		{Entry{Do: Figure, ID: "battery_rest", Text: "12.4 A"}, "a voltage is wanted"},
		{Entry{Do: Figure, ID: "battery_rest", Text: "-500 V"}, "impossible"},
		{Entry{Do: Figure, ID: "plate_ohms", Text: "-1 ohm"}, "accepted"},
		{Entry{Do: Figure, ID: "points_gap", Text: "0.4"}, "could be mm"},
		{Entry{Do: Figure, ID: "cap_leak_ohms", Text: "> 500"}, "> 500 kohm"},
		{Entry{Do: Figure, ID: "coil_ohms", Text: "OL"}, ""},
		{Entry{Do: Figure, ID: "king_lead_ohms", Text: "∞"}, ""},
		{Entry{Do: Figure, ID: "ballast_ohms", Text: "≥ 20 Mohm"}, ""},
		{Entry{Do: Figure, ID: "battery_rest", Text: "OL"}, "a number should stand here"},
		{Entry{Do: Figure, ID: "secondary_ohms", Text: "9 ± 1"}, "9 ± 1 kohm"},
		{Entry{Do: Figure, ID: "secondary_ohms", Text: "9.1 kΩ"}, ""},
		{Entry{Do: Figure, ID: "plug_lead_ohms", Text: "12 kohm ± 5%"}, ""},
		{Entry{Do: Figure, ID: "timing_idle", Text: "800 deg"}, "more than a turn"},
		{Entry{Do: Figure, ID: "no_start", Text: "3"}, "--report no_start or --not no_start"},
		{Entry{Do: Not, ID: "battery_rest"}, "--read battery_rest=FIGURE"},
		{Entry{Do: Report, ID: "nostart"}, "did you mean no_start"},
		{Entry{Do: Report, ID: ""}, "an id of dwellwright readings"},
		{Entry{Do: Report, ID: "set_timing"}, "is a remedy: --done set_timing"},
		{Entry{Do: Done, ID: "set_timng"}, "did you mean set_timing"},
		{Entry{Do: Done, ID: "set_timing", Text: "perhaps"}, "=gone, =still"},
		{Entry{Do: Figure, ID: "trigger_feed_idle", Text: "12 V"}, "points, not a trigger"},
		{Entry{Do: Figure, ID: strings.Repeat("long", 500), Text: strings.Repeat("9", 500)}, "no such reading"},
	} {
		err := ReadEntry(c, x.e)
		switch {
		case x.want == "" && err != nil:
			t.Errorf("%s: %v", x.e, err)
		case x.want != "" && (err == nil || !strings.Contains(err.Error(), x.want)):
			t.Errorf("%s: %v, wanted %q in it", clipped(x.e.String()), err, x.want)
		}
		if err != nil && len(err.Error()) > 600 {
			t.Errorf("%s: an error of %d bytes", clipped(x.e.String()), len(err.Error()))
		}
	}
}

// Entries are taken, left out and taken back; a car that does not start is not
// asked for what needs it running.
func TestDiagnosisGoesForthAndBack(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a minute under the race detector, and has one goroutine")
	}
	c := demoCar(t)
	d, err := Suspect(c, suspect.Settings{Draws: 4, Seed: 1, Each: Parallel(2)}, []Entry{{Do: Report, ID: "no_start"}, {Do: LeaveOut, ID: "battery_rest"}})
	if err != nil {
		t.Fatal(err)
	}
	skip := d.Situation().Skip
	if !slices.Contains(skip, "battery_rest") || !slices.Contains(skip, "dwell_idle") || slices.Contains(skip, "plate_housing_drop") {
		t.Errorf("left out: %v", skip)
	}
	before := d.Posterior().Hypotheses[0]
	if err := d.Enter(Entry{Do: Figure, ID: "plate_housing_drop", Text: "1.1 V"}); err != nil {
		t.Fatal(err)
	}
	if got := d.Posterior().Members[0].ID; got != "plate_ground_high" {
		t.Errorf("first suspect %s", got)
	}
	if s := d.Situation().Setup; s != "meter" {
		t.Errorf("set up as %q", s)
	}
	if err := d.Enter(Entry{Do: Figure, ID: "plate_housing_drop", Text: "lots"}); err == nil || len(d.Entries) != 3 {
		t.Errorf("no figure is taken for one: %v, %d entries", err, len(d.Entries))
	}
	if e, ok := d.Back(); !ok || e.ID != "plate_housing_drop" {
		t.Errorf("taken back: %v", e)
	}
	if after := d.Posterior().Hypotheses[0]; after.ID != before.ID {
		t.Errorf("after taking back %s, before %s", after.ID, before.ID)
	}
	d.Back()
	d.Back()
	if _, ok := d.Back(); ok {
		t.Error("more is taken back than was entered")
	}
}

// Nothing that is typed makes it panic, and what is refused is not taken.
func FuzzEntry(f *testing.F) {
	f.Add(uint8(0), "battery_rest", "12.4 V")
	f.Add(uint8(0), "plate_ohms", ">")
	f.Add(uint8(5), "set_timing,", "gone")
	f.Add(uint8(1), "no_start", "é\x00")
	c, err := read(examples.DemoName, examples.Demo)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, do uint8, id, text string) {
		e := Entry{Do: Doing(do % uint8(Done+1)), ID: id, Text: text}
		x, err := e.read(c)
		if err != nil && x.answer != nil {
			t.Errorf("%s: %v, and taken", e, err)
		}
		if x.answer != nil {
			if v := x.answer.Value; v != v || x.answer.HalfWidth < 0 {
				t.Errorf("%s: %v", e, *x.answer)
			}
		}
	})
}
