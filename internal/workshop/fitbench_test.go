package workshop

import (
	"math"
	"net/url"
	"strings"
	"testing"

	"dwellwright/distributor"
	"dwellwright/draw"
	"dwellwright/fit"
	"dwellwright/units"
)

// What is tried and its address are one: each gives the other.
func TestFitTryStandsInItsAddress(t *testing.T) {
	c, err := Open("demo", nil)
	if err != nil {
		t.Fatal(err)
	}
	q := url.Values{"turn": {"-12.25"}, "leads": {"-2"}, "teeth": {"3"}, "trigger": {"8"}, "sleeve": {"-1.5"}, "drawn": {"2.5"}, "gap": {"24 mil"}, "axial": {"−0.4 mm"}, "lift": {"1 mm"}, "play": {"0.2 mm"}}
	a, errs := ParseFitTry(c, q, units.Metric)
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	if a.Move != (distributor.Move{Housing: -12.25, Leads: -2, Mesh: 3, Trigger: 8, Sleeve: -1.5}) || a.Drawn != 2.5 || math.Abs(*a.Gap-24*25.4e-6) > 1e-12 || *a.Axial != -0.4e-3 {
		t.Errorf("read as %+v, gap %v, axial %v", a, *a.Gap, *a.Axial)
	}
	back := url.Values{}
	a.Add(back)
	b, errs := ParseFitTry(c, back, units.Metric)
	if len(errs) > 0 || b.Move != a.Move || b.Drawn != a.Drawn || math.Abs(*b.Gap-*a.Gap) > 1e-6 || *b.Axial != *a.Axial {
		t.Errorf("%+v came back as %+v, %v", a, b, errs)
	}
	d := a.Apply(c)
	if d.Trigger.Gap.X != *a.Gap || d.Trigger.Gap.PM != 0 || d.Distributor.EndPlay.X != 0.2e-3 || c.Trigger.Gap.X == d.Trigger.Gap.X {
		t.Error("gap and end play do not reach the car, or the car given has changed")
	}
	if got := strings.Join(a.Tried(units.Metric), "; "); !strings.Contains(got, "air gap 0.61 mm") || !strings.Contains(got, "vacuum plate drawn 2.5°") {
		t.Errorf("said as %q", got)
	}
	if x := (FitTry{}); x.Apply(c) != c || len(x.Tried(units.Metric)) > 0 {
		t.Error("nothing tried changes something")
	}
}

// The picture from above has the geometry of the trial: at the spark of No. 1
// the trigger faces lobe 0, the tip stands as far past No. 1's tower as the
// phase says, and everything carried by the housing has turned with it.
func TestFitTopHasTheGeometry(t *testing.T) {
	for _, name := range []string{"demo", "../../examples/skellgate-six.yaml", "../../examples/tillbrook-four.yaml"} {
		c, err := Open(name, nil)
		if err != nil {
			t.Fatal(err)
		}
		f, err := Fit(c, fit.Settings{Draws: 0, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		still := FitTop(f, f.Try(distributor.Move{}, 0), 600, units.Metric)
		tr := f.Try(distributor.Move{Housing: 17}, 0)
		moved := FitTop(f, tr, 600, units.Metric)
		same := func(what string, a, b float64) {
			t.Helper()
			if d := math.Remainder(a-b, 360); math.Abs(d) > 1e-9 {
				t.Errorf("%s: %s is %v, want %v", name, what, a, b)
			}
		}
		same("housing", moved.HousingAt, still.HousingAt+17)
		same("trigger", moved.Trigger.Angle, still.Trigger.Angle+17)
		same("rotor", moved.Rotor.Angle, still.Rotor.Angle+17)
		same("can", moved.Can.From, still.Can.From+17)
		same("lobe 0 at the trigger", moved.Ring.Angles[0], moved.Trigger.Angle)
		s := float64(f.Rig.Rotation)
		for i, tw := range moved.Towers {
			same("tower", tw.Angle, still.Towers[i].Angle+17)
			if tw.First && f.Try(distributor.Move{}, 0).Firings[0].Tower == i {
				same("phase", s*(moved.Rotor.Angle-tw.Angle), tr.Firings[0].Phase)
			}
		}
		for _, spec := range []draw.DistributorTopSpec{still, moved} {
			scene, at, err := draw.DistributorTop(spec)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			Turned(&scene, at, f, tr)
		}
		side, _, err := draw.DistributorSide(FitSide(f, 340, units.Metric))
		if err != nil || side.H <= 0 {
			t.Errorf("%s: from the side: %v", name, err)
		}
		if _, err := draw.PhaseStrip(FitStrip(f, tr, 340)); err != nil {
			t.Errorf("%s: strip: %v", name, err)
		}
	}
}
