package house

import (
	"fmt"
	"go/ast"
	"go/doc"
	"go/token"
	"io/fs"
	"path"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// Check walks the sources of a module and returns what is out of order, each
// as place and words, sorted. The error is that of a source that can't be
// read.
func Check(source fs.FS, p Plan) ([]string, error) {
	t, err := read(source)
	if err != nil {
		return nil, err
	}
	c := checker{plan: p, tree: t, drawn: make([]bool, len(p.Arrows))}
	for dir := range t.folders {
		c.files(dir)
		program, tests := t.goFiles(dir)
		if len(program)+len(tests) == 0 {
			continue
		}
		c.names(dir)
		c.words(dir, program, tests)
		floor, room := p.Rooms[dir]
		switch {
		case slices.Contains(p.Tests, dir):
			continue
		case !room:
			c.fault(dir, "stands on no floor; give it one in internal/house and draw it in ARCHITECTURE.md")
			continue
		}
		for _, f := range program {
			c.imports(dir, floor, f)
			if floor < p.Core {
				c.core(floor, f)
			}
		}
	}
	c.leftovers()
	sort.Strings(c.faults)
	return c.faults, nil
}

type checker struct {
	plan   Plan
	tree   *tree
	drawn  []bool // which of the plan's arrows were met
	faults []string
}

func (c *checker) fault(place, format string, args ...any) {
	c.faults = append(c.faults, place+": "+fmt.Sprintf(format, args...))
}

func (c *checker) at(p token.Pos) string {
	pos := c.tree.set.Position(p)
	return fmt.Sprintf("%s:%d", pos.Filename, pos.Line)
}

// imports holds a file of the program to its floor.
func (c *checker) imports(dir string, floor int, f file) {
	for _, spec := range f.ast.Imports {
		to, ours := strings.CutPrefix(importPath(spec), c.plan.Module+"/")
		if !ours {
			continue
		}
		at := c.at(spec.Pos())
		other, room := c.plan.Rooms[to]
		switch {
		case slices.Contains(c.plan.Tests, to):
			c.fault(at, "imports %s, which is for tests only", to)
		case !room:
			c.fault(at, "imports %s, which stands on no floor", to)
		case other > floor:
			c.fault(at, "%s (floor %d) imports upward, %s (floor %d); turn the arrow round or move what both need below", dir, floor, to, other)
		case other == floor && !c.meant(dir, to):
			c.fault(at, "%s imports sideways, %s (both floor %d); pass what is needed in, or name the arrow with its reason in internal/house", dir, to, floor)
		}
	}
}

func importPath(spec *ast.ImportSpec) string {
	p, err := strconv.Unquote(spec.Path.Value)
	if err != nil {
		return spec.Path.Value
	}
	return p
}

func (c *checker) meant(from, to string) bool {
	for i, a := range c.plan.Arrows {
		if a.From == from && a.To == to {
			c.drawn[i] = true
			return true
		}
	}
	return false
}

// outside lists packages that reach out of the program or carry chance that
// nobody seeded.
var outside = []string{"os", "os/exec", "os/signal", "net", "net/http", "syscall", "log", "log/slog", "math/rand", "crypto/rand"}

// hidden lists, by package, what draws on the clock or on the runtime's own
// random numbers.
var hidden = map[string][]string{
	"time": {"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer"},
	"math/rand/v2": {"ExpFloat64", "Float32", "Float64", "Int", "Int32", "Int32N", "Int64", "Int64N", "IntN", "N", "NormFloat64",
		"Perm", "Shuffle", "Uint", "Uint32", "Uint32N", "Uint64", "Uint64N", "UintN"},
}

// core holds a file of the core to what goes in by its arguments.
func (c *checker) core(floor int, f file) {
	local := map[string]string{} // name in the file -> package
	for _, spec := range f.ast.Imports {
		p := importPath(spec)
		if slices.Contains(outside, p) {
			c.fault(c.at(spec.Pos()), "imports %s on floor %d; below floor %d nothing reaches outside: pass it in", p, floor, c.plan.Core)
		}
		if hidden[p] == nil {
			continue
		}
		name := map[string]string{"time": "time", "math/rand/v2": "rand"}[p]
		if spec.Name != nil {
			name = spec.Name.Name
		}
		local[name] = p
	}
	ast.Inspect(f.ast, func(n ast.Node) bool {
		s, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if x, ok := s.X.(*ast.Ident); ok && slices.Contains(hidden[local[x.Name]], s.Sel.Name) {
			c.fault(c.at(s.Pos()), "uses %s.%s on floor %d; below floor %d the clock and chance are passed in", x.Name, s.Sel.Name, floor, c.plan.Core)
		}
		return true
	})
}

// files holds a folder's files to a length that can be read.
func (c *checker) files(dir string) {
	for _, f := range c.tree.folders[dir] {
		if f.lines > c.plan.Lines && !f.made {
			c.fault(f.path, "has %d lines; at most %d are accepted: split it by what it holds", f.lines, c.plan.Lines)
		}
	}
}

// words asks for a package comment and an example.
func (c *checker) words(dir string, program, tests []file) {
	isTests := slices.Contains(c.plan.Tests, dir)
	if !slices.ContainsFunc(program, func(f file) bool { return strings.TrimSpace(f.ast.Doc.Text()) != "" }) {
		c.fault(dir, "has no package comment; a doc.go that teaches the package is wanted")
	}
	if isTests || c.plan.Example != nil && !c.plan.Example(dir) {
		return
	}
	var parsed []*ast.File
	for _, f := range tests {
		parsed = append(parsed, f.ast)
	}
	if !slices.ContainsFunc(doc.Examples(parsed...), func(e *doc.Example) bool { return e.Output != "" }) {
		c.fault(dir, "has no Example with an Output that is checked")
	}
}

// names refuses names that could hold anything.
func (c *checker) names(dir string) {
	if base := path.Base(dir); slices.Contains([]string{"util", "utils", "common", "helper", "helpers", "manager", "misc"}, base) {
		c.fault(dir, "%s says nothing; name the package after what it holds", base)
	}
}

// leftovers are what the plan has and the module has not.
func (c *checker) leftovers() {
	for dir := range c.plan.Rooms {
		if len(c.tree.folders[dir]) == 0 {
			c.fault(dir, "is in the plan but not in the module; take it out of internal/house and ARCHITECTURE.md")
		}
	}
	for i, a := range c.plan.Arrows {
		if !c.drawn[i] {
			c.fault(a.From, "no longer imports %s; take the arrow out of internal/house and ARCHITECTURE.md", a.To)
		}
	}
}
