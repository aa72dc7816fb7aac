package cli

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/internal/workshop"
	"dwellwright/measure"
	"dwellwright/suspect"
	"dwellwright/twin"
	"dwellwright/units"
)

// sure writes a probability; nothing is ever wholly sure.
func sure(p float64) string {
	if p > 0.99 {
		return "over 99 %"
	}
	return percent(p)
}

// shortNames are so many names of a list.
const shortNames = 3

// nameOf is what would be wrong if a way of mending is the right one.
func (sh *suspectSheet) nameOf(w *way) string {
	if len(w.of) == 0 {
		return strings.Join(w.Remedies, " and ")
	}
	if w.of[0].P >= 0.9*w.P {
		return sh.Bank.Names(w.of[0].ID)
	}
	var list []string
	left := w.P
	for _, h := range w.of {
		if len(list) == shortNames || h.P < 0.1*w.P {
			break
		}
		list = append(list, fmt.Sprintf("%s (%s)", sh.Bank.Names(h.ID), sure(h.P)))
		left -= h.P
	}
	text := strings.Join(list, ", or ")
	if left > 0.1*w.P {
		text += ", or others mended alike"
	}
	return text
}

// verdict is the sheet in a few sentences.
func (sh *suspectSheet) verdict() string {
	top := &sh.ways[0]
	alike := ""
	if len(top.of) > 1 && top.of[0].P < 0.9*top.P {
		alike = " They are mended alike, so which of them it is need not be found out."
	}
	switch sh.stand {
	case nothingRead:
		return "NOTHING READ YET. What stands below is only how often each is met, an estimate. Begin with what the owner complains of: --report ID, as dwellwright readings lists them, or --interactive."
	case nothingWrong:
		if sh.mended() {
			return fmt.Sprintf("MENDED, as far as was said: %s sure that nothing is left wrong with the ignition. A reading proves it.", sure(top.P))
		}
		return fmt.Sprintf("NOTHING WRONG WITH THE IGNITION, as far as these readings show: %s sure. What no reading of an ignition shows, fuel above all, is still to be looked at if there is a complaint.", sure(top.P))
	case somethingElse:
		return fmt.Sprintf("SOMETHING THIS TOOL DOES NOT KNOW, %s: nothing in its catalogue, alone or in pairs, explains what was read. Look first whether a reading is a slip: read the strangest again.", sure(top.P))
	case found:
		return fmt.Sprintf("%s: %s sure.%s", strings.ToUpper(plainName(sh, top)), sure(top.P), alike) + sh.outlook()
	case likely:
		return fmt.Sprintf("LIKELY %s: %s.%s", strings.ToUpper(plainName(sh, top)), sure(top.P), alike) + sh.inAnyCase() + sh.outlook()
	}
	var list []string
	for i := range sh.ways[:min(len(sh.ways), shortNames)] {
		list = append(list, fmt.Sprintf("%s (%s)", plainName(sh, &sh.ways[i]), sure(sh.ways[i].P)))
	}
	head := "NOT TOLD APART YET"
	if sh.stand == cannotTell {
		head = "CANNOT BE TOLD APART WITH THESE READINGS, and no further one is worth its time"
	}
	return fmt.Sprintf("%s. In front: %s.", head, strings.Join(list, "; ")) + sh.inAnyCase() + sh.outlook()
}

// inAnyCase is the remedy that is likelier needed than the likeliest way of mending
// alone is right: what else is wrong may be open when it is not.
func (sh *suspectSheet) inAnyCase() string {
	r := sh.post.Remedies[0]
	known := sh.Bank.Remedy(r.ID)
	if known == nil || r.P < 0.6 || r.P < sh.ways[0].P+0.05 {
		return ""
	}
	return fmt.Sprintf(" Needed whatever else is wrong, %s: %s.", sure(r.P), r.ID)
}

// mended reports whether the complaint went with the last repair and nothing
// has been found since.
func (sh *suspectSheet) mended() bool {
	n := len(sh.Entries)
	return sh.stand == nothingWrong && n > 0 && sh.Entries[n-1].Do == workshop.Done && sh.Entries[n-1].Text == "gone"
}

// plainName is a way's name without figures.
func plainName(sh *suspectSheet, w *way) string {
	if len(w.of) == 0 {
		return sh.nameOf(w)
	}
	name := sh.Bank.Names(w.of[0].ID)
	if w.of[0].P < 0.9*w.P && len(w.of) > 1 {
		name += " or the like"
	}
	return name
}

// outlook is how long it will take from here.
func (sh *suspectSheet) outlook() string {
	if sh.choice.Stop {
		return fmt.Sprintf(" Mending now, likeliest first, takes about %.0f min [estimate]; no reading makes it shorter.", sh.choice.Now)
	}
	return fmt.Sprintf(" To the right remedy: about %.0f min with the reading below, %.0f min by mending at once [estimates].", sh.choice.Best, sh.choice.Now)
}

// subtitle says what it rests on.
func (sh *suspectSheet) subtitle() string {
	counts := 0
	for _, t := range sh.taken {
		if t.Counts {
			counts++
		}
	}
	text := fmt.Sprintf("%s, as fitted. %s", sh.Bank.Car.Name, plural(counts, "answer"))
	if n := sh.FromFile; n > 0 {
		text += fmt.Sprintf(", %d of the car file", n)
	}
	text += "."
	if n := len(sh.Left); n > 0 {
		text += fmt.Sprintf(" %s of the car file %s of nothing here and not counted.", plural(n, "reading"), map[bool]string{true: "is", false: "are"}[n == 1])
	}
	text += fmt.Sprintf(" %d faults and their pairs, each predicted for %d drawn cars (seed %d); how often each is met is an estimate", len(sh.Bank.Faults), sh.Bank.Draws, sh.cmd.Seed)
	if s := sh.storyWords(); s != "" {
		text += "; of the car is known: " + s
	}
	return text + "."
}

func (sh *suspectSheet) storyWords() string {
	told, err := sh.cmd.story()
	if err != nil {
		return ""
	}
	var list []string
	for _, s := range stories {
		if told&s.of != 0 {
			list = append(list, s.words)
		}
	}
	return strings.Join(list, "; ")
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// strengths are weights of evidence in words, by decibans from which on they
// hold: 10 decibans are odds ten times as good.
var strengths = []struct {
	from  float64
	words string
}{{20, "very strong"}, {10, "strong"}, {5, "fair"}, {2, "weak"}}

// strengthLegend says what the words mean.
var strengthLegend = []string{"weak: up to 3 times likelier", "fair: up to 10", "strong: up to 100", "very strong: more"}

// strength is a weight of evidence in a word, "" where it says nothing.
func strength(decibans float64) string {
	for _, s := range strengths {
		if math.Abs(decibans) >= s.from {
			return s.words
		}
	}
	return ""
}

// answerWords is what was read, in words.
func (sh *suspectSheet) answerWords(r *evidence.Reading) string {
	m, err := sh.Bank.Measure(r.Channel)
	if err != nil {
		return r.Channel
	}
	switch r.Kind {
	case evidence.Yes:
		return m.Name
	case evidence.No:
		return "not so: " + m.Name
	case evidence.CouldNot:
		return m.Name + " could not be read"
	}
	return m.Name + " " + sh.figureWords(m, r)
}

// figureWords is a figure as it was read, with the half-width that counts.
func (sh *suspectSheet) figureWords(m *measure.Measure, r *evidence.Reading) string {
	switch r.Kind {
	case evidence.LessThan:
		return "under " + units.Format(m.Kind, r.Value, sh.sys)
	case evidence.MoreThan:
		return "over " + units.Format(m.Kind, r.Value, sh.sys)
	}
	pm := r.HalfWidth
	if pm == 0 && m.Accuracy != nil {
		pm = m.Accuracy(r.Value)
	}
	return units.FormatValue(m.Kind, units.Value{X: r.Value, PM: pm, Shape: units.Normal}, sh.sys) + ", measured"
}

// expectedWords is what a reading is expected to show.
func (sh *suspectSheet) expectedWords(m *measure.Measure, e evidence.Expected) string {
	switch {
	case e.Cannot > 0.5 || math.IsNaN(e.Yes) && math.IsNaN(e.Middle):
		return "it cannot be read"
	case m.Observation && e.Yes >= 0.5:
		return "yes, in " + sure(e.Yes) + " of such cars"
	case m.Observation:
		return "no, in " + sure(1-e.Yes) + " of such cars"
	}
	return between(m.Kind, twin.Interval{Mid: e.Middle, Lo: math.Min(e.Low, e.Middle), Hi: math.Max(e.High, e.Middle)}, sh.sys)
}

// reason is what one answer says of a suspect.
type reason struct {
	*evidence.Reason
	decibans float64 // what it is listed by: for it above 0, against it below
}

// rival is the likeliest hypothesis that has no fault in common with one: what
// has one in common is no other answer, but more or less of the same.
func (sh *suspectSheet) rival(id string) string {
	mine := strings.Split(id, " + ")
	for _, h := range sh.post.Hypotheses {
		theirs := strings.Split(h.ID, " + ")
		if !slices.ContainsFunc(theirs, func(x string) bool { return slices.Contains(mine, x) }) {
			return h.ID
		}
	}
	return suspect.HealthyID
}

// reasons sorts what the answers say of a hypothesis, strongest first: for it
// is what is likelier with it than in a car in order; against it what that car
// or its rival explains better.
func (sh *suspectSheet) reasons(id string) (pro, con []reason, why evidence.Why, err error) {
	if why, err = sh.Why(id, sh.Situation()); err != nil {
		return nil, nil, why, err
	}
	why.RunnerUp = sh.rival(id)
	other, err := sh.Why(why.RunnerUp, sh.Situation())
	if err != nil {
		return nil, nil, why, err
	}
	least := strengths[len(strengths)-1].from
	for i := range why.Reasons {
		r := reason{Reason: &why.Reasons[i]}
		r.VsRunnerUp = r.VsHealthy - other.Reasons[i].VsHealthy
		up := r.VsHealthy
		if id == suspect.HealthyID {
			up = r.VsRunnerUp
		}
		down := math.Min(up, r.VsRunnerUp)
		switch {
		case down <= -least && -down >= up:
			r.decibans = down
			con = append(con, r)
		case up >= least:
			r.decibans = up
			pro = append(pro, r)
		}
	}
	strongest := func(a, b reason) int { return cmp.Compare(math.Abs(b.decibans), math.Abs(a.decibans)) }
	slices.SortStableFunc(pro, strongest)
	slices.SortStableFunc(con, strongest)
	return pro, con, why, nil
}

// proof is the reading that shows whether a mend has worked: the taken one that
// told most for the suspect, else the one that would tell most against it.
// Empty where there is none.
func (sh *suspectSheet) proof(w *way) (id string, err error) {
	if len(w.of) == 0 || w.of[0].ID == suspect.HealthyID || w.of[0].ID == evidence.UnknownID {
		return "", nil
	}
	pro, _, why, err := sh.reasons(w.of[0].ID)
	if err != nil {
		return "", err
	}
	for _, r := range pro {
		if m, err := sh.Bank.Measure(r.Channel); err == nil && m.Group != measure.Owner {
			return r.Channel, nil
		}
	}
	if why.Refuter != nil {
		return why.Refuter.Channel, nil
	}
	if len(pro) > 0 {
		return pro[0].Channel, nil
	}
	return "", nil
}

// wayOf is the likeliest way that a remedy is part of.
func (sh *suspectSheet) wayOf(r *fault.Remedy) *way {
	for i := range sh.ways {
		if slices.Contains(sh.ways[i].Remedies, r.ID) {
			return &sh.ways[i]
		}
	}
	return &sh.ways[0]
}

// distrusted are the answers that are more likely a slip than not.
func (sh *suspectSheet) distrusted() []*evidence.Taken {
	var list []*evidence.Taken
	for i := range sh.taken {
		t := &sh.taken[i]
		m, err := sh.Bank.Measure(t.Channel)
		if workshop.Distrusts(sh.taken, t, err == nil && m.Group == measure.Owner, 0.5) {
			list = append(list, t)
		}
	}
	return list
}
