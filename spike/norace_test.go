//go:build !race

package spike

const raceOn = false
