package cli

import (
	"fmt"
	"log"
	"runtime"
	"strings"

	"dwellwright/internal/web"
	"dwellwright/internal/workshop"
	"dwellwright/plan"
	"dwellwright/prove"
	"dwellwright/units"
)

// door is where the workshop is opened.
type door struct {
	Listen string `default:"127.0.0.1" help:"Address of this machine: 127.0.0.1, ::1 or localhost. No other is accepted."`
	Port   int    `default:"0" help:"Port; 0 takes 8747 or the next that is free."`
}

// open serves the car files until the session is told to stop.
func (d door) open(s *session, cars []string) error {
	srv, err := web.New(cars, s.In)
	if err != nil {
		return err
	}
	l, err := web.Listen(d.Listen, d.Port)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.Out, "The workshop is open at %s (this machine only). Ctrl-C closes it.\n", web.Address(l))
	return srv.Serve(s.ctx, l, log.New(s.Err, "dwellwright: ", 0))
}

type serveCmd struct {
	Cars []string `arg:"" name:"car" help:"Car files, 'demo', or - for standard input."`
	door
}

// Run serves car files. One that can't be read is served too: its page says
// what is wrong, and it is read again when it changes.
func (c *serveCmd) Run(s *session) error { return c.open(s, c.Cars) }

type demoCmd struct {
	Verdict bool `help:"Print the verdict and stop; open no page."`
	door
}

// Run says how the demo car stands, then opens the workshop on it.
func (c *demoCmd) Run(s *session) error {
	k, err := workshop.Open("demo", s.In)
	if err != nil {
		return err
	}
	cmp, err := workshop.Plan(k, prove.Settings{Draws: prove.DefaultDraws, Seed: 1, Each: workshop.Parallel(runtime.GOMAXPROCS(0))})
	if err != nil {
		return err
	}
	writeWrapped(s.Out, "", feedVerdict(cmp, "hot_idle"), s.Width)
	fmt.Fprintln(s.Out)
	if c.Verdict {
		return nil
	}
	return c.open(s, []string{"demo"})
}

// feedVerdict says in a paragraph what becomes of the trigger in a condition,
// fed behind the ballast and before it, and which way is best of all.
func feedVerdict(cmp *plan.Comparison, condition string) string {
	text := []string{fmt.Sprintf("%s (%d V, %s earth).", cmp.Car.Name, cmp.Car.NominalV, cmp.Car.Earth)}
	for _, id := range []string{"feed_behind_ballast", "feed_before_ballast"} {
		for i := range cmp.Choices {
			if ch := &cmp.Choices[i]; ch.Option.ID == id {
				text = append(text, feedSentence(ch, condition))
			}
		}
	}
	if w := cmp.Winner(); w != nil {
		text = append(text, fmt.Sprintf("Best of all ways: %s.", w.Option.Name))
	}
	text = append(text, "All figures predicted; a reading proves. It advises; local codes and licensed practice decide.")
	return strings.Join(text, " ")
}

// feedSentence is how a choice's trigger feed stands in a condition.
func feedSentence(ch *plan.Choice, condition string) string {
	name := prove.Title(ch.Option.Name)
	if ch.Unfit != "" {
		return fmt.Sprintf("%s: %s.", name, ch.Unfit)
	}
	for i := range ch.Sheet.Rows {
		r := &ch.Sheet.Rows[i]
		for j, col := range ch.Sheet.Columns {
			cell := &r.Cells[j]
			if r.ID != "trigger_feed" || col.ID != condition || !cell.Shown {
				continue
			}
			stands := map[prove.State]string{
				prove.FallsShort: "FALLS SHORT", prove.Doubtful: "is DOUBTFUL", prove.NotProven: "is expected to hold", prove.Holds: "holds",
			}[cell.State]
			v, pm := cell.Shows()
			return fmt.Sprintf("%s %s at %s: lowest instant of its feed %s, limit %s (%s).", name, stands, col.Name,
				r.Text(v, pm, units.Metric), r.LimitText(cell, units.Metric), cell.Limit.Source)
		}
	}
	return fmt.Sprintf("%s: no trigger feed to judge at %s.", name, strings.ReplaceAll(condition, "_", " "))
}
