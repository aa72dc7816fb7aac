//go:build race

package advance

const underRace = true
