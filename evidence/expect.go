package evidence

import (
	"fmt"
	"math"
)

// Expected is what a channel is expected to show, instrument error included,
// slips not.
type Expected struct {
	Low, Middle, High float64 // 2.5, 50 and 97.5 % of the figure; NaN for a yes or no, and where it can never be had
	Yes               float64 // probability of a yes; NaN for a figure
	Cannot            float64 // chance that it cannot be had
}

// Expect says what a channel is expected to show on the car as it is now if the
// hypothesis is true; "" is all hypotheses as they stand (of the unknown one
// only what is not upset).
func (c *Case) Expect(channelID, hypothesis string) (Expected, error) {
	m, ch, err := c.expecting(channelID, hypothesis)
	if err != nil {
		return Expected{}, err
	}
	return m.expected(ch), nil
}

// Below is the chance that a channel, if it can be had, reads below a figure on
// the car as it is now if the hypothesis is true, slips left out; "" is all
// hypotheses as they stand. NaN for a yes or no, and where it cannot be had.
func (c *Case) Below(channelID, hypothesis string, figure float64) (float64, error) {
	m, ch, err := c.expecting(channelID, hypothesis)
	if err != nil {
		return 0, err
	}
	if ch.YesNo || !(m.sum > 0) || math.IsNaN(figure) {
		return math.NaN(), nil
	}
	return m.below(ch.scale.z(figure)), nil
}

// expecting is what is expected of a channel if a hypothesis is true; "" is all
// hypotheses as they stand.
func (c *Case) expecting(channelID, hypothesis string) (mixture, *channel, error) {
	ch, ok := c.bank.channelAt[channelID]
	if !ok {
		return mixture{}, nil, fmt.Errorf("channel %q: %w", channelID, ErrName)
	}
	hs := c.others(-1)
	if hypothesis != "" {
		h, ok := c.bank.hypAt[hypothesis]
		if !ok {
			return mixture{}, nil, fmt.Errorf("hypothesis %q: %w", hypothesis, ErrName)
		}
		hs = []int{h}
	}
	c.spread()
	return c.mixture(ch, hs...), &c.bank.channels[ch], nil
}

// unread is what hypothesis h made likely before any reading.
func (c *Case) unread(ch, h int) Expected {
	cl := c.bank.hyps[h].cloud
	w := make([]float64, cl.n)
	for k := range w {
		w[k] = math.Exp(c.bank.hyps[h].logShare(k))
	}
	m := mixture{noise: &c.bank.noise}
	m.add(cl.f[ch*cl.n:(ch+1)*cl.n], cl.d[ch*cl.n:(ch+1)*cl.n], w, cl.v[ch])
	return m.expected(&c.bank.channels[ch])
}

// A mixture is what weighted draws expect of one channel.
type mixture struct {
	noise  *noise
	f, w   []float64
	inv    []float64 // 1/standard deviation
	sum    float64   // of w
	cannot float64
}

func (c *Case) mixture(ch int, hs ...int) mixture {
	m := mixture{noise: &c.bank.noise}
	most := math.Inf(-1)
	for _, h := range hs {
		most = max(most, c.lp[h])
	}
	for _, h := range hs {
		v, w := &c.work[h], c.weight[c.off[h]:c.off[h+1]]
		if most < -100 { // what is expected of a car that can hardly be is asked as well
			w = make([]float64, v.n)
			for k := range w {
				w[k] = math.Exp(c.lw[c.off[h]+k] - most)
			}
		}
		m.add(v.f[ch*v.n:(ch+1)*v.n], v.d[ch*v.n:(ch+1)*v.n], w, v.v[ch])
	}
	return m
}

func (m *mixture) add(f, d, w []float64, p float64) {
	for k, x := range f {
		switch {
		case !(w[k] > 0):
		case math.IsNaN(x):
			m.cannot += w[k]
		default:
			m.f, m.w, m.inv = append(m.f, x), append(m.w, w[k]), append(m.inv, 1/math.Sqrt(1+p*d[k]*d[k]))
			m.sum += w[k]
		}
	}
}

// below is the chance that it reads below z, if it can be had.
func (m *mixture) below(z float64) float64 {
	sum := 0.0
	for i, x := range m.f {
		sum += m.w[i] * m.noise.below((z-x)*m.inv[i])
	}
	return sum / m.sum
}

func (m *mixture) quantile(p float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, x := range m.f {
		lo, hi = min(lo, x-reach/m.inv[i]), max(hi, x+reach/m.inv[i])
	}
	for range 50 {
		mid := (lo + hi) / 2
		if m.below(mid) < p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

func (m *mixture) expected(c *channel) Expected {
	nan := math.NaN()
	e := Expected{nan, nan, nan, nan, m.cannot / (m.cannot + m.sum)}
	switch {
	case m.sum <= 0:
	case c.YesNo:
		e.Yes = 0
		for i, q := range m.f {
			e.Yes += m.w[i] * q / m.sum
		}
	default:
		e.Low = c.scale.y(m.quantile(0.025))
		e.Middle = c.scale.y(m.quantile(0.5))
		e.High = c.scale.y(m.quantile(0.975))
	}
	return e
}
