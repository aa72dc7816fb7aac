package units

import (
	"math"
	"testing"
)

func TestLoHiSigma(t *testing.T) {
	for _, c := range []struct {
		v             Value
		lo, hi, sigma float64
	}{
		{Value{}, 0, 0, 0},
		{Value{X: 5}, 5, 5, 0},
		{Value{10, 1.96, Normal}, 8.04, 11.96, 1},
		{Value{10, 3, Uniform}, 7, 13, math.Sqrt(3)},
		// f = 2, s = ln 2/1.96 = 0.35365; mean 10.64533, sd 0.365006 of it (worked).
		{Value{10, 10, LogNormal}, 5, 20, 3.88561},
		{Value{0, 10, LogNormal}, 0, 0, 0},
	} {
		if lo, hi := c.v.Lo(), c.v.Hi(); math.Abs(lo-c.lo) > 1e-12 || math.Abs(hi-c.hi) > 1e-12 {
			t.Errorf("%+v: %v to %v, want %v to %v", c.v, lo, hi, c.lo, c.hi)
		}
		if s := c.v.Sigma(); math.Abs(s-c.sigma) > 1e-4*c.sigma {
			t.Errorf("%+v: sigma %v, want %v", c.v, s, c.sigma)
		}
	}
}

// Areas under the normal curve between the mean and z, as in any printed
// table: 0.5, 1, 1.96, 2.5, 3. Cut at 3, a draw at u = 1/2 + area/(2 × 0.49865)
// is z standard deviations up.
func TestSampleAgainstNormalTable(t *testing.T) {
	v := Value{100, z95, Normal} // sigma 1
	for _, c := range []struct{ z, area float64 }{
		{0, 0}, {0.5, 0.19146}, {1, 0.34134}, {1.96, 0.47500}, {2.5, 0.49379}, {3, 0.49865},
	} {
		for _, side := range []float64{-1, 1} {
			got := v.Sample(0.5 + side*c.area/(2*0.49865))
			if math.Abs(got-(100+side*c.z)) > 5e-3 {
				t.Errorf("z = %v: drew %v", side*c.z, got)
			}
		}
	}
}

// Draws spread evenly over (0,1) reproduce the moments of the distribution:
// the normal one, cut at 3, has 0.98658 of its standard deviation.
func TestSampleMoments(t *testing.T) {
	const n = 20000
	for _, c := range []struct {
		v        Value
		mean, sd float64
	}{
		{Value{7, 0, Exact}, 7, 0},
		{Value{7, 1.96, Normal}, 7, 0.98658},
		{Value{7, 2, Uniform}, 7, 2 / math.Sqrt(3)},
	} {
		var sum, sq float64
		for i := range n {
			x := c.v.Sample((float64(i) + 0.5) / n)
			sum += x
			sq += (x - c.mean) * (x - c.mean)
		}
		if mean, sd := sum/n, math.Sqrt(sq/n); math.Abs(mean-c.mean) > 1e-6 || math.Abs(sd-c.sd) > 1e-4 {
			t.Errorf("%+v: mean %v sd %v, want %v and %v", c.v, mean, sd, c.mean, c.sd)
		}
	}
	// The logarithm of a log-normal draw is a normal one.
	v := Value{10, 10, LogNormal}
	w := Value{math.Log(10), math.Ln2, Normal}
	for _, u := range []float64{0.001, 0.2, 0.5, 0.9, 0.999} {
		if got, want := math.Log(v.Sample(u)), w.Sample(u); math.Abs(got-want) > 1e-12 {
			t.Errorf("u = %v: ln %v, want %v", u, got, want)
		}
	}
}

func TestSampleEnds(t *testing.T) {
	for _, shape := range []Shape{Exact, Normal, Uniform, LogNormal, Shape(9)} {
		v := Value{10, 2, shape}
		if got := v.Sample(math.NaN()); got != 10 {
			t.Errorf("shape %d: u not a number gave %v", shape, got)
		}
		lo, hi := v.Sample(-5), v.Sample(5)
		if lo != v.Sample(0) || hi != v.Sample(1) || math.IsInf(lo, 0) || math.IsInf(hi, 0) || lo > 10 || hi < 10 {
			t.Errorf("shape %d: ends %v and %v", shape, lo, hi)
		}
	}
	sigma := 2 / z95
	if got := (Value{10, 2, Normal}).Sample(1); math.Abs(got-(10+3*sigma)) > 1e-9 {
		t.Errorf("upper cut at %v, want three standard deviations up, %v", got, 10+3*sigma)
	}
}
