package suspect

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/twin"
)

// Settings say how a bank of predictions is made.
type Settings struct {
	Draws int           // cars drawn for each hypothesis; 0: DefaultDraws
	Pairs int           // likeliest pairs of faults held ready; 0: none, Refine looks for those that the readings call for
	Seed  uint64        // the same seed gives the same bank
	Story fault.Context // what is known of the car's story
	// Each runs do for 0 to n-1, in any order and at the same time if it
	// likes; the result does not depend on it. nil runs them one by one.
	Each func(n int, do func(i int))
	// Progress, when not nil, is told from time to time how much is done.
	// Calls may come from several goroutines.
	Progress func(done, of int)

	most int // faults taken, evenly from the catalogue, to see how the work grows; 0: all
}

// DefaultDraws is how many cars are drawn for each hypothesis.
const DefaultDraws = 22

// Weights of what is no fault of the catalogue, cases per 100 complaints:
// estimates. PairShare is how often a car that comes with one fault has a
// second one of the catalogue.
const (
	HealthyCases = 8.0
	UnknownCases = 4.0
	PairShare    = 0.12
)

// studentDF fattens the tails of what readings are held against: kernels about a
// few dozen draws are no better known than that.
const studentDF = 12

// HealthyID is the hypothesis that nothing is wrong.
const HealthyID = "healthy"

// Bank is everything that can be wrong with a car, and what each of it would
// show of everything that can be read, worked out for drawn cars. It does not
// change once made.
type Bank struct {
	Car      *car.Car
	Measures []measure.Measure
	Faults   []fault.Fault // those the car can have
	Draws    int

	model evidence.Model
	bank  *evidence.Bank
	set   Settings
	extra *extra

	cars    []int       // drawn cars that are in order: their numbers in the sampler
	inOrder [][]float64 // what they show
	number  []int       // of each fault, by which its severities are drawn
}

// Prepare works out the bank of a car as it is fitted.
func Prepare(c *car.Car, set Settings) (*Bank, error) {
	if set.Draws <= 0 {
		set.Draws = DefaultDraws
	}
	if set.Each == nil {
		set.Each = func(n int, do func(i int)) {
			for i := range n {
				do(i)
			}
		}
	}
	b := &Bank{Car: c, Measures: measure.Catalogue(c), Draws: set.Draws, set: set, extra: newExtra()}
	for _, f := range fault.Catalogue() {
		if f.Unseen == "" && f.Fits(c) {
			b.number = append(b.number, len(b.Faults))
			b.Faults = append(b.Faults, f)
		}
	}
	if n := len(b.Faults); set.most > 0 && set.most < n {
		for i := range set.most {
			b.Faults[i] = b.Faults[i*n/set.most]
		}
		b.Faults, b.number = b.Faults[:set.most], b.number[:set.most]
	}
	if err := b.lookAtCars(); err != nil {
		return nil, err
	}
	rows, err := b.singles()
	if err != nil {
		return nil, err
	}
	b.model = b.newModel(rows)
	b.model.Common = b.inOrder
	if b.bank, err = evidence.Prepare(b.model); err != nil {
		return nil, fmt.Errorf("suspect: %w", err)
	}
	if set.Pairs > 0 {
		return b.WithPairs(set.Pairs, set.Progress)
	}
	return b, nil
}

// WithPairs is a bank of single faults with so many of the likeliest pairs held
// ready as well. The bank stays as it is, and may be used meanwhile.
func (b *Bank) WithPairs(most int, progress func(done, of int)) (*Bank, error) {
	w := *b
	w.extra, w.set.Pairs, w.set.Progress = newExtra(), most, progress
	pairs, err := w.pairs()
	if err != nil {
		return nil, err
	}
	w.model.Hypotheses = append(slices.Clip(b.model.Hypotheses[:1+len(b.Faults)]), pairs...)
	if w.bank, err = b.bank.Again(w.model); err != nil {
		return nil, fmt.Errorf("suspect: %w", err)
	}
	return &w, nil
}

// Without is the bank with some faults left out: what cannot be, or has been
// ruled out. Figures of the rest stay.
func (b *Bank) Without(faults ...string) (*Bank, error) {
	gone := func(id string) bool { return slices.Contains(faults, id) }
	for _, id := range faults {
		if b.Fault(id) == nil {
			return nil, &UnknownFaultError{id}
		}
	}
	w := *b
	w.extra = newExtra()
	w.Faults, w.number = nil, nil
	w.model.Hypotheses = nil
	for i := range b.Faults {
		if !gone(b.Faults[i].ID) {
			w.Faults, w.number = append(w.Faults, b.Faults[i]), append(w.number, b.number[i])
		}
	}
	for _, h := range b.model.Hypotheses {
		if !gone(h.ID) && !slices.ContainsFunc(h.Members, gone) {
			w.model.Hypotheses = append(w.model.Hypotheses, h)
		}
	}
	var err error
	if w.bank, err = b.bank.Again(w.model); err != nil {
		return nil, fmt.Errorf("suspect: %w", err)
	}
	return &w, nil
}

// severity is how bad fault f is in draw k: the same whether it is alone or
// one of two.
func (b *Bank) severity(f, k int) fault.Severity {
	f = b.number[f]
	rng := rand.New(rand.NewPCG(b.set.Seed^0x5eed, uint64(f)<<32|uint64(k)))
	var s fault.Severity
	for i := range s.U {
		if k >= b.Draws { // one of those drawn later, because it mattered
			s.U[i] = rng.Float64()
			continue
		}
		// One stratum of each severity for every draw, so that few draws
		// reach mild and bad alike.
		s.U[i] = (float64(stratum(b.set.Seed, f, i, k, b.Draws)) + rng.Float64()) / float64(b.Draws)
	}
	return s
}

// stratum is a permutation of 0 to n-1 at k.
func stratum(seed uint64, f, i, k, n int) int {
	rng := rand.New(rand.NewPCG(seed, uint64(f)<<8|uint64(i)))
	return rng.Perm(n)[k%n]
}

// reader reads drawn cars.
type reader struct {
	bench   *measure.Bench
	sampler *twin.Sampler
	cars    []int
}

func (b *Bank) newReader() (*reader, error) {
	bench, err := measure.NewBench(b.Car, b.Measures)
	if err != nil {
		return nil, err
	}
	bench.OnlyIfRuns = true
	return &reader{bench, twin.NewSampler(b.Car, b.set.Seed), b.cars}, nil
}

// read reads draw k with what has gone wrong, into out. What cannot be solved
// is NaN: it cannot be read.
func (r *reader) read(k int, change func(c *car.Car, k *car.Condition), out []float64) {
	r.sampler.Draw(r.cars[k%len(r.cars)])
	r.bench.Take(r.sampler)
	_ = r.bench.Read(change, out) // a state without a solution leaves NaN behind
}

// inOrder reads draw k with nothing wrong: what a change leaves alone is not solved
// again in the reads of the same draw that follow.
func (r *reader) inOrder(k int) { r.read(k, nil, make([]float64, len(r.bench.List()))) }

// readAll reads every drawn car with each of n changes: [change][draw][measure].
// change gives what number i does to draw k.
func (b *Bank) readAll(n int, change func(i, k int) func(c *car.Car, in *car.Condition), progress func(done, of int)) ([][][]float64, error) {
	rows := make([][][]float64, n)
	for i := range rows {
		rows[i] = make([][]float64, b.Draws)
	}
	if n == 0 {
		return rows, nil
	}
	errs := make([]error, b.Draws)
	b.set.Each(b.Draws, func(k int) {
		// A drawn car is one task: all that can be wrong with it.
		r, err := b.newReader()
		if errs[k] = err; err != nil {
			return
		}
		r.inOrder(k)
		for i := range rows {
			rows[i][k] = make([]float64, len(b.Measures))
			r.read(k, change(i, k), rows[i][k])
		}
		if progress != nil {
			progress(k+1, b.Draws)
		}
	})
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return rows, nil
}

// singles reads the healthy car and every fault alone: row 0 is healthy, row
// 1+f fault f; [row][draw][measure].
func (b *Bank) singles() ([][][]float64, error) {
	rows, err := b.readAll(len(b.Faults), func(i, k int) func(c *car.Car, in *car.Condition) {
		f, s := &b.Faults[i], b.severity(i, k)
		return func(c *car.Car, in *car.Condition) { f.Apply(c, in, s) }
	}, b.set.Progress)
	return append([][][]float64{b.inOrder[:b.Draws]}, rows...), err
}

// newModel makes the model of the single hypotheses.
func (b *Bank) newModel(rows [][][]float64) evidence.Model {
	m := evidence.Model{
		Channels: b.channels(rows), Healthy: HealthyID,
		Unknown: evidence.Unknown{LogPrior: math.Log(UnknownCases)}, StudentDF: studentDF,
	}
	m.Hypotheses = append(m.Hypotheses, evidence.Hypothesis{ID: HealthyID, LogPrior: math.Log(HealthyCases), Draws: rows[0]})
	known := map[string]bool{}
	for i := range b.Faults {
		f := &b.Faults[i]
		m.Hypotheses = append(m.Hypotheses, evidence.Hypothesis{
			ID: f.ID, Remedy: f.Remedy.ID, LogPrior: math.Log((1 - PairShare) * f.PriorIn(b.set.Story)), Draws: rows[1+i],
			LogWeights: b.felt(rows[1+i], nil),
		})
		if !known[f.Remedy.ID] {
			known[f.Remedy.ID] = true
			m.Remedies = append(m.Remedies, evidence.Remedy{ID: f.Remedy.ID, Minutes: math.Max(f.Remedy.Minutes, 1)})
		}
	}
	return m
}

// channels makes what the mathematics has to know of each measure.
func (b *Bank) channels(rows [][][]float64) []evidence.Channel {
	list := make([]evidence.Channel, len(b.Measures))
	for i := range b.Measures {
		m := &b.Measures[i]
		c := evidence.Channel{ID: m.ID, YesNo: m.Observation, Minutes: m.Minutes, Setup: m.Setup, SetupMinutes: m.SetupMinutes}
		if !m.Observation {
			var all []float64
			for _, row := range rows {
				for _, draw := range row {
					if x := draw[i]; !math.IsNaN(x) && !math.IsInf(x, 0) {
						all = append(all, x)
					}
				}
			}
			lo, mid, hi := spread(all)
			c.Abs, c.Rel = width(m, lo, mid)
			room := math.Max(hi-lo, 10*c.Abs)
			c.Low, c.High = lo-room/4, hi+room/4
			if lo > 0 && c.Low < lo/4 {
				c.Low = lo / 4 // of what is above 0 by its nature the decades below count
			}
		} else {
			// What an owner reports is wrong more often than a meter.
			c.SlipProb = 0.05
		}
		list[i] = c
	}
	return list
}

// width makes an instrument's half-width as a fixed part and a share of the
// figure. One that has no fixed part gets a thousandth of the least figure.
func width(m *measure.Measure, lo, mid float64) (fixed, share float64) {
	fixed = math.Max(m.Accuracy(0), math.Max(1e-3*math.Abs(lo), 1e-9))
	if mid != 0 {
		share = math.Max((m.Accuracy(mid)-m.Accuracy(0))/math.Abs(mid), 0)
	}
	return fixed, math.Min(share, 1)
}
