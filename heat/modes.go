package heat

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// modes is a system with the slopes of its powers put in, taken apart into
// modes that don't touch each other. With C the capacities, G' the
// conductances less the slopes and the nodes without capacity eliminated
// (index r),
//
//	C^-½ Gr C^-½ = V Λ Vᵀ,   a = Vᵀ C^½ T,   da/dt = -Λ a + Vᵀ C^-½ (qr + Br u)
//
// with q the constant powers and u the given temperatures. As the matrix is
// symmetric all rates Λ are real: no thermal network of this kind rings.
type modes struct {
	slope  []float64 // W/K by node, what these modes were made for
	rate   []float64 // Λ, 1/s, rising
	in     *mat.Dense
	out    *mat.Dense // node temperatures from a
	direct *mat.Dense // node temperatures from the n powers and m given temperatures, at once
	start  *mat.Dense // a from node temperatures
}

func sameSlopes(slope []float64, powers []Power) bool {
	for i, p := range powers {
		if slope[i] != p.WPerK {
			return false
		}
	}
	return true
}

// newModes returns false where a node without capacity runs away: at once.
func (s *System) newModes(powers []Power) (*modes, bool) {
	n, m := len(s.names), len(s.given)
	nc, nz := len(s.storing), len(s.instant)
	md := &modes{slope: make([]float64, n), rate: make([]float64, nc), direct: mat.NewDense(n, n+m, nil)}
	g := append([]float64(nil), s.g...)
	for i, p := range powers {
		md.slope[i] = p.WPerK
		g[i*n+i] -= p.WPerK
	}

	// follow[z] holds what the z-th instant node's temperature is made of:
	// storing nodes, then powers, then given temperatures.
	follow := make([][]float64, nz)
	if nz > 0 {
		gzz := make([]float64, nz*nz)
		for y, i := range s.instant {
			for z, j := range s.instant {
				gzz[y*nz+z] = g[i*n+j]
			}
			follow[y] = make([]float64, nc+n+m)
		}
		if !factor(gzz, nz) {
			return nil, false
		}
		column := make([]float64, nz)
		for c := range nc + n + m {
			for y, i := range s.instant {
				switch {
				case c < nc:
					column[y] = -g[i*n+s.storing[c]]
				case c < nc+n:
					column[y] = 0
					if c-nc == i {
						column[y] = 1
					}
				default:
					column[y] = s.b[i*m+c-nc-n]
				}
			}
			solve(gzz, nz, column)
			for y := range follow {
				follow[y][c] = column[y]
			}
		}
		for y, i := range s.instant {
			copy(md.direct.RawRowView(i), follow[y][nc:])
		}
	}
	if nc == 0 {
		return md, true
	}

	reduced := mat.NewSymDense(nc, nil)
	force := mat.NewDense(nc, n+m, nil) // heat into storing nodes from powers and given temperatures
	for a, i := range s.storing {
		force.Set(a, i, 1)
		for k := range m {
			force.Set(a, n+k, s.b[i*m+k])
		}
		for c := range n + m {
			x := force.At(a, c)
			for y, j := range s.instant {
				x -= g[i*n+j] * follow[y][nc+c]
			}
			force.Set(a, c, x)
		}
		for b := a; b < nc; b++ {
			x := g[i*n+s.storing[b]]
			for y, j := range s.instant {
				x += g[i*n+j] * follow[y][b]
			}
			reduced.SetSym(a, b, x/math.Sqrt(s.capacity[i]*s.capacity[s.storing[b]]))
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(reduced, true) {
		return nil, false // the iteration for a symmetric matrix of finite figures comes to rest
	}
	eig.Values(md.rate)
	var v mat.Dense
	eig.VectorsTo(&v)

	md.start, md.in, md.out = mat.NewDense(nc, n, nil), mat.NewDense(nc, n+m, nil), mat.NewDense(n, nc, nil)
	for a, i := range s.storing {
		root := math.Sqrt(s.capacity[i])
		for k := range nc {
			md.start.Set(k, i, v.At(a, k)*root)
			md.out.Set(i, k, v.At(a, k)/root)
		}
		for c := range n + m {
			force.Set(a, c, force.At(a, c)/root)
		}
	}
	md.in.Mul(v.T(), force)
	for y, i := range s.instant {
		for k := range nc {
			x := 0.0
			for a, j := range s.storing {
				x += follow[y][a] * md.out.At(j, k)
			}
			md.out.Set(i, k, x)
		}
	}
	return md, true
}

// rise returns the integral of exp(-rate s) over s from 0 to t, in s:
// (1 - exp(-rate t))/rate, and t where rate is 0.
func rise(rate, t float64) float64 {
	x := rate * t
	if math.Abs(x) < 1e-9 {
		return t * (1 - x/2)
	}
	return -math.Expm1(-x) / rate
}

// both returns the integral of exp(-p (t-s)) exp(-q s) over s from 0 to t:
// what a mode of rate p makes of a given temperature of rate q.
func both(p, q, t float64) float64 {
	low := min(p, q)
	return math.Exp(-low*t) * rise(max(p, q)-low, t)
}
