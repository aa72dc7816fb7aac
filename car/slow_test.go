//go:build !race

package car

// slower is how much longer code may take without the race detector.
const slower = 1
