package cli

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"dwellwright/evidence"
	"dwellwright/internal/workshop"
	"dwellwright/measure"
	"dwellwright/suspect"
)

// asking is a diagnosis in the terminal, question by question.
type asking struct {
	sh    *suspectSheet
	in    *bufio.Scanner
	out   io.Writer
	width int
	over  bool // q, or nothing more to read
	more  bool // read on though it says to mend
	echo  bool // what is typed does not show by itself
}

// ask leads through a diagnosis: it shows the next reading, takes what came of
// it, and goes on until it is told to quit or nothing more is typed.
func ask(s *session, sh *suspectSheet) (*suspectSheet, error) {
	a := &asking{sh: sh, in: bufio.NewScanner(s.In), out: s.Out, width: s.Width, echo: !onTerminal(s.In)}
	sh.asked = true
	a.in.Buffer(make([]byte, 0, 4096), 1<<16)
	first, rest := sh.cautions()
	a.say("! ", first)
	for _, t := range rest {
		a.say("! ", t)
	}
	fmt.Fprintln(a.out)
	a.say("", sh.subtitle())
	if err := a.complaints(); err != nil {
		return sh, err
	}
	for !a.over {
		if err := a.turn(); err != nil {
			return sh, err
		}
	}
	if err := a.in.Err(); err != nil {
		return sh, fmt.Errorf("standard input: %w", err)
	}
	fmt.Fprintln(a.out)
	a.say("", sh.verdict())
	heading(a.out, "The same again:", a.width)
	fmt.Fprintf(a.out, "  %s\n", a.line())
	return sh, nil
}

func (a *asking) say(lead, text string) { writeWrapped(a.out, lead, together(text), a.width) }

// typed asks for a line; over is set where there is none.
func (a *asking) typed(prompt string) string {
	fmt.Fprint(a.out, prompt)
	if !a.in.Scan() {
		a.over = true
		fmt.Fprintln(a.out)
		return ""
	}
	text := strings.TrimSpace(a.in.Text())
	if a.echo {
		fmt.Fprintln(a.out, text)
	}
	return text
}

// complaints asks what the owner complains of.
func (a *asking) complaints() error {
	var list []*measure.Measure
	for i := range a.sh.Bank.Measures {
		if m := &a.sh.Bank.Measures[i]; m.Group == measure.Owner {
			list = append(list, m)
		}
	}
	heading(a.out, "WHAT DOES THE OWNER COMPLAIN OF?", a.width)
	for i, m := range list {
		a.say(fmt.Sprintf("%4d  ", i+1), m.Name)
	}
	for {
		text := a.typed("Numbers, with commas or spaces; Enter for none of them: ")
		if a.over || text == "" {
			return nil
		}
		if strings.EqualFold(text, "q") {
			a.over = true
			return nil
		}
		picked, err := pick(text, len(list))
		if err != nil {
			a.say("", err.Error())
			continue
		}
		for _, n := range picked {
			if err := a.enter(workshop.Entry{Do: workshop.Report, ID: list[n-1].ID}); err != nil {
				return err
			}
		}
		return nil
	}
}

// pick reads numbers from 1 to most.
func pick(text string, most int) ([]int, error) {
	var out []int
	for _, f := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		n, err := strconv.Atoi(f)
		if err != nil || n < 1 || n > most {
			return nil, fmt.Errorf("%s: numbers from 1 to %d are accepted", strconv.Quote(f), most)
		}
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out, nil
}

// enter takes an entry; what is wrong with it is said, not returned.
func (a *asking) enter(e workshop.Entry) error {
	if err := a.sh.Enter(e); err != nil {
		a.say("  ? ", err.Error())
		return nil
	}
	a.more = false
	return a.sh.refresh()
}

// turn is one question with what came of it.
func (a *asking) turn() error {
	sh := a.sh
	fmt.Fprintln(a.out)
	a.say("", sh.verdict())
	if err := sh.writeAgain(a.out, a.width); err != nil {
		return err
	}
	id := sh.choice.Reading
	if (sh.choice.Stop || sh.mended()) && a.more && len(sh.choice.Ranked) > 0 {
		id = sh.choice.Ranked[0].Channel
	}
	if id == "" || sh.mended() && !a.more {
		if err := sh.writeNext(a.out, a.width); err != nil {
			return err
		}
		return a.answer("", "r mended, m read on, s suspects, ? why, u undo, q quit > ")
	}
	if err := sh.writeReading(a.out, id, "NEXT READING", a.width); err != nil {
		return err
	}
	m, err := sh.Bank.Measure(id)
	if err != nil {
		return err
	}
	how := "A figure"
	if m.Observation {
		how = "y or n"
	}
	return a.answer(id, how+"; c can't, l leave out, s suspects, ? why, r mended, u undo, q quit > ")
}

// answer takes answers until one changes something.
func (a *asking) answer(id, prompt string) error {
	for {
		text := a.typed(prompt)
		if a.over {
			return nil
		}
		done, err := a.command(id, text)
		if done || err != nil || a.over {
			return err
		}
	}
}

// command does what was typed; done is whether the question is settled.
func (a *asking) command(id, text string) (done bool, err error) {
	before := len(a.sh.Entries)
	switch strings.ToLower(text) {
	case "":
		return false, nil
	case "q", "quit":
		a.over = true
		return true, nil
	case "s":
		return false, a.sh.writeSuspects(a.out, a.width)
	case "?":
		return false, a.why(id)
	case "u", "undo":
		return true, a.back()
	case "r":
		return true, a.repaired()
	case "m":
		if id == "" && len(a.sh.choice.Ranked) > 0 {
			a.more = true
			return true, nil
		}
		a.say("  ? ", "there is nothing else to read, or a reading is asked for as it is")
		return false, nil
	}
	if name, value, ok := strings.Cut(text, "="); ok { // another reading than the one asked for
		err = a.enter(a.entry(strings.TrimSpace(name), strings.TrimSpace(value)))
		return len(a.sh.Entries) > before, err
	}
	if id == "" {
		a.say("  ? ", fmt.Sprintf("%q: r, m, s, ?, u or q is accepted, or ID=ANSWER for a reading", text))
		return false, nil
	}
	err = a.enter(a.entry(id, text))
	return len(a.sh.Entries) > before, err
}

// entry is what was typed as the answer to a reading.
func (a *asking) entry(id, text string) workshop.Entry {
	switch strings.ToLower(text) {
	case "c", "cannot":
		return workshop.Entry{Do: workshop.Cannot, ID: id}
	case "l", "leave":
		return workshop.Entry{Do: workshop.LeaveOut, ID: id}
	}
	if m, err := a.sh.Bank.Measure(id); err == nil && m.Observation {
		switch strings.ToLower(text) {
		case "y", "yes":
			return workshop.Entry{Do: workshop.Report, ID: id}
		case "n", "no":
			return workshop.Entry{Do: workshop.Not, ID: id}
		}
	}
	return workshop.Entry{Do: workshop.Figure, ID: id, Text: text}
}

// why says why this reading, and what speaks for the first suspect.
func (a *asking) why(id string) error {
	sh := a.sh
	if id != "" && len(sh.choice.Ranked) > 0 && sh.choice.Ranked[0].Channel == id {
		x := sh.choice.Ranked[0]
		a.say("  ", fmt.Sprintf("It tells most for its time: %.2f bits about what to mend for %.0f min. Mending at once takes about %.0f min to the right remedy, with it about %.0f min [estimates].", x.Bits, x.Minutes, sh.choice.Now, min(x.Total, sh.choice.Best)))
	}
	for i := range sh.ways {
		if w := &sh.ways[i]; len(w.of) > 0 && w.of[0].ID != suspect.HealthyID && w.of[0].ID != evidence.UnknownID {
			return sh.writeWhy(a.out, w.of[0].ID, a.width)
		}
	}
	return nil
}

// back takes the last answer back.
func (a *asking) back() error {
	a.more = false
	e, ok := a.sh.Back()
	if !ok {
		a.say("  ", "Nothing was answered here that could be taken back.")
		return nil
	}
	a.say("  ", "Taken back: "+e.String())
	return a.sh.refresh()
}

// repaired asks what was mended and what became of the complaint.
func (a *asking) repaired() error {
	guess := ""
	if r := a.sh.first(); r != nil {
		guess = r.ID
	}
	id := guess
	for {
		text := a.typed(fmt.Sprintf("Which remedy was carried out? Enter for %s, u for none: ", guess))
		if a.over || strings.EqualFold(text, "u") {
			return nil
		}
		if text != "" {
			id = text
		}
		err := workshop.ReadEntry(a.sh.Bank.Car, workshop.Entry{Do: workshop.Done, ID: id})
		if err == nil {
			break
		}
		a.say("  ? ", err.Error())
	}
	for {
		text := strings.ToLower(a.typed("Is the complaint gone? y or n, Enter for not known, u for nothing done: "))
		if a.over || text == "u" {
			return nil
		}
		became, ok := map[string]string{"": "", "y": "gone", "yes": "gone", "n": "still", "no": "still"}[text]
		if ok {
			return a.enter(workshop.Entry{Do: workshop.Done, ID: id, Text: became})
		}
		a.say("  ? ", "y, n, u or Enter is accepted")
	}
}

// line is the command line that comes to the same.
func (a *asking) line() string {
	c := a.sh.cmd
	words := []string{"dwellwright", "suspect", quoted(c.Car)}
	if len(c.Story) > 0 {
		words = append(words, "--story", quoted(strings.Join(c.Story, ",")))
	}
	if c.Draws != suspect.DefaultDraws {
		words = append(words, "--draws", strconv.Itoa(c.Draws))
	}
	if c.Pairs != 0 {
		words = append(words, "--pairs", strconv.Itoa(c.Pairs))
	}
	if c.Seed != 1 {
		words = append(words, "--seed", strconv.FormatUint(c.Seed, 10))
	}
	if c.Inch {
		words = append(words, "--inch")
	}
	for _, e := range a.sh.Entries {
		words = append(words, "--"+e.Do.String())
		text := e.ID
		if e.Text != "" {
			text += "=" + e.Text
		}
		words = append(words, quoted(text))
	}
	return strings.Join(words, " ")
}

// quoted is a word as a shell takes it.
func quoted(s string) string {
	plain := s != ""
	for _, r := range s {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("_-./=,:+", r)) {
			plain = false
		}
	}
	if plain {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
