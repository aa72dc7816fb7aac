package units

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// class is what a token is.
type class uint8

const (
	end       class = iota
	number          // 14,2  .22  1e-3  4R7
	vulgar          // ½
	word            // letters of a unit, or "to", "within", ...
	mark            // % deg ' " / : in a unit
	sign            // + or -
	plusMinus       // ± or +/-
	upTo            // .. or ...
	timesOver       // ×/÷
	hash            // # before a gauge number
	stray           // anything else
)

// token is a piece of typed text.
type token struct {
	class    class
	at, stop int    // bytes in the text
	text     string // spelt as in the unit table; a number as it was typed
	code     string // number: the letter that stands for the point, as in 4R7
	value    float64
}

// letters are runes that are written differently in the unit table.
var letters = map[rune]string{
	'µ': "u", 'μ': "u", // micro sign, Greek mu
	'Ω': "ohm", '\u2126': "ohm", // Greek omega, ohm sign
	'\u212a': "K", // kelvin sign
	'℃':      "degC", '℉': "degF",
}

// marks are the signs a unit may hold, straight and typographic.
var marks = map[rune]string{
	'%': "%", '/': "/", ':': ":",
	'°': "deg", 'º': "deg", '˚': "deg",
	'\'': "'", '′': "'", '’': "'",
	'"': `"`, '″': `"`, '”': `"`,
}

// vulgars are the fractions a telephone's keyboard offers.
var vulgars = map[rune]float64{
	'½': 1. / 2, '¼': 1. / 4, '¾': 3. / 4, '⅓': 1. / 3, '⅔': 2. / 3,
	'⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8,
}

// minuses are the hyphen, the minus sign and the dashes keyboards put in
// their place.
const minuses = "-−–—‐‑"

// lexer cuts text into tokens.
type lexer struct {
	text string
	pos  int
}

// lex cuts the whole text into tokens; the last is end.
func lex(text string) []token {
	l := lexer{text: text}
	var list []token
	for {
		t := l.next()
		list = append(list, t)
		if t.class == end {
			return list
		}
	}
}

// rune gives the rune at byte i and its width; 0, 0 past the end.
func (l *lexer) rune(i int) (rune, int) {
	if i >= len(l.text) {
		return 0, 0
	}
	return utf8.DecodeRuneInString(l.text[i:])
}

// digit says whether an ASCII digit stands at byte i.
func (l *lexer) digit(i int) bool {
	return i < len(l.text) && '0' <= l.text[i] && l.text[i] <= '9'
}

// point says whether a decimal point or comma with a digit behind it stands
// at byte i.
func (l *lexer) point(i int) bool {
	return i < len(l.text) && (l.text[i] == '.' || l.text[i] == ',') && l.digit(i+1)
}

// letter gives the spelling of the letter at byte i and its width; "" if none.
func (l *lexer) letter(i int) (string, int) {
	r, w := l.rune(i)
	if s, ok := letters[r]; ok {
		return s, w
	}
	if unicode.IsLetter(r) && r != 'º' {
		return string(r), w
	}
	return "", 0
}

// has says whether the text goes on with s at byte i.
func (l *lexer) has(i int, s string) bool {
	return i <= len(l.text) && strings.HasPrefix(l.text[i:], s)
}

// next cuts off one token.
func (l *lexer) next() token {
	for {
		r, w := l.rune(l.pos)
		if w == 0 || !unicode.IsSpace(r) {
			break
		}
		l.pos += w
	}
	at := l.pos
	r, w := l.rune(at)
	switch {
	case w == 0:
		return token{class: end, at: at, stop: at}
	case l.digit(at), l.point(at):
		return l.number()
	case (r == 'R' || r == 'r') && l.digit(at+1): // R47
		return l.number()
	}
	if s, _ := l.letter(at); s != "" {
		return l.word()
	}

	class, text, value := stray, l.text[at:at+w], 0.
	switch {
	case r == '±':
		class = plusMinus
	case r == '+':
		i := at + w
		if l.has(i, "/") {
			i++
		}
		if m, mw := l.rune(i); mw > 0 && strings.ContainsRune(minuses, m) {
			class, w = plusMinus, i+mw-at
		} else {
			class = sign
		}
	case strings.ContainsRune(minuses, r) && r != utf8.RuneError:
		class, text = sign, "-"
	case r == '…':
		class = upTo
	case l.has(at, ".."):
		class, w = upTo, 2
		if l.has(at, "...") {
			w = 3
		}
	case r == '×':
		i := at + w
		if l.has(i, "/") {
			i++
		}
		if l.has(i, "÷") {
			class, w = timesOver, i+len("÷")-at
		}
	case r == '#':
		class = hash
	case l.has(at, "''"):
		class, text, w = mark, `"`, 2
	case marks[r] != "":
		class, text = mark, marks[r]
	case vulgars[r] != 0:
		class, value = vulgar, vulgars[r]
	}
	l.pos = at + w
	return token{class: class, at: at, stop: l.pos, text: text, value: value}
}

// number cuts off digits with their points and commas, an exponent, or a code
// letter with the digits behind it.
func (l *lexer) number() token {
	at, i := l.pos, l.pos
	marked := false
	for l.digit(i) || l.point(i) {
		marked = marked || !l.digit(i)
		i++
	}
	t := token{class: number, at: at, text: l.text[at:i]}

	if j := i; l.has(j, "e") || l.has(j, "E") { // 1.5e-3
		j++
		if l.has(j, "+") || l.has(j, "-") {
			j++
		}
		if l.digit(j) {
			for l.digit(j) {
				j++
			}
			i, t.text = j, l.text[at:j]
			l.pos, t.stop = i, i
			return t
		}
	}
	if s, w := l.letter(i); s != "" && !marked && l.digit(i+w) { // 4R7
		t.code = s
		for i += w; l.digit(i); i++ {
		}
	} else if l.has(i, ".") && !l.has(i, "..") { // 5. without digits behind
		i++
	}
	l.pos, t.stop = i, i
	return t
}

// word cuts off letters, with hyphens and dots between them left out
// (amp-hour, A·h), the 2 of an area (mm², mm^2, mm2), and the full stop of an
// abbreviation (in.).
func (l *lexer) word() token {
	at, i := l.pos, l.pos
	var b strings.Builder
	for {
		s, w := l.letter(i)
		if s == "" {
			r, rw := l.rune(i)
			if s, w = l.letter(i + rw); s == "" || rw == 0 || !strings.ContainsRune("-·⋅*", r) {
				break
			}
			i += rw
		}
		b.WriteString(s)
		i += w
	}
	text := b.String()
	switch {
	case l.has(i, "²"):
		text, i = text+"2", i+len("²")
	case l.has(i, "^2"):
		text, i = text+"2", i+len("^2")
	case l.has(i, "2") && !l.digit(i+1) && !l.point(i+1) && find(WireSection, text+"2") != nil:
		text, i = text+"2", i+1
	}
	if l.has(i, ".") && !l.has(i, "..") && !l.digit(i+1) {
		i++
	}
	l.pos = i
	return token{class: word, at: at, stop: i, text: text}
}
