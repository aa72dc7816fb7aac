package cli

import (
	"fmt"
	"io"
	"math"
	"strings"

	"dwellwright/spark"
)

// chartState is where a cell of the map stands.
func chartState(ch *spark.Chart, j, i int) handStand {
	x := spark.Interval{Mid: ch.Hand[j][i], Lo: ch.Hand[j][i], Hi: ch.Hand[j][i]}
	if ch.PM != nil {
		x.Lo, x.Hi = x.Lo-ch.PM[j][i], x.Hi+ch.PM[j][i]
	}
	return handState(x)
}

// spaced is which of n places stand in a table of at most that many columns,
// first and last among them.
func spaced(n, most int) []int {
	most = max(min(n, most), 2)
	var list []int
	for k := range most {
		list = append(list, int(math.Round(float64(k)*float64(n-1)/float64(most-1))))
	}
	return list
}

// writeChart writes the map as characters: the highest voltage on top, each
// cell its spark in hand and a letter for where it stands.
func writeChart(w io.Writer, ch *spark.Chart, shots []shot, width int) {
	letters := [...]string{above: " ", inDoubt: "d", fallsShort: "F"}
	fmt.Fprintf(w, "\nMAP of the spark in hand, throttle wide open, with %s\n", ch.Fitting)
	at := spaced(len(ch.RPM), (width-8)/6)
	low, high := math.Inf(1), 0.0
	rows := spaced(len(ch.Volts), 9)
	for n := range rows {
		j := rows[len(rows)-1-n]
		line := fmt.Sprintf("%5.1f V", ch.Volts[j])
		for _, i := range at {
			line += fmt.Sprintf(" %4.*f%s", decimals(ch.Hand[j][i]), ch.Hand[j][i], letters[chartState(ch, j, i)])
			if ch.PM != nil && ch.Hand[j][i] > 0 {
				low, high = math.Min(low, ch.PM[j][i]/ch.Hand[j][i]), math.Max(high, ch.PM[j][i]/ch.Hand[j][i])
			}
		}
		fmt.Fprintln(w, strings.TrimRight(line, " "))
	}
	line := "    rpm"
	for _, i := range at {
		line += fmt.Sprintf(" %4.0f ", ch.RPM[i])
	}
	fmt.Fprintln(w, strings.TrimRight(line, " "))
	writeLegend(w, []string{"F falls short of 1", "d doubtful: its ± reaches down to 1", "no letter: above 1"}, width)
	note := "Predicted. Volts are the battery's, with no coil current flowing."
	if ch.PM != nil {
		note += fmt.Sprintf(" The ± of a cell is %.0f to %.0f %% of it.", 100*low, 100*high)
	} else {
		note += " Every figure of the car at its middle, no ±: nothing can be doubtful."
	}
	var list []string
	for i := range shots {
		s := &shots[i]
		list = append(list, fmt.Sprintf("%s %.0f rpm at %.1f V", brief(s.Name), s.RPM, s.Spark.Primary.Supply))
	}
	if len(list) > 0 {
		note += " This car stands at: " + strings.Join(list, "; ") + " (predicted, middle car)."
	}
	writeWrapped(w, "", together(note), width)
}

// decimals keeps a figure to four characters.
func decimals(v float64) int {
	if v < 9.995 {
		return 2
	}
	return 1
}
