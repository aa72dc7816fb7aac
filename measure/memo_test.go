package measure_test

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"dwellwright/car"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/twin"
	"dwellwright/units"
)

// What a bench does not solve again is what it would have come to: every fault of
// every example car, read after the car in order, shows what a bench shows that
// has read nothing before.
func TestWhatIsRememberedIsWhatIsSolved(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "examples", "*.yaml"))
	if err != nil || len(files) < 3 {
		t.Fatal(files, err)
	}
	draws := 2
	if testing.Short() {
		draws = 1
	}
	reads, compared := 0, 0
	for n, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		c, err := car.Parse(file, text)
		if err != nil {
			t.Fatal(err)
		}
		list := measure.Catalogue(c)
		bench := func() *measure.Bench {
			b, err := measure.NewBench(c, list)
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
		kept, sampler := bench(), twin.NewSampler(c, 11)
		rng := rand.New(rand.NewPCG(12, uint64(n)))
		got, want := make([]float64, len(list)), make([]float64, len(list))
		for k := 1; k <= draws; k++ {
			sampler.Draw(k)
			kept.Take(sampler)
			_ = kept.Read(nil, got)
			for _, f := range fault.Catalogue() {
				if !f.Fits(c) {
					continue
				}
				s := fault.Severity{U: [4]float64{rng.Float64(), rng.Float64(), rng.Float64(), rng.Float64()}}
				change := func(c *car.Car, k *car.Condition) { f.Apply(c, k, s) }
				fresh := bench()
				fresh.Take(sampler)
				one, other := kept.Read(change, got), fresh.Read(change, want)
				if (one == nil) != (other == nil) {
					continue // a state that one found no solution of, from where it began
				}
				reads++
				for i := range list {
					compared++
					x, y := got[i], want[i]
					near := 1e-5 // of a chance; a swing that is counted or not may hang on a hair
					if list[i].Kind == units.Count {
						near = 1
					}
					if !list[i].Observation && !math.IsNaN(y) && list[i].Kind != units.Count {
						near = 1e-3 * list[i].Accuracy(y)
					}
					if math.IsNaN(x) != math.IsNaN(y) || math.Abs(x-y) > near {
						t.Errorf("%s, %s, draw %d: %s %.9g, solved anew %.9g", c.Name, f.ID, k, list[i].ID, x, y)
					}
				}
			}
		}
	}
	t.Logf("%d figures of %d cars with faults", compared, reads)
	if reads < 300 {
		t.Errorf("only %d cars compared", reads)
	}
}
