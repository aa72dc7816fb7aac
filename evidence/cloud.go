package evidence

import (
	"math"
	"slices"
)

// A cloud is the draws of one hypothesis as a density over all readings at once:
// a Gaussian kernel about each draw, all of one covariance.
type cloud struct {
	n int       // draws
	f []float64 // f[c·n+k]: centre of draw k's kernel in channel c (z, or the probability of a yes); NaN: cannot be had
	p []float64 // p[c·C+d]: covariance of the kernel
}

// kernelShare is the kernel's share of the variance among n draws: Silverman's
// bandwidth squared for figures that d independent causes move, d being 3.
// (Silverman 1986, Density Estimation, equation 4.14.)
func kernelShare(n int) float64 {
	const d = 3
	return math.Min(0.9, math.Pow(4/((d+2)*float64(n)), 2/(d+4.0)))
}

// newCloud scales draws and finds the kernel.
//
// The kernel has the shape of the draws' own covariance, so that two readings
// that go together still go together: the difference between two voltages stays
// as sharp as the draws have it. Centres are drawn in towards their mean by
// √(1-h²), so that kernels and centres together spread as the draws did (West
// 1993, Journal of the Royal Statistical Society B 55, 409). Where a channel's
// draws fall into separate heaps, mean and spread are each heap's own: draws
// that read 0 or 12 V do not make 6 V likely.
func newCloud(channels []channel, draws [][]float64) *cloud {
	n, nc := len(draws), len(channels)
	cl := &cloud{n: n, f: make([]float64, nc*n), p: make([]float64, nc*nc)}
	res := make([]float64, nc*n) // what is left after the heap's mean, scaled to unit weight
	share := kernelShare(n)
	in := math.Sqrt(1 - share)
	order := make([]int, 0, n)
	moving := make([]int, 0, nc)
	for c := range channels {
		f := cl.f[c*n : (c+1)*n]
		order = order[:0]
		for k := range f {
			x := draws[k][c]
			if !channels[c].YesNo {
				x = channels[c].scale.z(x)
			}
			f[k] = x
			if !math.IsNaN(x) {
				order = append(order, k)
			}
		}
		if channels[c].YesNo || len(order) < 2 {
			continue
		}
		r := res[c*n : (c+1)*n]
		heaps := spreadInHeaps(f, order, r)
		free := len(order) - heaps
		sum := 0.0
		for _, k := range order {
			sum += r[k] * r[k]
		}
		if free < 1 || sum <= 1e-12*float64(free) {
			clear(r)
			continue
		}
		unit := 1 / math.Sqrt(float64(free))
		for _, k := range order {
			f[k] -= (1 - in) * r[k]
			r[k] *= unit
		}
		moving = append(moving, c)
	}
	for i, c := range moving {
		rc := res[c*n : (c+1)*n]
		for _, d := range moving[:i+1] {
			rd := res[d*n : (d+1)*n]
			sum := 0.0
			for k, x := range rc {
				sum += x * rd[k]
			}
			cl.p[c*nc+d] = sum
		}
	}
	for i, c := range moving {
		for _, d := range moving[:i] {
			v := cl.p[c*nc+d]
			rho := v / math.Sqrt(cl.p[c*nc+c]*cl.p[d*nc+d])
			v *= share * trust(rho, n)
			cl.p[c*nc+d], cl.p[d*nc+c] = v, v
		}
	}
	for _, c := range moving {
		cl.p[c*nc+c] *= share
	}
	return cl
}

// trust is by how much a correlation found among n draws is to be believed: its
// square less the variance that chance gives it, (1-ρ²)²/n, over its square.
func trust(rho float64, n int) float64 {
	r2 := rho * rho
	if r2 >= 1 {
		return 1
	}
	if r2 == 0 {
		return 0
	}
	return math.Max(0, 1-(1-r2)*(1-r2)/(float64(n)*r2))
}

// spreadInHeaps writes into r what each draw in order is away from the mean of
// its heap, and returns the number of heaps. A heap ends at a gap more than 2.5
// times the widest that evenly strewn draws would leave (its expectation is
// about (ln n + 0.58)/n of the range), 5 times where that cuts off fewer than
// four draws: those may be the tail of the rest.
func spreadInHeaps(f []float64, order []int, r []float64) int {
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case f[a] < f[b]:
			return -1
		case f[a] > f[b]:
			return 1
		}
		return a - b
	})
	n := len(order)
	widest := (f[order[n-1]] - f[order[0]]) * (math.Log(float64(n)) + 0.58) / float64(n)
	heaps, from := 0, 0
	for i := 1; i <= n; i++ {
		if i < n {
			gap := 2.5 * widest
			if min(i-from, n-i) < 4 {
				gap *= 2
			}
			if f[order[i]]-f[order[i-1]] <= gap {
				continue
			}
		}
		mean := 0.0
		for _, k := range order[from:i] {
			mean += f[k]
		}
		mean /= float64(i - from)
		for _, k := range order[from:i] {
			r[k] = f[k] - mean
		}
		heaps++
		from = i
	}
	return heaps
}
