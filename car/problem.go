package car

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Sentinels a caller can ask for with errors.Is. Every problem in a car file
// is of exactly one class.
var (
	// ErrSyntax is text that is not the plain YAML a car file is written in:
	// a slip of the pen, or a feature (anchors, tags, several documents) that
	// a car file does not use.
	ErrSyntax = errors.New("not a plain YAML car file")
	// ErrTooLarge is a file beyond the size, depth or node limits.
	ErrTooLarge = errors.New("car file too large")
	// ErrField is a field that is unknown, missing, doubled or of the wrong shape.
	ErrField = errors.New("field of a car file")
	// ErrValue is a figure or word that cannot be read or cannot be true.
	ErrValue = errors.New("value in a car file")
	// ErrContradiction is two entries that cannot both be true.
	ErrContradiction = errors.New("contradiction in a car file")
)

// Problem is one thing wrong with a car file, in words for the person who
// wrote it.
type Problem struct {
	Pos    Pos    // where; Line 0 when the whole file is meant
	Field  string // dotted path, "coil.primary"; empty when the whole file is meant
	What   string // what is wrong
	Accept string // what would be accepted, empty when What says it all
	Hint   string // the word that was probably meant, empty when none is near
	Class  error  // one of the sentinels above
}

// Error gives the problem on one line:
//
//	file:line:column: field: what; accepted: ... (did you mean "...")
func (p *Problem) Error() string {
	var b strings.Builder
	if at := p.Pos.String(); at != "" {
		b.WriteString(at + ": ")
	}
	if p.Field != "" {
		b.WriteString(p.Field)
		b.WriteString(": ")
	}
	b.WriteString(p.What)
	if p.Accept != "" {
		b.WriteString("; accepted: ")
		b.WriteString(p.Accept)
	}
	if p.Hint != "" {
		fmt.Fprintf(&b, " (did you mean %q)", p.Hint)
	}
	return b.String()
}

// Unwrap gives the problem's class, so that errors.Is(err, ErrValue) works.
func (p *Problem) Unwrap() error { return p.Class }

// Listed is how many problems Errors.Error prints before it only counts.
const Listed = 100

// Errors is everything wrong with a car file, in file order.
type Errors []*Problem

// Error prints one problem a line, at most Listed of them and then how many
// more there are.
func (e Errors) Error() string {
	var b strings.Builder
	for i, p := range e {
		if i == Listed {
			fmt.Fprintf(&b, "\nand %d more", len(e)-Listed)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(p.Error())
	}
	return b.String()
}

// Unwrap gives the problems one by one to errors.Is and errors.As.
func (e Errors) Unwrap() []error {
	list := make([]error, len(e))
	for i, p := range e {
		list[i] = p
	}
	return list
}

// inFileOrder sorts by place; problems at one place keep the order in which
// they were found.
func (e Errors) inFileOrder() {
	slices.SortStableFunc(e, func(a, b *Problem) int {
		if a.Pos.Line != b.Pos.Line {
			return a.Pos.Line - b.Pos.Line
		}
		return a.Pos.Column - b.Pos.Column
	})
}

// quote puts text from the file into a message, cut short if it is long and
// with control characters spelled out.
func quote(text string) string {
	const most = 40
	n := 0
	for i := range text {
		if n == most {
			return fmt.Sprintf("%q...", text[:i])
		}
		n++
	}
	return fmt.Sprintf("%q", text)
}
