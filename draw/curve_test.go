package draw

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// feedCycle is an invented feed voltage over one switching cycle of 20 ms: it
// sags while the trigger conducts and rings when it opens.
func feedCycle(n int) (x, y []float64) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range n {
		ms := 20 * float64(i) / float64(n-1)
		v := 11.8
		switch {
		case ms < 12:
			v -= 2.6 * (1 - math.Exp(-ms/2.2))
		default:
			v += 1.9 * math.Exp(-(ms-12)/1.1) * math.Sin(2*math.Pi*(ms-12)/0.35)
		}
		x, y = append(x, ms), append(y, v+0.08*r.NormFloat64())
	}
	return x, y
}

func scopeSpec() CurveSpec {
	x, y := feedCycle(20000)
	return CurveSpec{
		Title: "Trigger feed over one cycle, hot idle", X: Axis{Label: "time", Unit: "ms"}, Y: Axis{Label: "feed voltage", Unit: "V"},
		Series: []Series{{Name: "at the trigger", X: x, Y: y, Origin: Measured},
			{Name: "from the model", X: []float64{0, 3, 6, 9, 12, 12.01, 20}, Y: []float64{11.8, 9.86, 9.37, 9.24, 9.21, 11.8, 11.8}, Origin: Predicted}},
		Limits: []CurveLimit{{"trigger's lowest feed", Limit{AtLeast, 8}}},
	}
}

func advanceSpec() CurveSpec {
	return CurveSpec{
		Title: "Centrifugal advance", X: Axis{Label: "engine speed", Unit: "rpm", Lo: 400, Hi: 4000}, Y: Axis{Label: "advance at the crank", Unit: "°", Lo: 0, Hi: 30},
		Series: []Series{
			{Name: "measured", X: []float64{600, 1000, 1500, 2000, 2500, 3000, 3500}, Y: []float64{0.4, 5, 13, 17.5, 21, 25, 25.4}, Origin: Measured, Marks: true},
			{Name: "model", X: []float64{400, 800, 1500, 3000, 4000}, Y: []float64{0, 1, 12.2, 24.6, 25}, Origin: Predicted},
			{Name: "papers", X: []float64{700, 1600, 2900, 4200}, Y: []float64{0, 10, 22, 22}, Origin: Stated},
			{Name: "with the lighter spring", X: []float64{500, 1200, 2400, 3800}, Y: []float64{0, 14, 25, 34}, Origin: Predicted, Marks: true},
		},
		Band: Band{Name: "wanted", X: []float64{300, 800, 1600, 2900, 4500}, Lo: []float64{-3, -1, 8, 20, 20}, Hi: []float64{0, 3, 12, 24, 24}},
	}
}

func TestCurveGolden(t *testing.T) {
	phone := scopeSpec()
	phone.W, phone.H = 366, 320
	small := advanceSpec()
	small.W, small.H = 366, 380
	for name, spec := range map[string]CurveSpec{"scope-wide": scopeSpec(), "scope-phone": phone, "advance-wide": advanceSpec(), "advance-phone": small} {
		s, err := Curve(spec)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range clashes(s) {
			if strings.Contains(c, "lies on") || strings.Contains(c, "leaves") {
				t.Errorf("%s: %s", name, c)
			}
		}
		golden(t, "curve-"+name, s)
	}
}

// Thinning keeps the extent of every pixel column, the ends and the order,
// and leaves no more than four points to a column.
func TestThinKeepsTheLook(t *testing.T) {
	x, y := feedCycle(20000)
	pts := make([]Point, len(x))
	for i := range x {
		pts[i] = Point{x[i] * 30, y[i] * 20} // 600 columns
	}
	got := thin(pts)
	if len(got) > 4*601 || len(got) < 600 {
		t.Fatalf("%d points are left of %d", len(got), len(pts))
	}
	if got[0] != pts[0] || got[len(got)-1] != pts[len(pts)-1] {
		t.Error("an end is lost")
	}
	extent := func(ps []Point) map[int][2]float64 {
		m := map[int][2]float64{}
		for _, p := range ps {
			c := int(math.Floor(p.X))
			e, ok := m[c]
			if !ok {
				e = [2]float64{p.Y, p.Y}
			}
			m[c] = [2]float64{math.Min(e[0], p.Y), math.Max(e[1], p.Y)}
		}
		return m
	}
	want, have := extent(pts), extent(got)
	for c, e := range want {
		if have[c] != e {
			t.Fatalf("column %d spans %v, want %v", c, have[c], e)
		}
	}
	for i := 1; i < len(got); i++ {
		if got[i].X < got[i-1].X {
			t.Fatal("order is lost")
		}
	}
	loop := []Point{{0, 0}, {5, 1}, {3, 2}, {9, 3}, {1, 4}, {0, 0}}
	if len(thin(loop)) != len(loop) {
		t.Error("a line that turns back was thinned")
	}
}

// What straightening leaves out lies no further than a twentieth of a unit
// from what it leaves, measured against every stroke that is left.
func TestStraightenKeepsTheLook(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		var pts []Point
		x, y, up := 0.0, 50.0, 0.0
		for range 300 {
			x += r.Float64()
			if r.IntN(20) == 0 {
				up = r.NormFloat64()
			}
			y += up + 0.01*r.NormFloat64()
			pts = append(pts, Point{x, y})
		}
		got := straighten(pts)
		if got[0] != pts[0] || got[len(got)-1] != pts[len(pts)-1] {
			t.Fatal("an end is lost")
		}
		k := 0
		for _, p := range pts {
			best := math.Inf(1)
			for i := max(1, k-1); i < len(got) && i < k+4; i++ {
				a, b := got[i-1], got[i]
				d := math.Hypot(b.X-a.X, b.Y-a.Y)
				f := ((p.X-a.X)*(b.X-a.X) + (p.Y-a.Y)*(b.Y-a.Y)) / (d * d)
				f = math.Max(0, math.Min(1, f))
				best = math.Min(best, math.Hypot(p.X-a.X-f*(b.X-a.X), p.Y-a.Y-f*(b.Y-a.Y)))
			}
			if best > 0.05+1e-9 {
				t.Fatalf("%v lies %v from the line that is left", p, best)
			}
			if k < len(got) && p == got[k] {
				k++
			}
		}
	}
	ramp := make([]Point, 0, 60)
	for i := range 60 {
		ramp = append(ramp, Point{float64(i), 2 * float64(i)})
	}
	if got := straighten(ramp); len(got) != 2 {
		t.Errorf("a straight ramp keeps %d points", len(got))
	}
	back := []Point{{0, 0}, {10, 0}, {4, 0}}
	if got := straighten(back); len(got) != 3 {
		t.Errorf("a line that turns back on itself loses its tip: %v", got)
	}
}

func TestClipLine(t *testing.T) {
	in := []Point{{-5, 5}, {5, 5}, {5, 25}, {8, 25}, {8, 5}, {15, 5}}
	got := clipLine(in, 0, 0, 10, 10)
	want := [][]Point{{{0, 5}, {5, 5}, {5, 10}}, {{8, 10}, {8, 5}, {10, 5}}}
	if len(got) != len(want) {
		t.Fatalf("got %v", got)
	}
	for i := range want {
		if len(got[i]) != len(want[i]) {
			t.Fatalf("run %d is %v, want %v", i, got[i], want[i])
		}
		for k := range want[i] {
			if math.Hypot(got[i][k].X-want[i][k].X, got[i][k].Y-want[i][k].Y) > 1e-9 {
				t.Errorf("run %d is %v, want %v", i, got[i], want[i])
			}
		}
	}
}

// A 20 by 20 square shifted by half its side leaves a quarter of its area.
func TestClipRing(t *testing.T) {
	ring := clipRing([]Point{{10, 10}, {30, 10}, {30, 30}, {10, 30}}, 0, 0, 20, 20)
	area := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		area += (p.X*q.Y - q.X*p.Y) / 2
	}
	if math.Abs(area-100) > 1e-9 {
		t.Errorf("area is %v, want 100", area)
	}
}

// Ticks are 1, 2 or 5 times a power of ten apart and cover the range
// (Heckbert, "Nice numbers for graph labels").
func TestTicks(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		lo := (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(9)-4))
		hi := lo + r.Float64()*math.Pow(10, float64(r.IntN(9)-4)) + 1e-9
		n := 2 + r.IntN(9)
		ts, step := ticks(lo, hi, n)
		m := step / math.Pow(10, math.Floor(math.Log10(step*(1+1e-9))))
		if k := math.Round(m); math.Abs(m-k) > 1e-6 || k != 1 && k != 2 && k != 5 {
			t.Fatalf("step %v for [%v, %v]", step, lo, hi)
		}
		if ts[0] > lo+1e-6*step || ts[len(ts)-1] < hi-1e-6*step {
			t.Fatalf("[%v, %v] is not covered by %v", lo, hi, ts)
		}
		if len(ts) > 2*n+3 {
			t.Fatalf("%d ticks, about %d asked for", len(ts), n)
		}
		seen := map[string]bool{}
		for _, v := range ts {
			l := tickLabel(v, step)
			if seen[l] {
				t.Fatalf("label %q stands twice in %v", l, ts)
			}
			seen[l] = true
		}
	}
	if got := tickLabel(-0.25, 0.05); got != "−0.25" {
		t.Errorf("got %q", got)
	}
	if got := tickLabel(1e-17, 0.1); got != "0.0" {
		t.Errorf("got %q", got)
	}
}

func TestCurveRefuses(t *testing.T) {
	line := Series{X: []float64{0, 1}, Y: []float64{0, 1}}
	for name, spec := range map[string]CurveSpec{
		"NaN":          {Series: []Series{{X: []float64{0}, Y: []float64{math.NaN()}}}},
		"uneven":       {Series: []Series{{X: []float64{0, 1}, Y: []float64{0}}}},
		"five lines":   {Series: []Series{line, line, line, line, line}},
		"uneven band":  {Band: Band{X: []float64{1}}},
		"crossed band": {Band: Band{X: []float64{1}, Lo: []float64{2}, Hi: []float64{1}}},
		"falling axis": {Y: Axis{Lo: 2, Hi: 1}},
		"no room":      {H: 140, Series: []Series{line, line, line, line}, W: 240},
		"Inf limit":    {Limits: []CurveLimit{{"x", Limit{AtMost, math.Inf(1)}}}},
		"tiny":         {W: 10, H: 10},
	} {
		_, err := Curve(spec)
		var se *SpecError
		if !errors.As(err, &se) {
			t.Errorf("%s: got %v, want a SpecError", name, err)
		}
	}
	for name, spec := range map[string]CurveSpec{
		"empty":      {},
		"one point":  {Series: []Series{{X: []float64{3}, Y: []float64{4}}}},
		"level":      {Series: []Series{{X: []float64{0, 1}, Y: []float64{4, 4}}}},
		"only limit": {Limits: []CurveLimit{{"x", Limit{AtMost, 4}}}},
	} {
		if _, err := Curve(spec); err != nil {
			t.Errorf("%s is refused: %v", name, err)
		}
	}
}

func TestCurveSaysInWords(t *testing.T) {
	s, err := Curve(scopeSpec())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"At the trigger: measured, time from 0 to 20 ms, lowest 8.9", "From the model: predicted", "12.01 ms", "Trigger's lowest feed: at least 8 V."} {
		if !strings.Contains(s.Desc, want) {
			t.Errorf("%q is not in %q", want, s.Desc)
		}
	}
}
