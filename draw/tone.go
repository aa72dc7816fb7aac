package draw

// Tone names what a stroke, filling or text stands for. A drawing names
// tones only; which colour a tone has is the palette's business, so that one
// drawing serves a light page, a dark page and paper.
type Tone uint8

const (
	None Tone = iota

	Ink    // text and outlines that matter
	Muted  // text and outlines of second rank
	Faint  // grids and hairlines
	Back   // the ground the picture lies on
	Panel  // the ground of tags and boxes
	Wanted // filling of a wanted band
	Accent // what is new or wants attention

	Wire        // switched side of the coil
	WireLive    // live side
	WireEarth   // return side
	WireControl // bypass, feed and relay wires

	Holds // states of a proof
	Doubtful
	Short
	Unproven

	IsMeasured // where a figure comes from
	IsPredicted
	IsStated
	IsAssumed

	SeriesA // lines of a chart, told apart by dash as well
	SeriesB
	SeriesC
	SeriesD

	Shade // every other stretch of an axis

	BandShortFar // bands of a map, from far short of the limit to far beyond it
	BandShort
	BandWell
	BandWell2
	BandWell3
	BandWell4

	toneCount
)

var toneNames = [toneCount]string{
	"none", "ink", "muted", "faint", "back", "panel", "wanted", "accent",
	"wire", "wire-live", "wire-earth", "wire-control",
	"holds", "doubtful", "short", "unproven",
	"measured", "predicted", "stated", "assumed",
	"series-a", "series-b", "series-c", "series-d",
	"shade",
	"band-short-far", "band-short", "band-well", "band-well-2", "band-well-3", "band-well-4",
}

// String is the tone's name as it stands in CSS after "--dw-".
func (t Tone) String() string {
	if t >= toneCount {
		return "none"
	}
	return toneNames[t]
}
