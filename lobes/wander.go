package lobes

import "math"

// wander is how what is left after lobes and slope scatters: part of it
// correlated between neighbouring firings, part not.
type wander struct {
	played, white Fig     // standard deviations, degrees
	over          float64 // pitches until the correlation has fallen to 1/e
	// For the spread of what was fitted: the mean over all that is likely of
	// the white variance, and of the correlated one by its reach.
	whiteVar float64
	playVar  []float64
	reach    []float64
}

// node is one pair (share, reach) at which the likelihood was worked out.
type node struct {
	share, reach float64
	ss           float64 // r'W⁻¹r
	ld           float64 // ln|W| + ln|X'W⁻¹X|
}

// series is the firings in their order: columns of the design, the last column
// is what is left of the readings.
type series struct {
	gap  []float64 // pitches since the firing before
	cols [][]float64
	nu   float64 // firings less what was fitted
}

const cut = z95 * z95 / 2 // fall of the log-likelihood at the ends of a 95 % interval

// at works out one node. With W = (1-share)·1 + share·exp(-|u-u'|/reach) a
// firing's correlated part x follows x' = phi x + noise, phi = exp(-gap/reach),
// so a scalar Kalman filter whitens every column in one pass: prediction p of
// x's variance, innovation's variance v = p + 1 - share.
func (s series) at(share, reach float64) node {
	q := len(s.cols)
	x := make([]float64, q)
	e := make([]float64, q)
	gram := make([]float64, q*q)
	p, ld := share, 0.0
	for k := range s.gap {
		if k > 0 {
			phi := math.Exp(-s.gap[k] / reach)
			p = phi*phi*p + share*(1-phi*phi)
			for c := range x {
				x[c] *= phi
			}
		}
		v := p + 1 - share
		ld += math.Log(v)
		inv, gain := 1/v, p/v
		for c := range x {
			e[c] = s.cols[c][k] - x[c]
			x[c] += gain * e[c]
		}
		for a := range q {
			if e[a] == 0 {
				continue
			}
			w := e[a] * inv
			row := gram[a*q : a*q+a+1]
			for b := range row {
				row[b] += w * e[b]
			}
		}
		p -= gain * p
	}
	// Cholesky of the Gram matrix: the last pivot is the residual's r'W⁻¹r.
	n := node{share: share, reach: reach, ld: ld, ss: gram[q*q-1]}
	for a := range q {
		for b := range a + 1 {
			sum := gram[a*q+b]
			for c := range b {
				sum -= gram[a*q+c] * gram[b*q+c]
			}
			switch {
			case a != b:
				gram[a*q+b] = sum / gram[b*q+b]
			case a == q-1:
				n.ss = max(sum, 1e-14*n.ss) // above rounding
			default:
				n.ld += math.Log(sum)
				gram[a*q+a] = math.Sqrt(sum)
			}
		}
	}
	return n
}

// top is the node's log-likelihood at its best overall scale.
func (n node) top(nu float64) float64 { return -0.5 * (nu*math.Log(n.ss/nu) + n.ld + nu) }

// estimate finds the two variances by restricted maximum likelihood: the
// likelihood of what is left of the readings after every lobe's mean and the
// slope, over shares of the correlated part from none to all and reaches from
// one pitch to two turns. Intervals are where the likelihood, at its best over
// all else, has fallen by 1.92.
func (s series) estimate(lobes int) wander {
	g0, g1 := -6.0, 6.0 // ln(share/(1-share))
	h0, h1 := 0.0, math.Log(max(2, 2*float64(lobes)))
	var nodes []node
	var best node
	for zoom := range 3 {
		ng, nh := 15, 6
		if zoom > 0 {
			ng, nh = 19, 7
		}
		nodes = nodes[:0]
		top := math.Inf(-1)
		dg, dh := (g1-g0)/float64(ng-1), (h1-h0)/float64(nh-1)
		for b := range nh {
			reach := math.Exp(h0 + dh*float64(b))
			for a := -1; a <= ng; a++ {
				share := 1 / (1 + math.Exp(-(g0 + dg*float64(a))))
				if a < 0 {
					share = 0
				} else if a == ng {
					share = 1
				}
				n := s.at(share, reach)
				nodes = append(nodes, n)
				if v := n.top(s.nu); v > top {
					top, best = v, n
				}
			}
		}
		// Closer, about all that is likely.
		lg, hg, lh, hh := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, n := range nodes {
			if n.top(s.nu) > top-6 {
				g := min(max(math.Log(n.share/(1-n.share)), g0), g1)
				h := math.Log(n.reach)
				lg, hg, lh, hh = min(lg, g), max(hg, g), min(lh, h), max(hh, h)
			}
		}
		if zoom == 2 || zoom == 1 && hg-lg >= 9*dg { // fine enough: steps of half a standard deviation
			break
		}
		g0, g1 = max(g0, lg-dg), min(g1, hg+dg)
		h0, h1 = max(h0, lh-dh), min(h1, hh+dh)
	}
	if best.share > 0 && best.share < 1 { // the last step between nodes
		g, step := math.Log(best.share/(1-best.share)), (g1-g0)/18
		for range 5 {
			step /= 2
			for _, d := range []float64{-step, step} {
				if n := s.at(1/(1+math.Exp(-g-d)), best.reach); n.top(s.nu) > best.top(s.nu) {
					best, g = n, g+d
					break
				}
			}
		}
		nodes = append(nodes, best)
	}

	w := wander{over: best.reach}
	w.played = s.bounds(nodes, best, func(n node) float64 { return n.share })
	w.white = s.bounds(nodes, best, func(n node) float64 { return 1 - n.share })
	var all float64
	top := best.top(s.nu)
	for _, n := range nodes {
		p := math.Exp(n.top(s.nu) - top)
		all += p
		w.whiteVar += p * n.ss / s.nu * (1 - n.share)
		if len(w.reach) == 0 || w.reach[len(w.reach)-1] != n.reach {
			w.reach = append(w.reach, n.reach)
			w.playVar = append(w.playVar, 0)
		}
		w.playVar[len(w.playVar)-1] += p * n.ss / s.nu * n.share
	}
	w.whiteVar /= all
	for i := range w.playVar {
		w.playVar[i] /= all
	}
	return w
}

// bounds is the standard deviation of one part with its interval. For a given
// variance v of the part, a node's overall scale is v/part; the best node
// there is the profile of the likelihood at v.
func (s series) bounds(nodes []node, best node, part func(node) float64) Fig {
	top := best.top(s.nu)
	near := func(v float64) bool { // v lies within the interval
		for _, n := range nodes {
			if f := part(n); f > 0 {
				scale := v / f
				if -0.5*(s.nu*math.Log(scale)+n.ld+n.ss/scale) > top-cut {
					return true
				}
			}
		}
		return false
	}
	mid := best.ss / s.nu * part(best)
	lo, hi, none := math.Inf(1), mid, false
	for _, n := range nodes {
		if n.top(s.nu) <= top-cut {
			continue
		}
		v := n.ss / s.nu * part(n)
		none = none || part(n) == 0
		if v > 0 {
			lo = min(lo, v)
		}
		hi = max(hi, v)
	}
	if none {
		lo = 0
	} else {
		lo = math.Exp(-bisect(-math.Log(lo), -math.Log(lo)+20, func(x float64) bool { return near(math.Exp(-x)) }))
	}
	if hi > 0 {
		hi = math.Exp(bisect(math.Log(hi), math.Log(hi)+20, func(x float64) bool { return near(math.Exp(x)) }))
	}
	return size(math.Sqrt(mid), math.Sqrt(lo), math.Sqrt(hi))
}
