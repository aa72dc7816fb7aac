package cli

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"dwellwright/internal/judge"
	"dwellwright/spark"
)

// run runs a command line that is to come out well and returns what it wrote.
func run(t *testing.T, args ...string) string {
	t.Helper()
	var out, complaints bytes.Buffer
	if code := Run(args, Streams{In: strings.NewReader(""), Out: &out, Err: &complaints, Width: 80}); code != ExitHolds {
		t.Fatalf("%v: status %d: %s", args, code, complaints.String())
	}
	return out.String()
}

func document(t *testing.T, args ...string) SparkDocument {
	t.Helper()
	var d SparkDocument
	if err := json.Unmarshal([]byte(run(t, append(args, "--json")...)), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

func (k *SparkCondition) figure(t *testing.T, id string) float64 {
	t.Helper()
	for _, f := range k.Figures {
		if f.ID == id {
			return f.Value
		}
	}
	t.Fatalf("%s: no figure %s", k.ID, id)
	return 0
}

const skellgate = "../../examples/skellgate-six.yaml"

// What netlist --firing writes, run by ngspice, has the current at the break
// and the kilovolts at the tower of the same car's firing. The trigger's
// contacts cannot arc, which the network leaves out.
func TestFiringNetlistAgainstNgspice(t *testing.T) {
	d := document(t, "spark", skellgate, "--draws", "0")
	seen := 0
	for i := range d.Conditions {
		k := &d.Conditions[i]
		if k.ID != "hot_idle" && k.ID != "cruise" {
			continue // cranking is long and slow
		}
		seen++
		deck := run(t, "netlist", skellgate, "--firing", "-c", k.ID)
		got := judge.Results(judge.TryNgspice(t, deck, time.Minute))
		for _, x := range []struct {
			what       string
			ours, they float64
		}{
			{"current at the break, A", k.figure(t, "break_current"), got["p0_max"]},
			{"highest at the tower, V", k.figure(t, "asked"), math.Max(got["p2_max"], -got["p2_min"])},
		} {
			if !(math.Abs(x.ours-x.they) < 0.005*x.they) {
				t.Errorf("%s, %s: %.5g, ngspice %.5g", k.ID, x.what, x.ours, x.they)
			}
		}
	}
	if seen != 2 {
		t.Errorf("%d conditions looked at, 2 wanted", seen)
	}
}

// The figures of the middle car hang together as they must: the parts make
// the whole, and in hand is available over asked.
func TestSparkFiguresAddUp(t *testing.T) {
	for _, car := range []string{"demo", skellgate, "../../examples/tillbrook-four.yaml"} {
		d := document(t, "spark", car, "--draws", "0")
		if len(d.Conditions) != 5 {
			t.Fatalf("%s: %d conditions", car, len(d.Conditions))
		}
		for i := range d.Conditions {
			k := &d.Conditions[i]
			asked := k.figure(t, "asked")
			if parts := k.figure(t, "asked_plug") + k.figure(t, "asked_rotor"); math.Abs(parts-asked) > 1e-6*asked {
				t.Errorf("%s, %s: plug and rotor ask %g, asked %g", car, k.ID, parts, asked)
			}
			if hand := k.figure(t, "available") / asked; math.Abs(hand-k.figure(t, "spark_in_hand")) > 1e-6*hand {
				t.Errorf("%s, %s: available over asked %g, in hand %g", car, k.ID, hand, k.figure(t, "spark_in_hand"))
			}
			if electronic := d.Switch == "darlington"; electronic != (k.Break == "no_contacts") {
				t.Errorf("%s, %s: break %s with %s", car, k.ID, k.Break, d.Switch)
			}
		}
	}
}

// A trigger keeps a volt more than clean points do and yet is stronger while
// cranking, when points at four cylinders' and more amperes arc (common
// practice, no source: a trigger starts better, points with a good condenser
// are its equal at idle).
func TestWhyATriggerIsStronger(t *testing.T) {
	d := document(t, "spark", "demo", "--draws", "0", "--switches")
	for _, a := range d.Switches.Answers {
		why := strings.Join(a.Why, " ")
		switch a.ID {
		case "darlington":
			if !strings.HasPrefix(a.Answer, "stronger while cranking") || !strings.Contains(why, "opens without arcing") || !strings.Contains(why, "of the supply when closed (assumed; clean points 0.1") {
				t.Errorf("Darlington: %s %s", a.Answer, why)
			}
		case "worn_points":
			if !strings.Contains(a.Answer, "weaker") || strings.Contains(a.Answer, "stronger") || !strings.Contains(why, "float") || !strings.Contains(why, "Burnt, they keep 2.") {
				t.Errorf("worn points: %s %s", a.Answer, why)
			}
		}
	}
	if len(d.Switches.Answers) != 4 {
		t.Errorf("%d answers, want every switch but clean points", len(d.Switches.Answers))
	}
}

// No prediction holds; the interval decides, not the middle.
func TestStandOfSparkInHand(t *testing.T) {
	for _, x := range []struct {
		i    spark.Interval
		want string
	}{
		{spark.Interval{Mid: 2, Lo: 1.1, Hi: 3}, "above"},
		{spark.Interval{Mid: 2, Lo: 1, Hi: 3}, "doubtful"},
		{spark.Interval{Mid: 1.5, Lo: 0.9, Hi: 3}, "doubtful"},
		{spark.Interval{Mid: 0.8, Lo: 0.7, Hi: 1}, "doubtful"},
		{spark.Interval{Mid: 0.8, Lo: 0.7, Hi: 0.99}, "falls_short"},
		{spark.Interval{Mid: 0.8, Lo: 0.8, Hi: 0.8}, "falls_short"},
		{spark.Interval{Mid: math.NaN(), Lo: math.NaN(), Hi: math.NaN()}, "falls_short"},
	} {
		if got := handStands[handState(x.i)].id; got != x.want {
			t.Errorf("%+v: %s, want %s", x.i, got, x.want)
		}
	}
}

// A plus-or-minus never promises less than nothing.
func TestSpreadOfLopsidedFigures(t *testing.T) {
	for _, x := range []struct {
		i    spark.Interval
		want string
	}{
		{spark.Interval{Mid: 0.030, Lo: 0.020, Hi: 0.040}, "30±10"},
		{spark.Interval{Mid: 0.011, Lo: 0.003, Hi: 0.125}, "11+114−8"},
		{spark.Interval{Mid: 0, Lo: 0, Hi: 0.0037}, "0.0+3.7"},
		{spark.Interval{Mid: 0, Lo: 0, Hi: 0}, "0"},
		{spark.Interval{Mid: 0.011, Lo: 0.011, Hi: 0.011}, "11"},
	} {
		if got := spread(x.i, 1e3, 0); got != x.want {
			t.Errorf("%+v: %q, want %q", x.i, got, x.want)
		}
	}
}

// What can kill stands before everything else, and none of the cautions the
// work asks for is missing or told twice.
func TestSparkCautionsComeFirst(t *testing.T) {
	text := run(t, "spark", "demo", "--draws", "0", "--spikes")
	if !strings.HasPrefix(text, "! Secondary voltage is 20 to 40 kV.") {
		t.Errorf("begins with %.60q", text)
	}
	for _, c := range []string{"Secondary voltage is", "hanging\n", "battery off with the engine running", "A charged condenser bites", "Key on with the engine stopped: a minute"} {
		if n := strings.Count(text, c); n != 1 {
			t.Errorf("%q stands %d times", c, n)
		}
	}
	if last := strings.TrimSpace(text); !strings.HasSuffix(last, "local codes and licensed practice decide.") {
		t.Errorf("ends with %q", last[len(last)-80:])
	}
}
