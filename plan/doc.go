// Package plan compares the ways to feed and protect a trigger and a coil on
// one car. Every way is a proof sheet worked out in every condition; they are
// ranked by how many critical cells fall short, then by how many are doubtful,
// then by how many other cells fall short, then by the margin of the critical
// cell that has least. What falls short whichever is chosen (a weak generator,
// a thin main feed) is set apart and does not rank.
//
// Plans are predictions: readings were taken with the car wired some other
// way and are left out, so that the best a choice can come to is "not yet
// proven".
//
// For the best choice with a trigger the package works out what to cut: gauge
// by voltage drop, temperature and strength, fuse by current and wire, ends
// and cautions.
package plan
