package draw

// Point is a place in a scene: x to the right, y downwards, user units.
type Point struct{ X, Y float64 }

// Scene is one finished picture, free of any file format. Its unit is the
// user unit, of which a page may take one as one CSS pixel and paper as
// whatever makes W fit; text sizes are in the same unit.
type Scene struct {
	W, H  float64 // extent; everything drawn lies within [0,W] x [0,H]
	Title string  // a few words, the picture's name
	Desc  string  // the picture in sentences, for those who cannot see it
	Items []Item  // painted in order, later ones over earlier ones
}

// Item is a shape or a group of shapes: one of Line, Polyline, Rect, Circle,
// Path, Text and Group. No other type can be an Item, so that a renderer
// that knows these seven knows every picture.
type Item interface{ item() }

// Dash is the pattern of a stroke.
type Dash uint8

const (
	Solid  Dash = iota
	Dashed      // long strokes
	Dotted      // short strokes
)

// Pattern gives on and off lengths in user units, nil for a solid stroke.
func (d Dash) Pattern() []float64 {
	switch d {
	case Dashed:
		return []float64{6, 4}
	case Dotted:
		return []float64{2, 3}
	}
	return nil
}

// Style says how a shape is painted. The zero Style paints nothing.
type Style struct {
	Stroke Tone    // None: no outline
	Width  float64 // stroke width in user units; 0 with a Stroke means 1
	Dash   Dash
	Fill   Tone // None: not filled
}

// Line is a straight stroke.
type Line struct {
	X1, Y1, X2, Y2 float64
	Style          Style
}

// Polyline is a run of straight strokes; Closed joins the last point to the
// first.
type Polyline struct {
	Points []Point
	Closed bool
	Style  Style
}

// Rect is a rectangle with corners rounded to radius R.
type Rect struct {
	X, Y, W, H, R float64
	Style         Style
}

// Circle is a circle about (X, Y) of radius R.
type Circle struct {
	X, Y, R float64
	Style   Style
}

// Anchor says which part of a text stands at its X.
type Anchor uint8

const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of text with its baseline at Y. Breaking long text into
// lines is the caller's business; see Wrap.
type Text struct {
	X, Y   float64
	S      string
	Size   float64 // height of the em in user units
	Anchor Anchor
	Bold   bool
	Tone   Tone
}

// Group holds items that belong together. ID, when set, is unique in the
// scene. Label, when set, is what assistive technology says for the group.
// Link, when set, makes the group a link: a fragment (#...), a path
// (/... or ./...), a query (?...) or an http or https address.
//
// A group with a Slider can be moved by hand: it has the role slider, can be
// reached by keyboard, and takes a tap anywhere within the outline of its
// items, painted or not. What moving does is the page's script's business.
type Group struct {
	ID     string
	Role   string // ARIA role; empty means "group" when there is a Label
	Label  string
	Link   string
	Slider *Slider
	Items  []Item
}

// Slider is the value of something that can be moved, upright in the scene.
type Slider struct {
	Lo, Hi, Now float64
	Text        string // the value in words, "12 ° at 800 rpm"
}

func (Line) item()     {}
func (Polyline) item() {}
func (Rect) item()     {}
func (Circle) item()   {}
func (Path) item()     {}
func (Text) item()     {}
func (Group) item()    {}
