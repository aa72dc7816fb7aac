package car

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite golden files, the JSON Schema and the reference page")

// golden compares with a file, or rewrites it under -update.
func golden(t *testing.T, file string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v (run go test ./car -update)", err)
	}
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Errorf("%s differs (-want +got):\n%s", file, d)
	}
}

func files(t testing.TB, pattern string) []string {
	t.Helper()
	list, err := filepath.Glob(pattern)
	if err != nil || len(list) == 0 {
		t.Fatalf("no files %s: %v", pattern, err)
	}
	return list
}

func read(t testing.TB, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestBad reads every broken file and compares the whole message. Each is
// refused in well under a second, however hostile.
func TestBad(t *testing.T) {
	list := files(t, "testdata/bad/*.yaml")
	if len(list) < 170 {
		t.Fatalf("only %d broken files", len(list))
	}
	for _, file := range list {
		name := filepath.Base(file)
		t.Run(strings.TrimSuffix(name, ".yaml"), func(t *testing.T) {
			start := time.Now()
			c, err := Parse(name, read(t, file))
			if took := time.Since(start); took > slower*time.Second {
				t.Errorf("took %v", took)
			}
			if err == nil || c != nil {
				t.Fatalf("accepted, or a car came with the error: %v", c)
			}
			var list Errors
			if !errors.As(err, &list) || len(list) == 0 {
				t.Fatalf("%T is not Errors", err)
			}
			for i, p := range list {
				if p.What == "" || p.Class == nil || p.Pos.File != name {
					t.Errorf("problem %d lacks its words, class or file: %+v", i, p)
				}
				if i > 0 && (p.Pos.Line < list[i-1].Pos.Line) {
					t.Errorf("problem %d is out of file order", i)
				}
			}
			golden(t, strings.TrimSuffix(file, ".yaml")+".txt", []byte(err.Error()+"\n"))
		})
	}
}

// TestClasses checks that a caller can tell the classes of problems apart.
func TestClasses(t *testing.T) {
	for name, class := range map[string]error{
		"open_brace": ErrSyntax, "alias": ErrSyntax, "nul_byte": ErrSyntax,
		"too_deep": ErrTooLarge, "too_many_nodes": ErrTooLarge,
		"unknown_field": ErrField, "duplicate_field": ErrField, "no_system": ErrField,
		"coil_too_high": ErrValue, "unknown_unit": ErrValue, "earth_word": ErrValue,
		"feed_of_points": ErrContradiction, "dwell_over_lobe": ErrContradiction,
	} {
		_, err := Parse(name, read(t, "testdata/bad/"+name+".yaml"))
		for _, c := range []error{ErrSyntax, ErrTooLarge, ErrField, ErrValue, ErrContradiction} {
			if got := errors.Is(err, c); got != (c == class) {
				t.Errorf("%s: errors.Is(%v) = %v", name, c, got)
			}
		}
	}
}

// TestListed checks that a flood of problems is cut off and counted.
func TestListed(t *testing.T) {
	_, err := Parse("flood.yaml", read(t, "testdata/bad/too_many_problems.yaml"))
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != Listed+1 || lines[Listed] != "and 50 more" {
		t.Errorf("%d lines, last %q", len(lines), lines[len(lines)-1])
	}
}

// TestTooLarge checks the size limit, which is looked at before anything else.
func TestTooLarge(t *testing.T) {
	_, err := Parse("big.yaml", make([]byte, MaxBytes+1))
	if !errors.Is(err, ErrTooLarge) {
		t.Fatal(err)
	}
	if want := "big.yaml: the file is 257 KiB; accepted: at most 256 KiB"; err.Error() != want {
		t.Errorf("%q, want %q", err, want)
	}
}

// TestHostile gives files as large as allowed, made to cost as much as
// possible, and bounds the time and the memory they take.
func TestHostile(t *testing.T) {
	fill := func(unit string) []byte { return []byte(strings.Repeat(unit, MaxBytes/len(unit))) }
	for name, data := range map[string][]byte{
		"brackets":       fill("["),
		"braces":         fill("{a: "),
		"dashes":         fill("- "),
		"dash_lines":     fill("-\n"),
		"comments":       fill("# x\n"),
		"comment_then":   append([]byte("format: 1\n"), fill("#\n")[:MaxBytes-16]...),
		"one_word":       fill("a"),
		"colons":         fill("a:\n"),
		"nested_indent":  nested(MaxBytes),
		"question_marks": fill("? "),
		"quotes":         fill("\"a\" "),
		"open_quote":     append([]byte("\""), fill("a\n")[:MaxBytes-2]...),
		"anchors":        fill("&a "),
		"aliases":        append([]byte("a: &a 1\n"), fill("- *a\n")[:MaxBytes-16]...),
		"merge":          fill("<<: 1\n"),
		"unknown_keys":   distinct(),
		"long_keys":      fill(strings.Repeat("k", 1000) + ": 1\n"),
		"late_slip":      append(fill("# filler line\n")[:MaxBytes-64], []byte("\na: b: c\n")...),
		"late_slip_keys": append(distinct()[:MaxBytes/2], []byte("\na: b: c\n")...),
		"flow_commas":    append([]byte("["), fill(",")[:MaxBytes-2]...),
		"block_scalar":   append([]byte("a: |\n"), fill(" x\n")[:MaxBytes-8]...),
		"digits":         append([]byte("battery: {capacity: "), fill("9")[:MaxBytes-32]...),
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			if _, err := Parse(name, data); err == nil {
				t.Error("accepted")
			} else if len(err.Error()) > 64<<10 {
				t.Errorf("message of %d bytes", len(err.Error()))
			}
			if took := time.Since(start); took > slower*time.Second {
				t.Errorf("took %v", took)
			} else {
				t.Logf("%v", took)
			}
			runtime.ReadMemStats(&after)
			const most = 256 << 20 // bytes, all told
			if got := after.TotalAlloc - before.TotalAlloc; got > most {
				t.Errorf("allocated %d MiB", got>>20)
			} else {
				t.Logf("%d MiB", got>>20)
			}
		})
	}
}

func nested(most int) []byte {
	var b strings.Builder
	for i := 0; b.Len() < most-1000; i++ {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return []byte(b.String())
}

func distinct() []byte {
	var b strings.Builder
	for i := 0; b.Len() < MaxBytes-64; i++ {
		b.WriteString("k")
		for j := i; j > 0; j /= 26 {
			b.WriteByte(byte('a' + j%26))
		}
		b.WriteString("x: 1\n")
	}
	return []byte(b.String())
}

func FuzzParse(f *testing.F) {
	for _, pattern := range []string{"testdata/good/*.yaml", "testdata/bad/*.yaml"} {
		for _, file := range files(f, pattern) {
			f.Add(read(f, file))
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := Parse("f", data)
		if (c == nil) == (err == nil) {
			t.Fatalf("car %v with error %v", c, err)
		}
		if err != nil {
			if err.Error() == "" {
				t.Fatal("error without words")
			}
			return
		}
		sane(t, c)
	})
}

var limits = figureLines()

// sane checks what must be true of any car that was read.
func sane(t *testing.T, c *Car) {
	t.Helper()
	for _, r := range Params(c) {
		l := limits[anyID(r.Path)]
		if lo, hi := r.P.Sample(0), r.P.Sample(1); (r.P.X != 0 || r.P.Origin != Assumed) && (lo < l.low || hi > l.high) {
			t.Errorf("%s can be %v to %v, outside %v to %v", r.Path, lo, hi, l.low, l.high)
		}
		if !(r.P.PM >= 0) || r.P.X-r.P.X != 0 || r.P.PM-r.P.PM != 0 {
			t.Errorf("%s is %v ± %v", r.Path, r.P.X, r.P.PM)
		}
		if (r.P.Origin == Assumed) != (r.P.Pos == Pos{}) {
			t.Errorf("%s: origin %v at %v", r.Path, r.P.Origin, r.P.Pos)
		}
	}
	for _, d := range c.Readings {
		if !(d.Accuracy.X > 0) {
			t.Errorf("reading %s has no accuracy", d.ID)
		}
	}
}

func BenchmarkParse(b *testing.B) {
	data := read(b, "testdata/good/full.yaml")
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse("full.yaml", data); err != nil {
			b.Fatal(err)
		}
	}
}
