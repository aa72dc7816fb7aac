// Package evidence diagnoses from weighted draws: hypotheses, what each predicts
// for every reading, the readings taken, and which to take next.
package evidence
