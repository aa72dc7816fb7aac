package web

import (
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"time"

	"dwellwright/car"
	"dwellwright/evidence"
	"dwellwright/internal/workshop"
	"dwellwright/prove"
	"dwellwright/suspect"
	"dwellwright/units"
)

// faultStage is the stage Find the fault. It has no bench: what is said at it
// is readings.
var faultStage = stage{ID: "suspect", Name: "Find the fault", Question: "What is wrong, and what do I measure next?", own: true}

// suspectView is the stage Find the fault.
type suspectView struct {
	Action       string
	Kept         []field // what a form carries along, less what is said
	Said         []field // what is said
	Metric, Inch string  // addresses of this page in either units
	Wrong        []string
	Prepare      *prepareView
	Owner        ownerView
	Card         *cardView // the next reading
	Stop         *stopView // what to mend, or that nothing is left to mend
	Suspects     []suspectLine
	Rest         string // the others together
	Others       []otherReading
	Taken        []takenLine
	Doubted      *takenLine // the figure that is likeliest a slip, if any is
	File         int        // readings of the car's file that count
	Undo, Anew   string     // addresses without the last entry, and with nothing said
	Fine         bool
	Readings     int
}

// prepareView is how far the bank is.
type prepareView struct {
	Percent int
	Failed  string
}

// suspectParts are the templates of what changes as something is said.
var suspectParts = []string{"stages", "verdict", "case", "answered-in"}

// suspect answers with the stage Find the fault, whole or live. What was
// entered in a form is first put into the address.
func (s *Server) suspect(w http.ResponseWriter, r *http.Request) {
	start := time.Now()
	n, c, count, ok := s.opened(w, r)
	if !ok {
		return
	}
	q := r.URL.Query()
	b, errs := workshop.ParseBench(c, q)
	p := newPage(&faultStage, n, count, c, b, errs, q, len(s.files) > 1)
	a := &suspectAsk{p: p, c: c, sys: b.Units, said: p.picks.Said, ask: q.Get("ask"), shelf: s.shelf}
	e, given, wrong := answered(c, q)
	if given && len(a.said.Entries) >= mostSaid {
		given, wrong = false, fmt.Sprintf("More than %d entries do not go into one address: take out what no longer matters.", mostSaid)
	}
	if given {
		a.said, a.ask = a.said.with(e), ""
	}
	a.wrong, a.text = wrong, q.Get("say")
	p.Address = a.address(a.said, a.ask)
	if given && !q.Has("live") {
		http.Redirect(w, r, p.Address, http.StatusSeeOther)
		return
	}
	p.link(a.said)

	u := s.workups.of(fmt.Sprint(n, " ", edition(count)), c)
	fine := q.Get("live") != "quick"
	v, err := a.view(u, fine, func() bool { return r.Context().Err() == nil })
	if p.Suspect = v; err != nil {
		p.Failed = plainly(err)
		p.Verdict = verdict{Head: "This can't be worked out", Detail: p.Failed}
	}
	p.Ms = time.Since(start).Milliseconds()
	if q.Has("live") {
		s.liveParts(w, p, suspectParts)
		return
	}
	s.write(w, http.StatusOK, "suspect-page", p)
}

// suspectAsk is what the stage is asked with.
type suspectAsk struct {
	p     *page
	c     *car.Car
	sys   units.System
	said  said
	ask   string // the reading chosen, in the place of the one proposed
	text  string // what stands in the field
	wrong string // why it can't be taken
	shelf *shelf
	u     *workup
	look  *look
}

// address is that of the page with so much said, and a reading chosen or none.
func (a *suspectAsk) address(s said, ask string) string {
	q := a.p.bench.Query()
	k := a.p.picks
	k.Said = s
	k.add(q)
	if ask != "" {
		q.Set("ask", ask)
	}
	return fmt.Sprintf("/cars/%d/suspect?%s", a.p.N, q.Encode())
}

// link makes the links to the stages carry what is said.
func (p *page) link(s said) {
	p.picks.Said = s
	for i, st := range inOrder() {
		p.Stages[i].Href = fmt.Sprintf("/cars/%d/%s?%s", p.N, st.ID, p.query())
	}
}

// view works the stage out. What could be worked out is shown even where the
// rest could not.
func (a *suspectAsk) view(u *workup, fine bool, wanted func() bool) (*suspectView, error) {
	v := &suspectView{Action: fmt.Sprintf("/cars/%d/suspect", a.p.N), Wrong: a.said.Wrong, Readings: len(a.said.Entries)}
	q := a.p.bench.Query()
	k := a.p.picks
	k.Said = said{}
	k.add(q)
	for _, name := range slices.Sorted(maps.Keys(q)) {
		for _, x := range q[name] {
			v.Kept = append(v.Kept, field{name, x})
		}
	}
	q = url.Values{}
	a.said.add(q)
	for _, name := range []string{"c", "r"} {
		for _, x := range q[name] {
			v.Said = append(v.Said, field{name, x})
		}
	}
	v.Metric, v.Inch = a.inUnits(units.Metric), a.inUnits(units.Inch)
	v.Owner = a.owner()
	if n := len(a.said.Entries); n > 0 {
		v.Undo = a.address(a.said.without(n-1), "")
	}
	v.Anew = a.address(said{}, "")
	if !u.isReady() {
		v.Prepare = &prepareView{Percent: int(100 * u.share())}
		a.p.Verdict = verdict{Mark: sign(prove.NotProven), State: stateClass(prove.NotProven), Head: "Working out what can be wrong with this car",
			Detail: fmt.Sprintf("%d %% done. Meanwhile: what does the owner complain of?", v.Prepare.Percent)}
		return v, nil
	}
	if u.err != nil {
		v.Prepare = &prepareView{Failed: plainly(u.err)}
		return v, u.err
	}
	l, err := u.look(a.said.all(), a.ask, fine, wanted)
	if err != nil || l == nil {
		return v, err
	}
	a.u, a.look = u, l
	v.File, v.Fine = l.FromFile, l.Fine
	a.p.Draws = u.bank.Draws
	a.cards(v)
	a.suspects(v)
	a.others(v)
	a.taken(v)
	a.p.Verdict = a.verdict(v)
	return v, nil
}

func (a *suspectAsk) inUnits(sys units.System) string {
	was := a.p.bench.Units
	a.p.bench.Units = sys
	at := a.address(a.said, a.ask)
	a.p.bench.Units = was
	return at
}

// verdict is how the diagnosis stands.
func (a *suspectAsk) verdict(v *suspectView) verdict {
	m := a.look.Posterior.Mends[0]
	say := func(s prove.State, head, detail string) verdict {
		return verdict{Mark: sign(s), State: stateClass(s), Head: head, Detail: detail}
	}
	counts := fmt.Sprintf("%s so far.", several(len(a.look.Taken), "answer"))
	first := m.Remedies[0]
	// What is quick to try may come before what is likelier: the card's word counts.
	if s := v.Stop; s != nil && !a.look.Mended && !slices.Contains(m.Remedies, a.look.Choice.Steps[0].Remedy) {
		return say(prove.Doubtful, "Not sure. First: "+lower(s.Heading), fmt.Sprintf("%s sure; likelier, but more work: %s, %s.", s.Chance, lower(a.mendName(m)), sure(m.P)))
	}
	switch {
	case len(a.look.Taken) == 0 && len(a.said.Entries) == 0:
		return say(prove.NotProven, "Nothing is read yet", "Begin with what the owner complains of, then take the reading below.")
	case a.look.Mended && a.stillThere():
		return say(prove.NotProven, "Mended, and the complaint is still there", "Read again what showed the fault: is the work good? Then there is a second fault.")
	case a.look.Mended:
		return say(prove.NotProven, "Mended, not yet proven", "Read again what showed the fault. A complaint that is gone proves nothing.")
	case first == evidence.ElsewhereID && m.P > 0.5 && !a.measured():
		return say(prove.NotProven, fmt.Sprintf("Nothing found wrong so far: %s sure", sure(m.P)), "No instrument has shown it yet. "+counts)
	case first == evidence.ElsewhereID && m.P > 0.5:
		head := "Nothing wrong with the ignition"
		if a.repaired() {
			head = "Nothing wrong is left"
		}
		return say(prove.Holds, fmt.Sprintf("%s: %s sure", head, sure(m.P)), counts+" A complaint that stays has its cause elsewhere: fuel above all.")
	case first == evidence.ElsewhereID && v.Stop != nil:
		return say(prove.Doubtful, "Not sure. First: "+lower(v.Stop.Heading), fmt.Sprintf("Nothing wrong with the ignition: %s sure. %s", sure(m.P), counts))
	case first == evidence.UnknownID && m.P > 0.5:
		return say(prove.Doubtful, fmt.Sprintf("Something that is not in the list: %s sure", sure(m.P)), "Nothing known explains what was read. Is a reading a slip?")
	}
	name, p := capital(a.mendName(m)), m.P
	for _, r := range a.look.Posterior.Remedies {
		if len(m.Remedies) == 1 && r.ID == first {
			p = r.P // whether alone or not
		}
	}
	switch {
	case a.look.Choice.Stop && p > 0.5:
		return say(prove.FallsShort, "Stop and mend: "+lower(name), fmt.Sprintf("%s sure. %s", sure(p), counts))
	case p > 0.5:
		return say(prove.Doubtful, "Likely: "+lower(name), fmt.Sprintf("%s. %s", sure(p), counts))
	}
	return say(prove.NotProven, "Not told apart yet", fmt.Sprintf("In front with %s: %s.", sure(p), lower(name)))
}

// mendName names what is wrong where a way of mending is right: the likeliest
// fault that it is for.
func (a *suspectAsk) mendName(m evidence.Mend) string {
	switch m.Remedies[0] {
	case evidence.ElsewhereID:
		return a.u.bank.Names(suspect.HealthyID)
	case evidence.UnknownID:
		return a.u.bank.Names(evidence.UnknownID)
	}
	for _, h := range a.look.Posterior.Hypotheses {
		need := a.remediesOf(h.ID)
		if len(need) != len(m.Remedies) || slices.ContainsFunc(m.Remedies, func(r string) bool { return !slices.Contains(need, r) }) {
			continue
		}
		name := a.u.bank.Names(h.ID)
		if h.P < 0.9*m.P {
			name += ", or what is mended alike"
		}
		return name
	}
	return m.Remedies[0]
}

// remediesOf are the remedies of a hypothesis, each once.
func (a *suspectAsk) remediesOf(id string) []string {
	var list []string
	for _, f := range faultsOf(a.u.bank, id) {
		if !slices.Contains(list, f.Remedy.ID) {
			list = append(list, f.Remedy.ID)
		}
	}
	return list
}

// measured reports whether an instrument was read since the last repair.
func (a *suspectAsk) measured() bool {
	return slices.ContainsFunc(a.look.Taken, func(t evidence.Taken) bool {
		m := a.measure(t.Channel)
		return t.Counts && t.Epoch == a.epoch() && m != nil && !m.Observation && t.Kind != evidence.CouldNot
	})
}

// stillThere reports whether the complaint outlived what was mended last.
func (a *suspectAsk) stillThere() bool {
	for _, e := range slices.Backward(a.said.Entries) {
		if e.Do == workshop.Done {
			return e.Text == "still"
		}
	}
	return false
}

// repaired reports whether something was mended.
func (a *suspectAsk) repaired() bool {
	return slices.ContainsFunc(a.said.Entries, func(e workshop.Entry) bool { return e.Do == workshop.Done })
}
