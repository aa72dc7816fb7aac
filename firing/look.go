package firing

import "math"

// look keeps peaks, charge through the gap and ringing of one step.
func (w *walk) look(ph *phase, x0, d0, xm, x1, d1 *vec, h float64) {
	if lo, hi := hull(x0[v2], d0[v2]*h, x1[v2], d1[v2]*h); hi > w.top || lo < w.bottom {
		lo, hi = span(x0[v2], d0[v2]*h, x1[v2], d1[v2]*h)
		if hi > w.top {
			w.top = w.exact(ph, v2, x0, d0, x1, d1, h, hi)
		}
		if lo < w.bottom {
			w.bottom = w.exact(ph, v2, x0, d0, x1, d1, h, lo)
		}
	}
	if w.half {
		return
	}
	switch ph.pose {
	case open:
		rings := ph.burn == 0 && w.broke >= 0
		crest := rings && d0[v1] > 0 && d1[v1] <= 0
		if _, hi := hull(x0[v1], d0[v1]*h, x1[v1], d1[v1]*h); hi > w.primary || crest {
			_, hi = span(x0[v1], d0[v1]*h, x1[v1], d1[v1]*h)
			if hi > w.primary {
				w.primary = w.exact(ph, v1, x0, d0, x1, d1, h, hi)
			}
			if crest {
				w.crest = max(w.crest, hi-w.Source.Volts)
			}
		}
		if rings {
			if x1[v1] < w.Source.Volts && w.crest > 0 {
				w.swung()
			}
		}
	case clamped, arcing:
		i0, im, i1 := ph.primary(x0), ph.primary(xm), ph.primary(x1)
		p := func(i float64) float64 { return (ph.volts + ph.ohms*i) * i }
		took := h * (p(i0) + 4*p(im) + p(i1)) / 6
		if ph.pose == arcing {
			w.contactJ += took
			break
		}
		w.primary = max(w.primary, ph.volts+ph.ohms*max(i0, im, i1))
		w.clampJ += took
	}
	if s := ph.burn; s != 0 {
		w.burnS += h
		c := func(x *vec) float64 { return (s*x[v2] - w.Gap.Burn) / w.Gap.Series }
		r := func(d *vec) float64 { return s * d[v2] / w.Gap.Series }
		// The quintic through both ends, their slopes and the middle.
		w.charge += h*(7*(c(x0)+c(x1))+16*c(xm))/30 + h*h*(r(d0)-r(d1))/60
	}
}

// swung counts a swing of the primary above the supply and back: one, however
// the leakage ripples on it.
func (w *walk) swung() {
	if w.swings == 0 {
		w.swing[0] = w.crest
	}
	if w.crest >= 0.05*w.swing[0] {
		w.swings++
		w.swing[1] = w.crest
	}
	w.crest = 0
}

// exact is the peak that the cubic through a step shows at y, made exact by
// up to three steps of Newton on the slope. A peak at an end of the step is
// that end.
func (w *walk) exact(ph *phase, i int, x0, d0, x1, d1 *vec, h, y float64) float64 {
	if y == x0[i] || y == x1[i] {
		return y
	}
	a, b, c := cubic(x0[i], d0[i]*h, x1[i], d1[i]*h)
	u, n := turns(a, b, c)
	for _, v := range u[:n] {
		if x0[i]+v*(a+v*(b+v*c)) != y {
			continue
		}
		t := v * h
		var zero vec
		x := ph.after(x0, t)
		for k := 0; ; k++ {
			if y = x[i]; k == 3 {
				return y
			}
			d := ph.rate(&x)
			dd := apply(&ph.a, &zero, &d)
			next := t - d[i]/dd[i]
			if !(next > 0 && next < h) || math.Abs(next-t) < 1e-4*h {
				return y
			}
			x = ph.moved(x0, &x, t, next)
			t = next
		}
	}
	return y
}
