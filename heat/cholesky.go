package heat

import "math"

// factor replaces the lower half of the symmetric matrix a (n rows, row after
// row) by its Cholesky factor and reports whether a is positive definite: to
// within rounding, whether each pivot leaves something of its diagonal.
func factor(a []float64, n int) bool {
	const rounding = 1e-12
	for i := range n {
		for j := range i {
			x := a[i*n+j]
			for k := range j {
				x -= a[i*n+k] * a[j*n+k]
			}
			a[i*n+j] = x / a[j*n+j]
		}
		x := a[i*n+i]
		least := rounding * math.Abs(x)
		for k := range i {
			x -= a[i*n+k] * a[i*n+k]
		}
		if !(x > least) {
			return false
		}
		a[i*n+i] = math.Sqrt(x)
	}
	return true
}

// solve replaces b by the solution of a x = b, a as factor left it.
func solve(a []float64, n int, b []float64) {
	for i := range n {
		for k := range i {
			b[i] -= a[i*n+k] * b[k]
		}
		b[i] /= a[i*n+i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			b[i] -= a[k*n+i] * b[k]
		}
		b[i] /= a[i*n+i]
	}
}
