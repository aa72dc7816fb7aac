package evidence

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// A linear world: figures θ ~ N(0, I), channel c predicts Σ load[c][j] θ[j]
// (+ what a hypothesis adds), read with standard deviation 1. In such a world
// everything has a closed form.
type linear struct {
	load [][]float64
}

func newLinear(rng *rand.Rand, channels, causes int, spread float64) linear {
	l := linear{}
	for range channels {
		row := make([]float64, causes)
		for j := range row {
			row[j] = spread * rng.NormFloat64()
		}
		l.load = append(l.load, row)
	}
	return l
}

func (l linear) channels() []Channel {
	var out []Channel
	for c := range l.load {
		out = append(out, Channel{ID: fmt.Sprint("c", c), Abs: half95, Low: -50, High: 50, Minutes: 1, SlipProb: 1e-9, SlipFactors: []float64{}})
	}
	return out
}

func (l linear) car(rng *rand.Rand) []float64 {
	theta := make([]float64, len(l.load[0]))
	for j := range theta {
		theta[j] = rng.NormFloat64()
	}
	out := make([]float64, len(l.load))
	for c := range out {
		for j, t := range theta {
			out[c] += l.load[c][j] * t
		}
	}
	return out
}

func (l linear) draws(rng *rand.Rand, n int) [][]float64 {
	var out [][]float64
	for range n {
		out = append(out, l.car(rng))
	}
	return out
}

// exact conditions the Gaussian of all channels on readings of the first n: log
// density of these, and mean and standard deviation of channel `of` when read.
func (l linear) exact(y []float64, n, of int) (logp, mean, sd float64) {
	nc := len(l.load)
	cov := make([][]float64, nc)
	mu := make([]float64, nc)
	for a := range cov {
		cov[a] = make([]float64, nc)
		for b := range cov[a] {
			for j := range l.load[a] {
				cov[a][b] += l.load[a][j] * l.load[b][j]
			}
		}
	}
	for i := range n {
		s2 := cov[i][i] + 1
		d := y[i] - mu[i]
		logp -= d*d/(2*s2) + 0.5*math.Log(2*math.Pi*s2)
		row := append([]float64(nil), cov[i]...)
		for a := range nc {
			mu[a] += row[a] * d / s2
			for b := range nc {
				cov[a][b] -= row[a] * row[b] / s2
			}
		}
	}
	return logp, mu[of], math.Sqrt(cov[of][of] + 1)
}

// alone is a model of one healthy hypothesis with these draws.
func alone(ch []Channel, draws [][]float64) Model {
	return Model{Channels: ch, Healthy: "h", Unknown: Unknown{LogPrior: -40},
		Hypotheses: []Hypothesis{{ID: "h", Draws: draws}}}
}

// Weighted draws with their kernel against the conjugate Gaussian posterior
// (Lindley & Smith 1972): log evidence and the prediction of what is left to
// read, over many sets of 48 draws.
func TestConjugateGaussian(t *testing.T) {
	for _, x := range []struct {
		causes, readings     int
		spread               float64
		bias, rms, mean, wid float64 // limits: log evidence, mean in true sd, width ratio
	}{
		{1, 1, 5, 0.06, 0.25, 0.35, 0.25},
		{2, 2, 4, 0.15, 0.5, 0.35, 0.25},
		{3, 4, 3, 0.35, 1.4, 0.5, 0.3},
		{3, 6, 0.3, 0.1, 0.4, 0.3, 0.1},
	} {
		rng := rand.New(rand.NewPCG(uint64(x.causes), 7))
		var bias, sq, off, wide float64
		const runs = 300
		for range runs {
			l := newLinear(rng, x.readings+1, x.causes, x.spread)
			y := l.car(rng)
			for i := range y {
				y[i] += rng.NormFloat64()
			}
			c := must(Prepare(alone(l.channels(), l.draws(rng, 48)))).Open()
			for i := range x.readings {
				if err := c.Take(Reading{Channel: fmt.Sprint("c", i), Value: y[i]}); err != nil {
					t.Fatal(err)
				}
			}
			got := 0.0
			for _, k := range c.taken {
				got += k.gain[0] - math.Log(1-couldNotAnyway)
			}
			logp, mean, sd := l.exact(y, x.readings, x.readings)
			e := must(c.Expect(fmt.Sprint("c", x.readings), "h"))
			bias += (got - logp) / runs
			sq += (got - logp) * (got - logp) / runs
			off += math.Pow((e.Middle-mean)/sd, 2) / runs
			wide += math.Log((e.High-e.Low)/(2*half95*sd)) / runs
		}
		t.Logf("causes %d, readings %d, spread %g: log evidence %+.3f ± %.3f, middle off by %.2f sd, width × %.2f",
			x.causes, x.readings, x.spread, bias, math.Sqrt(sq), math.Sqrt(off), math.Exp(wide))
		if math.Abs(bias) > x.bias || math.Sqrt(sq) > x.rms || math.Sqrt(off) > x.mean || math.Abs(wide) > x.wid {
			t.Errorf("further off than %+v", x)
		}
	}
}

// One reading, two hypotheses without spread: the posterior odds are the ratio
// of two Gaussian densities.
func twoPoints(sd, apart float64, prior float64) Model {
	return Model{
		Channels: []Channel{{ID: "y", Abs: half95 * sd, Low: -10, High: 10, Minutes: 2, SlipProb: 1e-9, SlipFactors: []float64{}}},
		Healthy:  "h", Unknown: Unknown{LogPrior: -60},
		Remedies: []Remedy{{"r", 10}},
		Hypotheses: []Hypothesis{
			{ID: "h", LogPrior: math.Log(1 - prior), Draws: [][]float64{{0}}},
			{ID: "f", Remedy: "r", LogPrior: math.Log(prior), Draws: [][]float64{{apart}}},
		},
	}
}

func TestTwoGaussiansOdds(t *testing.T) {
	for _, y := range []float64{-0.4, 0, 0.3, 0.9, 1.7} {
		const sd, apart, prior = 0.5, 1.2, 0.2
		c := must(Prepare(twoPoints(sd, apart, prior))).Open()
		if err := c.Take(Reading{Channel: "y", Value: y}); err != nil {
			t.Fatal(err)
		}
		want := math.Log(prior/(1-prior)) + (y*y-(y-apart)*(y-apart))/(2*sd*sd)
		if got := c.lp[1] - c.lp[0]; math.Abs(got-want) > 1e-4 {
			t.Errorf("log odds at %g: %.6f, want %.6f", y, got, want)
		}
		w := must(c.Why("f", Situation{}))
		if got := w.StartVsHealthy + w.Reasons[0].VsHealthy; math.Abs(got-want*deciban) > 1e-3 {
			t.Errorf("decibans at %g: %.4f, want %.4f", y, got, want*deciban)
		}
	}
}

// mutual is the information between a two-valued cause and a reading, in bits,
// by a fine trapezium rule over the densities.
func mutual(prior float64, p0, p1 func(float64) float64, lo, hi float64) float64 {
	const n = 40000
	sum := 0.0
	for i := range n {
		y := lo + (hi-lo)*(float64(i)+0.5)/n
		a, b := (1-prior)*p0(y), prior*p1(y)
		if a > 0 {
			sum += a * math.Log2(a/(1-prior)/(a+b))
		}
		if b > 0 {
			sum += b * math.Log2(b/prior/(a+b))
		}
	}
	return sum * (hi - lo) / n
}

func normal(mu, sd float64) func(float64) float64 {
	return func(y float64) float64 {
		d := (y - mu) / sd
		return math.Exp(-d*d/2) / (sd * math.Sqrt(2*math.Pi))
	}
}

func TestMutualInformation(t *testing.T) {
	for _, x := range []struct{ sd, apart, prior float64 }{
		{0.5, 0.2, 0.5}, {0.5, 0.5, 0.1}, {0.5, 1, 0.5}, {0.5, 2, 0.3}, {0.5, 5, 0.02}, {0.05, 1, 0.5}, {3, 1, 0.5},
	} {
		c := must(Prepare(twoPoints(x.sd, x.apart, x.prior))).Open()
		r := must(c.Next(Situation{})).Ranked[0]
		want := (1 - couldNotAnyway) * mutual(x.prior, normal(0, x.sd), normal(x.apart, x.sd), -8*x.sd, x.apart+8*x.sd)
		t.Logf("%+v: %.5f bits (up to %.5f more), by quadrature %.5f", x, r.Bits, r.BitsErr, want)
		if r.Bits > want+1e-4 || r.Bits+r.BitsErr < want-1e-4 || math.Abs(r.Bits-want) > 0.02*want+1e-4 {
			t.Errorf("%+v: %.5f + %.5f bits, want %.5f", x, r.Bits, r.BitsErr, want)
		}
	}
}

// With spread in the hypotheses: what 48 draws and their kernel make of it,
// against the exact densities.
func TestMutualInformationFromDraws(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, x := range []struct{ mu, s0, s1, prior float64 }{{0, 3, 10, 0.3}, {8, 3, 3, 0.5}, {20, 5, 5, 0.1}} {
		sum, worst := 0.0, 0.0
		const runs = 60 / fewer
		p := func(mu, s float64) func(float64) float64 { return normal(mu, math.Hypot(s, 1)) }
		want := (1 - couldNotAnyway) * mutual(x.prior, p(0, x.s0), p(x.mu, x.s1), -80, 100)
		for range runs {
			m := twoPoints(1, x.mu, x.prior)
			m.Channels[0].Low, m.Channels[0].High = -50, 50
			m.Hypotheses[0].Draws, m.Hypotheses[1].Draws = nil, nil
			for range 48 {
				m.Hypotheses[0].Draws = append(m.Hypotheses[0].Draws, []float64{x.s0 * rng.NormFloat64()})
				m.Hypotheses[1].Draws = append(m.Hypotheses[1].Draws, []float64{x.mu + x.s1*rng.NormFloat64()})
			}
			r := must(must(Prepare(m)).Open().Next(Situation{})).Ranked[0]
			sum += r.Bits / runs
			worst = math.Max(worst, math.Abs(r.Bits-want))
		}
		t.Logf("%+v: %.4f bits on average, exact %.4f, worst set of draws off by %.4f", x, sum, want, worst)
		if math.Abs(sum-want) > 0.1*want+0.005 || worst > 0.4*want+0.02 {
			t.Errorf("%+v: %.4f bits, want %.4f; worst off by %.4f", x, sum, want, worst)
		}
	}
}

// Student's t: density, distribution and half-width against tables (Fisher &
// Yates: t at 97.5 % is 2.776 for 4 degrees of freedom, 2.228 for 10).
func TestNoise(t *testing.T) {
	for _, x := range []struct{ df, t975 float64 }{{4, 2.7764}, {10, 2.2281}} {
		n := newNoise(x.df)
		if math.Abs(n.scale*half95-x.t975) > 2e-4 {
			t.Errorf("t of %g degrees: 97.5 %% at %.4f, want %.4f", x.df, n.scale*half95, x.t975)
		}
	}
	for _, df := range []float64{0, 2, 4, 30} {
		n := newNoise(df)
		if p := n.below(half95); math.Abs(p-0.975) > 1e-4 {
			t.Errorf("df %g: %.6f below the half-width, want 0.975", df, p)
		}
		for x := -5.0; x < 5; x += 0.37 {
			slope := (n.below(x+0.01) - n.below(x-0.01)) / 0.02
			if math.Abs(slope-n.density(x)) > 1e-3 {
				t.Errorf("df %g: density %.5f at %g, slope of the distribution %.5f", df, n.density(x), x, slope)
			}
		}
	}
}

func TestScale(t *testing.T) {
	for _, c := range []Channel{{Abs: 0.02, Rel: 0.005, Low: 0, High: 15}, {Abs: 0.1, Low: -3, High: 3}, {Abs: 0.05, Rel: 0.05, Low: 0, High: 1e6}} {
		s := c.scale()
		for _, y := range []float64{-2.5, -0.01, 0, 0.3, 2.9} {
			if got := s.y(s.free(y)); math.Abs(got-y) > 1e-12*(1+math.Abs(y)) {
				t.Errorf("%+v: %g comes back as %g", c, y, got)
			}
			h := 1e-6 * (1 + math.Abs(y))
			slope := (s.free(y+h) - s.free(y-h)) / (2 * h)
			if math.Abs(slope*s.sd(y)-1) > 1e-4 {
				t.Errorf("%+v: at %g a standard deviation is %.6f wide, want 1", c, y, slope*s.sd(y))
			}
		}
		if z := s.z(math.Inf(1)); z != s.top {
			t.Errorf("an open circuit is at %g, want %g", z, s.top)
		}
	}
}
