package house

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// file is one source file: Go, parsed, or another a person reads.
type file struct {
	path  string
	lines int
	made  bool      // written by a program
	test  bool      // Go only
	ast   *ast.File // Go only
}

// tree is the module's sources by folder.
type tree struct {
	set     *token.FileSet
	folders map[string][]file
}

// skipped folders hold nothing a person of this project wrote to be read.
var skipped = []string{"testdata", "third_party", "node_modules", "bin", "shots"}

// read parses every Go file and counts the lines of the others.
func read(source fs.FS) (*tree, error) {
	t := &tree{token.NewFileSet(), map[string][]file{}}
	err := fs.WalkDir(source, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() {
			if p != "." && (strings.HasPrefix(name, ".") || slices.Contains(skipped, name)) {
				return fs.SkipDir
			}
			return nil
		}
		if !slices.Contains([]string{".go", ".js", ".css", ".html"}, path.Ext(name)) {
			return nil
		}
		text, err := fs.ReadFile(source, p)
		if err != nil {
			return err
		}
		f := file{path: p, lines: bytes.Count(text, []byte("\n")), test: strings.HasSuffix(name, "_test.go")}
		if path.Ext(name) == ".go" {
			if f.ast, err = parser.ParseFile(t.set, p, text, parser.ParseComments|parser.SkipObjectResolution); err != nil {
				return err
			}
			f.made = ast.IsGenerated(f.ast)
		}
		t.folders[path.Dir(p)] = append(t.folders[path.Dir(p)], f)
		return nil
	})
	return t, err
}

// goFiles are a folder's Go files: the program's and its tests'.
func (t *tree) goFiles(dir string) (program, tests []file) {
	for _, f := range t.folders[dir] {
		switch {
		case f.ast == nil:
		case f.test:
			tests = append(tests, f)
		default:
			program = append(program, f)
		}
	}
	return program, tests
}
