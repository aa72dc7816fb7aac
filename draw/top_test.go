package draw

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// shape is one element of a written picture, with the points its outline runs
// through; curves are followed in small steps.
type shape struct {
	name string
	pts  []Point
	r    float64 // of a circle
}

// shapesByID reads a written picture again: what each group with an ID holds.
func shapesByID(t testing.TB, svg []byte) map[string][]shape {
	t.Helper()
	out := map[string][]shape{}
	var ids []string
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		switch v := tok.(type) {
		case xml.EndElement:
			if v.Name.Local == "g" {
				ids = ids[:len(ids)-1]
			}
		case xml.StartElement:
			a := map[string]string{}
			for _, x := range v.Attr {
				a[x.Name.Local] = x.Value
			}
			num := func(k string) float64 {
				f, err := strconv.ParseFloat(a[k], 64)
				if err != nil {
					t.Fatalf("%s of %s: %v", k, v.Name.Local, err)
				}
				return f
			}
			s := shape{name: v.Name.Local}
			switch v.Name.Local {
			case "g":
				ids = append(ids, strings.TrimPrefix(a["id"], "dw-"))
				continue
			case "line":
				s.pts = []Point{{num("x1"), num("y1")}, {num("x2"), num("y2")}}
			case "circle":
				s.pts, s.r = []Point{{num("cx"), num("cy")}}, num("r")
			case "rect":
				x, y := num("x"), num("y")
				s.pts = []Point{{x, y}, {x + num("width"), y}, {x + num("width"), y + num("height")}, {x, y + num("height")}}
			case "polyline", "polygon":
				f := numbers(t, a["points"])
				for i := 0; i+1 < len(f); i += 2 {
					s.pts = append(s.pts, Point{f[i], f[i+1]})
				}
			case "path":
				s.pts = readPath(t, a["d"])
			default:
				continue
			}
			for i := len(ids) - 1; i >= 0; i-- {
				if ids[i] != "" {
					out[ids[i]] = append(out[ids[i]], s)
					break
				}
			}
		}
	}
}

func numbers(t testing.TB, s string) []float64 {
	t.Helper()
	var out []float64
	for _, w := range strings.Fields(s) {
		f, err := strconv.ParseFloat(w, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, f)
	}
	return out
}

// readPath follows M, L, C and Z; each curve in 32 steps.
func readPath(t testing.TB, d string) []Point {
	t.Helper()
	var out []Point
	for d != "" {
		op := d[0]
		end := strings.IndexAny(d[1:], "MLCZ") + 1
		if end == 0 {
			end = len(d)
		}
		f := numbers(t, d[1:end])
		d = d[end:]
		switch op {
		case 'M', 'L':
			out = append(out, Point{f[0], f[1]})
		case 'C':
			a := out[len(out)-1]
			for i := 1; i <= 32; i++ {
				u := float64(i) / 32
				w := 1 - u
				out = append(out, Point{
					w*w*w*a.X + 3*w*w*u*f[0] + 3*w*u*u*f[2] + u*u*u*f[4],
					w*w*w*a.Y + 3*w*w*u*f[1] + 3*w*u*u*f[3] + u*u*u*f[5]})
			}
		}
	}
	return out
}

// seen is a point as radius in metres and angle clockwise from straight up.
func seen(p Point, at Placed) (r, deg float64) {
	dx, dy := p.X-at.X, p.Y-at.Y
	return math.Hypot(dx, dy) / at.Scale, turn360(math.Atan2(dx, -dy) * 180 / math.Pi)
}

// extent is the least and greatest radius of the points, and the angles that
// those near the radius r reach, as middle and half width.
func extent(pts []Point, at Placed) (least, most float64) {
	least = math.Inf(1)
	for _, p := range pts {
		r, _ := seen(p, at)
		least, most = math.Min(least, r), math.Max(most, r)
	}
	return least, most
}

func reachAt(pts []Point, at Placed, radius float64) (middle, half float64) {
	first, lo, hi := math.NaN(), 0.0, 0.0
	for _, p := range pts {
		r, a := seen(p, at)
		if math.Abs(r-radius)*at.Scale > 0.1 {
			continue
		}
		if math.IsNaN(first) {
			first = a
		}
		d := turn360(a-first+180) - 180
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	return turn360(first + (lo+hi)/2), (hi - lo) / 2
}

func length(pts []Point) float64 {
	sum := 0.0
	for i := 1; i < len(pts); i++ {
		sum += math.Hypot(pts[i].X-pts[i-1].X, pts[i].Y-pts[i-1].Y)
	}
	return sum
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.5g, want %.5g within %.2g", what, got, want, within)
	}
}

func nearAngle(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(apart(got, want) <= within) {
		t.Errorf("%s stands at %.3f°, want %.3f° within %.2g", what, got, turn360(want), within)
	}
}

// topSpec is an invented six-cylinder distributor with everything in it.
func topSpec(w float64) DistributorTopSpec {
	s := DistributorTopSpec{
		Title: "The distributor, as it would stand after the turn", W: w, Rotation: -1,
		HousingRadiusM: 0.038, HousingAt: 250, ClampRadiusM: 0.032, ElectrodeRadiusM: 0.0267, ElectrodeWidthM: 0.005,
		Rotor:     TopRotor{Angle: 37, TipRadiusM: 0.026, TipWidthM: 0.006, Value: Figure{"3° ± 2° short of the tower", Predicted, MarkHolds}},
		Full:      &TopAngle{Angle: 49, Value: Figure{"15° ± 2° short of the tower", Predicted, MarkDoubtful}},
		Window:    &TopWindow{Tower: 0, HalfDeg: 11.8, Value: Figure{Text: "11.8° to either side", Origin: Predicted}},
		Trigger:   &TopTrigger{Angle: 160, RadiusM: 0.0158, WidthM: 0.008, DepthM: 0.005, Value: Figure{"air gap 0.8 ± 0.3 mm", Measured, MarkHolds}},
		Ring:      &TopRing{RadiusM: 0.015, Alternating: true},
		Pivot:     &TopPivot{RadiusM: 0.022, Angle: 290},
		Can:       &TopArc{Name: "vacuum can", From: 225, To: 275},
		Obstacles: []TopArc{{ID: "hose", Name: "heater hose", From: 150, To: 175}, {ID: "manifold", Name: "inlet manifold", From: 300, To: 330}},
		Turn:      &TopTurn{From: 250, To: 275, Short: "25° clockwise", Value: Figure{Text: "25° ± 3° clockwise, 14.0 mm at the clamp", Origin: Predicted}},
		Leads:     1,
		Notes:     []string{"Turn the housing with the engine at rest."},
	}
	for i, c := range []int{1, 5, 3, 6, 2, 4} {
		s.Towers = append(s.Towers, TopTower{Angle: 34 - 60*float64(i), Label: strconv.Itoa(c), Lead: fmt.Sprintf("cyl %d", c), First: i == 0, Order: i + 1})
	}
	for i := range 12 {
		s.Ring.Angles = append(s.Ring.Angles, 10+30*float64(i))
	}
	return s
}

// Everything that has a size stands to scale in the written picture, and
// everything that has a direction points there.
func TestDistributorTopIsToScale(t *testing.T) {
	for _, w := range []float64{390, 620} {
		spec := topSpec(w)
		s, at, err := DistributorTop(spec)
		if err != nil {
			t.Fatal(err)
		}
		got := shapesByID(t, []byte(svgOf(t, s, SVGOptions{})))
		mm := 0.02 / at.Scale // what writing to a hundredth of a unit may cost, in metres
		e, tip := spec.ElectrodeRadiusM, spec.Rotor.TipRadiusM
		for i, tower := range spec.Towers {
			pts := got[fmt.Sprintf("tower-%d", i+1)][0].pts
			inner, _ := extent(pts, at)
			near(t, "electrode radius", inner, e, e*3e-4+mm)
			mid, half := reachAt(pts, at, e)
			nearAngle(t, "tower", mid, tower.Angle, 0.1)
			near(t, "electrode width", 2*half*math.Pi/180*e, spec.ElectrodeWidthM, 2*mm)
		}
		rotor := got["rotor"][0].pts
		_, far := extent(rotor, at)
		near(t, "tip radius", far, tip, tip*3e-4+mm)
		mid, half := reachAt(rotor, at, tip)
		nearAngle(t, "rotor", mid, spec.Rotor.Angle, 0.1)
		near(t, "tip width", 2*half*math.Pi/180*tip, spec.Rotor.TipWidthM, 2*mm)
		mid, _ = reachAt(got["rotor-full"][0].pts, at, tip)
		nearAngle(t, "rotor at full vacuum", mid, spec.Full.Angle, 0.1)

		// The air gap between tip and electrode, in the picture's own units.
		first, _ := extent(got["tower-1"][0].pts, at)
		near(t, "gap from tip to tower", first-far, e-tip, 2*mm)
		near(t, "tip over electrode radius", far/first, tip/e, 1e-3)

		near(t, "the way to full vacuum", arcDegrees(got["sweep"][0].pts, at), 12, 0.1)
		near(t, "window", arcDegrees(got["window"][0].pts, at), 2*spec.Window.HalfDeg, 0.1)
		turn := got["turn"][0].pts
		near(t, "turn at the clamp", length(turn)/at.Scale, 0.032*25*math.Pi/180, 2*mm) // 14.0 mm
		_, a0 := seen(turn[0], at)
		_, a1 := seen(turn[len(turn)-1], at)
		nearAngle(t, "begin of the turn", a0, 250, 0.1)
		nearAngle(t, "end of the turn", a1, 275, 0.1)

		for id, want := range map[string][2]float64{"can": {225, 275}, "can-new": {250, 300}, "obstacle-hose": {150, 175}, "obstacle-manifold": {300, 330}} {
			pts := got[id][0].pts
			_, r := extent(pts, at)
			mid, half := reachAt(pts, at, r)
			nearAngle(t, id, mid, (want[0]+want[1])/2, 0.1)
			near(t, id+" degrees", 2*half, want[1]-want[0], 0.2)
			if in, _ := extent(pts, at); in < spec.HousingRadiusM {
				t.Errorf("%s reaches into the housing", id)
			}
		}
		face := got["trigger"][1].pts // the face's stroke
		m := Point{(face[0].X + face[1].X) / 2, (face[0].Y + face[1].Y) / 2}
		r, a := seen(m, at)
		near(t, "trigger's face", r, spec.Trigger.RadiusM, mm)
		nearAngle(t, "trigger", a, spec.Trigger.Angle, 0.1)
		near(t, "trigger's width", length(face)/at.Scale, spec.Trigger.WidthM, 2*mm)
		near(t, "magnet ring", got["ring"][0].r/at.Scale, spec.Ring.RadiusM, mm)
		if n := len(got["ring"]) - 2; n != 12 {
			t.Errorf("%d magnets are drawn, want 12", n)
		}
		for i, magnet := range got["ring"][2:] {
			mid, _ := reachAt(magnet.pts, at, spec.Ring.RadiusM)
			nearAngle(t, "magnet", mid, spec.Ring.Angles[i], 0.1)
		}
		r, a = seen(got["pivot"][0].pts[0], at)
		near(t, "pivot", r, spec.Pivot.RadiusM, mm)
		nearAngle(t, "pivot", a, spec.Pivot.Angle, 0.1)
		_, far = extent(got["housing"][0].pts, at)
		near(t, "housing", far, spec.HousingRadiusM, 0.038*3e-4+mm)
		bar := got["scale-bar"][0].pts
		if long := (bar[2].X - bar[1].X) / at.Scale; !strings.Contains(svgOf(t, s, SVGOptions{}), ">"+figure(roundTo(long*1000, 2), "mm")+"<") {
			t.Errorf("the scale bar is %v m long and does not say so", long)
		}
	}
}

// arcDegrees is how far an arc runs about the centre, with its sense lost.
func arcDegrees(pts []Point, at Placed) float64 {
	sum := 0.0
	for i := 1; i < len(pts); i++ {
		_, a := seen(pts[i-1], at)
		_, b := seen(pts[i], at)
		sum += turn360(b-a+180) - 180
	}
	return math.Abs(sum)
}

// The arrows go the way the rotor turns: clockwise on the page is from x
// towards y.
func TestDistributorTopSenses(t *testing.T) {
	for _, sense := range []int8{1, -1} {
		spec := topSpec(620)
		spec.Rotation = sense
		s, at, err := DistributorTop(spec)
		if err != nil {
			t.Fatal(err)
		}
		got := shapesByID(t, []byte(svgOf(t, s, SVGOptions{})))
		for _, id := range []string{"rotation", "leads"} {
			pts := got[id][0].pts
			_, a := seen(pts[0], at)
			_, b := seen(pts[len(pts)-1], at)
			if d := turn360(b-a+180) - 180; d*float64(sense) <= 0 {
				t.Errorf("rotation %+d: the arrow of %s runs %.1f°", sense, id, d)
			}
		}
		word := map[int8]string{1: "turns clockwise", -1: "turns anticlockwise"}[sense]
		if !strings.Contains(s.Desc, word) {
			t.Errorf("%q is not said in %q", word, s.Desc)
		}
	}
}

// randomTop is a distributor as a car might have it, with what it has chosen
// at random.
func randomTop(r *rand.Rand) DistributorTopSpec {
	num := func(lo, hi float64) float64 { return lo + r.Float64()*(hi-lo) }
	n := []int{4, 6, 8}[r.IntN(3)]
	w := []float64{390, 620}[r.IntN(2)]
	e := num(0.02, 0.034)
	s := DistributorTopSpec{
		Title: "A distributor", W: w, Rotation: int8(1 - 2*r.IntN(2)),
		HousingRadiusM: e * num(0.9, 1.7), HousingAt: num(0, 360), ClampRadiusM: e * num(0.5, 1.5),
		ElectrodeRadiusM: e, ElectrodeWidthM: num(0.003, 0.006),
		Rotor: TopRotor{Angle: num(-360, 720), TipRadiusM: e - num(0.0003, 0.002), TipWidthM: num(0.003, 0.009), Value: Figure{"−4.5° ± 1.5°, short of the tower", Origin(r.IntN(4)), CellMark(r.IntN(5))}},
	}
	at := num(0, 360)
	for i := range n {
		s.Towers = append(s.Towers, TopTower{Angle: at + 360*float64(i)/float64(n) + num(-6, 6), Label: strconv.Itoa(i + 1), First: i == 0, Order: i + 1, Lead: fmt.Sprintf("cyl %d", i+1)})
	}
	maybe := func() bool { return r.IntN(4) > 0 }
	if maybe() {
		s.Full = &TopAngle{Angle: s.Rotor.Angle - float64(s.Rotation)*num(1, 15), Value: Figure{Text: "13° ± 2°"}}
	}
	if maybe() {
		s.Window = &TopWindow{Tower: r.IntN(n), HalfDeg: num(4, 20)}
	}
	if maybe() {
		s.Trigger = &TopTrigger{Angle: num(0, 360), RadiusM: 0.0158, WidthM: num(0.004, 0.01), DepthM: num(0.003, 0.008), Value: Figure{Text: "0.8 ± 0.3 mm", Origin: Measured}}
	}
	if maybe() {
		s.Ring = &TopRing{RadiusM: 0.015, Lobes: maybe(), Alternating: maybe()}
		for i := range n {
			s.Ring.Angles = append(s.Ring.Angles, at+360*float64(i)/float64(n))
		}
	}
	if maybe() {
		s.Pivot = &TopPivot{RadiusM: num(0.01, 0.03), Angle: num(0, 360)}
	}
	if maybe() {
		from := num(0, 360)
		s.Can = &TopArc{From: from, To: from + num(20, 80)}
	}
	for i := range r.IntN(4) {
		from := num(0, 360)
		s.Obstacles = append(s.Obstacles, TopArc{Name: []string{"heater hose", "firewall", "thermostat housing and its hose"}[i], From: from, To: from + num(5, 120)})
	}
	if maybe() {
		by := num(-60, 60)
		s.Turn = &TopTurn{From: s.HousingAt, To: s.HousingAt + by, Short: "25° clockwise", Value: Figure{Text: "25° ± 3° clockwise, 14.0 mm at the clamp", Origin: Predicted}}
	}
	if maybe() {
		s.Leads = 1 - r.IntN(3)
	}
	return s
}

// Nothing that is written lies on anything else, whatever the distributor.
func TestDistributorTopIsLegible(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	uncalled, called := 0, 0
	for i := range 120 {
		spec := randomTop(r)
		s, _, err := DistributorTop(spec)
		if err != nil {
			t.Fatalf("%d: %v", i, err)
		}
		checkLaid(t, fmt.Sprintf("%d, %v wide", i, spec.W), s)
		ids, _, _ := readSVG(t, []byte(svgOf(t, s, SVGOptions{})))
		for id := range ids {
			if k, ok := strings.CutPrefix(id, "dw-key-"); ok {
				if called++; ids["dw-call-"+k] == 0 {
					uncalled++
				}
			}
		}
		for k := range spec.Towers {
			if ids[fmt.Sprintf("dw-lead-%d", k+1)] == 0 {
				t.Errorf("%d: the lead of tower %d is not named", i, k+1)
			}
		}
		if t.Failed() {
			break
		}
	}
	if uncalled*100 > called {
		t.Errorf("%d of %d things in the list have no letter in the picture", uncalled, called)
	}
}

func TestDistributorTopRefuses(t *testing.T) {
	nan := math.NaN()
	for name, spoil := range map[string]func(*DistributorTopSpec){
		"narrow":             func(s *DistributorTopSpec) { s.W = 100 },
		"no rotation":        func(s *DistributorTopSpec) { s.Rotation = 0 },
		"NaN housing":        func(s *DistributorTopSpec) { s.HousingRadiusM = nan },
		"negative housing":   func(s *DistributorTopSpec) { s.HousingRadiusM = -0.04 },
		"NaN housing angle":  func(s *DistributorTopSpec) { s.HousingAt = nan },
		"huge clamp":         func(s *DistributorTopSpec) { s.ClampRadiusM = 3 },
		"no electrodes":      func(s *DistributorTopSpec) { s.ElectrodeRadiusM = 0 },
		"rotor too long":     func(s *DistributorTopSpec) { s.Rotor.TipRadiusM = 0.0267 },
		"NaN rotor":          func(s *DistributorTopSpec) { s.Rotor.Angle = nan },
		"no tip":             func(s *DistributorTopSpec) { s.Rotor.TipWidthM = 0 },
		"towers equal":       func(s *DistributorTopSpec) { s.Towers[3].Angle = s.Towers[1].Angle - 720 },
		"towers touch":       func(s *DistributorTopSpec) { s.Towers[3].Angle = s.Towers[1].Angle + 10 },
		"no towers":          func(s *DistributorTopSpec) { s.Towers = nil },
		"tower nowhere":      func(s *DistributorTopSpec) { s.Towers[0].Angle = math.Inf(1) },
		"long label":         func(s *DistributorTopSpec) { s.Towers[0].Label = "cylinder" },
		"leads round":        func(s *DistributorTopSpec) { s.Leads = 6 },
		"window nowhere":     func(s *DistributorTopSpec) { s.Window.Tower = 6 },
		"window empty":       func(s *DistributorTopSpec) { s.Window.HalfDeg = 0 },
		"trigger flat":       func(s *DistributorTopSpec) { s.Trigger.DepthM = 0 },
		"NaN trigger":        func(s *DistributorTopSpec) { s.Trigger.WidthM = nan },
		"no magnets":         func(s *DistributorTopSpec) { s.Ring.Angles = nil },
		"magnets equal":      func(s *DistributorTopSpec) { s.Ring.Angles[1] = s.Ring.Angles[0] },
		"can backwards":      func(s *DistributorTopSpec) { s.Can.To = s.Can.From - 1 },
		"can all round":      func(s *DistributorTopSpec) { s.Can.To = s.Can.From + 360 },
		"obstacle NaN":       func(s *DistributorTopSpec) { s.Obstacles[0].From = nan },
		"obstacles alike":    func(s *DistributorTopSpec) { s.Obstacles[1].ID = "hose" },
		"no turn":            func(s *DistributorTopSpec) { s.Turn.To = s.Turn.From },
		"turn without clamp": func(s *DistributorTopSpec) { s.ClampRadiusM = 0 },
		"bad origin":         func(s *DistributorTopSpec) { s.Rotor.Value.Origin = 9 },
		"bad mark":           func(s *DistributorTopSpec) { s.Full.Value.Mark = 9 },
		"far pivot":          func(s *DistributorTopSpec) { s.Pivot.RadiusM = 1 },
	} {
		spec := topSpec(620)
		spoil(&spec)
		var se *SpecError
		if _, _, err := DistributorTop(spec); !errors.As(err, &se) || se.Where == "" || se.What == "" {
			t.Errorf("%s: got %v, want a SpecError", name, err)
		}
	}
}

func TestDistributorTopSaysInWords(t *testing.T) {
	s, _, err := DistributorTop(topSpec(390))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"the rotor turns anticlockwise", "Tower marked 5: 334° clockwise from the front, lead to cyl 5, fires as number 2.",
		"Turn the housing: 25° ± 3° clockwise, 14.0 mm at the clamp predicted.", "15° ± 2° short of the tower predicted, doubtful.",
		"Heater hose: in the way from 150° to 175°.", "Each lead moves on by +1 tower.",
	} {
		if !strings.Contains(s.Desc, want) {
			t.Errorf("%q is missing from\n%s", want, s.Desc)
		}
	}
}

func TestDistributorTopGolden(t *testing.T) {
	for name, w := range map[string]float64{"phone": 390, "wide": 620} {
		s, _, err := DistributorTop(topSpec(w))
		if err != nil {
			t.Fatal(err)
		}
		golden(t, "top-"+name, s)
	}
}
