package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/suspect"
	"dwellwright/twin"
)

// patient is a car that comes in: the tool has its file and may ask, the rest
// is hidden from it.
type patient struct {
	name   string
	kind   string // single, pair, healthy, unknown
	faults []fault.Fault
	sizes  []fault.Severity

	bench   *measure.Bench
	sampler *twin.Sampler
	list    []measure.Measure
	model   []float64 // what the model makes of every measure, NaN where none
	spice   *spice    // readings of the network; nil: the model's
	rng     *rand.Rand
	given   map[string]suspect.Answer
	figures *car.Car // drawn, nothing wrong with it
	demand  float64
	plain   bool // what is wrong makes itself felt
	judged  int  // readings that came from ngspice
}

// hospital makes the patients of one car file.
type hospital struct {
	car     *car.Car
	bank    *suspect.Bank
	bench   *measure.Bench
	sampler *twin.Sampler
	have    []fault.Fault
	seed    uint64
	middle  []float64 // what the middle car in order shows
	healthy []float64
}

func newHospital(c *car.Car, bank *suspect.Bank, seed uint64) (*hospital, error) {
	b, err := benchOf(c, bank)
	if err != nil {
		return nil, err
	}
	h := &hospital{car: c, bank: bank, bench: b, sampler: twin.NewSampler(c, seed), seed: seed}
	h.have = append(h.have, bank.Faults...)
	h.healthy = make([]float64, len(bank.Measures))
	all := make([][]float64, len(bank.Measures))
	for k := range 60 {
		h.sampler.Draw(1e6 + k)
		b.Take(h.sampler)
		_ = b.Read(nil, h.healthy)
		for i, x := range h.healthy {
			if !math.IsNaN(x) {
				all[i] = append(all[i], x)
			}
		}
	}
	h.middle = make([]float64, len(all))
	for i, x := range all {
		if len(x) > 0 {
			slices.Sort(x)
			h.middle[i] = x[len(x)/2]
		}
	}
	return h, nil
}

// benchOf reads all that a bank knows, of an engine only if it runs.
func benchOf(c *car.Car, bank *suspect.Bank) (*measure.Bench, error) {
	b, err := measure.NewBench(c, bank.Measures)
	if err == nil {
		b.OnlyIfRuns = true
	}
	return b, err
}

// again is the same hospital with a bench of its own.
func (h *hospital) again() (*hospital, error) {
	b, err := benchOf(h.car, h.bank)
	if err != nil {
		return nil, err
	}
	w := *h
	w.bench, w.sampler, w.healthy = b, twin.NewSampler(h.car, h.seed), make([]float64, len(h.healthy))
	return &w, nil
}

// anySeverity draws how bad a fault is.
func anySeverity(rng *rand.Rand) (s fault.Severity) {
	for i := range s.U {
		s.U[i] = rng.Float64()
	}
	return s
}

// change is what has gone wrong with the patient.
func (p *patient) change(c *car.Car, k *car.Condition) {
	switch len(p.faults) {
	case 1:
		p.faults[0].Apply(c, k, p.sizes[0])
	case 2:
		fault.ApplyBoth(c, k, &p.faults[0], p.sizes[0], &p.faults[1], p.sizes[1])
	}
}

// admit makes patient n, whose figures and severities the bank has never
// drawn. A car comes because somebody complains: it is drawn anew, up to
// twenty times, until what is wrong gives its owner something to report. A fault
// that gives nothing to report comes in all the same.
func (h *hospital) admit(n int, kind string, faults ...fault.Fault) *patient {
	p := &patient{kind: kind, faults: faults, bench: h.bench, sampler: h.sampler, list: h.bank.Measures, rng: rand.New(rand.NewPCG(h.seed, uint64(n)))}
	var ids []string
	for _, f := range faults {
		ids = append(ids, f.ID)
	}
	p.name = strings.Join(ids, " + ")
	p.model = make([]float64, len(p.list))
	draw := n * 400
	for range 20 {
		p.sizes = p.sizes[:0]
		for range faults {
			p.sizes = append(p.sizes, anySeverity(p.rng))
		}
		h.inOrder(func() { draw++; h.sampler.Draw(draw) }, h.sampler)
		_ = h.bench.Read(p.change, p.model)
		p.figures, p.demand = h.sampler.Car.Clone(), h.sampler.Demand
		p.given = map[string]suspect.Answer{}
		p.plain = p.comes(h)
		if p.plain {
			break
		}
	}
	return p
}

// inOrder draws until the car is one that ran as it should before anything went
// wrong: its owner had, on the average, at most half a report more to make than
// that of the middle car.
func (h *hospital) inOrder(draw func(), from *twin.Sampler) {
	for range 19 {
		draw()
		h.bench.Take(from)
		_ = h.bench.Read(nil, h.healthy)
		more := 0.0
		for i := range h.bank.Measures {
			if h.bank.Measures[i].Group == measure.Owner && h.healthy[i] > h.middle[i] {
				more += h.healthy[i] - h.middle[i]
			}
		}
		if more <= 0.5 {
			return
		}
	}
}

// both tells whether each of two faults alone gives the owner something to
// report: at least one report that is likelier than not, and was not before.
func (p *patient) both(h *hospital) bool {
	for i := range p.faults {
		one := p.with(h, p.faults[i:i+1], p.sizes[i:i+1])
		tells := false
		for j := range p.list {
			if p.list[j].Group == measure.Owner && one.model[j] > 0.5 && h.healthy[j] < 0.25 {
				tells = true
			}
		}
		if !tells {
			return false
		}
	}
	return true
}

// with is the same car with other faults.
func (p *patient) with(h *hospital, faults []fault.Fault, sizes []fault.Severity) *patient {
	q := *p
	q.faults, q.sizes = faults, sizes
	q.model = make([]float64, len(p.list))
	q.given = map[string]suspect.Answer{}
	bench, err := benchOf(h.car, h.bank)
	if err != nil {
		return &q
	}
	refs, from := car.Params(bench.Car()), car.Params(p.figures)
	for i := range refs {
		refs[i].P.X = from[i].P.X
	}
	bench.Demand = p.demand
	_ = bench.Read(q.change, q.model)
	if p.spice != nil {
		q.spice = newSpice(p.spice.dir, p.spice.bin, &q, p.figures)
	}
	return &q
}

// without is the car once a remedy has been carried out.
func (p *patient) without(h *hospital, remedy string) *patient {
	var left []fault.Fault
	var sizes []fault.Severity
	for i := range p.faults {
		if p.faults[i].Remedy.ID != remedy {
			left, sizes = append(left, p.faults[i]), append(sizes, p.sizes[i])
		}
	}
	return p.with(h, left, sizes)
}

// comes tells whether the owner has something to complain of that comes of what
// is wrong; with nothing wrong, anything.
func (p *patient) comes(h *hospital) bool {
	for _, a := range p.complaints() {
		i := p.at(a.Measure)
		if len(p.faults) == 0 || p.model[i] > 0.2 && p.model[i] > 2*h.healthy[i] {
			return true
		}
	}
	return false
}

// complaints are the owner's reports that are so.
func (p *patient) complaints() []suspect.Answer {
	var list []suspect.Answer
	for i := range p.list {
		if m := &p.list[i]; m.Group == measure.Owner {
			if a := p.answer(i); a.Kind == evidence.Yes {
				list = append(list, a)
			}
		}
	}
	return list
}

// answer is what the patient shows of measure i: always the same.
func (p *patient) answer(i int) suspect.Answer {
	m := &p.list[i]
	if a, ok := p.given[m.ID]; ok {
		return a
	}
	a := suspect.Answer{Measure: m.ID, Kind: evidence.CouldNot}
	x := p.model[i]
	if p.spice != nil && !math.IsNaN(x) {
		if y, ok := p.spice.read(m); ok {
			x = y
			p.judged++
		}
	}
	switch {
	case math.IsNaN(x):
	case m.Observation:
		a.Kind = evidence.No
		if p.rng.Float64() < x {
			a.Kind = evidence.Yes
		}
	default:
		a.Kind = evidence.Figure
		a.Value = x + p.rng.NormFloat64()*m.Accuracy(x)/1.96
	}
	p.given[m.ID] = a
	return a
}

func (p *patient) at(id string) int {
	for i := range p.list {
		if p.list[i].ID == id {
			return i
		}
	}
	panic(fmt.Sprintf("no measure %q", id))
}

// ends is how a diagnosis ended.
type ended struct {
	post     evidence.Posterior
	readings int
	minutes  float64
	stopped  bool // it said so itself
	steps    []string
	setup    string           // as the car stands
	said     []evidence.Share // the likeliest remedy before each reading and at the end
}

// diagnose runs a case until it says stop.
func diagnose(t testing.TB, b *suspect.Bank, p *patient, most int) (*suspect.Case, ended) {
	t.Helper()
	c := b.Open()
	p.list = b.Measures
	for _, a := range p.complaints() {
		if err := c.Take(a); err != nil {
			t.Fatal(err)
		}
	}
	var e ended
	e.setup = e.follow(t, c, p, "ask", most)
	return c, e
}

// follow takes the readings that a case asks for.
func (e *ended) follow(t testing.TB, c *suspect.Case, p *patient, setup string, most int) string {
	for e.readings < most {
		for range 16 {
			if more, err := c.Refine(); err != nil {
				t.Fatal(err)
			} else if !more {
				break
			}
		}
		next, err := c.Next(suspect.Situation{Setup: setup})
		if err != nil {
			t.Fatal(err)
		}
		e.said = append(e.said, c.Posterior().Remedies[0])
		if next.Stop {
			e.stopped = true
			break
		}
		i := p.at(next.Reading)
		if err := c.Take(p.answer(i)); err != nil {
			t.Fatal(err)
		}
		m := &p.list[i]
		e.readings++
		e.minutes += m.Minutes
		if m.Setup != setup {
			e.minutes += m.SetupMinutes
			setup = m.Setup
		}
		e.steps = append(e.steps, m.ID)
	}
	e.post = c.Posterior()
	return setup
}
