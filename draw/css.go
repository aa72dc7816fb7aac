package draw

import "strings"

// StyleCSS is the style sheet a page carries once for all pictures: it binds
// the classes in the SVG to custom properties, --dw-ink and so on, each with
// the light colour to fall back on, and the text to --dw-font.
func StyleCSS() string {
	var b strings.Builder
	light := Light()
	b.WriteString(".dw { font-family: var(--dw-font, system-ui, sans-serif); font-variant-numeric: tabular-nums; }\n")
	for t := Ink; t < toneCount; t++ {
		v := "var(--dw-" + t.String() + ", " + light[t].Hex() + ")"
		b.WriteString(".dw-s-" + t.String() + " { stroke: " + v + "; }\n")
		b.WriteString(".dw-f-" + t.String() + " { fill: " + v + "; }\n")
	}
	return b.String()
}

// PaletteCSS sets the custom properties to the palette's colours for
// whatever the selector selects, such as ":root" or "[data-theme=dark]".
func PaletteCSS(selector string, p Palette) string {
	var b strings.Builder
	b.WriteString(selector + " {")
	for t := Ink; t < toneCount; t++ {
		b.WriteString(" --dw-" + t.String() + ": " + p[t].Hex() + ";")
	}
	b.WriteString(" }\n")
	return b.String()
}
