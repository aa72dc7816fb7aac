package evidence

import (
	"math"
	"slices"
)

// A cloud is the draws of one hypothesis as a density over all readings at once:
// a Gaussian kernel about each draw, all of one correlation.
type cloud struct {
	n int       // draws
	f []float64 // f[c·n+k]: centre of draw k's kernel in channel c (z, or the probability of a yes); NaN: cannot be had
	d []float64 // d[c·n+k]: standard deviation of the kernel, before any reading; 0 for a yes or no
	v []float64 // v[c]: 1 where kernels have a width, else 0
	p []float64 // p[half(c, d)]: correlation of the kernel in two channels
}

// half is where a symmetric matrix, of which the half below the diagonal is kept,
// has row a and column b, which are not one.
func half(a, b int) int {
	if a < b {
		a, b = b, a
	}
	return a*(a-1)/2 + b
}

// emptyCloud has room for n draws of nc channels.
func emptyCloud(n, nc int) *cloud {
	return &cloud{n: n, f: make([]float64, nc*n), d: make([]float64, nc*n), v: make([]float64, nc), p: make([]float64, nc*(nc-1)/2)}
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
// The kernel has the shape of the draws' own correlation, so that two readings
// that go together still go together: the difference between two voltages stays
// as sharp as the draws have it. It is narrower where draws are much denser than
// Gaussian ones would be: draws of which half are as good as healthy and the rest
// are strewn over two decades keep their dense half.
// Centres are drawn in towards their mean, so that kernels and centres together
// spread as the draws did (West 1993, Journal of the Royal Statistical Society B
// 55, 409). Where a channel's draws fall into separate heaps, mean and spread are
// each heap's own: draws that read 0 or 12 V do not make 6 V likely.
func newCloud(channels []channel, draws [][]float64, cars []int, common *base) *cloud {
	if common != nil {
		return common.cloud(channels, draws, cars)
	}
	n, nc := len(draws), len(channels)
	cl := emptyCloud(n, nc)
	res := make([]float64, nc*n) // what is left after the heap's mean, in local widths
	share := kernelShare(n)
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
		r, width := res[c*n:(c+1)*n], cl.d[c*n:(c+1)*n]
		heaps := spreadInHeaps(f, order, r, width)
		if !drawIn(f, r, width, order, heaps, share) {
			clear(r)
			clear(width)
			continue
		}
		moving = append(moving, c)
	}
	sum2 := make([]float64, nc)
	for i, c := range moving {
		cl.v[c], sum2[c] = 1, product(res, n, c, c)
		for _, d := range moving[:i] {
			rho := product(res, n, c, d) / math.Sqrt(sum2[c]*sum2[d])
			cl.p[half(c, d)] = rho * trust(rho, n)
		}
	}
	return cl
}

// product is the sum over n draws of channel c of x times channel d.
func product(x []float64, n, c, d int) float64 {
	sum, xd := 0.0, x[d*n:(d+1)*n]
	for k, v := range x[c*n : (c+1)*n] {
		sum += v * xd[k]
	}
	return sum
}

// drawIn makes kernel widths of local spreads, draws f in and scales r to local
// widths. It tells whether there is any spread.
//
// With s the standard deviation, r the distance from the heap's mean, λ the local
// width relative to s (at most 1) and h² the kernel's share of the variance, the
// kernel's standard deviation is hsλ and the centre moves by βλ²r, where β makes
// the sum of the squares come out: Σr²(1-βλ²)² = Σr² - Σ(hsλ)².
func drawIn(f, r, width []float64, order []int, heaps int, share float64) bool {
	n := float64(len(order))
	a := 0.0
	for _, k := range order {
		a += r[k] * r[k]
	}
	free := len(order) - heaps
	if free < 1 || a <= 1e-12*n {
		return false
	}
	sd := math.Sqrt(a / float64(free))
	var b, c, mean float64
	for _, k := range order {
		width[k] = min(1, width[k]/sd)
		l2 := width[k] * width[k]
		mean += l2 / n
		b += r[k] * r[k] * l2
		c += r[k] * r[k] * l2 * l2
	}
	if mean <= 0 {
		return false
	}
	beta := 0.0
	if c > 0 {
		beta = b / c
		if det := b*b - c*share*mean*a; det > 0 {
			beta = (b - math.Sqrt(det)) / c
		}
	}
	for _, k := range order {
		l := width[k]
		f[k] -= min(1, beta*l*l) * r[k]
		width[k] = l * sd * math.Sqrt(share)
		r[k] /= max(l, 0.02)
	}
	return true
}

// localWidths writes, for each draw of a heap given in rising order, the standard
// deviation of a Gaussian that would be as dense at its middle as the draws are
// about this one, doubled since a few neighbours tell it only roughly:
// Gaussian draws all come out at their own standard deviation or beyond.
func localWidths(f []float64, heap []int, width []float64) {
	m := max(2, int(math.Round(math.Sqrt(float64(len(heap))))))
	for j, k := range heap {
		lo, hi := max(0, j-m), min(len(heap)-1, j+m)
		if hi > lo {
			spacing := (f[heap[hi]] - f[heap[lo]]) / float64(hi-lo)
			width[k] = 2 * spacing * float64(len(heap)) / math.Sqrt(2*math.Pi)
		}
	}
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
// its heap and how wide the heap is about it, and returns the number of heaps. A heap ends at a gap more than 2.5
// times the widest that evenly strewn draws would leave (its expectation is
// about (ln n + 0.58)/n of the range), 5 times where that cuts off fewer than
// four draws: those may be the tail of the rest.
func spreadInHeaps(f []float64, order []int, r, width []float64) int {
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
		localWidths(f, order[from:i], width)
		heaps++
		from = i
	}
	return heaps
}
