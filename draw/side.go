package draw

import (
	"fmt"
	"math"
	"strings"
)

const sideMargin = 36.0 // beside the section, for letters

// DistributorSide draws the spec, true to scale along and across the shaft:
// a height z stands at Placed.Y - z*Placed.Scale, a radius r at Placed.X plus
// or minus r*Placed.Scale. How thick the cap is drawn and how far the shaft
// reaches down have no size.
//
// The groups have the IDs shaft, plate, sleeve, ring, sensor, rotor,
// rotor-old, tip, contact, cap, brush and gap- and the gap's ID; each one's
// first item is its outline. An error is a *SpecError.
func DistributorSide(spec DistributorSideSpec) (Scene, Placed, error) {
	if spec.W == 0 {
		spec.W = 620
	}
	if err := spec.check(); err != nil {
		return Scene{}, Placed{}, err
	}
	d := sideDrawing{DistributorSideSpec: spec}
	d.s = Scene{W: spec.W, Title: spec.Title}
	d.settle(heading(&d.s) + 10)
	d.rows()
	d.s.Desc = d.words()
	d.bodies()
	for i, g := range spec.Gaps {
		d.gap(i, g)
	}
	d.room.area = Box{Point{2, d.top - 8}, Point{spec.W - 2, d.foot + 4}}
	d.room.take(d.s.Items...)
	callAll(&d.s, &d.room, d.list, d.marks)
	y := keyList(&d.s, d.list, d.foot+8)
	for _, n := range append([]string{"True to scale."}, spec.Notes...) {
		for _, l := range Wrap(n, 12, spec.W-24, false) {
			y += 15
			d.s.Items = append(d.s.Items, Text{X: 12, Y: y + 4, S: l, Size: 12, Tone: Muted})
		}
	}
	d.s.H = y + 14
	return d.s, d.at, nil
}

// sideDrawing is a spec with its scale, in the making.
type sideDrawing struct {
	DistributorSideSpec
	s         Scene
	at        Placed
	top, foot float64
	wide      float64 // greatest radius, the cap's inside
	low       float64 // lowest height drawn
	room      room
	list      []keyRow
	marks     []callout
}

func (d *sideDrawing) x(r float64) float64 { return d.at.X + r*d.at.Scale }
func (d *sideDrawing) y(z float64) float64 { return d.at.Y - z*d.at.Scale }

const sideRoof = 7.0 // how thick the cap is drawn

// settle chooses the scale, the largest that fits the width and is not
// higher than a screen.
func (d *sideDrawing) settle(top float64) {
	r, lo, hi := d.extent()
	d.wide, d.low = r, lo
	scale := math.Min((d.W/2-sideMargin-sideRoof)/r, 430/(hi-lo))
	d.top = top
	d.at = Placed{scale, d.W / 2, top + sideRoof + 10 + hi*scale}
	d.foot = d.y(lo) + 18
}

// extent is the greatest radius and the lowest and highest height.
func (spec *DistributorSideSpec) extent() (r, lo, hi float64) {
	r = math.Max(spec.Contact.OuterM, spec.Rotor.RadiusM*1.05)
	lo = math.Min(spec.Rotor.Band.From, spec.Rotor.Band.From-spec.Rotor.LiftM)
	hi = math.Max(spec.RoofHeight, math.Max(spec.Rotor.Band.To, spec.ShaftTop))
	hi = math.Max(hi, math.Max(spec.Contact.Band.To, spec.Rotor.Tip.To))
	hi = math.Max(hi, spec.Rotor.Band.To-spec.Rotor.LiftM)
	for _, b := range spec.all() {
		r = math.Max(r, b.OuterM)
		lo, hi = math.Min(lo, b.Band.From), math.Max(hi, b.Band.To)
	}
	for _, g := range spec.Gaps {
		if g.Across {
			r = math.Max(r, math.Max(math.Abs(g.From), math.Abs(g.To)))
			lo, hi = math.Min(lo, g.At), math.Max(hi, g.At)
		} else {
			r = math.Max(r, math.Abs(g.At))
			lo, hi = math.Min(lo, math.Min(g.From, g.To)), math.Max(hi, math.Max(g.From, g.To))
		}
	}
	return r, lo, hi
}

// sidePart is a body with its ID.
type sidePart struct {
	id, name string
	*SideBody
}

func (spec *DistributorSideSpec) all() []sidePart {
	var out []sidePart
	for _, p := range []sidePart{
		{"plate", "plate", spec.Plate}, {"sleeve", "sleeve", spec.Sleeve}, {"ring", "magnets", spec.Ring},
		{"sensor", "sensor", spec.Sensor}, {"contact", "contact in the cap", &spec.Contact}, {"brush", "carbon brush", spec.Brush},
	} {
		if p.SideBody != nil {
			p.name = orWord(p.Name, p.name)
			out = append(out, p)
		}
	}
	return out
}

func (d *sideDrawing) add(id string, items ...Item) {
	label := ""
	for _, k := range d.list {
		if k.id == id {
			label = k.words()
		}
	}
	d.s.Items = append(d.s.Items, Group{ID: id, Label: label, Items: items})
}

// rect is the region between two radii, signed, and two heights.
func (d *sideDrawing) rect(r0, r1 float64, b SideBand, st Style) Rect {
	return Rect{X: d.x(r0), Y: d.y(b.To), W: d.x(r1) - d.x(r0), H: d.y(b.From) - d.y(b.To), Style: st}
}

// both is a body on both sides of the shaft; one piece where it has no hole.
func (d *sideDrawing) both(b *SideBody, st Style) []Item {
	if b.InnerM == 0 {
		return []Item{d.rect(-b.OuterM, b.OuterM, b.Band, st)}
	}
	return []Item{d.rect(b.InnerM, b.OuterM, b.Band, st), d.rect(-b.OuterM, -b.InnerM, b.Band, st)}
}

func (d *sideDrawing) bodies() {
	metal := Style{Stroke: Ink, Width: 1.4, Fill: Panel}
	r := d.Rotor
	// The cap: a roof with walls down to the contact.
	wall, roof := d.x(d.wide)+1, d.y(d.RoofHeight)
	foot := math.Max(d.y(d.Contact.Band.From), roof) + 14
	left := 2*d.at.X - wall
	d.add("cap", Polyline{Closed: true, Style: Style{Stroke: Ink, Width: 1.4, Fill: Shade}, Points: []Point{
		{left, foot}, {left, roof}, {wall, roof}, {wall, foot}, {wall + sideRoof, foot},
		{wall + sideRoof, roof - sideRoof}, {left - sideRoof, roof - sideRoof}, {left - sideRoof, foot}}})
	if p := d.Plate; p != nil {
		d.add("plate", d.both(p, metal)...)
	}
	// The shaft runs on below the picture.
	sx, end := d.ShaftRadiusM*d.at.Scale, d.y(d.low)+12
	d.add("shaft", Rect{X: d.at.X - sx, Y: d.y(d.ShaftTop), W: 2 * sx, H: end - d.y(d.ShaftTop), Style: Style{Stroke: Ink, Width: 1.4, Fill: Panel}},
		Line{d.at.X, d.y(d.ShaftTop) + 4, d.at.X, end, Style{Stroke: Muted, Dash: Dashed}})
	if p := d.Sleeve; p != nil {
		d.add("sleeve", d.both(p, Style{Stroke: Ink, Width: 1.4, Fill: Shade})...)
	}
	if p := d.Ring; p != nil {
		d.add("ring", d.both(p, Style{Stroke: Ink, Width: 1.4, Fill: Muted})...)
	}
	if p := d.Sensor; p != nil {
		d.add("sensor", d.rect(p.InnerM, p.OuterM, p.Band, Style{Stroke: SeriesC, Width: 1.8, Fill: Panel}),
			Line{d.x(p.InnerM), d.y(p.Band.From), d.x(p.InnerM), d.y(p.Band.To), Style{Stroke: SeriesC, Width: 3}})
	}
	if r.LiftM != 0 {
		st := Style{Stroke: Accent, Width: 1.4, Dash: Dotted}
		d.add("rotor-old", d.moulding(-r.LiftM, st), d.rect(-r.TipRadiusM, -r.RadiusM, SideBand{r.Tip.From - r.LiftM, r.Tip.To - r.LiftM}, st))
	}
	d.add("rotor", d.moulding(0, Style{Stroke: Ink, Width: 1.6, Fill: Shade}))
	d.add("tip", d.rect(-r.TipRadiusM, 0.25*r.RadiusM, r.Tip, Style{Stroke: Ink, Width: 1, Fill: SeriesB}))
	c := d.Contact
	d.add("contact", d.rect(-c.OuterM, -c.InnerM, c.Band, Style{Stroke: Ink, Width: 0.6, Fill: Ink}))
	if p := d.Brush; p != nil {
		d.add("brush", d.both(p, Style{Stroke: Ink, Width: 1.2, Fill: Muted})...)
	}
}

// moulding is the rotor's body cut open: its outline with the bore, up by so
// many metres.
func (d *sideDrawing) moulding(up float64, st Style) Polyline {
	r := d.Rotor
	x0, x1, b := d.at.X-r.RadiusM*d.at.Scale, d.x(r.RadiusM), d.ShaftRadiusM*d.at.Scale
	lo, hi, bore := d.y(r.Band.From+up), d.y(r.Band.To+up), d.y(r.BoreTop+up)
	return Polyline{Closed: true, Style: st, Points: []Point{
		{x0, lo}, {x0, hi}, {x1, hi}, {x1, lo}, {d.at.X + b, lo}, {d.at.X + b, bore}, {d.at.X - b, bore}, {d.at.X - b, lo}}}
}

// gap draws a measure: a stroke from one end to the other with heads at both,
// from outside where it is too short to hold them, and a cross stroke at
// either end.
func (d *sideDrawing) gap(i int, g SideGap) {
	a, b := Point{d.x(g.At), d.y(g.From)}, Point{d.x(g.At), d.y(g.To)}
	if g.Across {
		a, b = Point{d.x(g.From), d.y(g.At)}, Point{d.x(g.To), d.y(g.At)}
	}
	st := Style{Stroke: Accent, Width: 1.6}
	u := Point{0, -1} // from a to b
	if g.Across {
		u = Point{1, 0}
	}
	long := (b.X-a.X)*u.X + (b.Y-a.Y)*u.Y
	if long < 0 {
		u, long = Point{-u.X, -u.Y}, -long
	}
	v := Point{-u.Y, u.X}
	at := func(p Point, along, aside float64) Point {
		return Point{p.X + along*u.X + aside*v.X, p.Y + along*u.Y + aside*v.Y}
	}
	const head, half = 6.0, 3.2
	items := []Item{lineBetween(a, b, st),
		lineBetween(at(a, 0, -6), at(a, 0, 6), Style{Stroke: Accent}), lineBetween(at(b, 0, -6), at(b, 0, 6), Style{Stroke: Accent})}
	sense := 1.0
	if long < 2*head+3 {
		sense = -1
		items = append(items, lineBetween(at(a, -head, 0), at(a, -head-7, 0), st), lineBetween(at(b, head, 0), at(b, head+7, 0), st))
	}
	for _, e := range []struct {
		p Point
		s float64
	}{{a, sense}, {b, -sense}} {
		items = append(items, Polyline{Closed: true, Style: Style{Fill: Accent}, Points: []Point{e.p, at(e.p, e.s*head, half), at(e.p, e.s*head, -half)}})
	}
	d.add(d.gapID(i), items...)
}

func (spec *DistributorSideSpec) gapID(i int) string {
	id := spec.Gaps[i].ID
	if id == "" {
		id = fmt.Sprint(i)
	}
	return "gap-" + cleanID(id)
}

// rows lists the measures and then the bodies.
func (d *sideDrawing) rows() {
	put := func(id, name string, v Figure, at Point, near float64) {
		l := keyLetter(len(d.list))
		d.list = append(d.list, keyRow{id, l, name, v})
		short := ""
		if d.W >= 500 && TextWidth(name, 12, false) < 150 {
			short = name
		}
		c := callout{at: at, letter: l, name: short, near: near}
		if strings.HasPrefix(id, "gap-") {
			c.value = v
		}
		d.marks = append(d.marks, c)
	}
	for i, g := range d.Gaps {
		at := Point{d.x(g.At), d.y((g.From + g.To) / 2)}
		if g.Across {
			at = Point{d.x((g.From + g.To) / 2), d.y(g.At)}
		}
		put(d.gapID(i), orWord(g.Name, "clearance"), g.Value, at, 12)
	}
	r := d.Rotor
	put("rotor", orWord(r.Name, "rotor arm"), r.Value, Point{d.x(0.6 * r.RadiusM), d.y(r.Band.To - 0.3*(r.Band.To-r.BoreTop))}, 8)
	put("tip", "blade of the rotor", Figure{}, Point{d.x(-0.5 * (r.TipRadiusM + r.RadiusM)), d.y((r.Tip.From + r.Tip.To) / 2)}, 8)
	if r.LiftM != 0 {
		put("rotor-old", "where the rotor stood before", Figure{}, Point{d.x(0.8 * r.RadiusM), d.y(r.Band.From - r.LiftM)}, 8)
	}
	for _, p := range d.all() {
		at := Point{d.x((p.InnerM + p.OuterM) / 2), d.y((p.Band.From + p.Band.To) / 2)}
		switch p.id {
		case "contact":
			at.X = 2*d.at.X - at.X
		case "brush":
			at.X = d.at.X
		case "plate":
			at.X = d.x(-p.InnerM - 0.7*(p.OuterM-p.InnerM))
		}
		put(p.id, p.name, p.Value, at, 8)
	}
	put("shaft", "shaft", Figure{}, Point{d.at.X, d.y(d.low) + 8}, 8)
	put("cap", "cap", Figure{}, Point{d.x(0.6 * d.wide), d.y(d.RoofHeight) - sideRoof/2}, 8)
}

func (d *sideDrawing) words() string {
	mm := func(m float64) string { return figure(m*1000, "mm") }
	out := []string{"Distributor cut through its shaft, to scale."}
	for i, k := range d.list {
		facts := k.value.words()
		switch {
		case i < len(d.Gaps):
			facts = append([]string{"drawn " + mm(math.Abs(d.Gaps[i].To-d.Gaps[i].From))}, facts...)
		case k.id == "tip":
			facts = append([]string{"from height " + mm(d.Rotor.Tip.From) + " to " + mm(d.Rotor.Tip.To)}, facts...)
		case k.id == "rotor-old":
			facts = []string{mm(math.Abs(d.Rotor.LiftM)) + " " + map[bool]string{true: "lower", false: "higher"}[d.Rotor.LiftM > 0]}
		}
		for _, p := range d.all() {
			if p.id == k.id {
				facts = append([]string{"from height " + mm(p.Band.From) + " to " + mm(p.Band.To)}, facts...)
			}
		}
		out = append(out, sentence(k.name, facts))
	}
	return strings.Join(append(out, d.Notes...), " ")
}
