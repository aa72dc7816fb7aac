// Package measure is what can be read, looked at and asked of a car.
package measure
