package advance

import (
	"math"
	"math/rand/v2"
)

// particle is one point of the unknowns' space with the log of the chance of
// the readings there.
type particle struct {
	z         []float64
	log, chi2 float64
}

// temper draws n particles from the posterior: it starts from the prior and
// lets the readings count for more and more (their weight rises to 1 in steps
// that keep half of the particles alive), after each step resampling and
// moving every particle by Metropolis steps along differences of two others.
// Unlike a search from one start it does not get lost where several
// mechanisms fit.
//
// Sources: Del Moral, Doucet and Jasra, Sequential Monte Carlo samplers
// (2006); ter Braak, A Markov chain Monte Carlo version of differential
// evolution (2006).
func (md *model) temper(n int, r *rand.Rand) []particle {
	d := len(md.unknowns)
	ps := make([]particle, n)
	flat := make([]float64, n*d)
	for i := range ps {
		ps[i].z = flat[i*d : (i+1)*d]
		for try := 0; try < 200; try++ {
			for k := range d {
				ps[i].z[k] = r.NormFloat64()
			}
			ps[i].log, ps[i].chi2 = md.likelihood(ps[i].z)
			if !math.IsInf(ps[i].log, -1) {
				break
			}
		}
	}
	heat := 0.0
	for step := 0; heat < 1 && step < 80; step++ {
		next := nextHeat(ps, heat)
		resample(ps, next-heat, r)
		heat = next
		moves := 9
		if heat == 1 {
			moves = 30
		}
		for range moves {
			md.move(ps, heat, r)
		}
	}
	return ps
}

// nextHeat is how much the readings may count for next.
func nextHeat(ps []particle, heat float64) float64 {
	alive := func(by float64) float64 {
		top := math.Inf(-1)
		for _, p := range ps {
			top = max(top, p.log)
		}
		var s, ss float64
		for _, p := range ps {
			w := math.Exp(by * (p.log - top))
			s += w
			ss += w * w
		}
		return s * s / ss / float64(len(ps))
	}
	if alive(1-heat) >= 0.5 {
		return 1
	}
	lo, hi := 0.0, 1-heat
	for range 30 {
		if mid := (lo + hi) / 2; alive(mid) >= 0.5 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return min(1, heat+max(lo, 1e-9))
}

// resample keeps particles in proportion to exp(by log), by evenly spaced
// marks.
func resample(ps []particle, by float64, r *rand.Rand) {
	top, sum := math.Inf(-1), 0.0
	for _, p := range ps {
		top = max(top, p.log)
	}
	w := make([]float64, len(ps))
	for i, p := range ps {
		w[i] = math.Exp(by * (p.log - top))
		sum += w[i]
	}
	n := len(ps)
	old := make([]particle, n)
	d := len(ps[0].z)
	flat := make([]float64, n*d)
	for i, p := range ps {
		old[i] = particle{flat[i*d : (i+1)*d], p.log, p.chi2}
		copy(old[i].z, p.z)
	}
	mark, upTo, j := r.Float64(), w[0], 0
	for i := range ps {
		for (mark+float64(i))*sum/float64(n) > upTo && j < n-1 {
			j++
			upTo += w[j]
		}
		copy(ps[i].z, old[j].z)
		ps[i].log, ps[i].chi2 = old[j].log, old[j].chi2
	}
}

// move gives every particle one Metropolis step along the difference of two
// others, in all directions or only in some of them.
func (md *model) move(ps []particle, heat float64, r *rand.Rand) {
	n, d := len(ps), len(md.unknowns)
	to := make([]float64, d)
	for i := range ps {
		p := &ps[i]
		a, b := r.IntN(n), r.IntN(n)
		share := 1.0
		if r.IntN(3) > 0 {
			share = 0.35
		}
		copy(to, p.z)
		by := (0.3 + 1.0*r.Float64()) * 2.38 / math.Sqrt(2*max(1, share*float64(d)))
		one := r.IntN(d)
		for k := range d {
			if k == one || r.Float64() < share {
				to[k] += by*(ps[a].z[k]-ps[b].z[k]) + 0.02*r.NormFloat64()
			}
		}
		prior := 0.0
		for k := range d {
			prior += (p.z[k]*p.z[k] - to[k]*to[k]) / 2
		}
		log, chi2 := md.likelihood(to)
		if gain := prior + heat*(log-p.log); gain >= 0 || r.Float64() < math.Exp(gain) {
			copy(p.z, to)
			p.log, p.chi2 = log, chi2
		}
	}
}

// polish walks from the best particle downhill in chi-square.
func (md *model) polish(ps []particle, r *rand.Rand) particle {
	best := ps[0]
	for _, p := range ps {
		if p.chi2 < best.chi2 {
			best = p
		}
	}
	best.z = append([]float64(nil), best.z...)
	to := make([]float64, len(best.z))
	by := 0.5
	for range 1500 {
		a, b := r.IntN(len(ps)), r.IntN(len(ps))
		for k := range to {
			to[k] = best.z[k] + by*(ps[a].z[k]-ps[b].z[k])
		}
		if log, chi2 := md.likelihood(to); chi2 < best.chi2 {
			copy(best.z, to)
			best.log, best.chi2 = log, chi2
			by = min(1, by*1.5)
		} else {
			by = max(0.01, by*0.98)
		}
	}
	return best
}
