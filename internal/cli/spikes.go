package cli

import (
	"fmt"
	"io"
	"strings"
	"unicode"

	"dwellwright/car"
	"dwellwright/spike"
)

// spikeStand is where what is seen stands against the limit.
func spikeStand(r *spike.Result, s *spike.Seen) handStand {
	over, under := s.PeakV-r.Limit.PeakV, r.Limit.LowestV-s.LowestV
	switch {
	case over > s.PeakPM || under > s.LowestPM:
		return fallsShort
	case over > -s.PeakPM || under > -s.LowestPM:
		return inDoubt
	}
	return above
}

// spikeMarks are the marks of a spike.
var spikeMarks = [...]struct{ mark, id, word string }{
	above: {"○", "within", "within the limit"}, inDoubt: {"?", "doubtful", "doubtful"}, fallsShort: {"✘", "beyond", "beyond the limit"},
}

// writeSpikes writes each spike in words, and returns the cautions that go
// with them, each once.
func writeSpikes(w io.Writer, list []spike.Result, in *car.Condition, width int) (cautions []string) {
	fmt.Fprintf(w, "\nSPIKES ON THE SUPPLY in %s, and what helps (predicted)\n", in.Name)
	seen := map[string]bool{}
	for i := range list {
		r := &list[i]
		words := spike.Words(r)
		lead := "  – "
		if r.Refused == "" {
			st := spikeMarks[spikeStand(r, &r.Without)]
			lead = "  " + st.mark + " "
		}
		writeWrapped(w, lead, words[0], width)
		for _, t := range words[1:] {
			if r.Refused == "" && !strings.ContainsFunc(t, unicode.IsDigit) { // what to do and to leave
				if !seen[t] {
					seen[t] = true
					cautions = append(cautions, t)
				}
				continue
			}
			writeWrapped(w, "      ", t, width)
		}
	}
	writeWrapped(w, "", "○ within the limit   ? doubtful: the ± reaches over it   ✘ beyond the limit   – does not fit this car or condition", width)
	if len(list) > 0 && list[0].Without.PeakPM == 0 && list[0].Without.LowestPM == 0 {
		writeWrapped(w, "", "Every figure of the car at its middle, no ±.", width)
	}
	return cautions
}
