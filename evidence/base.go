package evidence

import "math"

// A base is what many cars in order show: a Gaussian over all readings at once.
// Where a model has [Model.Common], what differs from car to car is taken from it
// for every hypothesis alike, and a hypothesis's own draws only say what its
// faults do to a car:
//
//	reading = middle car + shift of draw k + difference of this car from the middle one.
//
// Whatever a fault leaves alone then speaks neither for nor against it, exactly,
// however few draws there are.
type base struct {
	n   int       // cars
	z   []float64 // z[c·n+k]; NaN: cannot be had
	mid []float64 // mean of a figure in z, or of the probability of a yes
	sd  []float64 // 0 for a yes or no
	rho []float64 // rho[c·C+d]
}

// exact is the share of a correlation that is believed: readings that go together
// in a hundred or two of cars need not do so in all.
const exact = 0.95

// evenly divides the share of the variance that kernels have in what faults move:
// severities come in strata, evenly strewn, and what differs from car to car is
// not in it, so there is less room to fill than between draws left to chance. With
// a quarter, the places of a fault's severity in what is expected of it come out
// uniform, which they do not with all of it.
const evenly = 4

func newBase(channels []channel, draws [][]float64) *base {
	n, nc := len(draws), len(channels)
	if n < 2 {
		return nil
	}
	b := &base{n: n, z: make([]float64, nc*n), mid: make([]float64, nc), sd: make([]float64, nc), rho: make([]float64, nc*nc)}
	res := make([]float64, nc*n)
	for c := range channels {
		z, r := b.z[c*n:(c+1)*n], res[c*n:(c+1)*n]
		have, sum := 0, 0.0
		for k := range z {
			x := draws[k][c]
			if !channels[c].YesNo {
				x = channels[c].scale.z(x)
			}
			if z[k] = x; !math.IsNaN(x) {
				have++
				sum += x
			}
		}
		if have < n/2 {
			b.mid[c] = math.NaN()
			continue
		}
		b.mid[c] = sum / float64(have)
		b.rho[c*nc+c] = 1
		if channels[c].YesNo {
			continue
		}
		squares := 0.0
		for k, x := range z {
			if !math.IsNaN(x) {
				r[k] = x - b.mid[c]
				squares += r[k] * r[k]
			}
		}
		if squares <= 1e-12*float64(have) {
			continue
		}
		b.sd[c] = math.Sqrt(squares / float64(have-1))
		unit := 1 / math.Sqrt(squares)
		for k := range r {
			r[k] *= unit
		}
	}
	for c := range nc {
		for d := range c {
			if b.sd[c] == 0 || b.sd[d] == 0 {
				continue
			}
			sum := 0.0
			for k, x := range res[c*n : (c+1)*n] {
				sum += x * res[d*n+k]
			}
			sum *= exact
			b.rho[c*nc+d], b.rho[d*nc+c] = sum, sum
		}
	}
	return b
}

// carOf is the base car of draw k.
func carOf(cars []int, k int) int {
	if cars == nil {
		return k
	}
	return cars[k]
}

// moves tells whether a draw's figure is not that of the same car in order.
func moves(x, y float64) bool { return math.Abs(x-y) > 1e-6 }

// cloud makes the draws of a hypothesis, each being a car of the base with its
// faults, into kernels about the middle car as those faults shift it.
func (b *base) cloud(channels []channel, draws [][]float64, cars []int) *cloud {
	n, nc := len(draws), len(channels)
	own := make([]float64, n) // what the draws' cars show in order; NaN: not known
	cl := emptyCloud(n, nc)
	share := kernelShare(n) / evenly
	res := make([]float64, nc*n)   // what severity moves, in widths
	ofCar := make([]float64, nc)   // standard deviation from car to car that is left, on the average
	ofFault := make([]float64, nc) // kernel's standard deviation for what severity moves, on the average
	order := make([]int, 0, n)
	for c := range channels {
		f := cl.f[c*n : (c+1)*n]
		for k := range own {
			own[k] = math.NaN()
			if j := carOf(cars, k); j < b.n {
				own[k] = b.z[c*b.n+j]
			}
		}
		if channels[c].YesNo {
			b.chances(f, own, draws, c)
			continue
		}
		order = order[:0]
		for k := range f {
			f[k] = channels[c].scale.z(draws[k][c])
			if !math.IsNaN(f[k]) && (math.IsNaN(own[k]) || math.IsNaN(b.mid[c]) || moves(f[k], own[k])) {
				order = append(order, k)
			}
		}
		stays := 1.0
		if b.sd[c] == 0 {
			stays = 0
		} else if len(order) > 0 {
			stays = b.stays(f, own, order, c)
		}
		width, r := cl.d[c*n:(c+1)*n], res[c*n:(c+1)*n]
		moved := make([]bool, n)
		for _, k := range order {
			moved[k] = true
			if !math.IsNaN(own[k]) {
				f[k] -= stays * (own[k] - b.mid[c])
			}
		}
		if len(order) >= 2 {
			heaps := spreadInHeaps(f, order, r, width)
			if !drawIn(f, r, width, order, heaps, share) {
				clear(r)
				clear(width)
			}
		}
		figures := 0.0
		for k := range f {
			if math.IsNaN(f[k]) {
				continue
			}
			car := stays * b.sd[c]
			if !moved[k] {
				f[k], car, width[k], r[k] = b.mid[c], b.sd[c], 0, 0
			}
			ofCar[c] += car
			ofFault[c] += width[k] * width[k]
			width[k] = math.Sqrt(car*car + width[k]*width[k])
			figures++
		}
		if figures > 0 {
			ofCar[c] /= figures
			ofFault[c] = math.Sqrt(ofFault[c] / figures)
		}
	}
	b.together(cl, res, ofCar, ofFault)
	return cl
}

// together finds the correlation of the kernel: that from car to car, and that of
// what severity moves.
func (b *base) together(cl *cloud, res, ofCar, ofFault []float64) {
	n, nc := cl.n, len(ofCar)
	sum2 := make([]float64, nc)
	for c := range nc {
		sum2[c] = product(res, n, c, c)
	}
	for c := range nc {
		all := ofCar[c]*ofCar[c] + ofFault[c]*ofFault[c]
		if all <= 0 {
			continue
		}
		cl.v[c] = 1
		for d := range c {
			other := ofCar[d]*ofCar[d] + ofFault[d]*ofFault[d]
			if other <= 0 {
				continue
			}
			cov := b.rho[c*nc+d] * ofCar[c] * ofCar[d]
			if sum2[c] > 0 && sum2[d] > 0 {
				rho := product(res, n, c, d) / math.Sqrt(sum2[c]*sum2[d])
				cov += rho * trust(rho, n) * ofFault[c] * ofFault[d]
			}
			cl.p[half(c, d)] = cov / math.Sqrt(all*other)
		}
	}
}

// chances writes the chance of a yes: that of the middle car where a fault changes
// nothing, that of the draw where it does.
func (b *base) chances(f, own []float64, draws [][]float64, c int) {
	const plain = 0.1 // change of a chance that is the fault's doing alone
	for k := range f {
		f[k] = draws[k][c]
		if math.IsNaN(own[k]) || math.IsNaN(f[k]) || math.IsNaN(b.mid[c]) {
			continue
		}
		w := math.Min(1, math.Abs(f[k]-own[k])/plain)
		f[k] = w*f[k] + (1-w)*b.mid[c]
	}
}

// stays is how much of what differs from car to car is left in figures that a
// fault moves: all of it, unless the draws show otherwise. A dead feed is 0 V
// whatever the battery.
func (b *base) stays(f, own []float64, order []int, c int) float64 {
	var n, mx, my float64
	for _, k := range order {
		if !math.IsNaN(own[k]) {
			n++
			mx += own[k]
			my += f[k]
		}
	}
	if n < 4 {
		return 1
	}
	mx, my = mx/n, my/n
	var xx, xy, yy float64
	for _, k := range order {
		if !math.IsNaN(own[k]) {
			x, y := own[k]-mx, f[k]-my
			xx, xy, yy = xx+x*x, xy+x*y, yy+y*y
		}
	}
	if xx <= 0 {
		return 1
	}
	slope := xy / xx
	left := math.Max(yy-slope*xy, 0)
	stays := 1.0
	if math.Abs(slope-1) > 2*math.Sqrt(left/((n-2)*xx)) {
		stays = math.Min(math.Max(slope, 0), 1.5)
	}
	return math.Min(stays, math.Sqrt(yy/xx))
}
