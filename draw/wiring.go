package draw

import (
	"fmt"
	"math"
)

// Sizes of words in the wiring picture, user units.
const (
	labelSize = 12.0
	leastSize = 10.5 // a figure that does not fit is set this small before it is refused
	tagPad    = 5.0
	nodeR     = 4.0
	markSize  = 18.0
)

// Wiring draws a points-era primary circuit. The circuit's shape is known
// (see the package comment); the spec says which terminals and parts of it
// are there, and what is written beside them. Parts whose neighbours are
// missing close up: without a ballast, a wire from AtSwitchOut to AtCoilFeed
// runs all the way.
//
// Every node is a group with the ID "node-" and the node's ID, every part one
// with "part-" and the part's; characters other than letters, digits and '-'
// stand there as their code point, such as _5f_ for an underscore.
//
// An error is a *SpecError and names the node or part, and what would do.
func Wiring(spec WiringSpec) (Scene, error) {
	g := wideGrid()
	if spec.Tall {
		g = tallGrid()
	}
	if spec.Title == "" {
		spec.Title = "Wiring of the primary circuit"
	}
	if spec.EarthLabel == "" {
		spec.EarthLabel = "negative earth"
		if spec.PositiveEarth {
			spec.EarthLabel = "positive earth"
		}
	}
	d := wiringDrawing{spec: spec, g: g}
	if err := d.check(); err != nil {
		return Scene{}, err
	}
	if err := d.route(); err != nil {
		return Scene{}, err
	}
	s := Scene{W: g.w, Title: spec.Title, Desc: d.words()}
	earth := g.earth
	earth.S, earth.Size, earth.Bold, earth.Tone = spec.EarthLabel, labelSize, true, WireEarth
	room := min(g.titleW, earth.Bounds().Min.X-g.title.X-12)
	s.Items = append(s.Items, earth,
		Text{X: g.title.X, Y: g.title.Y, S: clip(spec.Title, g.titleSize, room, true), Size: g.titleSize, Bold: true, Tone: Ink})
	for i := range d.ways {
		it, err := d.part(&d.ways[i])
		if err != nil {
			return Scene{}, err
		}
		s.Items = append(s.Items, it)
	}
	for i := range spec.Nodes {
		it, err := d.node(i)
		if err != nil {
			return Scene{}, err
		}
		s.Items = append(s.Items, it)
	}
	legend, y := d.legend()
	s.Items = append(s.Items, legend)
	s.H = y + 10
	return s, nil
}

// wiringDrawing is a spec on its way to becoming a scene.
type wiringDrawing struct {
	spec  WiringSpec
	g     grid
	byID  map[string]int   // nodes by ID
	at    [placeCount]int  // nodes by place, plus one; 0 for none
	parts map[string]int   // parts by ID
	ways  []way            // drawn parts in order, meters left out
	uses  map[[2]Point]int // how many ways share a straight stretch
	taps  []Point          // live taps
	red   int              // node of the red lead plus one
	black int
	clamp int // part a clamp goes round plus one
	meter int // the meter plus one
}

// way is a part with the stretch of grid it takes.
type way struct {
	part int
	home run     // run that holds the symbol and words
	path []Point // from the grid's first end to its second
	back bool    // the part's From is at the second end
	used []int   // runs taken
}

func (d *wiringDrawing) place(nodeID string) Place { return d.spec.Nodes[d.byID[nodeID]].Place }

// route finds the stretch of grid each part takes.
func (d *wiringDrawing) route() error {
	taken := map[int]int{}
	for i, p := range d.spec.Parts {
		if p.Kind == Meter {
			continue
		}
		w, ok := d.find(p)
		if !ok {
			return d.partError(i, d.whereItGoes(p))
		}
		w.part = i
		for _, r := range w.used {
			if j, ok := taken[r]; ok {
				return d.partError(i, fmt.Sprintf("lies where %s is already; give each stretch one part", d.partName(j)))
			}
			taken[r] = i
		}
		d.ways = append(d.ways, w)
	}
	present := func(a, b Place) bool {
		for _, w := range d.ways {
			for _, r := range w.used {
				if d.g.runs[r].joins(a, b) {
					return true
				}
			}
		}
		return false
	}
	for _, w := range d.ways {
		for _, t := range w.home.taps {
			if present(t.a, t.b) {
				d.taps = append(d.taps, t.at)
			}
		}
	}
	d.uses = map[[2]Point]int{}
	for _, w := range d.ways {
		for _, s := range d.stretches(w.path) {
			d.uses[s.key()]++
		}
	}
	return nil
}

func (r run) joins(a, b Place) bool { return r.a == a && r.b == b || r.a == b && r.b == a }

// allows reports whether a part of kind k may take the run.
func (r run) allows(k PartKind) bool {
	if k == Leg || k == Earth {
		return true
	}
	for _, o := range r.kinds {
		if o == k {
			return true
		}
	}
	return false
}

// device reports whether the run is the place of something no wire stands in
// for.
func (r run) device() bool {
	return r.only(Coil) || r.only(Points) || r.only(Battery) || r.only(Relay)
}

// only reports whether a part of kind k belongs on the run.
func (r run) only(k PartKind) bool { return k != Leg && k != Earth && r.allows(k) }

// find looks for the run between a part's two nodes, or for several runs in
// a row when no node stands between them.
func (d *wiringDrawing) find(p Part) (way, bool) {
	a, b := d.place(p.From), d.place(p.To)
	for i, r := range d.g.runs {
		if r.joins(a, b) && r.allows(p.Kind) {
			return way{home: r, path: d.points(r), back: r.a != a, used: []int{i}}, true
		}
	}
	for _, chain := range [][]Place{mainLoop[:], relayBranch[:]} {
		if w, ok := d.along(chain, a, b, p.Kind); ok {
			return w, true
		}
	}
	return way{}, false
}

// along joins the runs of a chain from a to b. It does not bridge a coil,
// points, battery or relay that is left out.
func (d *wiringDrawing) along(chain []Place, a, b Place, k PartKind) (way, bool) {
	ia, ib := indexOf(chain, a), indexOf(chain, b)
	if ia < 0 || ib < 0 || ia == ib {
		return way{}, false
	}
	back := ia > ib
	if back {
		ia, ib = ib, ia
	}
	w := way{back: back}
	settled := false
	for i := ia; i < ib; i++ {
		if i > ia && d.at[chain[i]] != 0 {
			return way{}, false
		}
		for j, r := range d.g.runs {
			if !r.joins(chain[i], chain[i+1]) {
				continue
			}
			if r.device() && !r.only(k) {
				return way{}, false
			}
			w.used = append(w.used, j)
			pts := d.points(r)
			if len(w.path) > 0 {
				pts = pts[1:]
			}
			w.path = append(w.path, pts...)
			switch {
			case r.only(k):
				w.home, settled = r, true
			case len(w.used) == 1:
				w.home = r
			}
			break
		}
	}
	return w, settled || k == Leg || k == Earth
}

func indexOf(ps []Place, p Place) int {
	for i, q := range ps {
		if q == p {
			return i
		}
	}
	return -1
}

// points is the run's line from its first end to its second.
func (d *wiringDrawing) points(r run) []Point {
	pts := append([]Point{d.g.spots[r.a].at}, r.via...)
	if !r.frame {
		pts = append(pts, d.g.spots[r.b].at)
	}
	return pts
}

// stretch is a straight piece of a way.
type stretch struct{ a, b Point }

func (s stretch) length() float64 { return math.Hypot(s.b.X-s.a.X, s.b.Y-s.a.Y) }

func (s stretch) key() [2]Point {
	if s.b.X < s.a.X || s.b.X == s.a.X && s.b.Y < s.a.Y {
		return [2]Point{s.b, s.a}
	}
	return [2]Point{s.a, s.b}
}

// along gives the share of the stretch at which p lies on it, and whether it
// does.
func (s stretch) along(p Point) (float64, bool) {
	l := s.length()
	if l == 0 {
		return 0, false
	}
	ux, uy := (s.b.X-s.a.X)/l, (s.b.Y-s.a.Y)/l
	dx, dy := p.X-s.a.X, p.Y-s.a.Y
	t := dx*ux + dy*uy
	return t / l, math.Abs(dx*uy-dy*ux) < 0.5 && t > -0.5 && t < l+0.5
}

// stretches cuts a line at its bends and at the live taps on it.
func (d *wiringDrawing) stretches(path []Point) []stretch {
	var out []stretch
	for i := 1; i < len(path); i++ {
		s := stretch{path[i-1], path[i]}
		for _, t := range d.taps {
			if f, on := s.along(t); on && f > 0.01 && f < 0.99 {
				out = append(out, stretch{s.a, t})
				s.a = t
			}
		}
		out = append(out, s)
	}
	return out
}
