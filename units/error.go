package units

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// ParseError is what [Parse] returns, as a pointer, for text it does not take.
type ParseError struct {
	Text   string // what was typed; cut off if it was far too long
	Kind   Kind   // the quantity wanted
	Offset int    // byte in Text where the trouble begins
	What   string // what is wrong, on one line
	Accept string // what would be taken: [Kind.Accepts]
}

// Error says on one line what is wrong and what would be accepted.
func (e *ParseError) Error() string {
	if e.Accept == "" {
		return e.What
	}
	return e.What + "; accepted: " + e.Accept
}

// show makes a piece of typed text fit for an error message: short, on one
// line, in quotes only if it holds something that cannot be printed.
func show(piece string) string {
	const most = 24
	piece = strings.TrimSpace(piece)
	if utf8.RuneCountInString(piece) > most {
		piece = string([]rune(piece)[:most]) + "…"
	}
	for _, r := range piece {
		if !unicode.IsPrint(r) || r == utf8.RuneError {
			return strconv.Quote(piece)
		}
	}
	return piece
}
