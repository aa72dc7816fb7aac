//go:build race

package car

// slower is how much longer code may take under the race detector.
const slower = 10
