package draw

import (
	"fmt"
	"strings"
	"testing"
)

func handleSpec() CurveSpec {
	return CurveSpec{
		Title: "Advance, wanted and read", W: 390, H: 340,
		X: Axis{Label: "engine speed", Unit: "rpm"}, Y: Axis{Label: "advance", Unit: "°"},
		Series: []Series{
			{Name: "wanted", X: []float64{600, 1200, 2000, 3000, 4500}, Y: []float64{8, 12, 22, 30, 34}, Handles: true, Origin: Stated},
			{Name: "read", X: []float64{800, 1500, 2500}, Y: []float64{9, 15, 25}, Lo: []float64{8, 14, 24}, Hi: []float64{10, 16, 26}, NoLine: true, Going: 1, Origin: Measured},
			{Name: "read", X: []float64{850, 1500, 2500}, Y: []float64{11, 17, 27}, Lo: []float64{10, 16, 26}, Hi: []float64{12, 18, 28}, NoLine: true, Going: -1, Origin: Measured},
		},
	}
}

// A handle stands where CurvePlace says its value is, can be reached by
// keyboard and says its value, and has room for a finger.
func TestCurveHandles(t *testing.T) {
	for _, log := range []bool{false, true} {
		spec := handleSpec()
		spec.X.Log = log
		s, err := Curve(spec)
		if err != nil {
			t.Fatal(err)
		}
		box, err := CurvePlace(spec)
		if err != nil {
			t.Fatal(err)
		}
		svg := svgOf(t, s, SVGOptions{})
		got := shapesByID(t, []byte(svg))
		for k, x := range spec.Series[0].X {
			h := got[fmt.Sprintf("series-a-%d", k)]
			if len(h) < 2 || h[0].r < 22 {
				t.Fatalf("handle %d is %+v", k, h)
			}
			u := (h[0].pts[0].X - box.X0) / (box.X1 - box.X0)
			v := (h[0].pts[0].Y - box.Y0) / (box.Y1 - box.Y0)
			near(t, "y", box.Y.Hi+v*(box.Y.Lo-box.Y.Hi), spec.Series[0].Y[k], 0.01)
			if !log {
				near(t, "x", box.X.Lo+u*(box.X.Hi-box.X.Lo), x, 0.2)
			} else {
				near(t, "x's part", u, box.X.part(x), 1e-4)
			}
		}
		for _, want := range []string{
			`role="slider" aria-label="wanted, point 2: 12 ° at 1200 rpm" tabindex="0" pointer-events="all" aria-orientation="vertical" aria-valuemin="0" aria-valuemax="40" aria-valuenow="12" aria-valuetext="12 ° at 1200 rpm"`,
			`role="group" aria-labelledby=`, // an image would hide its sliders
		} {
			if !strings.Contains(svg, want) {
				t.Errorf("%s is missing", want)
			}
		}
		// Readings taken while the speed rose and while it fell look different
		// by more than colour: one's tip is up, the other's down.
		for id, up := range map[string]bool{"series-b": true, "series-c": false} {
			m := got[id][0].pts
			if (m[0].Y < m[1].Y) != up {
				t.Errorf("the marks of %s point the wrong way", id)
			}
		}
		if n := len(got["bars-b"]); n != 3 {
			t.Errorf("%d intervals for 3 readings", n)
		}
		for _, want := range []string{"going up", "going down"} {
			if !strings.Contains(s.Desc, want) {
				t.Errorf("%q is not said", want)
			}
		}
	}
}

func TestCurveHandlesRefuse(t *testing.T) {
	spec := handleSpec()
	spec.Series[1].Going = 2
	if _, err := CurvePlace(spec); err == nil {
		t.Error("a run that goes nowhere is taken")
	}
	spec = handleSpec()
	spec.Series[0].X, spec.Series[0].Y = make([]float64, 100), make([]float64, 100)
	if _, err := Curve(spec); err == nil {
		t.Error("100 handles are taken")
	}
}

func TestCurveHandlesGolden(t *testing.T) {
	s, err := Curve(handleSpec())
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "curve-handles-phone", s)
}
