package car

// suggest gives the word of the list that was probably meant: the nearest by
// edit distance, if no more than a third of the typed letters (at least one)
// have to change. The first of equally near words wins.
func suggest(typed string, words []string) string {
	const longest = 40 // nobody mistypes a longer word; keeps hostile input cheap
	if len(typed) == 0 || len(typed) > longest {
		return ""
	}
	best, bestCost := "", max(1, len(typed)/3)+1
	for _, w := range words {
		if len(w)-len(typed) >= bestCost || len(typed)-len(w) >= bestCost {
			continue
		}
		if c := editDistance(typed, w); c < bestCost {
			best, bestCost = w, c
		}
	}
	return best
}

// editDistance is the optimal-string-alignment distance: the least number of
// single-byte insertions, deletions, substitutions and swaps of neighbours
// that turn a into b, no byte edited twice. (F. J. Damerau, "A technique for
// computer detection and correction of spelling errors", Comm. ACM 7 (1964).)
func editDistance(a, b string) int {
	before := make([]int, len(b)+1) // row i-2
	last := make([]int, len(b)+1)   // row i-1
	row := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
