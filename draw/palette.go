package draw

import (
	"fmt"
	"math"
)

// RGB is an sRGB colour.
type RGB struct{ R, G, B uint8 }

// Hex is the colour as #rrggbb.
func (c RGB) Hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Palette gives every tone a colour: p[draw.Ink]. The zero Palette is not
// one; start from Light, Dark, HighContrast or Paper and change an entry.
type Palette [toneCount]RGB

func hex(v uint32) RGB { return RGB{uint8(v >> 16), uint8(v >> 8), uint8(v)} }

// Light is for a screen indoors.
func Light() Palette {
	return Palette{
		Ink: hex(0x1c2126), Muted: hex(0x565f69), Faint: hex(0xd8d5cd),
		Back: hex(0xfaf9f6), Panel: hex(0xffffff), Wanted: hex(0xd9ead9), Accent: hex(0x0a5ea8),
		Wire: hex(0x6a3d8f), WireLive: hex(0xa03c0c), WireEarth: hex(0x3b4654), WireControl: hex(0x0b6e75),
		Holds: hex(0x1d6b3a), Doubtful: hex(0x8a5800), Short: hex(0xb3221c), Unproven: hex(0x59636e),
		IsMeasured: hex(0x1c2126), IsPredicted: hex(0x0a5ea8), IsStated: hex(0x565f69), IsAssumed: hex(0x8a5800),
		SeriesA: hex(0x0a5ea8), SeriesB: hex(0xa03c0c), SeriesC: hex(0x1d6b3a), SeriesD: hex(0x6a3d8f),
		Shade:        hex(0xeceae4),
		BandShortFar: hex(0xf3c6b4), BandShort: hex(0xfae6dc), BandWell: hex(0xf1f6f4), BandWell2: hex(0xd7ebe8), BandWell3: hex(0xb5dbd9), BandWell4: hex(0x90c9cb),
	}
}

// Dark is for a screen in a dim garage.
func Dark() Palette {
	return Palette{
		Ink: hex(0xeceae4), Muted: hex(0xa9b1ba), Faint: hex(0x3a4149),
		Back: hex(0x15191d), Panel: hex(0x1f252b), Wanted: hex(0x21402b), Accent: hex(0x6bb5f2),
		Wire: hex(0xc39be6), WireLive: hex(0xf08f56), WireEarth: hex(0xa3b1c2), WireControl: hex(0x53c4cb),
		Holds: hex(0x62c585), Doubtful: hex(0xe6b04a), Short: hex(0xff8177), Unproven: hex(0xa4afba),
		IsMeasured: hex(0xeceae4), IsPredicted: hex(0x6bb5f2), IsStated: hex(0xa9b1ba), IsAssumed: hex(0xe6b04a),
		SeriesA: hex(0x6bb5f2), SeriesB: hex(0xf08f56), SeriesC: hex(0x62c585), SeriesD: hex(0xc39be6),
		Shade:        hex(0x2a3139),
		BandShortFar: hex(0x5b2c23), BandShort: hex(0x43302a), BandWell: hex(0x1d2626), BandWell2: hex(0x1c3538), BandWell3: hex(0x1d474d), BandWell4: hex(0x205b63),
	}
}

// HighContrast is for a phone in the sun: every text tone has at least 7:1
// against its ground.
func HighContrast() Palette {
	return Palette{
		Ink: hex(0x000000), Muted: hex(0x2b2f33), Faint: hex(0x8a8f94),
		Back: hex(0xffffff), Panel: hex(0xffffff), Wanted: hex(0xc4e6c8), Accent: hex(0x003f7f),
		Wire: hex(0x4a1a72), WireLive: hex(0x7d2400), WireEarth: hex(0x1a222c), WireControl: hex(0x004a50),
		Holds: hex(0x004d1f), Doubtful: hex(0x5c3800), Short: hex(0x8f0000), Unproven: hex(0x2f363d),
		IsMeasured: hex(0x000000), IsPredicted: hex(0x003f7f), IsStated: hex(0x2b2f33), IsAssumed: hex(0x5c3800),
		SeriesA: hex(0x003f7f), SeriesB: hex(0x7d2400), SeriesC: hex(0x004d1f), SeriesD: hex(0x4a1a72),
		Shade:        hex(0xe4e6e8),
		BandShortFar: hex(0xffd0be), BandShort: hex(0xffece3), BandWell: hex(0xffffff), BandWell2: hex(0xe0f2f1), BandWell3: hex(0xc2e5e4), BandWell4: hex(0xa3d7d8),
	}
}

// Paper is for print: white ground, dark strokes that survive a copier.
func Paper() Palette {
	p := HighContrast()
	p[Faint] = hex(0xb5b5b5)
	p[Wanted] = hex(0xe3e3e3)
	p[Shade] = hex(0xececec)
	p[BandShortFar], p[BandShort], p[BandWell] = hex(0xffffff), hex(0xffffff), hex(0xf4f4f4)
	p[BandWell2], p[BandWell3], p[BandWell4] = hex(0xe8e8e8), hex(0xdadada), hex(0xcccccc)
	return p
}

// Contrast is the contrast ratio of two colours, 1 to 21, as WCAG 2.2
// defines it: (L1+0.05)/(L2+0.05) with L the relative luminance, the
// lighter one on top.
func Contrast(a, b RGB) float64 {
	la, lb := a.luminance(), b.luminance()
	if la < lb {
		la, lb = lb, la
	}
	return (la + 0.05) / (lb + 0.05)
}

// luminance is the relative luminance of WCAG 2.2: linear sRGB weighted by
// 0.2126, 0.7152 and 0.0722.
func (c RGB) luminance() float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}
