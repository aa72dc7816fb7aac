package evidence

import "math"

// A noise is the law of instrument errors: density and distribution of an error
// in standard deviations (Gaussian), or of Student's t scaled to the same 95 %
// half-width.
type noise struct {
	df    float64 // 0 is Gaussian
	scale float64 // x·scale is the argument of the standard law
	norm  float64 // density at 0
	table []float64
}

// The table of the distribution reaches from -reach to reach in steps of 1/steps.
const (
	reach = 6.0
	steps = 256
)

func newNoise(df float64) noise {
	n := noise{df: df, scale: 1, norm: 1 / math.Sqrt(2*math.Pi)}
	if df > 0 {
		a, _ := math.Lgamma((df + 1) / 2)
		b, _ := math.Lgamma(df / 2)
		n.norm = math.Exp(a-b) / math.Sqrt(df*math.Pi)
		lo, hi := half95, 5.0
		for range 60 {
			mid := (lo + hi) / 2
			if simpson(n.density, 0, mid) < 0.475 {
				lo = mid
			} else {
				hi = mid
			}
		}
		n.scale = lo / half95
		n.norm *= n.scale
	}
	size := int(2*reach*steps) + 2
	n.table = make([]float64, size)
	for i := range n.table {
		x := -reach + float64(i)/steps
		if df == 0 {
			n.table[i] = math.Erfc(-x/math.Sqrt2) / 2
		} else {
			n.table[i] = 0.5 + simpson(n.density, 0, x)
		}
	}
	return n
}

func simpson(f func(float64) float64, a, b float64) float64 {
	const n = 64
	h := (b - a) / n
	sum := f(a) + f(b)
	for i := 1; i < n; i++ {
		sum += f(a+float64(i)*h) * float64(2+2*(i&1))
	}
	return sum * h / 3
}

// density of an error of x.
func (n *noise) density(x float64) float64 {
	if n.df == 0 {
		return n.norm * math.Exp(-x*x/2)
	}
	x *= n.scale
	return n.norm * math.Exp(-(n.df+1)/2*math.Log1p(x*x/n.df))
}

// below is the chance of an error below x, to 2e-6 for a Gaussian.
func (n *noise) below(x float64) float64 {
	i := (x + reach) * steps
	if !(i > 0) {
		return 0
	}
	if i >= 2*reach*steps {
		return 1
	}
	j := int(i)
	t := i - float64(j)
	return n.table[j] + t*(n.table[j+1]-n.table[j])
}

// pull is how much of a Gaussian's weight an error of x has when it moves an
// estimate: 1 for a Gaussian, falling for a t.
func (n *noise) pull(x float64) float64 {
	if n.df == 0 {
		return 1
	}
	x *= n.scale
	return math.Min(1, (n.df+1)/(n.df+x*x))
}
