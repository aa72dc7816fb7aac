package evidence

import "math"

// The look-ahead considers so many first readings, each with so many second ones.
const (
	lookFirst  = 5
	lookSecond = 8
)

// lookAhead works out what the most promising readings are worth with a second
// one behind them, makes the choice and puts it first.
//
// Given the draw, two readings are taken as independent: how the first moves a
// kernel is left out, which makes the second look worth a little more or less
// than it will be.
func (r *ranker) lookAhead(out *Choice, s Situation) {
	out.Stop = true
	cands := out.Ranked
	cheapest := math.Inf(1)
	for _, x := range cands {
		cheapest = min(cheapest, x.Minutes)
	}
	if len(cands) == 0 || cheapest >= out.Now {
		return
	}
	firsts, seconds := pick(cands, lookFirst), pick(cands, lookSecond)
	looks := map[int]*look{}
	for _, i := range append(seconds, firsts...) {
		if looks[i] == nil {
			looks[i] = r.newLook(r.c.bank.channelAt[cands[i].Channel])
		}
	}
	best, least, floor := -1, out.Now*(1-1e-9), r.fix.floor(r.prior)
	for _, i := range firsts {
		x := &cands[i]
		if x.Minutes+floor >= least {
			continue
		}
		x.Ahead, x.Then = r.ahead(i, seconds, cands, looks, s.Setup)
		// The look-ahead's cells are coarser: where it sees no gain in a second
		// reading, the finer first look stands.
		x.Ahead = min(x.Ahead, x.Total)
		if x.Ahead < least {
			best, least = i, x.Ahead
		}
	}
	if best < 0 {
		return
	}
	out.Stop, out.Best, out.Reading = false, least, cands[best].Channel
	chosen := cands[best]
	copy(cands[1:best+1], cands[:best])
	cands[0] = chosen
}

// pick takes the best n candidates, by turns in time and in bits per minute.
func pick(cands []Candidate, n int) []int {
	var out []int
	have := map[int]bool{}
	for i := 0; len(out) < n && i < len(cands); i++ {
		if !have[i] {
			have[i] = true
			out = append(out, i)
		}
		best := -1
		for j := range cands {
			if !have[j] && (best < 0 || cands[j].BitsPerMinute > cands[best].BitsPerMinute) {
				best = j
			}
		}
		if best >= 0 && len(out) < n {
			have[best] = true
			out = append(out, best)
		}
	}
	return out
}

// A look is what each draw says a channel will show, in coarse cells.
type look struct {
	ch    int
	cells int
	p     []float32 // p[draw·cells+cell]
}

func (r *ranker) newLook(ch int) *look {
	c, b := r.c, r.c.bank
	t := &r.tab
	t.build(c, ch, r.groups, len(r.prior), lookCells)
	l := &look{ch: ch, cells: t.cells, p: make([]float32, len(c.lw)*t.cells)}
	wide := make([]float64, t.cells-1)
	before := 0.0
	for e := range wide {
		below := 1.0
		if e < t.cells-2 && !b.channels[ch].YesNo {
			below = b.channels[ch].scale.broadBelow(t.edges[e])
		}
		wide[e], before = below-before, below
	}
	slip := b.channels[ch].slip
	last := t.cells - 1
	for h := range c.work {
		v, upset := &c.work[h], b.hyps[h].upset
		pcc, d := v.v[ch], v.d[ch*v.n:(ch+1)*v.n]
		for k, f := range v.f[ch*v.n : (ch+1)*v.n] {
			i := c.off[h] + k
			if c.weight[i] <= lookFaint {
				continue
			}
			row := l.p[i*t.cells : (i+1)*t.cells]
			have := !math.IsNaN(f)
			cannot := (1-upset)*couldNotAnyway + upset*couldNotUpset
			right := (1 - upset) * (1 - couldNotAnyway) * (1 - slip)
			if !have {
				cannot, right = (1-upset)*(1-hadAnyway)+upset*couldNotUpset, 0
			}
			row[last] = float32(cannot)
			if b.channels[ch].YesNo {
				q := 0.5
				if have {
					q = (right*f + (1-upset)*(1-couldNotAnyway)*slip*(1-f) + upset*(1-couldNotUpset)/2) / (1 - cannot)
				}
				row[0], row[1] = float32((1-cannot)*(1-q)), float32((1-cannot)*q)
				continue
			}
			before, inv := 0.0, 1/math.Sqrt(1+pcc*d[k]*d[k])
			for e := range wide {
				below := 1.0
				if have && e < len(t.edges) {
					below = b.noise.below((t.edges[e] - f) * inv)
				}
				row[e] = float32((1-cannot-right)*wide[e] + right*(below-before))
				before = below
			}
		}
	}
	return l
}

// lookFaint is the weight below which a draw does not count in the look-ahead.
const lookFaint = 1e-7

// ahead is the expected time with first reading i and the best second one after
// each of its outcomes.
func (r *ranker) ahead(i int, seconds []int, cands []Candidate, looks map[int]*look, setup string) (float64, string) {
	b := r.c.bank
	first := looks[i]
	after := b.setupAfter(first.ch, setup)
	stop := make([]float64, first.cells) // time times probability, when nothing more is read
	mass := make([]float64, first.cells)
	best := make([]float64, first.cells)
	floor := make([]float64, first.cells) // time when the remedy is known at once
	then := make([]int, first.cells)
	for j, second := range seconds {
		if second == i {
			continue
		}
		l := looks[second]
		joint := r.joint(first, l)
		if stop[0] == 0 && mass[0] == 0 {
			r.alone(joint, first.cells, l.cells, stop, floor, mass)
			copy(best, stop)
			for k := range then {
				then[k] = -1
			}
		}
		more := b.minutes(l.ch, after)
		for x := range first.cells {
			if mass[x] <= 0 {
				continue
			}
			// Begin with the least it can be and add what is worse than that.
			total := more*mass[x] + floor[x]
			for y := 0; y < l.cells && total < best[x]; y++ {
				for s := range r.col {
					r.col[s] = joint[(s*first.cells+x)*l.cells+y]
				}
				total += r.fix.minutes(r.col) - r.fix.floor(r.col)
			}
			if total < best[x] {
				best[x], then[x] = total, j
			}
		}
	}
	if mass[0] == 0 && stop[0] == 0 {
		return cands[i].Total, "" // nothing else to read
	}
	total, often := cands[i].Minutes, make([]float64, len(seconds))
	for x := range best {
		total += best[x]
		if then[x] >= 0 {
			often[then[x]] += mass[x]
		}
	}
	name, most := "", 0.0
	for j, p := range often {
		if p > most {
			name, most = cands[seconds[j]].Channel, p
		}
	}
	return total, name
}

// joint is the probability of set, first cell and second cell.
func (r *ranker) joint(a, b *look) []float64 {
	c := r.c
	n := a.cells * b.cells
	r.pair = zeros(r.pair, len(r.prior)*n)
	for h := range c.work {
		out := r.pair[r.groups[h]*n : (r.groups[h]+1)*n]
		for i := c.off[h]; i < c.off[h+1]; i++ {
			w := c.weight[i]
			if w <= lookFaint {
				continue
			}
			pb := b.p[i*b.cells : (i+1)*b.cells]
			for x, q := range a.p[i*a.cells : (i+1)*a.cells] {
				wq := w * float64(q)
				o := out[x*b.cells : (x+1)*b.cells]
				for y, v := range pb {
					o[y] += wq * float64(v)
				}
			}
		}
	}
	return r.pair
}

// alone finds, for each cell of the first reading, its probability and the
// expected time without a second and with all known.
func (r *ranker) alone(joint []float64, na, nb int, stop, floor, mass []float64) {
	for x := range na {
		for s := range r.col {
			sum := 0.0
			for _, v := range joint[(s*na+x)*nb : (s*na+x+1)*nb] {
				sum += v
			}
			r.col[s] = sum
			mass[x] += sum
		}
		stop[x], floor[x] = r.fix.minutes(r.col), r.fix.floor(r.col)
	}
}
