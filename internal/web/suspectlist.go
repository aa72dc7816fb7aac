package web

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dwellwright/evidence"
	"dwellwright/fault"
	"dwellwright/internal/workshop"
	"dwellwright/measure"
	"dwellwright/suspect"
)

// ownerView is the list of complaints.
type ownerView struct {
	Groups []ownerGroup
	Named  []string // those that are so
	Open   bool
}

// ownerGroup is complaints of one kind.
type ownerGroup struct {
	Name string
	List []choice
}

// suspectLine is one suspect.
type suspectLine struct {
	ID, Element string
	Name        string
	Kind        string // fault, healthy, unknown
	P, Percent  string // in words, and of 100 for its bar
	Change      string
	With        string // what it is there with, where it is likelier not alone
	For         []reasonLine
	Against     []reasonLine
	Silent      int    // readings that say next to nothing
	RunnerUp    string // what it is held against besides a car in order
	Start       string
	Refuter     *refuterLine
	Remedy      *remedyLine
	Later       bool // reasons come when the page rests
}

// reasonLine is what one reading says of a suspect.
type reasonLine struct {
	Name, Read   string
	Word         string
	VsHealthy    string
	VsRunnerUp   string
	Own, Healthy string
	weight       float64
}

// refuterLine is the reading that would tell most against a suspect.
type refuterLine struct{ ID, Name, Ask, Expect, Else, Word, Time string }

// remedyLine is a remedy under a suspect.
type remedyLine struct {
	Words, Time string
	Parts       []string
	Cautions    []string
}

// otherReading is one that could be taken in the place of the one proposed.
type otherReading struct{ ID, Name, Ask, Time, Saves string }

// takenLine is one answer given.
type takenLine struct {
	Name, Read, From string
	Doubt            string // why it is distrusted
	Figure           bool   // what is distrusted is an instrument's
	slip             float64
	Again            string // address to read it again
	Out              string // address without it
	Old              bool   // of before a repair, or read again since
	Repair           bool
	Asked            bool // of the owner
}

// ownerGroups are headings over the complaints, and the first of each.
var ownerGroups = []struct{ first, name string }{
	{"no_spark_crank", "Starting"}, {"dies_at_stop_lights", "Running, lamps and heat"}, {"misses_hot", "On the road"},
}

// owner lists what an owner may say.
func (a *suspectAsk) owner() ownerView {
	v := ownerView{Open: len(a.said.Entries) == 0 && a.ask == ""}
	for _, m := range measure.Catalogue(a.c) {
		if m.Group != measure.Owner {
			continue
		}
		for _, g := range ownerGroups {
			if g.first == m.ID || len(v.Groups) == 0 {
				v.Groups = append(v.Groups, ownerGroup{Name: g.name})
				break
			}
		}
		x := choice{ID: m.ID, Name: capital(m.Name), On: slices.Contains(a.said.Complaints, m.ID)}
		if x.On {
			v.Named = append(v.Named, m.Name)
		}
		g := &v.Groups[len(v.Groups)-1]
		g.List = append(g.List, x)
	}
	return v
}

// least is the probability below which a suspect has no line of its own.
const least = 0.005

// suspects fills in the suspects.
func (a *suspectAsk) suspects(v *suspectView) {
	for i := range a.look.Suspects {
		if s := &a.look.Suspects[i]; s.P >= least {
			v.Suspects = append(v.Suspects, a.suspectLine(s))
		}
	}
	if n := a.look.More + len(a.look.Suspects) - len(v.Suspects); n > 0 {
		p := a.look.MoreP
		if len(v.Suspects) < len(a.look.Suspects) {
			p = a.look.Suspects[len(v.Suspects)].P
		}
		v.Rest = fmt.Sprintf("%d more are possible, the likeliest of them %s.", n, sure(p))
	}
}

func (a *suspectAsk) suspectLine(s *workshop.Suspicion) suspectLine {
	x := suspectLine{ID: s.ID, Element: "suspect-" + s.ID, Name: capital(a.u.bank.Names(s.ID)), Kind: "fault", P: sure(s.P),
		Percent: plain(math.Max(100*s.P, 0.5)), Later: s.Why == nil}
	switch s.ID {
	case suspect.HealthyID:
		x.Kind, x.Change = "healthy", "Everything is as the car's file has it, within its spread; a complaint has its cause outside the ignition."
	case evidence.UnknownID:
		x.Kind, x.Name = "unknown", "Something that is not in the list"
		x.Change = "It grows when nothing known explains what was read."
	}
	if f := s.Fault; f != nil {
		x.Change = capital(f.Change) + "."
		r := remedy(&f.Remedy)
		x.Remedy = &r
		for _, g := range faultsOf(a.u.bank, s.As) {
			if g.ID != f.ID {
				x.With = g.Name
			}
		}
	}
	if s.Why != nil {
		a.reasons(&x, s.Why)
	}
	return x
}

func remedy(r *fault.Remedy) remedyLine {
	return remedyLine{Words: r.Words, Time: minutes(r.Minutes) + ", estimated", Parts: r.Parts, Cautions: r.Cautions}
}

// reasons fills in what speaks for and against.
func (a *suspectAsk) reasons(x *suspectLine, w *evidence.Why) {
	x.RunnerUp = a.u.bank.Names(w.RunnerUp)
	against := w.StartVsHealthy
	gain := func(r *evidence.Reason) float64 { return r.VsHealthy }
	if x.Kind == "healthy" {
		against = w.StartVsRunnerUp
		gain = func(r *evidence.Reason) float64 { return r.VsRunnerUp }
	}
	x.Start = decibans(against)
	for i := range w.Reasons {
		r := &w.Reasons[i]
		m := a.measure(r.Channel)
		word := strength(gain(r))
		if m == nil || word == "" {
			x.Silent++
			continue
		}
		l := reasonLine{Name: capital(m.Name), Read: figureRead(m, &r.Reading, a.sys), Word: word, VsRunnerUp: decibans(r.VsRunnerUp),
			VsHealthy: decibans(r.VsHealthy), Own: expected(m, r.Own, a.sys), Healthy: expected(m, r.Healthy, a.sys), weight: gain(r)}
		if x.Kind == "healthy" {
			l.VsHealthy = ""
		}
		if l.weight > 0 {
			x.For = append(x.For, l)
		} else {
			x.Against = append(x.Against, l)
		}
	}
	slices.SortStableFunc(x.For, func(p, q reasonLine) int { return int(math.Copysign(1, q.weight-p.weight)) })
	slices.SortStableFunc(x.Against, func(p, q reasonLine) int { return int(math.Copysign(1, p.weight-q.weight)) })
	if f := w.Refuter; f != nil && strength(f.Decibans) != "" {
		if m := a.measure(f.Channel); m != nil {
			x.Refuter = &refuterLine{ID: m.ID, Name: capital(m.Name), Ask: a.address(a.said, m.ID), Expect: expected(m, f.Expect, a.sys), Else: expected(m, f.Else, a.sys),
				Word: strength(f.Decibans), Time: minutes(f.Minutes)}
		}
	}
}

// mostOthers is how many other readings are offered.
const mostOthers = 6

// others offers readings in the place of the one proposed, those that save most
// first.
func (a *suspectAsk) others(v *suspectView) {
	for _, r := range a.look.Choice.Ranked {
		m := a.measure(r.Channel)
		if m == nil || v.Card != nil && v.Card.ID == m.ID {
			continue
		}
		if len(v.Others) == mostOthers {
			break
		}
		best := r.Total
		if !math.IsNaN(r.Ahead) && r.Ahead < best {
			best = r.Ahead
		}
		saves := "saves no time"
		if d := a.look.Choice.Now - best; d >= 0.5 {
			saves = "saves about " + minutes(d)
		}
		v.Others = append(v.Others, otherReading{ID: m.ID, Name: capital(m.Name), Ask: a.address(a.said, m.ID), Time: minutes(r.Minutes), Saves: saves})
	}
}

// doubted is the chance of a slip from which on a reading is distrusted.
const doubted = 0.3

// taken lists what was said, the last first. The readings of the car's file
// come first in the case and last here.
func (a *suspectAsk) taken(v *suspectView) {
	// Answers stand in the case in order: file, complaints, entries.
	answers := a.look.Taken
	at := 0
	line := func(from string) (takenLine, bool) {
		if at >= len(answers) {
			return takenLine{}, false
		}
		t := &answers[at]
		at++
		m := a.measure(t.Channel)
		if m == nil {
			return takenLine{}, false
		}
		x := takenLine{Name: capital(m.Name), Read: figureRead(m, &t.Reading, a.sys), From: from, Old: !t.Counts || t.Epoch != a.epoch()}
		x.Asked = m.Group == measure.Owner
		if !x.Old && workshop.Distrusts(answers, t, x.Asked, doubted) {
			what := "a slip (point, unit or place)"
			if x.Figure = !m.Observation; m.Observation {
				what = "not so"
			}
			x.slip = t.Slip
			x.Doubt = fmt.Sprintf("Distrusted: %s sure that it is %s. It goes ill with the rest.", sure(t.Slip), what)
		}
		x.Again = a.address(a.said, m.ID)
		return x, true
	}
	for range a.look.FromFile {
		if x, ok := line("measured, in the car's file"); ok {
			v.Taken = append(v.Taken, x)
		}
	}
	for _, id := range a.said.Complaints {
		if x, ok := line("said by the owner"); ok {
			s := a.said
			s.Complaints = slices.DeleteFunc(slices.Clone(s.Complaints), func(x string) bool { return x == id })
			x.Out = a.address(s, "")
			v.Taken = append(v.Taken, x)
		}
	}
	for i, e := range a.said.Entries {
		out := a.address(a.said.without(i), "")
		switch e.Do {
		case workshop.Done:
			var words []string
			for _, id := range strings.Split(e.ID, ",") {
				words = append(words, a.remedyWords(id))
			}
			then := map[string]string{"gone": "the complaint is gone", "still": "the complaint is still there", "": "not tried yet"}[e.Text]
			v.Taken = append(v.Taken, takenLine{Name: strings.Join(words, "; "), Read: then, From: "mended", Out: out, Repair: true})
		case workshop.LeaveOut:
			if m := a.measure(e.ID); m != nil {
				from := "you can't do that one"
				if m.Group == measure.Owner {
					from = "not known"
				}
				v.Taken = append(v.Taken, takenLine{Name: capital(m.Name), Read: "left out", From: from, Out: out})
			}
		default:
			from := "measured by you"
			if m := a.measure(e.ID); m != nil && m.Observation {
				from = "seen by you"
				if m.Group == measure.Owner {
					from = "said by the owner"
				}
			}
			if x, ok := line(from); ok {
				x.Out = out
				v.Taken = append(v.Taken, x)
			}
		}
	}
	slices.Reverse(v.Taken)
	for _, x := range v.Taken {
		// One is asked for at a time: the card below it is not to be pushed away.
		if x.Figure && x.slip > 0.5 && (v.Doubted == nil || x.slip > v.Doubted.slip) && (v.Card == nil || v.Card.Name != x.Name) {
			v.Doubted = &x
		}
	}
	// What is distrusted is to be seen first.
	slices.SortStableFunc(v.Taken, func(p, q takenLine) int {
		switch {
		case (p.Doubt != "") == (q.Doubt != ""):
			return 0
		case p.Doubt != "":
			return -1
		}
		return 1
	})
}

// epoch is how many repairs were done.
func (a *suspectAsk) epoch() int {
	n := 0
	for _, e := range a.said.Entries {
		if e.Do == workshop.Done {
			n++
		}
	}
	return n
}
