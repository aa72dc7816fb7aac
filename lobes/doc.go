// Package lobes takes a run of a distributor on a degree wheel or under a
// stroboscope apart: lobes, shaft, bushing, scatter.
package lobes
