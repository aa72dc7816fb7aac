package cli

import (
	"cmp"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/internal/workshop"
	"dwellwright/suspect"
	"dwellwright/units"
)

type suspectCmd struct {
	Car         string   `arg:"" help:"Car file, 'demo', or - for standard input."`
	Report      entries  `placeholder:"ID" help:"It is so: an owner's complaint, or a look. Each of these may be given again and again; their order counts."`
	Not         entries  `placeholder:"ID" help:"It is not so."`
	Read        entries  `placeholder:"ID=FIGURE" help:"A figure was read, with unit and ± or without, such as --read 'battery_rest=12.4 V'; <, > in front: the meter was at the end of its range."`
	Cannot      entries  `placeholder:"ID" help:"It was tried, and this car does not let it be read."`
	Leave       entries  `placeholder:"ID" help:"Not to be asked for: no instrument, or no wish."`
	Done        entries  `placeholder:"REMEDY" help:"A remedy was carried out, several with commas; =gone or =still behind it say what became of the complaint. Readings before it are of the car as it was."`
	Story       []string `placeholder:"STORY" help:"What is known of the car: just_converted, long_untouched, quits_hot, switch_work, stored."`
	Why         []string `placeholder:"ID" help:"Take the case for a fault apart, reading by reading."`
	Interactive bool     `short:"i" help:"Ask reading after reading, here in the terminal."`
	JSON        bool     `name:"json" help:"Write JSON (its schema: dwellwright schema suspect)."`
	Draws       int      `default:"22" help:"Cars drawn for each thing that can be wrong, 4 to 400."`
	Pairs       int      `default:"0" help:"Pairs of faults held ready, 0 to 2000; others are looked for where readings call for them."`
	Seed        uint64   `default:"1" help:"Seed of the draws: the same seed gives the same figures."`
	Inch        bool     `help:"Inch, mil and Fahrenheit instead of metric."`
}

// entries are what was given with one option, with the places they had on the
// command line: kong keeps options apart, and their order counts.
type entries []placed

type placed struct {
	workshop.Entry
	left int // words of the command line behind it
}

// Decode takes one of them.
func (e *entries) Decode(ctx *kong.DecodeContext) error {
	var text string
	if err := ctx.Scan.PopValueInto("id", &text); err != nil {
		return err
	}
	x := placed{left: ctx.Scan.Len()}
	for do := workshop.Figure; do <= workshop.Done; do++ {
		if do.String() == ctx.Value.Name {
			x.Do = do
		}
	}
	id, value, _ := strings.Cut(text, "=")
	x.ID, x.Text = strings.TrimSpace(id), strings.TrimSpace(value)
	*e = append(*e, x)
	return nil
}

// entered lists all that was entered, in the order of the command line.
func (c *suspectCmd) entered() []workshop.Entry {
	all := slices.Concat(c.Report, c.Not, c.Read, c.Cannot, c.Leave, c.Done)
	slices.SortStableFunc(all, func(a, b placed) int { return cmp.Compare(b.left, a.left) })
	out := make([]workshop.Entry, len(all))
	for i := range all {
		out[i] = all[i].Entry
	}
	return out
}

// story reads what is known of the car.
func (c *suspectCmd) story() (fault.Context, error) {
	var told fault.Context
	var errs []error
	for _, id := range c.Story {
		i := slices.IndexFunc(stories, func(s storyWords) bool { return s.id == strings.TrimSpace(id) })
		if i < 0 {
			var have []string
			for _, s := range stories {
				have = append(have, s.id)
			}
			errs = append(errs, fmt.Errorf("--story %s: accepted: %s", id, strings.Join(have, ", ")))
			continue
		}
		told |= stories[i].of
	}
	return told, errors.Join(errs...)
}

// check says all at once what is wrong with the command line.
func (c *suspectCmd) check() error {
	var errs []error
	if c.Draws < 4 || c.Draws > 400 {
		errs = append(errs, fmt.Errorf("--draws %d; 4 to 400 is accepted", c.Draws))
	}
	if c.Pairs < 0 || c.Pairs > 2000 {
		errs = append(errs, fmt.Errorf("--pairs %d; 0 to 2000 is accepted", c.Pairs))
	}
	if c.Interactive && c.JSON {
		errs = append(errs, errors.New("--json with --interactive: one of them"))
	}
	if c.Interactive && c.Car == "-" {
		errs = append(errs, errors.New("--interactive reads your answers from standard input: the car has to come from a file"))
	}
	if _, err := c.story(); err != nil {
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// Run finds the fault.
func (c *suspectCmd) Run(s *session) error {
	said := c.check()
	k, err := workshop.Open(c.Car, s.In)
	if err != nil {
		return errors.Join(said, err)
	}
	list := c.entered()
	for _, e := range list {
		said = errors.Join(said, workshop.ReadEntry(k, e))
	}
	for _, id := range c.Why {
		said = errors.Join(said, workshop.ReadHypothesis(k, id))
	}
	if said != nil {
		return said
	}
	story, err := c.story()
	if err != nil {
		return err
	}
	bar := newProgress(s.Err, "working out what each fault would show")
	d, err := workshop.Suspect(k, suspect.Settings{Draws: c.Draws, Pairs: c.Pairs, Seed: c.Seed, Story: story,
		Each: workshop.Parallel(runtime.GOMAXPROCS(0)), Progress: bar.show}, list)
	bar.clear()
	if err != nil {
		return err
	}
	sys := drawing{Inch: c.Inch}.system()
	sh, err := newSuspectSheet(d, c, sys)
	if err != nil {
		return err
	}
	switch {
	case c.Interactive:
		if sh, err = ask(s, sh); err != nil {
			return err
		}
	case c.JSON:
		doc, err := sh.document()
		if err != nil {
			return err
		}
		if err := writeJSON(s, doc); err != nil {
			return err
		}
	default:
		if err := sh.write(s.Out, s.Width); err != nil {
			return err
		}
	}
	if sh.stand != nothingWrong {
		return exitCode(ExitUnproven)
	}
	return nil
}

// suspectSheet is a diagnosis as it stands, ready to be written.
type suspectSheet struct {
	*workshop.Diagnosis
	cmd    *suspectCmd
	sys    units.System
	post   evidence.Posterior
	choice evidence.Choice
	taken  []evidence.Taken
	ways   []way
	stand  standing
	asked  bool // in the terminal: nothing is said of options
}

// way is one way to mend the car, and what would be wrong with it then.
type way struct {
	evidence.Mend
	of []evidence.Standing // likeliest first
}

// standing is how far the diagnosis has come.
type standing uint8

const (
	nothingRead standing = iota
	notYet
	cannotTell
	likely
	found
	nothingWrong
	somethingElse
)

var standings = [...]string{nothingRead: "nothing_read", notYet: "not_yet_told_apart", cannotTell: "cannot_be_told_apart", likely: "likely", found: "found",
	nothingWrong: "nothing_wrong", somethingElse: "unknown_to_it"}

// Chances from which something is called found, and likely.
const (
	surely   = 0.8
	probably = 0.5
)

func newSuspectSheet(d *workshop.Diagnosis, c *suspectCmd, sys units.System) (*suspectSheet, error) {
	sh := &suspectSheet{Diagnosis: d, cmd: c, sys: sys}
	return sh, sh.refresh()
}

// refresh brings the sheet up to date after something was entered.
func (sh *suspectSheet) refresh() error {
	var err error
	sh.post, sh.taken = sh.Posterior(), sh.Taken()
	if sh.choice, err = sh.What(); err != nil {
		return err
	}
	at := map[string]int{}
	sh.ways = sh.ways[:0]
	for _, m := range sh.post.Mends {
		at[remedyKey(m.Remedies)] = len(sh.ways)
		sh.ways = append(sh.ways, way{Mend: m})
	}
	for _, h := range sh.post.Hypotheses {
		if i, ok := at[remedyKey(sh.remediesOf(h.ID))]; ok {
			sh.ways[i].of = append(sh.ways[i].of, h)
		}
	}
	sh.stand = sh.judge()
	return nil
}

// remediesOf lists what mends a hypothesis.
func (sh *suspectSheet) remediesOf(id string) []string {
	switch id {
	case suspect.HealthyID:
		return []string{evidence.ElsewhereID}
	case evidence.UnknownID:
		return []string{evidence.UnknownID}
	}
	var list []string
	for _, x := range strings.Split(id, " + ") {
		if f := sh.Bank.Fault(x); f != nil {
			list = append(list, f.Remedy.ID)
		}
	}
	return list
}

func remedyKey(ids []string) string {
	s := slices.Clone(ids)
	slices.Sort(s)
	return strings.Join(slices.Compact(s), "+")
}

// judge says how far the diagnosis has come.
func (sh *suspectSheet) judge() standing {
	top := sh.ways[0]
	switch {
	case len(sh.taken) == 0 && !sh.repaired():
		return nothingRead
	case top.Remedies[0] == evidence.UnknownID && top.P >= probably:
		return somethingElse
	case top.Remedies[0] == evidence.ElsewhereID && top.P >= surely:
		return nothingWrong
	case top.P >= surely:
		return found
	case top.P >= probably:
		return likely
	case sh.choice.Stop:
		return cannotTell
	}
	return notYet
}

// repaired reports whether anything was mended.
func (sh *suspectSheet) repaired() bool {
	return slices.ContainsFunc(sh.Entries, func(e workshop.Entry) bool { return e.Do == workshop.Done })
}

// first is the remedy to begin with: what the mathematics would do first, of
// what can be done to an ignition.
func (sh *suspectSheet) first() *fault.Remedy {
	for _, s := range sh.choice.Steps {
		if r := sh.Bank.Remedy(s.Remedy); r != nil {
			return r
		}
	}
	return nil
}
