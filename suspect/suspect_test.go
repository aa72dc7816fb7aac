package suspect_test

import (
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"testing"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/examples"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/suspect"
	"dwellwright/twin"
)

func demo(t testing.TB) *car.Car {
	t.Helper()
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

var kept = map[int]*suspect.Bank{}

// bank is the demo car's, with so many pairs.
func bank(t testing.TB, pairs int) *suspect.Bank {
	t.Helper()
	if kept[pairs] == nil {
		b, err := suspect.Prepare(demo(t), suspect.Settings{Draws: 16, Pairs: pairs, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		kept[pairs] = b
	}
	return kept[pairs]
}

// sick is what every measure shows of a car that is drawn apart from the
// bank's, with faults at a middling severity.
func sick(t testing.TB, b *suspect.Bank, faults ...string) map[string]float64 {
	t.Helper()
	bench, err := measure.NewBench(b.Car, b.Measures)
	if err != nil {
		t.Fatal(err)
	}
	bench.OnlyIfRuns = true
	s := twin.NewSampler(b.Car, 77)
	s.Draw(5)
	bench.Take(s)
	out := make([]float64, len(b.Measures))
	err = bench.Read(func(c *car.Car, k *car.Condition) {
		for _, id := range faults {
			b.Fault(id).Apply(c, k, fault.Severity{U: [4]float64{0.6, 0.6, 0.6, 0.3}})
		}
	}, out)
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string]float64{}
	for i := range b.Measures {
		shown[b.Measures[i].ID] = out[i]
	}
	return shown
}

// ask answers as the sick car does, exactly, until the case says stop.
func ask(t testing.TB, b *suspect.Bank, shown map[string]float64) *suspect.Case {
	t.Helper()
	c := b.Open()
	for i := range b.Measures { // the owner speaks first
		m := &b.Measures[i]
		if m.Observation && m.Group == measure.Owner && shown[m.ID] > 0.5 {
			if err := c.Take(suspect.Answer{Measure: m.ID, Kind: evidence.Yes}); err != nil {
				t.Fatal(err)
			}
		}
	}
	setup := ""
	for range 25 {
		n, err := c.Next(suspect.Situation{Setup: setup})
		if err != nil {
			t.Fatal(err)
		}
		if n.Stop {
			break
		}
		m, err := b.Measure(n.Reading)
		if err != nil {
			t.Fatal(err)
		}
		setup = m.Setup
		a := suspect.Answer{Measure: m.ID, Kind: evidence.Figure, Value: shown[m.ID]}
		switch {
		case math.IsNaN(a.Value):
			a.Kind = evidence.CouldNot
		case m.Observation && a.Value > 0.5:
			a.Kind = evidence.Yes
		case m.Observation:
			a.Kind = evidence.No
		}
		if err := c.Take(a); err != nil {
			t.Fatal(err)
		}
	}
	return c
}

// mends are the remedies of what is likeliest to put the car right.
func mends(p evidence.Posterior) []string {
	if len(p.Mends) == 0 {
		return nil
	}
	return p.Mends[0].Remedies
}

// Faults that leave a plain mark are found, or at least what mends them.
func TestPlainFaultsAreFound(t *testing.T) {
	b := bank(t, -1)
	for _, id := range []string{"plate_ground_high", "ballast_open", "points_burnt", "battery_sulphated", "weights_seized", "plug_gap_wide"} {
		f := b.Fault(id)
		if f == nil {
			t.Fatal("no such fault")
		}
		t.Run(id, func(t *testing.T) {
			c := ask(t, b, sick(t, b, id))
			p := c.Posterior()
			if got := mends(p); !slices.Equal(got, []string{f.Remedy.ID}) {
				t.Errorf("mend %v, want %s; first %s (%.0f %%)", got, f.Remedy.ID, p.Hypotheses[0].ID, 100*p.Hypotheses[0].P)
			}
		})
	}
}

// A complaint that a repair left is told of the car as it is now, once, and goes
// with the repair when that is taken back. Of two complaints it has to be said which.
func TestStillThere(t *testing.T) {
	b := bank(t, -1)
	take := func(c *suspect.Case, a suspect.Answer) {
		t.Helper()
		if err := c.Take(a); err != nil {
			t.Fatal(err)
		}
	}
	left := func(reports ...string) *suspect.Case {
		t.Helper()
		c := b.Open()
		for _, id := range reports {
			take(c, suspect.Answer{Measure: id, Kind: evidence.Yes})
		}
		take(c, suspect.Answer{Measure: "rotor_leak_ohms", Kind: evidence.Figure, Value: 30e3})
		if p := c.Posterior(); p.Remedies[0].ID != "renew_rotor" || p.Remedies[0].P < 0.9 {
			t.Fatalf("a burnt rotor: %+v", p.Remedies[:2])
		}
		if err := c.Repair([]string{"renew_rotor"}, evidence.Still); err != nil {
			t.Fatal(err)
		}
		return c
	}
	c := left("no_spark_crank")
	told := c.Posterior()
	if told.Healthy > 0.04 {
		t.Errorf("no spark still, and nothing is wrong: %.3f", told.Healthy)
	}
	if n := len(c.Taken()); n != 2 {
		t.Errorf("%d answers listed, 2 were given", n)
	}
	take(c, suspect.Answer{Measure: "no_spark_crank", Kind: evidence.Yes}) // told by hand as well
	if again := c.Posterior(); math.Abs(again.Healthy-told.Healthy) > 0.03 || math.Abs(again.Remedies[0].P-told.Remedies[0].P) > 0.1 {
		t.Errorf("told once more: %+v, before %+v", again.Remedies[0], told.Remedies[0])
	}
	c.Undo()
	c.Undo()
	if p := c.Posterior(); p.Remedies[0].ID != "renew_rotor" || p.Remedies[0].P < 0.9 {
		t.Errorf("the repair taken back: %+v", p.Remedies[:2])
	}
	if two := left("no_spark_crank", "no_start"); len(two.Taken()) != 3 || two.Posterior().Healthy < told.Healthy {
		t.Errorf("of two complaints neither is told again: healthy %.3f, of one %.3f", two.Posterior().Healthy, told.Healthy)
	}
}

// A slip is undone; what is undone leaves nothing behind.
func TestUndo(t *testing.T) {
	b := bank(t, -1)
	c := b.Open()
	before := c.Posterior()
	id := b.Measures[0].ID
	if err := c.Take(suspect.Answer{Measure: id, Kind: evidence.CouldNot}); err != nil {
		t.Fatal(err)
	}
	if !c.Undo() || c.Undo() {
		t.Error("one thing was there to undo")
	}
	after := c.Posterior()
	for i := range before.Hypotheses {
		if before.Hypotheses[i] != after.Hypotheses[i] {
			t.Fatalf("%+v became %+v", before.Hypotheses[i], after.Hypotheses[i])
		}
	}
}

func TestUnknownReading(t *testing.T) {
	c := bank(t, -1).Open()
	var gone *suspect.UnknownError
	if err := c.Take(suspect.Answer{Measure: "phase_of_the_moon", Kind: evidence.Yes}); !errors.As(err, &gone) {
		t.Errorf("%v", err)
	}
}

// What a pair shows is what a car with both faults shows: also where a chance that
// is as good as 1 with either alone is gone with both, and where two faults together
// stop an engine that runs with either.
func TestAPairIsACarWithBoth(t *testing.T) {
	data, err := os.ReadFile("../examples/skellgate-six.yaml")
	if err != nil {
		t.Fatal(err)
	}
	six, err := car.Parse("skellgate-six.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	other, err := suspect.Prepare(six, suspect.Settings{Draws: 12, Pairs: 60, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range []*suspect.Bank{bank(t, 60), other} {
		if n := len(b.PairIDs()); n != 60 {
			t.Errorf("%d pairs", n)
		}
		for _, id := range b.PairIDs() {
			for _, k := range []int{3, 11} {
				got, whole, err := b.CheckPair(id, k)
				if err != nil {
					t.Fatal(err)
				}
				for i := range got {
					x, y := got[i], whole[i]
					if math.IsNaN(x) && math.IsNaN(y) {
						continue
					}
					if d := math.Abs(x - y); !(d <= 0.02*math.Max(math.Abs(x), math.Abs(y))+b.Within(i, y)) {
						t.Errorf("%s, draw %d, %s: %g in the bank, %g read alone", id, k, b.Measures[i].ID, x, y)
					}
				}
			}
		}
	}
}

// A dead ground wire of the plate: the drop across it says so.
func Example() {
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := suspect.Prepare(c, suspect.Settings{Draws: 12, Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	k := b.Open()
	if err := k.Take(suspect.Answer{Measure: "plate_housing_drop", Kind: evidence.Figure, Value: 2.4}); err != nil {
		fmt.Println(err)
		return
	}
	p := k.Posterior()
	fmt.Println(b.Names(p.Hypotheses[0].ID))
	fmt.Println(b.Remedy(p.Mends[0].Remedies[0]).Words)
	// Output:
	// ground wire of the breaker plate high: frayed, or its screws loose or dirty
	// New flexible wire from breaker plate to housing, long enough for the plate's whole travel; screws clean.
}
