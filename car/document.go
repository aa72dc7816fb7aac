package car

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// Limits of a car file. A full car with a hundred readings is about 20 KiB.
const (
	MaxBytes = 256 << 10
	MaxDepth = 20
	MaxNodes = 10_000
	MaxIDs   = 100 // loads, and conditions
)

// document turns the text of a car file into YAML nodes and refuses what a
// car file does not use. The returned set holds nodes that have been
// complained of; the reader steps over them.
func document(file string, data []byte) (root *yaml.Node, refused map[*yaml.Node]bool, errs Errors) {
	if p := checkText(file, data); p != nil {
		return nil, nil, Errors{p}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))

	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc yaml.Node
	switch err := decode(dec, &doc); {
	case err == io.EOF:
		return nil, nil, Errors{{
			Pos: Pos{File: file}, What: "the file is empty", Accept: "format: 1 and a system section", Class: ErrSyntax,
		}}
	case err != nil:
		return nil, nil, Errors{syntaxProblem(file, data, err)}
	}
	var next yaml.Node
	switch err := decode(dec, &next); {
	case err == nil:
		return nil, nil, Errors{{
			Pos: Pos{file, next.Line, next.Column}, What: "a second document begins here",
			Accept: "one car a file, without --- between lines", Class: ErrSyntax,
		}}
	case err != io.EOF:
		return nil, nil, Errors{syntaxProblem(file, data, err)}
	}
	if len(doc.Content) != 1 {
		return nil, nil, Errors{{Pos: Pos{File: file}, What: "the file is empty", Class: ErrSyntax}}
	}

	root = doc.Content[0]
	g := guard{file: file, refused: map[*yaml.Node]bool{}}
	g.walk(root, 1)
	if g.fatal != nil {
		return nil, nil, Errors{g.fatal}
	}
	return root, g.refused, g.errs
}

// checkText refuses what is not UTF-8 text of a bearable size.
func checkText(file string, data []byte) *Problem {
	if len(data) > MaxBytes {
		return &Problem{
			Pos: Pos{File: file}, What: fmt.Sprintf("the file is %d KiB", (len(data)+1023)>>10),
			Accept: fmt.Sprintf("at most %d KiB", MaxBytes>>10), Class: ErrTooLarge,
		}
	}
	line, column := 1, 1
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		what := ""
		switch {
		case r == utf8.RuneError && size == 1:
			what = fmt.Sprintf("byte 0x%02x is not UTF-8 text", data[i])
		case r == 0:
			what = "a NUL character"
		case r == 0xfeff && i > 0:
			what = "a byte-order mark inside the text"
		case r < 0x20 && r != '\n' && r != '\r' && r != '\t', r >= 0x7f && r < 0xa0 && r != 0x85, r == 0xfffe, r == 0xffff:
			what = fmt.Sprintf("control character %U", r)
		}
		if what != "" {
			return &Problem{
				Pos: Pos{file, line, column}, What: what, Accept: "plain text saved as UTF-8", Class: ErrSyntax,
			}
		}
		i += size
		if column++; r == '\n' {
			line, column = line+1, 1
		}
	}
	return nil
}

// errReader is what decode makes of a panic in the YAML reader: it panics by
// design on comments in places it did not expect ("internal error ... please
// report"), and a car file may hold any comment.
var errReader = errors.New("yaml: a comment or bracket in a place where it cannot be read")

func decode(dec *yaml.Decoder, n *yaml.Node) (err error) {
	defer func() {
		if recover() != nil {
			err = errReader
		}
	}()
	return dec.Decode(n)
}

// plainSyntax says what the YAML reader's messages mean to someone who is not
// a programmer.
var plainSyntax = []struct{ message, what, accept string }{
	{"mapping values are not allowed", "a second colon, or a line that is indented by mistake",
		"one \"name: value\" a line; text with a colon in it between quotes"},
	{"cannot start any token", "a tab or a special character where a value should start",
		"spaces for indenting; a value that starts with @, ` or % between quotes"},
	{"found unexpected end of stream", "a quote is opened and never closed", "the closing quote"},
	{"did not find expected ',' or '}'", "a { is opened and not closed, or a comma is missing", "{name: value, name: value}"},
	{"did not find expected ',' or ']'", "a [ is opened and not closed, or a comma is missing", "[value, value]"},
	{"did not find expected key", "this line does not fit the lines above it", "the names of one section all starting in the same column"},
	{"did not find expected '-' indicator", "this line does not fit the list above it", "the dashes of one list all starting in the same column"},
	{"could not find expected ':'", "a name without a colon after it", "name: value"},
	{"block sequence entries are not allowed", "a dash where no list can start", "a list on the lines after its name; a word (negative) for a - post"},
	{"unknown escape character", "an unknown \\ sequence between double quotes", "single quotes, or \\\\ for a backslash"},
	{"unknown anchor", "an alias (*name)", "every value written out in full"},
	{"undefined tag handle", "a tag (!name)", "plain values"},
	{"expected node content", "a bracket is opened and nothing follows it", "[value, value] or {name: value}"},
	{"document start", "text after the end of the document", "one car a file"},
	{"exceeded max depth", "brackets nested too deep", fmt.Sprintf("at most %d levels", MaxDepth)},
	{"a comment or bracket", "a comment or bracket in a place where it cannot be read", "comments on lines of their own"},
}

// syntaxProblem words a YAML error and finds its place.
func syntaxProblem(file string, data []byte, err error) *Problem {
	line, column := locate(data)
	p := &Problem{Pos: Pos{file, line, column}, Class: ErrSyntax}
	message := err.Error()
	if strings.Contains(message, "mapping values are not allowed") || strings.Contains(message, "could not find expected ':'") {
		if p := stuckAbove(file, data, line); p != nil {
			return p
		}
	}
	for _, s := range plainSyntax {
		if strings.Contains(message, s.message) {
			p.What, p.Accept = s.what, s.accept
			return p
		}
	}
	message = strings.TrimPrefix(message, "yaml: ")
	if _, after, ok := strings.Cut(message, ": "); ok && strings.HasPrefix(message, "line ") {
		message = after
	}
	p.What, p.Accept = "not YAML: "+message, "\"name: value\" lines, sections indented by spaces"
	return p
}

// locate finds where text stops being YAML. The reader's own line numbers
// are those of the section that holds the slip, or missing, so the place is
// found by trial: the longest run of whole lines that can still be read, and
// within the next line the longest start that can. A bracket or quote that is
// never closed is thus found where it opens. The work is bounded; in a large
// file the place may be some lines before the slip.
func locate(data []byte) (line, column int) {
	budget := 3 << 18 // bytes put through the reader
	reads := func(n int) bool {
		if budget -= n + 64; budget < 0 {
			return false
		}
		dec := yaml.NewDecoder(bytes.NewReader(data[:n]))
		for {
			var doc yaml.Node
			if err := decode(dec, &doc); err != nil {
				return err == io.EOF
			}
		}
	}
	ends := []int{0} // where each line begins, and the end
	for i, c := range data {
		if c == '\n' || i == len(data)-1 {
			ends = append(ends, i+1)
		}
	}
	good := lastThat(len(ends)-1, func(i int) bool { return reads(ends[i]) })
	start, end := ends[good], ends[good+1]
	starts := []int{start}
	for i := range string(data[start:end]) {
		if i > 0 {
			starts = append(starts, start+i)
		}
	}
	at := starts[lastThat(len(starts), func(i int) bool { return reads(starts[i]) })]
	if blank := end - len(bytes.TrimLeft(data[start:end], " ")); at < blank && blank < end {
		at = blank
	}
	return good + 1, utf8.RuneCount(data[start:at]) + 1
}

// lastThat gives an i below n for which ok is true although it is false for
// the next few; 0 is taken to be. It halves its way there and then looks a
// little further, since ok may fail for some i and be true again after them.
func lastThat(n int, ok func(int) bool) int {
	const further = 40
	lo, hi := 0, n
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; ok(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	for i := lo + 1; i < n && i <= lo+further; i++ {
		if ok(i) {
			lo = i
		}
	}
	return lo
}

// guard refuses YAML features that a car file does not use and that make a
// file mean something else than it seems to.
type guard struct {
	file    string
	nodes   int
	errs    Errors
	refused map[*yaml.Node]bool
	fatal   *Problem
}

func (g *guard) refuse(n *yaml.Node, what, accept string) {
	g.refused[n] = true
	g.errs = append(g.errs, &Problem{Pos: Pos{g.file, n.Line, n.Column}, What: what, Accept: accept, Class: ErrSyntax})
}

func (g *guard) walk(n *yaml.Node, depth int) {
	g.nodes++
	switch {
	case g.fatal != nil:
		return
	case depth > MaxDepth:
		g.fatal = &Problem{Pos: Pos{g.file, n.Line, n.Column}, What: "sections nested too deep",
			Accept: fmt.Sprintf("at most %d levels", MaxDepth), Class: ErrTooLarge}
		return
	case g.nodes > MaxNodes:
		g.fatal = &Problem{Pos: Pos{g.file, n.Line, n.Column}, What: "too many entries",
			Accept: fmt.Sprintf("at most %d names and values in a file", MaxNodes), Class: ErrTooLarge}
		return
	case n.Kind == yaml.AliasNode:
		g.refuse(n, "an alias ("+quote("*"+n.Value)+")", "every value written out in full")
		return // never follow an alias: it may lead back here
	case n.Anchor != "":
		g.refuse(n, "an anchor ("+quote("&"+n.Anchor)+")", "every value written out in full")
	case n.Style&yaml.TaggedStyle != 0:
		g.refuse(n, "a tag ("+quote(n.Tag)+")", "plain values")
	}
	for i, c := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 && c.Tag == "!!merge" {
			g.refuse(c, "a merge key (\"<<\")", "every value written out in full")
			if v := n.Content[i+1]; v.Kind == yaml.AliasNode {
				g.refused[v] = true // one complaint is enough
			}
			continue
		}
		if g.refused[c] {
			continue
		}
		g.walk(c, depth+1)
	}
}
