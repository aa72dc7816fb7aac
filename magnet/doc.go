// Package magnet is the magnetics of a trigger inside a distributor.
package magnet
