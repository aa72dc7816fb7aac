package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/fault"
	"dwellwright/suspect"
	"dwellwright/twin"
)

const alikeDraws = 32

// readAll reads drawn cars, in order and with each fault, with instruments as
// they are: [state][draw][measure], state 0 in order.
func (h *hospital) readAll() [][][]float64 {
	rows := make([][][]float64, 1+len(h.have))
	strata := rand.New(rand.NewPCG(h.seed, 1)).Perm(alikeDraws)
	// The same cars in order for every state.
	from := twin.NewSampler(h.car, h.seed+5)
	pick := rand.New(rand.NewPCG(h.seed, 77))
	cars := make([]int, alikeDraws)
	for k := range cars {
		h.inOrder(func() { cars[k] = 1 + pick.IntN(1<<30); from.Draw(cars[k]) }, from)
	}
	each(len(rows), func(s int) {
		hh, err := h.again() // a bench of its own
		if err != nil {
			return
		}
		sampler := twin.NewSampler(h.car, h.seed+5)
		rng := rand.New(rand.NewPCG(h.seed, uint64(7000+s)))
		noise := rand.New(rand.NewPCG(h.seed, uint64(1000+s)))
		for k := range alikeDraws {
			size := anySeverity(rng)
			size.U[0] = (float64(strata[k]) + rng.Float64()) / alikeDraws
			sampler.Draw(cars[k])
			hh.bench.Take(sampler)
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

// Two states of one car count as one if no reading tells them apart: with the
// second at some severity every figure is within the instrument's half-width of
// what it is with the first, what cannot be had on one cannot be had on the other,
// and no report or look is likelier by more than seenApart.
const (
	seenApart  = 0.25
	severities = 96
)

// counts tells whether another state, a fault or nothing wrong, counts as the
// same as a patient's single fault, on this very car.
func (p *patient) counts(h *hospital, other *fault.Fault) bool {
	if other == nil {
		return p.same(p.with(h, nil, nil))
	}
	if other.When.Kind == fault.Always && len(other.Sizes) == 0 {
		return p.same(p.with(h, []fault.Fault{*other}, make([]fault.Severity, 1)))
	}
	rng := rand.New(rand.NewPCG(3, 4))
	probe := p.with(h, nil, nil)
	for k := range severities {
		size := fault.Severity{U: [4]float64{(float64(k) + 0.5) / severities, rng.Float64(), rng.Float64(), rng.Float64()}}
		if len(p.sizes) == 1 {
			size.U[3] = p.sizes[0].U[3] // what comes and goes came alike
			if k%2 == 0 {
				size.U[1], size.U[2] = p.sizes[0].U[1], p.sizes[0].U[2]
			}
		}
		if p.same(probe.with(h, []fault.Fault{*other}, []fault.Severity{size})) {
			return true
		}
	}
	return false
}

func (p *patient) same(q *patient) bool {
	for i := range p.list {
		x, y := p.model[i], q.model[i]
		switch m := &p.list[i]; {
		case math.IsNaN(x) != math.IsNaN(y):
			return false
		case math.IsNaN(x):
		case m.Observation:
			if math.Abs(x-y) > seenApart {
				return false
			}
		case math.Abs(x-y) > m.Accuracy(x):
			return false
		}
	}
	return true
}

// ahead are the remedies that stand before the one a single fault needs, less
// those that a state needs which counts as one with it; with them, what counted.
func (w *ward) ahead(o *outcome) (left int, asOne []string) {
	need := o.needs()[0]
	for _, r := range o.post.Remedies {
		if r.ID == need {
			break
		}
		one := ""
		if r.ID == "elsewhere" {
			if o.counts(w.hospital, nil) {
				one = suspect.HealthyID
			}
		} else {
			for i := range w.have {
				if f := &w.have[i]; one == "" && f.Remedy.ID == r.ID && standing(o, f.ID) > 0.02 && o.counts(w.hospital, f) {
					one = f.ID
				}
			}
		}
		if one == "" {
			left++
		} else {
			asOne = append(asOne, one)
		}
		if left > 3 {
			break
		}
	}
	return left, asOne
}

// standing is the probability of a hypothesis.
func standing(o *outcome, id string) float64 {
	for _, h := range o.post.Hypotheses {
		if h.ID == id {
			return h.P
		}
	}
	return 0
}

// printAlike lists what counted as one.
func printAlike(t *testing.T, list []outcome) {
	pairs := map[string]int{}
	for i := range list {
		for _, other := range list[i].asOne {
			pairs[list[i].name+" ~ "+other]++
		}
	}
	var lines []string
	for p, n := range pairs {
		lines = append(lines, fmt.Sprintf("  %s (%d cars)", p, n))
	}
	sort.Strings(lines)
	t.Logf("counted as one, because on that very car no reading tells them apart: %d pairs of states\n%s", len(lines), strings.Join(lines, "\n"))
}
