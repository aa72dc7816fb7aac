package draw

import (
	"encoding/binary"
	"math"
	"os"
	"strings"
	"testing"
)

// The table is judged against the fonts themselves, where the machine has
// them: for every character it knows, TextWidth is no less than the advance
// width in either font's hmtx table, and no more than 0.11 em above the
// wider one.
func TestTextWidthAgainstFonts(t *testing.T) {
	type pair struct{ book, heavy sfnt }
	var fonts []pair
	for _, f := range [][2]string{
		{"/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf", "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf"},
		{"/usr/share/fonts/truetype/liberation/LiberationSans-Regular.ttf", "/usr/share/fonts/truetype/liberation/LiberationSans-Bold.ttf"},
	} {
		book, err1 := readSfnt(f[0])
		heavy, err2 := readSfnt(f[1])
		if err1 != nil || err2 != nil {
			if os.Getenv("CI") != "" {
				t.Fatal(err1, err2)
			}
			t.Skipf("NOT CHECKED: the fonts the widths come from are not installed: %v %v", err1, err2)
		}
		fonts = append(fonts, pair{book, heavy})
	}
	chars := []rune("±Ωµμ°·×÷−–²³≥≤≈↑↓‘’ÄÖÜäöüßéèÀçñŒšž")
	for r := ' '; r <= '~'; r++ {
		chars = append(chars, r)
	}
	for _, r := range chars {
		for _, bold := range []bool{false, true} {
			wide := 0.0
			for _, f := range fonts {
				w := f.book.width(r)
				if bold {
					w = f.heavy.width(r)
				}
				wide = math.Max(wide, w)
			}
			got := TextWidth(string(r), 1, bold)
			slack := 0.002
			if r > '~' {
				slack = 0.11
			}
			if r >= 0xc0 && r < 0x250 {
				slack = 1 // accented letters are all taken as the widest
			}
			if got < wide-1e-9 || got > wide+slack {
				t.Errorf("%q bold %v: estimated %.3f em, the fonts say %.3f", r, bold, got, wide)
			}
		}
	}
}

// sfnt is as much of a font file as gives advance widths (ISO/IEC 14496-22:
// tables head, hhea, hmtx and a cmap of format 4).
type sfnt struct {
	unitsPerEm float64
	advances   []uint16
	cmap       []byte
}

func u16(b []byte, at int) int { return int(binary.BigEndian.Uint16(b[at:])) }
func u32(b []byte, at int) int { return int(binary.BigEndian.Uint32(b[at:])) }

func readSfnt(file string) (sfnt, error) {
	b, err := os.ReadFile(file)
	if err != nil {
		return sfnt{}, err
	}
	tables := map[string]int{}
	for i := range u16(b, 4) {
		r := 12 + 16*i
		tables[string(b[r:r+4])] = u32(b, r+8)
	}
	f := sfnt{unitsPerEm: float64(u16(b, tables["head"]+18))}
	for i := range u16(b, tables["hhea"]+34) {
		f.advances = append(f.advances, uint16(u16(b, tables["hmtx"]+4*i)))
	}
	c := tables["cmap"]
	for i := range u16(b, c+2) {
		if o := c + u32(b, c+4+8*i+4); u16(b, o) == 4 {
			f.cmap = b[o : o+u16(b, o+2)]
		}
	}
	return f, nil
}

// width is a character's advance in em, 0 when the font lacks it.
func (f sfnt) width(r rune) float64 {
	n := u16(f.cmap, 6) / 2
	for i := range n {
		if int(r) > u16(f.cmap, 14+2*i) {
			continue
		}
		start := u16(f.cmap, 16+2*n+2*i)
		if int(r) < start {
			return 0
		}
		delta, at := u16(f.cmap, 16+4*n+2*i), 16+6*n+2*i
		glyph := int(r) + delta
		if off := u16(f.cmap, at); off != 0 {
			glyph = u16(f.cmap, at+off+2*(int(r)-start))
			if glyph != 0 {
				glyph += delta
			}
		}
		glyph &= 0xffff
		if glyph == 0 {
			return 0
		}
		return float64(f.advances[min(glyph, len(f.advances)-1)]) / f.unitsPerEm
	}
	return 0
}

func TestWrap(t *testing.T) {
	s := "  lowest feed at   hot idle, supercalifragilistic lamps on "
	lines := Wrap(s, 12, 90, false)
	if got, want := strings.Join(lines, " "), strings.Join(strings.Fields(s), " "); got != want {
		t.Errorf("words are lost: %q", got)
	}
	for i, l := range lines {
		if strings.Contains(l, " ") && TextWidth(l, 12, false) > 90 {
			t.Errorf("line %q is too wide", l)
		}
		if i > 0 {
			next, _, _ := strings.Cut(l, " ")
			if TextWidth(lines[i-1]+" "+next, 12, false) <= 90 {
				t.Errorf("%q would have fitted on %q", next, lines[i-1])
			}
		}
	}
	if got := Wrap("12\u00a0V at idle", 12, 30, false); got[0] != "12\u00a0V" {
		t.Errorf("a no-break space was broken: %q", got)
	}
	if Wrap(" ", 12, 10, false) != nil {
		t.Error("nothing made a line")
	}
}

func TestClip(t *testing.T) {
	for _, s := range []string{"", "ok", "distributor housing", "Ωµ±"} {
		for _, w := range []float64{0, 5, 12, 40, 400} {
			got := clip(s, 12, w, true)
			if TextWidth(got, 12, true) > w {
				t.Errorf("%q clipped to %v is %q, too wide", s, w, got)
			}
			if w == 400 && got != s {
				t.Errorf("%q became %q", s, got)
			}
		}
	}
}
