package suspect

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/fault"
)

// How further draws of a hypothesis are made where the readings have left few to
// carry it.
const (
	nearerDraws = 64   // at a time
	mostNearer  = 3    // times with the same readings
	mostRounds  = 6    // that are remembered, to tell how densely a place was drawn already
	anywhere    = 0.25 // share of them drawn as the fault itself draws
	sameCar     = 0.3  // share of the others whose car is that of a draw there is
	reach       = 1.5  // times the mean distance of draws is how wide a box is at least,
	stretch     = 1.6  // and times their standard deviation to either side: wide in what does not matter
)

// nearer are the draws of a hypothesis, in rounds, each lying where the weight of
// the one before was. The severities of a fault are uniform on the unit cube, and
// so are the bank's cars; those drawn later come from boxes about the draws that
// carried the weight, some of them with the same car, and some from anywhere. Only
// the last round counts, each of its draws with the weight 1/q(u) of the density q
// that it comes from (importance sampling: Kahn & Marshall 1953, Methods of
// reducing sample size in Monte Carlo computations); so what is expected of it is
// what is expected of draws made as the fault draws, which is not so if the draws
// that the boxes stand about count with them. A fault that is mild on most cars
// and bad on few so gets draws of the bad ones where the car is one.
type nearer struct {
	who    []int    // the faults
	places [][2]int // of the severities that matter: which fault, which of its uniforms
	drawn  []drawn  // the last round
	cars   int      // there are to draw from
	rounds []round
	log    int // readings and repairs there were at the last round
	times  int // rounds there were with them
}

// drawn is a car of the bank with severities.
type drawn struct {
	car   int
	sizes [2]fault.Severity
}

// A round is the density that some draws come from; one without boxes is uniform.
type round struct {
	n     int
	boxes []box
}

// A box is the product of uniform densities about a draw, cut off at 0 and 1, and
// its car or any.
type box struct {
	weight float64
	car    int
	lo, hi []float64
}

func (b *Bank) newNearer(h *evidence.Hypothesis) *nearer {
	members := h.Members
	if members == nil {
		members = []string{h.ID}
	}
	near := &nearer{rounds: []round{{n: len(h.Draws)}}, cars: len(b.cars)}
	for i, m := range members {
		at := b.faultAt(m)
		if at < 0 {
			return nil
		}
		near.who = append(near.who, at)
		f := &b.Faults[at]
		for j := range f.Sizes {
			near.places = append(near.places, [2]int{i, j})
		}
		if f.When.Kind == fault.OnlyHot || f.When.Kind == fault.ComesAndGoes {
			near.places = append(near.places, [2]int{i, 3})
		}
	}
	for k := range h.Draws {
		d := drawn{car: k}
		for i, f := range near.who {
			d.sizes[i] = b.severity(f, k)
		}
		near.drawn = append(near.drawn, d)
	}
	return near
}

// point is where a draw stands in the cube of what matters.
func (n *nearer) point(d *drawn) []float64 {
	u := make([]float64, len(n.places))
	for i, p := range n.places {
		u[i] = d.sizes[p[0]].U[p[1]]
	}
	return u
}

// density is that of a round at u and a car, as against draws made anywhere.
func (r *round) density(u []float64, car, cars int) float64 {
	if r.boxes == nil {
		return 1
	}
	q := anywhere
	for i := range r.boxes {
		q += (1 - anywhere) * r.boxes[i].density(u, car, cars)
	}
	return q
}

// dense is how many draws have been made about u for each unit of the cube.
func (n *nearer) dense(u []float64) float64 {
	sum := 0.0
	for i := range n.rounds {
		sum += float64(n.rounds[i].n) * n.rounds[i].density(u, -1, n.cars)
	}
	return sum
}

func (b *box) density(u []float64, car, cars int) float64 {
	q := b.weight * (1 - sameCar)
	if car == b.car {
		q += b.weight * sameCar * float64(cars)
	}
	for i, x := range u {
		if x < b.lo[i] || x > b.hi[i] {
			return 0
		}
		q /= b.hi[i] - b.lo[i]
	}
	return q
}

// spread is the standard deviation of the draws in each place, as weighted.
func (n *nearer) spread(weights []float64) []float64 {
	mean, square, total := make([]float64, len(n.places)), make([]float64, len(n.places)), 0.0
	for k, w := range weights {
		for i, x := range n.point(&n.drawn[k]) {
			mean[i] += w * x
			square[i] += w * x * x
		}
		total += w
	}
	for i := range mean {
		m := mean[i] / total
		square[i] = math.Sqrt(math.Max(0, square[i]/total-m*m))
	}
	return square
}

// further makes draws about those that carry the weight.
func (n *nearer) further(weights []float64, more int, rng *rand.Rand) {
	r := round{n: more}
	dims := len(n.places)
	wide := n.spread(weights)
	for k, w := range weights {
		if w < 1e-4 {
			continue
		}
		u := n.point(&n.drawn[k])
		half := math.Min(0.5, reach/2*math.Pow(n.dense(u), -1/float64(max(dims, 1))))
		x := box{weight: w, car: n.drawn[k].car, lo: make([]float64, dims), hi: make([]float64, dims)}
		for i := range u {
			half := math.Max(half, stretch*wide[i])
			x.lo[i], x.hi[i] = math.Max(0, u[i]-half), math.Min(1, u[i]+half)
		}
		r.boxes = append(r.boxes, x)
	}
	total := 0.0
	for i := range r.boxes {
		total += r.boxes[i].weight
	}
	for i := range r.boxes {
		r.boxes[i].weight /= total
	}
	n.drawn = nil
	// Systematic choice of the boxes: each as often as its weight says.
	at, up := rng.Float64(), 0.0
	near := int(math.Round((1 - anywhere) * float64(more)))
	next := 0
	for i := range more {
		d := drawn{car: rng.IntN(n.cars)}
		for j := range d.sizes {
			for m := range d.sizes[j].U {
				d.sizes[j].U[m] = rng.Float64()
			}
		}
		if i < near {
			for next < len(r.boxes)-1 && up+r.boxes[next].weight < (float64(i)+at)/float64(near) {
				up += r.boxes[next].weight
				next++
			}
			x := &r.boxes[next]
			if rng.Float64() < sameCar {
				d.car = x.car
			}
			for j, p := range n.places {
				d.sizes[p[0]].U[p[1]] = x.lo[j] + rng.Float64()*(x.hi[j]-x.lo[j])
			}
		}
		n.drawn = append(n.drawn, d)
	}
	if n.rounds = append(n.rounds, r); len(n.rounds) > mostRounds {
		n.rounds = n.rounds[1:]
	}
}

// logWeights are those of the draws.
func (n *nearer) logWeights() []float64 {
	out := make([]float64, len(n.drawn))
	last := &n.rounds[len(n.rounds)-1]
	for k := range out {
		d := &n.drawn[k]
		out[k] = -math.Log(last.density(n.point(d), d.car, n.cars))
	}
	return out
}

// addNearer gives a hypothesis draws where its weight is.
func (c *Case) addNearer(id string) (bool, error) {
	b := c.Bank
	at := slices.IndexFunc(c.model.Hypotheses, func(h evidence.Hypothesis) bool { return h.ID == id })
	if at < 0 || id == HealthyID {
		return false, nil
	}
	h := c.model.Hypotheses[at]
	near := c.near[id]
	if near == nil {
		if near = b.newNearer(&h); near == nil {
			return false, nil
		}
	}
	if near.log != len(c.log) {
		near.log, near.times = len(c.log), 0
	}
	if near.times >= mostNearer {
		return false, nil
	}
	near.times++
	w, err := c.work.Weights(id)
	if err != nil || len(w) != len(near.drawn) {
		return false, err
	}
	seed := fnv.New64a()
	seed.Write([]byte(id))
	near.further(w, nearerDraws, rand.New(rand.NewPCG(b.set.Seed^seed.Sum64(), uint64(len(c.log))<<8|uint64(near.times))))
	r, err := b.newReader()
	if err != nil {
		return false, err
	}
	h.Draws = make([][]float64, len(near.drawn))
	for k := range near.drawn {
		s := &near.drawn[k].sizes
		h.Draws[k] = make([]float64, len(b.Measures))
		r.read(near.drawn[k].car, func(d *car.Car, in *car.Condition) {
			if len(near.who) == 2 {
				fault.ApplyBoth(d, in, &b.Faults[near.who[0]], s[0], &b.Faults[near.who[1]], s[1])
			} else {
				b.Faults[near.who[0]].Apply(d, in, s[0])
			}
		}, h.Draws[k])
	}
	h.Cars = make([]int, len(near.drawn))
	for k := range h.Cars {
		h.Cars[k] = near.drawn[k].car
	}
	h.LogWeights = near.logWeights()
	for k, felt := range b.felt(h.Draws, h.Cars) {
		h.LogWeights[k] += felt
	}
	c.near[id] = near
	c.model.Hypotheses = slices.Clone(c.model.Hypotheses)
	c.model.Hypotheses[at] = h
	return true, nil
}
