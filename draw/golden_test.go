package draw

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares the scene's SVG with testdata/name.svg.
func golden(t *testing.T, name string, s Scene) {
	t.Helper()
	var b bytes.Buffer
	if err := WriteSVG(&b, s, SVGOptions{IDPrefix: "t", Standalone: true}); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join("testdata", name+".svg")
	if *update {
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v; run go test -update to make it", err)
	}
	if !bytes.Equal(want, b.Bytes()) {
		t.Errorf("%s differs from the drawing; look at it and run go test -update if it is meant to", file)
	}
}
