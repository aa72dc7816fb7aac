// Package spark answers what a car's ignition gives its plugs.
package spark
