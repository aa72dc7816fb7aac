//go:build race

package evidence

// fewer divides the number of synthetic cases: the race detector makes
// everything several times slower, and this package starts no goroutine.
const fewer = 12
