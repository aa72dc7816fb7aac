// Package judge holds what the tests need to put our answers before a judge
// from outside: ngspice, a general-purpose circuit simulator. Nothing in the
// program uses it.
package judge

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// Ngspice runs a deck and returns what it printed. Where ngspice is not
// installed the test is skipped with a loud line, but never under CI.
func Ngspice(t testing.TB, deck string) string {
	t.Helper()
	bin := find(t)
	out, err := run(t, bin, deck, 2*time.Minute)
	if err != nil {
		t.Fatalf("ngspice: %v\n%s", err, tail(out))
	}
	return out
}

func find(t testing.TB) string {
	t.Helper()
	bin, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("ngspice is not installed: the outside judge cannot sit")
		}
		t.Skip("NGSPICE IS NOT INSTALLED: the outside judge did not sit (apt-get install ngspice)")
	}
	return bin
}

// TryNgspice is Ngspice for a deck it may find no answer to: then it returns
// what was printed until it gave up, or until patience ran out.
func TryNgspice(t testing.TB, deck string, patience time.Duration) string {
	t.Helper()
	bin := find(t)
	out, _ := run(t, bin, deck, patience)
	return out
}

func run(t testing.TB, bin, deck string, patience time.Duration) (string, error) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "deck.cir")
	if err := os.WriteFile(file, []byte(deck), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, bin, "-b", file)
	var out bytes.Buffer
	cmd.Stdout = &out
	err := cmd.Run()
	return out.String(), err
}

func tail(s string) string { return s[max(0, len(s)-3000):] }

var printed = regexp.MustCompile(`(?m)^\s*([a-z0-9_#()]+)\s*=\s*([-+0-9.e]+)`)

// Results reads "name = value" lines from what ngspice printed.
func Results(out string) map[string]float64 {
	got := map[string]float64{}
	for _, m := range printed.FindAllStringSubmatch(strings.ToLower(out), -1) {
		if v, err := strconv.ParseFloat(m[2], 64); err == nil {
			got[m[1]] = v
		}
	}
	return got
}
