package browsertest

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What others wrote and the page uses is as its registry serves it.
func TestVendoredFilesAreWhole(t *testing.T) {
	const dir = "../web/static/vendor"
	sums, err := os.ReadFile(filepath.Join(dir, "SHA256SUMS"))
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{"README": true, "refresh": true, "SHA256SUMS": true}
	for _, l := range strings.Split(strings.TrimSpace(string(sums)), "\n") {
		want, name, ok := strings.Cut(l, "  ")
		if !ok {
			t.Fatalf("SHA256SUMS has the line %q", l)
		}
		listed[name] = true
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprintf("%x", sha256.Sum256(b)); got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !listed[e.Name()] {
			t.Errorf("%s has no checksum", e.Name())
		}
	}
	if len(listed) < 7 {
		t.Errorf("only %d files are listed", len(listed))
	}
}
