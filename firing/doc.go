// Package firing
package firing
