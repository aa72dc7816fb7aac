package house

import (
	"bytes"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"dwellwright/internal/cli"
)

func page(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

var fence = regexp.MustCompile("(?ms)^```(\\w*)\n(.*?)^```$")

// The picture in ARCHITECTURE.md shows every package on its floor, and the
// table below it says a sentence of each.
func TestArchitectureIsTrue(t *testing.T) {
	text, plan := page(t, "ARCHITECTURE.md"), Ours()
	rooms := map[string]int{}
	var tests []string
	for _, line := range strings.Split(fence.FindStringSubmatch(text)[2], "\n") {
		words := strings.FieldsFunc(line, func(r rune) bool { return r == ' ' || r > 127 })
		if len(words) == 0 {
			continue
		}
		floor, err := strconv.Atoi(words[0])
		switch {
		case err == nil:
			for _, w := range words[1:] {
				rooms[w] = floor
			}
		case words[0] == "tests":
			tests = words[2:]
		}
	}
	for dir, floor := range plan.Rooms {
		if at, drawn := rooms[dir]; !drawn || at != floor {
			t.Errorf("the picture does not have %s on floor %d", dir, floor)
		}
		delete(rooms, dir)
	}
	for dir := range rooms {
		t.Errorf("the picture has %s, which is not in the plan", dir)
	}
	if !slices.Equal(tests, plan.Tests) {
		t.Errorf("the picture has %v for tests only, the plan %v", tests, plan.Tests)
	}
	for dir := range plan.Rooms {
		if !strings.Contains(text, "\n| `"+dir+"` | ") {
			t.Errorf("no sentence about %s", dir)
		}
	}
}

var update = flag.Bool("update", false, "put into README.md what the commands now print")

// What README.md shows of the commands is what they print. A block of console
// holds commands after "$ " and lines of their output in order, … for lines
// left out. With -update a line gives way to the next one that begins alike.
func TestReadmeShowsWhatIsPrinted(t *testing.T) {
	readme, shown := page(t, "README.md"), 0
	for _, block := range fence.FindAllStringSubmatch(readme, -1) {
		if block[1] != "console" {
			continue
		}
		var fresh strings.Builder
		for _, part := range strings.Split("\n"+block[2], "\n$ ")[1:] {
			command, text, _ := strings.Cut(part, "\n")
			rest, lines := printed(t, command), trimmed(text)
			for k, line := range lines {
				if line == "" || line == "…" {
					continue
				}
				shown++
				i := slices.Index(rest, line)
				if i < 0 && *update {
					i = slices.IndexFunc(rest, func(s string) bool { return s != "" && beginning(s) == beginning(line) })
				}
				if i < 0 {
					t.Errorf("%s does not print, or not in this order (./do golden): %s", command, line)
					continue
				}
				lines[k] = rest[i]
				rest = rest[i+1:]
			}
			fmt.Fprintf(&fresh, "$ %s\n%s", command, strings.Join(lines, "\n"))
		}
		readme = strings.Replace(readme, block[2], fresh.String(), 1)
	}
	if shown < 20 {
		t.Errorf("only %d lines of output were found", shown)
	}
	if *update {
		if err := os.WriteFile("../../README.md", []byte(readme), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// printed is what a command prints, line by line.
func printed(t *testing.T, command string) []string {
	t.Helper()
	args := strings.Fields(command)
	if args[0] != "dwellwright" {
		t.Fatalf("%s: only dwellwright's output is checked", command)
	}
	var out, complaints bytes.Buffer
	status := cli.Run(args[1:], cli.Streams{In: strings.NewReader(""), Out: &out, Err: &complaints, Width: 96})
	if status > cli.ExitUnproven {
		t.Fatalf("%s: status %d: %s", command, status, complaints.String())
	}
	return trimmed(out.String())
}

// beginning is enough of a line to know it again when its figures change.
func beginning(line string) string {
	runes := []rune(strings.TrimSpace(line))
	return string(runes[:min(len(runes), 16)])
}

func trimmed(text string) []string {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return lines
}

var link = regexp.MustCompile(`\]\(([^)#\s]+)(#[^)]*)?\)`)

// Every link from a page to a file of the project leads somewhere.
func TestLinksLeadSomewhere(t *testing.T) {
	root, seen := os.DirFS("../.."), 0
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(p) != ".md" {
			return err
		}
		text, err := fs.ReadFile(root, p)
		if err != nil {
			return err
		}
		for _, m := range link.FindAllSubmatch(text, -1) {
			to := string(m[1])
			if strings.Contains(to, "://") {
				continue
			}
			seen++
			if _, err := fs.Stat(root, path.Join(path.Dir(p), to)); err != nil {
				t.Errorf("%s links to %s, which is not there", p, to)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 10 {
		t.Errorf("only %d links were found", seen)
	}
}
