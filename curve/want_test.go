package curve_test

import (
	"math"
	"testing"

	"dwellwright/car"
	"dwellwright/curve"
	"dwellwright/examples"
)

// Other points asked of a curve that is there give what a new curve gives.
func TestWantIsCompute(t *testing.T) {
	c, err := car.Parse(examples.DemoName, examples.Demo)
	if err != nil {
		t.Fatal(err)
	}
	points := []curve.Point{{RPM: 900, Advance: 9, Tolerance: 2}, {RPM: 2000, Advance: 24, Tolerance: 3}, {RPM: 4000, Advance: 33, Tolerance: 2}}
	set := curve.Settings{Draws: 120, Seed: 1}
	v, err := curve.Compute(c, set)
	if err != nil {
		t.Fatal(err)
	}
	before := len(v.Wanted)
	got, err := v.Want(points, 1000)
	if err != nil {
		t.Fatal(err)
	}
	set.Wanted = points
	want, err := curve.Compute(c, set)
	if err != nil {
		t.Fatal(err)
	}
	if len(v.Wanted) != before {
		t.Error("the curve given has changed")
	}
	if len(got.Wanted) != 3 || len(got.Builds) != len(want.Builds) {
		t.Fatalf("%d points, %d builds; want 3, %d", len(got.Wanted), len(got.Builds), len(want.Builds))
	}
	for i, w := range got.Wanted {
		x := want.Wanted[i]
		if math.Abs(w.Model.Mid-x.Model.Mid) > 1e-9 || math.Abs(w.Inside-x.Inside) > 1e-9 {
			t.Errorf("point %d: %+v, computed anew %+v", i, w, x)
		}
	}
	for i, b := range got.Builds {
		if math.Abs(b.Worst-want.Builds[i].Worst) > 1e-9 || b.StopID != want.Builds[i].StopID {
			t.Errorf("build %d: %+v, computed anew %+v", i, b, want.Builds[i])
		}
	}
}
