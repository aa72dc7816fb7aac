package firing

import (
	"math"
	"testing"
)

// Over a map of speed and supply, starting near gives what starting cold does,
// but where a rhythm has two ways to settle: a gap that asks for just what
// there is, or one still hot when the switch makes.
func TestNearIsAsCold(t *testing.T) {
	near, cold := Solver{Near: true}, Solver{}
	c := usual()
	c.Gap.Linger, c.Gap.Required = 0, 6e3
	off, n, worst := 0, 0, 0.0
	for volts := 6.0; volts < 15; volts += 0.5 {
		for rpm := 200.0; rpm < 6000; rpm += 75 {
			c.Source.Volts, c.Rhythm = volts, Turning(8, rpm, 30)
			i, v, err := near.Available(c)
			if err != nil {
				t.Fatal(err)
			}
			j, u, err := cold.Available(c)
			if err != nil {
				t.Fatal(err)
			}
			n++
			d := max(math.Abs(i/j-1), math.Abs(v/u-1))
			worst = max(worst, d)
			if d > 0.01 {
				off++
			}
		}
	}
	t.Logf("%d of %d off by more than 1 %%, at worst %.2f %%", off, n, 100*worst)
	if off > n/25 {
		t.Errorf("%d of %d off by more than 1 %%, at worst %.2f %%", off, n, 100*worst)
	}
}
