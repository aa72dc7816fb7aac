package draw

import (
	"math"
	"sort"
	"strconv"
)

// Room in user units for what has no size of its own.
const (
	topElectrode = 8.0  // how far an electrode reaches outwards
	topWindowGap = 5.0  // from there to the window's arc
	topNumber    = 12.0 // radius of a tower's number
	topBand      = 28.0 // what stands outside the housing, inwards to outwards
	topLead      = 38.0 // words of a lead beside that
)

// DistributorTop draws the spec, true to scale: every radius, width and angle
// that the spec gives stands in the scene as it is, Placed.Scale units to the
// metre. What has no size in the spec, the numbers of the towers, how far an
// electrode or the can reaches outwards, is as large as it must be to be
// read.
//
// The groups have the IDs tower-1 and so on, rotor, rotor-full, sweep,
// window, trigger, ring, pivot, housing, clamp, can, can-new, turn, leads,
// obstacle- and its ID, rotation, front and scale-bar; each one's first item
// is its outline. An error is a *SpecError.
func DistributorTop(spec DistributorTopSpec) (Scene, Placed, error) {
	if spec.W == 0 {
		spec.W = 620
	}
	spec.Front = orWord(spec.Front, "front of the car")
	if err := spec.check(); err != nil {
		return Scene{}, Placed{}, err
	}
	d := topDrawing{DistributorTopSpec: spec}
	d.s = Scene{W: spec.W, Title: spec.Title}
	top := heading(&d.s) + 4
	d.settle(top)
	d.rows()
	d.s.Desc = d.words()

	d.outside()
	d.body()
	d.inside()
	d.rotor()
	d.towers()
	d.turn()
	d.leads()
	d.room.area = Box{Point{2, top}, Point{spec.W - 2, d.foot}}
	d.room.take(d.s.Items...)
	d.frame(top)
	d.leadWords()
	callAll(&d.s, &d.room, d.list, d.marks)
	y := keyList(&d.s, d.list, d.foot+6)
	d.s.H = d.notes(y+4) + 8
	return d.s, Placed{d.scale, d.p.x, d.p.y}, nil
}

// topDrawing is a spec with its scale, in the making.
type topDrawing struct {
	DistributorTopSpec
	s     Scene
	p     polar
	scale float64
	foot  float64 // where the picture ends and the list begins
	room  room
	list  []keyRow
	marks []callout // one to each row of the list that has a place in the picture

	number float64   // radius on which the towers' numbers stand
	spots  []float64 // and their angles, kept apart
	rim    float64   // inner edge of what stands outside the housing
	out    float64   // and its outer edge
}

func (d *topDrawing) add(id, label string, items ...Item) {
	d.s.Items = append(d.s.Items, Group{ID: id, Label: label, Items: items})
}

// settle chooses the scale, the largest at which everything stands within
// the width, and the radii that have none of their own.
func (d *topDrawing) settle(top float64) {
	half := d.W/2 - 4
	hasLead := false
	for _, t := range d.Towers {
		hasLead = hasLead || t.Lead != ""
	}
	if hasLead {
		half -= topLead
	}
	outside := d.Can != nil || len(d.Obstacles) > 0
	if outside {
		half -= topBand + 5
	}
	half = math.Min(half, 230) // a larger one says no more
	// number+topNumber must stay within half, and number lies outside the
	// window's arc and the clamp circle.
	d.scale = math.Inf(1)
	fit := func(r, extra float64) {
		if r > 0 {
			d.scale = math.Min(d.scale, (half-extra)/r)
		}
	}
	// The numbers stand outside the electrodes and the window's arc, where
	// they keep clear of the clamp circle and of what reaches out so far.
	const beyond = topElectrode + topWindowGap + 3
	fit(d.HousingRadiusM, 0)
	fit(d.ElectrodeRadiusM, beyond+2*topNumber)
	type reach struct{ from, to, pad float64 }
	var taken []reach
	keep := func(from, to, pad float64) {
		taken = append(taken, reach{from, to, pad})
		fit(to, pad+2*topNumber)
	}
	if c := d.ClampRadiusM; c > 0 {
		keep(c, c, 8)
	}
	if t := d.Trigger; t != nil {
		keep(t.RadiusM, math.Hypot(t.RadiusM+t.DepthM, t.WidthM/2), 4)
	}
	if g := d.Ring; g != nil {
		keep(0, g.RadiusM, 4)
	}
	if p := d.Pivot; p != nil {
		keep(p.RadiusM, p.RadiusM, 9)
	}
	sort.Slice(taken, func(i, j int) bool { return taken[i].from < taken[j].from })
	px := func(m float64) float64 { return m * d.scale }
	d.number = px(d.ElectrodeRadiusM) + beyond + topNumber
	for again := true; again; {
		again = false
		for _, t := range taken {
			if lo, hi := px(t.from)-t.pad, px(t.to)+t.pad; hi > d.number-topNumber+1e-9 && lo < d.number+topNumber {
				d.number, again = hi+topNumber, true
			}
		}
	}
	d.spread()
	rim := math.Max(px(d.HousingRadiusM), d.number+topNumber)
	d.rim = rim + 5
	d.out = rim
	if outside {
		d.out = d.rim + topBand
	}
	if hasLead {
		d.out += 22 // above and below; there is more beside
	}
	d.p = polar{d.W / 2, top + 26 + d.out}
	d.foot = d.p.y + d.out + 8
	if outside {
		d.out = d.rim + topBand
	}
}

// spread keeps the towers' numbers clear of one another: a number stands at
// its tower's angle unless a neighbour is too near.
func (d *topDrawing) spread() {
	n := len(d.Towers)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool {
		return turn360(d.Towers[order[a]].Angle) < turn360(d.Towers[order[b]].Angle)
	})
	at := make([]float64, n)
	for k, i := range order {
		at[k] = turn360(d.Towers[i].Angle)
	}
	least := 2 * math.Asin(math.Min(1, (topNumber+2)/d.number)) * 180 / math.Pi
	for range 400 {
		moved := false
		for k := range at {
			if n < 2 {
				break
			}
			j := (k + 1) % n
			gap := at[j] - at[k]
			if j == 0 {
				gap += 360
			}
			if short := least - gap; short > 1e-6 {
				at[k] -= short / 2
				at[j] += short / 2
				moved = true
			}
		}
		if !moved {
			break
		}
	}
	d.spots = make([]float64, n)
	for k, i := range order {
		d.spots[i] = at[k]
	}
}

// body is the housing, as a ring with its notch, and the clamp circle. The
// ring is left open where the number of a tower stands on it.
func (d *topDrawing) body() {
	r := d.HousingRadiusM * d.scale
	st := Style{Stroke: Ink, Width: 2}
	ring := Path{Style: st}
	for _, g := range d.gaps(r) {
		a := d.p.at(r, g[0])
		ring.MoveTo(a.X, a.Y)
		piece := Path{}
		d.p.arc(&piece, r, g[0], g[1])
		ring.Segs = append(ring.Segs, piece.Segs[1:]...)
	}
	items := []Item{ring}
	if d.clearOfNumbers(r, d.HousingAt, 6) {
		w := math.Asin(math.Min(1, 4.5/r)) * 180 / math.Pi
		items = append(items, Polyline{Closed: true, Style: Style{Fill: Ink}, Points: []Point{d.p.at(r-9, d.HousingAt), d.p.at(r, d.HousingAt-w), d.p.at(r, d.HousingAt+w)}})
	}
	d.add("housing", "housing, its zero at "+degrees(d.HousingAt), items...)
	if c := d.ClampRadiusM * d.scale; c > 0 {
		d.add("clamp", "circle of the clamp", d.p.stroke(c, 0, 360, Style{Stroke: Muted, Dash: Dotted}))
	}
}

// gaps is the pieces of a circle of radius r that keep clear of the numbers,
// as angles clockwise.
func (d *topDrawing) gaps(r float64) [][2]float64 {
	keep := topNumber + 2.5
	n := d.number
	// |r e^ia - n e^ib|² = keep² gives cos(a-b).
	c := (r*r + n*n - keep*keep) / (2 * r * n)
	if c >= 1 {
		return [][2]float64{{0, 360}}
	}
	half := math.Acos(math.Max(-1, c)) * 180 / math.Pi
	at := append([]float64(nil), d.spots...)
	for i := range at {
		at[i] = turn360(at[i])
	}
	sort.Float64s(at)
	var out [][2]float64
	for i := range at {
		to := at[(i+1)%len(at)]
		if i == len(at)-1 {
			to += 360
		}
		if from := at[i] + half; to-half > from+0.5 {
			out = append(out, [2]float64{from, to - half})
		}
	}
	return out
}

// clearOfNumbers reports whether a sign of half width w at (r, deg) keeps
// clear of the towers' numbers.
func (d *topDrawing) clearOfNumbers(r, deg, w float64) bool {
	a := d.p.at(r, deg)
	for _, s := range d.spots {
		b := d.p.at(d.number, s)
		if math.Hypot(a.X-b.X, a.Y-b.Y) < topNumber+w+3 {
			return false
		}
	}
	return true
}

// towers draws each electrode to scale, its number outside it, and the
// stroke between the two.
func (d *topDrawing) towers() {
	e := d.ElectrodeRadiusM * d.scale
	half := d.ElectrodeWidthM / d.ElectrodeRadiusM * 90 / math.Pi
	for i, t := range d.Towers {
		c := d.p.at(d.number, d.spots[i])
		ring := Style{Stroke: Ink, Width: 1.6, Fill: Panel}
		items := []Item{
			d.p.sector(e, e+topElectrode, t.Angle-half, t.Angle+half, Style{Stroke: Ink, Width: 0.6, Fill: Ink}),
			lineBetween(d.p.at(e+topElectrode, t.Angle), c, Style{Stroke: Ink, Width: 2.4}),
			Circle{X: c.X, Y: c.Y, R: topNumber, Style: ring},
		}
		if t.First {
			items = append(items, Circle{X: c.X, Y: c.Y, R: topNumber - 2.6, Style: Style{Stroke: Ink, Width: 1}})
		}
		items = append(items, Text{X: c.X, Y: c.Y + 4.2, S: t.Label, Size: 12, Anchor: Middle, Bold: true, Tone: Ink})
		d.add("tower-"+strconv.Itoa(i+1), d.towerWords(i), items...)
	}
	if w := d.Window; w != nil {
		at, r := d.Towers[w.Tower].Angle, e+topElectrode+topWindowGap
		st := Style{Stroke: Holds, Width: 2.6}
		arc := d.p.stroke(r, at-w.HalfDeg, at+w.HalfDeg, st)
		d.add("window", d.rowWords("window"), arc,
			lineBetween(d.p.at(e+2, at-w.HalfDeg), d.p.at(r, at-w.HalfDeg), Style{Stroke: Holds, Width: 1.4}),
			lineBetween(d.p.at(e+2, at+w.HalfDeg), d.p.at(r, at+w.HalfDeg), Style{Stroke: Holds, Width: 1.4}))
	}
}

// leads is an arrow from each number to the next one in the sense in which
// the leads move.
func (d *topDrawing) leads() {
	n := len(d.Towers)
	if d.Leads == 0 || n < 2 {
		return
	}
	sense := float64(d.Rotation)
	if d.Leads < 0 {
		sense = -sense
	}
	off := 2 * math.Asin(math.Min(1, (topNumber+3)/2/d.number)) * 180 / math.Pi
	r := d.leadRadius()
	var items []Item
	for i := range d.spots {
		next := 360.0
		for j := range d.spots {
			if j != i {
				next = math.Min(next, turn360(sense*(d.spots[j]-d.spots[i])))
			}
		}
		if next-2*off < 2 {
			continue
		}
		items = append(items, d.p.arrow(r, d.spots[i]+sense*off, d.spots[i]+sense*(next-off), Style{Stroke: Accent, Width: 2})...)
	}
	d.add("leads", d.rowWords("leads"), items...)
}

// leadRadius is where the arrows from number to number run: among them, but
// not on the housing's ring.
func (d *topDrawing) leadRadius() float64 {
	if h := d.HousingRadiusM * d.scale; math.Abs(d.number-h) < 6 {
		return h - 6
	}
	return d.number
}

// turn is the arrow along the clamp circle.
func (d *topDrawing) turn() {
	if t := d.Turn; t != nil {
		d.add("turn", d.rowWords("turn"), d.p.arrow(d.ClampRadiusM*d.scale, t.From, t.To, Style{Stroke: Accent, Width: 3})...)
	}
}
