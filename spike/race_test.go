//go:build race

package spike

// raceOn: the race detector makes everything several times slower, so fewer
// cars are tried.
const raceOn = true
