package draw

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// sparkMap is an invented coil: what it gives over what a plug asks for, over
// engine speed and supply voltage, the worse the faster and the lower.
func sparkMap(w float64) MapSpec {
	spec := MapSpec{
		Title: "Spark in hand over speed and supply voltage", W: w,
		X: Axis{Label: "engine speed", Unit: "rpm"}, Y: Axis{Label: "supply at the coil", Unit: "V"},
		Value: "spark in hand, available over required", Origin: Predicted,
		Levels: []float64{0.8, 1.25, 1.6, 2}, Limit: Limit{AtLeast, 1},
		Points: []MapPoint{
			{Name: "cold crank", X: 180, Y: 8.2, Text: "1.19 ± 0.14", Origin: Predicted, Mark: MarkDoubtful},
			{Name: "hot restart", X: 220, Y: 9.1, Text: "1.33 ± 0.16", Origin: Predicted, Mark: MarkHolds},
			{Name: "hot idle, every load on", X: 650, Y: 12.2, Text: "1.86 ± 0.2", Origin: Predicted, Mark: MarkHolds},
			{Name: "cruise", X: 2600, Y: 13.9, Text: "1.71 ± 0.2", Origin: Measured, Mark: MarkHolds},
			{Name: "top speed", X: 4800, Y: 13.8, Text: "1.15 ± 0.1", Origin: Predicted, Mark: MarkDoubtful},
			{Name: "top speed, ballast burnt", X: 4800, Y: 9.4, Text: "0.78 ± 0.1", Origin: Predicted, Mark: MarkShort},
		},
	}
	for i := range 40 {
		spec.Xs = append(spec.Xs, 150+float64(i)*150)
	}
	for j := range 25 {
		spec.Ys = append(spec.Ys, 6+float64(j)*0.375)
	}
	for _, y := range spec.Ys {
		var row, pm []float64
		for _, x := range spec.Xs {
			v := 2.05 * (y / 12) * (1 - math.Exp(-3900/x)) * (1 - 0.15*math.Exp(-x/500))
			row, pm = append(row, v), append(pm, 0.09*v)
		}
		spec.Z, spec.PM = append(spec.Z, row), append(spec.PM, pm)
	}
	return spec
}

func TestMapGolden(t *testing.T) {
	holes := sparkMap(720)
	holes.Title = "The same where the coil's model gives no answer at some places"
	for j := range holes.Z {
		for i := range holes.Z[j] {
			if holes.Ys[j] < 7 || i > 30 && j > 18 || i == 20 && j == 12 {
				holes.Z[j][i] = math.NaN()
			}
		}
	}
	heat := MapSpec{Title: "Coil winding temperature", W: 366, X: Axis{Label: "speed", Unit: "rpm"}, Y: Axis{Label: "bay air", Unit: "°C"}, Value: "winding", Unit: "°C",
		Xs: []float64{0, 1000, 3000, 6000}, Ys: []float64{10, 30, 60}, Z: [][]float64{{120, 90, 70, 55}, {140, 110, 90, 75}, {170, 140, 120, 105}},
		Levels: []float64{80, 100}, Limit: Limit{AtMost, 130}}
	for name, spec := range map[string]MapSpec{"wide": sparkMap(720), "phone": sparkMap(366), "holes": holes, "at-most": heat} {
		s, err := Map(spec)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range clashes(s) {
			if strings.Contains(c, "lies on") || strings.Contains(c, "leaves") {
				t.Errorf("%s: %s", name, c)
			}
		}
		if out := svgOf(t, s, SVGOptions{}); len(out) > 60_000 {
			t.Errorf("%s: %d bytes", name, len(out))
		}
		golden(t, "map-"+name, s)
	}
}

// covered is the area of a set of outlines, holes taken off.
func covered(rings [][]Point) float64 {
	sum := 0.0
	for _, r := range rings {
		for i, p := range r {
			q := r[(i+1)%len(r)]
			sum += (p.X*q.Y - q.X*p.Y) / 2
		}
	}
	return math.Abs(sum)
}

func unitLattice(n int, f func(x, y float64) float64) lattice {
	l := lattice{}
	for i := range n {
		l.xs = append(l.xs, float64(i)/float64(n-1)*2-1)
		l.ys = append(l.ys, float64(i)/float64(n-1)*2-1)
	}
	for j := range n {
		var row []float64
		for i := range n {
			row = append(row, f(l.xs[i], l.ys[j]))
		}
		l.z = append(l.z, row)
	}
	return l
}

// Regions of known area: a half plane is traced exactly; a disc of radius 0.6
// has 0.36 π and a ring between 0.4 and 0.8 has 0.48 π, within the step's
// square.
func TestRegionArea(t *testing.T) {
	half := unitLattice(7, func(x, y float64) float64 { return x + 0.5*y })
	if a := covered(half.region(0)); math.Abs(a-2) > 1e-12 {
		t.Errorf("half of the square has %v, want 2", a)
	}
	disc := unitLattice(81, func(x, y float64) float64 { return -math.Hypot(x, y) })
	if a := covered(disc.region(-0.6)); math.Abs(a-0.36*math.Pi) > 0.002 {
		t.Errorf("the disc has %v, want %v", a, 0.36*math.Pi)
	}
	ring := unitLattice(161, func(x, y float64) float64 { return -math.Abs(math.Hypot(x, y) - 0.6) })
	rings := ring.region(-0.2)
	if a := covered(rings); len(rings) != 2 || math.Abs(a-0.48*math.Pi) > 0.003 {
		t.Errorf("the ring has %v in %d outlines, want %v in 2", a, len(rings), 0.48*math.Pi)
	}
	if got := half.region(-10); len(got) != 1 || math.Abs(covered(got)-4) > 1e-12 {
		t.Errorf("all of it is %v", got)
	}
	if got := half.region(10); len(got) != 0 {
		t.Errorf("none of it is %v", got)
	}
}

// Whatever the values: outlines close, level lines end at the edge or in
// themselves, and what is above a level and what is not make up the square.
func TestRegionsAreWhole(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 300 {
		n := 2 + r.IntN(9)
		l := unitLattice(n, func(x, y float64) float64 { return float64(r.IntN(4)) }) // many equal to the level, many saddles
		for _, level := range []float64{1, 1.5, 2} {
			rings := l.region(level)
			for _, g := range rings {
				if len(g) < 4 || g[0] != g[len(g)-1] {
					t.Fatalf("an outline is open: %v", g)
				}
			}
			for _, line := range l.lines(level) {
				a, b := line[0], line[len(line)-1]
				edge := func(p Point) bool { return math.Abs(p.X) == 1 || math.Abs(p.Y) == 1 }
				if a != b && !(edge(a) && edge(b)) {
					t.Fatalf("a level line ends at %v and %v", a, b)
				}
			}
			neg := l
			neg.z = nil
			for _, row := range l.z {
				var m []float64
				for _, v := range row {
					m = append(m, -v)
				}
				neg.z = append(neg.z, m)
			}
			// Above the level, and at or below it by next to nothing.
			if a, b := covered(rings), covered(neg.region(-level+1e-9)); math.Abs(a+b-4) > 1e-6 {
				t.Fatalf("parts of %v and %v do not make 4", a, b)
			}
		}
	}
}

// Level lines lie where the level is: between neighbours it runs straight.
func TestLinesLieAtTheLevel(t *testing.T) {
	l := unitLattice(41, func(x, y float64) float64 { return 3*x - y })
	lines := l.lines(0.7)
	if len(lines) != 1 {
		t.Fatalf("%d lines", len(lines))
	}
	for _, p := range lines[0] {
		if v := 3*p.X - p.Y; math.Abs(v-0.7) > 1e-9 {
			t.Errorf("%v has %v", p, v)
		}
	}
}

// Hatching lies within what falls short and nowhere else: 3x - y < 0 here.
func TestScanStaysWithin(t *testing.T) {
	l := unitLattice(21, func(x, y float64) float64 { return y - 3*x })
	along := Point{math.Sqrt2 / 2, -math.Sqrt2 / 2}
	total := 0.0
	for _, c := range scan(l.region(0), along, 0.01, 0) {
		for _, p := range c {
			if p.Y-3*p.X < -1e-9 || math.Abs(p.X) > 1+1e-9 || math.Abs(p.Y) > 1+1e-9 {
				t.Fatalf("%v is outside", p)
			}
		}
		total += math.Hypot(c[1].X-c[0].X, c[1].Y-c[0].Y)
	}
	if a := total * 0.01; math.Abs(a-2) > 0.02 { // half the square, by strips
		t.Errorf("strips cover %v, want 2", a)
	}
	hole := [][]Point{{{0, 0}, {9, 0}, {9, 9}, {0, 9}}, {{3, 3}, {6, 3}, {6, 6}, {3, 6}}}
	for _, c := range scan(hole, Point{1, 0}, 1, 0) {
		if y := c[0].Y; y > 3.5 && y < 5.5 && (c[0].X >= 3 && c[0].X < 6 || c[1].X > 3 && c[1].X <= 6 && c[0].X > 3) {
			t.Errorf("a stroke from %v to %v runs through the hole", c[0], c[1])
		}
	}
}

func TestMapSaysInWords(t *testing.T) {
	spec := sparkMap(720)
	s, err := Map(spec)
	if err != nil {
		t.Fatal(err)
	}
	// At 3000 rpm the limit is met where 2.05 y/12 (1-exp(-1.3)) (1-0.15 exp(-6)) = 1.
	at := 12 / (2.05 * (1 - math.Exp(-3900.0/3000)) * (1 - 0.15*math.Exp(-6)))
	for _, want := range []string{
		"Spark in hand, available over required: predicted, over engine speed from 150 to 6000 rpm and supply at the coil from 6 to 15 V, lowest 0.490 ± 0.044 at 6000 rpm and 6 V",
		"Limit at least 1; falls short in ",
		"At 3000 rpm: kept from " + figure(roundTo(at, 3), "V") + " up.",
		"Point F: Top speed, ballast burnt: at 4800 rpm and 9.4 V, 0.78 ± 0.1 predicted, falls short.",
	} {
		if !strings.Contains(s.Desc, want) {
			t.Errorf("%q is not in %q", want, s.Desc)
		}
	}
	for _, want := range []string{"limit 1", "1.25", "0.8", "0.8 to 1, falls short", "2 and more", "A", "F", "top speed, ballast burnt"} {
		found := false
		for _, x := range takeApart(s.Items).texts {
			found = found || x.s == want
		}
		if !found {
			t.Errorf("%q is not written on the map", want)
		}
	}
}

// Every column of the words against the formula of the map.
func TestMapColumns(t *testing.T) {
	kept := func(side Side, z [][]float64) string {
		m := mapDrawing{MapSpec: MapSpec{Xs: []float64{0, 1}, Ys: []float64{10, 11, 12, 13}, Y: Axis{Unit: "V"}, Z: z, Limit: Limit{side, 1}}}
		m.field = field{h: Axis{Lo: 0, Hi: 1}, v: Axis{Lo: 10, Hi: 13, Unit: "V"}, x1: 1, y1: 1}
		m.spread()
		m.stand()
		return m.column(0)
	}
	col := func(vs ...float64) (z [][]float64) {
		for _, v := range vs {
			z = append(z, []float64{v, v})
		}
		return z
	}
	for _, c := range []struct {
		side Side
		z    [][]float64
		want string
	}{
		{AtLeast, col(2, 2, 2, 2), "kept throughout"},
		{AtLeast, col(0, 0, 0, 0), "kept nowhere"},
		{AtLeast, col(0, 0.5, 1.5, 2), "kept from 11.5 V up"},
		{AtLeast, col(2, 0, 0, 2), "kept to 10.5 V and from 12.5 V up"},
		{AtLeast, col(0, 2, 0, 0), "kept from 10.5 V to 11.5 V"},
		{AtMost, col(0, 0, 2, 2), "kept to 11.5 V"},
		{AtLeast, col(0, math.NaN(), 2, 2), "not answered throughout"},
	} {
		if got := kept(c.side, c.z); got != c.want {
			t.Errorf("%v is %q, want %q", c.z, got, c.want)
		}
	}
}

// Points in one place keep their letters apart.
func TestMapPointsKeepApart(t *testing.T) {
	for _, w := range []float64{366, 720} {
		spec := sparkMap(w)
		for i := range spec.Points {
			spec.Points[i].X, spec.Points[i].Y = 3000+float64(i), 10
		}
		s, err := Map(spec)
		if err != nil {
			t.Fatal(err)
		}
		l := takeApart(s.Items)
		letters := map[string]int{}
		for _, x := range l.texts {
			letters[x.s]++
		}
		for i := range spec.Points {
			if n := letters[mapLetter(i)]; n != 2 {
				t.Errorf("%v wide: %s stands %d times, want on the map and in the list", w, mapLetter(i), n)
			}
		}
		for _, c := range clashes(s) {
			if strings.Contains(c, "lies on") || strings.Contains(c, "leaves") {
				t.Error(c)
			}
		}
	}
}

func TestMapRefuses(t *testing.T) {
	ok := func() MapSpec {
		return MapSpec{Xs: []float64{0, 1}, Ys: []float64{0, 1}, Z: [][]float64{{0, 1}, {1, 2}}}
	}
	for name, change := range map[string]func(*MapSpec){
		"narrow":          func(s *MapSpec) { s.W = 10 },
		"one column":      func(s *MapSpec) { s.Xs = []float64{1} },
		"falling":         func(s *MapSpec) { s.Ys = []float64{1, 0} },
		"rows":            func(s *MapSpec) { s.Z = s.Z[:1] },
		"columns":         func(s *MapSpec) { s.Z[1] = nil },
		"Inf":             func(s *MapSpec) { s.Z[1][1] = math.Inf(1) },
		"minus spread":    func(s *MapSpec) { s.PM = [][]float64{{0, 0}, {0, -1}} },
		"falling levels":  func(s *MapSpec) { s.Levels = []float64{2, 1} },
		"too many levels": func(s *MapSpec) { s.Levels = []float64{1, 2, 3, 4} },
		"too many short":  func(s *MapSpec) { s.Levels = []float64{1, 2}; s.Limit = Limit{AtLeast, 3} },
		"NaN limit":       func(s *MapSpec) { s.Limit = Limit{AtLeast, math.NaN()} },
		"NaN point":       func(s *MapSpec) { s.Points = []MapPoint{{X: math.NaN()}} },
		"thirteen points": func(s *MapSpec) { s.Points = make([]MapPoint, 13) },
		"log from 0":      func(s *MapSpec) { s.X.Log = true },
	} {
		spec := ok()
		change(&spec)
		_, err := Map(spec)
		var se *SpecError
		if !errors.As(err, &se) {
			t.Errorf("%s: got %v, want a SpecError", name, err)
		}
	}
	for name, change := range map[string]func(*MapSpec){
		"plain":      func(*MapSpec) {},
		"level":      func(s *MapSpec) { s.Z = [][]float64{{1, 1}, {1, 1}}; s.Limit = Limit{AtLeast, 1} },
		"no answers": func(s *MapSpec) { n := math.NaN(); s.Z = [][]float64{{n, n}, {n, n}}; s.Limit = Limit{AtLeast, 1} },
		"off it":     func(s *MapSpec) { s.Points = []MapPoint{{X: 9, Y: 9}} },
	} {
		spec := ok()
		change(&spec)
		if _, err := Map(spec); err != nil {
			t.Errorf("%s is refused: %v", name, err)
		}
	}
}

func FuzzMap(f *testing.F) {
	f.Add("hot idle", 0.5, 1.0, 1.5, 2.0, 0.3, 1.0, 366.0, true)
	f.Add("", math.NaN(), 1.0, 1.0, 1.0, 0.0, 1.0, 720.0, false)
	f.Fuzz(func(t *testing.T, name string, a, b, c, d, pm, limit, w float64, least bool) {
		spec := MapSpec{Title: name, W: w, Value: name, Unit: name, X: Axis{Label: name, Unit: name}, Xs: []float64{0, 1, 3}, Ys: []float64{0, 2},
			Z: [][]float64{{a, b, c}, {d, a, b}}, PM: [][]float64{{pm, pm, 0}, {pm, 0, pm}}, Limit: Limit{AtMost, limit},
			Points: []MapPoint{{Name: name, X: a, Y: b, Text: name}, {Name: name, X: 1, Y: 1, Mark: MarkShort}}}
		if least {
			spec.Limit.Side = AtLeast
		}
		s, err := Map(spec)
		var se *SpecError
		if err != nil {
			if !errors.As(err, &se) {
				t.Fatal(err)
			}
			return
		}
		readSVG(t, []byte(svgOf(t, s, SVGOptions{})))
	})
}

func BenchmarkMapToSVG(b *testing.B) {
	spec := sparkMap(366)
	b.ReportAllocs()
	for b.Loop() {
		s, err := Map(spec)
		if err != nil {
			b.Fatal(err)
		}
		svgOf(b, s, SVGOptions{})
	}
}
