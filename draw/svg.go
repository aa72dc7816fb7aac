package draw

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// SVGOptions say how a scene is written as SVG. The zero value writes a
// fragment for a page that carries StyleCSS.
type SVGOptions struct {
	// IDPrefix stands before every id, so that several pictures can live on
	// one page: a letter followed by letters, digits, '-' and '_'. Empty
	// means "dw".
	IDPrefix string
	// Palette gives the colours that hold where the page's style sheet does
	// not reach. The zero Palette means Light.
	Palette Palette
	// Standalone writes a file that looks right by itself: with extent,
	// ground and style sheet. With a Palette it keeps to that palette;
	// without one it follows the viewer's wish for light or dark.
	Standalone bool
}

// ErrNumber is in the chain of the error for a scene that holds a number
// which cannot be drawn: not a number, infinite or absurdly large.
var ErrNumber = errors.New("not a drawable number")

// ErrScene is in the chain of the error for any other scene or option that
// cannot be written.
var ErrScene = errors.New("cannot be drawn")

// WriteSVG writes the scene as SVG, well-formed XML in UTF-8, the same
// bytes for the same scene. Nothing is written when the scene is refused.
//
// Colours are written twice: as an attribute, for any viewer, and as a class
// such as dw-s-ink, which StyleCSS binds to a custom property such as
// --dw-ink, so that a page changes theme without fetching a picture again.
//
// The picture is a single image to assistive technology (role img, named by
// its title and described by its desc), or a group when it holds links or
// sliders.
func WriteSVG(w io.Writer, s Scene, opt SVGOptions) error {
	sw := svgWriter{prefix: opt.IDPrefix, pal: opt.Palette, ids: map[string]bool{}}
	if sw.prefix == "" {
		sw.prefix = "dw"
	}
	if !validID(sw.prefix) {
		return fmt.Errorf("draw: id prefix %q %w; want a letter, then letters, digits, - or _", opt.IDPrefix, ErrScene)
	}
	fixed := opt.Palette != Palette{}
	if !fixed {
		sw.pal = Light()
	}
	if !(s.W > 0 && s.H > 0) {
		return fmt.Errorf("draw: scene of %v by %v %w; both must be above 0", s.W, s.H, ErrScene)
	}
	title, desc := sw.id("title"), sw.id("desc")
	role := "img"
	if canBeUsed(s.Items) {
		role = "group"
	}
	sw.str(`<svg xmlns="http://www.w3.org/2000/svg" class="dw" viewBox="0 0 `)
	sw.num(s.W)
	sw.str(" ")
	sw.num(s.H)
	sw.str(`"`)
	if opt.Standalone {
		sw.attr("width", s.W)
		sw.attr("height", s.H)
	}
	sw.str(` font-family="sans-serif" stroke-linejoin="round" role="` + role + `" aria-labelledby="` + title + `" aria-describedby="` + desc + `">` + "\n")
	sw.str(`<title id="` + title + `">`)
	sw.text(s.Title)
	sw.str(`</title>` + "\n" + `<desc id="` + desc + `">`)
	sw.text(s.Desc)
	sw.str("</desc>\n")
	if opt.Standalone {
		sw.str("<style>\n")
		if fixed {
			sw.str(PaletteCSS(".dw", sw.pal))
		} else {
			sw.str(PaletteCSS(".dw", Light()))
			sw.str("@media (prefers-color-scheme: dark) {\n" + PaletteCSS(".dw", Dark()) + "}\n")
		}
		sw.str(StyleCSS())
		sw.str("</style>\n")
		sw.item(Rect{W: s.W, H: s.H, Style: Style{Fill: Back}})
	}
	for _, it := range s.Items {
		sw.item(it)
	}
	sw.str("</svg>\n")
	if sw.err != nil {
		return fmt.Errorf("draw: scene %q: %w", s.Title, sw.err)
	}
	_, err := w.Write(sw.b.Bytes())
	return err
}

// canBeUsed reports whether there is a link or a slider.
func canBeUsed(items []Item) bool {
	for _, it := range items {
		if g, ok := it.(Group); ok && (g.Link != "" || g.Slider != nil || canBeUsed(g.Items)) {
			return true
		}
	}
	return false
}

func validID(s string) bool {
	for i, r := range s {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if !letter && (i == 0 || !(r >= '0' && r <= '9' || r == '-' || r == '_')) {
			return false
		}
	}
	return s != ""
}

// cleanID turns any text into the tail of a valid id, different texts into
// different ids: what an id may not hold becomes _ and its code point.
func cleanID(s string) string {
	var b strings.Builder
	for _, r := range s {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			b.WriteRune(r)
		} else {
			fmt.Fprintf(&b, "_%x_", r)
		}
	}
	return b.String()
}

type svgWriter struct {
	b      bytes.Buffer
	prefix string
	pal    Palette
	ids    map[string]bool
	err    error
}

func (w *svgWriter) str(s string) { w.b.WriteString(s) }

func (w *svgWriter) text(s string) {
	if err := xml.EscapeText(&w.b, []byte(s)); err != nil {
		w.fail(err)
	}
}

func (w *svgWriter) fail(err error) {
	if w.err == nil {
		w.err = err
	}
}

// id makes a prefixed id and refuses one that was used before.
func (w *svgWriter) id(s string) string {
	id := w.prefix + "-" + s
	if !validID(id) {
		w.fail(fmt.Errorf("id %q %w; want letters, digits, - or _", s, ErrScene))
	}
	if w.ids[id] {
		w.fail(fmt.Errorf("id %q %w; it is used twice", s, ErrScene))
	}
	w.ids[id] = true
	return id
}

// num writes a number to a hundredth of a unit.
func (w *svgWriter) num(v float64) {
	if math.IsNaN(v) || math.Abs(v) > 1e7 {
		w.fail(fmt.Errorf("%v is %w", v, ErrNumber))
		return
	}
	v = math.Round(v*100) / 100
	if v == 0 {
		v = 0 // no minus zero
	}
	w.b.Write(strconv.AppendFloat(w.b.AvailableBuffer(), v, 'f', -1, 64))
}

func (w *svgWriter) attr(name string, v float64) {
	w.str(" " + name + `="`)
	w.num(v)
	w.str(`"`)
}

func (w *svgWriter) point(p Point) {
	w.num(p.X)
	w.str(" ")
	w.num(p.Y)
}

func (w *svgWriter) style(s Style) {
	w.str(` class="`)
	if s.Stroke != None {
		w.str("dw-s-" + s.Stroke.String())
	}
	if s.Fill != None {
		if s.Stroke != None {
			w.str(" ")
		}
		w.str("dw-f-" + s.Fill.String())
	}
	w.str(`"`)
	if s.Fill == None {
		w.str(` fill="none"`)
	} else {
		w.str(` fill="` + w.hex(s.Fill) + `"`)
	}
	if s.Stroke == None {
		return
	}
	w.str(` stroke="` + w.hex(s.Stroke) + `"`)
	if s.Width != 0 && s.Width != 1 {
		w.attr("stroke-width", s.Width)
	}
	if p := s.Dash.Pattern(); p != nil {
		w.str(` stroke-dasharray="`)
		for i, v := range p {
			if i > 0 {
				w.str(" ")
			}
			w.num(v)
		}
		w.str(`"`)
	}
}

func (w *svgWriter) hex(t Tone) string {
	if t >= toneCount {
		w.fail(fmt.Errorf("tone %d %w; there are %d", t, ErrScene, toneCount))
		return "none"
	}
	return w.pal[t].Hex()
}

func (w *svgWriter) item(it Item) {
	switch v := it.(type) {
	case Line:
		w.str("<line")
		w.attr("x1", v.X1)
		w.attr("y1", v.Y1)
		w.attr("x2", v.X2)
		w.attr("y2", v.Y2)
		w.style(v.Style)
		w.str("/>\n")
	case Polyline:
		name := "<polyline"
		if v.Closed {
			name = "<polygon"
		}
		w.str(name + ` points="`)
		for i, p := range v.Points {
			if i > 0 {
				w.str(" ")
			}
			w.point(p)
		}
		w.str(`"`)
		w.style(v.Style)
		w.str("/>\n")
	case Rect:
		w.str("<rect")
		w.attr("x", v.X)
		w.attr("y", v.Y)
		w.attr("width", v.W)
		w.attr("height", v.H)
		if v.R != 0 {
			w.attr("rx", v.R)
		}
		w.style(v.Style)
		w.str("/>\n")
	case Circle:
		w.str("<circle")
		w.attr("cx", v.X)
		w.attr("cy", v.Y)
		w.attr("r", v.R)
		w.style(v.Style)
		w.str("/>\n")
	case Path:
		w.path(v)
	case Text:
		w.str("<text")
		w.attr("x", v.X)
		w.attr("y", v.Y)
		w.attr("font-size", v.Size)
		switch v.Anchor {
		case Middle:
			w.str(` text-anchor="middle"`)
		case End:
			w.str(` text-anchor="end"`)
		}
		if v.Bold {
			w.str(` font-weight="700"`)
		}
		w.style(Style{Fill: v.Tone})
		w.str(">")
		w.text(v.S)
		w.str("</text>\n")
	case Group:
		w.group(v)
	default:
		w.fail(fmt.Errorf("item of type %T %w", it, ErrScene))
	}
}

func (w *svgWriter) path(v Path) {
	w.str(`<path d="`)
	for _, s := range v.Segs {
		switch s.Op {
		case MoveTo:
			w.str("M")
			w.point(s.P[0])
		case LineTo:
			w.str("L")
			w.point(s.P[0])
		case CubicTo:
			w.str("C")
			w.point(s.P[0])
			w.str(" ")
			w.point(s.P[1])
			w.str(" ")
			w.point(s.P[2])
		case Close:
			w.str("Z")
		default:
			w.fail(fmt.Errorf("path step %d %w", s.Op, ErrScene))
		}
	}
	w.str(`"`)
	w.style(v.Style)
	w.str("/>\n")
}

func (w *svgWriter) group(v Group) {
	name := "g"
	if v.Link != "" {
		name = "a"
		if !safeLink(v.Link) {
			w.fail(fmt.Errorf("link %q %w; want #..., /..., ./..., ?... or an http(s) address", v.Link, ErrScene))
			return
		}
	}
	w.str("<" + name)
	if v.ID != "" {
		w.str(` id="` + w.id(v.ID) + `"`)
	}
	if v.Link != "" {
		w.str(` href="`)
		w.text(v.Link)
		w.str(`"`)
	}
	role := v.Role
	if v.Slider != nil {
		role = "slider"
	}
	if role == "" && v.Label != "" && v.Link == "" {
		role = "group"
	}
	if role != "" {
		w.str(` role="`)
		w.text(role)
		w.str(`"`)
	}
	if v.Label != "" {
		w.str(` aria-label="`)
		w.text(v.Label)
		w.str(`"`)
	}
	if s := v.Slider; s != nil {
		w.str(` tabindex="0" pointer-events="all" aria-orientation="vertical"`)
		w.attr("aria-valuemin", s.Lo)
		w.attr("aria-valuemax", s.Hi)
		w.attr("aria-valuenow", s.Now)
		w.str(` aria-valuetext="`)
		w.text(s.Text)
		w.str(`"`)
	}
	w.str(">\n")
	for _, it := range v.Items {
		w.item(it)
	}
	w.str("</" + name + ">\n")
}

// safeLink refuses addresses that would run as a script.
func safeLink(s string) bool {
	for _, p := range []string{"#", "/", "./", "?", "http://", "https://"} {
		if strings.HasPrefix(s, p) {
			return true
		}
	}
	return false
}
