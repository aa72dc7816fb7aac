package lobes

import (
	"math/rand/v2"
	"testing"
)

func BenchmarkSeparate(b *testing.B) {
	m := usual()
	r := m.run(rand.New(rand.NewPCG(1, 2)))
	for b.Loop() {
		if _, err := Separate(r, m.ideal, 0.2); err != nil {
			b.Fatal(err)
		}
	}
}
