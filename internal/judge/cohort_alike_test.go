package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sort"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/fault"
	"dwellwright/suspect"
	"dwellwright/twin"
)

// Two states of a car count as one if no reading tells them apart better than
// toldApart: the greatest distance between the two distributions of what any
// reading shows (Kolmogorov and Smirnov's D), instrument error included. At 0.45
// the best threshold on the best reading is right 72 times in a hundred.
const (
	toldApart  = 0.45
	alikeDraws = 32
)

// readAll reads drawn cars, in order and with each fault, with instruments as
// they are: [state][draw][measure], state 0 in order.
func (h *hospital) readAll() [][][]float64 {
	rows := make([][][]float64, 1+len(h.have))
	strata := rand.New(rand.NewPCG(h.seed, 1)).Perm(alikeDraws)
	each(len(rows), func(s int) {
		hh, err := newHospital(h.car, h.bank, h.seed) // a bench of its own
		if err != nil {
			return
		}
		sampler := twin.NewSampler(h.car, h.seed+5)
		rng := rand.New(rand.NewPCG(h.seed, 77))
		noise := rand.New(rand.NewPCG(h.seed, uint64(1000+s)))
		for k := range alikeDraws {
			var size fault.Severity
			for i := range size.U {
				size.U[i] = rng.Float64()
			}
			size.U[0] = (float64(strata[k]) + rng.Float64()) / alikeDraws
			hh.inOrder(func() { sampler.Draw(1 + rng.IntN(1<<30)) }, sampler)
			row := make([]float64, len(h.bank.Measures))
			_ = hh.bench.Read(func(c *car.Car, k *car.Condition) {
				if s > 0 {
					h.have[s-1].Apply(c, k, size)
				}
			}, row)
			for i := range row {
				if m := &h.bank.Measures[i]; !m.Observation && !math.IsNaN(row[i]) {
					row[i] += noise.NormFloat64() * m.Accuracy(row[i]) / 1.96
				}
			}
			rows[s] = append(rows[s], row)
		}
	})
	return rows
}

// lookAlikes finds the states that no reading tells apart.
func lookAlikes(h *hospital, rows [][][]float64) map[string]map[string]float64 {
	n := len(h.have)
	ids := []string{suspect.HealthyID}
	for i := range h.have {
		ids = append(ids, h.have[i].ID)
	}
	alike := map[string]map[string]float64{}
	for a := 0; a <= n; a++ {
		for b := a + 1; b <= n; b++ {
			if a > 0 && h.have[a-1].Remedy.ID == h.have[b-1].Remedy.ID {
				continue
			}
			if d := furthest(h, rows[a], rows[b]); d < toldApart {
				for _, x := range [][2]string{{ids[a], ids[b]}, {ids[b], ids[a]}} {
					if alike[x[0]] == nil {
						alike[x[0]] = map[string]float64{}
					}
					alike[x[0]][x[1]] = d
				}
			}
		}
	}
	return alike
}

// furthest is the greatest distance of any reading.
func furthest(h *hospital, a, b [][]float64) float64 {
	most := 0.0
	var x, y []float64
	for i := range h.bank.Measures {
		x, y = x[:0], y[:0]
		mx, my := 0.0, 0.0
		for k := range a {
			if !math.IsNaN(a[k][i]) {
				x = append(x, a[k][i])
				mx += a[k][i]
			}
			if !math.IsNaN(b[k][i]) {
				y = append(y, b[k][i])
				my += b[k][i]
			}
		}
		// That it can be had on one and not on the other tells as well.
		d := math.Abs(float64(len(x))/float64(len(a)) - float64(len(y))/float64(len(b)))
		if len(x) > 0 && len(y) > 0 {
			if h.bank.Measures[i].Observation {
				d = max(d, math.Abs(mx/float64(len(x))-my/float64(len(y))))
			} else {
				d = max(d, smirnov(x, y))
			}
		}
		if most = max(most, d); most >= toldApart {
			return most
		}
	}
	return most
}

// smirnov is the greatest distance between two samples' distributions.
func smirnov(x, y []float64) float64 {
	slices.Sort(x)
	slices.Sort(y)
	i, j, most := 0, 0, 0.0
	for i < len(x) && j < len(y) {
		v := min(x[i], y[j])
		for i < len(x) && x[i] <= v {
			i++
		}
		for j < len(y) && y[j] <= v {
			j++
		}
		most = max(most, math.Abs(float64(i)/float64(len(x))-float64(j)/float64(len(y))))
	}
	return most
}

// print lists what counts as one.
func (w *ward) print(t *testing.T) {
	var lines []string
	for id, others := range w.alike {
		var list []string
		for o, d := range others {
			if id < o {
				list = append(list, fmt.Sprintf("%s (%.2f)", o, d))
			}
		}
		if len(list) > 0 {
			sort.Strings(list)
			lines = append(lines, "  "+id+": "+strings.Join(list, ", "))
		}
	}
	sort.Strings(lines)
	t.Logf("%s: %d faults, %d readings; no reading tells apart, with the distance of the one that does best:\n%s", w.name, len(w.have), len(w.bank.Measures), strings.Join(lines, "\n"))
}
