// Package fault is what goes wrong with a car's ignition, as changes of the
// figures of package car.
package fault
