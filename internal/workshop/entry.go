package workshop

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/measure"
	"dwellwright/suspect"
	"dwellwright/twin"
	"dwellwright/units"
)

// Entry is what a person says at a car under diagnosis, as it is typed.
type Entry struct {
	Do   Doing
	ID   string // of the reading; for Done the remedies, with commas between
	Text string // for Read the figure; for Done gone, still or nothing
}

// Doing is what an entry says of its id.
type Doing uint8

// What may be said.
const (
	Figure   Doing = iota // a figure was read
	Report                // it is so
	Not                   // it is not so
	Cannot                // it was tried and cannot be read
	LeaveOut              // it is not to be asked for
	Done                  // remedies were carried out
)

var doings = [...]string{Figure: "read", Report: "report", Not: "not", Cannot: "cannot", LeaveOut: "leave", Done: "done"}

func (d Doing) String() string { return doings[d] }

// String is the entry as an option of the command line.
func (e Entry) String() string {
	s := "--" + e.Do.String() + " " + e.ID
	if e.Text != "" {
		s += "=" + e.Text
	}
	return s
}

// entered is an entry that was understood.
type entered struct {
	answer   *suspect.Answer
	remedies []string
	outcome  evidence.Outcome
}

// yesNo are the words for yes and no.
var yesNo = map[string]evidence.Kind{"y": evidence.Yes, "yes": evidence.Yes, "n": evidence.No, "no": evidence.No}

// yes reports whether the entry says that something is so.
func (e Entry) yes() bool {
	k, ok := yesNo[strings.ToLower(e.Text)]
	return e.Do == Report || e.Do == Figure && ok && k == evidence.Yes
}

// still reports whether the entry says that a repair left the complaint there.
func (e Entry) still() bool {
	return e.Do == Done && outcomes[strings.ToLower(strings.TrimSpace(e.Text))] == evidence.Still
}

// outcomes are what may become of a complaint after a repair.
var outcomes = map[string]evidence.Outcome{"": evidence.Unsaid, "gone": evidence.Gone, "still": evidence.Still}

// refuse says what is wrong with the entry.
func (e Entry) refuse(format string, args ...any) error {
	return fmt.Errorf("%s: %s", clipped(e.String()), fmt.Sprintf(format, args...))
}

// clipped keeps what was typed short enough for a message.
func clipped(s string) string {
	if r := []rune(s); len(r) > 90 {
		return string(r[:90]) + "…"
	}
	return s
}

// read understands an entry for a car.
func (e Entry) read(c *car.Car) (entered, error) {
	if e.Do == Done {
		return e.readDone(c)
	}
	m, err := measure.Find(c, e.ID)
	if err != nil {
		return entered{}, e.unknown(c, err)
	}
	a := suspect.Answer{Measure: m.ID}
	switch e.Do {
	case LeaveOut:
		return entered{}, nil
	case Cannot:
		a.Kind = evidence.CouldNot
		return entered{answer: &a}, nil
	case Report, Not:
		if !m.Observation {
			return entered{}, e.refuse("a figure is read there, accepted: --read %s=FIGURE, of %s", m.ID, m.Kind.Accepts())
		}
		a.Kind = evidence.Yes
		if e.Do == Not {
			a.Kind = evidence.No
		}
		return entered{answer: &a}, nil
	}
	if m.Observation {
		k, ok := yesNo[strings.ToLower(strings.TrimSpace(e.Text))]
		if !ok {
			return entered{}, e.refuse("it is so or it is not: accepted --report %s or --not %s", m.ID, m.ID)
		}
		a.Kind = k
		return entered{answer: &a}, nil
	}
	return e.readFigure(c, &m, a)
}

// unknown says that there is no such reading, or not on this car.
func (e Entry) unknown(c *car.Car, err error) error {
	var lacks *measure.LacksError
	if errors.As(err, &lacks) {
		return e.refuse("it cannot be read on this car: %s", lacks.Why)
	}
	if e.ID == "" {
		return e.refuse("accepted: an id of dwellwright readings")
	}
	var ids []string
	list := measure.Catalogue(c)
	for i := range list {
		ids = append(ids, list[i].ID)
	}
	h := hint(e.ID, ids)
	if slices.Contains(remediesOf(c), e.ID) {
		h = fmt.Sprintf(" (%s is a remedy: --done %s)", e.ID, e.ID)
	}
	return e.refuse("there is no such reading%s; accepted: an id of dwellwright readings", h)
}

// readFigure reads the figure of an entry: with its unit or without, with a
// half-width of its own or the instrument's; < and > in front of it say that
// the meter was at the end of its range.
func (e Entry) readFigure(c *car.Car, m *measure.Measure, a suspect.Answer) (entered, error) {
	text := strings.TrimSpace(e.Text)
	if text == "" {
		return entered{}, e.refuse("a figure is wanted, accepted: --read %s=FIGURE, of %s", m.ID, m.Kind.Accepts())
	}
	a.Kind = evidence.Figure
	if m.Kind == units.Resistance && slices.Contains(openDisplays, strings.ToLower(text)) {
		text = ">20 Mohm"
	}
	whole := text
	switch {
	case strings.HasPrefix(text, "<"), strings.HasPrefix(text, "≤"):
		a.Kind = evidence.LessThan
	case strings.HasPrefix(text, ">"), strings.HasPrefix(text, "≥"):
		a.Kind = evidence.MoreThan
	}
	if a.Kind != evidence.Figure {
		_, size := utf8.DecodeRuneInString(text)
		text = text[size:]
	}
	v, err := units.Parse(m.Kind, text)
	if err != nil {
		return entered{}, e.refuse("%v", err)
	}
	if bareOhms(m, text) {
		return entered{}, e.refuse("is %[1]s meant in ohm, kohm or Mohm? Accepted with its unit: %[1]s kohm", whole)
	}
	if lo, hi, why := bounds(c, m); v.X < lo || v.X > hi {
		return entered{}, e.refuse("%s is impossible: %s; accepted: %s to %s", units.Format(m.Kind, v.X, units.Metric), why,
			units.Format(m.Kind, lo, units.Metric), units.Format(m.Kind, hi, units.Metric))
	}
	a.Value, a.HalfWidth = v.X, (v.Hi()-v.Lo())/2
	if a.HalfWidth == 0 {
		a.HalfWidth = rounded(m, text, v.X)
	}
	if m.Kind == units.CrankAngle {
		a.Value = math.Remainder(a.Value, 360) // the mark comes round once a turn
	}
	return entered{answer: &a}, nil
}

// openDisplays are what ohmmeters show, and people say, past the end of the range:
// over 20 megohm, the end of the highest of usual meters [common practice].
var openDisplays = []string{"ol", "o.l", "o.l.", "0l", "open", "inf", "infinite", "infinity", "∞"}

// bareOhms reports a number without a unit where meters show thousands or
// millions of ohms, of which people say the number only: high-voltage parts.
func bareOhms(m *measure.Measure, text string) bool {
	return m.Kind == units.Resistance && (m.Group == measure.Secondary || m.ID == "secondary_ohms") && !strings.ContainsFunc(text, unicode.IsLetter)
}

// averaging are the instruments that never see the coil's kick.
var averaging = []twin.Instrument{twin.Voltmeter, twin.VoltmeterMin, twin.VoltmeterMax}

// bounds are figures beyond which nothing can have been read, and why: far
// beyond any fault, so that a reading is never thrown out for being strange.
func bounds(c *car.Car, m *measure.Measure) (lo, hi float64, why string) {
	lo, hi = math.Inf(-1), math.Inf(1)
	switch m.Kind {
	case units.Voltage:
		if m.Spec != nil && slices.Contains(averaging, m.Spec.Instrument) {
			most := 10 * float64(c.NominalV)
			return -most, most, fmt.Sprintf("the car has %d V", c.NominalV)
		}
		return -100e3, 100e3, "no coil gives that"
	case units.Current:
		return -2000, 2000, "no car's starter takes that"
	case units.Resistance:
		return 0, 1e12, "no meter shows that; one at the end of its range is written >20 Mohm"
	case units.CrankAngle, units.DistributorAngle:
		return -360, 360, "that is more than a turn"
	case units.Speed:
		return 0, 15000, "no engine of these years turns so fast"
	case units.Temperature:
		return -60, 600, "nothing under a bonnet is at that"
	case units.Vacuum, units.Pressure:
		return 0, 110e3, "that is more than the air outside"
	case units.GaugePressure:
		return 0, 5e6, "no engine of these years presses so high"
	case units.Length:
		return 0, 1, "that is longer than a distributor"
	case units.Fraction:
		return 0, 1, "a share is 0 to 1"
	case units.Ratio:
		return 0, 1000, "nothing here comes to that"
	}
	return lo, hi, why
}

// remediesOf lists the remedies of what can go wrong with a car.
func remediesOf(c *car.Car) []string {
	var ids []string
	for _, f := range Faults(c) {
		if f.Unseen == "" && !slices.Contains(ids, f.Remedy.ID) {
			ids = append(ids, f.Remedy.ID)
		}
	}
	return append(ids, evidence.ElsewhereID, evidence.UnknownID)
}

// readDone reads which remedies were carried out, and what became of the
// complaint.
func (e Entry) readDone(c *car.Car) (entered, error) {
	var x entered
	o, ok := outcomes[strings.ToLower(strings.TrimSpace(e.Text))]
	if !ok {
		return x, e.refuse("accepted after the remedy: =gone, =still, or nothing")
	}
	x.outcome = o
	have := remediesOf(c)
	for _, id := range strings.Split(e.ID, ",") {
		id = strings.TrimSpace(id)
		if slices.Contains(have, id) {
			x.remedies = append(x.remedies, id)
			continue
		}
		if f, err := fault.ByID(id); err == nil && f.Fits(c) && f.Unseen == "" {
			return x, e.refuse("that is a fault; what mends it is %s", f.Remedy.ID)
		}
		return x, e.refuse("there is no remedy %q on this car%s; accepted: a remedy of dwellwright faults, several with commas between", clipped(id), hint(id, have))
	}
	return x, nil
}

// ReadEntry says what is wrong with an entry for a car; nil where it can be
// taken.
func ReadEntry(c *car.Car, e Entry) error {
	_, err := e.read(c)
	return err
}

// ReadHypothesis says what is wrong with a suspect's id for a car; nil where
// it can be looked at: a fault, healthy, unknown, or two faults with + between.
func ReadHypothesis(c *car.Car, id string) error {
	var ids []string
	for _, f := range Faults(c) {
		if f.Unseen == "" {
			ids = append(ids, f.ID)
		}
	}
	ids = append(ids, suspect.HealthyID, evidence.UnknownID)
	for _, x := range strings.Split(id, "+") {
		x = strings.TrimSpace(x)
		if slices.Contains(ids, x) {
			continue
		}
		if f, err := fault.ByID(x); err == nil {
			why := f.Unseen
			if why == "" {
				why = "this car cannot have it"
			}
			return fmt.Errorf("--why %s: %s", clipped(id), why)
		}
		return fmt.Errorf("--why %s: there is no such fault%s; accepted: an id of dwellwright faults, healthy or unknown", clipped(id), hint(x, ids))
	}
	return nil
}
