package plan

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/examples"
	"dwellwright/prove"
	"dwellwright/twin"
	"dwellwright/wire"
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

func compare(t testing.TB, c *car.Car) *Comparison {
	t.Helper()
	cmp, err := Compare(c, prove.Settings{Draws: 200, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	return cmp
}

func choice(t testing.TB, c *Comparison, id string) *Choice {
	t.Helper()
	for i := range c.Choices {
		if c.Choices[i].Option.ID == id {
			return &c.Choices[i]
		}
	}
	t.Fatalf("no choice %s", id)
	return nil
}

// The demo car: fed behind the ballast ranks last, for its feed at the hot
// idle with every load on; one figure of the file, the ballast's, lifts it.
func TestFedBehindTheBallastRanksLast(t *testing.T) {
	cmp := compare(t, demo(t))
	if len(cmp.Choices) != len(twin.Options())-1 {
		t.Fatalf("%d choices", len(cmp.Choices))
	}
	last := cmp.Choices[len(cmp.Choices)-1]
	if last.Option.ID != "feed_behind_ballast" || last.State() != prove.FallsShort {
		t.Fatalf("last is %s, %s", last.Option.ID, last.State())
	}
	if f := last.Short[0]; f.Row.ID != "trigger_feed" || f.Column.ID != "hot_idle" {
		t.Errorf("its worst is %s, %s", f.Row.ID, f.Column.ID)
	}
	// Before the ballast nothing of the feed is in doubt; a spark may be.
	before := choice(t, cmp, "feed_before_ballast")
	for _, f := range append(slices.Clone(before.Short), before.Doubt...) {
		if f.Row.Group != prove.SparkGroup || f.Cell.State == prove.FallsShort {
			t.Errorf("fed before the ballast: %s, %s", f.Row.Name, f.Cell.State)
		}
	}
	mild := compare(t, demo(t, "cold: 0.85 ± 0.08 ohm", "cold: 0.15 ± 0.02 ohm"))
	if s := choice(t, mild, "feed_behind_ballast").State(); s == prove.FallsShort {
		t.Error("fed behind a ballast of 0.15 ohm it still falls short")
	}
}

// What falls short whichever is chosen stands apart and does not rank.
func TestCommonFindingsDoNotRank(t *testing.T) {
	cmp := compare(t, demo(t, "set_point: 14.45 ± 0.2 V", "set_point: 12.9 ± 0.1 V"))
	common := false
	for _, f := range cmp.Common {
		common = common || f.Row.ID == "charging_voltage" && f.Column.ID == "cruise"
	}
	if !common {
		t.Error("a regulator set too low is not among what is common to all")
	}
	for _, ch := range cmp.Choices {
		for _, f := range ch.Short {
			if f.Row.ID == "charging_voltage" && f.Column.ID == "cruise" {
				t.Errorf("%s carries what all share", ch.Option.ID)
			}
		}
	}
	// With so little voltage a spark or two is in doubt, but nothing of the
	// relay's own falls short.
	if s := choice(t, cmp, "relay_feed").State(); s == prove.FallsShort {
		t.Errorf("relay feed is %s by its own merits", s)
	}
}

// A car without a ballast can't have the trigger fed before or behind it.
func TestUnfitChoicesSayWhy(t *testing.T) {
	cmp := compare(t, demo(t, "ballast: {cold: 0.85 ± 0.08 ohm}", "ballast: none", "class: ballasted", "class: full_voltage", "primary: 1.5 ± 0.05 ohm", "primary: 3.1 ± 0.1 ohm"))
	for _, id := range []string{"feed_behind_ballast", "feed_before_ballast"} {
		if ch := choice(t, cmp, id); !strings.Contains(ch.Unfit, "no ballast") {
			t.Errorf("%s: %q", id, ch.Unfit)
		}
	}
	if cmp.Winner() == nil || cmp.Winner().Unfit != "" {
		t.Error("no winner that can be had")
	}
}

// With the run contact dead while cranking, the relay on the old ignition
// wire lets go in the start position: the trigger then lives off the start
// bypass, back through the ballast.
func TestRelayWhileCranking(t *testing.T) {
	with := choice(t, compare(t, demo(t)), "relay_feed")
	without := choice(t, compare(t, demo(t, "start_bypass: yes", "start_bypass: no")), "relay_feed")
	feed := func(ch *Choice) *prove.Cell {
		for i := range ch.Sheet.Rows {
			for j, col := range ch.Sheet.Columns {
				if ch.Sheet.Rows[i].ID == "trigger_feed" && col.ID == "cold_crank" {
					return &ch.Sheet.Rows[i].Cells[j]
				}
			}
		}
		t.Fatal("no cell")
		return nil
	}
	if c := feed(with); c.State == prove.FallsShort {
		t.Errorf("with a start bypass the trigger has %.1f V", c.Predicted.Mid)
	}
	if c := feed(without); c.State != prove.FallsShort || c.Predicted.Mid > 1 {
		t.Errorf("without one it has %.1f V, %s", c.Predicted.Mid, c.State)
	}
}

// The cut list's wires stand their current: drop, temperature and fuse.
func TestCutListStands(t *testing.T) {
	for _, edits := range [][]string{nil, {"ballast: {cold: 0.85 ± 0.08 ohm}", "ballast: {cold: 0.3 ± 0.02 ohm}"}} {
		cmp := compare(t, demo(t, edits...))
		relay := choice(t, cmp, "relay_feed")
		cut, err := cutList(demo(t, edits...), relay, 200)
		if err != nil {
			t.Fatal(err)
		}
		if len(cut.Wires) != 5 || len(cut.Moved) != 2 {
			t.Fatalf("%d wires", len(cut.Wires))
		}
		for _, w := range cut.Wires {
			if w.DropV > dropAllowed {
				t.Errorf("%s loses %.3f V", w.From, w.DropV)
			}
			if a := wire.Ampacity(w.SectionM2, bayHotC, insulationC); w.FuseA > a || w.PeakA > a {
				t.Errorf("%s: fuse %g A, peak %.1f A on a wire for %.1f A", w.From, w.FuseA, w.PeakA, a)
			}
			if w.FuseA > 0 && w.FuseA < w.CurrentA {
				t.Errorf("%s: a fuse of %g A blows at %.1f A", w.From, w.FuseA, w.CurrentA)
			}
			if len(w.Terminals) != 2 || math.IsNaN(w.TempC) {
				t.Errorf("%+v", w)
			}
		}
		if len(cut.Cautions) == 0 {
			t.Error("cautions are missing")
		}
	}
}

// A wire no gauge can carry is an error that says so, not a plan.
func TestImpossibleWire(t *testing.T) {
	c := demo(t)
	cmp := compare(t, c)
	w := choice(t, cmp, "relay_feed")
	w.Sheet.Car.Wiring[car.RelayFeed].Length.X = 5000
	if _, err := cutList(c, w, 200); !errors.Is(err, wire.ErrNoGauge) {
		t.Errorf("got %v", err)
	}
}

func TestScoreOrder(t *testing.T) {
	order := []Score{{0, 0, 0, 0.5, 1}, {0, 0, 0, 0.9, 2}, {0, 0, 0, 0.1, 0}, {0, 0, 2, 0.9, 0}, {0, 1, 0, 0.9, 0}, {1, 0, 0, -0.1, 0}, {1, 0, 0, -0.2, 0}, {2, 0, 0, -0.1, 0}}
	for i := range order {
		for j := range order {
			if got := order[i].Less(order[j]); got != (i < j) {
				t.Errorf("%v before %v: %v", order[i], order[j], got)
			}
		}
	}
}
