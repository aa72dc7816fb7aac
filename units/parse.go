package units

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"
)

const (
	// mostText is the longest text Parse looks at, in bytes.
	mostText = 200
	// mostX is the largest figure Parse lets through; it leaves room to
	// calculate with.
	mostX = 1e30

	absoluteZero = -273.15 // °C

	badFraction = "a fraction is two whole numbers, and the lower one is not 0"
)

// Parse reads a figure of kind k as a person writes it; the package comment
// shows the forms. The result is in the unit of k. Parse refuses text that is
// empty, unclear, longer than 200 bytes, of another quantity, or that no such
// figure can be (less than nothing, below absolute zero, a range whose ends
// are swapped); the error is then a *[ParseError]. An uncertainty may be
// larger than the figure itself.
func Parse(k Kind, text string) (Value, error) {
	p := parser{kind: k, trait: k.trait(), text: text}
	if !k.known() {
		return Value{}, p.fail(0, "no such kind of quantity")
	}
	if len(text) > mostText {
		cut := mostText
		for cut > 0 && !utf8.RuneStart(text[cut]) {
			cut--
		}
		p.text = text[:cut]
		return Value{}, p.fail(cut, "too long: more than %d bytes", mostText)
	}
	p.tokens = lex(text)
	v, err := p.value()
	if err != nil {
		return Value{}, err
	}
	if t := p.peek(0); t.class != end {
		return Value{}, p.misplaced(t)
	}
	return v, nil
}

// parser reads one text.
type parser struct {
	kind   Kind
	trait  trait
	text   string
	tokens []token
	at     int // the token to be read next
}

// peek gives the nth token from here; the end token for ever after the last.
func (p *parser) peek(n int) token {
	return p.tokens[min(p.at+n, len(p.tokens)-1)]
}

// isWord says whether the nth token from here is this word, in any case.
func (p *parser) isWord(n int, text string) bool {
	t := p.peek(n)
	return t.class == word && strings.EqualFold(t.text, text)
}

// isSlash says whether the nth token from here is a slash.
func (p *parser) isSlash(n int) bool {
	t := p.peek(n)
	return t.class == mark && t.text == "/"
}

// fail makes a ParseError at byte at.
func (p *parser) fail(at int, format string, args ...any) error {
	return &ParseError{
		Text: p.text, Kind: p.kind, Offset: at,
		What: fmt.Sprintf(format, args...), Accept: p.trait.accepts,
	}
}

// misplaced is the error for a token that should not stand where it does.
func (p *parser) misplaced(t token) error {
	if t.class == number && p.at > 0 && p.tokens[p.at-1].class == number {
		return p.fail(t.at, "two numbers side by side: write one number without a gap, or a range with .. between")
	}
	if t.class == sign && t.text == "+" {
		return p.fail(t.at, "an uncertainty that differs up and down is not read: write a range with .. between")
	}
	return p.fail(t.at, "%s should not stand here", show(p.text[t.at:t.stop]))
}

// amount is one number with its unit, not yet converted.
type amount struct {
	at       int
	x        float64 // the number, with its sign
	digits   token   // the number as typed, for a gauge such as 00
	over     token   // after a slash: 1/0 AWG, 28/0.30 mm; class end if none
	unit     *unit   // nil: none was typed
	isSI     bool    // x is already in the unit of the kind: 4R7, 6 ft 3 in
	unitFrom string  // how to name what follows if it has no unit; see share
}

// value reads the whole text.
func (p *parser) value() (Value, error) {
	first, err := p.amount()
	if err != nil {
		return Value{}, err
	}
	switch t := p.peek(0); {
	case t.class == plusMinus:
		p.at++
		return p.normal(first)
	case t.class == upTo, t.class == sign && t.text == "-", p.isWord(0, "to"):
		p.at++
		return p.uniform(first)
	case t.class == timesOver:
		p.at++
		return p.logNormal(first)
	case p.isWord(0, "within"):
		p.at++
		for _, w := range []string{"a", "factor", "of"} {
			if p.isWord(0, w) {
				p.at++
			}
		}
		return p.logNormal(first)
	case t.class != end:
		return Value{}, p.misplaced(t)
	}
	x, err := p.toSI(first)
	if err != nil {
		return Value{}, err
	}
	return p.exact(x, first.at)
}

// exact makes a Value without uncertainty.
func (p *parser) exact(x float64, at int) (Value, error) {
	if p.kind == Count && x != math.Trunc(x) {
		return Value{}, p.fail(at, "a count is a whole number")
	}
	return Value{X: x}, nil
}

// normal reads what stands after a ±.
func (p *parser) normal(first amount) (Value, error) {
	var part *unit // not nil: the ± is a part of the figure
	at := p.at
	second, err := p.amountOr(&part)
	if err != nil {
		return Value{}, err
	}
	if p.tokens[at].class == sign {
		return Value{}, p.fail(second.at, "the ± carries no sign of its own")
	}
	if part != nil && p.kind == Fraction && first.unit == nil {
		if first.x <= 1 {
			return Value{}, p.fail(second.at, "not clear: write 67 %% ± 5 %% or 0.67 ± 0.05")
		}
		first.unit = find(Fraction, "%") // 67 ± 5 %
	}
	if part != nil && first.unit != nil && first.unit.role == percent {
		second.unit, part = first.unit, nil // points
	}
	if part == nil {
		if err := p.share(&first, &second); err != nil {
			return Value{}, err
		}
	}
	x, err := p.toSI(first)
	if err != nil {
		return Value{}, err
	}
	var pm float64
	switch {
	case part != nil && p.kind == Temperature:
		return Value{}, p.fail(second.at, "a part of a temperature has no meaning: write the ± in degrees")
	case part != nil:
		pm = math.Abs(x) * times(second.x, part.scale)
	case second.unit != nil && (second.unit.role == gauge || second.unit.role == strand):
		return Value{}, p.fail(second.at, "a wire size takes its ± in per cent or mm²")
	case second.isSI || second.unit == nil:
		pm = second.x
	default:
		pm = times(second.x, second.unit.scale) // a difference: no zero point
	}
	switch {
	case math.IsNaN(second.x):
		return Value{}, p.fail(second.at, badFraction)
	case pm > mostX:
		return Value{}, p.fail(second.at, "too large a number")
	case pm == 0:
		return p.exact(x, first.at)
	}
	return Value{X: x, PM: pm, Shape: Normal}, nil
}

// uniform reads what stands after the .. of a range.
func (p *parser) uniform(first amount) (Value, error) {
	second, err := p.amount()
	if err != nil {
		return Value{}, err
	}
	if err := p.share(&first, &second); err != nil {
		return Value{}, err
	}
	lo, err := p.toSI(first)
	if err != nil {
		return Value{}, err
	}
	hi, err := p.toSI(second)
	if err != nil {
		return Value{}, err
	}
	if p.kind == Count && (lo != math.Trunc(lo) || hi != math.Trunc(hi)) {
		return Value{}, p.fail(first.at, "a count is a whole number")
	}
	if hi < lo && first.unit != nil && first.unit.role == gauge {
		lo, hi = hi, lo // 14..18 AWG: a larger number is a thinner wire
	}
	switch {
	case hi < lo:
		return Value{}, p.fail(first.at, "the ends of the range are swapped: write the smaller figure first")
	case (hi-lo)/2 == 0:
		return Value{X: lo}, nil
	}
	return Value{X: lo + (hi-lo)/2, PM: (hi - lo) / 2, Shape: Uniform}, nil
}

// logNormal reads the factor that stands after "within a factor of" or ×/÷.
func (p *parser) logNormal(first amount) (Value, error) {
	t := p.peek(0)
	if t.class != number || t.code != "" {
		return Value{}, p.fail(t.at, "a number should stand here: within a factor of 1.3")
	}
	p.at++
	f, what := decimal(t.text, false)
	x, err := p.toSI(first)
	switch {
	case err != nil:
		return Value{}, err
	case what != "":
		return Value{}, p.fail(t.at, "%s", what)
	case f < 1:
		return Value{}, p.fail(t.at, "the factor must be 1 or more")
	case p.kind == Temperature || x <= 0:
		return Value{}, p.fail(first.at, "a factor needs a figure above zero that is not a temperature: write ± or a range")
	case x*(f-1) == 0:
		return p.exact(x, first.at)
	case x*(f-1) > mostX:
		return Value{}, p.fail(t.at, "too large a number")
	}
	return Value{X: x, PM: x * (f - 1), Shape: LogNormal}, nil
}

// share gives the unit of one amount to the other if that has none. A unit
// that does not carry over is an error.
func (p *parser) share(a, b *amount) error {
	switch {
	case a.unit == nil && !a.isSI && b.unit != nil:
		a.unit = b.unit
	case a.unit == nil && !a.isSI && b.unitFrom != "":
		return p.fail(a.at, "before %s the first figure needs its own unit", b.unitFrom)
	case b.unit == nil && !b.isSI && a.unitFrom != "":
		return p.fail(b.at, "after %s the second figure needs its own unit", a.unitFrom)
	case b.unit == nil && !b.isSI:
		b.unit = a.unit
	}
	return nil
}

// toSI converts an amount and refuses what no such figure can be.
func (p *parser) toSI(a amount) (float64, error) {
	x := a.x
	switch {
	case a.isSI:
	case a.unit == nil && p.trait.needsUnit != "":
		return 0, p.fail(a.at, "%s needs a unit: %s", p.kind.article(), p.trait.needsUnit)
	case a.unit == nil && p.kind == Fraction && math.Abs(x) > 1:
		return 0, p.fail(a.at, "not clear without a unit: write %s %%, or a fraction below 1", show(a.digits.text))
	case a.unit == nil:
	case a.unit.role == gauge:
		n, ok := gaugeNumber(a)
		if !ok {
			return 0, p.fail(a.at, "there is no such wire gauge: it runs from 4/0 (thick) over 1/0 and 1 to 40 (thin)")
		}
		return AWGSection(n), nil
	case a.unit.role == strand:
		return p.strands(a)
	default:
		x = times(x-a.unit.zero, a.unit.scale)
	}
	if math.IsNaN(x) {
		return 0, p.fail(a.at, badFraction)
	}
	switch {
	case math.Abs(x) > mostX:
		return 0, p.fail(a.at, "too large a number")
	case x < 0 && p.trait.notNegative:
		return 0, p.fail(a.at, "%s cannot be negative", p.kind.article())
	case p.kind == Temperature && x < absoluteZero-1e-9: // -459.67 °F is it, to rounding
		return 0, p.fail(a.at, "below absolute zero (-273.15 °C, -459.67 °F)")
	}
	if p.kind == Temperature {
		x = max(x, absoluteZero)
	}
	return x + 0, nil // no negative zero
}

// times is x × scale. Where scale is a whole part, such as a millionth, it
// divides, so that 0.22 µF is the same float64 as 0.22e-6.
func times(x, scale float64) float64 {
	if parts := 1 / scale; parts > 1 && parts == math.Trunc(parts) {
		return x / parts
	}
	return x * scale
}

// gaugeNumber reads 18, 0, 000, 3/0 as the numbers AWGDiameterM takes.
func gaugeNumber(a amount) (int, bool) {
	n, ok := whole(a.digits)
	digits := a.digits.text
	switch {
	case !ok || math.Signbit(a.x):
		return 0, false
	case a.over.class != end:
		return 1 - n, a.over.text == "0" && 1 <= n && n <= 4
	case strings.Trim(digits, "0") == "":
		return 1 - len(digits), len(digits) <= 4
	}
	return n, n <= ThinnestAWG && float64(n) == a.x
}

// strands reads 28/0.30 mm: so many strands of such a diameter.
func (p *parser) strands(a amount) (float64, error) {
	n, ok := whole(a.digits)
	if a.over.class == end {
		return 0, p.fail(a.at, "a diameter is not an area: write mm² for the area of copper, or strands/diameter as 28/0.30 mm")
	}
	d, what := decimal(a.over.text, false)
	if !ok || what != "" || math.Signbit(a.x) {
		return 0, p.fail(a.at, "not understood as strands/diameter")
	}
	d *= a.unit.scale
	if x := float64(n) * math.Pi / 4 * d * d; x <= mostX {
		return x, nil
	}
	return 0, p.fail(a.at, "too large a number")
}
