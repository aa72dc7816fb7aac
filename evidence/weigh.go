package evidence

import "math"

// weigh makes a reading change every draw's weight, and moves what the draws
// predict for the other readings.
//
// A draw's kernel is a Gaussian, so a reading z with instrument variance s²
// does to it what it does to any Gaussian: with innovation d = z - f,
//
//	weight ×  N(d; 0, s²+P_ii),
//	f_c    += P_ci d/(s²+P_ii),
//	P_cd   -= P_ci P_di/(s²+P_ii).
//
// (Alspach & Sorenson 1972, IEEE Transactions on Automatic Control 17, 439.)
// The kernel's widths differ from draw to draw and its correlation does not, so P
// falls by what the reading takes off on the average of the draws' new weights.
// Where the reading may be a slip the move is made only by as much as it is
// likely to be none, draw by draw for f, on the average for P.
func (c *Case) weigh(t *typed, gain []float64, slipped []float32) {
	for h := range c.work {
		from, to := c.off[h], c.off[h+1]
		ll, move := c.pad.ll[from:to], c.pad.move[from:to]
		c.like(h, t, ll, move, slipped[from:to])
		lw := c.lw[from:to]
		for k := range lw {
			lw[k] += ll[k]
		}
		lp := logSum(lw)
		gain[h] = lp - c.lp[h]
		c.lp[h] = lp
		if t.kind == Figure {
			c.shift(h, t, lp, lw, move)
		}
	}
	c.normalise()
}

// normalise makes the weights sum to 1.
func (c *Case) normalise() {
	sum := logSum(c.lp)
	for h := range c.lp {
		c.lp[h] -= sum
	}
	for i := range c.lw {
		c.lw[i] -= sum
	}
}

// like writes, for each draw of hypothesis h, the log of the chance of the
// reading, how far the reading is to be believed as it stands, and the chance
// that it was a slip.
func (c *Case) like(h int, t *typed, ll, move []float64, slipped []float32) {
	b := c.bank
	v, ch, upset := &c.work[h], &b.channels[t.ch], b.hyps[h].upset
	f := v.f[t.ch*v.n : (t.ch+1)*v.n]
	d := v.d[t.ch*v.n : (t.ch+1)*v.n]
	pii := v.v[t.ch]
	for k, x := range f {
		inv := 1 / math.Sqrt(t.s2+pii*d[k]*d[k])
		var right, wrong, upsetBy float64 // no slip, slip, upset
		pull := 1.0
		have := !math.IsNaN(x)
		switch {
		case t.kind == CouldNot && have:
			right, upsetBy = couldNotAnyway, couldNotUpset
		case t.kind == CouldNot:
			right, upsetBy = 1-hadAnyway, couldNotUpset
		case !have:
			right, wrong = 0, hadAnyway*t.broad
			upsetBy = (1 - couldNotUpset) * t.broad
		default:
			switch t.kind {
			case Figure:
				off := (t.z - x) * inv
				right = b.noise.density(off) * inv
				pull = b.noise.pull(off)
				wrong = ch.anyway * t.broad
				for _, s := range t.slips {
					wrong += s.weight * b.noise.density((s.z-x)*inv) * inv
				}
			case LessThan:
				right, wrong = b.noise.below((t.z-x)*inv), t.broad
			case MoreThan:
				right, wrong = b.noise.below((x-t.z)*inv), t.broad
			case Yes:
				right, wrong = x, 1-x
			case No:
				right, wrong = 1-x, x
			}
			right *= (1 - couldNotAnyway) * (1 - t.slip)
			wrong *= (1 - couldNotAnyway) * t.slip
			upsetBy = (1 - couldNotUpset) * t.broad
		}
		right *= 1 - upset
		wrong *= 1 - upset
		all := right + wrong + upset*upsetBy
		ll[k] = math.Log(math.Max(all, 1e-300))
		if all > 0 {
			move[k] = pull * right / all
			slipped[k] = float32(wrong / all)
		} else {
			move[k], slipped[k] = 0, 0
		}
	}
}

// shift moves the centres and narrows the kernel of hypothesis h.
func (c *Case) shift(h int, t *typed, lp float64, lw, move []float64) {
	nc, i := len(c.bank.channels), t.ch
	if c.work[h].v[i] <= 0 {
		return
	}
	v := c.ownView(h)
	pii := v.v[i]
	f, d := v.f[i*v.n:(i+1)*v.n], v.d[i*v.n:(i+1)*v.n]
	// move becomes, draw by draw, by how many widths the centres of channels in
	// step with this one move; mean the share of the variance that goes.
	mean := 0.0
	for k, m := range move {
		unit := d[k] / (t.s2 + d[k]*d[k]*pii)
		mean += math.Exp(lw[k]-lp) * m * d[k] * unit
		if math.IsNaN(f[k]) {
			move[k] = 0
			continue
		}
		move[k] = m * (t.z - f[k]) * unit
	}
	if mean < 1e-12 {
		return
	}
	row := v.spareRow(nc) // the kernel's covariance with the reading
	for a := range row {
		g := pii
		if a != i {
			// Correlations were trimmed one by one; none may end beyond 1.
			most := math.Sqrt(v.v[a] * pii)
			g = math.Max(-most, math.Min(most, v.covariance(a, i)))
		}
		if g == 0 {
			continue
		}
		row[a] = g
		fa, da := v.f[a*v.n:(a+1)*v.n], v.d[a*v.n:(a+1)*v.n]
		for k, m := range move {
			fa[k] += g * da[k] * m
		}
		v.v[a] = math.Max(0, v.v[a]-mean*g*g)
	}
	v.less = append(v.less, taking{mean, row})
}
