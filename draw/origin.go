package draw

import "math"

// Origin says where a figure comes from. The zero value is Assumed: a figure
// of which nobody says where it comes from is not better than that.
type Origin uint8

const (
	Assumed   Origin = iota // a typical value
	Stated                  // from the car's papers or its owner
	Predicted               // computed from the model of the car
	Measured                // read off an instrument
	originCount
)

// String is the origin in one word.
func (o Origin) String() string {
	switch o {
	case Stated:
		return "stated"
	case Predicted:
		return "predicted"
	case Measured:
		return "measured"
	}
	return "assumed"
}

func (o Origin) tone() Tone {
	switch o {
	case Stated:
		return IsStated
	case Predicted:
		return IsPredicted
	case Measured:
		return IsMeasured
	}
	return IsAssumed
}

// chipSize is the height and width of an origin's sign in user units.
const chipSize = 14

// chip is the sign of an origin: its first letter in a filled square
// (measured), a circle (predicted), a square (stated) or a broken ring
// (assumed), centred on (x, y).
func chip(o Origin, x, y float64) Group {
	const r = chipSize / 2.0
	tone := o.tone()
	letter := Text{X: x, Y: y + 3.7, S: o.String()[:1], Size: 11, Anchor: Middle, Bold: true, Tone: tone}
	var shape Item
	switch o {
	case Measured:
		shape = Rect{X: x - r, Y: y - r, W: 2 * r, H: 2 * r, R: 2, Style: Style{Fill: tone}}
		letter.Tone = Panel
	case Stated:
		shape = Rect{X: x - r + 0.5, Y: y - r + 0.5, W: 2*r - 1, H: 2*r - 1, R: 2, Style: Style{Stroke: tone, Fill: Panel}}
	case Predicted:
		shape = Circle{X: x, Y: y, R: r - 0.5, Style: Style{Stroke: tone, Fill: Panel}}
	default:
		ring := Path{Style: Style{Stroke: tone, Width: 1.3}}
		for i := range 6 {
			a := float64(i) * math.Pi / 3
			arc := Path{}
			arc.Arc(x, y, r-0.5, a, a+math.Pi/4.5)
			ring.Segs = append(ring.Segs, arc.Segs...)
		}
		return Group{Items: []Item{Circle{X: x, Y: y, R: r - 0.5, Style: Style{Fill: Panel}}, ring, letter}}
	}
	return Group{Items: []Item{shape, letter}}
}
