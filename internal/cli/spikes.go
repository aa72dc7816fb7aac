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

// writeSpikes writes each spike in words: of one that stays within the limit
// what comes and what is seen, of the others also what each protection does.
// It returns the cautions that go with them, each once.
func writeSpikes(w io.Writer, list []spike.Result, in *car.Condition, width int) (cautions []string) {
	fmt.Fprintf(w, "\nSPIKES ON THE SUPPLY, %s, and what helps (predicted)\n", in.Name)
	told := map[string]bool{}
	for i := range list {
		r := &list[i]
		words := spike.Words(r)
		mark, stand := "–", above
		if r.Refused == "" {
			stand = spikeStand(r, &r.Without)
			mark = spikeMarks[stand].mark
		}
		writeWrapped(w, "  "+mark+" ", words[0], width)
		judged := -1 // the sentence that holds it against the limit
		for n, t := range words[1:] {
			if strings.HasPrefix(t, "That is ") {
				judged = n
			}
			protection := judged >= 0 && n > judged && n <= judged+len(r.With)
			switch {
			case r.Refused == "" && !strings.ContainsFunc(t, unicode.IsDigit): // what to do and to leave
				if !told[t] {
					told[t] = true
					cautions = append(cautions, t)
				}
			case protection && stand == above: // nothing is needed
			case protection:
				writeWrapped(w, "      · ", t, width)
			default:
				writeWrapped(w, "      ", t, width)
			}
		}
	}
	writeLegend(w, []string{"○ within the limit, nothing is needed", "? doubtful: the ± reaches over it", "✘ beyond the limit", "– does not fit this car or condition"}, width)
	return cautions
}
