//go:build race

package fault_test

// thin is by how much tests do less where the race detector slows them.
const thin = 10
