// Package advance is the centrifugal and the vacuum advance of a distributor:
// what they give, and backwards what springs gave it and which to fit.
package advance
