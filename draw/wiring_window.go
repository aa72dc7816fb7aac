package draw

import "math"

// Room round what a window shows, user units: a tag and a line of words.
const windowRoom = 62.0

// WiringWindow is the stretch of a wiring picture, from an upper to a lower y,
// in which a meter's leads or its clamp stand with what is next to them: what a
// small screen shows of a tall picture. ok is false for a spec without a meter
// and for one that cannot be drawn.
func WiringWindow(spec WiringSpec) (lo, hi float64, ok bool) {
	g := wideGrid()
	if spec.Tall {
		g = tallGrid()
	}
	d := wiringDrawing{spec: spec, g: g}
	if d.check() != nil || d.meter == 0 {
		return 0, 0, false
	}
	lo, hi = math.Inf(1), math.Inf(-1)
	take := func(y float64) { lo, hi = math.Min(lo, y), math.Max(hi, y) }
	for _, i := range []int{d.red, d.black} {
		if i > 0 {
			s := g.spots[spec.Nodes[i-1].Place]
			take(s.at.Y)
			take(s.tag.y)
		}
	}
	if d.clamp > 0 {
		w, found := d.find(spec.Parts[d.clamp-1])
		if !found {
			return 0, 0, false
		}
		for _, p := range w.path {
			take(p.Y)
		}
	}
	return math.Max(0, lo-windowRoom), hi + windowRoom, true
}
