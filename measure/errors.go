package measure

import (
	"fmt"
	"strings"
)

// UnknownError is an id of no measure.
type UnknownError struct{ ID string }

func (e *UnknownError) Error() string {
	id := e.ID
	if len(id) > 60 {
		id = id[:60] + "…"
	}
	s := fmt.Sprintf("no measure %q", id)
	if near := nearest(e.ID); near != "" {
		s += fmt.Sprintf(" (did you mean %q)", near)
	}
	return s + "; accepted: one of the ids of measure.IDs"
}

// LacksError is a measure that a car cannot have.
type LacksError struct{ ID, Why string }

func (e *LacksError) Error() string { return fmt.Sprintf("measure %q: %s", e.ID, e.Why) }

// UnsolvedError is a state of the drawn car that has no solution, such as a
// relay that chatters: what is read in it is NaN.
type UnsolvedError struct {
	State string
	Err   error
}

func (e *UnsolvedError) Error() string { return fmt.Sprintf("%s: %v", e.State, e.Err) }

func (e *UnsolvedError) Unwrap() error { return e.Err }

// nearest is the id that shares the most words with one that is not there.
func nearest(id string) string {
	best, most := "", 0
	words := strings.Split(strings.ToLower(id), "_")
	if len(words) > 12 {
		words = words[:12]
	}
	for i := range table {
		n := 0
		for _, w := range words {
			if len(w) > 2 && strings.Contains(table[i].ID, w) {
				n += len(w)
			}
		}
		if n > most {
			best, most = table[i].ID, n
		}
	}
	return best
}

func wordOf(words []string, i int) string {
	if i >= 0 && i < len(words) {
		return words[i]
	}
	return fmt.Sprintf("number %d", i)
}

func wordAt(what string, words []string, text string) (int, error) {
	for i, w := range words {
		if w == text {
			return i, nil
		}
	}
	return 0, fmt.Errorf("no %s %q; accepted: %s", what, text, strings.Join(words, ", "))
}
