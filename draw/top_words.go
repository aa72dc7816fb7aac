package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// degrees writes an angle to a tenth.
func degrees(a float64) string {
	return minus(strconv.FormatFloat(math.Round(a*10)/10+0, 'f', -1, 64)) + "°"
}

// rows lists what the picture shows, in the order in which it matters, each
// with the place its letter belongs to.
func (d *topDrawing) rows() {
	put := func(id, name, short string, v Figure, at Point, near float64) {
		l := keyLetter(len(d.list))
		if short == "" {
			short = name
		}
		if d.W < 500 {
			short = ""
		}
		d.list = append(d.list, keyRow{id, l, name, v})
		d.marks = append(d.marks, callout{at: at, letter: l, name: short, near: near})
	}
	px := d.scale
	if t := d.Turn; t != nil {
		put("turn", orWord(t.Name, "turn the housing"), t.Short, t.Value, d.p.at(d.ClampRadiusM*px, (t.From+t.To)/2), 8)
	}
	if d.Leads != 0 && len(d.Towers) > 1 {
		put("leads", orWord(d.LeadsText, "each lead moves on by "+d.leadsBy()), d.leadsBy(), Figure{}, d.leadSpot(), 6)
	}
	r := d.Rotor
	put("rotor", orWord(r.Name, "rotor as the spark jumps"), "rotor", r.Value, d.p.at(0.6*r.TipRadiusM*px, r.Angle), 10)
	if f := d.Full; f != nil {
		put("rotor-full", orWord(f.Name, "rotor at full vacuum"), "full vacuum", f.Value, d.p.at(0.55*r.TipRadiusM*px, f.Angle), 10)
	}
	if w := d.Window; w != nil {
		put("window", orWord(w.Name, "tip and tower overlap"), "overlap", w.Value,
			d.p.at(d.ElectrodeRadiusM*px+topElectrode+topWindowGap, d.Towers[w.Tower].Angle+0.8*w.HalfDeg), 8)
	}
	if t := d.Trigger; t != nil {
		put("trigger", orWord(t.Name, "trigger"), orWord(t.Short, "trigger"), t.Value, d.p.at((t.RadiusM+t.DepthM*0.6)*px, t.Angle), 8)
	}
	if g := d.Ring; g != nil {
		name, short := "magnets on the shaft", "magnets"
		if g.Lobes {
			name, short = "cam", "cam"
		}
		put("ring", orWord(g.Name, name), short, g.Value, d.p.at(0.8*g.RadiusM*px, d.Rotor.Angle+180), 8)
	}
	if p := d.Pivot; p != nil {
		put("pivot", orWord(p.Name, "pin the plate swings on"), "pin", p.Value, d.p.at(p.RadiusM*px, p.Angle), 8)
	}
	mid := d.rim + topBand/2
	if c := d.Can; c != nil {
		at := (c.From + c.To) / 2
		name := orWord(c.Name, "vacuum can")
		put("can", name, name, c.Value, d.p.at(mid, at), -1)
		if t := d.Turn; t != nil {
			put("can-new", name+" after the turn", "after the turn", Figure{}, d.p.at(mid, at+t.To-t.From), -1)
		}
	}
	for i, o := range d.Obstacles {
		put(d.obstacleID(i), orWord(o.Name, "obstacle"), "", o.Value, d.p.at(d.rim+topBand, (o.From+o.To)/2), 6)
	}
}

func (d *topDrawing) leadsBy() string {
	n := d.Leads
	word := " towers"
	if n == 1 || n == -1 {
		word = " tower"
	}
	sign := "+"
	if n < 0 {
		sign, n = "−", -n
	}
	return sign + strconv.Itoa(n) + word
}

// leadSpot is the middle of the first arrow that moves a lead.
func (d *topDrawing) leadSpot() Point {
	sense := float64(d.Rotation)
	if d.Leads < 0 {
		sense = -sense
	}
	next := 360.0
	for j := 1; j < len(d.spots); j++ {
		next = math.Min(next, turn360(sense*(d.spots[j]-d.spots[0])))
	}
	return d.p.at(d.leadRadius(), d.spots[0]+sense*next/2)
}

// rowWords is what assistive technology says for a group.
func (d *topDrawing) rowWords(id string) string {
	for _, k := range d.list {
		if k.id == id {
			return k.words()
		}
	}
	return ""
}

func (d *topDrawing) towerWords(i int) string {
	t := d.Towers[i]
	facts := []string{degrees(turn360(t.Angle)) + " clockwise from the front"}
	if t.Lead != "" {
		facts = append(facts, "lead to "+t.Lead)
	}
	if t.Order > 0 {
		facts = append(facts, fmt.Sprintf("fires as number %d", t.Order))
	} else if t.First {
		facts = append(facts, "fires first")
	}
	return sentence("tower marked "+orWord(t.Label, "with nothing"), facts)
}

func (d *topDrawing) sense() string {
	if d.Rotation < 0 {
		return "anticlockwise"
	}
	return "clockwise"
}

// words is the picture in sentences.
func (d *topDrawing) words() string {
	out := []string{"Distributor from above, to scale, " + d.Front + " at the top; the rotor turns " + d.sense() + "."}
	for i := range d.Towers {
		out = append(out, d.towerWords(i))
	}
	for _, k := range d.list {
		facts := k.value.words()
		switch k.id {
		case "rotor":
			facts = append([]string{"stands at " + degrees(turn360(d.Rotor.Angle))}, facts...)
		case "rotor-full":
			facts = append([]string{"stands at " + degrees(turn360(d.Full.Angle))}, facts...)
		case "trigger":
			facts = append([]string{"stands at " + degrees(turn360(d.Trigger.Angle))}, facts...)
		case "can":
			facts = append([]string{"from " + degrees(turn360(d.Can.From)) + " to " + degrees(turn360(d.Can.To))}, facts...)
		case "can-new":
			by := d.Turn.To - d.Turn.From
			facts = append([]string{"from " + degrees(turn360(d.Can.From+by)) + " to " + degrees(turn360(d.Can.To+by))}, facts...)
		}
		for i := range d.Obstacles {
			if d.obstacleID(i) == k.id {
				o := d.Obstacles[i]
				facts = append([]string{"in the way from " + degrees(turn360(o.From)) + " to " + degrees(turn360(o.To))}, facts...)
			}
		}
		out = append(out, sentence(k.name, facts))
	}
	out = append(out, d.Notes...)
	return strings.Join(out, " ")
}

// frame draws what stands in the corners: where the front is, which way the
// rotor turns, and how long a round length is.
func (d *topDrawing) frame(top float64) {
	put := func(id, label string, items ...Item) {
		d.add(id, label, items...)
		d.room.take(items...)
	}
	y := top + 14
	x := d.p.x - TextWidth(d.Front, 12, true)/2 + 8
	put("front", d.Front, Polyline{Closed: true, Style: Style{Fill: Ink}, Points: []Point{{x - 11, y - 10}, {x - 5.5, y}, {x - 16.5, y}}},
		Text{X: x, Y: y, S: d.Front, Size: 12, Bold: true, Tone: Ink})
	words := []Item{
		Text{X: 12, Y: y, S: "rotor turns", Size: 12, Tone: Ink},
		Text{X: 12, Y: y + 15, S: d.sense(), Size: 12, Bold: true, Tone: Ink},
	}
	d.room.take(words...)
	// The arrow lies in the upper left, as near to the housing as it is free.
	from, to := -58.0, -32.0
	if d.Rotation < 0 {
		from, to = to, from
	}
	r := math.Max(d.HousingRadiusM*d.scale, d.number+topNumber) + 9
	for ; r < d.p.y-top-18 && !d.openArc(r, -58, -32); r += 3 {
	}
	put("rotation", "the rotor turns "+d.sense(), append(d.p.arrow(r, from, to, Style{Stroke: SeriesB, Width: 2.6}), words...)...)
	long := niceStep(50 / d.scale)
	for long*d.scale > 90 {
		long /= 2
	}
	lx, ly := 14.0, d.foot-2
	px := long * d.scale
	put("scale-bar", "scale", Polyline{Style: Style{Stroke: Ink, Width: 1.6}, Points: []Point{{lx, ly - 5}, {lx, ly}, {lx + px, ly}, {lx + px, ly - 5}}},
		Text{X: lx, Y: ly - 8, S: figure(long*1000, "mm"), Size: 12, Tone: Ink})
}

// openArc reports whether an arrow along a piece of a circle meets nothing.
func (d *topDrawing) openArc(r, from, to float64) bool {
	for a := from; a <= to; a += 2 {
		c := d.p.at(r, a)
		if !d.room.free(Box{Point{c.X - 5, c.Y - 5}, Point{c.X + 5, c.Y + 5}}) {
			return false
		}
	}
	return true
}

// leadWords writes where each lead goes, as near outside its tower as
// nothing else stands, with a stroke to it. The places of the letters are
// kept free, with room for a letter where one may stand on its place.
func (d *topDrawing) leadWords() {
	words := d.room.boxes
	for i, t := range d.Towers {
		if t.Lead == "" {
			continue
		}
		for _, letter := range []float64{badgeSize/2 + 3, 3.5} {
			d.room.boxes = words[:len(words):len(words)]
			for _, c := range d.marks {
				h := 3.5
				if c.near < 0 {
					h = letter
				}
				d.room.boxes = append(d.room.boxes, Box{Point{c.at.X - h, c.at.Y - h}, Point{c.at.X + h, c.at.Y + h}})
			}
			line, text, ok := d.leadPlace(i)
			d.room.boxes = words
			if ok {
				d.room.take(line, text)
				words = d.room.boxes
				d.add("lead-"+strconv.Itoa(i+1), t.Lead, line, text)
				break
			}
		}
	}
}

// leadPlace finds room for one lead's words.
func (d *topDrawing) leadPlace(i int) (Line, Text, bool) {
	t := d.Towers[i]
	w, h := TextWidth(t.Lead, 12, false)/2, 6.0
	from := d.p.at(d.number+topNumber, d.spots[i])
	// Straight out first, however far; then to either side.
	for k := 0; k < 9*40; k++ {
		r := d.number + topNumber + 6 + 4*float64(k%40)
		if r > d.out+70 {
			continue
		}
		for _, by := range [][]float64{{0, 4, -4}, {8, -8}, {12, -12}, {16, -16}, {20, -20}, {24, -24}, {28, -28}, {32, -32}, {36, -36}}[k/40] {
			a := d.spots[i] + by
			s, c := math.Sincos(a * math.Pi / 180)
			m := d.p.at(r+math.Abs(s)*w+math.Abs(c)*h, a) // clear of r by what the box reaches inwards
			b := Box{Point{m.X - w, m.Y - h}, Point{m.X + w, m.Y + h}}
			to := d.p.at(r-1.5, a)
			if d.room.free(b) && d.room.open(from, to) {
				return lineBetween(from, to, Style{Stroke: Muted, Width: 1.6}),
					Text{X: m.X, Y: m.Y + 0.26*12, S: t.Lead, Size: 12, Anchor: Middle, Tone: Ink}, true
			}
		}
	}
	return Line{}, Text{}, false
}

// notes explains the signs below the list.
func (d *topDrawing) notes(y float64) float64 {
	words := []string{"True to scale. The number in a tower is the cylinder its lead goes to."}
	for _, t := range d.Towers {
		if t.First {
			words[0] += " A double ring fires first."
			break
		}
	}
	for _, n := range append(words, d.Notes...) {
		for _, l := range Wrap(n, 12, d.W-24, false) {
			y += 15
			d.s.Items = append(d.s.Items, Text{X: 12, Y: y, S: l, Size: 12, Tone: Muted})
		}
	}
	return y
}
