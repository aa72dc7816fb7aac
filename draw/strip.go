package draw

import (
	"fmt"
	"math"
	"strings"
)

// PhaseStripSpec is one tower of the cap laid out flat: where the rotor's tip
// stands when the spark jumps, in degrees past the tower's middle in the
// direction of rotation, short of it below 0.
type PhaseStripSpec struct {
	Title        string
	W            float64 // width of the picture; 0 means 390
	PitchDeg     float64 // to the neighbouring towers; the axis runs half of it to either side
	ElectrodeDeg float64 // width of an electrode
	TipDeg       float64 // width of the tip; 0: only its middle is drawn
	RestDeg      float64 // middle of the tip with the vacuum off
	FullDeg      float64 // and at full vacuum; the same as RestDeg: no vacuum advance
	PM           float64 // half width of either, not negative
	Origin       Origin
	OverlapDeg   float64 // the tip's middle up to here overlaps the tower
	JumpDeg      float64 // and up to here the spark still jumps with voltage to spare; 0: not said
	Tower        string  // over the electrode, "1"; empty: "tower"
	Before, Next string  // the neighbours against and in the direction of rotation
	Verdict      string  // in words, "in register over the whole vacuum travel"
	Mark         CellMark
}

func (spec *PhaseStripSpec) check() error {
	bad := func(where, format string, a ...any) error { return &SpecError{where, fmt.Sprintf(format, a...)} }
	switch {
	case !(spec.W >= 240 && spec.W <= 4000):
		return bad("w", "is %v; want 240 to 4000", spec.W)
	case !(spec.PitchDeg >= 5 && spec.PitchDeg <= 360):
		return bad("pitch", "is %v degrees; want 5 to 360", spec.PitchDeg)
	case !(spec.ElectrodeDeg > 0 && spec.ElectrodeDeg < spec.PitchDeg):
		return bad("electrode", "is %v degrees wide; want above 0 and below the pitch", spec.ElectrodeDeg)
	case !(spec.TipDeg >= 0 && spec.TipDeg <= 180):
		return bad("tip", "is %v degrees wide; want 0 to 180", spec.TipDeg)
	case !(math.Abs(spec.RestDeg) <= 360 && math.Abs(spec.FullDeg) <= 360):
		return bad("tip", "stands at %v and at full vacuum at %v degrees; want -360 to 360", spec.RestDeg, spec.FullDeg)
	case !(spec.PM >= 0 && spec.PM <= 360):
		return bad("plus-or-minus", "is %v degrees; want 0 to 360", spec.PM)
	case !(spec.OverlapDeg >= 0 && spec.OverlapDeg <= 360):
		return bad("overlap", "reaches %v degrees to either side; want 0 to 360", spec.OverlapDeg)
	case spec.JumpDeg != 0 && !(spec.JumpDeg >= spec.OverlapDeg && spec.JumpDeg <= 360):
		return bad("jump", "reaches %v degrees to either side; want the overlap's %v or more, up to 360", spec.JumpDeg, spec.OverlapDeg)
	case spec.Origin >= originCount || spec.Mark >= markCount:
		return bad("figure", "has a mark or an origin that does not exist")
	}
	return nil
}

// PhaseStrip draws the spec. The groups have the IDs electrode, overlap, jump,
// rest and full for the tip's middle, tip and tip-full for its width, and
// travel. An error is a *SpecError.
func PhaseStrip(spec PhaseStripSpec) (Scene, error) {
	if spec.W == 0 {
		spec.W = 390
	}
	if err := spec.check(); err != nil {
		return Scene{}, err
	}
	const names = 84.0 // room for the names of the lanes
	d := stripDrawing{PhaseStripSpec: spec, x0: 12 + names, x1: spec.W - 16}
	d.s = Scene{W: spec.W, Title: spec.Title, Desc: spec.words()}
	d.y = heading(&d.s)
	d.verdict()
	d.towers()
	edges := d.y + 12 // where the window's edges begin
	d.window("overlap", "overlaps", spec.OverlapDeg, Style{Stroke: Holds, Width: 1.4, Fill: Wanted})
	if spec.JumpDeg > 0 {
		d.window("jump", "still jumps", spec.JumpDeg, Style{Stroke: Doubtful, Width: 1.4})
	}
	d.tip("rest", "tip", "vacuum off", spec.RestDeg)
	if spec.FullDeg != spec.RestDeg {
		from := d.y
		d.tip("full", "tip-full", "full vacuum", spec.FullDeg)
		if d.shows(spec.RestDeg) && d.shows(spec.FullDeg) {
			d.add("travel", "the way as the vacuum comes", Line{d.at(spec.RestDeg), from + 13, d.at(spec.FullDeg), d.y - 8, Style{Stroke: Accent, Dash: Dotted, Width: 1.4}})
		}
	}
	d.axis(edges)
	d.s.H = d.y
	return d.s, nil
}

// stripDrawing is a spec in the making; y is how far down it has come.
type stripDrawing struct {
	PhaseStripSpec
	s         Scene
	x0, x1, y float64
}

func (d *stripDrawing) at(deg float64) float64 { return d.x0 + (deg/d.PitchDeg+0.5)*(d.x1-d.x0) }

// within is at, kept to the ends of the axis.
func (d *stripDrawing) within(deg float64) float64 {
	return math.Min(math.Max(d.at(deg), d.x0), d.x1)
}

func (d *stripDrawing) shows(deg float64) bool { return math.Abs(deg) <= d.PitchDeg/2 }

func (d *stripDrawing) add(id, label string, items ...Item) {
	d.s.Items = append(d.s.Items, Group{ID: id, Label: label, Items: items})
}

// lane begins a lane so far below the one before it, and writes its name.
func (d *stripDrawing) lane(down float64, name string) {
	d.y += down
	d.s.Items = append(d.s.Items, Text{X: 12, Y: d.y + 4, S: name, Size: 12, Tone: Ink})
}

// verdict comes first, with its sign.
func (d *stripDrawing) verdict() {
	x := 12.0
	if d.Mark != MarkNone {
		d.s.Items = append(d.s.Items, Mark(d.Mark, x+9, d.y+16, 18))
		x += 25
	}
	d.y += 4
	lines := Wrap(orWord(d.Verdict, d.Mark.String()), 13, d.W-12-x, true)
	for _, l := range lines {
		d.y += 16
		d.s.Items = append(d.s.Items, Text{X: x, Y: d.y, S: clip(l, 13, d.W-12-x, true), Size: 13, Bold: true, Tone: Ink})
	}
}

// towers draws this tower's electrode, and where its neighbours are.
func (d *stripDrawing) towers() {
	d.lane(28, "towers")
	a, b := d.at(-d.ElectrodeDeg/2), d.at(d.ElectrodeDeg/2)
	word := Text{X: d.at(0), Y: d.y - 10, S: clip(orWord(d.Tower, "tower"), 12, d.x1-d.x0, true), Size: 12, Anchor: Middle, Bold: true, Tone: Ink}
	d.add("electrode", strings.TrimSpace("electrode of the tower "+d.Tower), Rect{X: a, Y: d.y - 6, W: b - a, H: 12, Style: Style{Fill: Ink}}, word)
	for _, n := range []struct {
		word string
		edge float64
		in   float64
		a    Anchor
	}{{d.Before, d.x0, 1, Start}, {d.Next, d.x1, -1, End}} {
		t := Text{X: n.edge + 9*n.in, Y: d.y + 4, S: n.word, Size: 12, Anchor: n.a, Tone: Muted}
		if box := t.Bounds(); n.word == "" || box.Max.X > a-4 && box.Min.X < b+4 {
			continue // no room beside this tower; the words say it
		}
		d.s.Items = append(d.s.Items, t, Polyline{Points: []Point{{n.edge + 5*n.in, d.y - 5}, {n.edge, d.y}, {n.edge + 5*n.in, d.y + 5}}, Style: Style{Stroke: Muted, Width: 1.4}})
	}
}

// window is how far the tip's middle may stand to either side; a doubtful one
// is hatched.
func (d *stripDrawing) window(id, name string, reach float64, st Style) {
	d.lane(22, name)
	a, b := d.within(-reach), d.within(reach)
	items := []Item{Rect{X: a, Y: d.y - 6, W: b - a, H: 12, R: 2, Style: st}}
	if st.Fill == None {
		path := Path{Style: Style{Stroke: st.Stroke}}
		for x := a + 3; x+6 < b; x += 8 {
			path.MoveTo(x, d.y+5)
			path.LineTo(x+6, d.y-5)
		}
		items = append(items, path)
	}
	d.add(id, name+" up to "+degrees(reach)+" to either side", items...)
}

// tip is where the tip stands: its middle with its interval, ending in an
// open arrow head where it runs off the axis, and its width below that.
func (d *stripDrawing) tip(id, width, name string, deg float64) {
	d.lane(26, name)
	if d.TipDeg > 0 {
		a, b := d.within(deg-d.TipDeg/2), d.within(deg+d.TipDeg/2)
		d.add(width, "width of the tip", Rect{X: a, Y: d.y + 7, W: b - a, H: 4, Style: Style{Fill: SeriesB}})
	}
	st := Style{Stroke: d.Origin.tone(), Width: 2}
	lo, hi, y := deg-d.PM, deg+d.PM, d.y
	edge := d.PitchDeg / 2
	var items []Item
	if hi >= -edge && lo <= edge {
		items = append(items, Line{d.within(lo), y, d.within(hi), y, st})
	}
	for _, e := range []float64{lo, hi} {
		if d.shows(e) && d.PM > 0 {
			items = append(items, Line{d.at(e), y - 5, d.at(e), y + 5, st})
		}
	}
	if lo < -edge {
		items = append(items, Polyline{Points: []Point{{d.x0 + 6, y - 5}, {d.x0, y}, {d.x0 + 6, y + 5}}, Style: st})
	}
	if hi > edge {
		items = append(items, Polyline{Points: []Point{{d.x1 - 6, y - 5}, {d.x1, y}, {d.x1 - 6, y + 5}}, Style: st})
	}
	if d.shows(deg) {
		x := d.at(deg)
		items = append(items, Polyline{Closed: true, Style: Style{Fill: st.Stroke}, Points: []Point{{x, y - 6}, {x + 6, y}, {x, y + 6}, {x - 6, y}}})
	}
	d.add(id, name+": "+d.stands(deg), items...)
}

// axis draws the degrees, the edges of the overlap down to them from edges,
// and the figures in words.
func (d *stripDrawing) axis(edges float64) {
	d.y += 18
	y := d.y
	d.s.Items = append(d.s.Items, Line{d.x0, y, d.x1, y, Style{Stroke: Muted, Width: 1.4}})
	half := d.PitchDeg / 2
	ts, step := ticks(-half, half, max(3, int((d.x1-d.x0)/60)))
	for _, t := range inside(ts, -half, half) {
		l := Text{X: d.at(t), Y: y + 17, S: tickLabel(t, step) + "°", Size: 12, Anchor: Middle, Tone: Muted}
		if over := l.Bounds().Max.X - d.W + 2; over > 0 {
			l.X -= over
		}
		d.s.Items = append(d.s.Items, Line{d.at(t), y, d.at(t), y + 4, Style{Stroke: Muted}}, l)
	}
	if d.OverlapDeg < half {
		guide := Path{Style: Style{Stroke: Holds, Dash: Dotted}}
		for _, e := range []float64{-d.OverlapDeg, d.OverlapDeg} {
			guide.MoveTo(d.at(e), edges)
			guide.LineTo(d.at(e), y)
		}
		d.s.Items = append(d.s.Items, guide)
	}
	y += 34
	d.s.Items = append(d.s.Items, Text{X: 12, Y: y, S: "short of the tower", Size: 12, Tone: Muted},
		Text{X: d.x1, Y: y, S: "past the tower", Size: 12, Anchor: End, Tone: Muted})
	y += 20
	d.s.Items = append(d.s.Items, chip(d.Origin, 12+chipSize/2, y-4))
	const x = 12.0 + chipSize + 6
	for _, l := range Wrap(d.figures(), 12, d.W-12-x, false) {
		d.s.Items = append(d.s.Items, Text{X: x, Y: y, S: l, Size: 12, Tone: Ink})
		y += 15
	}
	d.y = y
}

// stands says where the tip's middle is.
func (spec *PhaseStripSpec) stands(v float64) string {
	s := strings.Replace(plusMinus(math.Abs(v), spec.PM, ""), " ±", "° ±", 1) + "°"
	s = strings.ReplaceAll(s, " ", "\u00a0")
	switch {
	case v > 0:
		s += " past"
	case v < 0:
		s += " short"
	}
	return s
}

// figures is where the tip stands, in numbers.
func (spec *PhaseStripSpec) figures() string {
	out := "vacuum off " + spec.stands(spec.RestDeg)
	if spec.FullDeg != spec.RestDeg {
		out += ", full vacuum " + spec.stands(spec.FullDeg)
	}
	return out
}

func (spec *PhaseStripSpec) words() string {
	out := []string{sentence("rotor's tip at the tower", []string{spec.figures(), spec.Origin.String()})}
	if spec.Tower != "" {
		out = []string{sentence("rotor's tip at tower "+spec.Tower, []string{spec.figures(), spec.Origin.String()})}
	}
	facts := []string{"up to " + degrees(spec.OverlapDeg) + " to either side"}
	if spec.JumpDeg > 0 {
		facts = append(facts, "the spark still jumps up to "+degrees(spec.JumpDeg))
	}
	out = append(out, sentence("tip and tower overlap", facts))
	n := sentence("neighbouring towers", []string{"at " + degrees(spec.PitchDeg) + " to either side"})
	if spec.Before != "" && spec.Next != "" {
		n = sentence("neighbouring towers", []string{spec.Before + " at " + degrees(-spec.PitchDeg), spec.Next + " at " + degrees(spec.PitchDeg)})
	}
	out = append(out, n)
	if spec.Verdict != "" || spec.Mark != MarkNone {
		var m []string
		if spec.Mark != MarkNone {
			m = []string{spec.Mark.String()}
		}
		out = append(out, sentence(orWord(spec.Verdict, "verdict"), m))
	}
	return strings.Join(out, " ")
}
