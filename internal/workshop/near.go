package workshop

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// mostHints is how many near words an error names.
const mostHints = 3

// near are the ids that look like one that is not there, likest first: a slip
// of the keys, or a word of it.
func near(id string, ids []string) []string {
	id = strings.ToLower(id)
	if len(id) > 60 {
		id = id[:60]
	}
	type hit struct {
		id    string
		score float64
	}
	var hits []hit
	for _, x := range ids {
		s := alike(id, x)
		if s >= 0.5 {
			hits = append(hits, hit{x, s})
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return cmp.Compare(b.score, a.score) })
	var out []string
	for _, h := range hits[:min(len(hits), mostHints)] {
		out = append(out, h.id)
	}
	return out
}

// alike is how like two ids are, 0 to 1: by their letters, or by the share of
// the words typed that the id has.
func alike(typed, id string) float64 {
	letters := 1 - float64(edits(typed, id))/float64(max(len(typed), len(id)))
	words, found := 0, 0
	for _, w := range strings.FieldsFunc(typed, func(r rune) bool { return r == '_' || r == '-' || r == ' ' }) {
		if len(w) > 2 {
			words++
			if strings.Contains(id, strings.TrimSuffix(w, "s")) {
				found++
			}
		}
	}
	if words > 0 {
		letters = max(letters, 0.9*float64(found)/float64(words))
	}
	return letters
}

// edits is the number of letters to add, leave out or change to make one word
// of the other (Levenshtein 1966).
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before := row[0]
		row[0] = i + 1
		for j := range len(b) {
			x := before
			if a[i] != b[j] {
				x++
			}
			before, row[j+1] = row[j+1], min(x, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// hint is the near words as an error says them; "" where there are none.
func hint(id string, ids []string) string {
	list := near(id, ids)
	if len(list) == 0 {
		return ""
	}
	return fmt.Sprintf(" (did you mean %s?)", strings.Join(list, " or "))
}
