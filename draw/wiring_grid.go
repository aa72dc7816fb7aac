package draw

// grid is one layout of the wiring picture: where every place is, how the
// runs between places go and where their words stand. It holds nothing but
// coordinates; wiring.go draws what a spec asks for on it.
type grid struct {
	w         float64
	lineH     float64 // from one line of words to the next
	valueSize float64 // of a node's value
	valueH    float64 // its line
	title     Point   // baseline of the title, starting there
	titleSize float64 // size of the title
	titleW    float64 // widest a title may be
	earth     Text    // where the words on earth polarity stand
	legend    Box     // X extent and top of the legend; it grows downwards
	spots     [placeCount]spot
	runs      []run
	coil      relayCoil
}

// spot is a place on the grid.
type spot struct {
	at   Point
	tag  area
	most int // most lines in the tag besides the value; 0 means 3
}

// vert says which edge of a block stands at its y.
type vert uint8

const (
	top vert = iota
	centre
	bottom
)

// area is where a block of words may stand: at most w wide, standing with
// its edge or middle at (x, y).
type area struct {
	x, y float64
	h    Anchor
	v    vert
	w    float64
}

// place puts a block of the given size into the area.
func (a area) place(w, h float64) Box {
	x, y := a.x, a.y
	switch a.h {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	switch a.v {
	case centre:
		y -= h / 2
	case bottom:
		y -= h
	}
	return Box{Point{x, y}, Point{x + w, y + h}}
}

// run is a way a part may take between two places.
type run struct {
	a, b  Place
	kinds []PartKind // what may stand here besides a wire or joint
	via   []Point    // bends; the last one is the frame symbol when frame is set
	frame bool       // ends in a frame symbol with a word instead of at b
	word  Anchor     // side of the frame's word: Start right of it, End left
	sym   Point      // middle of the symbol
	flip  bool       // symbol mirrored about the run
	label area
	lines int // most lines of words, 0 means 3
	tone  Tone
	width float64
	arrow Point // where an arrow or clamp goes; zero: the longest stretch
	taps  []tap
}

// tap is a dot where this run leaves one it shares a stretch with.
type tap struct {
	at   Point
	a, b Place // ends of the other run
}

// relayCoil is the winding of the relay, from the switched feed to the body.
type relayCoil struct {
	box   Point   // middle of the winding
	via   []Point // from the feeding node to the top of the winding
	earth []Point // from the winding to the frame symbol
	link  [2]Point
	word  Anchor
}

// mainLoop is the order of places along the primary circuit.
var mainLoop = [...]Place{
	AtBatteryLive, AtStarterStud, AtFeedJunction, AtSwitchIn, AtSwitchOut,
	AtBallastSupply, AtBallastCoil, AtCoilFeed, AtCoilSwitched,
	AtBreakerTerminal, AtBreakerPlate, AtHousing, AtBlock, AtBatteryEarth,
}

// relayBranch is the order of places along the relay's feed.
var relayBranch = [...]Place{AtStarterStud, AtRelayIn, AtRelayOut, AtBallastSupply}

// Stroke widths of runs.
const (
	cableW   = 3.6 // battery and earth cables
	feedW    = 2.6
	leadW    = 2
	controlW = 1.7
)
