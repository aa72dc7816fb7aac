package units

import (
	"math"
	"strings"
)

// amount reads a number and its unit, if there is one.
func (p *parser) amount() (amount, error) { return p.amountOr(nil) }

// amountOr is amount, but where part is not nil a % means a part of another
// figure: it comes back in *part and the amount has no unit.
func (p *parser) amountOr(part **unit) (amount, error) {
	a := amount{at: p.peek(0).at}
	minus := false
	if t := p.peek(0); t.class == sign {
		minus = t.text == "-"
		p.at++
	}
	prefixed := false
	if t := p.peek(0); t.class == hash || p.isWord(0, "AWG") { // #18, AWG 18
		if p.kind != WireSection {
			return a, p.fail(t.at, "%s is a wire gauge; %s is wanted", show(p.text[t.at:t.stop]), p.kind.article())
		}
		prefixed = true
		p.at++
	}
	if err := p.numeral(&a); err != nil {
		return a, err
	}
	if minus {
		a.x = math.Copysign(a.x, -1)
	}
	if prefixed {
		a.unit = find(WireSection, "AWG")
		return a, nil
	}
	if err := p.unit(&a, part); err != nil {
		return a, err
	}
	if a.unit != nil && a.unit.role == feet {
		if err := p.inches(&a); err != nil {
			return a, err
		}
	}
	return a, nil
}

// numeral reads 1.5, 1/32, 1 1/2, 1½, ½, 4R7.
func (p *parser) numeral(a *amount) error {
	t := p.peek(0)
	switch t.class {
	case vulgar:
		p.at++
		a.digits, a.x = t, t.value
		return nil
	case number:
	case end:
		if p.at == 0 {
			return p.fail(t.at, "nothing was typed")
		}
		return p.fail(t.at, "a number is missing at the end")
	default:
		return p.fail(t.at, "a number should stand here, not %s", show(p.text[t.at:t.stop]))
	}
	p.at++
	a.digits = t
	if t.code != "" {
		return p.coded(a)
	}
	var what string
	if a.x, what = decimal(t.text, p.trait.grouped); what != "" {
		return p.fail(t.at, "%s", what)
	}
	_, isWhole := whole(t)
	switch next := p.peek(0); {
	case next.class == vulgar: // 1½
		if !isWhole {
			return p.misplaced(next)
		}
		p.at++
		a.x += next.value
	case p.isSlash(0) && p.peek(1).class == number: // 1/32
		a.over = p.peek(1)
		a.x = quotient(t, a.over)
		p.at += 2
	case isWhole && a.x >= 1 && p.hyphened(): // 1-1/2; as a range it would be swapped
		a.x += quotient(p.peek(1), p.peek(3))
		p.at += 4
	case isWhole && next.class == number && p.isSlash(1) && p.peek(2).class == number: // 1 1/2
		q := quotient(next, p.peek(2))
		if !(q < 1) {
			return p.fail(next.at, "not understood: after a whole number a fraction below 1 may follow, as 1 1/2")
		}
		a.x += q
		p.at += 3
	}
	return nil
}

// hyphened says whether a hyphen and a fraction below 1 follow without a gap,
// as in the American way of writing 1-1/2.
func (p *parser) hyphened() bool {
	hyphen, top, slash, bottom := p.peek(0), p.peek(1), p.peek(2), p.peek(3)
	return hyphen.class == sign && hyphen.text == "-" && p.isSlash(2) && p.tokens[p.at-1].stop == hyphen.at &&
		hyphen.stop == top.at && top.stop == slash.at && slash.stop == bottom.at && quotient(top, bottom) < 1
}

// quotient divides two whole numbers; it gives NaN if they are not whole or
// the lower one is 0.
func quotient(top, bottom token) float64 {
	n, ok1 := whole(top)
	d, ok2 := whole(bottom)
	if !ok1 || !ok2 || d == 0 {
		return math.NaN()
	}
	return float64(n) / float64(d)
}

// coded reads 4R7 and 5k5, where a letter is both decimal point and unit.
func (p *parser) coded(a *amount) error {
	t := a.digits
	for _, c := range codes {
		if c.kind != p.kind || c.letter != t.code {
			continue
		}
		digits := p.text[t.at:t.stop]
		tail := digits[strings.LastIndexFunc(digits, func(r rune) bool { return r < '0' || r > '9' })+1:]
		x, what := finite(t.text + "." + tail)
		if what != "" {
			return p.fail(t.at, "%s", what)
		}
		a.x, a.isSI = times(x, c.scale), true
		if c.scale != 1 {
			a.unitFrom = show(digits)
		}
		return nil
	}
	if what := findUnclear(p.kind, t.code); what != "" {
		return p.fail(t.at, "%s", what)
	}
	return p.fail(t.at, "%s is not understood: for %s no %s stands in place of the decimal point",
		show(p.text[t.at:t.stop]), p.kind.article(), show(t.code))
}

// unit reads the unit behind a number.
func (p *parser) unit(a *amount, part **unit) error {
	from := p.at
	var key strings.Builder
	if t := p.peek(0); t.class == number && t.text == "1" && p.isSlash(1) && p.peek(2).class == word { // 1/K
		key.WriteString("1")
		p.at++
	}
	for {
		t := p.peek(0)
		if t.class == mark && t.text == ":" && p.peek(1).text == "1" { // 90:1
			key.WriteString(":1")
			p.at += 2
			continue
		}
		if t.class != word && t.class != mark || p.isWord(0, "to") || p.isWord(0, "within") {
			break
		}
		if p.isWord(0, "per") {
			t.text = "/"
		}
		key.WriteString(t.text)
		p.at++
	}
	if p.at == from {
		return nil
	}
	at, stop := p.tokens[from].at, p.tokens[p.at-1].stop
	if part != nil {
		if u := find(Fraction, key.String()); u != nil {
			*part = u
			return nil
		}
	}
	if what := findUnclear(p.kind, key.String()); what != "" {
		return p.fail(at, "%s", what)
	}
	u := find(p.kind, key.String())
	switch {
	case u == nil:
		return p.unknown(at, stop, key.String())
	case !a.isSI:
		a.unit = u
	case u.scale != 1: // 4R7 ohm is well, 4R7 kohm is not
		return p.fail(at, "%s does not go with %s", show(p.text[at:stop]), show(p.text[a.digits.at:a.digits.stop]))
	}
	return nil
}

// unknown is the error for a unit that p's kind has not.
func (p *parser) unknown(at, stop int, key string) error {
	typed := show(p.text[at:stop])
	if s := miscased(p.kind, key); s != "" {
		return p.fail(at, "%s begins with M, which is mega (a million): for thousandths write %s", typed, s)
	}
	if k, ok := kindOf(key); ok {
		return p.fail(at, "%s is %s; %s is wanted", typed, k.article(), p.kind.article())
	}
	return p.fail(at, "%s is not a known unit", typed)
}

// inches reads what may follow feet: 6 ft 3 in, 6′ 3 1/2″, 6' 3.
func (p *parser) inches(a *amount) error {
	t := p.peek(0)
	if t.class != number && t.class != vulgar {
		return nil
	}
	rest := amount{at: t.at}
	if err := p.numeral(&rest); err != nil {
		return err
	}
	if err := p.unit(&rest, nil); err != nil {
		return err
	}
	in := find(Length, "in")
	if rest.unit != nil && rest.unit != in || !(rest.x < 12) || a.x != math.Trunc(a.x) {
		return p.fail(t.at, "behind whole feet only inches below 12 may follow, as 6 ft 3 in")
	}
	a.x = math.Copysign(math.Abs(a.x)*foot+rest.x*inch, a.x)
	a.isSI, a.unitFrom = true, "feet and inches"
	return nil
}
