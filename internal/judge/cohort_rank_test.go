package judge

import (
	"math"
	"math/rand/v2"
	"testing"

	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/suspect"
)

// Simulation-based calibration (Talts, Betancourt, Simpson, Vehtari & Gelman 2018,
// Validating Bayesian inference algorithms with simulation-based calibration): of
// cars drawn with a fault, the place of a figure in what was to be expected of it
// after other readings is uniform if what is expected is right. The figures are
// the resistance from breaker plate to battery, which is how bad the fault is, and
// the coil's primary winding, which differs from car to car.
func TestPlacesAreUniform(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector has nothing to find here")
	}
	const cars, bins = 300, 10
	bank, err := suspect.Prepare(exampleCar(t, "harrowmere-eight"), suspect.Settings{Seed: 71, Draws: 96, Each: each})
	if err != nil {
		t.Fatal(err)
	}
	h, err := newHospital(bank.Car, bank, 4242)
	if err != nil {
		t.Fatal(err)
	}
	const faulty = "plate_ground_high"
	f := *bank.Fault(faulty)
	for _, x := range []struct {
		of   string
		read []string
	}{
		{"plate_ohms", []string{"battery_rest", "charging_cold"}},
		{"coil_ohms", []string{"ballast_drop", "battery_rest"}},
	} {
		var count [bins]float64
		for n := range cars {
			p := h.plain(n, f)
			c := bank.Open()
			for _, id := range x.read {
				if err := c.Take(p.answer(p.at(id))); err != nil {
					t.Fatal(err)
				}
			}
			a := p.answer(p.at(x.of))
			if a.Kind != evidence.Figure {
				t.Fatalf("%s cannot be had", x.of)
			}
			u, err := c.Below(x.of, faulty, a.Value)
			if err != nil || math.IsNaN(u) {
				t.Fatal(u, err)
			}
			count[min(int(u*bins), bins-1)]++
		}
		chi := 0.0
		for _, k := range count {
			d := k - cars/bins
			chi += d * d / (cars / bins)
		}
		// 1 % of chi squared with 9 degrees of freedom are above 21.67 [tables].
		t.Logf("%s: places %v, chi squared %.1f", x.of, count, chi)
		if chi > 21.67 {
			t.Errorf("%s: chi squared %.1f, wanted at most 21.67: places %v", x.of, chi, count)
		}
	}
}

// plain is a drawn car in order with a fault, of those that come in: the more its
// owner notices the likelier, and one in ten who notices nothing.
func (h *hospital) plain(n int, f fault.Fault) *patient {
	p := &patient{kind: "single", name: f.ID, faults: []fault.Fault{f}, list: h.bank.Measures, rng: rand.New(rand.NewPCG(h.seed, uint64(n))), model: make([]float64, len(h.bank.Measures)), given: map[string]suspect.Answer{}}
	for draw := n * 400; ; {
		p.sizes = []fault.Severity{anySeverity(p.rng)}
		h.inOrder(func() { draw++; h.sampler.Draw(draw) }, h.sampler)
		_ = h.bench.Read(p.change, p.model)
		silent := 1.0
		for i, was := range h.healthy {
			if is := p.model[i]; p.list[i].Group == measure.Owner && is > was {
				silent *= 1 - (is-was)/(1-was)
			}
		}
		if p.rng.Float64() < 0.1+0.9*(1-silent) {
			return p
		}
	}
}
