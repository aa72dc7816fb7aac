//go:build race

package distributor

const raceDetector = true
