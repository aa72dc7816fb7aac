package draw

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// readSVG parses b as XML and gives its ids and all attribute values.
func readSVG(t testing.TB, b []byte) (ids map[string]int, attrs []string, text string) {
	t.Helper()
	ids = map[string]int{}
	d := xml.NewDecoder(bytes.NewReader(b))
	d.Strict = true
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return ids, attrs, text
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch v := tok.(type) {
		case xml.StartElement:
			for _, a := range v.Attr {
				attrs = append(attrs, a.Name.Local+"="+a.Value)
				if a.Name.Local == "id" {
					ids[a.Value]++
				}
			}
		case xml.CharData:
			text += string(v)
		}
	}
}

// Every golden picture is well-formed, holds no word for a number that is
// none, uses each id once and resolves what it refers to.
func TestGoldenFilesAreSound(t *testing.T) {
	files, err := filepath.Glob("testdata/*.svg")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		ids, attrs, _ := readSVG(t, b)
		for id, n := range ids {
			if n != 1 || !strings.HasPrefix(id, "t-") {
				t.Errorf("%s: id %q stands %d times", f, id, n)
			}
		}
		for _, a := range attrs {
			name, v, _ := strings.Cut(a, "=")
			if (name == "aria-labelledby" || name == "aria-describedby") && ids[v] != 1 {
				t.Errorf("%s: %s refers to %q, which is not there", f, name, v)
			}
			if name != "aria-label" && (strings.Contains(v, "NaN") || strings.Contains(v, "Inf")) {
				t.Errorf("%s: %s", f, a)
			}
		}
	}
}

func svgOf(t testing.TB, s Scene, opt SVGOptions) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteSVG(&b, s, opt); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestWriteSVGEscapes(t *testing.T) {
	nasty := `<b>"5 & 6"</b>` + "\x00'"
	s := Scene{W: 10, H: 10, Title: nasty, Desc: nasty, Items: []Item{
		Group{ID: "a", Label: nasty, Link: `/x?a="1"&b=<2>`, Items: []Item{Text{S: nasty, Size: 12, Tone: Ink}}}}}
	out := svgOf(t, s, SVGOptions{})
	_, attrs, text := readSVG(t, []byte(out))
	want := strings.ReplaceAll(nasty, "\x00", "\uFFFD")
	if got := strings.Count(text, want); got != 3 {
		t.Errorf("the text came back %d times, want 3: %q", got, text)
	}
	all := strings.Join(attrs, "\n")
	if !strings.Contains(all, "aria-label="+want) || !strings.Contains(all, `href=/x?a="1"&b=<2>`) {
		t.Errorf("attributes came back as %s", all)
	}
}

func TestWriteSVGRefuses(t *testing.T) {
	line := func(v float64) Scene {
		return Scene{W: 10, H: 10, Items: []Item{Line{X1: v, Style: Style{Stroke: Ink}}}}
	}
	twice := Scene{W: 1, H: 1, Items: []Item{Group{ID: "a"}, Group{ID: "a"}}}
	for name, c := range map[string]struct {
		s    Scene
		opt  SVGOptions
		want error
	}{
		"NaN":         {line(math.NaN()), SVGOptions{}, ErrNumber},
		"Inf":         {line(math.Inf(-1)), SVGOptions{}, ErrNumber},
		"huge":        {line(1e9), SVGOptions{}, ErrNumber},
		"no extent":   {Scene{}, SVGOptions{}, ErrScene},
		"NaN extent":  {Scene{W: math.NaN(), H: 1}, SVGOptions{}, ErrScene},
		"id twice":    {twice, SVGOptions{}, ErrScene},
		"title id":    {Scene{W: 1, H: 1, Items: []Item{Group{ID: "title"}}}, SVGOptions{}, ErrScene},
		"bad id":      {Scene{W: 1, H: 1, Items: []Item{Group{ID: "a b"}}}, SVGOptions{}, ErrScene},
		"bad prefix":  {Scene{W: 1, H: 1}, SVGOptions{IDPrefix: "1"}, ErrScene},
		"script link": {Scene{W: 1, H: 1, Items: []Item{Group{Link: "javascript:alert(1)"}}}, SVGOptions{}, ErrScene},
		"bad tone":    {Scene{W: 1, H: 1, Items: []Item{Circle{Style: Style{Fill: 200}}}}, SVGOptions{}, ErrScene},
		"nil item":    {Scene{W: 1, H: 1, Items: []Item{nil}}, SVGOptions{}, ErrScene},
	} {
		var b bytes.Buffer
		if err := WriteSVG(&b, c.s, c.opt); !errors.Is(err, c.want) {
			t.Errorf("%s: got %v, want %v", name, err, c.want)
		}
		if b.Len() != 0 {
			t.Errorf("%s: something was written all the same", name)
		}
	}
}

func TestWriteSVGIsSteady(t *testing.T) {
	spec := wiringCases()["full"](false)
	draw := func() string {
		s, err := Wiring(spec)
		if err != nil {
			t.Fatal(err)
		}
		return svgOf(t, s, SVGOptions{IDPrefix: "a"})
	}
	first := draw()
	for range 5 {
		if draw() != first {
			t.Fatal("the same spec gave other bytes")
		}
	}
}

// Two pictures on one page share no id.
func TestPrefixesKeepPicturesApart(t *testing.T) {
	s, err := Wiring(wiringCases()["bare"](true))
	if err != nil {
		t.Fatal(err)
	}
	a, _, _ := readSVG(t, []byte(svgOf(t, s, SVGOptions{IDPrefix: "found"})))
	b, _, _ := readSVG(t, []byte(svgOf(t, s, SVGOptions{IDPrefix: "left"})))
	for id := range a {
		if b[id] != 0 {
			t.Errorf("both have the id %q", id)
		}
	}
	if len(a) < 10 {
		t.Errorf("only %d ids", len(a))
	}
}

// ARIA: what is inside an image is not there for assistive technology, so a
// picture with links must not be one.
func TestRoleFollowsLinks(t *testing.T) {
	plain := Scene{W: 1, H: 1, Items: []Item{Group{Label: "x"}}}
	if out := svgOf(t, plain, SVGOptions{}); !strings.Contains(out, `role="img"`) {
		t.Error("a plain picture is no image")
	}
	linked := Scene{W: 1, H: 1, Items: []Item{Group{Items: []Item{Group{Link: "#a"}}}}}
	if out := svgOf(t, linked, SVGOptions{}); strings.Contains(out, `role="img"`) || !strings.Contains(out, `<a href="#a"`) {
		t.Error("a picture with a link is an image")
	}
}

// No colour reaches a drawing except through the palette.
func TestColoursComeFromThePalette(t *testing.T) {
	var loud Palette
	for i := range loud {
		loud[i] = RGB{uint8(i), 0xee, 0x11}
	}
	s, err := Wiring(wiringCases()["full"](false))
	if err != nil {
		t.Fatal(err)
	}
	_, attrs, _ := readSVG(t, []byte(svgOf(t, s, SVGOptions{Palette: loud})))
	for _, a := range attrs {
		name, v, _ := strings.Cut(a, "=")
		if (name == "fill" || name == "stroke") && v != "none" && !strings.HasSuffix(v, "ee11") {
			t.Errorf("%s has a colour of its own", a)
		}
	}
	css := StyleCSS() + PaletteCSS(":root", Dark())
	for tone := Ink; tone < toneCount; tone++ {
		for _, want := range []string{".dw-f-" + tone.String() + " {", ".dw-s-" + tone.String() + " {", "--dw-" + tone.String() + ": " + Dark()[tone].Hex()} {
			if !strings.Contains(css, want) {
				t.Errorf("the style sheet lacks %q", want)
			}
		}
	}
}

// WCAG 2.2: text needs 4.5:1 against its ground (1.4.3), 7:1 where we promise
// more (1.4.6), and what tells meaning apart 3:1 (1.4.11).
func TestPalettesAreLegible(t *testing.T) {
	for name, c := range map[string]struct {
		p    Palette
		text float64
	}{"light": {Light(), 4.5}, "dark": {Dark(), 4.5}, "high contrast": {HighContrast(), 7}, "paper": {Paper(), 7}} {
		for _, ground := range []Tone{Back, Panel} {
			for tone := Ink; tone < toneCount; tone++ {
				want := c.text
				switch tone {
				case Back, Panel, Faint, Wanted, Shade, BandShortFar, BandShort, BandWell, BandWell2, BandWell3, BandWell4:
					continue // grounds and hairlines
				}
				if got := Contrast(c.p[tone], c.p[ground]); got < want {
					t.Errorf("%s: %s on %s has %.2f:1, want %.1f:1", name, tone, ground, got, want)
				}
			}
		}
		// Lines cross the wanted band and shaded stretches.
		for _, tone := range []Tone{Ink, IsMeasured, IsPredicted, IsStated, IsAssumed, Short, SeriesA, SeriesB, SeriesC, SeriesD} {
			for _, ground := range []Tone{Wanted, Shade} {
				if got := Contrast(c.p[tone], c.p[ground]); got < 3 {
					t.Errorf("%s: %s on %s has %.2f:1, want 3:1", name, tone, ground, got)
				}
			}
		}
		// Words stand on shaded stretches and on the bands of a map, and the
		// limit, the hatching and the dots lie over these.
		for _, ground := range []Tone{Shade, BandShortFar, BandShort, BandWell, BandWell2, BandWell3, BandWell4} {
			if got := Contrast(c.p[Ink], c.p[ground]); got < c.text {
				t.Errorf("%s: ink on %s has %.2f:1, want %.1f:1", name, ground, got, c.text)
			}
			for _, tone := range []Tone{Short, Doubtful, Muted} {
				if got := Contrast(c.p[tone], c.p[ground]); got < 3 {
					t.Errorf("%s: %s on %s has %.2f:1, want 3:1", name, tone, ground, got)
				}
			}
		}
	}
	// The definition's own ends, and a worked value: #777777 on white is
	// 4.48:1, the well-known grey that just fails.
	if c := Contrast(RGB{}, RGB{255, 255, 255}); math.Abs(c-21) > 1e-9 {
		t.Errorf("black on white has %v", c)
	}
	if c := Contrast(hex(0x777777), hex(0xffffff)); math.Abs(c-4.48) > 0.005 {
		t.Errorf("#777777 on white has %v, want 4.48", c)
	}
}

// The four signs differ in outline, not just in colour: their SVG without
// classes and colours differs, and so do their words.
func TestMarksDiffer(t *testing.T) {
	seen := map[string]CellMark{}
	for m := MarkHolds; m < markCount; m++ {
		out := MarkSVG(m)
		readSVG(t, []byte(out))
		if !strings.Contains(out, `aria-label="`+m.String()+`"`) {
			t.Errorf("%v has no words", m)
		}
		shape := ""
		for _, it := range Mark(m, 10, 10, 20).Items {
			switch v := it.(type) {
			case Circle:
				shape += "circle "
			case Rect:
				shape += "rect "
			case Polyline:
				shape += strings.Repeat("point ", len(v.Points))
			case Line:
				shape += "line "
			case Path:
				shape += "path "
			}
		}
		if o, ok := seen[shape]; ok {
			t.Errorf("%v looks like %v", m, o)
		}
		seen[shape] = m
	}
	if MarkSVG(MarkNone) != "" || MarkSVG(99) != "" {
		t.Error("no state has a sign")
	}
}

// Goldapp (1991): a quarter circle as one cubic is off by at most 2.73e-4 of
// the radius.
func TestArcIsRound(t *testing.T) {
	var p Path
	p.Arc(3, -2, 50, 0.3, 0.3+2*math.Pi)
	worst := 0.0
	for _, run := range flatten(p) {
		for _, q := range run {
			worst = math.Max(worst, math.Abs(math.Hypot(q.X-3, q.Y+2)/50-1))
		}
	}
	if worst > 2.8e-4 || worst < 1e-4 {
		t.Errorf("the radius is off by %.2e, want at most 2.8e-4 and about that", worst)
	}
	last := p.Segs[len(p.Segs)-1].P[2]
	if first := p.Segs[0].P[0]; math.Hypot(first.X-last.X, first.Y-last.Y) > 1e-9 {
		t.Error("a full turn does not close")
	}
	var odd Path
	odd.Arc(0, 0, 1, 0, math.NaN())
	odd.Arc(0, 0, 1, 0, math.Inf(1)) // must come back
}

func FuzzWriteSVG(f *testing.F) {
	f.Add("title", "label", "12.1 ± 0.2 V", "#x")
	f.Add("<", "\"&\x01", "\xff", "http://example.org/?a&b")
	f.Fuzz(func(t *testing.T, title, label, id, link string) {
		s := Scene{W: 10, H: 10, Title: title, Desc: label, Items: []Item{
			Group{ID: "g-" + cleanID(id), Label: label, Link: link, Items: []Item{Text{S: title, Size: 10, Tone: Ink}}}}}
		var b bytes.Buffer
		if err := WriteSVG(&b, s, SVGOptions{}); err != nil {
			if link != "" && !safeLink(link) {
				return
			}
			t.Fatal(err)
		}
		readSVG(t, b.Bytes())
	})
}
