// Package judge holds what the tests need to put our answers before a judge
// from outside: ngspice, a general-purpose circuit simulator. Nothing in the
// program uses it.
package judge

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Ngspice runs a deck and returns what it printed. Where ngspice is not
// installed the test is skipped with a loud line, but never under CI.
func Ngspice(t testing.TB, deck string) string {
	t.Helper()
	bin, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("ngspice is not installed: the outside judge cannot sit")
		}
		t.Skip("NGSPICE IS NOT INSTALLED: the outside judge did not sit (apt-get install ngspice)")
	}
	file := filepath.Join(t.TempDir(), "deck.cir")
	if err := os.WriteFile(file, []byte(deck), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(bin, "-b", file)
	var out, complaints bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaints
	if err := cmd.Run(); err != nil {
		t.Fatalf("ngspice: %v\n%s\n%s", err, tail(out.String()), tail(complaints.String()))
	}
	return out.String()
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
