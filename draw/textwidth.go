package draw

import (
	"strings"
	"unicode"
)

// Advance widths in thousandths of the em for the characters from space to
// tilde. Each is the wider one of two free sans fonts (DejaVu Sans 2.37 and
// Liberation Sans 2.1, table hmtx, rounded up), so that a label measured here
// fits in whichever common sans font the page or printer ends up with: the
// estimate is an upper bound for those two and is 5 to 15 % generous for
// narrower ones. Kerning is ignored; it only narrows text.
var advance = [95]uint16{
	318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337,
	637, 637, 637, 637, 637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 557,
	1016, 685, 687, 723, 771, 667, 611, 778, 752, 295, 500, 667, 558, 863, 749, 788,
	667, 788, 723, 667, 611, 732, 685, 989, 686, 667, 686, 391, 337, 391, 838, 557,
	500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612,
	635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838,
}

var advanceBold = [95]uint16{
	349, 457, 521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416, 380, 366,
	696, 696, 696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 611,
	1000, 774, 763, 734, 831, 684, 684, 821, 837, 373, 557, 775, 638, 996, 837, 851,
	733, 851, 771, 721, 683, 813, 774, 1104, 771, 725, 726, 458, 366, 458, 838, 557,
	500, 675, 716, 593, 716, 679, 436, 716, 712, 343, 343, 666, 343, 1042, 712, 688,
	716, 716, 494, 596, 479, 712, 652, 924, 646, 652, 583, 712, 366, 712, 838,
}

// runeAdvance is one character's advance width in thousandths of the em.
func runeAdvance(r rune, bold bool) float64 {
	if r >= ' ' && r <= '~' {
		if bold {
			return float64(advanceBold[r-' '])
		}
		return float64(advance[r-' '])
	}
	switch r {
	case 'Ω', '\u2126':
		return pick(bold, 765, 851)
	case 'µ', 'μ':
		return pick(bold, 637, 736)
	case '°':
		return 500
	case '·', '‘', '’':
		return pick(bold, 318, 380)
	case '²', '³':
		return pick(bold, 401, 438)
	case '±', '×', '÷', '−', '≥', '≤', '≈', '↑', '↓':
		return 838
	case '–':
		return 557
	case '\u00a0':
		return pick(bold, 318, 349)
	case '\u2009', '\u202f': // thin spaces
		return 200
	}
	switch {
	case unicode.Is(unicode.Mn, r):
		return 0
	case r < 0x250: // accented Latin: none of the two fonts is wider
		return pick(bold, 1070, 1167)
	}
	return 1170
}

func pick(bold bool, book, heavy float64) float64 {
	if bold {
		return heavy
	}
	return book
}

// TextWidth estimates the width of s in a sans font of the given size, in
// user units. It is meant to be an upper bound: see the table's comment.
// Characters outside Latin, Greek capital omega, mu and the usual signs
// count a little over one em each.
func TextWidth(s string, size float64, bold bool) float64 {
	w := 0.0
	for _, r := range s {
		w += runeAdvance(r, bold)
	}
	return w / 1000 * size
}

// Wrap breaks s at spaces, not at no-break spaces, into lines no wider than width, as many words to a
// line as fit. A single word wider than that stands on a line of its own.
func Wrap(s string, size, width float64, bold bool) []string {
	var lines []string
	line := ""
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		switch {
		case line == "":
			line = w
		case TextWidth(line+" "+w, size, bold) <= width:
			line += " " + w
		default:
			lines = append(lines, line)
			line = w
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// clip shortens s until it is no wider than width and ends it with "…".
func clip(s string, size, width float64, bold bool) string {
	room := width / size * 1000
	dots := runeAdvance('…', bold)
	w := 0.0
	cut := 0 // bytes that leave room for the dots
	for i, r := range s {
		if w+dots <= room {
			cut = i
		}
		if w += runeAdvance(r, bold); w > room {
			if dots > room {
				return ""
			}
			return strings.TrimRight(s[:cut], " ,.;") + "…"
		}
	}
	return s
}

// Box is an upright rectangle, Min at the upper left.
type Box struct{ Min, Max Point }

// Overlaps reports whether two boxes share area.
func (b Box) Overlaps(o Box) bool {
	return b.Min.X < o.Max.X && o.Min.X < b.Max.X && b.Min.Y < o.Max.Y && o.Min.Y < b.Max.Y
}

// Bounds is the estimated extent of the text: TextWidth wide, 0.76 em above
// the baseline and 0.24 em below it.
func (t Text) Bounds() Box {
	w := TextWidth(t.S, t.Size, t.Bold)
	x := t.X
	switch t.Anchor {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	return Box{Point{x, t.Y - 0.76*t.Size}, Point{x + w, t.Y + 0.24*t.Size}}
}
