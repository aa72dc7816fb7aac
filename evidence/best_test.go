package evidence

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// A small catalogue in which the best of all plans can be found by trying every
// one: readings with outcomes no, yes and cannot, remedies that work for sure.
type small struct {
	m     Model
	like  [][][3]float64 // channel, hypothesis, outcome
	fix   []int          // per remedy, as a mask of hypotheses
	cost  []float64      // per remedy
	prior []float64
	setup []int // per channel, 0 is none
	memo  map[[3]int]float64
}

func newSmall(rng *rand.Rand) *small {
	faults, channels := 3+rng.IntN(3), 2+rng.IntN(4)
	s := &small{m: Model{Healthy: "h", ElsewhereMinutes: 50, Unknown: Unknown{LogPrior: -60}}}
	setups := []string{"", "running", "key_on"}
	for i := range channels {
		k := rng.IntN(3)
		s.setup = append(s.setup, k)
		s.m.Channels = append(s.m.Channels, Channel{ID: fmt.Sprint("c", i), YesNo: true, Minutes: 0.5 + 8*rng.Float64(),
			Setup: setups[k], SetupMinutes: 6 * rng.Float64(), SlipProb: 1e-12})
	}
	for f := range faults + 1 {
		h := Hypothesis{ID: "h", LogPrior: math.Log(0.1 + rng.Float64()), Draws: [][]float64{nil}}
		if f > 0 {
			h.ID, h.Remedy = fmt.Sprint("f", f), fmt.Sprint("r", (f+1)/2)
			if f > 2 {
				h.Remedy = fmt.Sprint("r", f)
			}
		}
		for range channels {
			q := []float64{0.02, 0.1, 0.5, 0.9, 0.98}[rng.IntN(5)]
			h.Draws[0] = append(h.Draws[0], q)
		}
		s.m.Hypotheses = append(s.m.Hypotheses, h)
	}
	have := map[string]int{}
	for f, h := range s.m.Hypotheses[1:] {
		if _, ok := have[h.Remedy]; !ok {
			have[h.Remedy] = len(s.m.Remedies)
			s.m.Remedies = append(s.m.Remedies, Remedy{h.Remedy, 5 + 60*rng.Float64()})
			s.cost = append(s.cost, s.m.Remedies[len(s.m.Remedies)-1].Minutes)
			s.fix = append(s.fix, 0)
		}
		s.fix[have[h.Remedy]] |= 2 << f
	}
	s.fix, s.cost = append(s.fix, 1), append(s.cost, 50)
	sum := 0.0
	for _, h := range s.m.Hypotheses {
		s.prior = append(s.prior, math.Exp(h.LogPrior))
		sum += math.Exp(h.LogPrior)
	}
	for h := range s.prior {
		s.prior[h] /= sum
	}
	for c := range channels {
		var l [][3]float64
		for _, h := range s.m.Hypotheses {
			q := h.Draws[0][c]
			l = append(l, [3]float64{(1 - couldNotAnyway) * (1 - q), (1 - couldNotAnyway) * q, couldNotAnyway})
		}
		s.like = append(s.like, l)
	}
	s.memo = map[[3]int]float64{}
	return s
}

func (s *small) minutes(c, setup int) float64 {
	ch := &s.m.Channels[c]
	if s.setup[c] == 0 || s.setup[c] == setup {
		return ch.Minutes
	}
	return ch.Minutes + ch.SetupMinutes
}

func (s *small) after(c, setup int) int {
	if s.setup[c] != 0 {
		return s.setup[c]
	}
	return setup
}

func total(v []float64) (sum float64) {
	for _, x := range v {
		sum += x
	}
	return sum
}

func (s *small) given(v []float64, c, outcome int) []float64 {
	out := make([]float64, len(v))
	for h := range v {
		out[h] = v[h] * s.like[c][h][outcome]
	}
	return out
}

func (s *small) mended(v []float64, remedy int) []float64 {
	out := make([]float64, len(v))
	for h := range v {
		if s.fix[remedy]&(1<<h) == 0 {
			out[h] = v[h]
		}
	}
	return out
}

func pow4(c int) int { return 1 << (2 * c) }

// best is the least expected time from weights v (not summing to 1), the answers
// so far being written in read as digits to the base 4.
func (s *small) best(v []float64, read, tried, setup int) float64 {
	sum := total(v)
	if sum < 1e-9 {
		return 0
	}
	key := [3]int{read, tried, setup}
	if x, ok := s.memo[key]; ok {
		return x
	}
	least := math.Inf(1)
	for r := range s.fix {
		if tried&(1<<r) == 0 {
			least = min(least, s.cost[r]*sum+s.best(s.mended(v, r), read, tried|1<<r, setup))
		}
	}
	for c := range s.like {
		if read/pow4(c)%4 != 0 {
			continue
		}
		x := s.minutes(c, setup) * sum
		for o := 0; o < 3 && x < least; o++ {
			x += s.best(s.given(v, c, o), read+(o+1)*pow4(c), tried, s.after(c, setup))
		}
		least = min(least, x)
	}
	s.memo[key] = least
	return least
}

// follow is the expected time if Next is done as it says.
func (s *small) follow(t *testing.T, b *Bank, v []float64, events []event, read, tried, setup int) float64 {
	sum := total(v)
	if sum < 1e-6 {
		return 0
	}
	c := b.Open()
	c.events = events[:len(events):len(events)]
	c.replay()
	sit := Situation{Setup: []string{"", "running", "key_on"}[setup]}
	for i := range s.like {
		if read/pow4(i)%4 != 0 {
			sit.Skip = append(sit.Skip, fmt.Sprint("c", i))
		}
	}
	n := must(c.Next(sit))
	if !n.Stop {
		i := b.channelAt[n.Reading]
		x := s.minutes(i, setup) * sum
		for o, kind := range []Kind{No, Yes, CouldNot} {
			next := append(events[:len(events):len(events)], event{reading: Reading{Channel: n.Reading, Kind: kind}})
			x += s.follow(t, b, s.given(v, i, o), next, read+(o+1)*pow4(i), tried, s.after(i, setup))
		}
		return x
	}
	for _, st := range n.Steps {
		r := b.remedyAt[st.Remedy]
		if st.Remedy != UnknownID && tried&(1<<r) == 0 {
			next := append(events[:len(events):len(events)], event{repair: &Repair{Remedies: []string{st.Remedy}, Outcome: Still, Doubt: 1e-9, Fickle: 1e-9}})
			return s.cost[r]*sum + s.follow(t, b, s.mended(v, r), next, read, tried|1<<r, setup)
		}
	}
	for r := range s.fix { // what has become too unlikely to be named
		if tried&(1<<r) == 0 && total(s.mended(v, r)) < sum {
			return s.cost[r]*sum + s.follow(t, b, s.mended(v, r), events, read, tried|1<<r, setup)
		}
	}
	t.Fatalf("nothing left to do with %g", sum)
	return 0
}

// Doing as Next says takes hardly longer than the best of all plans.
func TestAgainstTheBestPlan(t *testing.T) {
	rng := rand.New(rand.NewPCG(1995, 3))
	var sum, worst, blind float64
	const catalogues = 60 / fewer
	for i := range catalogues {
		s := newSmall(rng)
		b := must(Prepare(s.m))
		best := s.best(s.prior, 0, 0, 0)
		got := s.follow(t, b, s.prior, nil, 0, 0, 0)
		if got < best*(1-1e-3) {
			t.Fatalf("catalogue %d: %.3f minutes, less than the best plan's %.3f", i, got, best)
		}
		sum += (got/best - 1) / catalogues
		worst = math.Max(worst, got/best-1)
		blind += (must(b.Open().Next(Situation{})).Now/best - 1) / catalogues
	}
	t.Logf("%.2f %% longer than the best plan on average, %.1f %% at worst; without any reading %.0f %%", 100*sum, 100*worst, 100*blind)
	if sum > 0.1 || worst > 0.35 {
		t.Errorf("%.3f longer on average, %.3f at worst", sum, worst)
	}
}

// Two readings that pay together and neither alone: which of four it is shows
// only in both.
func TestLookAheadSeesPairs(t *testing.T) {
	m := Model{Healthy: "h", Unknown: Unknown{LogPrior: -60}}
	for i := range 2 {
		m.Channels = append(m.Channels, Channel{ID: fmt.Sprint("c", i), YesNo: true, Minutes: 1, SlipProb: 1e-9})
	}
	m.Hypotheses = []Hypothesis{{ID: "h", LogPrior: -60, Draws: [][]float64{{0, 0}}}}
	for f := range 4 {
		a, b := float64(f&1), float64(f>>1)
		// The remedy is told by whether the two answers differ.
		h := Hypothesis{ID: fmt.Sprint("f", f), Remedy: fmt.Sprint("r", f&1^f>>1), Draws: [][]float64{{a, b}}}
		m.Hypotheses = append(m.Hypotheses, h)
	}
	m.Remedies = []Remedy{{"r0", 60}, {"r1", 60}}
	n := must(must(Prepare(m)).Open().Next(Situation{}))
	if n.Stop || n.Ranked[0].Bits > 1e-6 || n.Best > 75 || n.Ranked[0].Then == "" {
		t.Errorf("%+v", n)
	}
	if math.Abs(n.Now-90) > 0.1 {
		t.Errorf("without a reading %g minutes, want 60 and half the time 60 more", n.Now)
	}
}
