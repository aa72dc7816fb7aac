package cli

import (
	"fmt"
	"io"
	"strings"

	"dwellwright/car"
	"dwellwright/plan"
	"dwellwright/prove"
	"dwellwright/units"
)

// writePlan writes the comparison: the ranking, why each stands where it
// does, and the cut list of the first.
func writePlan(w io.Writer, c *plan.Comparison, width int, sys units.System) {
	writeWrapped(w, "", c.Verdict(), width)
	fmt.Fprintln(w)
	if len(c.Common) > 0 {
		fmt.Fprintln(w, "WHICHEVER YOU CHOOSE")
		for i := range c.Common {
			writeWrapped(w, "   "+marks[c.Common[i].Cell.State]+" ", c.Common[i].Text(sys), width)
		}
		fmt.Fprintln(w)
	}
	for i := range c.Choices {
		ch := &c.Choices[i]
		if ch.Unfit != "" {
			fmt.Fprintf(w, "–  %s: cannot be had, %s\n\n", ch.Option.Name, ch.Unfit)
			continue
		}
		now := ""
		if ch.Fitted {
			now = ", as wired now"
		}
		fmt.Fprintf(w, "%d. %s %s (%s%s)\n", i+1, marks[ch.State()], strings.ToUpper(ch.Option.Name), ch.Option.ID, now)
		writeWrapped(w, "   ", ch.Option.About, width)
		for _, f := range ch.Short {
			writeWrapped(w, "   "+marks[prove.FallsShort]+" ", f.Text(sys), width)
		}
		for _, f := range ch.Doubt {
			writeWrapped(w, "   "+marks[prove.Doubtful]+" ", f.Text(sys), width)
		}
		if len(ch.Short)+len(ch.Doubt) == 0 && ch.Worst.Row != nil {
			writeWrapped(w, "   "+marks[prove.NotProven]+" ", "closest: "+ch.Worst.Text(sys), width)
		}
		for n, f := range ch.Minor {
			if n == 3 {
				fmt.Fprintf(w, "   and %d more\n", len(ch.Minor)-3)
				break
			}
			writeWrapped(w, "   · ", "also "+f.Text(sys), width)
		}
		fmt.Fprintln(w)
	}
	writeLegend(w, legend, width)
	if c.Cut != nil {
		writeCut(w, c, width, sys)
	}
}

func writeCut(w io.Writer, c *plan.Comparison, width int, sys units.System) {
	if win := c.Winner(); win != c.CutFor {
		fmt.Fprintf(w, "\nNothing to cut for %q. If a trigger goes in:\n", win.Option.Name)
	}
	fmt.Fprintf(w, "\nTO CUT AND FIT for %q\n", c.CutFor.Option.Name)
	for _, r := range c.Cut.Removed {
		writeWrapped(w, "  out: ", r, width)
	}
	for _, p := range c.Cut.Parts {
		writeWrapped(w, "  in:  ", p, width)
	}
	for _, m := range c.Cut.Moved {
		writeWrapped(w, "  move: ", m, width)
	}
	for _, x := range c.Cut.Wires {
		fuse := x.Protected
		if x.FuseA > 0 {
			fuse = fmt.Sprintf("fuse %g A at its source", x.FuseA)
		}
		length := "assumed"
		if x.Origin != car.Assumed {
			length = "from the car file"
		}
		fmt.Fprintf(w, "  wire: %s to %s\n", x.From, x.To)
		writeWrapped(w, "        ", fmt.Sprintf("%s (%s), %s long (%s), %s", units.AWGName(x.AWG), units.Format(units.WireSection, x.SectionM2, units.Metric), units.Format(units.Length, x.LengthM, sys), length, fuse), width)
		writeWrapped(w, "        ", fmt.Sprintf("carries %s, peaks %s (upper ends); loses %s at the peak, hot", units.Format(units.Current, x.CurrentA, sys), units.Format(units.Current, x.PeakA, sys), units.Format(units.Voltage, x.DropV, sys)), width)
		writeWrapped(w, "        ", "ends: "+strings.Join(x.Terminals, ", ")+"; "+x.WhyThisOne, width)
	}
	writeCautions(w, append(c.Cut.Cautions, prove.Cautions(c.CutFor.Sheet.Car, prove.EngineRuns, prove.StarterTurns, prove.KeyOn, prove.Wiring)...), width)
}

// writeWrapped writes text behind a lead, the following lines indented.
func writeWrapped(w io.Writer, lead, text string, width int) {
	n := len([]rune(lead))
	for i, line := range wrap(text, max(width-n, 20)) {
		if i > 0 {
			lead = strings.Repeat(" ", n)
		}
		fmt.Fprintf(w, "%s%s\n", lead, line)
	}
}

// writeAssumed lists what the file does not say, at most that many.
func writeAssumed(w io.Writer, c *car.Car, width int, sys units.System, most int) {
	list := prove.Assumed(c)
	writeParams(w, fmt.Sprintf("ASSUMED: %d figures the file does not say, taken at typical values", len(list)), list, width, sys, most)
}

// writeParams lists figures of the car under a heading, at most that many.
func writeParams(w io.Writer, head string, list []car.ParamRef, width int, sys units.System, most int) {
	if len(list) == 0 {
		return
	}
	if len(list) > most {
		head += " (dwellwright check lists them all); the first"
	}
	fmt.Fprintln(w)
	writeWrapped(w, "", head, width)
	for i, r := range list {
		if i == most {
			break
		}
		fmt.Fprintf(w, "  %-34s %s\n", r.Path, units.FormatValue(r.P.Kind, r.P.Value, sys))
	}
}
