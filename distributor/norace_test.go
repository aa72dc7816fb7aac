//go:build !race

package distributor

const raceDetector = false
