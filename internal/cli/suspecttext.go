package cli

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/prove"
	"dwellwright/suspect"
)

// cautions are what can hurt: the first stands before everything else.
func (sh *suspectSheet) cautions() (first string, rest []string) {
	for _, t := range prove.Cautions(sh.Bank.Car, prove.EngineRuns, prove.StarterTurns, prove.KeyOn, prove.Wiring) {
		if first == "" && strings.HasPrefix(t, "Secondary voltage") {
			first = t
			continue
		}
		rest = append(rest, t)
	}
	return first, rest
}

// write writes the sheet as text.
func (sh *suspectSheet) write(w io.Writer, width int) error {
	first, rest := sh.cautions()
	writeWrapped(w, "! ", first, width)
	fmt.Fprintln(w)
	writeWrapped(w, "", together(sh.verdict()), width)
	writeWrapped(w, "", together(sh.subtitle()), width)
	if err := sh.writeSuspects(w, width); err != nil {
		return err
	}
	if err := sh.writeAgain(w, width); err != nil {
		return err
	}
	if err := sh.writeNext(w, width); err != nil {
		return err
	}
	for _, id := range sh.cmd.Why {
		if err := sh.writeWhy(w, id, width); err != nil {
			return err
		}
	}
	writeCautions(w, rest, width)
	return nil
}

const (
	barWide     = 20
	fewSuspects = 6    // suspects written
	faintest    = 0.01 // of probability that is written
	fewReasons  = 4
)

// bar is a probability as a bar.
func bar(p float64) string {
	n := int(math.Round(p * barWide))
	return strings.Repeat("█", n) + strings.Repeat("░", barWide-n)
}

// writeSuspects writes the suspects, one for each way of mending.
func (sh *suspectSheet) writeSuspects(w io.Writer, width int) error {
	head := "SUSPECTS, together where they are mended alike"
	if sh.stand == nothingRead {
		head = "BEFORE ANYTHING IS READ: how often each is met [estimates], together where they are mended alike"
	}
	heading(w, head, width)
	rest := 1.0
	for i := range sh.ways {
		x := &sh.ways[i]
		if i == fewSuspects || x.P < faintest && i > 0 {
			break
		}
		rest -= x.P
		writeWrapped(w, fmt.Sprintf("%2d. %s %9s  ", i+1, bar(x.P), sure(x.P)), together(sh.nameOf(x)), width)
		if err := sh.writeReasons(w, x, width); err != nil {
			return err
		}
		sh.writeMendedBy(w, x, width)
	}
	if rest >= faintest {
		writeWrapped(w, fmt.Sprintf("    %s %9s  ", bar(rest), sure(rest)), "all others together", width)
	}
	if len(sh.taken) > 0 {
		writeWrapped(w, "", "for: likelier with it than in a car in order; against: the other way about, or the likeliest suspect of another kind explains it better", width)
		writeLegend(w, strengthLegend, width)
	}
	return nil
}

func (sh *suspectSheet) writeReasons(w io.Writer, x *way, width int) error {
	if len(x.of) == 0 || x.of[0].ID == evidence.UnknownID {
		return nil
	}
	pro, con, _, err := sh.reasons(x.of[0].ID)
	if err != nil {
		return err
	}
	for _, side := range []struct {
		word string
		list []reason
	}{{"for", pro}, {"against", con}} {
		if len(side.list) == 0 {
			continue
		}
		var say []string
		for _, r := range side.list[:min(len(side.list), fewReasons)] {
			say = append(say, fmt.Sprintf("%s (%s)", sh.answerWords(&r.Reading), strength(r.decibans)))
		}
		if n := len(side.list) - fewReasons; n > 0 {
			say = append(say, fmt.Sprintf("%d more", n))
		}
		writeWrapped(w, "      "+pad(side.word, 9), together(strings.Join(say, "; ")), width)
	}
	return nil
}

func (sh *suspectSheet) writeMendedBy(w io.Writer, x *way, width int) {
	var list []string
	for _, id := range x.Remedies {
		if r := sh.Bank.Remedy(id); r != nil {
			list = append(list, fmt.Sprintf("%s About %.0f min [estimate].", r.Words, r.Minutes))
		}
	}
	if len(list) > 0 {
		writeWrapped(w, "      "+pad("mend", 9), together(strings.Join(list, " And: ")), width)
	}
}

// writeAgain asks for what is distrusted to be read again.
func (sh *suspectSheet) writeAgain(w io.Writer, width int) error {
	list := sh.distrusted()
	if len(list) == 0 {
		return nil
	}
	heading(w, "READ AGAIN: more likely slips than not, and hardly counted", width)
	for _, t := range list {
		m, err := sh.Bank.Measure(t.Channel)
		if err != nil {
			continue
		}
		text := fmt.Sprintf("%s (%s): %s that it is a slip.", sh.answerWords(&t.Reading), t.Channel, sure(t.Slip))
		e, err := sh.Expect(t.Channel, "")
		if err != nil {
			return err
		}
		text += " Expected, with all else that was read: " + sh.expectedWords(m, e) + " (predicted)."
		writeWrapped(w, "  ? ", together(text), width)
	}
	return nil
}

// writeNext writes what to do next.
func (sh *suspectSheet) writeNext(w io.Writer, width int) error {
	if sh.mended() {
		return sh.writeMended(w, width)
	}
	if sh.choice.Stop {
		return sh.writeMend(w, "STOP READING AND MEND", width)
	}
	if err := sh.writeReading(w, sh.choice.Reading, "NEXT READING", width); err != nil {
		return err
	}
	if others := sh.others(); others != "" {
		writeWrapped(w, "  ", together("Nearly as good: "+others+"."), width)
	}
	if sh.stand == found {
		return sh.writeMend(w, "MEND, if that bears it out", width)
	}
	return nil
}

// others are the next best readings.
func (sh *suspectSheet) others() string {
	var list []string
	for _, x := range sh.choice.Ranked[min(1, len(sh.choice.Ranked)):min(3, len(sh.choice.Ranked))] {
		if x.Total > sh.choice.Now {
			break
		}
		if m, err := sh.Bank.Measure(x.Channel); err == nil {
			list = append(list, fmt.Sprintf("%s (%s, %.0f min)", m.Name, m.ID, x.Minutes))
		}
	}
	return strings.Join(list, "; ")
}

// writeReading writes how a reading is taken and what it would show.
func (sh *suspectSheet) writeReading(w io.Writer, id, head string, width int) error {
	m, err := sh.Bank.Measure(id)
	if err != nil {
		return err
	}
	heading(w, fmt.Sprintf("%s: %s (%s)", head, m.Name, m.ID), width)
	writeHazards(w, m.Hazards, width)
	minutes := m.Minutes
	setup := setupOf(m.Setup)
	text := setup.Name
	if m.Setup == sh.Situation().Setup {
		text += ", as it is"
	} else {
		text += fmt.Sprintf(": %.0f min", setup.Minutes)
		minutes += setup.Minutes
	}
	line := func(word, text string) { writeWrapped(w, "  "+pad(word, 10), together(text), width) }
	line("set up", text)
	line("where", m.Probes)
	line("engine", m.Engine)
	line("with", m.With)
	line("takes", fmt.Sprintf("%.0f min in all [estimate], for %s", minutes, skills[m.Skill]))
	if err := sh.writeShows(line, m); err != nil {
		return err
	}
	if !sh.asked {
		line("then", thenWords(m))
	}
	return nil
}

// writeHazards writes the cautions of a reading, before anything else of it.
func writeHazards(w io.Writer, list []measure.Hazard, width int) {
	for _, h := range list {
		writeWrapped(w, "  ! ", together(upperFirst(h.String())+": "+h.Caution()), width)
	}
}

// writeShows writes what a reading shows in order and with the suspects.
func (sh *suspectSheet) writeShows(line func(word, text string), m *measure.Measure) error {
	e, err := sh.Expect(m.ID, suspect.HealthyID)
	if err != nil {
		return err
	}
	line("in order", fmt.Sprintf("%s (predicted); %s", sh.expectedWords(m, e), m.Healthy))
	for _, x := range sh.telling(m, &e) {
		line("with", fmt.Sprintf("%s (%s): %s (predicted)", sh.Bank.Names(x.id), sure(x.p), sh.expectedWords(m, x.shows)))
	}
	return nil
}

// tellingSuspect is a suspect and what it would show.
type tellingSuspect struct {
	id     string
	p      float64
	shows  evidence.Expected
	weight float64
}

// telling are the suspects that a reading is about: the first, and those
// whose answers lie furthest from those of a car in order, by how likely they
// are.
func (sh *suspectSheet) telling(m *measure.Measure, order *evidence.Expected) []tellingSuspect {
	var list []tellingSuspect
	for i := range sh.ways {
		x := &sh.ways[i]
		if x.P < faintest || len(x.of) == 0 {
			continue
		}
		id := x.of[0].ID
		if id == suspect.HealthyID || id == evidence.UnknownID {
			continue
		}
		e, err := sh.Expect(m.ID, id)
		if err != nil {
			continue
		}
		if far := apart(m, &e, order); far > 0.1 || len(list) == 0 {
			list = append(list, tellingSuspect{id, x.P, e, x.P * far})
		}
	}
	if len(list) > 1 {
		slices.SortStableFunc(list[1:], func(a, b tellingSuspect) int { return cmp.Compare(b.weight, a.weight) })
	}
	return list[:min(len(list), shortNames)]
}

// apart is how far two expectations lie apart, 0 to 1.
func apart(m *measure.Measure, a, b *evidence.Expected) float64 {
	switch {
	case a.Cannot > 0.5:
		return 1 - b.Cannot
	case m.Observation:
		return math.Abs(a.Yes - b.Yes)
	}
	wide := (a.High - a.Low + b.High - b.Low) / 2
	if x := math.Abs(a.Middle-b.Middle) / wide; x < 1 {
		return x
	}
	return 1
}

// thenWords says how the answer is given.
func thenWords(m *measure.Measure) string {
	if m.Observation {
		return fmt.Sprintf("--report %s if it is so, --not %s if not", m.ID, m.ID)
	}
	return fmt.Sprintf("--read '%s=FIGURE'; not to be had: --cannot %s", m.ID, m.ID)
}

// writeMend writes what to mend first and how it is proven.
func (sh *suspectSheet) writeMend(w io.Writer, head string, width int) error {
	if len(sh.choice.Steps) > 0 && sh.choice.Stop {
		switch sh.choice.Steps[0].Remedy {
		case evidence.ElsewhereID:
			heading(w, "LOOK ELSEWHERE", width)
			sh.writeElsewhere(w, width)
			return nil
		case evidence.UnknownID:
			heading(w, "SOMETHING ELSE", width)
			writeWrapped(w, "  ", "Nothing in the catalogue explains what was read. Read the strangest again with another instrument, then follow the current by hand from battery to plug; what is found there may be new to this tool.", width)
			return nil
		}
	}
	r := sh.first()
	if r == nil {
		return nil
	}
	x := sh.wayOf(r)
	heading(w, fmt.Sprintf("%s: %s", head, r.ID), width)
	for _, t := range r.Cautions {
		writeWrapped(w, "  ! ", together(t), width)
	}
	line := func(word, text string) { writeWrapped(w, "  "+pad(word, 10), together(text), width) }
	line("do", r.Words)
	line("takes", effort(r))
	line("cures", fmt.Sprintf("%s (%s)", sh.nameOf(x), sure(sh.chanceOf(r))))
	id, err := sh.proof(x)
	if err != nil {
		return err
	}
	if id != "" {
		if err := sh.writeProof(w, line, id, width); err != nil {
			return err
		}
	}
	if sh.asked {
		return nil
	}
	line("then", fmt.Sprintf("--done %s, with =gone or =still for the complaint", r.ID))
	return nil
}

// writeMended asks for what showed the fault to be read again, and for a drive.
func (sh *suspectSheet) writeMended(w io.Writer, width int) error {
	heading(w, "PROVE IT", width)
	for i := len(sh.taken) - 1; i >= 0; i-- {
		t := &sh.taken[i]
		m, err := sh.Bank.Measure(t.Channel)
		if err != nil || m.Group == measure.Owner || t.Kind == evidence.CouldNot {
			continue
		}
		return sh.writeProof(w, func(word, text string) { writeWrapped(w, "  "+pad(word, 10), together(text), width) }, t.Channel, width)
	}
	writeWrapped(w, "  ", "By a drive in what used to bring the complaint on, cold and hot.", width)
	return nil
}

// chanceOf is the chance that a remedy is needed.
func (sh *suspectSheet) chanceOf(r *fault.Remedy) float64 {
	for _, s := range sh.post.Remedies {
		if s.ID == r.ID {
			return s.P
		}
	}
	return 0
}

// writeProof writes the reading that shows whether the mend has worked.
func (sh *suspectSheet) writeProof(w io.Writer, line func(word, text string), id string, width int) error {
	m, err := sh.Bank.Measure(id)
	if err != nil {
		return err
	}
	e, err := sh.Expect(id, suspect.HealthyID)
	if err != nil {
		return err
	}
	writeHazards(w, m.Hazards, width)
	line("proven by", fmt.Sprintf("%s (%s): mended it shows %s (predicted). %s %s", m.Name, m.ID, sh.expectedWords(m, e), sentence(m.Probes), sentence(m.Engine)))
	return nil
}

// writeElsewhere names what no reading here shows.
func (sh *suspectSheet) writeElsewhere(w io.Writer, width int) {
	writeWrapped(w, "  ! ", "Fuel and its vapour: engine cold, no spark, no flame, battery disconnected, an extinguisher within reach.", width)
	writeWrapped(w, "  ", "Nothing to mend in the ignition. What looks like it and no reading here shows:", width)
	for _, f := range fault.Catalogue() {
		if f.Unseen != "" && f.Fits(sh.Bank.Car) {
			writeWrapped(w, "    – ", together(fmt.Sprintf("%s. %s", upperFirst(f.Name), f.Remedy.Words)), width)
		}
	}
}

// writeWhy takes the case for one hypothesis apart.
func (sh *suspectSheet) writeWhy(w io.Writer, id string, width int) error {
	id = suspectID(id)
	pro, con, why, err := sh.reasons(id)
	if err != nil {
		return fmt.Errorf("--why %s: no such pair of faults is held ready here; each of them alone is accepted", id)
	}
	name := sh.Bank.Names(id)
	heading(w, fmt.Sprintf("WHY %s (%s), %s; the likeliest of another kind: %s", strings.ToUpper(name), id, sure(why.P), sh.Bank.Names(why.RunnerUp)), width)
	if len(why.Reasons) == 0 {
		writeWrapped(w, "  ", "Nothing read since the last repair speaks for or against it: what it has it has by how often it is met.", width)
	}
	for _, side := range []struct {
		word string
		list []reason
	}{{"for", pro}, {"against", con}} {
		for i := range side.list {
			r := &side.list[i]
			m, err := sh.Bank.Measure(r.Channel)
			if err != nil {
				continue
			}
			writeWrapped(w, "  "+pad(side.word, 9), together(fmt.Sprintf("%s: %s. With it expected %s, in order %s. %s.",
				sh.answerWords(&r.Reading), strength(r.decibans), sh.expectedWords(m, r.Own), sh.expectedWords(m, r.Healthy), decibanWords(r.Reason))), width)
		}
	}
	var mute []string
	for i := range why.Reasons {
		r := &why.Reasons[i]
		if !among(pro, r) && !among(con, r) {
			mute = append(mute, sh.answerWords(&r.Reading))
		}
	}
	if len(mute) > 0 {
		writeWrapped(w, "  "+pad("neither", 9), together(strings.Join(mute, "; ")), width)
	}
	if f := why.Refuter; f != nil {
		m, err := sh.Bank.Measure(f.Channel)
		if err != nil {
			return err
		}
		writeWrapped(w, "  "+pad("refuted", 9), together(fmt.Sprintf("best by %s (%s, %.0f min [estimate]): with it %s, else %s (predicted).", m.Name, m.ID, f.Minutes, sh.expectedWords(m, f.Expect), sh.expectedWords(m, f.Else))), width)
	}
	return nil
}

func among(list []reason, r *evidence.Reason) bool {
	for i := range list {
		if list[i].Reason == r {
			return true
		}
	}
	return false
}

// decibanWords writes how the odds moved.
func decibanWords(r *evidence.Reason) string {
	return fmt.Sprintf("Odds %s against a car in order, %s against the likeliest of another kind", oddsWords(r.VsHealthy), oddsWords(r.VsRunnerUp))
}

// oddsWords is a factor of odds.
func oddsWords(decibans float64) string {
	x := math.Pow(10, math.Abs(decibans)/10)
	switch {
	case x < 1.25:
		return "unmoved"
	case decibans < 0:
		return "divided by " + factorWords(x)
	}
	return "times " + factorWords(x)
}

func factorWords(x float64) string {
	switch {
	case x > 1000:
		return "over 1000"
	case x >= 10:
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%.1f", x)
}

// suspectID is a hypothesis as the bank knows it.
func suspectID(id string) string {
	list := strings.Split(id, "+")
	for i := range list {
		list[i] = strings.TrimSpace(list[i])
	}
	if len(list) == 2 {
		return suspect.PairID(list[0], list[1])
	}
	return list[0]
}
