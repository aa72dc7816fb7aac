package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"dwellwright": func() {
			width := 118
			if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil {
				width = n
			}
			os.Exit(Run(os.Args[1:], Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Width: width}))
		},
	})
}

// The commands as a person types them, with what they print and their exit
// status.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata", UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
		Setup: func(e *testscript.Env) error {
			return os.CopyFS(filepath.Join(e.WorkDir, "examples"), os.DirFS("../../examples"))
		},
	})
}

// No line is wider than the terminal, down to 72 columns.
func TestLinesFitTheTerminal(t *testing.T) {
	for _, width := range []int{72, 80, 118} {
		for _, args := range [][]string{{"prove", "demo", "--draws", "20"}, {"plan", "demo", "--draws", "20"},
			{"spark", "demo", "--draws", "5", "--switches", "--map", "--heat", "--spikes"}, {"spark", "demo", "-o", "feed_before_ballast", "--draws", "5", "--heat", "--spikes", "--inch"},
			{"fit", "demo", "--draws", "20", "--all"}, {"fit", "../../examples/skellgate-six.yaml", "--draws", "20", "--inch"}, {"curve", "demo", "--draws", "20", "--all"}, {"curve", "../../examples/tillbrook-four.yaml", "--draws", "20", "--inch"}} {
			var out, errs bytes.Buffer
			if code := Run(args, Streams{In: strings.NewReader(""), Out: &out, Err: &errs, Width: width}); code > 1 {
				t.Fatalf("%v: status %d: %s", args, code, errs.String())
			}
			for _, line := range strings.Split(out.String(), "\n") {
				if n := utf8.RuneCountInString(strings.TrimRight(line, " ")); n > width {
					t.Errorf("%v at %d columns: a line of %d: %s", args, width, n, line)
				}
			}
		}
	}
}
