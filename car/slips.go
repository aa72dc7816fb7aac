package car

import (
	"fmt"
	"regexp"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Some slips of the pen are YAML of another meaning: {primary: 1,5 ohm} is
// two entries, and {primary:1.5 ohm} is one long name without a value. They
// are looked for wherever names are read, and said as what they are.

// stuck is a name with no space between its colon and what follows.
var stuck = regexp.MustCompile(`(?s)^([a-z][a-z0-9_]*):(\S.*)$`)

// isPlain reports whether a node is a word or figure without quotes.
func isPlain(n *yaml.Node) bool {
	const quoted = yaml.SingleQuotedStyle | yaml.DoubleQuotedStyle | yaml.LiteralStyle | yaml.FoldedStyle
	return n.Kind == yaml.ScalarNode && n.Style&quoted == 0
}

// slip complains of the entry at i of a section if a missing space or a
// decimal comma has made something else of it. It gives the place of the next
// entry, or i when nothing is wrong.
func (r *reader) slip(n *yaml.Node, path string, i int) int {
	key, value, next := n.Content[i], n.Content[i+1], i+2
	if !isPlain(key) || r.refused[value] {
		return i
	}
	name, figure := key.Value, ""
	m := stuck.FindStringSubmatch(key.Value)
	switch {
	case m != nil:
		name, figure = m[1], m[2]
	case isPlain(value):
		figure = value.Value
	default:
		return i
	}
	if m == nil || isNothing(value) {
		last := figure
		for n.Style&yaml.FlowStyle != 0 && next+1 < len(n.Content) && isCommaTail(last, n.Content[next], n.Content[next+1]) {
			last = n.Content[next].Value
			if len(figure) < 100 { // more is no figure, and only part of it is shown
				figure += "," + last
			}
			next += 2
		}
	}
	switch {
	case m != nil:
		r.noSpace(key, join(path, name), name, pointed(figure))
	case next > i+2:
		r.problem(value, join(path, cut(name)), fmt.Sprintf("a comma inside { } ends the entry, so the figure breaks off at %s", quote(value.Value)),
			fmt.Sprintf("%s, or %s between quotes", brief(pointed(figure)), quote(figure)), "", ErrSyntax)
	default:
		return i
	}
	return next
}

func (r *reader) noSpace(n *yaml.Node, path, name, rest string) {
	r.problem(n, path, "a space is wanted after the colon", name+": "+brief(rest), "", ErrSyntax)
}

func isNothing(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Tag == "!!null" && n.Value == ""
}

// isCommaTail reports whether an entry is what YAML makes of the part of a
// figure after its comma: a name that starts with a digit and has no value,
// behind a digit.
func isCommaTail(before string, key, value *yaml.Node) bool {
	return before != "" && isDigit(before[len(before)-1]) && isPlain(key) && key.Value != "" && isDigit(key.Value[0]) && isNothing(value)
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

var (
	thousandsComma = regexp.MustCompile(`(\d),(\d{3})(\D|$)`)
	decimalComma   = regexp.MustCompile(`(\d),(\d)`)
)

// pointed writes a figure without its commas: 1,5 ohm as 1.5 ohm and
// 2,300 rpm as 2300 rpm.
func pointed(figure string) string {
	for range 3 { // a comma that ends one group is looked at again
		figure = thousandsComma.ReplaceAllString(figure, "$1$2$3")
	}
	return decimalComma.ReplaceAllString(figure, "$1.$2")
}

// brief is text from the file cut to what a line of advice has room for.
func brief(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	if q := quote(text); strings.HasSuffix(q, "...") {
		return q
	}
	return text
}

// mentions reports whether a section has a name, if only with its value stuck
// to the colon, which is complained of elsewhere.
func (r *reader) mentions(n *yaml.Node, name string) bool {
	if r.lookup(n, name) != nil {
		return true
	}
	if n.Kind == yaml.MappingNode {
		for i := 0; i < len(n.Content); i += 2 {
			if k := n.Content[i]; isPlain(k) && strings.HasPrefix(k.Value, name+":") {
				return true
			}
		}
	}
	return false
}

// stuckLine is a line of a file whose colon has no space after it.
var stuckLine = regexp.MustCompile(`^( *(?:- +)?)([a-z][a-z0-9_]*):([^\s:].*)$`)

// stuckAbove looks for a colon without its space on a line that cannot be
// read or on the last one before it with anything on it: there the line still
// passes for a word and only the next one makes no sense.
func stuckAbove(file string, data []byte, line int) *Problem {
	lines := strings.Split(string(data), "\n")
	for i := min(line, len(lines)); i > 0; i-- {
		text := strings.TrimRight(lines[i-1], " \r")
		if m := stuckLine.FindStringSubmatch(text); m != nil {
			return &Problem{Pos: Pos{file, i, len(m[1]) + 1}, Field: cut(m[2]), What: "a space is wanted after the colon",
				Accept: cut(m[2]) + ": " + brief(m[3]), Class: ErrSyntax}
		}
		if i < line && strings.TrimSpace(text) != "" {
			break
		}
	}
	return nil
}
